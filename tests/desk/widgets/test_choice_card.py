"""Large buttons for ways to begin."""

from __future__ import annotations

import pytest
from hatchbook.desk.theme.theme import Theme
from hatchbook.desk.widgets.choice_card import ChoiceCard
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from pytestqt.qtbot import QtBot


@pytest.fixture
def card(qtbot: QtBot, theme: Theme) -> ChoiceCard:
    made = ChoiceCard("New batch", "Plan the hatch, or set eggs now", "Ctrl+N", "newbatch")
    qtbot.addWidget(made)
    return made


@pytest.mark.parametrize("key", [Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space])
def test_the_keyboard_chooses_it(qtbot: QtBot, card: ChoiceCard, key: Qt.Key) -> None:
    with qtbot.waitSignal(card.clicked, timeout=1000):
        qtbot.keyClick(card, key)


def test_a_screen_reader_hears_title_explanation_and_key(card: ChoiceCard) -> None:
    spoken = QAccessible.queryAccessibleInterface(card)
    assert spoken.text(QAccessible.Text.Name) == "New batch"
    assert spoken.text(QAccessible.Text.Description) == "Plan the hatch, or set eggs now Ctrl+N"


def test_an_explanation_that_is_cut_is_whole_in_the_tip(qtbot: QtBot, card: ChoiceCard) -> None:
    card.resize(card.sizeHint())
    card.grab()
    assert card.toolTip() == ""
    card.resize(190, card.sizeHint().height())
    card.grab()
    assert card.toolTip() == "Plan the hatch, or set eggs now"
