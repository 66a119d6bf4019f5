"""What a batch should lose by which day, and what is taken of its eggs before any weighing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hatchbook.figures.results import EggFigures
from hatchbook.figures.weight_results import Estimate, LossTarget
from hatchbook.journal import Batch
from hatchbook.statistics.conductance import ConductancePrior
from hatchbook.statistics.intervals import NORMAL_95
from hatchbook.trade.codes import MachineKind
from hatchbook.trade.programme import STILL_AIR_RISE_C, LossBase
from hatchbook.trade.programmes import About, Programme, ProgrammeError, SpeciesConductance, conductance_of


@dataclass(frozen=True)
class BatchAims:
    """What is wanted and known of a batch before any weighing; the target is a share of the mass when set."""

    target: LossTarget | None
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

        Not at all in forced air: an embryo late in incubation is warmer than the air, one early cooler. In still
        air the thermometer hangs at the eggs' tops, in warmer air than what surrounds them (`still_air_rise_c`).
        """
        return -self.still_air_rise_c if kind is MachineKind.STILL_AIR else 0.0


def batch_aims(batch: Batch, eggs: Sequence[EggFigures]) -> BatchAims:
    """The target of a batch by itself, with the source of its programme where it is still the programme's.

    A target that the programme gives of the mass when laid is carried over to the mass when set by what the eggs of
    which both are known have lost in storage; where none is, that is taken to be nothing.
    """
    try:
        programme: Programme | None = Programme.from_json(batch.programme)
    except ProgrammeError:
        programme = None
    low, high, day = batch.loss_low_percent, batch.loss_high_percent, batch.loss_day
    target = None
    if low is not None and high is not None and day is not None:
        source, mark = _source(programme, (low, high, day))
        if programme is not None and programme.loss_base is LossBase.LAID:
            low, high = _of_set_mass(low, high, eggs)
        target = LossTarget(low, (low + high) / 2, high, day, source, mark)
    return BatchAims(
        target,
        conductance_of(batch.species, batch.incubation_days),
        STILL_AIR_RISE_C if programme is None else programme.still_air_rise_c,
    )


def _of_set_mass(low: float, high: float, eggs: Sequence[EggFigures]) -> tuple[float, float]:
    kept = [
        egg.egg.set_mass_g / egg.egg.laid_mass_g
        for egg in eggs
        if egg.egg.set_mass_g is not None and egg.egg.laid_mass_g is not None
    ]
    share = min(sum(kept) / len(kept), 1.0) if kept else 1.0
    lost_before = 100.0 * (1.0 - share)
    return max(low - lost_before, 0.0) / share, max(high - lost_before, 0.0) / share


def _source(programme: Programme | None, target: tuple[float, float, float]) -> tuple[str, str]:
    if programme is None:
        return "", ""
    if target != (programme.loss_low_percent, programme.loss_high_percent, programme.loss_day):
        return "", ""
    note = next(iter(programme.sources_of(About.LOSS)), None)
    return ("", "") if note is None else (note.source, note.mark.value)
