"""Flat buttons and links."""

from __future__ import annotations

import pytest
from hatchbook.desk.theme.theme import SchemeChoice, Theme
from hatchbook.desk.widgets.buttons import FlatButton, LinkButton
from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QAccessible, QAction, QImage
from pytestqt.qtbot import QtBot


@pytest.fixture
def candle(qtbot: QtBot) -> QAction:
    action = QAction("&Candle…")
    action.setShortcut("F6")
    return action


def picture_of(button: FlatButton) -> QImage:
    return button.icon().pixmap(QSize(18, 18)).toImage()


def test_a_button_shows_its_action(qtbot: QtBot, theme: Theme, candle: QAction) -> None:
    button = FlatButton(candle, icon_name="candle")
    qtbot.addWidget(button)
    assert button.accessibleName() == "Candle"
    assert "F6" in button.toolTip()
    assert button.toolButtonStyle() == Qt.ToolButtonStyle.ToolButtonTextBesideIcon
    with qtbot.waitSignal(candle.triggered, timeout=1000):
        button.click()


def test_a_button_follows_its_action(qtbot: QtBot, theme: Theme, candle: QAction) -> None:
    button = FlatButton(candle, icon_name="candle")
    qtbot.addWidget(button)
    before = picture_of(button)
    candle.setEnabled(False)
    candle.setText("Candle &again")
    assert not button.isEnabled()
    assert button.accessibleName() == "Candle again"
    assert picture_of(button) == before


@pytest.mark.parametrize("key", [Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space])
def test_enter_and_space_press(qtbot: QtBot, theme: Theme, candle: QAction, key: Qt.Key) -> None:
    button = FlatButton(candle)
    qtbot.addWidget(button)
    with qtbot.waitSignal(candle.triggered, timeout=1000):
        qtbot.keyClick(button, key)


def test_the_icon_is_tinted_anew_for_another_scheme(qtbot: QtBot, theme: Theme) -> None:
    button = FlatButton("Note", icon_name="note")
    qtbot.addWidget(button)
    button.show()
    light = picture_of(button)
    theme.choose(SchemeChoice.DARK)
    assert picture_of(button) != light
    theme.choose(SchemeChoice.LIGHT)
    assert picture_of(button) == light
    button.hide()


def test_a_button_is_large_enough_to_hit(qtbot: QtBot, theme: Theme) -> None:
    button = FlatButton("‹")
    qtbot.addWidget(button)
    assert button.sizeHint().height() >= 24
    assert button.sizeHint().width() >= 24


def test_a_link_is_followed_by_mouse_and_keys(qtbot: QtBot, theme: Theme) -> None:
    link = LinkButton("all 19 lines")
    qtbot.addWidget(link)
    for act in (
        lambda: qtbot.mouseClick(link, Qt.MouseButton.LeftButton),
        lambda: qtbot.keyClick(link, Qt.Key.Key_Return),
        lambda: qtbot.keyClick(link, Qt.Key.Key_Space),
    ):
        with qtbot.waitSignal(link.clicked, timeout=1000):
            act()


def test_a_link_reads_as_it_is_written(qtbot: QtBot, theme: Theme) -> None:
    link = LinkButton("Wash & dry")
    qtbot.addWidget(link)
    assert link.label() == "Wash & dry"
    interface = QAccessible.queryAccessibleInterface(link)
    assert interface.text(QAccessible.Text.Name) == "Wash & dry"
    assert interface.role() == QAccessible.Role.Button


def test_the_keyboards_place_is_seen(qtbot: QtBot, theme: Theme) -> None:
    link = LinkButton("all 19 lines")
    qtbot.addWidget(link)
    link.show()
    qtbot.waitExposed(link)
    link.clearFocus()
    before = link.grab().toImage()
    link.setFocus()
    link.activateWindow()
    qtbot.waitUntil(link.hasFocus, timeout=1000)
    assert link.grab().toImage() != before
    link.hide()
