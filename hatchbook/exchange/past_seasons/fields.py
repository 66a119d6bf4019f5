"""What a column of such a table can hold."""

from __future__ import annotations

from enum import StrEnum


class PastField(StrEnum):
    """What a column holds."""

    LEAVE_OUT = "leave_out"
    LABEL = "label"
    NAME = "name"
    SEASON = "season"
    SET_ON = "set_on"
    SPECIES = "species"
    BREED = "breed"
    PEN = "pen"
    MACHINE = "machine"
    PROGRAMME = "programme"
    SOURCE = "source"
    EGGS_SET = "eggs_set"
    FERTILE = "fertile"
    CLEAR = "clear"
    INFERTILE_OPENED = "infertile_opened"
    EARLY_DEAD = "early_dead"
    MID_DEAD = "mid_dead"
    LATE_DEAD = "late_dead"
    PIPPED_DEAD = "pipped_dead"
    HATCHED = "hatched"
    CULLED = "culled"
    ROTTEN = "rotten"
    TAKEN_OUT = "taken_out"
    NOTE = "note"


COUNT_FIELDS = (
    PastField.EGGS_SET,
    PastField.FERTILE,
    PastField.CLEAR,
    PastField.INFERTILE_OPENED,
    PastField.EARLY_DEAD,
    PastField.MID_DEAD,
    PastField.LATE_DEAD,
    PastField.PIPPED_DEAD,
    PastField.HATCHED,
    PastField.CULLED,
    PastField.ROTTEN,
    PastField.TAKEN_OUT,
)
"""The fields that count eggs."""

IDENTITY_FIELDS = (
    PastField.LABEL,
    PastField.NAME,
    PastField.SEASON,
    PastField.SET_ON,
    PastField.SPECIES,
    PastField.BREED,
    PastField.PEN,
    PastField.MACHINE,
    PastField.NOTE,
)
"""The fields of which at least one says which batch a line is about; a line of sums has none of them."""


def with_field(columns: tuple[PastField, ...], place: int, field: PastField) -> tuple[PastField, ...]:
    """What the columns hold after one of them was chosen: only notes can stand in several."""
    alone = field not in (PastField.LEAVE_OUT, PastField.NOTE)
    changed = [PastField.LEAVE_OUT if alone and other is field else other for other in columns]
    changed[place] = field
    return tuple(changed)
