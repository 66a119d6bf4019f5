"""The tests between groups: all of them, each pair, and each against the rest."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Generic

import numpy as np
from numpy.typing import NDArray

from hatchbook.statistics.comparison_results import LEVEL, GroupAgainstRest, GroupDifference, Key
from hatchbook.statistics.effective import (
    Effective,
    best_fits,
    chance_of_many,
    chance_of_two,
    square_and_add,
    wilson_ranges,
)
from hatchbook.statistics.group_tests import holm
from hatchbook.statistics.spread import Counts, Floats, Spread, Tally

_Ranges = tuple[Floats, Floats, Floats]


@dataclass(frozen=True)
class Tested(Generic[Key]):
    """Groups that are large enough to be compared, with what every test of them needs.

    Attributes:
        tally, counts: of the groups.
        fits: the log likelihood of each at its best mean, (spreads, groups).
        at_best: the counts at the most likely spread.
    """

    keys: tuple[Key, ...]
    tally: Tally
    counts: Effective
    at_best: Effective
    for_ranges: Effective
    fits: Floats
    spread: Spread
    confidence: float

    @classmethod
    def of(
        cls,
        keys: tuple[Key, ...],
        hits: Counts,
        trials: Counts,
        group: Counts,
        spread: Spread,
        confidence: float,
    ) -> Tested[Key]:
        """The groups of these batches, each batch in the group of its number."""
        tally = Tally.of(hits, trials, group, len(keys))
        counts, at_best, for_ranges = (
            Effective.of(hits, trials, group, len(keys), nodes)
            for nodes in (spread.nodes, np.array([spread.rho]), spread.for_ranges.nodes)
        )
        return cls(keys, tally, counts, at_best, for_ranges, best_fits(tally, spread), spread, confidence)

    def together(self) -> tuple[float, float]:
        """The likelihood ratio of all groups at the most likely spread, and the chance of one as large."""
        everyone = np.ones((1, len(self.keys)), dtype=bool)
        one = self.tally.of_groups(everyone)
        chance = chance_of_many(
            self.fits.sum(axis=1),
            best_fits(one, self.spread)[:, 0],
            self.counts,
            len(self.keys) - 1,
            self.spread,
        )
        at = self.spread.at_best
        ratio = 2.0 * float(best_fits(self.tally, at).sum() - best_fits(one, at).sum())
        return max(ratio, 0.0), chance

    def between(
        self, a: Counts, b: NDArray[np.bool_] | Counts, together: Floats
    ) -> tuple[_Ranges, _Ranges, _Ranges, Floats]:
        """Groups compared with others put together, many at once.

        Args:
            a: the number of each group, (pairs,).
            b: the number of the group it is compared with, (pairs,), or which groups, (pairs, groups).
            together: log likelihoods with one mean for both, (spreads, pairs).

        Returns:
            Mean and range of a, of b, of the difference a - b, and the chance of one as large.
        """
        one = np.eye(len(self.keys), dtype=bool)
        if b.ndim == 1:
            members = one[b]
            fits_b = self.fits[:, b]
        else:
            members = b.astype(bool)
            fits_b = best_fits(self.tally.of_groups(members), self.spread)
        chances = chance_of_two(
            self.fits[:, a] + fits_b,
            together,
            self.counts.of_groups(one[a]),
            self.counts.of_groups(members),
            self.spread,
        )
        of_a, of_b = self._means(one[a]), self._means(members)
        return of_a, of_b, square_and_add(of_a, of_b), chances

    def _means(self, members: NDArray[np.bool_]) -> _Ranges:
        low, high = wilson_ranges(self.for_ranges.of_groups(members), self.spread.for_ranges, self.confidence)
        mean = np.clip(self.at_best.of_groups(members).share[0], low, high)
        return mean, low, high


def pairs(tested: Tested[Key]) -> tuple[GroupDifference[Key], ...]:
    """Every pair of groups, with Holm's correction over all pairs."""
    number = len(tested.keys)
    first, second = np.triu_indices(number, 1)
    one = np.eye(number, dtype=bool)
    together = best_fits(tested.tally.of_groups(one[first] | one[second]), tested.spread)
    _, _, (difference, low, high), chances = tested.between(first, second, together)
    corrected = holm([float(p) for p in chances])
    return tuple(
        GroupDifference(
            tested.keys[a],
            tested.keys[b],
            float(difference[i]),
            float(low[i]),
            float(high[i]),
            float(chances[i]),
            corrected[i],
        )
        for i, (a, b) in enumerate(zip(first, second, strict=True))
    )


def against_rest(tested: Tested[Key]) -> tuple[GroupAgainstRest[Key], ...]:
    """Each group against the others, the most striking first.

    Step by step: the group with the smallest chance of all that are left, times how many are left, is set apart
    where that is below `LEVEL`, and the others are compared without it. The last step gives all that are left, by
    Holm. Of two groups there is one test.
    """
    left = list(range(len(tested.keys)))
    found: list[GroupAgainstRest[Key]] = []
    least = 0.0
    while True:
        rows = _each_against_others(tested, left)
        rows.sort(key=lambda row: row.p)
        tests = 1 if len(left) == 2 else len(left)
        p_holm = max(least, min(rows[0].p * tests, 1.0))
        if len(left) == 2 or p_holm >= LEVEL:
            break
        least = p_holm
        found.append(_corrected(rows[0], p_holm))
        left.remove(tested.keys.index(rows[0].key))
    corrected = [row.p for row in rows] if len(left) == 2 else holm([row.p for row in rows])
    return (*found, *(_corrected(row, max(least, p)) for row, p in zip(rows, corrected, strict=True)))


def _each_against_others(tested: Tested[Key], left: Sequence[int]) -> list[GroupAgainstRest[Key]]:
    """Each of the groups left against the others left, not corrected."""
    one = np.eye(len(tested.keys), dtype=bool)[left]
    everyone = np.zeros((1, len(tested.keys)), dtype=bool)
    everyone[0, left] = True
    together = best_fits(tested.tally.of_groups(everyone), tested.spread)
    of_group, of_rest, (difference, low, high), chances = tested.between(
        np.array(left), everyone & ~one, together
    )
    return [
        GroupAgainstRest(
            tested.keys[g],
            tuple(tested.keys[other] for other in left if other != g),
            float(of_group[0][i]),
            float(of_rest[0][i]),
            float(difference[i]),
            float(low[i]),
            float(high[i]),
            float(chances[i]),
            float(chances[i]),
        )
        for i, g in enumerate(left)
    ]


def _corrected(row: GroupAgainstRest[Key], p_holm: float) -> GroupAgainstRest[Key]:
    return GroupAgainstRest(
        row.key, row.rest, row.mean, row.rest_mean, row.difference, row.low, row.high, row.p, p_holm
    )
