"""A journal to work on, one with an entry of every kind, and what a journal holds, to compare."""

from __future__ import annotations

import ctypes
import dataclasses
import os
import subprocess
import sys
import textwrap
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from hatchbook.journal import (
    Batch,
    BatchPhase,
    BreakOut,
    Candling,
    Channel,
    Duty,
    Egg,
    EggMass,
    Event,
    Hatching,
    Journal,
    Machine,
    NewReadings,
    OwnProgramme,
    PastBatch,
    Pen,
    PenMember,
    Probe,
    ProbeCheck,
    ProbePlacement,
    Reading,
    Removal,
    Weighing,
)
from hatchbook.trade.codes import (
    BreakOutResult,
    BreakOutSign,
    CheckMethod,
    DutyKind,
    EventKind,
    FindingCode,
    HatchMark,
    Malposition,
    PhaseKind,
    Quantity,
    RemovalReason,
)

DAY = 86_400
#: 2026-04-20 18:00 UTC, when the batch of the filled journal is set.
SET_AT = 1_776_708_000


@dataclasses.dataclass
class Clock:
    """A clock that stands until it is put forward."""

    now: float = SET_AT + 10 * DAY

    def __call__(self) -> float:
        return self.now


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "My hens.hatchbook"


@pytest.fixture
def journal(path: Path, clock: Clock) -> Iterator[Journal]:
    """An empty journal, closed at the end."""
    with Journal.create(path, time_zone="Europe/Lisbon", clock=clock) as journal:
        yield journal


@pytest.fixture
def contents() -> Callable[[Journal], dict[str, list[tuple[Any, ...]]]]:
    """What a journal holds, table by table, without its history."""
    return _contents


def _contents(journal: Journal) -> dict[str, list[tuple[Any, ...]]]:
    store = journal._store
    tables = [
        name
        for (name,) in store.rows("SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY name")
        if not name.startswith(("history_", "sqlite_"))
    ]
    return {table: sorted(store.rows(f"SELECT * FROM {table}"), key=repr) for table in tables}


@pytest.fixture
def readings_of() -> Callable[..., NewReadings]:
    """Readings as a file brings them, one a minute."""
    return _readings


def _readings(start: int, count: int, *, name: str = "logger.csv", humidity: float = 45.0) -> NewReadings:
    at = np.arange(start, start + 60 * count, 60, dtype=np.int64)
    values = humidity + np.arange(count) % 7 / 10
    temperatures = np.where(np.arange(count) % 5 == 4, np.nan, 37.5)
    rejects = [(7, "25.04.2026 07:00;;", "no value"), (9, "25.04.2026 07:", "cut off")]
    return NewReadings(
        name, f"digest of {name}", '{"separator": ";"}', count + 2, at, temperatures, values, rejects
    )


@pytest.fixture
def in_other_process() -> Callable[..., subprocess.CompletedProcess[str]]:
    """Runs a text as a program of its own, with arguments."""
    return _in_other_process


def _in_other_process(code: str, *arguments: object, **options: Any) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", textwrap.dedent(code), *map(str, arguments)],
        capture_output=True,
        text=True,
        check=False,
        **options,
    )


@pytest.fixture(scope="session")
def filled_once(tmp_path_factory: pytest.TempPathFactory) -> SimpleNamespace:
    """A closed journal with at least one entry of every kind; entering them takes its time."""
    with Journal.create(
        tmp_path_factory.mktemp("filled") / "filled.hatchbook", time_zone="Europe/Lisbon", clock=Clock()
    ) as journal:
        return _fill(journal)


@pytest.fixture
def filled(journal: Journal, filled_once: SimpleNamespace) -> SimpleNamespace:
    """The journal with at least one entry of every kind, and its history; the records by name."""
    connection = journal._store.connection
    connection.execute("ATTACH ? AS filled", (str(filled_once.journal.path),))
    with journal._store.transaction():
        connection.execute("PRAGMA defer_foreign_keys = ON")
        for (table,) in connection.execute(
            "SELECT name FROM filled.sqlite_schema WHERE type = 'table'"
        ).fetchall():
            connection.execute(f"INSERT OR REPLACE INTO {table} SELECT * FROM filled.{table}")
    connection.execute("DETACH filled")
    of = SimpleNamespace(**vars(filled_once))
    of.journal, of.eggs, of.duties, of.phases = journal, [*of.eggs], [*of.duties], [*of.phases]
    return of


def _fill(journal: Journal) -> SimpleNamespace:
    of = SimpleNamespace(journal=journal)
    of.machine = Machine("Blue one", 2, 4, altitude_m=310.0, note="kitchen")
    journal.machines.keep(of.machine, channels=2)
    of.other_machine = Machine("Old one", 1, 3)
    journal.machines.add(of.other_machine)
    of.channel = Channel(of.other_machine.uid, 1, "long", 120.0, 400.0)
    with journal.step("channel_added") as step:
        step.add(of.channel)

    journal.probes.add_to("P1", machine=of.machine.uid, from_at=SET_AT - DAY, accuracy_humidity=2.0)
    journal.probes.add_to("Room", machine=None, from_at=SET_AT - DAY)
    of.probe, of.room_probe = journal.probes.by_name("P1"), journal.probes.by_name("Room")
    of.check = ProbeCheck(
        of.probe.uid, SET_AT - DAY, Quantity.HUMIDITY, CheckMethod.SALT, 75.3, 77.0, "NaCl", 25.0
    )
    journal.probes.add_check(of.check)

    of.pen = Pen("North pen", "hen", "Sulmtaler", "N", "2026-01-10")
    journal.pens.add(of.pen)
    of.member = PenMember(of.pen.uid, "Bertha", "female", ring="N 12")
    journal.pens.add_member(of.member)
    of.programme = OwnProgramme("mine", "hen", "As my aunt does it", '{"days": 21}')
    journal.programmes.add(of.programme)

    of.batch = Batch("2026-03", "hen", of.machine.uid, SET_AT, 21.0, '{"code": "hen"}', 7.0, 14.0, "Spring")
    of.phases = [_phase(of.batch, PhaseKind.INCUBATION, 0, 18), _phase(of.batch, PhaseKind.LOCKDOWN, 18, 21)]
    of.duties = [
        Duty(DutyKind.TURN, SET_AT + DAY, of.batch.uid, 1.0, 1, 2),
        Duty(DutyKind.TURN, SET_AT + DAY + 8 * 3600, of.batch.uid, 1.33, 2, 2),
        Duty(DutyKind.CANDLE, SET_AT + 7 * DAY, of.batch.uid, 7.0),
    ]
    of.eggs = [
        Egg(
            of.batch.uid,
            number,
            1,
            1 + (number - 1) // 4,
            1 + (number - 1) % 4,
            of.pen.uid,
            marked=number < 3,
        )
        for number in range(1, 7)
    ]
    of.eggs[0] = dataclasses.replace(of.eggs[0], dam=of.member.uid, laid_on="2026-04-17", set_mass_g=61.2)
    journal.batches.set_batch(of.batch, of.phases, of.duties, of.eggs)

    of.candling = Candling(of.batch.uid, SET_AT + 7 * DAY)
    one, two, *_ = [egg.uid for egg in of.eggs]
    journal.candlings.note_findings(
        of.candling, {one: FindingCode.ALIVE, two: FindingCode.CLEAR}, SET_AT + 7 * DAY + 60
    )
    of.weighing = Weighing(of.batch.uid, SET_AT + 7 * DAY, 0.1)
    of.mass = EggMass(of.weighing.uid, one, 58.4, '{"value": 2.06, "unit": "oz"}')
    journal.weighings.note_weighing(of.weighing, [of.mass])
    of.event = Event(SET_AT + DAY, EventKind.WATER, of.machine.uid, channels_filled=1, water_ml=150.0)
    journal.events.add(of.event)
    of.batch_event = Event(SET_AT + DAY, EventKind.NOTE, batch=of.batch.uid, egg=two, text="hairline crack")
    journal.events.add(of.batch_event)
    of.hatching = Hatching(one, SET_AT + 20 * DAY, HatchMark.EXTERNAL_PIP)
    journal.hatchings.note(of.batch.uid, [of.hatching])
    of.removal = Removal(of.eggs[4].uid, SET_AT + 9 * DAY, RemovalReason.BROKEN)
    journal.removals.add(of.removal)
    of.break_out = BreakOut(two, SET_AT + 22 * DAY, BreakOutResult.LATE_DEAD, dead_day=19.0)
    journal.break_outs.keep(
        of.break_out, malpositions=[Malposition.II_HEAD_IN_SMALL_END], signs=[BreakOutSign.WET]
    )
    of.reading = Reading(of.probe.number, SET_AT + 3600, 37.6, 46.0, entered='{"value": 99.7, "unit": "F"}')
    journal.readings.add(of.reading)
    journal.imports.bring_in(of.probe, _readings(SET_AT + 2 * DAY, 40), SET_AT + 3 * DAY)
    of.run = journal.imports.all()[0]
    of.past_batch = PastBatch("1998-1", 1998, "hen", 24, clear=3, hatched=17)
    journal.past_batches.add(of.past_batch)
    journal.settings.set_season_first_month(11)
    return of


def _phase(batch: Batch, kind: PhaseKind, from_day: float, to_day: float) -> BatchPhase:
    aim = 45.0 if kind is PhaseKind.INCUBATION else 65.0
    return BatchPhase(batch.uid, kind, from_day, to_day, aim - 5, aim, aim + 5, 37.2, 37.5, 37.8, 3)


@pytest.fixture
def every_kind() -> dict[str, type[Any]]:
    """All record classes by their kind."""
    from hatchbook.journal import BreakOutMark, Finding, ImportRun
    from hatchbook.journal.imports import ImportReject
    from hatchbook.journal.settings import Setting

    classes = [
        Batch,
        BatchPhase,
        BreakOut,
        BreakOutMark,
        Candling,
        Channel,
        Duty,
        Egg,
        EggMass,
        Event,
        Finding,
    ]
    classes += [Hatching, ImportReject, ImportRun, Machine, OwnProgramme, PastBatch, Pen, PenMember, Probe]
    classes += [ProbeCheck, ProbePlacement, Reading, Removal, Setting, Weighing]
    return {record_class.KIND: record_class for record_class in classes}


@pytest.fixture
def as_ordinary_user() -> Callable[[], AbstractContextManager[None]]:
    """Within it, the rights of files hold for root as well."""
    if os.name != "posix" or not Path("/proc/self/status").exists():
        pytest.skip("the rights of files are tested on Linux")
    return _as_ordinary_user


@contextmanager
def _as_ordinary_user() -> Iterator[None]:
    if os.geteuid() != 0:
        yield
        return
    # capabilities(7): 1 is CAP_DAC_OVERRIDE, 2 is CAP_DAC_READ_SEARCH; of this thread alone.
    libc = ctypes.CDLL(None, use_errno=True)
    header = (ctypes.c_uint32 * 2)(0x20080522, 0)
    rights = (ctypes.c_uint32 * 6)()
    assert libc.capget(header, rights) == 0
    effective = rights[0]
    rights[0] = effective & ~0b110
    assert libc.capset(header, rights) == 0
    try:
        yield
    finally:
        rights[0] = effective
        assert libc.capset(header, rights) == 0
