"""Opening a batch: its figures and curves against reading its rows plainly, in a small journal and in a large one.

Also the batch list of a journal with a thousand batches, which is only told.
"""

from __future__ import annotations

import sqlite3
import tempfile
import time
from contextlib import closing
from pathlib import Path

import numpy as np
from bench_chart import Desk
from hatchbook.figures import batch_view, journal_lines, overview
from hatchbook.journal import Batch, BatchPhase, Candling, Duty, Egg, Event, Hatching, Journal, Machine
from hatchbook.trade.codes import DutyKind, EventKind, FindingCode, HatchMark, PhaseKind
from result import Result, best_of, seconds

DAY = 86_400
SET_AT = 1_777_917_600
#: One reading a minute: 30,000 of them.
NOW = SET_AT + 30_000 * 60
LARGE = 10_000_000
EARLIER_BATCHES = 40
ROUNDS = 7
READ = "SELECT at, temperature_c, humidity FROM reading WHERE probe = 1 AND at BETWEEN ? AND ?"


def set_batch(journal: Journal, machine: Machine, label: str, set_at: int, eggs: int) -> Batch:
    """A hen batch with its plan, candled and turned."""
    batch = Batch(label, "hen", machine.uid, set_at, 21.0, "{}", 7.0, 14.0)
    temperature = (37.2, 37.5, 37.8)
    phases = [
        BatchPhase(batch.uid, PhaseKind.INCUBATION, 0.0, 18.0, 40.0, 45.0, 50.0, *temperature, 3),
        BatchPhase(batch.uid, PhaseKind.LOCKDOWN, 18.0, 21.0, 60.0, 65.0, 70.0, *temperature),
    ]
    turns = [
        Duty(DutyKind.TURN, set_at + hour * 3600, batch.uid, hour / 24, done_at=set_at + hour * 3600)
        for hour in range(8, 18 * 24, 8)
    ]
    laid = [Egg(batch.uid, number, set_mass_g=60.0) for number in range(1, eggs + 1)]
    journal.batches.set_batch(batch, phases, turns, laid)
    for day in (7, 14, 18):
        at = set_at + day * DAY
        journal.candlings.note_findings(
            Candling(batch.uid, at), {egg.uid: FindingCode.ALIVE for egg in laid}, at
        )
    return batch


def insert_readings(journal: Journal, probe: int, first_at: int, count: int) -> None:
    """One reading a minute, without history."""
    store = journal._store
    with store.transaction():
        store.write(
            "WITH RECURSIVE n (i) AS (SELECT 0 UNION ALL SELECT i + 1 FROM n WHERE i + 1 < ?) "
            "INSERT INTO reading (probe, at, temperature_c, humidity) "
            "SELECT ?, ? + 60 * i, 37.5 + (i % 13) / 50.0, 45.0 + (i % 29) / 10.0 FROM n",
            (count, probe, first_at),
        )


def small_journal(folder: Path) -> Path:
    """A journal with one machine, some earlier batches in it, and one batch with 30,000 readings."""
    path = folder / "journal.hatchbook"
    with Journal.create(path, time_zone="Europe/Lisbon") as journal:
        machine = Machine("Blue one", 6, 7)
        journal.machines.add(machine)
        for name in ("P1", "P2"):
            place = machine.uid if name == "P1" else None
            journal.probes.add_to(name, machine=place, from_at=SET_AT - 9000 * DAY)
        for number in range(EARLIER_BATCHES):
            batch = set_batch(journal, machine, f"{number:02}", SET_AT - (number + 1) * 40 * DAY, 12)
            journal.batches.close(batch, batch.set_at + 22 * DAY)
        set_batch(journal, machine, "now", SET_AT, 42)
        for day in range(0, 20, 2):
            journal.events.add(
                Event(SET_AT + day * DAY, EventKind.WATER, machine.uid, channels_filled=day % 3)
            )
        insert_readings(journal, 1, SET_AT, 30_001)
    return path


def grow(path: Path) -> None:
    """Adds readings up to ten million: of the same probe in the years before, and of the other one."""
    with Journal.open(path) as journal:
        insert_readings(journal, 1, SET_AT - LARGE // 2 * 60, LARGE // 2 - 30_001)
        insert_readings(journal, 2, SET_AT - LARGE // 4 * 60, LARGE // 2)


def plain_read(path: Path) -> float:
    """The batch's rows by sqlite3 alone, into numpy."""
    with closing(sqlite3.connect(path)) as connection:

        def read() -> None:
            table = np.array(connection.execute(READ, (SET_AT, NOW)).fetchall(), dtype=np.float64)
            assert table.shape == (30_001, 3)

        return seconds(read)


def opened(path: Path) -> float:
    """Figures and curves of the batch."""
    with Journal.open(path, read_only=True) as journal:
        batch = journal.batches.by_label("now")
        assert batch is not None
        uid = batch.uid

        def view() -> None:
            figures, curves = batch_view(journal, uid, NOW)
            assert curves.at.size == 30_001
            assert figures.phases[1].hold is not None

        return seconds(view)


def opened_and_painted(path: Path, desk: Desk) -> float:
    """Figures and curves of the batch, and its first painted chart in a window that is there."""
    with Journal.open(path, read_only=True) as journal:
        batch = journal.batches.by_label("now")
        assert batch is not None
        began = time.perf_counter()
        figures, curves = batch_view(journal, batch.uid, NOW)
        read_s = time.perf_counter() - began
    return read_s + desk.painted(figures, curves)


def lines(path: Path) -> float:
    """The journal lines of the batch."""
    with Journal.open(path, read_only=True) as journal:
        batch = journal.batches.by_label("now")
        assert batch is not None
        return seconds(lambda: journal_lines(journal, batch.uid, NOW))


def many_batches(folder: Path) -> list[float]:
    """The batch list of 1,000 batches with 40,000 eggs: the first time, again, and after a change."""
    with Journal.create(folder / "many.hatchbook") as journal:
        machine = Machine("Blue one", 6, 7)
        journal.machines.add(machine)
        batches = [
            set_batch(journal, machine, f"{number:04}", SET_AT - number * 5 * DAY, 40)
            for number in range(1000)
        ]
        for batch in batches:
            eggs = [uid for _, uid in journal.eggs.uids([batch.uid])]
            at = batch.set_at + 21 * DAY
            journal.hatchings.note(batch.uid, [Hatching(egg, at, HatchMark.HATCHED) for egg in eggs[:30]])
        times = [seconds(lambda: overview(journal, SET_AT)) for _ in range(2)]
        journal.batches.close(batches[500], SET_AT)
        return [*times, seconds(lambda: overview(journal, SET_AT))]


def run() -> list[Result]:
    """A batch in a small journal and in a large one."""
    desk = Desk()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        path = small_journal(folder)

        def measured() -> list[float]:
            return best_of(
                ROUNDS,
                lambda: plain_read(path),
                lambda: opened(path),
                lambda: opened_and_painted(path, desk),
                lambda: lines(path),
            )

        reference, small, painted, small_lines = measured()
        grow(path)
        large_reference, large, large_painted, large_lines = measured()
        first, again, changed = many_batches(folder)
    desk.close()
    return [
        Result("figures and first painted chart of 30,000 readings", painted, reference, 6.0),
        Result("the same in a journal of 10,000,000 readings", large_painted, large_reference, 6.0),
        Result("figures and curves of 30,000 readings / reading the rows", small, reference, 6.0),
        Result("these in a journal of 10,000,000 readings", large, large_reference, 6.0),
        Result("in the large journal / in the small one", large, small, 1.5),
        Result("journal lines of that batch / reading the rows", small_lines, reference),
        Result("journal lines in the large journal / in the small one", large_lines, small_lines, 1.5),
        Result("batch list of 1,000 batches, first / again", first, again),
        Result("batch list of 1,000 batches, one changed / again", changed, again),
    ]
