"""A new batch with something missing, misspelt or in the way: said in its place, and nothing typed is lost."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.new_batch import NewBatchDialog
from hatchbook.desk.dialogs.pen_rows import EGGS, LAID, LETTER, PEN
from hatchbook.journal import Journal, Machine
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot
from tests.desk.conftest import SET_AT, Clock, Desk
from tests.desk.dialogs.new_batch_kit import (
    ENTER,
    ESCAPE,
    TAB,
    ZONE,
    empty_context,
    focused,
    is_gone,
    opened,
    press,
    tab_to,
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


# ---------------------------------------------------------------- missing


def test_the_button_stays_and_leads_to_the_first_gap(
    qtbot: QtBot, context: DeskContext, journal: Journal
) -> None:
    dialog = opened(qtbot, context)
    assert dialog.set.isEnabled()
    assert dialog.entry.pens.first_trouble() is None
    press(ENTER)
    assert dialog.entry.pen_line.text() == "How many eggs?"
    # The cell is open to be typed into.
    editor = focused()
    assert isinstance(editor, QLineEdit)
    assert editor.accessibleName() == "Eggs, row 1"
    press("12", TAB)
    assert dialog.entry.pen_line.isHidden()
    press(ESCAPE)
    dialog.set.click()
    assert is_gone(dialog)
    assert len(journal.batches.all()) == 1


def test_gaps_are_led_to_one_after_the_other(qtbot: QtBot, context: DeskContext, journal: Journal) -> None:
    dialog = opened(qtbot, context)
    form = dialog.entry.form
    form.machine.setCurrentIndex(form.machine.count() - 1)
    tab_to(form.label)
    press(Qt.Key.Key_Delete, ENTER)
    assert focused() is form.label
    assert form.label_line.trouble() == "Give the batch a number."
    press("26-01")
    assert form.label_line.trouble() == ""
    dialog.set.click()
    assert focused() is form.machine_fields.name
    assert form.machine_fields.name_line.trouble() == "Give the machine a name."
    press("kitchen MACHINE")
    assert "of that name already" in form.machine_fields.name_line.trouble()
    dialog.set.click()
    assert focused() is form.machine_fields.name
    assert journal.batches.all() == []
    dialog.reject()


def test_what_is_wrong_is_told_to_screen_readers_and_shown_by_an_edge(
    qtbot: QtBot, context: DeskContext
) -> None:
    dialog = opened(qtbot, context)
    label = dialog.entry.form.label
    tab_to(label)
    press(Qt.Key.Key_Delete, ENTER)
    assert label.accessibleDescription() == "Give the batch a number."
    assert "border" in label.styleSheet()
    press("7")
    assert label.accessibleDescription() == ""
    assert label.styleSheet() == ""
    dialog.reject()


# ---------------------------------------------------------------- taken


def test_a_number_that_is_taken_is_said_while_it_is_typed(qtbot: QtBot, desk: Desk) -> None:
    dialog = opened(qtbot, desk.context)
    form = dialog.entry.form
    assert form.label.text() == "26-06"
    tab_to(form.label)
    press("26-05")
    assert form.label_line.trouble() == "Another batch is number 26-05."
    typed(dialog, 0, EGGS, "3")
    dialog.set.click()
    assert focused() is form.label
    assert len(desk.journal.batches.all()) == 1
    press("b")
    assert form.label_line.trouble() == ""
    dialog.set.click()
    assert {batch.label for batch in desk.journal.batches.all()} == {"26-05", "26-05b"}


def test_a_probe_name_that_is_taken_is_said(qtbot: QtBot, desk: Desk) -> None:
    dialog = opened(qtbot, desk.context)
    form = dialog.entry.form
    form.machine.setCurrentIndex(form.machine.count() - 1)
    tab_to(form.probe)
    press("shelf LOGGER")
    assert "probe of that name" in form.probe_line.trouble()
    dialog.reject()


# ---------------------------------------------------------------- the table of pens


@pytest.mark.parametrize("text", ["twelve", "12a", "-3", "1.5", "²", "١٢"])
def test_letters_for_a_count_stay_and_are_said(
    qtbot: QtBot, context: DeskContext, journal: Journal, text: str
) -> None:
    dialog = opened(qtbot, context)
    tab_to(dialog.entry.pen_table)
    press("Brook pen", TAB)
    editor = focused()
    assert isinstance(editor, QLineEdit)
    editor.setText(text)
    press(TAB, ESCAPE)
    assert dialog.entry.pens.texts()[0][EGGS] == text
    assert dialog.entry.pen_line.text() == f"“{text}” is not a number of eggs."
    dialog.set.click()
    assert journal.batches.all() == []
    dialog.reject()


def test_no_eggs_at_all_is_no_batch(qtbot: QtBot, context: DeskContext, journal: Journal) -> None:
    dialog = opened(qtbot, context)
    typed(dialog, 0, EGGS, "0")
    dialog.set.click()
    assert dialog.entry.pen_line.text() == "A batch has at least one egg."
    assert journal.batches.all() == []
    dialog.reject()


def test_rows_can_be_taken_away_by_del_and_come_back_when_asked_for(
    qtbot: QtBot, context: DeskContext
) -> None:
    dialog = opened(qtbot, context)
    tab_to(dialog.entry.pen_table)
    press("Brook pen", TAB, "8", TAB, ESCAPE)
    press(Qt.Key.Key_Delete)
    assert dialog.entry.pens.texts() == []
    dialog.set.click()
    assert dialog.entry.pen_line.text() == "How many eggs?"
    dialog.reject()


def test_a_row_with_a_pen_wants_its_eggs(qtbot: QtBot, context: DeskContext, journal: Journal) -> None:
    dialog = opened(qtbot, context)
    typed(dialog, 0, EGGS, "4")
    typed(dialog, 1, PEN, "Lower yard")
    dialog.set.click()
    assert dialog.entry.pens.first_trouble() == (1, EGGS, "How many eggs?")
    assert journal.batches.all() == []
    dialog.reject()


@pytest.mark.parametrize(
    ("text", "said"),
    [("soon", "is not a date"), ("31.4.", "There is no day"), ("16 May", "laid after they are set")],
)
def test_dates_that_cannot_be_are_said(qtbot: QtBot, context: DeskContext, text: str, said: str) -> None:
    dialog = opened(qtbot, context)
    typed(dialog, 0, EGGS, "4")
    typed(dialog, 0, LAID, text)
    assert said in dialog.entry.pen_line.text()
    dialog.set.click()
    assert not is_gone(dialog)
    dialog.reject()


def test_eggs_laid_later_are_right_when_they_are_set_later(qtbot: QtBot, context: DeskContext) -> None:
    dialog = opened(qtbot, context)
    typed(dialog, 0, EGGS, "4")
    typed(dialog, 0, LAID, "16 May")
    dialog.entry.form.timing.at.set_instant(NOW + 3 * DAY)
    dialog.entry.form.timing.at.edited.emit()
    assert dialog.entry.pens.first_trouble() is None
    dialog.reject()


def test_a_letter_is_the_pens_own_or_one_that_is_free(qtbot: QtBot, desk: Desk) -> None:
    dialog = opened(qtbot, desk.context)
    typed(dialog, 0, PEN, "orchard")
    typed(dialog, 1, PEN, "Oak shed")
    typed(dialog, 2, PEN, "Brook")
    assert [row[LETTER] for row in dialog.entry.pens.texts()] == ["O", "A", "B"]
    typed(dialog, 2, LETTER, "far too long")
    assert "at most" in dialog.entry.pen_line.text()
    dialog.reject()


# ---------------------------------------------------------------- notes


def test_a_lockdown_in_the_machine_is_told_of(qtbot: QtBot, desk: Desk) -> None:
    dialog = opened(qtbot, desk.context)
    (note,) = dialog.entry.notes.texts()
    assert note == (
        "26-05 is in lockdown in the Dairy until Sun 24 May: its raised humidity would reach these eggs."
    )
    dialog.entry.form.timing.at.set_instant(SET_AT + 22 * DAY)
    dialog.entry.form.timing.at.edited.emit()
    assert dialog.entry.notes.texts() == []
    dialog.reject()


def test_a_machine_that_is_full_is_told_of_and_the_batch_can_be_set_all_the_same(
    qtbot: QtBot, desk: Desk
) -> None:
    dialog = opened(qtbot, desk.context)
    typed(dialog, 0, EGGS, "5")
    assert any("eggs without a place: 5" in text for text in dialog.entry.egg_notes.texts())
    assert "without a place" in dialog.panel.tray_line.text()
    dialog.set.click()
    assert is_gone(dialog)
    eggs = desk.journal.eggs.of_batch(desk.context.batch or "")
    assert [egg.tray for egg in eggs] == [None] * 5


def test_old_eggs_are_told_of_with_the_source(qtbot: QtBot, context: DeskContext) -> None:
    dialog = opened(qtbot, context)
    typed(dialog, 0, PEN, "Brook pen")
    typed(dialog, 0, EGGS, "4")
    typed(dialog, 0, LAID, "2 May")
    (note,) = dialog.entry.egg_notes.texts()
    assert "Brook pen" in note
    assert "Fasenko 2007" in note
    dialog.reject()


def test_a_batch_may_be_entered_afterwards_and_it_is_said(
    qtbot: QtBot, context: DeskContext, journal: Journal
) -> None:
    dialog = opened(qtbot, context)
    typed(dialog, 0, EGGS, "4")
    dialog.entry.form.timing.at.set_instant(NOW - 5 * DAY)
    dialog.entry.form.timing.at.edited.emit()
    assert any("entered afterwards" in text for text in dialog.entry.notes.texts())
    dialog.set.click()
    (batch,) = journal.batches.all()
    assert batch.set_at == NOW - 5 * DAY


def test_a_journal_that_cannot_be_written_keeps_what_was_typed(
    qtbot: QtBot, context: DeskContext, journal: Journal, monkeypatch: pytest.MonkeyPatch
) -> None:
    from hatchbook.desk.dialogs import new_batch
    from hatchbook.journal import DiskFullError

    def full(*_arguments: object) -> None:
        raise DiskFullError("The disk is full.", path=journal.path)

    monkeypatch.setattr(new_batch, "store_draft", full)
    dialog = opened(qtbot, context)
    typed(dialog, 0, EGGS, "4")
    dialog.entry.form.name.setText("Hens")
    with qtbot.waitSignal(context.door.refused):
        dialog.set.click()
    assert not is_gone(dialog)
    assert "still here" in dialog.note.text()
    assert dialog.entry.form.name.text() == "Hens"
    monkeypatch.undo()
    dialog.set.click()
    assert is_gone(dialog)
    assert len(journal.batches.all()) == 1
