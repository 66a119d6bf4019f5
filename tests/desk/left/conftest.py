"""A journal with seasons of batches, and the left column over it, on an afternoon in May."""

from __future__ import annotations

import dataclasses
import shutil
from collections.abc import Callable, Iterator
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from hatchbook.desk.actions import Actions
from hatchbook.desk.context import DeskContext
from hatchbook.desk.door import Door
from hatchbook.desk.left.column import LeftColumn
from hatchbook.desk.settings import DeskSettings
from hatchbook.desk.tasks import InlineWorker
from hatchbook.desk.theme.dress import ENTRY_CLASSES
from hatchbook.desk.theme.theme import SchemeChoice, Theme, current_theme
from hatchbook.journal import (
    Batch,
    Candling,
    Duty,
    Egg,
    Journal,
    Machine,
    PastBatch,
    Pen,
    plan_records,
)
from hatchbook.trade.codes import DutyKind, FindingCode, HatchMark
from hatchbook.trade.instants import DAY_S
from hatchbook.trade.plan import plan_batch
from hatchbook.trade.programmes import programmes_of
from PySide6.QtCore import QObject
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

ZONE = ZoneInfo("Europe/Lisbon")


def at(year: int, month: int, day: int, hour: int = 9, minute: int = 0) -> int:
    """An instant by the clock on the wall."""
    return int(datetime(year, month, day, hour, minute, tzinfo=ZONE).timestamp())


NOW = at(2026, 5, 14, 14, 10)


@dataclasses.dataclass
class Clock:
    """A clock that stands until it is put forward."""

    now: float = NOW

    def __call__(self) -> float:
        return self.now


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def theme(qapp: QApplication) -> Iterator[Theme]:
    """The application's theme, on light; the application is undressed afterwards."""
    theme = current_theme()
    theme.choose(SchemeChoice.LIGHT)
    theme.apply(qapp)
    yield theme
    theme.choose(SchemeChoice.SYSTEM)
    qapp.setStyleSheet("")
    qapp.setPalette(QPalette())
    for name in ENTRY_CLASSES:
        qapp.setPalette(QPalette(), name)


@pytest.fixture(scope="session")
def filled_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The filled journal, closed; made once, since filling it takes a while."""
    path = tmp_path_factory.mktemp("left") / "Lower yard.hatchbook"
    with Journal.create(path, time_zone=ZONE.key, clock=Clock()) as journal:
        fill(journal)
    return path


@pytest.fixture
def journal_file(tmp_path: Path, filled_file: Path) -> Path:
    """A copy of the filled journal for this test alone."""
    return shutil.copy(filled_file, tmp_path / filled_file.name)


@pytest.fixture
def context(qapp: QApplication, journal_file: Path, clock: Clock) -> Iterator[DeskContext]:
    """The context over the filled journal."""
    context = DeskContext(Door(clock), InlineWorker(), DeskSettings())
    context.door.take(Journal.open(journal_file, clock=clock))
    context.choose_day(context.today())
    yield context
    context.door.take(None)


@pytest.fixture
def actions(qapp: QApplication) -> Iterator[Actions]:
    """The window's actions, not connected to anything."""
    parent = QObject()
    actions = Actions(parent)
    yield actions
    parent.deleteLater()


@pytest.fixture
def column(qtbot: QtBot, theme: Theme, context: DeskContext, actions: Actions) -> LeftColumn:
    """The left column as it stands in a window of 1360 × 860, on the running batch."""
    column = LeftColumn(context, actions)
    qtbot.addWidget(column)
    column.resize(276, 769)
    context.choose_batch(column.first_batch)
    column.show()
    return column


@pytest.fixture
def uid_of(context: DeskContext) -> Callable[[str], str]:
    """The uid of a batch by its label."""

    def find(label: str) -> str:
        batch = context.door.journal.batches.by_label(label)
        assert batch is not None
        return batch.uid

    return find


# -------------------------------------------------------------------- what the journal holds


def fill(journal: Journal) -> None:
    """Two running batches, a planned one, finished ones of two seasons, one from paper, a duty of one's own."""
    machine = Machine("Dairy machine", tray_rows=8, tray_columns=6)
    journal.machines.add(machine)
    orchard, brook = Pen("Orchard pen"), Pen("Brook pen")
    journal.pens.add(orchard)
    journal.pens.add(brook)

    running = set_batch(journal, machine, "26-05", "Orchard hens", "hen", at(2026, 5, 3), 36, orchard)
    look = Candling(running.uid, at(2026, 5, 10, 20), ended_at=at(2026, 5, 10, 20, 20))
    codes = [FindingCode.ALIVE] * 31 + [FindingCode.UNSURE, FindingCode.EARLY_DEAD] + [FindingCode.CLEAR] * 3
    eggs = journal.eggs.of_batch(running.uid)
    journal.candlings.note_findings(
        look, {egg.uid: code for egg, code in zip(eggs, codes, strict=True)}, look.at
    )
    set_batch(journal, machine, "26-04", "Pond ducks", "duck", at(2026, 4, 20), 18, brook)
    set_batch(journal, machine, "26-06", "Loft bantams", "bantam", at(2026, 5, 25), 12, brook)
    finish(
        journal, set_batch(journal, machine, "26-02", "Brook hens", "hen", at(2026, 2, 20), 36, brook), 18, 4
    )
    finish(
        journal,
        set_batch(journal, machine, "26-01", "Orchard hens", "hen", at(2026, 1, 9), 30, orchard),
        21,
        3,
    )
    finish(
        journal,
        set_batch(journal, machine, "25-09", "Lower yard hens", "hen", at(2025, 9, 1), 19, brook),
        12,
        3,
    )
    journal.past_batches.add(
        PastBatch("19-01", 2019, "hen", 24, name="First of all", set_on="2019-03-20", hatched=15, clear=4)
    )
    journal.duties.add(Duty(DutyKind.OTHER, at(2026, 5, 14, 19), text="Fill lockdown channels"))
    for duty in journal.duties.between(at(2026, 5, 1), at(2026, 5, 14, 9)):
        journal.duties.tick(duty, duty.due_at)


def set_batch(
    journal: Journal, machine: Machine, label: str, name: str, species: str, set_at: int, eggs: int, pen: Pen
) -> Batch:
    """A batch by the programme of its species."""
    programme = programmes_of(species)[0]
    plan = plan_batch(programme, set_at, journal.zone)
    batch = Batch(
        label,
        species,
        machine.uid,
        set_at,
        programme.incubation_days,
        programme.to_json(),
        early_until_day=7.0,
        mid_until_day=14.0,
        name=name,
    )
    phases, duties = plan_records(batch, plan)
    laid = [Egg(batch.uid, number, pen=pen.uid) for number in range(1, eggs + 1)]
    journal.batches.set_batch(batch, phases, duties, laid)
    return batch


def finish(journal: Journal, batch: Batch, hatched: int, clear: int) -> None:
    """A batch of which so many hatched and so many were clear."""
    eggs = journal.eggs.of_batch(batch.uid)
    look = Candling(batch.uid, batch.set_at + 7 * DAY_S)
    journal.candlings.note_findings(look, {egg.uid: FindingCode.CLEAR for egg in eggs[:clear]}, look.at)
    late = Candling(batch.uid, batch.set_at + 14 * DAY_S)
    journal.candlings.note_findings(
        late, {egg.uid: FindingCode.EARLY_DEAD for egg in eggs[clear : clear + 3]}, late.at
    )
    chicks = [egg.uid for egg in eggs[len(eggs) - hatched :]]
    journal.hatchings.note_marks(batch.uid, chicks, HatchMark.HATCHED, batch.hatch_due_at)
    journal.batches.close(batch, batch.hatch_due_at + 2 * DAY_S)
