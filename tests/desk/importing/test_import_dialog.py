"""The dialog from a file to the journal, by keyboard, with good and bad files."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hatchbook.desk import settings
from hatchbook.desk.dialogs.import_readings import ImportDialog
from hatchbook.exchange.logger_file import ColumnRole, DateOrder, Separator
from hatchbook.journal import Reading
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QFileDialog, QLineEdit
from pytestqt.qtbot import QtBot

Yard = Any
Open = Callable[..., ImportDialog]
Write = Callable[..., Path]

PUBLISHED = Path(__file__).parents[2] / "published"


Press = Callable[[ImportDialog, Qt.Key], None]
Pick = Callable[[Any, object], None]
Plain = Callable[[Any], str]


# ------------------------------------------------------------------ a good file


def test_a_file_is_read_at_once_and_enter_imports_it(
    open_dialog: Open, yard: Yard, shelf_file: Path, press: Press, plain: Plain
) -> None:
    dialog = open_dialog(shelf_file)
    assert dialog.read_as.separator.value() is Separator.SEMICOLON
    assert dialog.read_as.dates.currentText() == "day.month.year"
    assert dialog.goes_to.target() == yard.probe
    assert plain(dialog.goes_to.sentence) == (
        "covers 3 May 09:00 to 14 May 09:40, every 10 min: all of it falls into 26-05 Orchard hens"
    )
    assert plain(dialog.foot.sum).endswith(
        "1518 good, 13 left out, none already in the journal. 1 gap of 11 h 50 min."
    )
    assert "1518" in dialog.store.text()
    changes: list[Any] = []
    yard.context.door.changed.connect(changes.append)
    press(dialog, Qt.Key.Key_Return)
    assert not dialog.isVisible()
    assert [change.kinds for change in changes] == [{"import_run", "reading"}]
    assert yard.count() == 1518
    (run,) = yard.journal.imports.all()
    assert (run.file_name, run.stored, run.rejected) == ("dairy-0514.csv", 1518, 13)


def test_undo_takes_all_readings_back(open_dialog: Open, yard: Yard, shelf_file: Path, press: Press) -> None:
    press(open_dialog(shelf_file), Qt.Key.Key_Return)
    yard.context.door.undo()
    assert yard.count() == 0
    yard.context.door.redo()
    assert yard.count() == 1518


def test_escape_leaves_without_storing(open_dialog: Open, yard: Yard, shelf_file: Path, press: Press) -> None:
    dialog = open_dialog(shelf_file)
    press(dialog, Qt.Key.Key_Escape)
    assert not dialog.isVisible()
    assert yard.journal.imports.all() == []


def test_a_second_import_adds_nothing_and_says_so(
    open_dialog: Open, yard: Yard, shelf_file: Path, press: Press
) -> None:
    press(open_dialog(shelf_file), Qt.Key.Key_Return)
    dialog = open_dialog(shelf_file)
    assert "all good ones already in the journal" in dialog.foot.sum.text()
    assert dialog.remarks.text() == "This very file came in on 14 May 14:10, as readings of Shelf logger."
    assert not dialog.store.isEnabled()
    press(dialog, Qt.Key.Key_Return)
    assert len(yard.journal.imports.all()) == 1


def test_a_longer_file_brings_only_what_is_new(
    open_dialog: Open, yard: Yard, shelf_file: Path, shelf_text: str, write: Write, press: Press
) -> None:
    press(open_dialog(shelf_file), Qt.Key.Key_Return)
    longer = (
        shelf_text.rpartition("\n")[0] + "\n14.05.2026 10:00;37,6;46,1;ok\n14.05.2026 10:10;37,6;46,2;ok\n"
    )
    dialog = open_dialog(write(longer, "longer.csv"))
    assert "1518 already in the journal" in dialog.foot.sum.text()
    press(dialog, Qt.Key.Key_Return)
    assert yard.count() == 1520


def test_values_that_the_journal_holds_otherwise_are_listed_with_their_lines_and_kept(
    open_dialog: Open, yard: Yard, write: Write, press: Press
) -> None:
    kept = Reading(yard.probe.number, yard.batch.set_at, 37.5, 52.1)
    yard.journal.readings.add(kept)
    dialog = open_dialog(write("time,temp,rh\n2026-05-03 09:00,37.6,55.0\n2026-05-03 09:10,37.6,55.0\n"))
    model = dialog.left_out.model
    row = [model.index(0, column).data() for column in range(3)]
    assert row == [
        "2",
        "2026-05-03 09:00,37.6,55.0",
        "differs from the journal: kept 37.5\u00a0°C, 52.1\u00a0%",
    ]
    press(dialog, Qt.Key.Key_Return)
    assert yard.journal.readings.at(yard.probe.number, kept.at) == kept
    assert yard.count() == 2


def test_a_file_with_a_header_one_field_short_comes_in_whole(
    open_dialog: Open, yard: Yard, press: Press
) -> None:
    """Candanedo & Feldheim, Energy and Buildings 112 (2016) 28–39."""
    dialog = open_dialog(PUBLISHED / "office_climate_2015.csv")
    assert dialog.preview.model.column_name(1) == "date"
    assert [combo.value() for combo in dialog.preview.combos[:4]] == [
        ColumnRole.LEAVE_OUT,
        ColumnRole.DATE_TIME,
        ColumnRole.TEMPERATURE,
        ColumnRole.HUMIDITY,
    ]
    assert "2 Feb 2015 14:19 to 4 Feb 2015 10:43" in dialog.goes_to.sentence.text()
    assert dialog.goes_to.sentence.text().endswith("falls into no batch")
    assert dialog.left_out.title.text() == "Every line can be read"
    press(dialog, Qt.Key.Key_Return)
    assert yard.count() == 2665


# ------------------------------------------------------------------ bad files


@pytest.mark.parametrize("content", [b"", b"\n\n", bytes(range(256)) * 40])
def test_a_file_that_is_no_text_or_empty_is_named_so(
    open_dialog: Open, yard: Yard, write: Write, content: bytes, press: Press
) -> None:
    dialog = open_dialog(write(content))
    assert dialog.note.isVisible()
    assert dialog.note.text() == "This file is not text, or is empty."
    assert not dialog.store.isEnabled()
    press(dialog, Qt.Key.Key_Return)
    assert yard.journal.imports.all() == []


def test_a_file_that_is_not_there_cannot_be_opened(open_dialog: Open, tmp_path: Path) -> None:
    dialog = open_dialog(tmp_path / "gone.csv")
    assert dialog.note.text().startswith("This file cannot be opened.")


def test_a_good_file_after_a_bad_one_is_shown(open_dialog: Open, write: Write, shelf_file: Path) -> None:
    dialog = open_dialog(write(b"", "empty.csv"))
    dialog.load(shelf_file)
    QApplication.processEvents()
    assert not dialog.note.isVisible()
    assert dialog.store.isEnabled()
    dialog.load(write(b"", "empty.csv"))
    QApplication.processEvents()
    assert dialog.pages.currentWidget() is dialog.nothing
    assert not dialog.store.isEnabled()
    assert dialog.foot.sum.text() == ""


def test_without_a_date_column_the_breeder_chooses_it(
    open_dialog: Open, yard: Yard, write: Write, pick: Pick
) -> None:
    rows = "".join(f"{day} May 2026 9h00,37.{day},5{day}\n" for day in range(3, 9))
    dialog = open_dialog(write("moment,temp,rh\n" + rows.replace(" May 2026 9h00", "-05-2026x09:00")))
    assert dialog.note.text() == "Choose which column holds the date and time."
    assert not dialog.store.isEnabled()
    assert dialog.preview.isVisible()
    assert not dialog.below.isVisible()
    # A column of numbers is no date either: then no line can be read, and each says why.
    pick(dialog.preview.combos[1], ColumnRole.DATE_TIME)
    assert "left out" in dialog.left_out.title.text()
    assert not dialog.store.isEnabled()


def test_the_list_of_lines_left_out_can_be_copied(open_dialog: Open, shelf_file: Path, press: Press) -> None:
    dialog = open_dialog(shelf_file)
    dialog.left_out.copy.setFocus()
    press(dialog, Qt.Key.Key_Return)
    copied = QGuiApplication.clipboard().text().splitlines()
    assert len(copied) == 14
    assert copied[1].startswith("378\t05.05.2026 23:40;--;--;batt\tno number in it")


# ------------------------------------------------------------------ which file


def test_enter_in_the_field_reads_a_typed_path_before_it_imports(
    open_dialog: Open, yard: Yard, shelf_file: Path, press: Press
) -> None:
    dialog = open_dialog()
    assert not dialog.store.isEnabled()
    dialog.file_row.field.setFocus()
    QTest.keyClicks(dialog.file_row.field, str(shelf_file))
    press(dialog, Qt.Key.Key_Return)
    assert dialog.isVisible()
    assert dialog.store.isEnabled()
    press(dialog, Qt.Key.Key_Return)
    assert yard.count() == 1518


def test_a_file_is_chosen_from_the_folder_used_last(
    open_dialog: Open, yard: Yard, shelf_file: Path, qtbot: QtBot, press: Press
) -> None:
    open_dialog(shelf_file)
    assert yard.context.settings.get(settings.IMPORT_FOLDER) == str(shelf_file.parent)
    dialog = open_dialog()
    assert dialog.file_row.choose.hasFocus()
    press(dialog, Qt.Key.Key_Return)
    (chooser,) = dialog.findChildren(QFileDialog)
    assert chooser.directory().absolutePath() == str(shelf_file.parent)
    name = chooser.findChild(QLineEdit, "fileNameEdit")
    name.setText(shelf_file.name)
    chooser.accept()
    QApplication.processEvents()
    assert dialog.file_row.field.text() == str(shelf_file)
    assert dialog.focusWidget() is dialog.store


def mime(*paths: Path) -> QMimeData:
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(path)) for path in paths])
    return data


def test_a_file_can_be_dropped(open_dialog: Open, shelf_file: Path, tmp_path: Path) -> None:
    dialog = open_dialog()
    actions, button, none = (
        Qt.DropAction.CopyAction,
        Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )
    for data, taken in (
        (mime(shelf_file), True),
        (mime(shelf_file, shelf_file), False),
        (mime(tmp_path), False),
    ):
        event = QDragEnterEvent(QPoint(50, 50), actions, data, button, none)
        event.ignore()
        dialog.dragEnterEvent(event)
        assert event.isAccepted() is taken
    data = mime(shelf_file)
    dialog.dropEvent(QDropEvent(QPointF(50, 50), actions, data, button, none))
    QApplication.processEvents()
    assert dialog.store.isEnabled()


def test_every_box_can_be_reached_by_tab_and_has_a_name(open_dialog: Open, shelf_file: Path) -> None:
    dialog = open_dialog(shelf_file)
    dialog.file_row.field.setFocus()
    seen = []
    for _ in range(60):
        widget = dialog.focusWidget()
        if widget in seen:
            break
        seen.append(widget)
        QTest.keyClick(widget, Qt.Key.Key_Tab)
    wanted = [
        dialog.file_row.choose,
        dialog.read_as.separator,
        dialog.read_as.unit,
        dialog.read_as.more,
        dialog.goes_to.combo,
        *dialog.preview.combos,
        dialog.preview.table,
        dialog.left_out.copy,
        dialog.left_out.table,
        dialog.store,
        dialog.leave,
    ]
    assert [widget for widget in seen if widget in wanted] == wanted
    names = [widget.accessibleName() or widget.property("text") for widget in seen if widget is not None]
    assert all(names)


def test_a_date_order_is_a_choice(open_dialog: Open, shelf_file: Path) -> None:
    dialog = open_dialog(shelf_file)
    assert dialog.read_as.dates.count() == len(DateOrder) + 3
