"""What filling the channels and moving the vent did to a batch's humidity, event by event."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby
from typing import Any

import numpy as np

from hatchbook.figures.plain import plain_fields
from hatchbook.figures.results import Curves, PhaseFigures
from hatchbook.figures.temperature import OPEN_DUTIES
from hatchbook.journal import Event
from hatchbook.statistics.averages import Trace
from hatchbook.statistics.drift import DriftDirection
from hatchbook.statistics.event_effect import Effect, effect_of
from hatchbook.trade.codes import EventKind
from hatchbook.trade.instants import DAY_S

TOLD = frozenset({EventKind.WATER, EventKind.VENT})
"""The events of which an effect is told."""
_LEAVE_IT = frozenset({EventKind.TURNED, EventKind.NOTE})
"""What does not move the humidity: turnings open a lid for a minute at most."""
_OPEN_S = 20 * 60
"""So long a lid stands open at a candling or a weighing that has no end of its own (ours)."""


@dataclass(frozen=True)
class EventEffect:
    """What an event did: % RH before and after, and the change with its 95 % range. ``event``: its uid."""

    event: str
    before: float
    after: float
    low: float
    high: float
    settled_h: float

    @property
    def change(self) -> float:
        """Points of % RH."""
        return self.after - self.before

    @property
    def told_from_chance(self) -> bool:
        """Whether the range leaves no doubt of the direction."""
        return self.low > 0 or self.high < 0

    def as_dict(self) -> dict[str, Any]:
        """The figures as plain JSON values."""
        return plain_fields(self) | {"change": self.change}


def event_effects(curves: Curves) -> dict[str, EventEffect]:
    """The effects that can be told, by the uid of the event."""
    found: dict[str, EventEffect] = {}
    if not curves.at.size:
        return found
    disturbances = _disturbances(curves)
    for _, run in groupby(curves.phases, lambda phase: (phase.machine_name, phase.probe_name)):
        phases = list(run)
        start_at, end_at = phases[0].start_at, _end(phases[-1], curves)
        part = slice(*np.searchsorted(curves.at, (start_at, end_at + 1)))
        trace = Trace(curves.at[part], curves.humidity[part])
        for event in curves.events:
            if event.kind in TOLD and start_at <= event.at < end_at:
                others = [stretch for uid, stretch in disturbances if uid != event.uid]
                effect = effect_of(trace, event.at, np.array(others).reshape(-1, 2), start_at, end_at)
                if effect is not None:
                    found[event.uid] = _of(event, effect)
    return found


def moved_by(
    curves: Curves, phase: PhaseFigures, since_s: int | None, direction: float
) -> tuple[EventEffect, ...]:
    """The effects of a phase, more than chance, that moved the humidity up (``direction`` > 0) or down.

    The strongest first. Of a drift that began at ``since_s`` those from a day before on: days are counted from the
    setting, so that what moved it may have been done in the day before.
    """
    first = phase.start_at if since_s is None else max(since_s - DAY_S, phase.start_at)
    moved = [
        effect
        for event in curves.events
        if first <= event.at < phase.end_at
        and (effect := curves.effects.get(event.uid)) is not None
        and effect.told_from_chance
        and effect.change * direction > 0
    ]
    return tuple(sorted(moved, key=lambda effect: -abs(effect.change)))


def drift_event(curves: Curves, phase: PhaseFigures) -> Event | None:
    """The event that came with a phase's drift of humidity and moved it by half the width of its band or more."""
    drift = phase.humidity
    if drift is None or drift.since_s is None or drift.direction is None:
        return None
    up = 1.0 if drift.direction is DriftDirection.UP else -1.0
    least = (phase.humidity_band.high - phase.humidity_band.low) / 2
    events = {event.uid: event for event in curves.events}
    for effect in moved_by(curves, phase, drift.since_s, up):
        event = events[effect.event]
        if abs(effect.change) >= least and event.at < drift.since_s + DAY_S:
            return event
    return None


def _of(event: Event, effect: Effect) -> EventEffect:
    return EventEffect(event.uid, effect.before, effect.after, effect.low, effect.high, effect.settled_h)


def _end(last: PhaseFigures, curves: Curves) -> int:
    return max(last.end_at, int(curves.at[-1])) if last is curves.phases[-1] else last.end_at


def _disturbances(curves: Curves) -> list[tuple[str, tuple[int, int]]]:
    """All that moves the humidity, with the uid of the event that it is ("" for a duty)."""
    found = [
        (event.uid, (event.at, event.at if event.ends_at is None else event.ends_at))
        for event in curves.events
        if event.kind not in _LEAVE_IT
    ]
    found += [
        ("", (duty.done_at - _OPEN_S, duty.done_at))
        for duty in curves.duties
        if duty.kind in OPEN_DUTIES and duty.done_at is not None
    ]
    return found
