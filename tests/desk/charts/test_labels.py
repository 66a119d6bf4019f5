"""Labels: where two would touch, the lower-ranked gives way."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hatchbook.desk.charts.inks import Inks
from hatchbook.desk.charts.labels import Label, Room, place_labels
from hatchbook.desk.theme.tokens import load_scheme
from PySide6.QtCore import QPointF, QRectF
from PySide6.QtWidgets import QApplication


@pytest.fixture
def inks(qapp: QApplication) -> Inks:
    return Inks(load_scheme("light"), 1.0)


def room(*taken: QRectF) -> Room:
    return Room(QRectF(0, 0, 400, 200), list(taken))


def label(inks: Inks, text: str, rank: int, *points: QPointF, texts: list[str] | None = None) -> Label:
    return Label(texts or [text], "ink", inks.small, [(point, "right", "below") for point in points], rank)


def test_the_lower_rank_goes_where_two_would_touch(inks: Inks) -> None:
    here = QPointF(10, 10)
    placed = place_labels(
        [label(inks, "40–50, aim 45", 2, here), label(inks, "hold 40.1 %", 1, here)], room(), inks
    )
    assert [one.text for one in placed] == ["hold 40.1 %"]


def test_a_label_takes_its_next_place_before_it_goes(inks: Inks) -> None:
    placed = place_labels(
        [label(inks, "mean", 0, QPointF(10, 10)), label(inks, "band", 1, QPointF(12, 12), QPointF(10, 100))],
        room(),
        inks,
    )
    assert [(one.text, one.rect.top()) for one in placed] == [("mean", 10.0), ("band", 100.0)]


def test_it_says_less_where_it_is_narrow(inks: Inks) -> None:
    at_the_edge = QPointF(330, 10)
    (placed,) = place_labels(
        [label(inks, "", 0, at_the_edge, texts=["hold 40.1 %, ends on 46.2 %", "hold 40.1 %"])], room(), inks
    )
    assert placed.text == "hold 40.1 %"


def test_what_is_taken_stays_free(inks: Inks) -> None:
    assert place_labels([label(inks, "mean", 0, QPointF(10, 10))], room(QRectF(0, 0, 400, 50)), inks) == []


def test_nothing_leaves_the_room(inks: Inks) -> None:
    assert place_labels([label(inks, "mean so far", 0, QPointF(380, 10))], room(), inks) == []


def test_saying_less_comes_before_a_last_place(inks: Inks) -> None:
    narrow = label(inks, "", 0, QPointF(330, 10), texts=["hold 40.1 %, ends on 46.2 %", "hold 40.1 %"])
    (placed,) = place_labels(
        [replace(narrow, last_places=[(QPointF(0, 50), "right", "below")])], room(), inks
    )
    assert (placed.text, placed.rect.left()) == ("hold 40.1 %", 330.0)
    full = room(QRectF(250, 0, 150, 40))
    (placed,) = place_labels([replace(narrow, last_places=[(QPointF(0, 50), "right", "below")])], full, inks)
    assert (placed.text, placed.rect.left()) == ("hold 40.1 %, ends on 46.2 %", 0.0)
