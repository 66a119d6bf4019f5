"""The eggs of a batch of the demo as they really are, which the breeder finds out only bit by bit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hatchbook.exchange.demo.scenario import BatchStory, PenPlan
from hatchbook.statistics.weight_loss import TORR_PER_KPA
from hatchbook.trade.codes import Fate
from hatchbook.trade.programme import Programme
from hatchbook.trade.stages import StageBounds

_FRESH_DAYS = 5
"""Eggs kept longer than this hatch worse."""
_SPARED_LOSS_POINTS = 1.0
"""So far from the wanted loss of weight does no harm."""


@dataclass(frozen=True)
class RawEggs:
    """What is there before setting; arrays by egg.

    ``conductance``: mg of water a day, gram and torr. ``chances``: a row of numbers from 0 to 1 for each thing
    that can happen to an egg.
    """

    pens: tuple[PenPlan, ...]
    age_days: NDArray[np.int64]
    mass_g: NDArray[np.float64]
    conductance: NDArray[np.float64]
    fertile: NDArray[np.bool_]
    chances: NDArray[np.float64]

    def __len__(self) -> int:
        return len(self.pens)

    @property
    def gives_off_g_h_kpa(self) -> float:
        """What all of them give off while they are not hatching, g an hour and kPa."""
        return float(np.sum(self.mass_g * self.conductance)) * TORR_PER_KPA / 24_000

    def lost_share(self, pull: float) -> NDArray[np.float64]:
        """The share of its mass that each has lost after a pull of so many torr times days, 0 to 1."""
        return self.conductance * pull / 1000


@dataclass(frozen=True)
class TrueEgg:
    """What becomes of an egg: it is infertile (``stage`` None), dies in a stage, or hatches (``hatches_day``).

    Days since setting. ``pips_day``: the shell is first broken; ``lost_percent``: of its mass by lockdown.
    """

    fertile: bool
    stage: Fate | None = None
    dies_day: float | None = None
    pips_day: float | None = None
    hatches_day: float | None = None
    lost_percent: float = 0.0

    def alive_on(self, day: float) -> bool:
        """Whether there is a living embryo on a day."""
        return self.fertile and (self.dies_day is None or self.dies_day > day)


def raw_eggs(story: BatchStory, pens: Sequence[PenPlan], rng: np.random.Generator) -> RawEggs:
    """Collects the eggs of a batch; those of several pens lie mixed."""
    listed = [pen for pen in pens for _ in range(story.eggs.get(pen.key, 0))]
    count = len(listed)
    each = tuple(listed[egg] for egg in rng.permutation(count).tolist())
    age_days = rng.integers(0, story.oldest_days + 1, count)
    means = np.array([(pen.mass_g, pen.conductance, pen.fertile) for pen in each])
    mass_g = np.round(means[:, 0] * (1 + 0.045 * rng.standard_normal(count)), 1)
    conductance = means[:, 1] * np.clip(1 + 0.12 * rng.standard_normal(count), 0.7, 1.4)
    stale = 1 - 0.015 * np.maximum(age_days - _FRESH_DAYS, 0)
    fertile = rng.random(count) < means[:, 2] * stale
    return RawEggs(each, age_days, mass_g, conductance, fertile, rng.random((9, count)))


def true_eggs(raw: RawEggs, programme: Programme, pull_by_loss_day: float) -> list[TrueEgg]:
    """What becomes of the eggs, if by the day for which the programme names a loss the air has pulled so much."""
    bounds = StageBounds.for_incubation(programme.incubation_days)
    lost = 100 * raw.lost_share(pull_by_loss_day)
    wanted = ((programme.loss_low_percent or 12.0) + (programme.loss_high_percent or 13.0)) / 2
    strain = np.maximum(np.abs(lost - wanted) - _SPARED_LOSS_POINTS, 0.0) ** 2
    losses = np.array([pen.losses for pen in raw.pens])
    kept = 1 + 0.12 * np.maximum(raw.age_days - _FRESH_DAYS, 0)
    early = 0.045 * losses * kept
    mid = 0.017 * losses
    late = np.minimum(0.036 * losses + 0.030 * strain, 0.5)
    in_pip = np.minimum(0.022 * losses + 0.010 * strain, 0.3)
    days = programme.incubation_days
    eggs = []
    for egg in range(len(raw)):
        u_stage, u_day, u_hatch, u_pip = raw.chances[:4, egg].tolist()
        hatches = days * (0.963 + 0.042 * (u_hatch + raw.chances[4, egg]) / 2) + 0.02 * min(
            float(raw.age_days[egg]), 10.0
        )
        pips = hatches - (0.35 + 0.5 * u_pip)
        edge = np.cumsum([early[egg], mid[egg], late[egg], in_pip[egg]])
        loss = float(lost[egg])
        if not raw.fertile[egg]:
            eggs.append(TrueEgg(False, lost_percent=loss))
        elif u_stage < edge[0]:
            dies = bounds.early_until_day * (0.2 + 0.72 * u_day)
            eggs.append(TrueEgg(True, Fate.EARLY_DEAD, dies, lost_percent=loss))
        elif u_stage < edge[1]:
            span = bounds.mid_until_day - bounds.early_until_day
            dies = bounds.early_until_day + span * (0.1 + 0.8 * u_day)
            eggs.append(TrueEgg(True, Fate.MID_DEAD, dies, lost_percent=loss))
        elif u_stage < edge[2]:
            last = days - 0.9
            dies = last - (last - bounds.mid_until_day - 0.5) * u_day**2
            eggs.append(TrueEgg(True, Fate.LATE_DEAD, dies, lost_percent=loss))
        elif u_stage < edge[3]:
            eggs.append(TrueEgg(True, Fate.PIPPED_DEAD, pips + 0.6 + 0.4 * u_day, pips, lost_percent=loss))
        else:
            eggs.append(TrueEgg(True, None, None, pips, hatches, loss))
    return eggs
