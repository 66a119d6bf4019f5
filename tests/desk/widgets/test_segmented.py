"""A row of choices."""

from __future__ import annotations

import pytest
from hatchbook.desk.theme.theme import Theme
from hatchbook.desk.widgets.segmented import Segmented
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QWidget
from pytestqt.qtbot import QtBot


@pytest.fixture
def row(qtbot: QtBot, theme: Theme) -> Segmented:
    row = Segmented(
        [("batch", "Batch"), ("week", "Week"), ("hours", "48 h")], name="Time shown", current="week"
    )
    qtbot.addWidget(row)
    row.show()
    return row


@pytest.mark.parametrize(
    ("key", "expected"),
    [
        (Qt.Key.Key_Right, "hours"),
        (Qt.Key.Key_Down, "hours"),
        (Qt.Key.Key_Left, "batch"),
        (Qt.Key.Key_Up, "batch"),
        (Qt.Key.Key_Home, "batch"),
        (Qt.Key.Key_End, "hours"),
    ],
)
def test_arrows_choose_a_neighbour(qtbot: QtBot, row: Segmented, key: Qt.Key, expected: str) -> None:
    with qtbot.waitSignal(row.chosen, timeout=1000) as signal:
        qtbot.keyClick(row.segments()[1], key)
    assert signal.args == [expected]
    assert row.current() == expected
    row.hide()


def test_there_is_nothing_beyond_the_ends(qtbot: QtBot, row: Segmented) -> None:
    row.choose("hours")
    with qtbot.assertNotEmitted(row.chosen):
        qtbot.keyClick(row.segments()[2], Qt.Key.Key_Right)
    assert row.current() == "hours"
    row.hide()


def test_arrows_follow_the_writing_direction(qtbot: QtBot, row: Segmented) -> None:
    row.setLayoutDirection(Qt.LayoutDirection.RightToLeft)
    qtbot.keyClick(row.segments()[1], Qt.Key.Key_Left)
    assert row.current() == "hours"
    row.hide()


def test_a_click_chooses(qtbot: QtBot, row: Segmented) -> None:
    with qtbot.waitSignal(row.chosen, timeout=1000) as signal:
        qtbot.mouseClick(row.segments()[0], Qt.MouseButton.LeftButton)
    assert signal.args == ["batch"]
    assert [segment.isChecked() for segment in row.segments()] == [True, False, False]
    row.hide()


def test_choosing_by_program_is_silent(qtbot: QtBot, row: Segmented) -> None:
    with qtbot.assertNotEmitted(row.chosen):
        row.choose("batch")
    assert row.current() == "batch"
    with pytest.raises(KeyError):
        row.choose("year")
    row.hide()


def test_tab_reaches_the_chosen_one_only(qtbot: QtBot, theme: Theme) -> None:
    window, before, after = QWidget(), QLineEdit(), QLineEdit()
    row = Segmented([(1, "one"), (2, "two"), (3, "three")], name="Number", current=2)
    qtbot.addWidget(window)
    layout = QHBoxLayout(window)
    for widget in (before, row, after):
        layout.addWidget(widget)
    window.show()
    before.setFocus()
    assert before.nextInFocusChain() is not None
    reached = []
    widget = before
    while (widget := widget.nextInFocusChain()) is not after:
        if widget.focusPolicy() & Qt.FocusPolicy.TabFocus:
            reached.append(widget)
    assert reached == [row.segments()[1]]
    window.hide()


def test_screen_readers_hear_the_row_and_its_choices(row: Segmented) -> None:
    assert row.accessibleName() == "Time shown"
    interface = QAccessible.queryAccessibleInterface(row.segments()[1])
    assert interface.text(QAccessible.Text.Name) == "Week"
    assert interface.role() == QAccessible.Role.RadioButton
    assert interface.state().checked  # type: ignore[attr-defined]
    row.hide()


def test_words_are_not_cut(row: Segmented) -> None:
    for segment in row.segments():
        assert segment.width() >= segment.fontMetrics().horizontalAdvance(segment.text()) + 8
        assert segment.height() >= 24
    row.hide()


def test_a_row_without_choices_is_refused(qtbot: QtBot) -> None:
    with pytest.raises(ValueError, match="at least one"):
        Segmented([], name="Nothing")
