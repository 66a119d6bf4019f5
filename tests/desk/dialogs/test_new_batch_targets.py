"""Targets of a new batch that cannot be: phases, loss, candling days, an hour the clock skipped."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.new_batch import NewBatchDialog
from hatchbook.desk.dialogs.pen_rows import EGGS
from hatchbook.desk.dialogs.phase_rows import AIM, HIGH, TURNS, UNTIL, WARMTH
from hatchbook.journal import Journal, Machine
from PySide6.QtCore import QDate, QDateTime, QTime, QTimeZone
from pytestqt.qtbot import QtBot
from tests.desk.conftest import Clock
from tests.desk.dialogs.new_batch_kit import (
    ZONE,
    empty_context,
    focused,
    is_gone,
    opened,
)

DAY = 86_400
NOW = int(datetime(2026, 5, 14, 14, 2, tzinfo=ZoneInfo(ZONE)).timestamp())


@pytest.fixture
def context(qtbot: QtBot, tmp_path: Path) -> Iterator[DeskContext]:
    with empty_context(tmp_path, Clock(NOW)) as context:
        context.door.journal.machines.keep(Machine("Kitchen machine", 3, 4), 2)
        yield context


@pytest.fixture
def journal(context: DeskContext) -> Journal:
    return context.door.journal


def typed(dialog: NewBatchDialog, row: int, column: int, text: str) -> None:
    """Types into a cell of the table of pens."""
    pens = dialog.entry.pens
    pens.setData(pens.index(row, column), text)


@pytest.mark.parametrize(
    ("row", "column", "text", "said"),
    [
        (0, UNTIL, "early", "is not a number"),
        (0, UNTIL, "22", "the days must grow"),
        (0, UNTIL, "0", "the days must grow"),
        (1, UNTIL, "130", "up to 120 days"),
        (0, AIM, "55", "inside the humidity band"),
        (0, HIGH, "120", "between 0 and 100"),
        (0, AIM, "", "no number here"),
        (0, WARMTH, "60", "between 20 and 45"),
        (0, TURNS, "1.5", "whole number of times"),
        (0, TURNS, "90", "up to 48 times"),
    ],
)
def test_targets_that_cannot_be_are_said_below_the_table(
    qtbot: QtBot, context: DeskContext, journal: Journal, row: int, column: int, text: str, said: str
) -> None:
    dialog = opened(qtbot, context)
    typed(dialog, 0, EGGS, "4")
    phases = dialog.entry.targets.phases
    phases.setData(phases.index(row, column), text)
    assert said in dialog.entry.targets.phase_line.text()
    assert phases.texts()[row][column] == text
    dialog.set.click()
    assert journal.batches.all() == []
    assert dialog.entry.targets.phase_table.isAncestorOf(focused())
    dialog.reject()


def test_a_temperature_may_be_typed_in_fahrenheit(qtbot: QtBot, context: DeskContext) -> None:
    dialog = opened(qtbot, context)
    phases = dialog.entry.targets.phases
    phases.setData(phases.index(0, WARMTH), "100 °F")
    made = phases.phases()[0]
    assert made.temperature_aim_c == pytest.approx(37.7778, abs=1e-4)
    # The band moves along.
    assert made.temperature_high_c - made.temperature_aim_c == pytest.approx(0.1)
    dialog.reject()


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("7, 14, 25", "outside the incubation"),
        ("14, 7", "The days must grow"),
        ("seven", "is not a number"),
        ("7, 7", "The days must grow"),
    ],
)
def test_candling_days_that_cannot_be_are_said(
    qtbot: QtBot, context: DeskContext, journal: Journal, text: str, said: str
) -> None:
    dialog = opened(qtbot, context)
    typed(dialog, 0, EGGS, "4")
    candle = dialog.entry.targets.candle
    candle.setText(text)
    candle.textEdited.emit(text)
    assert said in dialog.entry.targets.candle_line.trouble()
    dialog.set.click()
    assert focused() is candle
    assert journal.batches.all() == []
    dialog.reject()


@pytest.mark.parametrize("text", ["7 14 18", "7,14,18", "7; 14;18", "7, 14, 18,"])
def test_candling_days_may_be_parted_in_any_way(qtbot: QtBot, context: DeskContext, text: str) -> None:
    dialog = opened(qtbot, context)
    dialog.entry.targets.candle.setText(text)
    found = dialog.entry.read()
    assert found is not None
    assert found[0].programme.candle_days == (7.0, 14.0, 18.0)
    dialog.reject()


@pytest.mark.parametrize(
    ("low", "high", "day", "said"),
    [
        ("13", "12", "18", "lower share comes first"),
        ("12", "", "18", "or none of the three"),
        ("12", "x", "18", "is not a number"),
        ("12", "60", "18", "between 0 and 50"),
        ("12", "13", "22", "outside the incubation"),
    ],
)
def test_a_loss_that_cannot_be_is_said(
    qtbot: QtBot, context: DeskContext, low: str, high: str, day: str, said: str
) -> None:
    dialog = opened(qtbot, context)
    typed(dialog, 0, EGGS, "4")
    targets = dialog.entry.targets
    targets.loss_low.set_text(low)
    targets.loss_high.set_text(high)
    targets.loss_day.setText(day)
    targets.loss_day.textEdited.emit(day)
    assert said in targets.loss_line.text()
    dialog.set.click()
    assert not is_gone(dialog)
    dialog.reject()


def test_no_loss_is_a_batch_without_a_corridor(qtbot: QtBot, context: DeskContext, journal: Journal) -> None:
    dialog = opened(qtbot, context)
    typed(dialog, 0, EGGS, "4")
    targets = dialog.entry.targets
    targets.loss_low.set_text("")
    targets.loss_high.set_text("")
    targets.loss_day.setText("")
    dialog.set.click()
    (batch,) = journal.batches.all()
    assert (batch.loss_low_percent, batch.loss_high_percent, batch.loss_day) == (None, None, None)


def test_an_hour_that_the_clock_skipped_is_said(qtbot: QtBot, context: DeskContext, journal: Journal) -> None:
    dialog = opened(qtbot, context)
    typed(dialog, 0, EGGS, "4")
    field = dialog.entry.form.timing.at.field
    # Lisbon put its clocks forward on 29 March 2026 from 01:00 to 02:00.
    utc = QTimeZone(QTimeZone.Initialization.UTC)
    field.setDateTime(QDateTime(QDate(2026, 3, 29), QTime(1, 30), utc))
    assert "put forward" in dialog.entry.form.timing.field.trouble()
    dialog.set.click()
    assert focused() is field
    assert journal.batches.all() == []
    dialog.reject()
