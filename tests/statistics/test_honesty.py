"""The comparison by simulation: few false alarms, real differences found, ranges that hold.

Fixed random numbers; the benchmark `honesty` does the same with many more seasons.
"""

from __future__ import annotations

import numpy as np
import pytest
from hatchbook.statistics.comparison import LEVEL, Comparison, compare_groups
from hatchbook.statistics.group_tests import chi_square

SEASONS = 200


def seasons(means: list[float], batches: int, rho: float, seed: int) -> list[tuple[Comparison[int], bool]]:
    """Comparisons of seasons with these true means, and whether a plain chi-square calls them more than chance."""
    rng, size = np.random.default_rng(seed), 1 / rho - 1
    played = []
    for _ in range(SEASONS):
        groups = {}
        for group, mean in enumerate(means):
            eggs = rng.integers(12, 41, batches)
            groups[group] = (rng.binomial(eggs, rng.beta(mean * size, (1 - mean) * size, batches)), eggs)
        totals = [[counts[column].sum() for counts in groups.values()] for column in (0, 1)]
        played.append((compare_groups(groups), chi_square(*totals).p < LEVEL))
    return played


@pytest.mark.parametrize(("means", "batches"), [([0.75] * 4, 6), ([0.85] * 3, 4), ([0.75] * 2, 8)])
def test_chance_is_called_chance_where_a_plain_test_is_fooled(means: list[float], batches: int) -> None:
    played = seasons(means, batches, 0.1, 21)
    said = sum(bool(comparison.findings) or comparison.more_than_chance for comparison, _ in played)
    plain = sum(fooled for _, fooled in played)
    assert said <= 0.02 * SEASONS
    assert plain >= 0.12 * SEASONS


def test_twenty_points_over_eight_batches_each_are_found_in_most_seasons() -> None:
    played = seasons([0.65, 0.85], 8, 0.04, 22)
    found = sum(bool(comparison.findings) for comparison, _ in played)
    assert found > 0.5 * SEASONS
    assert all(
        finding.difference < 0
        for comparison, _ in played
        for finding in comparison.findings
        if finding.key == 0
    )


@pytest.mark.parametrize("rho", [0.03, 0.1])
def test_ranges_hold_the_truth_as_often_as_they_say(rho: float) -> None:
    truth = [0.65, 0.75, 0.85]
    played = seasons(truth, 8, rho, 23)
    means = np.mean([
        [group.low <= mean <= group.high for group, mean in zip(comparison.groups, truth, strict=True)]
        for comparison, _ in played
    ])  # fmt: skip
    differences = np.mean([
        [pair.low <= truth[pair.a] - truth[pair.b] <= pair.high for pair in comparison.differences]
        for comparison, _ in played
    ])  # fmt: skip
    assert 0.92 < means < 0.98
    assert 0.92 < differences < 0.98
