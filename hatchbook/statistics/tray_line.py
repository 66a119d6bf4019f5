"""The conductance of eggs weighed together on their tray.

The mean mass of an egg falls in a line against the exposure. When eggs are taken off, the mean of those left
differs from that of all by chance; the eggs left at a weighing are among those left at the one before, so that this
chance is shared: generalised least squares (Aitken 1935).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hatchbook.statistics.conductance import NOISE_WEIGHT, BatchConductance, ConductancePrior

FloatArray = NDArray[np.float64]


@dataclass(frozen=True)
class TrayMasses:
    """Weighings of a tray; arrays of one length.

    ``mass``: of an egg on the mean, in parts of what an egg weighed when set, by the best guess; ``sd``: by the
    scale; ``eggs``: how many were on it; ``chosen``: they are some of all, of unknown masses when set; ``mass_cv``:
    by how much the masses of eggs differ, in parts of their mean; ``doubts``: as of `Weighed`.
    """

    exposure: FloatArray
    mass: FloatArray
    sd: FloatArray
    eggs: FloatArray
    chosen: NDArray[np.bool_]
    mass_cv: float
    doubts: FloatArray


def conductance_of_tray(
    tray: TrayMasses, prior: ConductancePrior, doubt_sds: FloatArray, count: int
) -> tuple[BatchConductance, float] | None:
    """The conductance of a batch by its tray, and the mass when set in the parts given; None without a line.

    Args:
        tray: its weighings.
        prior: of the species.
        doubt_sds: standard deviation of each doubt of the exposure.
        count: how many eggs there are.
    """
    if tray.exposure.size < 2 or np.ptp(tray.exposure) <= 1.0:
        return None
    shared = tray.mass_cv**2 * (1.0 / np.maximum.outer(tray.eggs, tray.eggs) - 1.0 / tray.eggs.max())
    cover = np.diag(tray.sd**2) + np.where(np.logical_and.outer(tray.chosen, tray.chosen), shared, 0.0)
    line = np.stack((np.ones(tray.exposure.size), -tray.exposure / 1000.0), axis=1)
    weighted = np.linalg.solve(cover, line).T
    inverse = np.linalg.inv(weighted @ line)
    when_set, slope = inverse @ (weighted @ tray.mass)
    left = tray.mass - line @ np.array([when_set, slope])
    noise = (NOISE_WEIGHT + float(left @ np.linalg.solve(cover, left))) / (
        NOISE_WEIGHT + tray.exposure.size - 2
    )
    # The eggs left are also a little heavier or lighter than the mass in whose parts they lose.
    apart = float(np.diag(shared)[tray.chosen].max(initial=0.0))
    own = float(inverse[1, 1]) * max(noise, 1.0) + float(slope) ** 2 * apart
    shifts = np.array([(inverse @ (weighted @ (-prior.mean * one / 1000.0)))[1] for one in tray.doubts])
    by_doubts = float((shifts**2) @ (doubt_sds**2))
    before = prior.batch_sd**2 + prior.egg_sd**2 / count
    variance = 1.0 / (1.0 / (before + by_doubts) + 1.0 / own)
    mean = variance * (prior.mean / (before + by_doubts) + float(slope) / own)
    none = np.empty((1, 0))
    batch = BatchConductance(
        prior=prior,
        weight=np.ones(1),
        spread=np.array([prior.egg_sd]),
        mean=np.array([mean]),
        variance=np.array([variance]),
        egg_offset=none,
        egg_share=none,
        egg_variance=none,
        shifts=shifts,
        by_doubts=by_doubts,
        by_scale=0.0,
        before=before,
        told=True,
        of_these_eggs=True,
    )
    return batch, float(when_set)
