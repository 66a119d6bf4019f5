"""What can be chosen in the head of the Seasons page."""

from __future__ import annotations

import pytest
from hatchbook.desk.seasons.header import SeasonsHeader
from hatchbook.desk.seasons.kept_question import kept_question, question_text
from hatchbook.figures.comparison_results import Question
from hatchbook.figures.comparison_rows import Grouping
from hatchbook.statistics.tallies import RateKind
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox
from pytestqt.qtbot import QtBot
from tests.desk.seasons.made_up import figures


@pytest.fixture
def header(qtbot: QtBot) -> SeasonsHeader:
    header = SeasonsHeader()
    qtbot.addWidget(header)
    header.show_figures(figures(seasons_known=(2021, 2022, 2023, 2024, 2025)))
    return header


def choose(qtbot: QtBot, combo: QComboBox, text: str) -> None:
    """As with the keyboard."""
    row = combo.findText(text)
    assert row >= 0, text
    while combo.currentIndex() != row:
        down = combo.currentIndex() < row
        qtbot.keyClick(combo, Qt.Key.Key_Down if down else Qt.Key.Key_Up)


def test_every_choice_asks_anew(header: SeasonsHeader, qtbot: QtBot) -> None:
    asked: list[Question] = []
    header.asked.connect(asked.append)
    choose(qtbot, header.outcome, "Hatched, of set")
    assert asked[-1].outcome is RateKind.HATCH_OF_SET
    choose(qtbot, header.species, "All species")
    assert asked[-1].species is None
    choose(qtbot, header.seasons, "The last 3 season(s)")
    assert asked[-1].seasons == (2023, 2025)
    choose(qtbot, header.seasons, "2022")
    assert asked[-1].seasons == (2022, 2022)
    choose(qtbot, header.second, "nothing else")
    assert asked[-1].groupings == (Grouping.PEN,)
    assert header.question == asked[-1]


def test_the_same_grouping_twice_changes_places_or_stands_once(header: SeasonsHeader) -> None:
    asked: list[Question] = []
    header.asked.connect(asked.append)
    header.first.setCurrentIndex(header.first.findText("Season"))
    header.first.activated.emit(header.first.currentIndex())
    assert asked[-1].groupings == (Grouping.SEASON, Grouping.PEN)
    header.second.setCurrentIndex(header.second.findText("Season"))
    header.second.activated.emit(header.second.currentIndex())
    assert asked[-1].groupings == (Grouping.SEASON,)
    assert header.second.currentIndex() == 0


def test_it_says_what_was_compared_and_that_it_compares(header: SeasonsHeader) -> None:
    assert header.facts.text().startswith("4 finished batch(es): 120")
    header.show_busy(busy=True)
    assert header.busy.text() == "comparing…"
    header.show_busy(busy=False)
    assert header.busy.text() == ""
    header.show_figures(figures(batches=0, points=(), limits=None))
    assert not header.export.isEnabled()
    assert not header.picture.isEnabled()


def test_the_question_asked_last_is_read_back_and_nonsense_is_not(header: SeasonsHeader) -> None:
    del header
    asked = Question(groupings=(Grouping.EGG_AGE,), outcome=RateKind.EARLY_DEAD)
    assert kept_question(question_text(asked)) == asked
    for text in ("", "nonsense", "fertility:", "fertility:pen,pen", "fertility:pen,dam,season"):
        assert kept_question(text) == Question()


def test_a_question_has_one_or_two_groupings() -> None:
    for groupings in ((), (Grouping.PEN, Grouping.PEN), (Grouping.PEN, Grouping.DAM, Grouping.MONTH)):
        with pytest.raises(ValueError, match="one or two different groupings"):
            Question(groupings=groupings)
