"""A line that has no room for its text shows the longest of the shorter ones that fits."""

from __future__ import annotations

from hatchbook.desk.widgets.labels import ElidedLabel
from pytestqt.qtbot import QtBot

TEXTS = ("others 77 %; low, 1 in 40 by chance", "others 77 %; low, 1 in 40", "low, 1 in 40")


def label(qtbot: QtBot) -> ElidedLabel:
    made = ElidedLabel(TEXTS[0])
    made.set_shorter(*TEXTS[1:])
    qtbot.addWidget(made)
    return made


def test_the_longest_that_fits_is_shown_and_the_full_text_stays_its_text(qtbot: QtBot) -> None:
    made = label(qtbot)
    for text in TEXTS:
        made.resize(made.fontMetrics().horizontalAdvance(text) + 1, 20)
        assert made._shown() == text
    made.resize(10, 20)
    assert made._shown() == TEXTS[-1]
    assert made.text() == TEXTS[0]


def test_without_shorter_texts_the_full_one_is_cut(qtbot: QtBot) -> None:
    made = label(qtbot)
    made.set_shorter()
    made.resize(10, 20)
    assert made._shown() == TEXTS[0]
    assert made.is_elided()
