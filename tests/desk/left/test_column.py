"""The left column as a whole: sizes, time, journals, and how it looks."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime

import pytest
from hatchbook.desk import settings
from hatchbook.desk.actions import Actions
from hatchbook.desk.context import DeskContext
from hatchbook.desk.left.batch_model import BATCH_ROLE
from hatchbook.desk.left.column import LeftColumn
from hatchbook.desk.left.duties_model import LINE_ROLE
from hatchbook.desk.theme.theme import SchemeChoice, Theme
from hatchbook.journal import Event, Journal
from hatchbook.trade.codes import EventKind
from PySide6.QtCore import QPoint
from PySide6.QtGui import QColor, QFont, QImage
from PySide6.QtWidgets import QApplication, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

UidOf = Callable[[str], str]


def colours(image: QImage) -> set[str]:
    return {image.pixelColor(x, y).name() for x in range(image.width()) for y in range(image.height())}


# -------------------------------------------------------------------- sizes


@pytest.mark.parametrize(("height", "cell", "duties"), [(769, 31, 178), (609, 29, 106)])
def test_the_rows_share_the_height_of_the_window(
    qtbot: QtBot, column: LeftColumn, height: int, cell: int, duties: int
) -> None:
    column.resize(276, height)
    assert column.calendar.grid.rowHeight(0) == cell
    qtbot.waitUntil(lambda: abs(column.sizes()[2] - duties) <= 1)
    assert column.batches.list.viewport().height() >= 3 * 46


def test_the_calendar_keeps_its_height(column: LeftColumn) -> None:
    before = column.calendar.height()
    column.setSizes([100, 500, 100])
    assert column.calendar.height() == before


@pytest.mark.parametrize("width", [236, 250, 276, 360])
def test_nothing_is_wider_than_the_column(qtbot: QtBot, column: LeftColumn, width: int) -> None:
    column.resize(width, 769)
    qtbot.wait(1)
    assert column.minimumSizeHint().width() <= 236
    for widget in column.findChildren(QWidget):
        if widget.isVisible():
            left = widget.mapTo(column, QPoint(0, 0)).x()
            assert left + widget.width() <= width


def test_sizes_are_kept(qtbot: QtBot, column: LeftColumn, context: DeskContext, actions: Actions) -> None:
    column.setSizes([250, column.calendar.height(), 269])
    column.splitterMoved.emit(250, 1)
    kept = column.sizes()
    assert context.settings.get(settings.LEFT_ROWS)
    again = LeftColumn(context, actions)
    qtbot.addWidget(again)
    again.resize(276, 769)
    again.show()
    qtbot.waitUntil(lambda: again.sizes() == kept)


def test_larger_type_gets_more_room(qtbot: QtBot, qapp: QApplication, column: LeftColumn) -> None:
    usual = QFont(qapp.font())
    rows = column.batches.list
    before = rows.visualRect(rows.batches.first_batch()).height()
    larger = QFont(usual)
    larger.setPointSizeF(usual.pointSizeF() * 1.5)
    try:
        qapp.setFont(larger)
        qtbot.wait(1)
        rows.scheduleDelayedItemsLayout()
        qtbot.waitUntil(lambda: rows.visualRect(rows.batches.first_batch()).height() > before)
    finally:
        qapp.setFont(usual)


# -------------------------------------------------------------------- following


def test_a_reading_leaves_the_batch_list_alone(
    column: LeftColumn, context: DeskContext, uid_of: UidOf, monkeypatch: pytest.MonkeyPatch
) -> None:
    read: list[bool] = []
    monkeypatch.setattr(column.batches, "reload", lambda: read.append(True))
    event = Event(context.now(), EventKind.NOTE, batch=uid_of("26-05"), text="warm today")
    context.door.run(lambda journal: journal.events.add(event))
    assert read == []
    batch = context.door.journal.batches.get(uid_of("26-05"))
    context.door.run(lambda journal: journal.batches.rename(batch, "Barn hens"))
    assert read == [True]


def test_another_journal_shows_its_own_batches(
    column: LeftColumn, context: DeskContext, tmp_path: object, clock: object
) -> None:
    context.choose_day(date(2020, 1, 1))
    path = context.door.journal.path.with_name("Empty.hatchbook")
    context.door.take(Journal.create(path, time_zone="Pacific/Auckland", clock=clock))  # type: ignore[arg-type]
    assert not column.has_batches
    # 14:10 in Lisbon is already the next day in Auckland.
    assert context.day == date(2026, 5, 15)
    assert column.duties.list.duties.rowCount() == 0


def test_time_goes_on(column: LeftColumn, context: DeskContext, clock: object) -> None:
    def day_of_the_hens() -> float:
        return float(column.batches.list.batches.index_of(context.batch).data(BATCH_ROLE).day)

    clock.now += 86_400  # type: ignore[attr-defined]
    before = day_of_the_hens()
    column.follow_clock()
    assert context.day == date(2026, 5, 15)
    assert day_of_the_hens() == pytest.approx(before + 1)


def test_time_goes_on_without_leaving_another_day(
    column: LeftColumn, context: DeskContext, clock: object
) -> None:
    context.choose_day(date(2026, 5, 20))
    clock.now += 86_400  # type: ignore[attr-defined]
    column.follow_clock()
    assert context.day == date(2026, 5, 20)


def test_a_duty_falls_due_while_the_window_is_open(
    column: LeftColumn, context: DeskContext, clock: object
) -> None:
    def overdue() -> int:
        duties = column.duties.list.duties
        return sum(duties.index(row).data(LINE_ROLE).overdue for row in range(duties.rowCount()))

    before = overdue()
    now = datetime.fromtimestamp(context.now(), context.zone)
    clock.now = now.replace(hour=23, minute=30).timestamp()  # type: ignore[attr-defined]
    column.follow_clock()
    assert overdue() > before


@pytest.mark.parametrize("region", ["batches", "calendar", "duties"])
def test_a_region_of_a_folded_column_is_reached(
    qtbot: QtBot, column: LeftColumn, actions: Actions, region: str
) -> None:
    target = {
        "batches": column.batches.list,
        "calendar": column.calendar.grid,
        "duties": column.duties.list,
    }[region]
    window = QWidget()
    qtbot.addWidget(window)
    QVBoxLayout(window).addWidget(column)
    window.show()
    folding = actions["fold_left"]
    folding.triggered.connect(lambda: column.setVisible(folding.isChecked()))
    folding.setChecked(False)
    column.hide()
    getattr(column, f"focus_{region}")()
    assert column.isVisible()
    assert window.focusWidget() is target
    column.setParent(None)


def test_tab_goes_down_the_column(qtbot: QtBot, column: LeftColumn) -> None:
    order = [
        column.batches.find_line,
        column.batches.list,
        column.calendar.before,
        column.calendar.today,
        column.calendar.after,
        column.calendar.grid,
        column.duties.add,
        column.duties.list,
    ]
    widget: QWidget = column.batches.find_line
    passed = []
    for _ in range(60):
        if widget in order and widget not in passed:
            passed.append(widget)
        widget = widget.nextInFocusChain()
    assert passed == order


# -------------------------------------------------------------------- looks


@pytest.mark.parametrize("choice", [SchemeChoice.LIGHT, SchemeChoice.DARK])
def test_the_column_wears_the_scheme(
    qtbot: QtBot, column: LeftColumn, theme: Theme, choice: SchemeChoice
) -> None:
    theme.choose(choice)
    qtbot.wait(1)
    seen = colours(column.grab().toImage())
    scheme = theme.scheme
    for role in ("page", "inset", "select", "accent", "live", "ink", "rule"):
        assert scheme.hex(role) in seen, role


def test_an_overdue_time_is_red_and_flagged(qtbot: QtBot, column: LeftColumn, theme: Theme) -> None:
    bad = theme.scheme.bad
    listed = column.duties.list
    image = listed.viewport().grab().toImage()
    late = listed.visualRect(listed.duties.first_open())

    def red_in(left: int, right: int) -> bool:
        pixels = (
            image.pixelColor(x, y) for x in range(left, right) for y in range(late.top(), late.bottom())
        )
        return any(_near(pixel, bad) for pixel in pixels)

    assert red_in(30, 70), "the time"
    assert red_in(late.width() // 2, late.right() - 10), "the flag"


def test_a_planned_batch_has_no_needle_and_a_running_one_has(
    column: LeftColumn, theme: Theme, uid_of: UidOf
) -> None:
    listed = column.batches.list
    image = listed.viewport().grab().toImage()

    def accent_in(label: str) -> int:
        rect = listed.visualRect(listed.batches.index_of(uid_of(label)))
        y = rect.top() + 34
        return sum(image.pixelColor(x, y) == theme.scheme.accent for x in range(14, rect.width() - 10))

    assert accent_in("26-06") == 0
    running, later = accent_in("26-05"), accent_in("26-04")
    # Day 11 of 21 and day 24 of 28.
    assert 0.4 < running / later < 0.8


def _near(one: QColor, other: QColor) -> bool:
    return (
        abs(one.red() - other.red()) + abs(one.green() - other.green()) + abs(one.blue() - other.blue()) < 60
    )
