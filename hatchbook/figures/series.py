"""The readings that count for a batch: of which probe, in which machine, from when to when."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hatchbook.figures.corrections import probe_corrections
from hatchbook.journal import Batch, Journal, Probe, ReadingSeries
from hatchbook.statistics.averages import Trace
from hatchbook.statistics.trace import LONGEST_BRIDGE_S

LEAD_S = int(LONGEST_BRIDGE_S)
"""From so far outside the line through the readings can run into a stretch."""

_Intervals = list[tuple[int, int]]
_EMPTY = ReadingSeries(0, np.empty(0, np.int64), np.empty(0), np.empty(0))


def batch_series(journal: Journal, probe: Probe, start_at: int, end_at: int) -> ReadingSeries:
    """The readings of a probe as all figures take them, corrected by its checks, both ends included.

    Everything that is computed of a series reads it here, or below where what the probe showed is needed as well.
    """
    return probe_corrections(journal, probe).corrected(
        journal.readings.series(probe.number, start_at, end_at)
    )


@dataclass(frozen=True)
class StretchSeries:
    """What is known of a stretch of a batch; ``at``, ``humidity``, ``temperature_c`` are the readings within it.

    Humidity and temperature come from one probe where it measures both, else from two; NaN: not measured then.
    All of it is corrected by the checks of the probe, but for ``shown_humidity`` and ``shown_temperature_c``: what
    it showed. The traces also hold what lies round the stretch; None where nothing was measured in it.
    """

    at: NDArray[np.int64]
    humidity: NDArray[np.float64]
    temperature_c: NDArray[np.float64]
    shown_humidity: NDArray[np.float64]
    shown_temperature_c: NDArray[np.float64]
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
    """A probe with its readings, corrected and as it showed them."""

    probe: Probe
    readings: ReadingSeries
    shown: ReadingSeries


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
        self._series: dict[int, _Candidate] = {}
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
        until = max(end_at, shown_until or end_at)
        at, values = _together(humidity, temperature, start_at, until, "readings")
        _, shown = _together(humidity, temperature, start_at, until, "shown")
        return StretchSeries(
            at=at,
            humidity=values[0],
            temperature_c=values[1],
            shown_humidity=shown[0],
            shown_temperature_c=shown[1],
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
                _masked(self._read(probe), intervals, inside=True) for probe, intervals in stays.values()
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
        return [_masked(self._read(self._own), elsewhere, inside=False)]

    def _read(self, probe: Probe) -> _Candidate:
        if probe.number not in self._series:
            shown = _EMPTY
            if self._start_at <= self._end_at:
                shown = self._journal.readings.series(probe.number, self._start_at, self._end_at)
            readings = probe_corrections(self._journal, probe).corrected(shown)
            self._series[probe.number] = _Candidate(probe, readings, shown)
        return self._series[probe.number]


def _masked(candidate: _Candidate, intervals: _Intervals, *, inside: bool) -> _Candidate:
    """A probe with its readings inside any of the intervals [begin, end), or outside all of them."""
    at = candidate.shown.at
    within = np.zeros(at.size, dtype=np.bool_)
    for begin, end in intervals:
        first, stop = np.searchsorted(at, (begin, end))
        within[first:stop] = True
    keep = within if inside else ~within
    if keep.all():
        return candidate
    shown = _kept(candidate.shown, keep)
    same = candidate.readings is candidate.shown
    return _Candidate(candidate.probe, shown if same else _kept(candidate.readings, keep), shown)


def _kept(readings: ReadingSeries, keep: NDArray[np.bool_]) -> ReadingSeries:
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
    humidity: _Chosen | None, temperature: _Chosen | None, start_at: int, end_at: int, which: str
) -> tuple[NDArray[np.int64], tuple[NDArray[np.float64], NDArray[np.float64]]]:
    """Instants and both quantities of the chosen ``readings``, or of what was ``shown``, both ends included."""
    parts = []
    for chosen, quantity in ((humidity, "humidity"), (temperature, "temperature_c")):
        readings: ReadingSeries = getattr(chosen[0], which) if chosen else _EMPTY
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
