"""Where a phase's mean goes from now on when a value is held: the way that `hold_from_now` solves for its end."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray


def mean_path(mean_so_far: float, elapsed_h: float, held: float, ahead_h: ArrayLike) -> NDArray[np.float64]:
    """The mean of the phase after each of some hours more of `held`, in the unit of the mean.

    (mean so far × elapsed + held × ahead) / (elapsed + ahead); hours. Where neither any time has gone nor any
    lies ahead it is the mean so far. Raises ValueError for negative hours.
    """
    ahead = np.asarray(ahead_h, dtype=np.float64)
    if not (elapsed_h >= 0 and np.all(ahead >= 0)):
        raise ValueError("The time gone and the time ahead cannot be negative.")
    whole = elapsed_h + ahead
    gone = mean_so_far * elapsed_h if elapsed_h > 0 else 0.0
    path = (gone + held * ahead) / np.where(whole > 0, whole, 1.0)
    return np.where(whole > 0, path, mean_so_far)
