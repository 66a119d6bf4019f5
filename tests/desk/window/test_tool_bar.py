"""The tool bar keeps its measure in every scheme."""

from __future__ import annotations

from hatchbook.desk.actions import Actions
from hatchbook.desk.menus import build_tool_bar
from hatchbook.desk.theme.dress import scheme_style_sheet
from hatchbook.desk.theme.tokens import load_scheme
from PySide6.QtWidgets import QMainWindow, QToolButton
from pytestqt.qtbot import QtBot


def test_its_buttons_are_as_high_after_the_scheme_has_changed(qtbot: QtBot) -> None:
    window = QMainWindow()
    qtbot.addWidget(window)
    bar = build_tool_bar(window, Actions(window))
    window.addToolBar(bar)
    heights = []
    for name in ("light", "dark", "light"):
        window.setStyleSheet(scheme_style_sheet(load_scheme(name)))
        window.show()
        qtbot.wait(1)
        pages = bar.findChildren(QToolButton, "page")
        heights.append([(button.height(), button.sizeHint().height()) for button in pages])
    assert heights[0] == heights[1] == heights[2]
    assert all(height >= wanted for height, wanted in heights[0])
