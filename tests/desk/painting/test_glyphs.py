"""Egg glyphs: one for every fate, told apart by shape, inside their place."""

from __future__ import annotations

import itertools
from collections.abc import Callable
from functools import partial
from typing import Any

import numpy as np
import pytest
from hatchbook.desk.painting import egg_living, egg_lost
from hatchbook.desk.painting.egg_layers import Drawing
from hatchbook.desk.painting.glyphs import drawing_for, paint_egg, stroke_width
from hatchbook.desk.theme.tokens import SCHEME_NAMES, SchemeName, load_scheme
from hatchbook.trade.codes import Fate
from PySide6.QtCore import QRectF
from PySide6.QtGui import QImage, QPainter
from PySide6.QtWidgets import QApplication

Pixels = np.ndarray[Any, np.dtype[np.uint8]]
Picture = Callable[..., Pixels]
Spilled = Callable[..., int]


def egg(fate: Fate, name: SchemeName) -> Callable[[QPainter, QRectF], None]:
    return partial(paint_egg, fate=fate, scheme=load_scheme(name))


def test_every_fate_has_one_drawing() -> None:
    assert set(egg_living.DRAWINGS) | set(egg_lost.DRAWINGS) == set(Fate)
    assert not set(egg_living.DRAWINGS) & set(egg_lost.DRAWINGS)


@pytest.mark.parametrize("name", SCHEME_NAMES)
@pytest.mark.parametrize("size", [14, 18, 28, 96])
def test_no_two_fates_look_alike_without_colour(picture: Picture, name: SchemeName, size: int) -> None:
    """Two glyphs differ clearly in lightness in at least a fiftieth of the field."""
    page = load_scheme(name).page
    grey = {}
    for fate in Fate:
        pixels = picture(egg(fate, name), size, size, page).astype(float)
        grey[fate] = pixels[:, :, :3] @ np.array([0.114, 0.587, 0.299])
    # The candling room's inks are dim and close to each other.
    clear_step = 12 if name == "candling" else 24
    close = {
        (a.value, b.value): share
        for a, b in itertools.combinations(Fate, 2)
        if (share := float((abs(grey[a] - grey[b]) > clear_step).mean())) < 0.02
    }
    assert close == {}


@pytest.mark.parametrize("fate", Fate)
def test_a_glyph_stays_in_its_place(spilled: Spilled, fate: Fate) -> None:
    sizes = [
        (10, 10),
        (12, 12),
        (18, 18),
        (22, 22),
        (28, 28),
        (56, 56),
        (96, 96),
        (200, 200),
        (30, 18),
        (18, 40),
    ]
    assert [size for size in sizes if spilled(egg(fate, "light"), *size)] == []


def test_a_glyph_is_centred_in_a_longer_place(picture: Picture) -> None:
    columns = np.flatnonzero(picture(egg(Fate.SET, "light"), 60, 20)[:, :, 3].any(axis=0))
    assert (columns[0] + columns[-1]) / 2 == pytest.approx(29.5, abs=1)


def test_a_place_without_size_is_left_alone(spilled: Spilled) -> None:
    assert spilled(egg(Fate.SET, "light"), 0, 10) == 0


def test_painting_leaves_the_painter_as_it_was(qapp: QApplication) -> None:
    image = QImage(40, 40, QImage.Format.Format_ARGB32)
    image.fill(0)
    with QPainter(image) as painter:
        before = (painter.transform(), painter.pen(), painter.brush(), painter.renderHints())
        paint_egg(painter, QRectF(3, 3, 30, 30), Fate.ALIVE, load_scheme("dark"))
        assert (painter.transform(), painter.pen(), painter.brush(), painter.renderHints()) == before


@pytest.mark.parametrize(
    ("size", "drawing"),
    [(8, Drawing.S), (22, Drawing.S), (23, Drawing.M), (56, Drawing.M), (57, Drawing.L), (300, Drawing.L)],
)
def test_the_drawing_follows_the_size(size: int, drawing: Drawing) -> None:
    assert drawing_for(size) is drawing


def test_lines_grow_with_the_glyph_but_slower() -> None:
    assert [stroke_width(size) for size in (12, 18, 32, 96)] == [1.05, 1.25, 1.5, 2.2]
    assert stroke_width(64) == pytest.approx(1.85)
    assert stroke_width(1000) == stroke_width(300) == 3.4
    widths = [stroke_width(size) for size in range(4, 300)]
    assert widths == sorted(widths)
