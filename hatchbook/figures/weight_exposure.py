"""The exposure of a batch: by its readings until now, and as it is taken to go on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from hatchbook.figures.corrections import UNCHECKED_PLUS_MINUS
from hatchbook.figures.course import Course, Stretch
from hatchbook.figures.results import BatchState, PhaseFigures, PhaseState
from hatchbook.figures.weight_target import BatchAims
from hatchbook.journal import Machine
from hatchbook.statistics.exposure import AirStretch, Exposure, Rise, air_of_stretch, exposure_of, steady_air
from hatchbook.statistics.intervals import NORMAL_95
from hatchbook.statistics.loss_forecast import sd_of_next_mean
from hatchbook.statistics.moisture import pressure_kpa
from hatchbook.statistics.trace import Trace
from hatchbook.trade.codes import MachineKind
from hatchbook.trade.instants import DAY_S

USUAL_DAY_SD = 2.5
"""The standard deviation of daily mean humidities, % RH, while little is known of the machine (ours)."""
USUAL_DAYS = 4.0
"""So many days it counts for (ours)."""
AIM_SD = 5.0
"""By how much a humidity that nobody measured may be off its aim, standard deviation, % RH (ours)."""
AIM_AHEAD_SD = 3.0
"""The same of a phase to come, which will be steered (ours)."""
RISE_MEAN, RISE_SD = 0.05, 0.06
"""By how much the loss rises from the first day to the last, in parts of it, and the standard deviation of that.
That it rises is published: embryos grow warmer than the air (French 1997, Poult. Sci. 76:124-133), passerines lose
more by the day (Can. J. Zool. 60:3143-3149, 1982). How much is ours: as half a degree makes from the first day to
the last."""
WARMTH_SD, WARMTH_SD_STILL_AIR = 0.4, 0.7
"""By how much eggs may be warmer or cooler throughout than is taken, a thermometer that is off counting in,
standard deviation, °C (ours). In still air warmth lies in layers, so that more is in doubt."""
LEAST_SHOWN, MOST_SHOWN = 2.0, 98.0
"""A hygrometer that shows less or more, % RH, is broken or wet (ours): no machine with eggs in it is so dry, and
eggs in air so moist would lose nothing, whatever they weigh. Such readings count as none."""
RECENT_S = 2 * DAY_S
RECENT_KNOWN_S = 6 * 3600


@dataclass(frozen=True)
class AssumedAir:
    """What is taken for the rest of a phase: % RH, where from, °C."""

    humidity: float
    source: str
    air_c: float


@dataclass(frozen=True)
class _Gone:
    """What has gone by of a phase, with the lines through its readings that are believed."""

    stretch: Stretch
    humidity: Trace | None
    temperature: Trace | None


class BatchAir:
    """The air of a batch until now, and the exposure it makes.

    ``exposure``: until ``end_day``; ``known``: the share of that time of which readings tell; ``day_sd``: standard
    deviation of daily mean humidities.
    """

    def __init__(self, course: Course, phases: Sequence[PhaseFigures], aims: BatchAims) -> None:
        self._course, self._aims = course, aims
        self._machines: dict[str, tuple[Machine, float]] = {}
        gone = [
            _Gone(
                stretch,
                None if series is None else _believable(series.humidity_trace),
                None if series is None else series.temperature_trace,
            )
            for stretch, series in zip(course.stretches, course.series, strict=True)
            if stretch.elapsed_at > stretch.start_at
        ]
        airs = [self._air(one) for one in gone]
        self.day_sd = _day_sd(gone)
        self.exposure = exposure_of(
            airs,
            hygrometer_sd=_plus_minus(phases) / NORMAL_95,
            gap_sds=[self._gap_sd(air) for air in airs],
            rise=Rise(RISE_MEAN, RISE_SD, course.batch.incubation_days),
            warmth_sd=WARMTH_SD_STILL_AIR if course.machine.kind is MachineKind.STILL_AIR else WARMTH_SD,
        )
        days = sum(float(air.days.sum()) for air in airs)
        told = sum(float(air.days @ air.known) for air in airs)
        self.known = told / days if days > 0 else 0.0
        self._gone = gone

    @property
    def end_day(self) -> float:
        """Days since set until which the exposure is known."""
        return self.exposure.end_day

    def pressure_at(self, stretch: Stretch) -> float:
        """The pressure of the air where the batch lies in a phase, kPa."""
        return self._machine(stretch)[1]

    def running(self) -> Stretch | None:
        """The phase that runs; None of a batch that is planned, closed or overdue."""
        if self._course.state is not BatchState.RUNNING:
            return None
        return next((one for one in self._course.stretches if one.state is PhaseState.RUNNING), None)

    def assumed(self, stretch: Stretch) -> AssumedAir:
        """The mean of the last two days of a phase, or of the phase, or its aim: what is taken to go on."""
        gone = next((one for one in self._gone if one.stretch is stretch), None)
        phase = stretch.phase
        humidity, source, air_c = phase.humidity_aim, "aim", phase.temperature_aim_c
        since = max(stretch.start_at, stretch.elapsed_at - RECENT_S)
        starts, ends = (since, stretch.start_at), (stretch.elapsed_at, stretch.elapsed_at)
        if gone is not None and gone.humidity is not None:
            (recent, whole), (known_s, _) = gone.humidity.window_means(starts, ends)
            if known_s >= RECENT_KNOWN_S:
                humidity, source = float(recent), "recent"
            elif whole == whole:
                humidity, source = float(whole), "phase"
        if gone is not None and gone.temperature is not None:
            (recent, whole), _ = gone.temperature.window_means(starts, ends)
            air_c = float(recent if recent == recent else whole if whole == whole else air_c)
        return AssumedAir(humidity, source, air_c)

    def ahead(
        self, until_day: float, assumed: AssumedAir, *, steered: bool = False, exact: bool = False
    ) -> Exposure:
        """The exposure until a day to come: the running phase at what is assumed, later ones at their aims.

        Args:
            until_day: days since set.
            assumed: for the rest of the running phase.
            steered: it is held on purpose, rather than what the last days happened to be.
            exact: the humidity of the running phase's rest is not in doubt.
        """
        parts: list[tuple[AirStretch, float]] = []
        for stretch in self._course.stretches:
            start = max(self._course.day_of(stretch.start_at), self.end_day)
            end = min(self._course.day_of(stretch.end_at), until_day)
            if end <= start:
                continue
            runs = stretch.state is PhaseState.RUNNING
            phase, days = stretch.phase, end - start
            recent = None if steered or assumed.source != "recent" else RECENT_S / DAY_S
            sd = sd_of_next_mean(self.day_sd, days, recent_days=recent) if runs else AIM_AHEAD_SD
            if runs and assumed.source == "aim" and not steered:
                sd = AIM_SD
            air = steady_air(
                days,
                assumed.humidity if runs else phase.humidity_aim,
                assumed.air_c if runs else phase.temperature_aim_c,
                egg_rise_c=self.egg_rise_c(stretch),
                pressure_kpa=self.pressure_at(stretch),
            )
            parts.append((air, 0.0 if exact and runs else sd))
        return self.exposure.go_on(parts)

    def _air(self, gone: _Gone) -> AirStretch:
        stretch, phase = gone.stretch, gone.stretch.phase
        return air_of_stretch(
            gone.humidity,
            gone.temperature,
            stretch.start_at,
            stretch.elapsed_at,
            aim_humidity=phase.humidity_aim,
            aim_c=phase.temperature_aim_c,
            egg_rise_c=self.egg_rise_c(stretch),
            pressure_kpa=self.pressure_at(stretch),
        )

    def _gap_sd(self, air: AirStretch) -> float:
        unknown_days = float(air.days @ (1.0 - air.known))
        if unknown_days <= 0:
            return 0.0
        return AIM_SD if air.by_aim else sd_of_next_mean(self.day_sd, unknown_days)

    def egg_rise_c(self, stretch: Stretch) -> float:
        """By how much eggs are taken to be warmer than the thermometer in a phase."""
        return self._aims.egg_rise_c(self._machine(stretch)[0].kind)

    def _machine(self, stretch: Stretch) -> tuple[Machine, float]:
        """Where the batch lies in a phase, and the pressure of the air there, kPa."""
        uid, own = self._course.machine_of(stretch.phase), self._course.machine
        if uid not in self._machines:
            machine = own if uid == own.uid else self._course.journal.machines.get(uid)
            self._machines[uid] = machine, pressure_kpa(machine.altitude_m)
        return self._machines[uid]


def _plus_minus(phases: Sequence[PhaseFigures]) -> float:
    """How far the hygrometer may be off, % RH: that of the longest phase gone by of which it is known."""
    known = [(phase.elapsed_h, phase.plus_minus) for phase in phases if phase.plus_minus is not None]
    return max(known)[1] if known else UNCHECKED_PLUS_MINUS


def _believable(humidity: Trace | None) -> Trace | None:
    """The line without what no hygrometer in order shows; None where nothing is left."""
    if humidity is None:
        return None
    values = humidity.values
    if float(values.min()) >= LEAST_SHOWN and float(values.max()) <= MOST_SHOWN:
        return humidity
    good = (values >= LEAST_SHOWN) & (values <= MOST_SHOWN)
    return Trace(humidity.at_s[good], values[good], humidity.longest_bridge_s) if good.any() else None


def _day_sd(gone: Sequence[_Gone]) -> float:
    """The standard deviation of daily means about their phase's mean, with what is usual counted in."""
    squares, free = USUAL_DAYS * USUAL_DAY_SD**2, USUAL_DAYS
    for one in gone:
        if one.humidity is None:
            continue
        daily = one.humidity.daily_means(one.stretch.start_at, one.stretch.elapsed_at)
        means = daily.mean[daily.known_share >= 0.5]
        if means.size > 1:
            squares += float(((means - means.mean()) ** 2).sum())
            free += means.size - 1
    return float(np.sqrt(squares / free))
