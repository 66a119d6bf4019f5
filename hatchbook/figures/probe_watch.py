"""The probes of a machine watched: what corrects them now, whether one stands still, or drifts from the others."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from hatchbook.figures.corrections import plus_minus_between, probe_corrections
from hatchbook.figures.plain import plain_fields
from hatchbook.journal import Journal, Probe, ReadingSeries
from hatchbook.statistics.calibration import Correction, correction_at, resolution_of
from hatchbook.statistics.probe_difference import ProbeDifference, compare_probes
from hatchbook.statistics.same_value import LONGEST_GAP_S, SameValue, same_value_stretches
from hatchbook.statistics.trace import FloatArray
from hatchbook.trade.codes import Quantity
from hatchbook.trade.instants import DAY_S

WATCHED_S = 14 * DAY_S
"""So far back the readings are looked at: a probe's present state, not that of past batches (our choice)."""
UNCHECKED_PLUS_MINUS_C = 0.5
"""How far a thermometer may be off of which nothing is known, °C (from memory: cheap ones' data sheets)."""
_NO_MEAN = {Quantity.HUMIDITY: 50.0, Quantity.TEMPERATURE: 37.5}


@dataclass(frozen=True)
class ProbeFlags:
    """A probe that hangs in the place now.

    correction, temperature_correction: what holds now; None before any check. plus_minus, plus_minus_c: how far its
    readings of today may be off, % RH and °C. stuck: stretches of the same value in the time watched, of what it
    showed. difference, temperature_difference: against the others, as their corrections of now have them; None
    without a common hour. apart: its humidity differs by more than both may be off; temperatures really do differ
    from place to place in a machine, so only their drift counts. last_at: its latest reading.
    """

    uid: str
    name: str
    last_at: int | None
    correction: Correction | None
    temperature_correction: Correction | None
    plus_minus: float
    plus_minus_c: float
    stuck: tuple[SameValue, ...]
    difference: ProbeDifference | None
    temperature_difference: ProbeDifference | None
    apart: bool

    @property
    def stuck_now(self) -> SameValue | None:
        """The stretch of the same value that its latest reading still belongs to."""
        last = self.stuck[-1] if self.stuck else None
        if last is None or self.last_at is None or self.last_at - last.end_at > LONGEST_GAP_S:
            return None
        return last if last.end_at == self.last_at else None

    @property
    def drifting(self) -> bool:
        """Whether it moves away from the others."""
        both = (self.difference, self.temperature_difference)
        return any(one is not None and one.drifting for one in both)

    @property
    def flagged(self) -> bool:
        """Whether there is anything to look after."""
        return bool(self.stuck) or self.drifting or self.apart

    def as_dict(self) -> dict[str, Any]:
        """The fields as plain JSON values."""
        return plain_fields(self) | {"drifting": self.drifting, "flagged": self.flagged}


@dataclass(frozen=True)
class ProbeWatch:
    """The probes of a machine, or of the room; from ``since_at`` to ``now`` they were looked at."""

    machine: str | None
    since_at: int
    now: int
    probes: tuple[ProbeFlags, ...]

    def as_dict(self) -> dict[str, Any]:
        """The fields as plain JSON values."""
        return plain_fields(self)


def probe_watch(journal: Journal, machine: str | None, now: int) -> ProbeWatch:
    """The probes that hang in a machine (its uid; None: in the room) now, looked at over the last fortnight."""
    since_at = now - WATCHED_S
    probes = [probe for probe in journal.probes.present_in(machine, now) if probe.retired_on is None]
    watched = [_Watched(journal, probe, machine, since_at, now) for probe in probes]
    differences = {
        quantity: compare_probes(
            quantity, [(one.shown.at, one.as_now(quantity)) for one in watched], since_at, now
        )
        for quantity in Quantity
    }
    flags = [
        _flags(watched, position, {quantity: of_all[position] for quantity, of_all in differences.items()})
        for position in range(len(watched))
    ]
    return ProbeWatch(machine, since_at, now, tuple(flags))


class _Watched:
    """A probe with what it showed while it hung there."""

    def __init__(self, journal: Journal, probe: Probe, machine: str | None, since_at: int, now: int) -> None:
        self.probe = probe
        stays = [stay for stay in journal.probes.stays(machine, since_at, now + 1) if stay.probe == probe]
        self.shown: ReadingSeries = journal.readings.series(probe.number, stays[-1].start_at, now)
        self.corrections = probe_corrections(journal, probe)
        self.now = now
        self.halves = {quantity: self._plus_minus(quantity) for quantity in Quantity}

    def values(self, quantity: Quantity) -> FloatArray:
        """What it showed."""
        return self.shown.humidity if quantity is Quantity.HUMIDITY else self.shown.temperature_c

    def holding(self, quantity: Quantity) -> Correction | None:
        """The correction of now."""
        return correction_at(self.corrections.of(quantity), self.now)

    def as_now(self, quantity: Quantity) -> FloatArray:
        """All of the readings by the correction of now, so that a check in between does not look like a drift."""
        holding = self.holding(quantity)
        values = self.values(quantity)
        return values if holding is None or not holding.changes else values * holding.gain + holding.offset

    def _plus_minus(self, quantity: Quantity) -> float:
        accuracy = {
            Quantity.HUMIDITY: self.probe.accuracy_humidity,
            Quantity.TEMPERATURE: self.probe.accuracy_temperature_c or UNCHECKED_PLUS_MINUS_C,
        }[quantity]
        today = self.as_now(quantity)[self.shown.at >= self.now - DAY_S]
        mean = _NO_MEAN[quantity] if np.isnan(today).all() else float(np.nanmean(today))
        resolution = resolution_of(self.values(quantity))
        return plus_minus_between(
            self.corrections.of(quantity), accuracy, self.now, self.now, mean, resolution, self.now
        )


def _flags(
    watched: list[_Watched], position: int, differences: dict[Quantity, ProbeDifference | None]
) -> ProbeFlags:
    one = watched[position]
    difference = differences[Quantity.HUMIDITY]
    others = [other.halves[Quantity.HUMIDITY] for other in watched if other is not one]
    allowed = float(np.hypot(one.halves[Quantity.HUMIDITY], max(others, default=0.0)))
    shown = one.shown
    return ProbeFlags(
        uid=one.probe.uid,
        name=one.probe.name,
        last_at=int(shown.at[-1]) if len(shown) else None,
        correction=one.holding(Quantity.HUMIDITY),
        temperature_correction=one.holding(Quantity.TEMPERATURE),
        plus_minus=one.halves[Quantity.HUMIDITY],
        plus_minus_c=one.halves[Quantity.TEMPERATURE],
        stuck=same_value_stretches(shown.at, shown.humidity, shown.temperature_c),
        difference=difference,
        temperature_difference=differences[Quantity.TEMPERATURE],
        apart=difference is not None and difference.apart(allowed),
    )
