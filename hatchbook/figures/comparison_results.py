"""What the comparison of batches gives: frozen values and codes, no words. Shares of 1, instants in UTC seconds."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from hatchbook.figures.comparison_rows import Grouping, Key
from hatchbook.figures.plain import plain_fields
from hatchbook.statistics.tallies import RateKind

MAIN_RATES = (RateKind.FERTILITY, RateKind.HATCH_OF_FERTILE, RateKind.HATCH_OF_SET)
"""The rates of every table."""
FEWEST_BATCHES = 3
"""Finished batches without which single batches are not compared with each other."""
POINTS_TO_TELL = 0.10
"""The difference of which it is said how many batches it takes."""


@dataclass(frozen=True)
class Question:
    """What is to be compared.

    Attributes:
        species: code of the species; None: of all species.
        seasons: the first and the last season, each by the year in which it began; None: all.
        groupings: one or two.
        outcome: the rate of which the findings and the charts speak.
    """

    species: str | None = None
    seasons: tuple[int, int] | None = None
    groupings: tuple[Grouping, ...] = (Grouping.PEN, Grouping.SEASON)
    outcome: RateKind = RateKind.HATCH_OF_FERTILE

    def __post_init__(self) -> None:
        if not 1 <= len(self.groupings) <= 2 or len(set(self.groupings)) < len(self.groupings):
            raise ValueError("Batches are compared by one or two different groupings.")

    @property
    def rates(self) -> tuple[RateKind, ...]:
        """The rates of its table: the three main ones; a loss that is asked for takes the place of the last."""
        return MAIN_RATES if self.outcome in MAIN_RATES else (*MAIN_RATES[:2], self.outcome)

    @property
    def shapes(self) -> Grouping | None:
        """By which grouping the points of the charts are told apart; None: by none.

        The first that is no time. Dams and ages would take a batch apart into a few eggs each: it stays whole.
        """
        left_out = (Grouping.SEASON, Grouping.MONTH, Grouping.DAM, Grouping.EGG_AGE)
        return next((grouping for grouping in self.groupings if grouping not in left_out), None)


class Standing(StrEnum):
    """Where a group stands against the others."""

    WITHIN = "within"  #: may be chance
    LOWER = "lower"  #: by more than chance
    HIGHER = "higher"  #: by more than chance
    TOO_FEW = "too_few"  #: one batch or few eggs
    NOT_COMPARED = "not_compared"  #: nothing to compare it with, or nobody knows the group


@dataclass(frozen=True)
class GroupName:
    """A group: ``name`` of the record it stands for, "" where the key is a code; ``within``: the pen of a dam."""

    grouping: Grouping
    key: Key
    name: str = ""
    within: str = ""


@dataclass(frozen=True)
class GroupRate:
    """A rate of a group with its range, which counts the spread from batch to batch; no mean without trials.

    Attributes:
        drawn: its mean drawn towards those of the others, the more the less is known of it: what is to be expected
            of it, and by which groups are put in order.
        p: the chance of such a difference from the others, corrected for all that is looked at; None: not tested.
    """

    batches: int
    hits: int
    trials: int
    mean: float | None
    low: float
    high: float
    drawn: float | None
    standing: Standing
    p: float | None = None


@dataclass(frozen=True)
class GroupRow:
    """A row of the table. ``uids``: of its batches; a batch with eggs of several groups is in each."""

    group: GroupName | None
    batches: int
    eggs_set: int
    rates: dict[RateKind, GroupRate]
    uids: frozenset[str]


@dataclass(frozen=True)
class Section:
    """The groups of one grouping, in their own order."""

    grouping: Grouping
    rows: tuple[GroupRow, ...]


class FindingKind(StrEnum):
    """What a finding says; see ``Finding`` for its values."""

    GROUP = "group"  #: a group differs from the rest by more than chance
    PAIR = "pair"  #: two groups differ from each other by more than chance
    AMONG = "among"  #: the groups differ by more than chance, no single one stands out
    TREND = "trend"  #: a trend over the seasons is more than chance
    HOLDS = "holds"  #: the group differs also with the second grouping evened out
    FADES = "fades"  #: with the second grouping evened out it may be chance
    CONFOUNDED = "confounded"  #: the group can not be told from the second grouping
    NOTHING = "nothing"  #: nothing differs by more than chance
    PAIR_CHANCE = "pair_chance"  #: two groups, and it may be chance
    AMONG_CHANCE = "among_chance"  #: several groups, and it may be chance
    TREND_CHANCE = "trend_chance"  #: a trend that may be chance
    NOT_KNOWN = "not_known"  #: no batch can speak of the rate
    NOT_NOTED = "not_noted"  #: a grouping of which nothing was noted
    ONLY_ONE = "only_one"  #: a grouping with a single group
    TOO_SMALL = "too_small"  #: a group with too few batches or eggs
    TOO_FEW = "too_few"  #: a grouping in which nothing can be compared
    NEEDED = "needed"  #: how many more batches it would take


@dataclass(frozen=True)
class Finding:
    """One thing that the comparison found; the first is the strongest.

    Attributes:
        groups: the group or groups that it is about.
        rest: what they are compared with: by PAIR the other group, by CONFOUNDED the groups of the second
            grouping into which all eggs went.
        rest_is_all: the rest is all the other groups that could be compared.
        second: of HOLDS, FADES, CONFOUNDED: the second grouping.
        mean, rest_mean: as shares; of a trend, at its beginning and its end; of AMONG_CHANCE, of the lowest and
            the highest group; of TOO_SMALL, of the group by itself and drawn towards the others.
        p: corrected chance.
        batches, eggs: of TOO_SMALL, what there is; of NEEDED, how many more batches of each group, of so many eggs.
        seasons: of a trend, from which to which.
    """

    kind: FindingKind
    grouping: Grouping | None = None
    groups: tuple[GroupName, ...] = ()
    rest: tuple[GroupName, ...] = ()
    rest_is_all: bool = True
    second: Grouping | None = None
    mean: float | None = None
    rest_mean: float | None = None
    p: float | None = None
    batches: int = 0
    eggs: int = 0
    seasons: tuple[int, int] | None = None


class Place(StrEnum):
    """Where a batch lies against what batches of its size scatter by."""

    INSIDE = "inside"
    LOW = "low"  #: below the limits that 19 of 20 keep
    HIGH = "high"
    FAR_LOW = "far_low"  #: below the limits that 998 of 1000 keep
    FAR_HIGH = "far_high"


@dataclass(frozen=True)
class BatchPoint:
    """A batch in the charts, or its eggs of one group where they come from several.

    Attributes:
        group: its group in the grouping by which points are told apart; None where there is none.
        low, high: the range of its own share, Wilson's.
        limit_low, limit_high: between which 19 of 20 batches of its size lie.
        p: the chance of a batch as far out.
    """

    uid: str
    label: str
    name: str
    set_at: int
    season: int
    counts_only: bool
    group: GroupName | None
    machine: str
    hits: int
    trials: int
    share: float
    low: float
    high: float
    limit_low: float
    limit_high: float
    place: Place
    p: float


@dataclass(frozen=True)
class Limits:
    """Around the mean of all batches, by how many eggs a batch has: where 19 of 20 lie, and where 998 of 1000."""

    mean: float
    rho: float
    sizes: tuple[int, ...]
    low: tuple[float, ...]
    high: tuple[float, ...]
    far_low: tuple[float, ...]
    far_high: tuple[float, ...]


@dataclass(frozen=True)
class CountOfBatches:
    """So many eggs in the batches of which it is known: in so many of them."""

    eggs: int
    batches: int


@dataclass(frozen=True)
class ComparisonFigures:
    """Batches that are over, compared.

    Attributes:
        question: what was asked, with the species that was compared.
        batches, eggs_set: what was compared; ``fertile`` and ``hatched``: of these eggs.
        running: batches of the same that run: left out until they are closed.
        species_known, seasons_known: what there is to choose from, of all batches that are over.
        points: in order of setting; empty with fewer than three batches.
    """

    question: Question
    batches: int
    eggs_set: int
    fertile: CountOfBatches
    hatched: CountOfBatches
    running: int
    species_known: tuple[str, ...]
    seasons_known: tuple[int, ...]
    season_first_month: int
    overall: GroupRow
    sections: tuple[Section, ...]
    findings: tuple[Finding, ...]
    points: tuple[BatchPoint, ...]
    limits: Limits | None

    def as_dict(self) -> dict[str, Any]:
        """The figures as plain JSON values."""
        return plain_fields(self)
