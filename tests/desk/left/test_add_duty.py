"""Adding a duty of one's own, by keyboard."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime

import pytest
from hatchbook.desk.context import DeskContext
from hatchbook.desk.left.add_duty import AddDutyDialog
from hatchbook.desk.left.column import LeftColumn
from hatchbook.journal import DiskFullError, Duty
from hatchbook.trade.codes import DutyKind
from PySide6.QtCore import QDateTime, Qt, QTimeZone
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

UidOf = Callable[[str], str]
Open = Callable[[date], AddDutyDialog]


@pytest.fixture
def opened(qtbot: QtBot, column: LeftColumn, context: DeskContext) -> Open:
    def open_on(day: date) -> AddDutyDialog:
        context.choose_day(day)
        column.duties.add.click()
        (dialog,) = column.findChildren(AddDutyDialog)
        qtbot.waitUntil(dialog.isVisible)
        return dialog

    return open_on


def own_duties(context: DeskContext) -> list[Duty]:
    return [duty for duty in context.door.journal.duties.all() if duty.kind is DutyKind.OTHER]


def local(context: DeskContext, duty: Duty) -> str:
    return f"{datetime.fromtimestamp(duty.due_at, context.zone):%Y-%m-%d %H:%M}"


def test_typing_and_enter_add_it(
    qtbot: QtBot, opened: Open, context: DeskContext, column: LeftColumn, uid_of: UidOf
) -> None:
    dialog = opened(date(2026, 5, 20))
    QTest.keyClicks(dialog.text, " Buy salt ")
    QTest.keyClick(dialog.text, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: len(own_duties(context)) == 2)
    added = own_duties(context)[-1]
    assert (added.text, added.batch) == ("Buy salt", uid_of("26-05"))
    assert local(context, added) == "2026-05-20 18:00"
    rows = range(column.duties.list.duties.rowCount())
    assert "Buy salt" in [column.duties.list.duties.index(row).data() for row in rows]


def test_today_the_next_full_hour_is_offered(opened: Open, context: DeskContext) -> None:
    dialog = opened(context.today())
    assert datetime.fromtimestamp(dialog.at.instant(), context.zone).hour == 15
    dialog.reject()


def test_a_duty_without_words_is_asked_for(qtbot: QtBot, opened: Open, context: DeskContext) -> None:
    dialog = opened(date(2026, 5, 20))
    QTest.keyClicks(dialog.text, "   ")
    QTest.keyClick(dialog.text, Qt.Key.Key_Return)
    assert dialog.missing.text() == "Write what is to do."
    assert dialog.missing.isVisible()
    assert len(own_duties(context)) == 1
    QTest.keyClicks(dialog.text, "Buy salt")
    assert not dialog.missing.isVisible()
    dialog.reject()


def test_an_hour_that_the_clock_skips_is_refused_in_words(opened: Open, context: DeskContext) -> None:
    # In Lisbon the clocks go from 01:00 to 02:00 on 29 March 2026.
    dialog = opened(date(2026, 3, 29))
    QTest.keyClicks(dialog.text, "Buy salt")
    dialog.at.field.setDateTime(QDateTime(2026, 3, 29, 1, 30, 0, 0, QTimeZone(QTimeZone.Initialization.UTC)))
    QTest.keyClick(dialog.text, Qt.Key.Key_Return)
    assert dialog.note.isVisible()
    assert "01:30" in dialog.note.text()
    assert len(own_duties(context)) == 1
    dialog.reject()


def test_a_duty_can_be_of_no_batch(qtbot: QtBot, opened: Open, context: DeskContext) -> None:
    dialog = opened(date(2026, 5, 20))
    dialog.batch.setCurrentIndex(0)
    QTest.keyClicks(dialog.text, "Buy salt")
    dialog.add.click()
    assert own_duties(context)[-1].batch is None


def test_only_open_batches_are_offered(opened: Open) -> None:
    dialog = opened(date(2026, 5, 20))
    offered = [dialog.batch.itemText(row) for row in range(dialog.batch.count())]
    assert offered == [
        "No batch in particular",
        "26-06 Loft bantams",
        "26-05 Orchard hens",
        "26-04 Pond ducks",
    ]
    dialog.reject()


def test_what_was_typed_stays_when_the_journal_refuses(
    qtbot: QtBot, opened: Open, context: DeskContext, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_args: object) -> None:
        raise DiskFullError("The disk is full.")

    dialog = opened(date(2026, 5, 20))
    monkeypatch.setattr(context.door.journal.duties, "add", full)
    QTest.keyClicks(dialog.text, "Buy salt")
    with qtbot.waitSignal(context.door.refused):
        dialog.add.click()
    assert dialog.isVisible()
    assert dialog.text.text() == "Buy salt"
    dialog.reject()


def test_the_day_goes_along_when_the_duty_is_for_another(opened: Open, context: DeskContext) -> None:
    dialog = opened(date(2026, 5, 20))
    QTest.keyClicks(dialog.text, "Buy salt")
    dialog.at.field.setDateTime(QDateTime(2026, 5, 28, 7, 0, 0, 0, QTimeZone(QTimeZone.Initialization.UTC)))
    dialog.add.click()
    assert context.day == date(2026, 5, 28)


def test_escape_leaves_without_adding(opened: Open, context: DeskContext) -> None:
    dialog = opened(date(2026, 5, 20))
    QTest.keyClicks(dialog.text, "Buy salt")
    QTest.keyClick(dialog, Qt.Key.Key_Escape)
    assert len(own_duties(context)) == 1
