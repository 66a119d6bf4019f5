"""The readings that count for a batch: of which probe, in which machine, from when to when."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hatchbook.journal import Batch, Journal, Probe, ReadingSeries
from hatchbook.statistics.averages import Trace
from hatchbook.statistics.trace import LONGEST_BRIDGE_S

LEAD_S = int(LONGEST_BRIDGE_S)
"""From so far outside the line through the readings can run into a stretch."""

_Intervals = list[tuple[int, int]]
_EMPTY = ReadingSeries(0, np.empty(0, np.int64), np.empty(0), np.empty(0))


def batch_series(journal: Journal, probe: Probe, start_at: int, end_at: int) -> ReadingSeries:
    """The readings of a probe as all figures take them, both ends included.

    Everything that is computed of a series reads it here, and nowhere else.
    """
    return journal.readings.series(probe.number, start_at, end_at)


@dataclass(frozen=True)
class StretchSeries:
    """What is known of a stretch of a batch; ``at``, ``humidity``, ``temperature_c`` are the readings within it.

    Humidity and temperature come from one probe where it measures both, else from two; NaN: not measured then.
    The traces also hold what lies round the stretch; None where nothing was measured in it.
    """

    at: NDArray[np.int64]
    humidity: NDArray[np.float64]
    temperature_c: NDArray[np.float64]
    humidity_trace: Trace | None
    temperature_trace: Trace | None
    humidity_probe: Probe | None
    temperature_probe: Probe | None

    @property
    def probe(self) -> Probe | None:
        """The probe whose readings count most: the hygrometer, or the thermometer where there is none."""
        return self.humidity_probe or self.temperature_probe


@dataclass(frozen=True)
class _Candidate:
    probe: Probe
    readings: ReadingSeries


class BatchReadings:
    """Reads the series of a batch, each probe's once, and chooses whose count.

    The batch's own probe is taken wherever it was not known to hang elsewhere; without one, or where that has
    nothing to say, the probe of the machine whose readings cover the most of the time.
    """

    def __init__(self, journal: Journal, batch: Batch, start_at: int, end_at: int, now: int) -> None:
        self._journal = journal
        self._start_at = start_at - LEAD_S
        self._end_at = min(end_at + LEAD_S, now)
        self._own = journal.probes.find(batch.probe) if batch.probe is not None else None
        self._series: dict[int, ReadingSeries] = {}
        self._in_machine: dict[str, list[_Candidate]] = {}

    def of_stretch(
        self, machine: str, start_at: int, end_at: int, shown_until: int | None = None
    ) -> StretchSeries:
        """The readings that count while the batch lies in a machine.

        Args:
            machine: its uid.
            start_at: the begin of the stretch, UTC seconds.
            end_at: its end; the probe is chosen by what is known between them.
            shown_until: the readings are handed out until then, where that is later.
        """
        own = self._candidates_of_own(machine)
        others = self._candidates(machine)
        humidity = _best(own, "humidity", start_at, end_at) or _best(others, "humidity", start_at, end_at)
        temperature = None
        for group in ([humidity[0]] if humidity else [], own, others):
            temperature = temperature or _best(group, "temperature_c", start_at, end_at)
        at, values = _together(humidity, temperature, start_at, max(end_at, shown_until or end_at))
        return StretchSeries(
            at=at,
            humidity=values[0],
            temperature_c=values[1],
            humidity_trace=humidity[1] if humidity else None,
            temperature_trace=temperature[1] if temperature else None,
            humidity_probe=humidity[0].probe if humidity else None,
            temperature_probe=temperature[0].probe if temperature else None,
        )

    def _candidates(self, machine: str) -> list[_Candidate]:
        """The probes that hung in the machine, with their readings of that time."""
        if machine not in self._in_machine:
            stays: dict[str, tuple[Probe, _Intervals]] = {}
            for stay in self._journal.probes.stays(machine, self._start_at, self._end_at + 1):
                stays.setdefault(stay.probe.uid, (stay.probe, []))[1].append((stay.start_at, stay.end_at))
            self._in_machine[machine] = [
                _Candidate(probe, _masked(self._read(probe), intervals, inside=True))
                for probe, intervals in stays.values()
            ]
        return self._in_machine[machine]

    def _candidates_of_own(self, machine: str) -> list[_Candidate]:
        """The batch's own probe, without the time in which it is known to have hung elsewhere."""
        if self._own is None:
            return []
        elsewhere = [
            (place.from_at, self._end_at + 1 if place.until_at is None else place.until_at)
            for place in self._journal.probes.placements(self._own.uid)
            if place.machine != machine
        ]
        return [_Candidate(self._own, _masked(self._read(self._own), elsewhere, inside=False))]

    def _read(self, probe: Probe) -> ReadingSeries:
        if probe.number not in self._series:
            empty = self._end_at < self._start_at
            self._series[probe.number] = (
                _EMPTY if empty else batch_series(self._journal, probe, self._start_at, self._end_at)
            )
        return self._series[probe.number]


def _masked(readings: ReadingSeries, intervals: _Intervals, *, inside: bool) -> ReadingSeries:
    """The readings inside any of the intervals [begin, end), or outside all of them."""
    within = np.zeros(len(readings), dtype=np.bool_)
    for begin, end in intervals:
        first, stop = np.searchsorted(readings.at, (begin, end))
        within[first:stop] = True
    keep = within if inside else ~within
    if keep.all():
        return readings
    return ReadingSeries(
        readings.probe, readings.at[keep], readings.temperature_c[keep], readings.humidity[keep]
    )


_Chosen = tuple[_Candidate, Trace]


def _best(candidates: list[_Candidate], quantity: str, start_at: int, end_at: int) -> _Chosen | None:
    """The candidate that knows the quantity for most of the time, then by the most readings; None: none does."""
    best, most = None, (0.0, 0)
    for candidate in candidates:
        at = candidate.readings.at
        part = slice(*np.searchsorted(at, (start_at - LEAD_S, end_at + LEAD_S + 1)))
        trace = Trace.for_window(at[part], getattr(candidate.readings, quantity)[part], start_at, end_at)
        average = trace.average(start_at, end_at)
        if (average.known_s, average.count) > most:
            best, most = (candidate, trace), (average.known_s, average.count)
    return best


def _together(
    humidity: _Chosen | None, temperature: _Chosen | None, start_at: int, end_at: int
) -> tuple[NDArray[np.int64], tuple[NDArray[np.float64], NDArray[np.float64]]]:
    """Instants and both quantities of the chosen readings from ``start_at`` to ``end_at``, both included."""
    parts = []
    for chosen, quantity in ((humidity, "humidity"), (temperature, "temperature_c")):
        readings = chosen[0].readings if chosen else _EMPTY
        part = slice(*np.searchsorted(readings.at, (start_at, end_at + 1)))
        parts.append((readings.at[part], getattr(readings, quantity)[part]))
    (humidity_at, humidities), (temperature_at, temperatures) = parts
    if humidity and temperature and humidity[0] is temperature[0]:
        return humidity_at, (humidities, temperatures)
    at = np.union1d(humidity_at, temperature_at)
    both = np.full((2, at.size), np.nan)
    both[0, np.searchsorted(at, humidity_at)] = humidities
    both[1, np.searchsorted(at, temperature_at)] = temperatures
    return at, (both[0], both[1])
