"""What a batch should lose by which day, and what is taken of its eggs before any weighing."""

from __future__ import annotations

from dataclasses import dataclass

from hatchbook.figures.weight_results import Estimate, LossTarget
from hatchbook.journal import Batch
from hatchbook.statistics.conductance import ConductancePrior
from hatchbook.statistics.loss_forecast import NORMAL_95
from hatchbook.trade.codes import MachineKind
from hatchbook.trade.programme import STILL_AIR_RISE_C, LossBase
from hatchbook.trade.programmes import About, Programme, ProgrammeError, SpeciesConductance, conductance_of


@dataclass(frozen=True)
class BatchAims:
    """``by_laid_mass``: the target is a share of the mass when laid."""

    target: LossTarget | None
    by_laid_mass: bool
    species: SpeciesConductance
    still_air_rise_c: float

    @property
    def prior(self) -> ConductancePrior:
        """What is taken of the eggs before any weighing."""
        return ConductancePrior(self.species.mean, self.species.batch_sd, self.species.egg_cv)

    @property
    def prior_range(self) -> Estimate:
        """The same, as its mean and range."""
        half = NORMAL_95 * self.species.batch_sd
        return Estimate(self.species.mean, self.species.mean - half, self.species.mean + half)

    def egg_rise_c(self, kind: MachineKind) -> float:
        """By how much eggs are taken to be warmer than the thermometer.

        Not at all in forced air: an embryo late in incubation is warmer than the air, one early cooler. In still air
        the thermometer hangs at the eggs' tops, in warmer air than what surrounds the egg (`still_air_rise_c`).
        """
        return -self.still_air_rise_c if kind is MachineKind.STILL_AIR else 0.0


def batch_aims(batch: Batch) -> BatchAims:
    """The target of a batch by itself, with the source of its programme where it is still the programme's."""
    try:
        programme: Programme | None = Programme.from_json(batch.programme)
    except ProgrammeError:
        programme = None
    low, high, day = batch.loss_low_percent, batch.loss_high_percent, batch.loss_day
    target = None
    if low is not None and high is not None and day is not None:
        source, mark = _source(programme, (low, high, day))
        target = LossTarget(low, (low + high) / 2, high, day, source, mark)
    return BatchAims(
        target,
        programme is not None and programme.loss_base is LossBase.LAID,
        conductance_of(batch.species, batch.incubation_days),
        STILL_AIR_RISE_C if programme is None else programme.still_air_rise_c,
    )


def _source(programme: Programme | None, target: tuple[float, float, float]) -> tuple[str, str]:
    if programme is None:
        return "", ""
    if target != (programme.loss_low_percent, programme.loss_high_percent, programme.loss_day):
        return "", ""
    note = next(iter(programme.sources_of(About.LOSS)), None)
    return ("", "") if note is None else (note.source, note.mark.value)
