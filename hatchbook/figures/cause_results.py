"""What may have caused a batch's losses: each cause with what speaks for it, against it, and what is not known.

Values and codes, no words. `hatchbook.figures.causes` says how it is weighed.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any

from hatchbook.figures.among_others import RatesAmong
from hatchbook.trade.cause_codes import CauseCode, CauseSign, FactCode, FactKind, NotRecorded
from hatchbook.trade.causes import CauseLink
from hatchbook.trade.sources import SourceMark


class Strength(StrEnum):
    """How much speaks for a cause."""

    STRONG = "strong"
    SOME = "some"
    WEAK = "weak"
    UNLIKELY = "unlikely"
    NOT_KNOWN = "not_known"  #: nothing in the journal speaks for it or against it

    @property
    def level(self) -> int:
        """3 for strong, 2 for some, 1 for weak, else 0."""
        return {Strength.STRONG: 3, Strength.SOME: 2, Strength.WEAK: 1}.get(self, 0)


class Caution(StrEnum):
    """What is to be said beside the causes."""

    VETERINARIAN = "veterinarian"
    BEGAN_EARLIER = "began_earlier"
    ROTTEN_EGGS = "rotten_eggs"


@dataclass(frozen=True)
class RecordRef:
    """A record that evidence rests on: its kind and uid, its instant, and values for its sentence.

    Kinds: those of the journal (event, weighing, break_out, egg, batch, past_batch), or ``instant`` for a moment
    in the chart. Values by kind: event {kind, text, channels_filled, water_ml, vent, vent_before, seconds, change};
    weighing {eggs, loss_percent}; break_out {number, result, marks}; egg {number, age_days}; batch and past_batch
    {label, name, hits, trials, humidity}; instant {since, day} or {seconds, lowest_c}.
    """

    kind: str
    uid: str
    at: int
    values: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True)
class Fact:
    """One fact of a batch; ``value`` None where the journal does not know it.

    ``count`` and ``of``: of shares, how many eggs show it and how many were looked at. ``applies``: False for a
    question that does not arise, such as how own batches did that were as moist, of one that was not moist.
    """

    code: FactCode
    kind: FactKind
    value: float | None
    values: Mapping[str, Any] = field(default_factory=dict)
    records: tuple[RecordRef, ...] = ()
    count: int | None = None
    of: int | None = None
    applies: bool = True


@dataclass(frozen=True)
class EvidenceItem:
    """What one fact says of a cause: so many points for or against; 0 where it is not known.

    ``values`` are the fact's own, with ``value``. ``source`` and ``mark``: of the bounds it was judged by.
    """

    code: FactCode
    kind: FactKind
    points: int
    values: Mapping[str, Any]
    records: tuple[RecordRef, ...]
    source: str
    mark: SourceMark


@dataclass(frozen=True)
class SeenSign:
    """A sign that the batch shows, on so many of so many eggs (0 of 0 where it is not of eggs).

    ``links``: what is said of it and the cause it stands under; empty where it stands under none.
    """

    code: CauseSign
    count: int
    of: int
    links: tuple[CauseLink, ...] = ()


@dataclass(frozen=True)
class CauseFigures:
    """One cause. ``level``: boxes of evidence, 0 to 3. ``explains``: the signs that it can be behind.

    What speaks for it and against it stands in the order of its rules, with what only supports it last.
    ``memory_alone``: all that connects it with these signs is from memory, so it stays weak.
    """

    code: CauseCode
    strength: Strength
    points_for: int
    points_against: int
    for_: tuple[EvidenceItem, ...]
    against: tuple[EvidenceItem, ...]
    unknown: tuple[EvidenceItem, ...]
    not_recorded: tuple[NotRecorded, ...]
    explains: tuple[SeenSign, ...]
    memory_alone: bool

    @property
    def level(self) -> int:
        """Boxes of evidence, 0 to 3."""
        return self.strength.level

    @property
    def net(self) -> int:
        """Points for it less points against it."""
        return self.points_for - self.points_against


@dataclass(frozen=True)
class BatchCauses:
    """The causes of a batch, the strongest first, never one diagnosis.

    ``lost`` of ``fertile`` eggs; ``chance``: of losing so many or more, among the breeder's other batches of the
    species with their spread; None where these are too few to say. ``other_batches``: how many they are.
    ``among``: the rates over the page among those of the other batches; that of the hatch of fertile has the same
    chance. ``unknown``: how many eggs there are of which the end is not known.
    """

    batch: str
    lost: int
    fertile: int
    signs: tuple[SeenSign, ...]
    causes: tuple[CauseFigures, ...]
    chance: float | None
    other_batches: int
    cautions: tuple[Caution, ...]
    among: RatesAmong = field(default_factory=dict)
    unknown: int = 0

    @property
    def stands_out(self) -> bool:
        """Whether any cause has some evidence."""
        return any(cause.level >= Strength.SOME.level for cause in self.causes)

    def as_dict(self) -> dict[str, Any]:
        """The figures as plain JSON values."""
        from hatchbook.figures.plain import plain_fields

        return plain_fields(self) | {"stands_out": self.stands_out}
