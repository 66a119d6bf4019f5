"""What a comparison gives: frozen results, shares of 1, never NaN. See `hatchbook.statistics.comparison`."""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import dataclass
from typing import Generic, TypeVar

LEVEL = 0.01
"""Below this chance, corrected for the number of comparisons, a difference is said to be more than chance."""

Key = TypeVar("Key", bound=Hashable)


@dataclass(frozen=True)
class BetaBinomial:
    """Batches around one mean with a spread from batch to batch.

    Attributes:
        mean: the mean of the batches' true shares; None without trials.
        low, high: its range.
        rho: the spread of maximum likelihood, as the correlation of two eggs of one batch; 0 is no more scatter
            than the eggs' own.
        rho_corrected: the spread with the means taken out, less too low with few batches: for limits and
            forecasts.
        rho_low, rho_high: its range; (0, 1) where it can not be known.
        log_likelihood: at the maximum, binomial coefficients included; 0 without trials.
        batches: those with at least one trial.
        pooled: the corrected spread is nil or can not be known: mean and range are those of all eggs together
            (Wilson); with `df` below 5 the range is still widened, since nil may then well be chance.
        spread_known: at least two batches of two eggs, with hits and misses. Where it is False the range counts
            the eggs alone and is too narrow by as much as batches differ.
        df: how many batches speak of the spread, less one.
    """

    mean: float | None
    low: float
    high: float
    rho: float
    rho_corrected: float
    rho_low: float
    rho_high: float
    log_likelihood: float
    batches: int
    hits: int
    trials: int
    pooled: bool
    spread_known: bool
    df: int


@dataclass(frozen=True)
class GroupEstimate(Generic[Key]):
    """A group with its mean and range, which count the common spread; no mean without trials.

    Attributes:
        shrunken: drawn towards the mean of all, the more the less is known of the group; for sorting and for
            small groups.
        too_small: one batch or few eggs: shown, but no verdict is given on it and no comparison made with it.
    """

    key: Key
    batches: int
    hits: int
    trials: int
    mean: float | None
    low: float
    high: float
    shrunken: float | None
    too_small: bool


@dataclass(frozen=True)
class GroupDifference(Generic[Key]):
    """Group a less group b, as shares: 0.1 is 10 points; `p_holm` is corrected over all pairs."""

    a: Key
    b: Key
    difference: float
    low: float
    high: float
    p: float
    p_holm: float

    @property
    def more_than_chance(self) -> bool:
        """Whether the difference is more than chance at `LEVEL`."""
        return self.p_holm < LEVEL


@dataclass(frozen=True)
class GroupAgainstRest(Generic[Key]):
    """A group against the other groups taken together.

    Groups that were found to differ before it, being more striking, are not among the rest: one bad pen does not
    make all others look good. `rest` holds the keys compared with. `p_holm` is corrected over the groups.
    """

    key: Key
    rest: tuple[Key, ...]
    mean: float
    rest_mean: float
    difference: float
    low: float
    high: float
    p: float
    p_holm: float

    @property
    def more_than_chance(self) -> bool:
        """Whether the group differs by more than chance at `LEVEL`."""
        return self.p_holm < LEVEL


@dataclass(frozen=True)
class Comparison(Generic[Key]):
    """Groups compared with a common spread from batch to batch, estimated within the groups.

    Attributes:
        rho, rho_low, rho_high: the common spread, with the means taken out, and its range; (0, 0, 1) where it can
            not be known.
        spread_known: False where no group has two batches with hits and misses: then the ranges of the groups count
            the eggs alone, and only groups of which all or none hit are tested, over all spreads evenly.
        df: how many batches speak of the spread, less one a group.
        overall: all groups as one, its key None.
        groups: in the order given, those without trials too.
        likelihood_ratio: of the groups that are not too small, at the common spread; 0 where not tested.
        groups_df: its degrees of freedom, the groups tested less one.
        p_value: by the F distribution; None: too few to say.
        differences: every pair of groups tested, in the order given; empty where not tested, or where more
            groups were tested than are paired.
        against_rest: every group tested, the most striking first; empty where not tested.
    """

    rho: float
    rho_low: float
    rho_high: float
    spread_known: bool
    df: int
    overall: GroupEstimate[None]
    groups: tuple[GroupEstimate[Key], ...]
    likelihood_ratio: float
    groups_df: int
    p_value: float | None
    differences: tuple[GroupDifference[Key], ...]
    against_rest: tuple[GroupAgainstRest[Key], ...]

    @property
    def too_few_to_say(self) -> bool:
        """Nothing could be tested."""
        return self.p_value is None

    @property
    def more_than_chance(self) -> bool:
        """Whether the groups as a whole differ by more than chance at `LEVEL`."""
        return self.p_value is not None and self.p_value < LEVEL

    @property
    def findings(self) -> tuple[GroupAgainstRest[Key], ...]:
        """The groups that differ from the rest by more than chance, the most striking first."""
        return tuple(group for group in self.against_rest if group.more_than_chance)

    def group(self, key: Key) -> GroupEstimate[Key]:
        """The estimate of a group.

        Raises:
            KeyError: when there is no such group.
        """
        for estimate in self.groups:
            if estimate.key == key:
                return estimate
        raise KeyError(key)

    def difference(self, a: Key, b: Key) -> GroupDifference[Key] | None:
        """Group a less group b, whichever way round it is kept; None where the two were not compared."""
        for pair in self.differences:
            if (pair.a, pair.b) == (a, b):
                return pair
            if (pair.a, pair.b) == (b, a):
                return GroupDifference(a, b, -pair.difference, -pair.high, -pair.low, pair.p, pair.p_holm)
        return None


@dataclass(frozen=True)
class Trend:
    """A straight line on the logit scale through batches in order of a score (season, age of the egg in days).

    Attributes:
        slope, slope_low, slope_high: logits for a step of 1 of the score.
        points, points_low, points_high: the same as shares for a step of 1, where the line meets the mean.
        from_mean, to_mean: the line at the lowest and the highest score.
        p: the chance of a slope as steep where there is none.
        rho, df: the spread around the line, and how many batches speak of it, less two.
    """

    slope: float
    slope_low: float
    slope_high: float
    points: float
    points_low: float
    points_high: float
    from_score: float
    to_score: float
    from_mean: float
    to_mean: float
    p: float
    rho: float
    df: int
    batches: int

    @property
    def more_than_chance(self) -> bool:
        """Whether the trend is more than chance at `LEVEL`."""
        return self.p < LEVEL


@dataclass(frozen=True)
class Entry(Generic[Key]):
    """What a batch, or a part of it, gave: its group in the first and in the second grouping.

    `batch` tells which parts belong to one batch; None: an entry is a batch of its own.
    """

    hits: int
    trials: int
    first: Key
    second: Key
    batch: Hashable = None


@dataclass(frozen=True)
class Overlap(Generic[Key]):
    """How far a group of the first grouping can be told from the second grouping.

    Attributes:
        levels: the groups of the second grouping it is found in.
        alone_in: those of them in which no other group is found.
        shared_batches: batches of its own and of others that met in the same groups of the second grouping, the
            fewer of the two; below 2 it can not be told apart.
    """

    key: Key
    levels: tuple[Key, ...]
    alone_in: tuple[Key, ...]
    shared_batches: int

    @property
    def told_apart(self) -> bool:
        """Whether its difference can be told from that of the second grouping."""
        return self.shared_batches >= 2

    @property
    def only_level(self) -> Key | None:
        """The one group of the second grouping that all its eggs went into; None where there are more."""
        return self.levels[0] if len(self.levels) == 1 else None


@dataclass(frozen=True)
class AdjustedGroup(Generic[Key]):
    """A group against the rest, as if all had been alike in the second grouping.

    Attributes:
        mean, rest_mean: what all batches would have had in this group, and outside it.
        difference, low, high: as shares.
        log_odds: the difference on the logit scale.
        p, p_holm: corrected over the groups that can be told apart.
    """

    key: Key
    mean: float
    rest_mean: float
    difference: float
    low: float
    high: float
    log_odds: float
    p: float
    p_holm: float

    @property
    def more_than_chance(self) -> bool:
        """Whether the group differs by more than chance at `LEVEL`."""
        return self.p_holm < LEVEL


@dataclass(frozen=True)
class AdjustedComparison(Generic[Key]):
    """Groups of a first grouping, adjusted for a second.

    Attributes:
        rho, df: the common spread around the model of both, and how many batches speak of it.
        likelihood_ratio, groups_df, p_value: of the first grouping given the second; None: too few to say, or
            the two can not be told apart at all.
        groups: the groups that can be told apart, the most striking first.
        overlaps: one for each group of the first grouping, in the order given.
        separable: every group can be told apart.
    """

    rho: float
    df: int
    likelihood_ratio: float
    groups_df: int
    p_value: float | None
    groups: tuple[AdjustedGroup[Key], ...]
    overlaps: tuple[Overlap[Key], ...]
    separable: bool

    @property
    def confounded(self) -> tuple[Overlap[Key], ...]:
        """The groups whose difference can not be told from that of the second grouping."""
        return tuple(overlap for overlap in self.overlaps if not overlap.told_apart)


@dataclass(frozen=True)
class BatchChance:
    """How likely a batch as low, or as high, as this one is by chance.

    Attributes:
        low, high: the chance of a batch as low or lower, and as high or higher.
        p: of one as far out on either side.
    """

    low: float
    high: float
    p: float

    @property
    def is_low(self) -> bool:
        """Below rather than above what was expected."""
        return self.low < self.high
