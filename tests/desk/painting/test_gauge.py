"""The gauge."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any

import numpy as np
import pytest
from hatchbook.desk.painting.gauge import GaugeMark, GaugeScale, MarkKind, gauge_height, paint_gauge
from hatchbook.desk.theme.tokens import load_scheme
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from PySide6.QtCore import QLocale, QRectF
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QApplication

Pixels = np.ndarray[Any, np.dtype[np.uint8]]
Columns = np.ndarray[Any, np.dtype[np.intp]]
Draw = Callable[[QPainter, QRectF], None]
Picture = Callable[..., Pixels]
Spilled = Callable[..., int]


LIGHT = load_scheme("light")
WIDTH = 216  # 8 px at each end, so 200 px for the scale


def gauge(scale: GaugeScale, *marks: GaugeMark) -> Draw:
    font = role_font(TypeRole.CAPTION)
    return partial(
        paint_gauge, scale=scale, marks=marks, scheme=LIGHT, font=font, locale=QLocale(QLocale.Language.C)
    )


def columns_of(pixels: Pixels, role: str) -> Columns:
    colour = LIGHT.colour(role)
    match = (pixels[:, :, :3] == (colour.blue(), colour.green(), colour.red())).all(axis=2)
    return np.flatnonzero(match.any(axis=0))


def test_the_dot_lies_at_its_value(picture: Picture) -> None:
    columns = columns_of(picture(gauge(GaugeScale(0, 100), GaugeMark(75)), WIDTH, 30, LIGHT.page), "water")
    assert columns.mean() == pytest.approx(8 + 150, abs=1)


def test_the_bar_reaches_from_low_to_high(picture: Picture) -> None:
    drawing = gauge(GaugeScale(0, 100), GaugeMark(50, 30, 80))
    columns = columns_of(picture(drawing, WIDTH, 30, LIGHT.page), "water")
    assert (columns.min(), columns.max()) == pytest.approx((8 + 60, 8 + 160), abs=1)


def test_the_band_lies_behind(picture: Picture) -> None:
    pixels = picture(gauge(GaugeScale(30, 60, band=(40, 50))), WIDTH, 30, LIGHT.page)
    columns = columns_of(pixels, "band")
    assert (columns.min(), columns.max()) == pytest.approx((8 + 200 / 3, 8 + 400 / 3), abs=1.5)


def test_a_forecast_is_an_open_dot(picture: Picture) -> None:
    now = picture(gauge(GaugeScale(0, 100), GaugeMark(50)), WIDTH, 30, LIGHT.page)
    forecast = picture(
        gauge(GaugeScale(0, 100), GaugeMark(50, kind=MarkKind.FORECAST)), WIDTH, 30, LIGHT.page
    )
    middle = (LIGHT.page.blue(), LIGHT.page.green(), LIGHT.page.red())
    assert tuple(forecast[11, 108, :3]) == middle
    assert tuple(now[11, 108, :3]) != middle


@pytest.mark.parametrize("kind", [MarkKind.LOW, MarkKind.HIGH])
def test_what_lies_outside_by_more_than_chance_has_another_shape_and_colour(
    picture: Picture, kind: MarkKind
) -> None:
    pixels = picture(gauge(GaugeScale(0, 100), GaugeMark(50, 40, 60, kind)), WIDTH, 30, LIGHT.page)
    assert len(columns_of(pixels, "bad")) > 35
    assert len(columns_of(pixels, "water")) == 0


def test_low_and_high_point_different_ways(picture: Picture) -> None:
    low, high = (
        picture(gauge(GaugeScale(0, 100), GaugeMark(50, kind=kind)), WIDTH, 30, LIGHT.page)
        for kind in (MarkKind.LOW, MarkKind.HIGH)
    )
    assert (low != high).any()


@pytest.mark.parametrize(("value", "end"), [(-40, 8), (500, 208)])
def test_a_mark_beyond_the_scale_waits_at_its_end(
    picture: Picture, spilled: Spilled, value: float, end: int
) -> None:
    drawing = gauge(GaugeScale(0, 100), GaugeMark(value))
    columns = columns_of(picture(drawing, WIDTH, 30, LIGHT.page), "water")
    assert abs(columns - end).max() <= 8
    assert spilled(drawing, WIDTH, 30) == 0


def test_the_gauge_stays_in_its_place(spilled: Spilled) -> None:
    scale = GaugeScale(5, 15, (5, 7, 9, 11, 13, 15), (11, 13), aim=12, reference=9)
    for width in (40, 90, WIDTH):
        assert (
            spilled(gauge(scale, GaugeMark(6.8), GaugeMark(11.5, 10.9, 12.1, MarkKind.FORECAST)), width, 30)
            == 0
        )


def test_tick_labels_never_touch(picture: Picture) -> None:
    ticks = tuple(float(tick) for tick in range(0, 101, 5))
    crowded = picture(gauge(GaugeScale(0, 100, ticks)), 120, 30, LIGHT.page)
    inked = (crowded[17:, :, :3] != crowded[29, 0, :3]).any(axis=(0, 2))
    runs = np.flatnonzero(~inked)
    assert (np.diff(runs) < 22).all(), "a run of ink as long as several labels"


def test_a_scale_without_length_is_refused() -> None:
    with pytest.raises(ValueError, match="lower to a higher"):
        GaugeScale(5, 5)


def test_room_for_tick_labels_only_where_there_are_ticks(qapp: QApplication) -> None:
    font = role_font(TypeRole.CAPTION)
    assert gauge_height(font, GaugeScale(0, 1)) < gauge_height(font, GaugeScale(0, 1, (0, 1)))
