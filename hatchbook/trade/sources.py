"""What a value of the trade rests on."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from hatchbook.trade.entries import Entries
from hatchbook.trade.phases import ProgrammeError, ProgrammeFault


class SourceMark(StrEnum):
    """How good a source is. What is not `PUBLISHED` is never shown as published."""

    PUBLISHED = "published"
    COMMON_PRACTICE = "common_practice"
    FROM_MEMORY = "from_memory"
    OURS = "ours"


class About(StrEnum):
    """What in a programme a source speaks of."""

    PERIOD = "period"
    HUMIDITY = "humidity"
    TEMPERATURE = "temperature"
    LOCKDOWN = "lockdown"
    TURNING = "turning"
    CANDLING = "candling"
    WEIGHING = "weighing"
    LOSS = "loss"
    VENT = "vent"
    STILL_AIR = "still_air"


@dataclass(frozen=True)
class SourceNote:
    """What is said, by whom, and how good that is. `source` is empty for what has none."""

    statement: str
    source: str
    mark: SourceMark
    about: About


def read_source(entries: Entries) -> SourceNote:
    """A note from the entries of its table.

    Raises:
        ProgrammeError: naming the entry that is not right; what is published must name its source.
    """
    note = SourceNote(
        statement=entries.text("statement"),
        source=entries.text("source", may_be_empty=True) if entries.has("source") else "",
        mark=entries.code("mark", SourceMark),
        about=entries.code("about", About),
    )
    if note.mark is SourceMark.PUBLISHED and not note.source:
        raise ProgrammeError(ProgrammeFault.NO_SOURCE, "source", "What is published has a source.")
    entries.done()
    return note
