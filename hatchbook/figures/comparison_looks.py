"""How much of the chance of a false alarm each grouping of a page may use.

A page that looks at several things would call some of them more than chance by chance. So that a page on which
nothing differs says so of one in a hundred at most, that chance is shared out (weighted Bonferroni): what was asked
for first gets two thirds, what stands beside it one third, and the seasons divide theirs evenly between the seasons
among themselves and their trend. Within a grouping Holm's correction is made already. The shares are fixed before
any egg is counted; what can not be tested at all takes none.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from hatchbook.figures.comparison_rows import Grouping

_WEIGHTS = (2, 1)
"""Of the first and of the second grouping."""

Looks = Mapping[Grouping, float]
"""By how much each chance in a grouping, corrected within it, is multiplied."""


def looks_of(groupings: Sequence[Grouping], tests: Mapping[Grouping, int]) -> Looks:
    """The factor of each grouping.

    Args:
        groupings: as they were asked for, one or two.
        tests: how many tests were made of each; those without a test are left out, or 0.
    """
    tested = [grouping for grouping in groupings if tests.get(grouping)]
    weights = dict(zip(tested, _WEIGHTS, strict=False))
    whole = sum(weights.values())
    return {grouping: tests[grouping] * whole / weight for grouping, weight in weights.items()}
