"""The import of past seasons, from a file to the journal, by keyboard, with good and bad tables."""

from __future__ import annotations

import threading
from pathlib import Path
from typing import Any

import pytest
from hatchbook.desk.dialogs.import_past import ImportPastDialog
from hatchbook.desk.importing.file_work import Job
from hatchbook.desk.tasks import ThreadWorker
from hatchbook.exchange.loggers.layout import DateOrder
from hatchbook.exchange.past_seasons import bringing_in
from hatchbook.exchange.past_seasons.fields import PastField as F
from hatchbook.exchange.past_seasons.fields import with_field
from hatchbook.journal import DiskFullError, past_batches
from openpyxl import Workbook
from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QDropEvent, QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QFileDialog
from pytestqt.qtbot import QtBot
from tests.desk.conftest import Desk
from tests.desk.past.conftest import OpenImport
from tests.exchange.past_seasons.kit import BOOK, book, write

MIXED = """\
Hatch book

Number,Date,Kind,Pen,Machine,Eggs,Clear,Dead in shell,Hatched,Note
21-01,14.3.2021,hens,Orchard,Dairy,24,3,2,18,first
21-02,31.4.2021,hens,Orchard,Dairy,24,5,3,14,
21-03,2.5.2021,quail,Brook,Cupboard,12,1,,14,
21-04,2.6.2021,quail,Brook,Cupboard,12,1,–,9,
Total,,,,,72,,,,
"""


def press(dialog: ImportPastDialog, key: Qt.Key) -> None:
    QTest.keyClick(dialog.focusWidget() or dialog, key)
    QApplication.processEvents()


def pick(combo: Any, value: object) -> None:
    """Chooses as the breeder does."""
    combo.show_value(value)
    combo.picked.emit(value)
    QApplication.processEvents()


def refused(dialog: ImportPastDialog) -> list[list[str]]:
    model = dialog.refused.model
    return [[model.index(row, column).data() for column in range(2)] for row in range(model.rowCount())]


# ------------------------------------------------------------------ good tables


def test_a_table_is_read_at_once_and_enter_imports_it(
    open_import: OpenImport, desk: Desk, tmp_path: Path
) -> None:
    dialog = open_import(write(tmp_path, BOOK))
    assert dialog.store.text() == "Import 3 batches"
    assert dialog.foot.sum.text() == "3 lines: 3 new, 0 refused, none already in the journal."
    assert not dialog.refused.isVisible()
    assert "1 new machine: Cupboard." in dialog.comes_in.made.text()
    assert "1 new pen: Pond." in dialog.comes_in.made.text()
    rows = dialog.comes_in.model
    shown = [[rows.index(row, column).data() for column in range(4)] for row in range(rows.rowCount())]
    assert shown == [["2022", "1", "12", "10"], ["2021", "2", "48", "32"]]
    changes: list[Any] = []
    desk.door.changed.connect(changes.append)
    press(dialog, Qt.Key.Key_Return)
    assert not dialog.isVisible()
    assert [change.kinds for change in changes] == [{"past_batch", "pen", "machine"}]
    assert len(desk.journal.past_batches.all()) == 3
    desk.door.undo()
    assert desk.journal.past_batches.all() == []


def test_a_workbook_is_read_and_its_sheets_offered(
    open_import: OpenImport, desk: Desk, tmp_path: Path
) -> None:
    made = Workbook()
    assert made.active is not None
    made.active.title = "2021"
    for row in (["Eggs", "Hatched", "Year"], [24, 18, 2021], [12, 9, 2021]):
        made.active.append(row)
    made.create_sheet("Feed").append(["Month", "Sacks", "Year"])
    path = tmp_path / "book.xlsx"
    made.save(path)
    dialog = open_import(path)
    assert dialog.read_as.sheet.isVisible()
    assert not dialog.read_as.separator.isVisible()
    assert dialog.read_as.sheet.value() == "2021"
    # All batches so far are hens: lines that do not say are taken for them, and it is shown.
    assert dialog.unsaid.species.value() == "hen"
    assert dialog.store.text() == "Import 2 batches"
    pick(dialog.read_as.sheet, "Feed")
    assert not dialog.store.isEnabled()
    assert dialog.note.text() == "Choose which column holds the eggs set."
    pick(dialog.read_as.sheet, "2021")
    press(dialog, Qt.Key.Key_Return)
    assert [batch.label for batch in desk.journal.past_batches.all()] == ["21-02", "21-01"]


def test_a_second_import_says_that_all_is_there(open_import: OpenImport, tmp_path: Path) -> None:
    path = write(tmp_path, BOOK)
    press(open_import(path), Qt.Key.Key_Return)
    dialog = open_import(path)
    assert dialog.foot.sum.text() == "3 lines: 0 new, 0 refused, 3 already in the journal."
    assert not dialog.store.isEnabled()


# ------------------------------------------------------------------ what is refused, asked and chosen


def test_refused_lines_stand_with_their_reasons_and_are_flagged_in_the_preview(
    open_import: OpenImport, desk: Desk, tmp_path: Path
) -> None:
    dialog = open_import(write(tmp_path, MIXED))
    assert refused(dialog) == [
        ["5", "there is no day “31.4.2021”"],
        ["6–7", "“quail” is no species that is known"],
    ]
    assert dialog.refused.title.text() == "3 lines cannot come in"
    assert dialog.foot.sum.toolTip().splitlines() == [
        "1 line above the column names", "1 line of column names", "1 blank line", "1 line of sums or means",
    ]  # fmt: skip
    reasons = dialog.preview.model.lines.reasons
    assert set(reasons) == {5, 6, 7}
    assert dialog.store.text() == "Import 1 batch"
    dialog.refused.copy.click()
    assert (
        QGuiApplication.clipboard()
        .text()
        .splitlines()[1]
        .startswith("5\tthere is no day “31.4.2021”\t21-02,")
    )


def test_a_word_for_a_species_is_asked_and_explained(
    open_import: OpenImport, desk: Desk, tmp_path: Path
) -> None:
    dialog = open_import(write(tmp_path, MIXED))
    assert dialog.meaning.isVisible()
    assert dialog.meaning.note.text() == (
        "“quail” is no species that is known, in 2 lines. Which one does it mean?"
    )
    pick(dialog.meaning.species, "coturnix")
    assert not dialog.meaning.isVisible()
    assert refused(dialog)[1] == ["6", "the counts add up to 15, but 12 were set"]
    assert "Taken as not counted: 1 dash." in dialog.comes_in.made.text()
    dialog.store.click()
    QApplication.processEvents()
    assert {batch.species for batch in desk.journal.past_batches.all()} == {"hen", "coturnix"}


def test_what_no_column_says_is_asked_for_and_given(
    open_import: OpenImport, desk: Desk, tmp_path: Path
) -> None:
    dialog = open_import(write(tmp_path, "Batch,Eggs,Hatched\nA,12,9\nB,18,10\n"))
    assert dialog.note.text().startswith("No column holds the season or the date of setting")
    assert refused(dialog) == [["2–3", "neither season nor date"]]
    assert not dialog.store.isEnabled()
    pick(dialog.unsaid.season, 2019)
    assert not dialog.note.isVisible()
    pick(dialog.unsaid.species, "duck")
    dialog.store.click()
    QApplication.processEvents()
    assert {(one.season, one.species) for one in desk.journal.past_batches.all()} == {(2019, "duck")}


def test_an_order_of_dates_that_is_open_is_asked_first(
    open_import: OpenImport, desk: Desk, tmp_path: Path
) -> None:
    dialog = open_import(write(tmp_path, "Set,Eggs\n03/04/2021,24\n05/06/2021,12\n"))
    assert dialog.question.isVisible()
    assert not dialog.store.isEnabled()
    assert [button.text() for button in dialog.question.buttons] == ["3 April", "4 March"]
    dialog.question.buttons[1].click()
    QApplication.processEvents()
    assert not dialog.question.isVisible()
    assert dialog.read_as.dates.value() is DateOrder.MONTH_DAY_YEAR
    dialog.store.click()
    QApplication.processEvents()
    assert {one.set_on for one in desk.journal.past_batches.all()} == {"2021-03-04", "2021-05-06"}


def test_a_column_can_hold_something_else(open_import: OpenImport, desk: Desk, tmp_path: Path) -> None:
    dialog = open_import(write(tmp_path, "Year,A,B\n2021,24,18\n"))
    assert dialog.note.text() == "Choose which column holds the eggs set."
    pick(dialog.preview.combos[1], F.EGGS_SET)
    pick(dialog.preview.combos[2], F.HATCHED)
    assert dialog.preview.model.lines.roles == (F.SEASON, F.EGGS_SET, F.HATCHED)
    dialog.store.click()
    QApplication.processEvents()
    (batch,) = desk.journal.past_batches.all()
    assert (batch.eggs_set, batch.hatched) == (24, 18)


def test_numbers_that_are_taken_can_be_given_anew(
    open_import: OpenImport, desk: Desk, tmp_path: Path
) -> None:
    path = write(tmp_path, "No,Year,Eggs\n26-05,2021,12\n1,2020,12\n1,2021,18\n")
    dialog = open_import(path)
    assert refused(dialog) == [
        ["2", "the journal has another batch 26-05"],
        ["4", "line 3 has the number 1 too, for another batch"],
    ]
    assert dialog.taken.text() == "2 batches with a number that another batch has."
    dialog.taken.link_clicked.emit()
    QApplication.processEvents()
    assert refused(dialog) == []
    assert "New numbers for 2 batches: 26-05 → 26-05 2021, 1 → 21-01." in dialog.comes_in.made.text()
    dialog.store.click()
    QApplication.processEvents()
    assert {one.label for one in desk.journal.past_batches.all()} == {"26-05 2021", "21-01", "1"}


def test_refused_lines_are_saved_as_they_are(open_import: OpenImport, tmp_path: Path) -> None:
    dialog = open_import(write(tmp_path, MIXED))
    dialog.refused.save.click()
    chooser = dialog.findChild(QFileDialog)
    assert chooser is not None
    assert chooser.defaultSuffix() == "csv"
    chooser.reject()
    out = tmp_path / "out.csv"
    dialog.save_refused(out)
    assert dialog.note.text() == "3 lines saved in out.csv."
    lines = MIXED.splitlines()
    assert out.read_text().splitlines() == [lines[2], *lines[4:7]]
    dialog.save_refused(tmp_path / "nowhere" / "out.csv")
    assert dialog.note.text().startswith("out.csv could not be saved: ")


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("", "There is nothing in this table."),
        (" \n\n", "There is nothing in this table."),
        (";;\n;;\n", "There is nothing in this table."),
    ],
)
def test_a_file_that_is_no_table_is_said_so(
    open_import: OpenImport, tmp_path: Path, text: str, sentence: str
) -> None:
    dialog = open_import(write(tmp_path, text))
    assert dialog.note.text() == sentence
    assert not dialog.store.isEnabled()
    assert dialog.pages.currentWidget() is dialog.nothing


def test_new_numbers_asked_for_while_an_answer_is_being_read_lose_neither(
    open_import: OpenImport, tmp_path: Path
) -> None:
    text = "Batch;Set on;Species;Eggs set;Hatched\n26-05;03.04.2015;hen;24;17\n"
    dialog = open_import(write(tmp_path, text))
    QApplication.processEvents()
    assert dialog.question.question is not None
    dialog.question.buttons[0].click()
    dialog.taken.link_clicked.emit()
    QApplication.processEvents()
    assert dialog.question.question is None
    assert dialog.store.text() == "Import 1 batch"
    assert dialog.store.isEnabled()


def test_escape_leaves_without_storing(open_import: OpenImport, desk: Desk, tmp_path: Path) -> None:
    dialog = open_import(write(tmp_path, BOOK))
    press(dialog, Qt.Key.Key_Escape)
    assert not dialog.isVisible()
    assert desk.journal.past_batches.all() == []


def test_a_file_can_be_dropped_on_the_dialog(open_import: OpenImport, tmp_path: Path) -> None:
    dialog = open_import()
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(book(tmp_path, [["Year", "Eggs"], [2021, 12]])))])
    event = QDropEvent(
        QPointF(9, 9),
        Qt.DropAction.CopyAction,
        data,
        Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )
    dialog.dropEvent(event)
    QApplication.processEvents()
    assert dialog.store.text() == "Import 1 batch"


# ------------------------------------------------------------------ on the worker


def test_a_full_disk_is_told_in_the_dialog(
    open_import: OpenImport, desk: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_arguments: object, **_options: object) -> None:
        raise DiskFullError("The disk is full.", path=desk.journal.path)

    dialog = open_import(write(tmp_path, BOOK))
    monkeypatch.setattr(past_batches.PastBatches, "bring_in", full)
    dialog.store.click()
    QApplication.processEvents()
    assert dialog.note.text().startswith("The disk is full. Nothing of this entry was stored")
    assert dialog.store.isEnabled()


def test_an_import_of_ten_thousand_lines_can_be_stopped_and_leaves_nothing(
    open_import: OpenImport, desk: Desk, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    lines = [f"{n},{1990 + n % 30},{12 + n % 13},{n % 12}" for n in range(10_000)]
    path = write(tmp_path, "Batch,Year,Eggs,Hatched\n" + "\n".join(lines))
    desk.context.worker = ThreadWorker()
    reached, go_on = threading.Event(), threading.Event()
    import_past_batches = bringing_in.import_past_batches

    def halting(journal: Any, table: Any, *, new_labels: bool, progress: Any, cancelled: Any) -> Any:
        def tell(share: float) -> None:
            progress(share)
            if share > 0.3:
                reached.set()
                go_on.wait(20)

        return import_past_batches(journal, table, new_labels=new_labels, progress=tell, cancelled=cancelled)

    monkeypatch.setattr("hatchbook.desk.past.work.import_past_batches", halting)
    dialog = open_import(path)
    qtbot.waitUntil(dialog.store.isEnabled, timeout=60_000)
    assert dialog.store.text() == "Import 10000 batches"
    dialog.store.click()
    qtbot.waitUntil(reached.is_set, timeout=20_000)
    qtbot.waitUntil(dialog.foot.bar.isVisible, timeout=5_000)
    assert dialog._work.job is Job.STORING
    assert dialog.foot.bar.value() > 0
    assert dialog.leave.text() == "Stop"
    dialog.leave.click()
    go_on.set()
    qtbot.waitUntil(lambda: dialog.note.isVisible(), timeout=20_000)
    assert dialog.note.text() == "The import was stopped. Nothing of it was stored."
    assert desk.journal.past_batches.all() == []
    desk.context.worker.stop()


def test_choosing_a_field_is_what_the_boxes_do() -> None:
    assert with_field((F.SEASON, F.LEAVE_OUT), 1, F.SEASON) == (F.LEAVE_OUT, F.SEASON)
