"""Eggs by the day they were lost or hatched: where they stand, and what is told of them."""

from __future__ import annotations

import pytest
from hatchbook.desk.pages.day_bins import Lane, best_bins, span_rows
from hatchbook.desk.pages.day_stacks import DayStacks
from hatchbook.desk.words.by_day import stack_text
from hatchbook.figures.by_day import DayStack
from hatchbook.trade.codes import Fate
from PySide6.QtCore import QPointF
from pytestqt.qtbot import QtBot

LANES = (Lane(0.0, 18.0, 12.0, 160.0), Lane(18.0, 22.0, 190.0, 160.0))
EARLY = DayStack(3.0, 7.0, ((Fate.EARLY_DEAD, 2),))
PIPPED = DayStack(18.6, 22.0, ((Fate.PIPPED_DEAD, 3),))
LATE = DayStack(19.9, 22.0, ((Fate.LATE_DEAD, 1),))
OUT = DayStack(21.5, 21.5, ((Fate.HATCHED, 5), (Fate.HELPED, 1)))


def test_a_stack_tells_its_day_or_its_span(qapp: object) -> None:
    assert stack_text(OUT) == "day 21.5: 5 hatched, 1 helped out"
    assert stack_text(PIPPED) == "day 18.6 to 22.0: 3 died in pip"


def test_spans_that_overlap_lie_in_rows_of_their_own() -> None:
    assert span_rows([OUT, EARLY, LATE, PIPPED]) == [[EARLY, PIPPED], [LATE]]
    assert span_rows([OUT]) == []


def test_of_very_many_spans_none_is_left_out() -> None:
    spans = [DayStack(0.1 * n, 20.0, ((Fate.LATE_DEAD, 1),)) for n in range(30)]
    rows = span_rows(spans)
    assert len(rows) == 4
    assert sum(len(row) for row in rows) == 30


@pytest.mark.parametrize("eggs", [1, 24, 500])
def test_every_egg_stands_in_a_bin_that_knows_its_stack(eggs: int) -> None:
    stacks = [DayStack(21.0, 21.0, ((Fate.HATCHED, eggs),))]
    side, bins = best_bins(stacks, LANES, 210.0, 22, 8)
    assert all(one.rows * side <= 210 for one in bins)
    assert sum(len(one.eggs) for one in bins) == eggs
    assert [one.stacks for one in bins] == [(stacks[0],)]


@pytest.fixture
def stacks(qtbot: QtBot) -> DayStacks:
    view = DayStacks()
    qtbot.addWidget(view)
    view.resize(380, 270)
    view.show_stacks([EARLY, LATE, PIPPED, OUT], 18.0, 21.0)
    view.grab()
    return view


def test_a_stack_that_is_pointed_at_says_what_it_is_of(stacks: DayStacks) -> None:
    told = {
        stacks.text_at(QPointF(x, y))
        for x in range(0, stacks.width(), 3)
        for y in range(0, stacks.height(), 3)
    }
    lines = {line for text in told for line in text.splitlines()}
    assert lines == {stack_text(one) for one in (EARLY, LATE, PIPPED, OUT)}
    assert stacks.text_at(QPointF(200, 4)) == ""


def test_it_is_told_aloud_with_its_spans(stacks: DayStacks) -> None:
    assert "day 18.6 to 22.0: 3 died in pip" in stacks.accessibleDescription()


def test_no_stacks_leave_an_empty_lane(stacks: DayStacks) -> None:
    stacks.show_stacks([], 18.0, 21.0)
    stacks.grab()
    assert stacks.accessibleDescription() == ""
    assert stacks.text_at(QPointF(100, 100)) == ""
