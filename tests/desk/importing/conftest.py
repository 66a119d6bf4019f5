"""A journal with a batch and a probe without readings, and files as loggers write them."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.import_readings import ImportDialog
from hatchbook.desk.door import Door
from hatchbook.desk.importing.choice_combo import ChoiceCombo
from hatchbook.desk.settings import DeskSettings
from hatchbook.desk.tasks import InlineWorker, ThreadWorker
from hatchbook.desk.theme.dress import ENTRY_CLASSES
from hatchbook.desk.theme.theme import SchemeChoice, Theme, current_theme
from hatchbook.journal import Batch, Egg, Journal, Machine, Probe, plan_records
from hatchbook.trade.plan import plan_batch
from hatchbook.trade.programmes import programme_named
from PySide6.QtCore import QCoreApplication, QEvent, Qt
from PySide6.QtGui import QPalette
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel
from pytestqt.qtbot import QtBot

ZONE = ZoneInfo("Europe/Lisbon")


def at(day: int, hour: int = 9, minute: int = 0, *, month: int = 5, year: int = 2026) -> int:
    """An instant of May 2026 by the clock on the wall."""
    return int(datetime(year, month, day, hour, minute, tzinfo=ZONE).timestamp())


NOW = at(14, 14, 10)


@dataclass
class Yard:
    """A context over a journal: the batch 26-05 Orchard hens in the Dairy machine, in which one probe hangs."""

    context: DeskContext
    journal: Journal
    machine: Machine
    batch: Batch
    probe: Probe

    def count(self) -> int:
        """How many readings there are of all probes."""
        return sum(
            self.journal.readings.count(probe.number, 0, 1 << 40) for probe in self.journal.probes.all()
        )


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


@pytest.fixture
def yard(qapp: QApplication, tmp_path: Path) -> Iterator[Yard]:
    """The yard, its slow work done inline."""
    journal = Journal.create(tmp_path / "yard.hatchbook", time_zone=ZONE.key, clock=lambda: NOW)
    machine = Machine("Dairy machine", 6, 6)
    journal.machines.keep(machine, 5)
    journal.probes.add_to("Shelf logger", machine=machine.uid, from_at=at(1, month=4))
    probe = journal.probes.by_name("Shelf logger")
    assert probe is not None
    programme = programme_named("hen")
    assert programme is not None
    batch = Batch(
        "26-05", "hen", machine.uid, at(3), 21.0, programme.to_json(), 7.0, 14.0, name="Orchard hens"
    )
    phases, duties = plan_records(batch, plan_batch(programme, batch.set_at, ZONE))
    journal.batches.set_batch(batch, phases, duties, [Egg(batch.uid, number) for number in range(1, 37)])
    door = Door(lambda: NOW)
    door.take(journal)
    context = DeskContext(door, InlineWorker(), DeskSettings())
    context.choose_batch(batch.uid)
    yield Yard(context, journal, machine, batch, probe)
    context.worker.stop()
    door.take(None)


@pytest.fixture
def threaded(yard: Yard) -> Yard:
    """The yard, its slow work done on a thread."""
    yard.context.worker = ThreadWorker()
    return yard


Open = Callable[..., ImportDialog]


@pytest.fixture
def open_dialog(qtbot: QtBot, theme: Theme, yard: Yard) -> Iterator[Open]:
    """Opens the dialog, on a file if one is given; it is closed at the end."""
    opened: list[ImportDialog] = []

    def open_it(path: Path | None = None) -> ImportDialog:
        dialog = ImportDialog(yard.context, None, path)
        # The test looks at it after it has closed.
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)
        opened.append(dialog)
        dialog.open()
        QApplication.processEvents()
        return dialog

    yield open_it
    yard.context.worker.stop()
    for dialog in opened:
        dialog.done(0)
        dialog.deleteLater()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


@pytest.fixture
def press() -> Callable[[ImportDialog, Qt.Key], None]:
    """Presses a key where the focus is, and lets the outcome come in."""

    def press_it(dialog: ImportDialog, key: Qt.Key) -> None:
        QTest.keyClick(dialog.focusWidget() or dialog, key)
        QApplication.processEvents()

    return press_it


@pytest.fixture
def pick() -> Callable[[ChoiceCombo, object], None]:
    """Chooses a value as the breeder would, and lets the outcome come in."""

    def pick_it(combo: ChoiceCombo, value: object) -> None:
        combo.show_value(value)
        combo.activated.emit(combo.currentIndex())
        QApplication.processEvents()

    return pick_it


@pytest.fixture
def plain() -> Callable[[QLabel], str]:
    """A text with its unbreakable blanks as plain ones."""
    return lambda label: label.text().replace("\u00a0", " ")


@pytest.fixture
def write(tmp_path: Path) -> Callable[..., Path]:
    """Writes a file into a folder of its own."""

    def write_it(text: str | bytes, name: str = "dairy-0514.csv") -> Path:
        folder = tmp_path / "shelf logger"
        folder.mkdir(exist_ok=True)
        path = folder / name
        path.write_bytes(text if isinstance(text, bytes) else text.encode())
        return path

    return write_it


def logger_lines(first: datetime, count: int, *, minutes: int = 10) -> list[tuple[datetime, float, float]]:
    """Wall time, °C and % RH, as a machine gives them."""
    found = []
    for step in range(count):
        day = step * minutes / 1440
        dip = 10.0 if step % 290 == 133 else 0.0
        humidity = 52 - 0.6 * day + 1.5 * math.sin(day * 7) + 0.4 * math.sin(step * 1.7) - dip
        warm = 37.7 + 0.1 * math.sin(step / 9.0) - dip / 8
        found.append((first + timedelta(minutes=step * minutes), warm, humidity))
    return found


def comma_text(value: float) -> str:
    """A number with a decimal comma."""
    return f"{value:.1f}".replace(".", ",")


@pytest.fixture
def shelf_text() -> str:
    """Eleven days every ten minutes with all that can go wrong, parted by semicolons, with decimal commas.

    1531 lines of readings: 1518 good ones; 13 that cannot be read: 5 without numbers, 1 over 100 %, 1 cut short
    (the last), 6 on which time runs backwards. One gap of 11 hours.
    """
    rows = ["when;t_in;rh_in;state"]
    lines = logger_lines(datetime(2026, 5, 3, 9, 0), 2000)  # noqa: DTZ001 - the logger's own clock
    kept = lines[:377] + lines[377 + 65 :]
    for number, (when, warm, humidity) in enumerate(kept[:1525], start=1):
        cells = [f"{when:%d.%m.%Y %H:%M}", comma_text(warm), comma_text(humidity), "ok"]
        if 377 <= number <= 381:
            cells[1:] = ["--", "--", "batt"]
        if number == 954:
            cells[2] = "118,0"
        rows.append(";".join(cells))
        if number == 1300:
            rows += [
                f"{when - timedelta(minutes=60 - 10 * back):%d.%m.%Y %H:%M};37,1;47,7;ok" for back in range(6)
            ]
    rows[-1] = rows[-1][:13]
    return "\n".join(rows)


@pytest.fixture
def shelf_file(write: Callable[..., Path], shelf_text: str) -> Path:
    """That file."""
    return write(shelf_text)
