"""The history of a machine as its guide needs it: settled days, top-ups, dry runs, the room's air."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Sequence

import numpy as np

from hatchbook.figures.course import Course, Stretch
from hatchbook.figures.guide_records import USUAL_MACHINE_C, FallenDry, MachineHistory, SettledDay
from hatchbook.figures.guide_settings import WATER_KNOWN_BEFORE_S, setting_line
from hatchbook.figures.room import RoomSeries, room_series
from hatchbook.figures.series import StretchSeries, batch_series
from hatchbook.journal import Batch, Event, Journal
from hatchbook.statistics.averages import Trace
from hatchbook.statistics.drying import Dried, fell_dry
from hatchbook.statistics.moisture import pressure_kpa, saturation_kpa, vapour_kpa
from hatchbook.statistics.settled import Disturbance, cut_to_days, settled_windows
from hatchbook.statistics.water_guide import TopUps
from hatchbook.statistics.water_model import FloatArray, IntArray, eggs_rate
from hatchbook.statistics.water_priors import ROOM_KPA, USUAL_EGG_G
from hatchbook.trade.codes import EventKind, PhaseKind
from hatchbook.trade.instants import DAY_S

Progress = Callable[[float], None]

NEWEST_BATCHES = 30
"""So many batches of a machine are looked at, the newest: its seals and fans are no longer what they were."""
SHORTEST_S = 4 * 3600
SET_SETTLES_S = 6 * 3600
"""Cold eggs take so long to come to the machine's warmth (our choice)."""
_LEAST_KNOWN_S = 3 * 3600
_ROOM_KNOWN = 0.5
_SHORTEST_TOP_UP_S, _LONGEST_TOP_UP_S = DAY_S // 2, 6 * DAY_S
_HOUR_S = 3600
_DRY_RUN_S, _DRY_RUN_BEFORE_S = 3600, 2 * DAY_S
_DRY_RUN_WORTH_H = 12.0
"""An hour without anything that moves the air tells as much as half a day (our choice)."""
_WARM_C = 30.0


def machine_history(journal: Journal, uid: str, now: int, progress: Progress | None = None) -> MachineHistory:
    """Reads the history of a machine; ``progress`` is told the share done, and may raise to end it.

    Raises:
        RecordMissingError: there is no such machine.
    """
    reader = _Reader(journal, uid, now)
    batches = [batch for batch in journal.batches.with_phase_in(uid) if batch.set_at <= now]
    batches = sorted(batches, key=lambda batch: batch.set_at)[-NEWEST_BATCHES:]
    for position, batch in enumerate(batches):
        if progress is not None:
            progress(position / len(batches))
        reader.read(position, batch)
    reader.read_dry_runs(batches)
    return MachineHistory(
        machine=reader.machine,
        channels=reader.channels,
        line=reader.line,
        batches=tuple(batches),
        days=tuple(reader.days),
        top_ups=reader.top_ups(),
        dry_runs=tuple(reader.dry_runs),
        fallen_dry=tuple(reader.fallen_dry),
        events=reader.events,
        room=tuple(reader.room),
    )


def egg_load(journal: Journal, batch: Batch, altitude_m: float) -> float:
    """What the eggs of a batch give off, g an hour and kPa; unweighed ones count as a usual egg."""
    masses = [egg.set_mass_g or egg.laid_mass_g for egg in journal.eggs.of_batch(batch.uid)]
    known = [mass for mass in masses if mass is not None]
    usual = sum(known) / len(known) if known else USUAL_EGG_G
    return eggs_rate(len(masses) * usual, float(pressure_kpa(altitude_m)))


class _Reader:
    """Goes through the batches of a machine and gathers."""

    def __init__(self, journal: Journal, uid: str, now: int) -> None:
        self._journal, self._now = journal, now
        self.machine = journal.machines.get(uid)
        self.channels = tuple(journal.machines.channels(uid))
        self.events = tuple(journal.events.of_machine(uid, 0, now + 1))
        self.line = setting_line(self.events, len(self.channels))
        self.days: list[SettledDay] = []
        self.dry_runs: list[tuple[Event, float, float]] = []
        self.fallen_dry: list[FallenDry] = []
        self.room: list[RoomSeries] = []
        self._ups: list[tuple[float, float, float, float, float]] = []
        self._stretch = -1
        self._last: tuple[int, int, float] | None = None
        self._taken_until = 0
        self._loads: list[tuple[int, int, float]] = []

    def read(self, position: int, batch: Batch) -> None:
        """Reads one batch; those before it in the same machine have been read."""
        course = Course(self._journal, batch.uid, self._now)
        load = egg_load(self._journal, batch, self.machine.altitude_m)
        here = [
            (stretch, series)
            for stretch, series in zip(course.stretches, course.series, strict=True)
            if course.machine_of(stretch.phase) == self.machine.uid and stretch.elapsed_at > stretch.start_at
        ]
        if not here:
            return
        begin, end = here[0][0].start_at, here[-1][0].elapsed_at
        self._loads.append((begin, end, load))
        room = room_series(self._journal, begin - DAY_S, end)
        self.room.append(room)
        misted = [
            Disturbance(event.at, event.at) for event in course.events if event.kind is EventKind.MISTED
        ]
        for stretch, series in here:
            if series is not None and series.humidity_trace is not None:
                self._read_stretch(position, begin, stretch, series, room, misted)
        self._taken_until = max(self._taken_until, end)

    def _read_stretch(
        self,
        position: int,
        set_at: int,
        stretch: Stretch,
        series: StretchSeries,
        room: RoomSeries,
        misted: list[Disturbance],
    ) -> None:
        start, end = max(stretch.start_at, self._taken_until), stretch.elapsed_at
        if start >= end or series.humidity_trace is None:
            return
        dry = self._read_fallen_dry(start, end, series, room)
        disturbances = [*self.line.disturbances, *misted, *dry, Disturbance(set_at, set_at, SET_SETTLES_S)]
        pieces = cut_to_days(settled_windows(start, end, disturbances), SHORTEST_S)
        if not pieces:
            return
        begins, ends = np.array(pieces, np.int64).T
        humidity, known_s = series.humidity_trace.window_means(begins, ends)
        temperature = np.full(len(pieces), stretch.phase.temperature_aim_c)
        if series.temperature_trace is not None:
            read = series.temperature_trace.window_means(begins, ends)[0]
            temperature = np.where(np.isnan(read), temperature, read)
        room_kpa = _room_means(room, begins, ends)
        for place, (begin, until) in enumerate(pieces):
            setting = self.line.at(begin)
            if setting is None or setting.channels is None or setting.vent is None:
                continue
            if setting.at < set_at - WATER_KNOWN_BEFORE_S and not self._watered_since(set_at, begin):
                continue
            if known_s[place] < _LEAST_KNOWN_S or temperature[place] < _WARM_C:
                continue
            middle = (begin + until) // 2
            self.days.append(
                SettledDay(
                    begin=begin,
                    end=until,
                    channels=setting.channels,
                    vent=setting.vent,
                    humidity=float(humidity[place]),
                    temperature_c=float(temperature[place]),
                    room_kpa=float(room_kpa[place]),
                    eggs_g_h_kpa=sum(load for first, last, load in self._loads if first <= middle < last),
                    hatching=stretch.phase.kind is PhaseKind.LOCKDOWN,
                    known_h=float(known_s[place]) / 3600,
                    batch=position,
                    stretch=self._stretch_of(position, setting.channels, setting.vent),
                )
            )
        self._read_top_ups(start, end, series)

    def _read_fallen_dry(
        self, start: int, end: int, series: StretchSeries, room: RoomSeries
    ) -> list[Disturbance]:
        """Where channels had no water any more, though the journal says that they are filled."""
        kinds = (EventKind.WATER, EventKind.VENT)
        moments = [event for event in self.events if event.kind in kinds and start <= event.at < end]
        found = []
        untils = [*(one.at for one in moments[1:]), end]
        for event, until in zip(moments, untils, strict=False):
            setting = self.line.at(event.at)
            if event.kind is not EventKind.WATER or setting is None or not setting.channels:
                continue
            kpa = float(_room_means(room, np.array([event.at]), np.array([until]))[0])
            room_only = 100 * (ROOM_KPA if np.isnan(kpa) else kpa) / float(saturation_kpa(USUAL_MACHINE_C))
            trace = series.humidity_trace
            dried = None if trace is None else fell_dry(trace, event.at, until, room_only)
            if dried is not None:
                found.append(dried.disturbance)
                humidity, warm = self._while_wet(series, dried)
                days = (dried.at - dried.filled_at) / DAY_S
                self.fallen_dry.append(FallenDry(setting.channels, days, humidity, warm))
        return found

    @staticmethod
    def _while_wet(series: StretchSeries, dried: Dried) -> tuple[float, float]:
        until = dried.disturbance.at
        warm = _mean(series.temperature_trace, dried.filled_at, until)
        return _mean(series.humidity_trace, dried.filled_at, until), (
            USUAL_MACHINE_C if np.isnan(warm) else warm
        )

    def _watered_since(self, set_at: int, until: int) -> bool:
        since = set_at - WATER_KNOWN_BEFORE_S
        return any(event.kind is EventKind.WATER and since <= event.at <= until for event in self.events)

    def _stretch_of(self, position: int, channels: int, vent: float) -> int:
        if self._last != (position, channels, vent):
            self._last = (position, channels, vent)
            self._stretch += 1
        return self._stretch

    def _read_top_ups(self, start: int, end: int, series: StretchSeries) -> None:
        watered = [
            event for event in self.events if event.kind is EventKind.WATER and start <= event.at < end
        ]
        for before, event in itertools.pairwise(watered):
            if event.water_ml and _SHORTEST_TOP_UP_S <= event.at - before.at <= _LONGEST_TOP_UP_S:
                self._add_top_up(before.at, event, series)

    def _add_top_up(self, since: int, event: Event, series: StretchSeries) -> None:
        stood, now = self.line.at(since), self.line.at(event.at)
        if stood is None or now is None or not stood.channels or stood.channels != now.channels:
            return
        humidity = _mean(series.humidity_trace, since, event.at)
        temperature_c = _mean(series.temperature_trace, since, event.at)
        if event.water_ml and not np.isnan(humidity):
            warm = USUAL_MACHINE_C if np.isnan(temperature_c) else temperature_c
            hours = (event.at - since) / 3600
            self._ups.append((event.water_ml, hours, float(stood.channels), humidity, warm))

    def top_ups(self) -> TopUps:
        """What was measured when the channels were filled up."""
        columns = np.array(self._ups, dtype=np.float64).reshape(len(self._ups), 5).T
        return TopUps(*columns)

    def read_dry_runs(self, batches: Sequence[Batch]) -> None:
        """The runs without water and eggs: the room's air alone. One before a batch shares the room with it."""
        for number, event in enumerate(event for event in self.events if event.kind is EventKind.DRY_RUN):
            until = min(event.ends_at or event.at + _DRY_RUN_S, self._now)
            following = [
                position
                for position, batch in enumerate(batches)
                if event.at <= batch.set_at < event.at + _DRY_RUN_BEFORE_S
            ]
            if following:
                until = min(until, batches[following[0]].set_at)
            # By then it is warm.
            begin = event.at + (until - event.at) // 2
            shown = self._shown_by_machine(begin, until) if begin < until else None
            if shown is None:
                continue
            self.dry_runs.append((event, *shown))
            room = room_series(self._journal, begin - 2 * _HOUR_S, min(until + 2 * _HOUR_S, self._now))
            self.room.append(room)
            room_kpa = float(_room_means(room, np.array([begin]), np.array([until]))[0])
            self._stretch += 1
            self.days.append(
                SettledDay(
                    begin=begin,
                    end=until,
                    channels=0,
                    vent=0.5,
                    humidity=shown[0],
                    temperature_c=shown[1],
                    room_kpa=room_kpa,
                    eggs_g_h_kpa=0.0,
                    hatching=False,
                    known_h=_DRY_RUN_WORTH_H,
                    batch=following[0] if following else len(batches) + number,
                    stretch=self._stretch,
                )
            )

    def _shown_by_machine(self, begin: int, until: int) -> tuple[float, float] | None:
        """The mean humidity and temperature of the probe that hung in the machine, once it was warm."""
        for stay in self._journal.probes.stays(self.machine.uid, begin, until + 1):
            readings = batch_series(self._journal, stay.probe, stay.start_at, stay.end_at)
            known = ~(np.isnan(readings.humidity) | np.isnan(readings.temperature_c))
            known &= readings.temperature_c >= _WARM_C
            if known.any():
                return float(readings.humidity[known].mean()), float(readings.temperature_c[known].mean())
        return None


def room_vapour(room: RoomSeries) -> FloatArray:
    """The vapour pressure of the room hour by hour, kPa; nan where unknown."""
    return np.asarray(vapour_kpa(room.temperature_c, np.clip(room.humidity, 0, 100)))


def _room_means(room: RoomSeries, begins: IntArray, ends: IntArray) -> FloatArray:
    """The room's vapour over windows, kPa; nan where less than half of the hours is known."""
    vapour = room_vapour(room)
    means = np.full(len(begins), np.nan)
    for place, (begin, end) in enumerate(zip(begins.tolist(), ends.tolist(), strict=True)):
        first, stop = np.searchsorted(room.at, (begin - _HOUR_S, end))
        part = vapour[first:stop]
        known = part[~np.isnan(part)]
        if known.size and known.size >= _ROOM_KNOWN * max((end - begin) / 3600, 1):
            means[place] = float(known.mean())
    return means


def _mean(trace: Trace | None, start: int, end: int) -> float:
    return float("nan") if trace is None else trace.average(start, end).mean
