"""What the chart of a batch draws, made ready once from its curves; and what stands at an instant of it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from hatchbook.desk.charts.lines import Instants, Line, broken_line, simplified
from hatchbook.desk.charts.ranges import humidity_range, loss_range, temperature_range
from hatchbook.figures.results import BatchFigures, Curves, PhaseFigures, PhaseState
from hatchbook.figures.temperature import CutFigures
from hatchbook.figures.to_hold import ToHold, to_hold
from hatchbook.figures.weight_results import LossPath, LossTarget, WeightForecast
from hatchbook.journal import Event
from hatchbook.statistics.averages import longest_bridge
from hatchbook.statistics.excursions import Excursion, excursions
from hatchbook.statistics.same_value import SameValue
from hatchbook.statistics.trace import SHORTEST_BRIDGE_S
from hatchbook.trade.codes import DutyKind, EventKind
from hatchbook.trade.instants import DAY_S

_MARGIN_SHARE = 0.007
_LID_WORTH_A_MARK_S = 600
_UNMARKED_EVENTS = frozenset({EventKind.TURNED})
"""Three turnings a day would drown the rest; the phase's rail says how often."""
_MOST_EXCURSIONS = 40
_SAME_HOLD = 1.0
"""% RH: nearer than any hygrometer tells, and as good as nothing of an egg's weight."""
_MEAN_TOLERANCE = 0.02
"""% RH: a seventh of a pixel at the usual height, and up and down never zooms."""


@dataclass(frozen=True)
class Gap:
    """A stretch without readings, UTC seconds."""

    start_at: int
    end_at: int


class BatchMaterial:
    """The curves of a batch as lines, gaps, marks and ranges."""

    def __init__(self, curves: Curves, weight: WeightForecast | None = None) -> None:
        self.curves = curves
        self.weight = weight
        self.set_at = curves.start_at
        self.now = curves.now
        self.phases = curves.phases
        #: Power cuts that only the curve tells of, by the uid of the event that stands for them in the lane.
        self.found_cuts = {f"found:{cut.at}": cut for cut in curves.cuts if cut.found}
        marked = [event for event in curves.events if _is_marked(event)]
        found = [_as_event(uid, cut) for uid, cut in self.found_cuts.items()]
        self.events = tuple(sorted([*marked, *found], key=lambda event: event.at))
        self.duties = tuple(duty for duty in curves.duties if duty.kind is not DutyKind.TURN)
        # Where nothing was read at all there is no curve to be interrupted: bands and aims stay to be seen.
        self.gaps = _gaps(curves.unknown) if curves.at.size else ()
        self.humidity_range = humidity_range(curves.phases, curves.humidity)
        self.temperature_range = temperature_range(curves.phases, curves.temperature_c)

    # ---------------------------------------------------------------- extent

    @property
    def first_day(self) -> float:
        """The left edge of the whole batch."""
        return -_MARGIN_SHARE * self._days

    @property
    def last_day(self) -> float:
        """The right edge of the whole batch."""
        return (1 + _MARGIN_SHARE) * self._days

    @cached_property
    def _days(self) -> float:
        ends = [self.curves.end_at, *(phase.end_at for phase in self.phases)]
        if self.curves.at.size:
            ends.append(int(self.curves.at[-1]))
        return max((max(ends) - self.set_at) / DAY_S, 1.0)

    @property
    def running(self) -> PhaseFigures | None:
        """The phase that runs now."""
        return next((phase for phase in self.phases if phase.state is PhaseState.RUNNING), None)

    @cached_property
    def held(self) -> ToHold | None:
        """What to hold from now on, as the key figure has it; None where nothing is known, or left to steer."""
        phase = self.running
        if phase is None or phase.humidity is None:
            return None
        held = to_hold(self.phases, None if self.weight is None else self.weight.advice)
        if held is None or not held.steers or (phase.hold is None and not held.by_weight):
            return None
        return held

    @property
    def path_held(self) -> LossPath | None:
        """Where the weight goes if that is held; None where its forecast knows of something else to hold."""
        if self.weight is None or self.weight.advice is None or self.held is None:
            return None
        same = abs(self.weight.advice.humidity - self.held.humidity) < _SAME_HOLD
        return self.weight.path_held if same else None

    @property
    def has_readings(self) -> bool:
        """Whether there is any curve."""
        return bool(self.curves.at.size)

    # ---------------------------------------------------------------- lines

    @cached_property
    def humidity(self) -> Line:
        """The readings of humidity, % RH."""
        return broken_line(self.curves.at, self.curves.humidity, self.curves.unknown, self.set_at)

    @cached_property
    def temperature(self) -> Line:
        """The readings of temperature, °C, held inside the range of the strip."""
        unknown = self.curves.unknown
        alike = np.array_equal(np.isnan(self.curves.humidity), np.isnan(self.curves.temperature_c))
        if not alike:
            unknown = self._temperature_gaps()
        line = broken_line(self.curves.at, self.curves.temperature_c, unknown, self.set_at)
        low, high = self.temperature_range
        return Line(line.days, np.clip(line.values, low + 0.06, high - 0.06))

    @cached_property
    def mean(self) -> Line:
        """The running mean of each phase, % RH, with no more corners than one can see; it breaks between phases."""
        days = (self.curves.running_at - self.set_at) / DAY_S
        return simplified(Line(days, self.curves.running_mean), _MEAN_TOLERANCE)

    @cached_property
    def excursions(self) -> tuple[Excursion, ...]:
        """The times in which the temperature left its strip, the worst ones if there are many."""
        found = excursions(self.curves.at, self.curves.temperature_c, *self.temperature_range)
        worst = sorted(found, key=self.severity, reverse=True)[:_MOST_EXCURSIONS]
        return tuple(sorted(worst, key=lambda one: one.start_s))

    def severity(self, excursion: Excursion) -> float:
        """How bad an excursion is, to decide which label gives way: degrees outside × seconds."""
        low, high = self.temperature_range
        outside = excursion.extreme - high if excursion.above else low - excursion.extreme
        return outside * (excursion.seconds + 300)

    def _temperature_gaps(self) -> Instants:
        """Where the thermometer is silent, when it is another probe than the hygrometer; shape (n, 2)."""
        measured = self.curves.at[~np.isnan(self.curves.temperature_c)]
        gaps = []
        for phase in self.phases:
            part = measured[np.searchsorted(measured, phase.start_at) :]
            part = part[: np.searchsorted(part, phase.end_at, side="right")]
            wide = np.flatnonzero(np.diff(part) > longest_bridge(part))
            gaps.append(np.stack((part[wide], part[wide + 1]), axis=1))
        return np.concatenate([np.empty((0, 2), np.int64), *gaps])

    # ---------------------------------------------------------------- weight

    @cached_property
    def loss_target(self) -> LossTarget | None:
        """The corridor of the eggs' weight: as the batch's figures have it, or as the batch itself does."""
        if self.weight is not None:
            return self.weight.target
        batch = self.curves.batch
        if batch.loss_low_percent is None or batch.loss_high_percent is None or batch.loss_day is None:
            return None
        low, high = batch.loss_low_percent, batch.loss_high_percent
        return LossTarget(low, (low + high) / 2, high, batch.loss_day)

    @cached_property
    def loss_range(self) -> tuple[float, float]:
        """The least and the most loss that the weight row shows, %."""
        losses: list[float] = []
        if self.loss_target is not None:
            losses.append(self.loss_target.high)
        if self.weight is not None:
            losses += [loss for egg in self.weight.eggs for _day, loss in egg.points]
            losses += [point.mean for point in self.weight.weighings]
            for path in (self.weight.path_so_far, self.weight.path_ahead):
                if path is not None:
                    losses += path.low.tolist() + path.high.tolist()
        return loss_range(losses)

    def loss_at(self, at: float) -> float | None:
        """The mean loss at an instant, %: what is estimated until now, and as things go after it."""
        if self.weight is None or (not self.weight.weighings and at < self.now):
            return None
        day = (at - self.set_at) / DAY_S
        for path in (self.weight.path_so_far, self.weight.path_ahead):
            if path is not None and path.day.size and path.day[0] <= day <= path.day[-1]:
                return _along(path, day)
        return None

    # ---------------------------------------------------------------- at an instant

    def still_at(self, at: float) -> SameValue | None:
        """The stretch of one and the same value in which an instant lies."""
        return next((one for one in self.curves.still if one.start_at <= at <= one.end_at), None)

    def nearest(self, at: float) -> int | None:
        """The reading nearest to an instant."""
        instants = self.curves.at
        if not instants.size:
            return None
        after = int(np.searchsorted(instants, at))
        if after == 0:
            return 0
        if after == instants.size:
            return after - 1
        return after if instants[after] - at < at - instants[after - 1] else after - 1

    def mean_at(self, at: int) -> float:
        """The mean of the phase up to an instant; NaN where there is none."""
        row = int(np.searchsorted(self.curves.running_at, at, side="right")) - 1
        return float(self.curves.running_mean[row]) if row >= 0 else float("nan")

    def gap_at(self, at: float) -> Gap | None:
        """The gap in which an instant lies."""
        return next((gap for gap in self.gaps if gap.start_at < at < gap.end_at), None)

    def phase_at(self, at: float) -> PhaseFigures | None:
        """The phase of an instant."""
        return next((phase for phase in self.phases if phase.start_at <= at < phase.end_at), None)


def _along(path: LossPath, day: float) -> float:
    return float(np.interp(day, path.day, path.mean))


def bare_curves(figures: BatchFigures) -> Curves:
    """The curves of a batch of which nothing was read yet: its phases only."""
    empty = np.empty(0)
    return Curves(
        batch=figures.batch,
        now=figures.now,
        start_at=figures.batch.set_at,
        end_at=figures.hatch_due_at,
        at=empty.astype(np.int64),
        humidity=empty,
        temperature_c=empty,
        running_at=empty.astype(np.int64),
        running_mean=empty,
        unknown=np.empty((0, 2), np.int64),
        phases=figures.phases,
        events=(),
        duties=(),
    )


def _as_event(uid: str, cut: CutFigures) -> Event:
    return Event(cut.at, EventKind.POWER_CUT, ends_at=cut.until, uid=uid)


def _is_marked(event: Event) -> bool:
    if event.kind in _UNMARKED_EVENTS:
        return False
    if event.kind is EventKind.LID and event.ends_at is not None:
        return event.ends_at - event.at >= _LID_WORTH_A_MARK_S
    return True


def _gaps(unknown: Instants) -> tuple[Gap, ...]:
    """The gaps worth a plate, those that a phase's end cuts in two made whole."""
    gaps: list[Gap] = []
    for begin, end in unknown.tolist():
        if gaps and gaps[-1].end_at == begin:
            gaps[-1] = Gap(gaps[-1].start_at, end)
        else:
            gaps.append(Gap(begin, end))
    return tuple(gap for gap in gaps if gap.end_at - gap.start_at > SHORTEST_BRIDGE_S)
