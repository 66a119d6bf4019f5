"""The usual step from reading to reading."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

_COUNTED_S = 100_000  # steps up to here are counted, which is faster than sorting them


def median_step(steps: NDArray[np.int64]) -> int:
    """The (lower) median of steps in whole seconds, none of them negative; 0 without any."""
    if not steps.size:
        return 0
    middle = (steps.size - 1) // 2
    counts = np.bincount(np.minimum(steps, _COUNTED_S))
    step = int(np.searchsorted(np.cumsum(counts), middle, side="right"))
    return step if step < _COUNTED_S else int(np.partition(steps, middle)[middle])
