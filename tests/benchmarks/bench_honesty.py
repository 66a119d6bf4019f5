"""How often the comparison of groups is wrong: chance called more than chance, real differences missed, ranges off.

Not a measurement of time: the columns hold how many of 100, ours against what a plain chi-square of the same eggs
does, or against what is promised. Fixed random numbers. Ranges of 95 % are promised to hold the truth in 93 to 97
of 100; those of differences where nearly all hatch are a little wider, since squares of two sides are added (97.3).
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from hatchbook.statistics.comparison import LEVEL, beta_binomial, compare_groups, trend
from hatchbook.statistics.group_tests import chi_square
from numpy.typing import NDArray
from result import Result

SEASONS = 600
LONGEST, SHORTEST = 40, 12


@dataclass(frozen=True)
class Season:
    """Seasons of a kind: groups with these true means, so many batches in each, scattered by rho."""

    name: str
    means: tuple[float, ...]
    batches: int
    rho: float
    logit: bool = False

    def draw(self, rng: np.random.Generator) -> dict[int, tuple[NDArray[np.int64], NDArray[np.int64]]]:
        """Hits and trials of each group, batches of 12 to 40 eggs."""
        groups = {}
        for group, mean in enumerate(self.means):
            eggs = rng.integers(SHORTEST, LONGEST + 1, self.batches)
            groups[group] = (rng.binomial(eggs, self.shares(mean, rng)), eggs)
        return groups

    def shares(self, mean: float, rng: np.random.Generator) -> NDArray[np.float64]:
        """The true shares of the batches of a group."""
        if self.rho == 0.0:
            return np.full(self.batches, mean)
        if self.logit:  # normal on the logit scale, with about the same variance
            sigma = np.sqrt(self.rho / (mean * (1 - mean)))
            return 1 / (1 + np.exp(-(np.log(mean / (1 - mean)) + rng.normal(0, sigma, self.batches))))
        size = 1 / self.rho - 1
        return rng.beta(mean * size, (1 - mean) * size, self.batches)


NO_DIFFERENCE = (
    Season("4 pens of 6 batches, 75 %, spread 0.05", (0.75,) * 4, 6, 0.05),
    Season("4 pens of 6 batches, 75 %, spread 0.1", (0.75,) * 4, 6, 0.1),
    Season("4 pens of 6 batches, 90 %, spread 0.1", (0.9,) * 4, 6, 0.1),
    Season("8 pens of 4 batches, 75 %, spread 0.1", (0.75,) * 8, 4, 0.1),
    Season("2 machines of 8 batches, 75 %, spread 0.1", (0.75,) * 2, 8, 0.1),
    Season("3 pens of 3 batches, 75 %, spread 0.1", (0.75,) * 3, 3, 0.1),
    Season("4 pens of 6 batches, logit-normal scatter", (0.75,) * 4, 6, 0.1, logit=True),
)
DIFFERENCE = (
    Season("65 against 85 %, 8 batches each, spread 0.03", (0.65, 0.85), 8, 0.03),
    Season("65 against 85 %, 8 batches each, spread 0.05", (0.65, 0.85), 8, 0.05),
    Season("one pen of four, 65 against 85 %, 8 batches", (0.65, 0.85, 0.85, 0.85), 8, 0.05),
)


@dataclass
class Tally:
    """Counts of what was said of the seasons of a kind, by what."""

    seen: dict[str, list[float]] = field(default_factory=dict)

    def add(self, what: str, share: float) -> None:
        """Notes what one season gave."""
        self.seen.setdefault(what, []).append(share)

    def of_100(self, what: str) -> float:
        """The mean over the seasons, of 100."""
        return 100 * float(np.mean(self.seen[what]))


def play(kind: Season, seed: int) -> Tally:
    """Compares the groups of many seasons of a kind."""
    rng, tally = np.random.default_rng(seed), Tally()
    truth = np.array(kind.means)
    for _ in range(SEASONS):
        groups = kind.draw(rng)
        comparison = compare_groups(groups)
        pairs = comparison.differences
        tally.add("said", bool(comparison.findings) or any(pair.more_than_chance for pair in pairs))
        tally.add("overall", comparison.more_than_chance)
        hits, eggs = (np.array([counts[column].sum() for counts in groups.values()]) for column in (0, 1))
        tally.add("plain", chi_square(hits, eggs).p < LEVEL)
        tally.add(
            "means", np.mean([g.low <= m <= g.high for g, m in zip(comparison.groups, truth, strict=True)])
        )
        tally.add("differences", np.mean([p.low <= truth[p.a] - truth[p.b] <= p.high for p in pairs]))
        single = beta_binomial(*groups[0])
        tally.add("single", single.low <= truth[0] <= single.high)
        tally.add("spread", single.rho_low <= kind.rho <= single.rho_high)
        order = np.repeat(np.arange(len(truth)), kind.batches)
        line = trend(*(np.concatenate(column) for column in zip(*groups.values(), strict=True)), order)
        tally.add("trend", line is not None and line.more_than_chance)
    return tally


def coverage(name: str, of_100: float, *, told_only: bool = False, allowed: float = 2.0) -> Result:
    """How far 95 % ranges are off, in points."""
    return Result(f"of 100, off 95: {name}", abs(of_100 - 95), allowed, None if told_only else 1.0)


def run() -> list[Result]:
    """False alarms, what is found, and how often ranges hold the truth."""
    results, said = [], []
    for seed, kind in enumerate(NO_DIFFERENCE):
        tally = play(kind, seed)
        said.append(tally)
        plain = tally.of_100("plain")
        results.append(Result(f"of 100, ours / plain: {kind.name}", tally.of_100("said"), plain))
        logit = kind.logit  # the mean of its shares is not the one they are drawn around
        wide = 2.5 if kind.means[0] >= 0.9 else 2.0
        few = kind.batches < 6  # too few for one group alone: its ranges are rather too wide
        for what, words, told_only, allowed in (
            ("means", "means", logit, 2.0),
            ("differences", "differences", logit, wide),
            ("single", "one alone", logit or few, 2.0),
        ):
            name = f"{words}, {kind.name}"
            results.append(coverage(name, tally.of_100(what), told_only=told_only, allowed=allowed))
    for seed, kind in enumerate(DIFFERENCE):
        tally = play(kind, 100 + seed)
        results.append(Result(f"of 100, missed: {kind.name}", 100 - tally.of_100("said"), 50.0, 1.0))
        results.append(coverage(f"differences, {kind.name}", tally.of_100("differences")))
    for what, words in (
        ("said", "a group or a pair called more than chance"),
        ("overall", "all groups together called more than chance"),
        ("trend", "a trend called more than chance"),
    ):
        alarms = float(np.mean([tally.of_100(what) for tally in said]))
        results.append(Result(f"of 100 seasons without a difference, {words}", alarms, 1.0, 1.0))
    return results
