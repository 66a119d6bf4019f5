"""A batch of which only counts are known: what cannot be about its counts, and what follows from them."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from hatchbook.figures.batch_list import past_rates
from hatchbook.figures.plain import plain_fields
from hatchbook.journal import Journal, PastBatch
from hatchbook.statistics.rates import BatchRates
from hatchbook.trade.programmes import programme_named

OUTCOMES = (
    "clear",
    "early_dead",
    "mid_dead",
    "late_dead",
    "pipped_dead",
    "rotten",
    "taken_out",
    "hatched",
    "culled",
)
"""The fields of ``PastBatch`` that share the eggs set among them; ``infertile_opened`` is a part of ``clear``."""

COUNTS = ("eggs_set", *OUTCOMES, "infertile_opened")
"""Every field of ``PastBatch`` that counts eggs."""


class CountFault(StrEnum):
    """What cannot be about counts of eggs."""

    NO_EGGS = "no_eggs"
    NEGATIVE = "negative"
    EXCEED = "exceed"
    OPENED_EXCEED = "opened_exceed"


@dataclass(frozen=True)
class CountTrouble:
    """What cannot be: ``count`` of ``field`` against ``limit``, the eggs that there are for it."""

    fault: CountFault
    field: str
    count: int
    limit: int


@dataclass(frozen=True)
class PastDraft:
    """Counts as they stand, and the rates that follow from them; no rates where the counts cannot be.

    ``counted``: eggs of which the end is known. ``left``: the others, 0 where too many are counted.
    """

    troubles: tuple[CountTrouble, ...]
    counted: int
    left: int
    rates: BatchRates | None


@dataclass(frozen=True)
class PastFigures:
    """A batch of which only counts are known, with its rates and the names of where it was.

    ``programme_title``: English, or the breeder's own; "" where no programme is known.
    """

    batch: PastBatch
    rates: BatchRates
    left: int
    pen_name: str
    machine_name: str
    programme_title: str

    def as_dict(self) -> dict[str, Any]:
        """The figures as plain JSON values."""
        return plain_fields(self)


def count_troubles(batch: PastBatch) -> tuple[CountTrouble, ...]:
    """What cannot be about the counts of a batch, as the journal too would refuse it."""
    found = []
    if batch.eggs_set <= 0:
        found.append(CountTrouble(CountFault.NO_EGGS, "eggs_set", batch.eggs_set, 1))
    for field in (*OUTCOMES, "infertile_opened"):
        count = getattr(batch, field)
        if count is not None and count < 0:
            found.append(CountTrouble(CountFault.NEGATIVE, field, count, 0))
    if found:
        return tuple(found)
    counted = _counted(batch)
    if counted > batch.eggs_set:
        found.append(CountTrouble(CountFault.EXCEED, "eggs_set", counted, batch.eggs_set))
    opened, clear = batch.infertile_opened or 0, batch.clear or 0
    if opened > clear:
        found.append(CountTrouble(CountFault.OPENED_EXCEED, "infertile_opened", opened, clear))
    return tuple(found)


def past_draft(batch: PastBatch) -> PastDraft:
    """What follows from counts while they are being typed."""
    troubles = count_troubles(batch)
    counted = _counted(batch)
    rates = None if troubles else past_rates(batch)
    return PastDraft(troubles, counted, max(batch.eggs_set - counted, 0), rates)


def past_figures(journal: Journal, uid: str) -> PastFigures:
    """The figures of a batch of which only counts are known.

    Raises:
        RecordMissingError: there is no such batch.
    """
    batch = journal.past_batches.get(uid)
    pen = journal.pens.find(batch.pen) if batch.pen is not None else None
    machine = journal.machines.find(batch.machine) if batch.machine is not None else None
    return PastFigures(
        batch=batch,
        rates=past_rates(batch),
        left=batch.eggs_set - _counted(batch),
        pen_name=pen.name if pen is not None else "",
        machine_name=machine.name if machine is not None else "",
        programme_title=_programme_title(journal, batch.programme_code),
    )


def past_label_taken(journal: Journal, label: str, uid: str) -> bool:
    """Whether another batch, kept or past, has this label."""
    past = journal.past_batches.by_label(label)
    return journal.batches.by_label(label) is not None or (past is not None and past.uid != uid)


def _counted(batch: PastBatch) -> int:
    return sum(getattr(batch, field) or 0 for field in OUTCOMES)


def _programme_title(journal: Journal, code: str) -> str:
    if not code:
        return ""
    known = programme_named(code)
    if known is not None:
        return known.title
    own = next((one for one in journal.programmes.all() if one.code == code), None)
    return own.title if own is not None else code
