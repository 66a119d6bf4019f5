"""Writes the whole demo: every record and reading up to the present, and the last few things done apart."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, time, timedelta
from pathlib import PurePath

import numpy as np
from numpy.typing import NDArray

from hatchbook.exchange.demo.batch_run import BatchRun, programme_of, run_batch
from hatchbook.exchange.demo.candled import write_candlings
from hatchbook.exchange.demo.chance import chance, uids
from hatchbook.exchange.demo.dates import DemoDates
from hatchbook.exchange.demo.diary import Diary, begin_diary
from hatchbook.exchange.demo.dry_run import with_dry_run
from hatchbook.exchange.demo.hatched import write_break_outs, write_hatch
from hatchbook.exchange.demo.holding import Holding, make_holding
from hatchbook.exchange.demo.logged_events import write_events
from hatchbook.exchange.demo.reading_out import brought_in, by_hand, logged, logged_in_room
from hatchbook.exchange.demo.room import Room
from hatchbook.exchange.demo.scenario import PastStory, Scenario
from hatchbook.exchange.demo.weighed import write_weighings
from hatchbook.journal import Duty, Event, ImportRun, PastBatch, ReadingSeries
from hatchbook.journal.filling import FilledReadings
from hatchbook.journal.table import Record
from hatchbook.trade.codes import DutyKind, EggSource
from hatchbook.trade.instants import DAY_S, to_local
from hatchbook.trade.programme import Programme

_STREAM = 9003
_ROOM = "room"
_ROOM_LOGGED_SEASONS = range(-2, 1)
_ROOM_EVERY_S = {0: 1800, -1: 3600, -2: 3600}
_LAST_IMPORT_BEFORE_NOW_S = 1500


@dataclass(frozen=True)
class Deed:
    """Something done of late that can still be undone: what it adds, and the duty that it ticked."""

    at: int
    code: str
    batch: str | None
    details: dict[str, object]
    added: tuple[Record, ...]
    ticked: Duty | None = None


@dataclass
class Written:
    """What the journal is filled with, and the deeds that come after, oldest first."""

    records: list[Record] = field(default_factory=list)
    readings: list[FilledReadings] = field(default_factory=list)
    deeds: list[Deed] = field(default_factory=list)


class DemoWriter:
    """Lets the story run and writes it down."""

    def __init__(
        self, scenario: Scenario, programmes: dict[str, Programme], dates: DemoDates, seed: int
    ) -> None:
        self._scenario = scenario
        self._programmes = programmes
        self._dates = dates
        self._seed = seed
        self._holding: Holding = make_holding(scenario, dates, seed)
        self._rng = chance(seed, _STREAM)
        self._uid = uids(self._rng)
        self._rooms: dict[tuple[int, int], Room] = {}
        self._imports: list[tuple[ImportRun, ReadingSeries]] = []
        self._written = Written(list(self._holding.records))

    def write(self) -> Written:
        """All of it."""
        written = self._written
        runs = [self._run(number) for number in range(len(self._scenario.batches))]
        labels = self._labels(runs)
        keyed: dict[str, str] = {}
        for position, run in enumerate(runs):
            diary = self._diary(run, labels["batch", position])
            keyed[run.story.key] = diary.batch.uid
            self._readings_of(run)
        self._room_readings(runs)
        written.records += [
            self._past(one, labels["past", position])
            for position, one in enumerate(self._scenario.past_batches)
        ]
        written.records += list(self._duties(keyed))
        for number, (run_, series) in enumerate(sorted(self._imports, key=lambda one: one[0].at), 1):
            written.records.append(replace(run_, number=number))
            written.readings.append(FilledReadings(series, number))
        written.deeds.sort(key=lambda deed: deed.at)
        return written

    # ---------------------------------------------------------------- batches

    def _run(self, number: int) -> BatchRun:
        story = self._scenario.batches[number]
        machine = next(one for one in self._scenario.machines if one.key == story.machine)
        set_at = self._dates.set_at(story.set)
        return run_batch(
            story,
            machine,
            programme_of(story, machine, self._programmes),
            self._scenario.pens,
            self._room(set_at),
            self._dates,
            self._seed,
            number,
        )

    def _season_back(self, at: int) -> int:
        return min(self._dates.season_on(self._dates.local_date(at)) - self._dates.season, 0)

    def _room(self, at: int) -> Room:
        """The room round a batch; of past seasons by the calendar, of the present one by the time before now."""
        back, year = self._season_back(at), self._dates.local_date(at).year
        key = (back, 0 if back == 0 else year)
        if key not in self._rooms:
            origin_at = self._dates.now if back == 0 else self._dates.instant(date(year, 1, 1), time(0))
            offset = to_local(at, self._dates.zone).utcoffset() or timedelta()
            self._rooms[key] = Room(
                self._scenario.room, self._seed, back, origin_at, round(offset.total_seconds())
            )
        return self._rooms[key]

    def _labels(self, runs: Sequence[BatchRun]) -> dict[tuple[str, int], str]:
        """Labels by season and order: 26-05 is the fifth batch of the season 2026."""
        entries = [
            (self._dates.local_date(run.set_at), "batch", position) for position, run in enumerate(runs)
        ]
        entries += [
            (self._dates.in_season(one.season, one.month, one.day), "past", position)
            for position, one in enumerate(self._scenario.past_batches)
        ]
        counted: dict[int, int] = {}
        labels = {}
        for on, kind, position in sorted(entries):
            season = self._dates.season_on(on)
            counted[season] = counted.get(season, 0) + 1
            labels[kind, position] = f"{season % 100:02d}-{counted[season]:02d}"
        return labels

    def _diary(self, run: BatchRun, label: str) -> Diary:
        diary = begin_diary(run, label, self._holding, self._dates)
        write_candlings(diary)
        weighings = write_weighings(diary)
        fillings = write_events(diary, self._room(run.set_at))
        write_hatch(diary)
        write_break_outs(diary)
        if run.running:
            self._set_deeds_apart(diary, weighings, fillings)
        for weighing in weighings:
            diary.records += weighing
        self._written.records += [diary.batch, *diary.eggs, *diary.duties, *diary.records, *fillings]
        return diary

    def _set_deeds_apart(self, diary: Diary, weighings: list[list[Record]], fillings: list[Event]) -> None:
        """Takes the last filling and, of marked eggs, the last weighing out of what is filled in."""
        if fillings:
            event = fillings.pop()
            details: dict[str, object] = {"kind": str(event.kind), "channels_filled": event.channels_filled}
            self._written.deeds.append(Deed(event.at, "event_added", None, details, (event,)))
        done = [one for one in diary.duties if one.kind is DutyKind.WEIGH and one.done_at is not None]
        if weighings and done[-1].ordinal > 1:
            masses = weighings.pop()
            duty = done[-1]
            diary.duties[diary.duties.index(duty)] = replace(duty, done_at=None)
            self._written.deeds.append(
                Deed(
                    duty.done_at or duty.due_at,
                    "weighed",
                    diary.batch.uid,
                    {"count": len(masses) - 1},
                    tuple(masses),
                    duty,
                )
            )

    # ---------------------------------------------------------------- readings

    def _readings_of(self, run: BatchRun) -> None:
        if run.planned:
            return
        plan = next(one for one in self._scenario.probes if one.place == run.machine.key)
        if not run.story.every_min:
            self._written.records += by_hand(run, plan, self._dates, self._holding)
            return
        probe = self._holding.probes[plan.key]
        series = logged(run, plan, self._dates, probe.number, self._holding.begun_at)
        series = with_dry_run(run, plan, self._room(run.set_at), series, self._holding.begun_at, self._seed)
        self._bring_in(plan.key, series, self._brought_by(run.closed_at))

    def _brought_by(self, closed_at: int | None) -> int:
        latest = self._dates.now - _LAST_IMPORT_BEFORE_NOW_S
        return latest if closed_at is None else min(closed_at + 1800, latest)

    def _bring_in(self, probe: str, series: ReadingSeries, by: int) -> None:
        record = self._holding.probes[probe]
        name = PurePath(record.name.lower().replace(" ", "-")).with_suffix(".csv").name
        self._imports += brought_in(series, probe=record.uid, file_name=name, by=by, uid=self._uid)

    def _room_readings(self, runs: Iterable[BatchRun]) -> None:
        plan = next(one for one in self._scenario.probes if one.place == _ROOM)
        number = self._holding.probes[plan.key].number
        for back in _ROOM_LOGGED_SEASONS:
            held = [run for run in runs if not run.planned and self._season_back(run.set_at) == back]
            for first, last in _joined((run.set_at - DAY_S, run.until) for run in held):
                every_s = _ROOM_EVERY_S[back]
                at: NDArray[np.int64] = np.arange(
                    -(-first // every_s) * every_s, last, every_s, dtype=np.int64
                )
                room = self._room(held[0].set_at) if back == 0 else self._room(last)
                series = logged_in_room(room, plan, number, at, self._holding.begun_at, self._rng)
                self._bring_in(plan.key, series, self._brought_by(last if last < self._dates.now else None))

    # ---------------------------------------------------------------- the rest

    def _past(self, past: PastStory, label: str) -> PastBatch:
        pen = self._holding.pens.get(past.pen)
        return PastBatch(
            label=label,
            season=self._dates.season + past.season,
            species=self._programmes[past.programme].species,
            name=past.name,
            set_on=str(self._dates.in_season(past.season, past.month, past.day)),
            breed="" if pen is None else pen.breed,
            pen=None if pen is None else pen.uid,
            machine=self._holding.machines[past.machine].uid,
            programme_code=past.programme,
            source=EggSource.OWN,
            note=past.note,
            uid=next(self._uid),
            **past.counts,
        )

    def _duties(self, batches: dict[str, str]) -> Iterator[Duty]:
        for one in self._scenario.duties:
            due_at = self._dates.instant(self._dates.today + timedelta(days=one.days), one.at)
            done_at = due_at + 900 if one.done and due_at + 900 <= self._dates.now else None
            yield Duty(
                DutyKind.OTHER,
                due_at,
                batches.get(one.batch) if one.batch else None,
                text=one.text,
                done_at=done_at,
                uid=next(self._uid),
            )


def _joined(stretches: Iterable[tuple[int, int]]) -> list[tuple[int, int]]:
    """Stretches that touch or overlap as one, in the order of time."""
    joined: list[tuple[int, int]] = []
    for begin, end in sorted(stretches):
        if joined and begin <= joined[-1][1]:
            joined[-1] = (joined[-1][0], max(end, joined[-1][1]))
        else:
            joined.append((begin, end))
    return joined
