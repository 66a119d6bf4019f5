"""The batch list by mouse and keyboard, over a journal."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hatchbook.desk.actions import Actions
from hatchbook.desk.context import DeskContext
from hatchbook.desk.left.batch_list import BatchList
from hatchbook.desk.left.batch_model import BATCH_ROLE
from hatchbook.desk.left.column import LeftColumn
from hatchbook.journal import DiskFullError, Journal
from PySide6.QtCore import QModelIndex, QPoint, Qt
from PySide6.QtTest import QAbstractItemModelTester, QTest
from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot

UidOf = Callable[[str], str]
LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def batches(qtbot: QtBot, column: LeftColumn) -> BatchList:
    listed = column.batches.list
    QAbstractItemModelTester(
        listed.batches, QAbstractItemModelTester.FailureReportingMode.Fatal, listed.batches
    )
    column.focus_batches()
    return listed


def label_at(index: QModelIndex) -> str | None:
    batch = index.data(BATCH_ROLE)
    return None if batch is None else str(batch.label)


def middle(batches: BatchList, index: QModelIndex) -> QPoint:
    return batches.visualRect(index).center()


def editor_of(batches: BatchList) -> QLineEdit:
    editor = batches.findChild(QLineEdit)
    assert editor is not None
    return editor


# -------------------------------------------------------------------- choosing


def test_the_running_batch_set_last_comes_first(column: LeftColumn, uid_of: UidOf) -> None:
    assert column.has_batches
    assert column.first_batch == uid_of("26-05")


def test_without_a_running_batch_the_newest_comes_first(
    column: LeftColumn, context: DeskContext, uid_of: UidOf
) -> None:
    for label in ("26-05", "26-04"):
        batch = context.door.journal.batches.get(uid_of(label))
        context.door.run(lambda journal, batch=batch: journal.batches.close(batch, context.now()))
    assert column.first_batch == uid_of("26-06")


def test_the_cursor_stands_on_the_chosen_batch(batches: BatchList, uid_of: UidOf) -> None:
    assert label_at(batches.currentIndex()) == "26-05"
    assert batches.chosen == uid_of("26-05")


def test_arrows_move_and_the_page_follows(
    qtbot: QtBot, batches: BatchList, context: DeskContext, uid_of: UidOf
) -> None:
    QTest.keyClick(batches, Qt.Key.Key_Down)
    assert batches.chosen == uid_of("26-04")
    qtbot.waitUntil(lambda: context.batch == uid_of("26-04"))


def test_running_down_the_list_opens_only_the_last_one(
    qtbot: QtBot, batches: BatchList, context: DeskContext, uid_of: UidOf
) -> None:
    shown: list[object] = []
    context.batch_chosen.connect(shown.append)
    for _ in range(3):
        QTest.keyClick(batches, Qt.Key.Key_Down)
    qtbot.waitUntil(lambda: context.batch == uid_of("26-01"))
    assert shown == [uid_of("26-01")]


def test_a_click_shows_a_batch_at_once(batches: BatchList, context: DeskContext, uid_of: UidOf) -> None:
    index = batches.batches.index_of(uid_of("26-02"))
    QTest.mouseClick(batches.viewport(), LEFT, pos=middle(batches, index))
    assert context.batch == uid_of("26-02")


def test_enter_opens_the_batch_and_goes_to_it(
    batches: BatchList, context: DeskContext, actions: Actions, uid_of: UidOf
) -> None:
    went: list[bool] = []
    actions["go_chart"].triggered.connect(lambda: went.append(True))
    QTest.keyClick(batches, Qt.Key.Key_Down)
    QTest.keyClick(batches, Qt.Key.Key_Return)
    assert context.batch == uid_of("26-04")
    assert went == [True]


def test_a_batch_chosen_elsewhere_is_marked_and_unfolded(
    batches: BatchList, context: DeskContext, uid_of: UidOf
) -> None:
    batches.collapseAll()
    context.choose_batch(uid_of("25-09"))
    assert batches.chosen == uid_of("25-09")
    assert label_at(batches.currentIndex()) == "25-09"
    assert batches.isExpanded(batches.currentIndex().parent())


def test_a_batch_from_paper_is_chosen_and_opened_like_any_other(
    qtbot: QtBot, batches: BatchList, context: DeskContext
) -> None:
    QTest.keyClick(batches, Qt.Key.Key_End)
    assert label_at(batches.currentIndex()) == "19-01"
    with qtbot.waitSignal(batches.batch_opened) as opened:
        QTest.keyClick(batches, Qt.Key.Key_Return)
    (past,) = context.door.journal.past_batches.all()
    assert opened.args == [past.uid]
    assert context.batch == past.uid
    assert batches.chosen == past.uid


# -------------------------------------------------------------------- folding


def test_left_goes_to_the_season_and_folds_it_and_right_unfolds(
    batches: BatchList, context: DeskContext, uid_of: UidOf
) -> None:
    QTest.keyClick(batches, Qt.Key.Key_Left)
    season = batches.currentIndex()
    assert label_at(season) is None
    assert batches.chosen == uid_of("26-05")
    QTest.keyClick(batches, Qt.Key.Key_Left)
    assert not batches.isExpanded(season)
    QTest.keyClick(batches, Qt.Key.Key_Right)
    assert batches.isExpanded(season)
    assert context.batch == uid_of("26-05")


def test_a_click_on_a_season_folds_it(batches: BatchList) -> None:
    season = batches.batches.index(0, 0)
    for expected in (False, True):
        QTest.mouseClick(batches.viewport(), LEFT, pos=middle(batches, season))
        assert batches.isExpanded(season) is expected


def test_enter_folds_a_season(batches: BatchList) -> None:
    QTest.keyClick(batches, Qt.Key.Key_Left)
    QTest.keyClick(batches, Qt.Key.Key_Return)
    assert not batches.isExpanded(batches.batches.index(0, 0))


def test_folds_and_cursor_survive_a_new_batch(
    batches: BatchList, context: DeskContext, uid_of: UidOf
) -> None:
    batches.collapse(batches.batches.index(1, 0))
    batch = context.door.journal.batches.get(uid_of("26-01"))
    context.door.run(lambda journal: journal.batches.delete(batch))
    assert label_at(batches.currentIndex()) == "26-05"
    assert not batches.isExpanded(batches.batches.index(1, 0))
    assert batches.isExpanded(batches.batches.index(0, 0))
    context.door.undo()
    assert batches.batches.index_of(uid_of("26-01")).isValid()
    assert label_at(batches.currentIndex()) == "26-05"


def test_a_deleted_batch_is_chosen_no_more(
    batches: BatchList, context: DeskContext, column: LeftColumn, uid_of: UidOf
) -> None:
    batch = context.door.journal.batches.get(uid_of("26-05"))
    context.choose_batch(None)
    context.door.run(lambda journal: journal.batches.delete(batch))
    assert batches.chosen is None
    assert column.first_batch == uid_of("26-04")


# -------------------------------------------------------------------- typing


@pytest.mark.parametrize(
    ("typed", "label"), [("pond", "26-04"), ("26-02", "26-02"), ("yard", "25-09"), ("05", "26-05")]
)
def test_typing_jumps_to_number_or_name(batches: BatchList, typed: str, label: str) -> None:
    QTest.keyClicks(batches, typed)
    assert label_at(batches.currentIndex()) == label


def test_the_same_letter_again_goes_on(batches: BatchList) -> None:
    passed = []
    for _ in range(3):
        QTest.keyClicks(batches, "o")
        passed.append(label_at(batches.currentIndex()))
    # Orchard hens, First of all, and round to the Orchard hens where it began.
    assert passed == ["26-01", "19-01", "26-05"]


# -------------------------------------------------------------------- renaming


def test_f2_renames_and_undo_takes_it_back(
    qtbot: QtBot, batches: BatchList, context: DeskContext, uid_of: UidOf
) -> None:
    QTest.keyClick(batches, Qt.Key.Key_F2)
    editor = editor_of(batches)
    assert editor.text() == "Orchard hens"
    assert editor.accessibleName() == "Name of batch 26-05"
    editor.selectAll()
    QTest.keyClicks(editor, "  Barn hens ")
    QTest.keyClick(editor, Qt.Key.Key_Return)
    find = context.door.journal.batches.get
    qtbot.waitUntil(lambda: find(uid_of("26-05")).name == "Barn hens")
    assert batches.currentIndex().data() == "26-05 Barn hens"
    context.door.undo()
    assert batches.currentIndex().data() == "26-05 Orchard hens"


def test_escape_leaves_the_name_as_it_was(
    qtbot: QtBot, batches: BatchList, context: DeskContext, uid_of: UidOf
) -> None:
    QTest.keyClick(batches, Qt.Key.Key_F2)
    QTest.keyClicks(editor_of(batches), "Barn hens")
    QTest.keyClick(editor_of(batches), Qt.Key.Key_Escape)
    qtbot.wait(1)
    assert context.door.journal.batches.get(uid_of("26-05")).name == "Orchard hens"
    assert context.door.saved_at is None


def test_an_unchanged_name_is_no_step(qtbot: QtBot, batches: BatchList, context: DeskContext) -> None:
    QTest.keyClick(batches, Qt.Key.Key_F2)
    QTest.keyClick(editor_of(batches), Qt.Key.Key_Return)
    qtbot.wait(1)
    assert context.door.saved_at is None


def test_a_refused_name_stays_in_the_field(
    qtbot: QtBot,
    batches: BatchList,
    context: DeskContext,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def full(*_args: object) -> None:
        raise DiskFullError("The disk is full.")

    monkeypatch.setattr(context.door.journal.batches, "rename", full)
    QTest.keyClick(batches, Qt.Key.Key_F2)
    editor_of(batches).selectAll()
    QTest.keyClicks(editor_of(batches), "Barn hens")
    with qtbot.waitSignal(context.door.refused):
        QTest.keyClick(editor_of(batches), Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: any(line.text() == "Barn hens" for line in batches.findChildren(QLineEdit)))


def test_counts_from_paper_can_be_renamed(qtbot: QtBot, batches: BatchList, context: DeskContext) -> None:
    QTest.keyClick(batches, Qt.Key.Key_End)
    QTest.keyClick(batches, Qt.Key.Key_F2)
    editor_of(batches).selectAll()
    QTest.keyClicks(editor_of(batches), "The very first")
    QTest.keyClick(editor_of(batches), Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: context.door.journal.past_batches.all()[0].name == "The very first")


# -------------------------------------------------------------------- deleting, menu


def test_del_asks_to_delete_the_batch_under_the_cursor(
    batches: BatchList, context: DeskContext, actions: Actions, uid_of: UidOf
) -> None:
    asked: list[str | None] = []
    actions["delete_batch"].triggered.connect(lambda: asked.append(context.batch))
    QTest.keyClick(batches, Qt.Key.Key_Up)
    QTest.keyClick(batches, Qt.Key.Key_Delete)
    assert asked == [uid_of("26-06")]


def test_the_menu_offers_what_can_be_done(
    qtbot: QtBot, batches: BatchList, actions: Actions, uid_of: UidOf
) -> None:
    menu = batches.menu_for(batches.batches.index_of(uid_of("26-05")).data(BATCH_ROLE))
    texts = [action.text() for action in menu.actions() if not action.isSeparator()]
    assert texts == [
        "Open",
        "Rename",
        "Copy as new batch",
        actions["close_batch"].text(),
        actions["delete_batch"].text(),
    ]
    assert actions["close_batch"] in menu.actions()
    with qtbot.waitSignal(batches.copy_wanted) as wanted:
        menu.actions()[2].trigger()
    assert wanted.args == [uid_of("26-05")]


def test_the_menu_of_a_closed_batch_reopens_it(batches: BatchList, actions: Actions, uid_of: UidOf) -> None:
    menu = batches.menu_for(batches.batches.index_of(uid_of("26-02")).data(BATCH_ROLE))
    assert actions["reopen_batch"] in menu.actions()
    assert actions["close_batch"] not in menu.actions()


def test_the_column_tells_that_a_copy_is_wanted(
    qtbot: QtBot, batches: BatchList, column: LeftColumn, uid_of: UidOf
) -> None:
    menu = batches.menu_for(batches.batches.index_of(uid_of("26-02")).data(BATCH_ROLE))
    with qtbot.waitSignal(column.copy_wanted) as wanted:
        menu.actions()[2].trigger()
    assert wanted.args == [uid_of("26-02")]


def test_in_a_journal_for_reading_f2_does_nothing(
    column: LeftColumn, batches: BatchList, context: DeskContext, actions: Actions
) -> None:
    path = context.door.journal.path
    context.door.take(None)
    context.door.take(Journal.open(path, read_only=True))
    context.choose_batch(column.first_batch)
    QTest.keyClick(batches, Qt.Key.Key_F2)
    assert batches.findChildren(QLineEdit) == []
