"""Marks of duties and events: one for every kind, told apart by shape."""

from __future__ import annotations

import itertools
from collections.abc import Callable
from enum import StrEnum
from functools import partial
from math import hypot
from typing import Any

import numpy as np
import pytest
from hatchbook.desk.painting.marks import duty_mark, event_mark, event_role, paint_mark
from hatchbook.desk.theme.tokens import load_scheme
from hatchbook.trade.codes import DutyKind, EventKind
from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QPainter, QPainterPath

Pixels = np.ndarray[Any, np.dtype[np.uint8]]
Picture = Callable[..., Pixels]
Spilled = Callable[..., int]


ALL_MARKS = [
    *((kind, duty_mark(kind)) for kind in DutyKind),
    *((kind, event_mark(kind)) for kind in EventKind),
]
INK = QColor("#102030")


def draw(painter: QPainter, rect: QRectF, mark: QPainterPath, filled: bool) -> None:
    paint_mark(painter, mark, rect.center(), rect.width(), INK, filled=filled)


@pytest.mark.parametrize("filled", [True, False])
@pytest.mark.parametrize("kinds", [DutyKind, EventKind])
@pytest.mark.parametrize("size", [8, 12, 36])
def test_no_two_kinds_look_alike(picture: Picture, kinds: type[StrEnum], size: int, filled: bool) -> None:
    marks = {kind: mark for kind, mark in ALL_MARKS if isinstance(kind, kinds)}
    assert set(marks) == set(kinds)
    seen = {
        kind: picture(partial(draw, mark=mark, filled=filled), size, size) for kind, mark in marks.items()
    }
    close = {
        (a.value, b.value): share
        for a, b in itertools.combinations(seen, 2)
        if (share := float((abs(seen[a][:, :, 3].astype(int) - seen[b][:, :, 3]) > 40).mean())) < 0.05
    }
    assert close == {}


@pytest.mark.parametrize("filled", [True, False])
@pytest.mark.parametrize(("kind", "mark"), ALL_MARKS)
def test_a_mark_stays_in_its_place(spilled: Spilled, kind: StrEnum, mark: QPainterPath, filled: bool) -> None:
    assert [
        size for size in (7, 8, 12, 24, 60) if spilled(partial(draw, mark=mark, filled=filled), size, size)
    ] == []


@pytest.mark.parametrize(("kind", "mark"), ALL_MARKS)
def test_a_mark_lies_in_the_unit_field(kind: StrEnum, mark: QPainterPath) -> None:
    bounds = mark.boundingRect()
    assert QRectF(-0.501, -0.501, 1.002, 1.002).contains(bounds)
    assert max(bounds.width(), bounds.height()) > 0.85


def test_small_curves_are_not_flattened() -> None:
    """Put together in the unit field, a ring becomes a polygon of a handful of corners."""
    ring = duty_mark(DutyKind.CANDLE)
    corners = [ring.elementAt(index) for index in range(ring.elementCount())]
    outer = [hypot(corner.x, corner.y) for corner in corners if hypot(corner.x, corner.y) > 0.35]
    assert len(outer) >= 24
    assert outer == pytest.approx([0.5] * len(outer), abs=0.005)


def test_marks_are_shared_not_rebuilt() -> None:
    assert duty_mark(DutyKind.HATCH) is duty_mark(DutyKind.HATCH)


def test_event_colours_are_roles() -> None:
    for kind in EventKind:
        assert load_scheme("light").colour(event_role(kind)).isValid()
