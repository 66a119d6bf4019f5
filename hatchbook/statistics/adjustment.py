"""Groups compared as if all had been alike in a second grouping: pens for the machines their eggs went into.

A pen whose eggs all went into one machine that took no others' can not be told from it; `Overlap` says so.
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from hatchbook.statistics.comparison_results import (
    LEVEL,
    AdjustedComparison,
    AdjustedGroup,
    Entry,
    Key,
    Overlap,
)
from hatchbook.statistics.group_tests import holm
from hatchbook.statistics.intervals import normal_quantile
from hatchbook.statistics.logit_model import expit, fit, likelihood_ratio, scores, spread_around, widening
from hatchbook.statistics.spread import Counts, Floats, Spread, counted


def adjusted_comparison(
    entries: Sequence[Entry[Key]], confidence: float = 0.95, *, rho: float | None = None
) -> AdjustedComparison[Key]:
    """The differences of the first grouping, given the second.

    Both add up on the logit scale. The chances are of the more cautious of the score and the likelihood-ratio
    test, averaged over the spreads that are possible; groups are set apart one after the other as in the plain
    comparison. Entries of one batch whose first group is the same are put together, with what share of the eggs
    each second group has, so that a batch counts once.

    Args:
        rho: a spread known from elsewhere; None: estimated around both groupings.

    Raises:
        ValueError: when counts or confidence can not be.
    """
    from scipy.special import chdtrc

    normal_quantile(confidence)
    counted([entry.hits for entry in entries], [entry.trials for entry in entries])
    told = [entry for entry in entries if entry.trials > 0]
    overlaps = overlaps_of(told)
    separable = all(overlap.told_apart for overlap in overlaps)
    nothing = AdjustedComparison(0.0, 0, 0.0, 0, None, (), overlaps, separable)
    keys = [overlap.key for overlap in overlaps if overlap.told_apart]
    if len(keys) < 2:
        return nothing
    rows = _Rows.of(told)
    everything = np.column_stack([rows.second, rows.first])
    spread = (
        spread_around(everything, rows.hits, rows.trials, confidence) if rho is None else Spread.given(rho)
    )
    if not spread.known:
        return replace(nothing, rho=spread.rho, df=spread.df)
    asked = scores(rows.second, rows.first, rows.hits, rows.trials, spread.nodes)
    statistic, df = asked.of_all()
    if df == 0:
        return replace(nothing, rho=spread.rho, df=spread.df)
    ratio = likelihood_ratio(rows.second, everything, rows.hits, rows.trials, spread.rho)
    at_best = scores(rows.second, rows.first, rows.hits, rows.trials, np.array([spread.rho])).of_all()[0][0]
    rescaled = statistic * (ratio / max(float(at_best), 1e-12))
    p_value = max(float(spread.averaged(chdtrc(df, test))) for test in (statistic, rescaled))
    return AdjustedComparison(
        rho=spread.rho,
        df=spread.df,
        likelihood_ratio=ratio,
        groups_df=df,
        p_value=min(p_value, 1.0),
        groups=_one_after_the_other(rows, keys, spread, confidence),
        overlaps=overlaps,
        separable=separable,
    )


def overlaps_of(entries: Sequence[Entry[Key]]) -> tuple[Overlap[Key], ...]:
    """How far each group of the first grouping can be told from the second, in the order of the entries."""
    batches: dict[tuple[Key, Key], set[Hashable]] = {}
    for number, entry in enumerate(entries):
        batch = ("entry", number) if entry.batch is None else ("batch", entry.batch)
        batches.setdefault((entry.first, entry.second), set()).add(batch)
    result = []
    for key in dict.fromkeys(entry.first for entry in entries):
        levels = tuple(second for first, second in batches if first == key)
        shared, alone = 0, []
        for level in levels:
            others = sum(len(those) for (first, at), those in batches.items() if at == level and first != key)
            shared += min(len(batches[key, level]), others)
            if others == 0:
                alone.append(level)
        result.append(Overlap(key, levels, tuple(alone), shared))
    return tuple(result)


@dataclass(frozen=True)
class _Rows:
    """One row a batch.

    Attributes:
        first, second: (batches, groups), 1 in the group of the batch, or the share of its eggs in each.
        keys: of the columns of `first`.
    """

    hits: Counts
    trials: Counts
    first: Floats
    second: Floats
    keys: tuple[Hashable, ...]

    @classmethod
    def of(cls, entries: Sequence[Entry[Key]]) -> _Rows:
        """The rows of entries; those of one batch are one row where they are of one first group."""
        firsts = tuple(dict.fromkeys(entry.first for entry in entries))
        seconds = tuple(dict.fromkeys(entry.second for entry in entries))
        groups_of: dict[Hashable, set[Key]] = {}
        for entry in entries:
            groups_of.setdefault(entry.batch, set()).add(entry.first)
        whole = all(len(groups) == 1 for batch, groups in groups_of.items() if batch is not None)
        rows: dict[Hashable, list[Entry[Key]]] = {}
        for number, entry in enumerate(entries):
            alone = entry.batch is None or not whole
            rows.setdefault(("entry", number) if alone else ("batch", entry.batch), []).append(entry)
        first, second = np.zeros((len(rows), len(firsts))), np.zeros((len(rows), len(seconds)))
        hits, trials = np.zeros(len(rows), dtype=np.int64), np.zeros(len(rows), dtype=np.int64)
        for row, parts in enumerate(rows.values()):
            trials[row] = sum(part.trials for part in parts)
            for part in parts:
                hits[row] += part.hits
                first[row, firsts.index(part.first)] = 1.0
                second[row, seconds.index(part.second)] += part.trials / trials[row]
        return cls(hits, trials, first, second, firsts)

    def column(self, key: Hashable) -> Floats:
        """The column of a first group, (batches, 1)."""
        return self.first[:, [self.keys.index(key)]]


def _one_after_the_other(
    rows: _Rows, keys: Sequence[Key], spread: Spread, confidence: float
) -> tuple[AdjustedGroup[Key], ...]:
    """Each group against the rest, those found before with a mean of their own."""
    left, found, design, least = list(keys), [], rows.second, 0.0
    only_two = len(rows.keys) == 2
    while left:
        groups = sorted(
            (_group(rows, key, design, spread, confidence) for key in left), key=lambda group: group.p
        )
        tests = 1 if only_two else len(left)
        p_holm = max(least, min(groups[0].p * tests, 1.0))
        if only_two or p_holm >= LEVEL:
            corrected = [group.p for group in groups] if only_two else holm([group.p for group in groups])
            found += [
                replace(group, p_holm=max(least, p)) for group, p in zip(groups, corrected, strict=True)
            ]
            break
        least = p_holm
        found.append(replace(groups[0], p_holm=p_holm))
        left.remove(groups[0].key)
        design = np.column_stack([design, rows.column(groups[0].key)])
    return tuple(found)


def _group(rows: _Rows, key: Key, design: Floats, spread: Spread, confidence: float) -> AdjustedGroup[Key]:
    """A group against the rest, not corrected."""
    from scipy.special import chdtrc

    column = rows.column(key)
    nodes = np.append(spread.rho, spread.nodes)
    asked = scores(design, column, rows.hits, rows.trials, nodes)
    statistic = asked.of_each()[:, 0]
    ratio = likelihood_ratio(design, np.column_stack([design, column]), rows.hits, rows.trials, spread.rho)
    rescaled = statistic[1:] * (ratio / max(float(statistic[0]), 1e-12))
    chance = max(float(spread.averaged(chdtrc(1, test))) for test in (statistic[1:], rescaled))

    inside = column[:, 0] > 0
    y, n = _half_an_egg_more(rows, inside)
    for_range = spread.for_ranges
    fitted = fit(np.column_stack([column, design]), y, n, np.append(spread.rho, for_range.nodes))
    variance = np.linalg.inv(fitted.information)[:, 0, 0]
    half = widening(for_range, variance[1:] / variance[0], confidence) * float(np.sqrt(variance[0]))
    coefficients = fitted.coefficients[0]
    # those found before count here as if they were like the rest
    others = coefficients[1 : 1 + rows.second.shape[1]] @ rows.second.T

    def mean(shift: float) -> float:
        return float((rows.trials * expit(others + shift)).sum() / rows.trials.sum())

    log_odds = float(coefficients[0])
    rest_mean = mean(0.0)
    return AdjustedGroup(
        key=key,
        mean=mean(log_odds),
        rest_mean=rest_mean,
        difference=mean(log_odds) - rest_mean,
        low=mean(log_odds - half) - rest_mean,
        high=mean(log_odds + half) - rest_mean,
        log_odds=log_odds,
        p=min(chance, 1.0),
        p_holm=min(chance, 1.0),
    )


def _half_an_egg_more(rows: _Rows, inside: NDArray[np.bool_]) -> tuple[Floats, Floats]:
    """The counts with half a hit and half a miss more in the group and in the rest: none and all are finite."""
    y, n = rows.hits.astype(np.float64), rows.trials.astype(np.float64)
    for part in (inside, ~inside):
        more = np.where(part, n / max(float(n[part].sum()), 1.0), 0.0)
        y, n = y + more / 2.0, n + more
    return y, n
