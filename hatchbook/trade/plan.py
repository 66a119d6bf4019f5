"""The plan of a batch: when its phases begin and end, and what it asks of the breeder when.

Phases follow the eggs: day *n* is the n-th 24 hours after setting, whatever the clocks do meanwhile. Duties follow
the breeder: they come at customary times on the wall clock of the journal's zone. The times are ours.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from hatchbook.trade.codes import DutyKind, PhaseKind
from hatchbook.trade.instants import DAY_S, from_local_shifted, to_local
from hatchbook.trade.phases import PhaseTargets
from hatchbook.trade.programme import Programme

REST_AFTER_SETTING_S = 3600
"""No turning is asked for in the first hour."""
MOST_TURNS_BY_HAND = 8
"""More turns a day than this are the work of a machine, and no duties."""


@dataclass(frozen=True)
class DayTimes:
    """The times of a breeder's day, on the wall clock.

    Turnings are spread evenly from `first_turn` to `last_turn`, except for those that `turns` names by their number
    a day. Candling wants the dark of the evening. Weighing comes at the hour of setting, since weights are to be
    taken at the same hour (Hand-Rearing Birds, 2nd ed., p. 65), but not before `first_turn` or after `last_turn`.
    """

    first_turn: time = time(7, 30)
    last_turn: time = time(21, 0)
    candle: time = time(20, 0)
    turns: tuple[tuple[time, ...], ...] = ((time(9, 0),), (time(7, 30), time(14, 0), time(21, 0)))

    def turn_times(self, turns_per_day: int) -> tuple[time, ...]:
        """The times of so many turnings a day, to the minute; none where a machine has to do it."""
        if not 1 <= turns_per_day <= MOST_TURNS_BY_HAND:
            return ()
        for named in self.turns:
            if len(named) == turns_per_day:
                return named
        first, last = _minutes(self.first_turn), _minutes(self.last_turn)
        if turns_per_day == 1:
            return (self.first_turn,)
        minutes = [first + round(n * (last - first) / (turns_per_day - 1)) for n in range(turns_per_day)]
        return tuple(time(*divmod(minute, 60)) for minute in minutes)


@dataclass(frozen=True)
class PlannedPhase:
    """A phase of a batch with its instants, UTC seconds; the end belongs to the next phase."""

    start_s: int
    end_s: int
    targets: PhaseTargets

    @property
    def kind(self) -> PhaseKind:
        """Incubation or lockdown."""
        return self.targets.kind


@dataclass(frozen=True)
class PlannedDuty:
    """Something a batch asks of the breeder at an instant, UTC seconds.

    `day` and `ordinal` name the duty and stay when the hour of setting is corrected: `day` is the programme's day
    for which it is planned, or for a turning the number of dates since the one of setting. `ordinal` counts from 1:
    the turnings of a full day, the candlings and the weighings of the batch. The exact age of the eggs follows from
    `at_s` (`hatchbook.trade.instants.day_number`).
    """

    kind: DutyKind
    at_s: int
    day: float
    ordinal: int = 1
    of: int = 1


@dataclass(frozen=True)
class BatchPlan:
    """Everything that follows from a programme and the instant of setting. Duties are in the order of time."""

    programme: Programme
    set_at_s: int
    phases: tuple[PlannedPhase, ...]
    lockdown_at_s: int
    hatch_due_at_s: int
    duties: tuple[PlannedDuty, ...]


def instant_of_day(set_at_s: int, day: float) -> int:
    """The instant so many days of 24 hours after setting, UTC seconds, to the nearest second."""
    return set_at_s + round(day * DAY_S)


def set_at_for_hatch(programme: Programme, hatch_at_s: int) -> int:
    """When the eggs must be set for the hatch to be due at an instant, UTC seconds."""
    return hatch_at_s - round(programme.incubation_days * DAY_S)


def plan_batch(
    programme: Programme, set_at_s: int, zone: ZoneInfo, times: DayTimes | None = None
) -> BatchPlan:
    """The phases and duties of a batch set at an instant.

    Turnings come between setting and lockdown only. Candlings and weighings come on the date that lies so many
    dates after the one of setting, none before setting; those planned up to lockdown come at its beginning at the
    latest, since the machine stays shut from then on.

    Args:
        programme: what the batch is incubated by; without `weigh_days` no weighing is planned.
        set_at_s: the instant of setting, UTC seconds.
        zone: the journal's, in which wall-clock times are meant.
        times: the breeder's day.
    """
    times = times or DayTimes()
    phases = tuple(
        PlannedPhase(
            instant_of_day(set_at_s, targets.from_day), instant_of_day(set_at_s, targets.to_day), targets
        )
        for targets in programme.phases
    )
    lockdown_at_s = instant_of_day(set_at_s, programme.lockdown_day)
    hatch_due_at_s = phases[-1].end_s
    set_wall = to_local(set_at_s, zone).replace(tzinfo=None)

    def dated(kind: DutyKind, days: tuple[float, ...], at: time) -> Iterator[PlannedDuty]:
        for ordinal, day in enumerate(days, 1):
            on = (set_wall + timedelta(days=day)).date()
            at_s = max(set_at_s, from_local_shifted(datetime.combine(on, at), zone)) if day else set_at_s
            if day <= programme.lockdown_day:
                at_s = min(at_s, lockdown_at_s)
            yield PlannedDuty(kind, at_s, day, ordinal, len(days))

    weigh_at = min(max(set_wall.time().replace(second=0), times.first_turn), times.last_turn)
    duties = [
        PlannedDuty(DutyKind.SET, set_at_s, 0.0),
        *_turnings(phases, set_at_s, zone, times),
        *dated(DutyKind.CANDLE, programme.candle_days, times.candle),
        *dated(DutyKind.WEIGH, programme.weigh_days, weigh_at),
        PlannedDuty(DutyKind.LOCKDOWN, lockdown_at_s, programme.lockdown_day),
        PlannedDuty(DutyKind.HATCH, hatch_due_at_s, programme.incubation_days),
    ]
    order = tuple(DutyKind)
    duties.sort(key=lambda duty: (duty.at_s, order.index(duty.kind), duty.ordinal))
    return BatchPlan(programme, set_at_s, phases, lockdown_at_s, hatch_due_at_s, tuple(duties))


def _turnings(
    phases: tuple[PlannedPhase, ...], set_at_s: int, zone: ZoneInfo, times: DayTimes
) -> Iterator[PlannedDuty]:
    first_date = to_local(set_at_s, zone).date()
    for phase in phases:
        slots = times.turn_times(phase.targets.turns_per_day)
        start_s = max(phase.start_s, set_at_s + REST_AFTER_SETTING_S)
        for on in _dates(phase, zone) if slots else ():
            seen: set[int] = set()
            for ordinal, slot in enumerate(slots, 1):
                at_s = from_local_shifted(datetime.combine(on, slot), zone)
                # Where the clocks skip a whole day, its times fall onto those of the next.
                if start_s <= at_s < phase.end_s and to_local(at_s, zone).date() == on and at_s not in seen:
                    seen.add(at_s)
                    day = float((on - first_date).days)
                    yield PlannedDuty(DutyKind.TURN, at_s, day, ordinal, len(slots))


def _dates(phase: PlannedPhase, zone: ZoneInfo) -> Iterator[date]:
    on, last = to_local(phase.start_s, zone).date(), to_local(phase.end_s, zone).date()
    while on <= last:
        yield on
        on += timedelta(days=1)


def _minutes(at: time) -> int:
    return at.hour * 60 + at.minute
