"""The labels of the weight row: the latest mean, where it is heading, the corridor, what the thin lines are."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

import numpy as np
from PySide6.QtCore import QCoreApplication, QPointF

from hatchbook.desk.charts.inks import Inks
from hatchbook.desk.charts.labels import Label
from hatchbook.desk.words.dates import weekday_date
from hatchbook.desk.words.numbers import number, percent, plus_minus
from hatchbook.desk.words.weights import corridor_text, estimate_text
from hatchbook.figures.weight_results import (
    HoldAdvice,
    LossPath,
    LossTarget,
    WeighedPoint,
    WeightBasis,
    WeightForecast,
)

if TYPE_CHECKING:
    from hatchbook.desk.charts.material import BatchMaterial
    from hatchbook.desk.charts.weight_row import WeightRow

_MEAN, _AHEAD, _HELD, _CORRIDOR, _NOTE = range(5)
_AIR, _LINE_AIR = 6.0, 5.0


def _tr(text: str, count: int = -1) -> str:
    return QCoreApplication.translate("Chart", text, "", count)


def weight_labels(row: WeightRow, material: BatchMaterial, inks: Inks) -> Iterator[Label]:
    """Every label that wants a place."""
    weight, target = material.weight, material.loss_target
    if weight is not None and weight.weighings:
        right = [point for point in weight.weighings if not point.odd]
        yield _latest(row, (right or weight.weighings)[-1], inks)
        for point in weight.weighings:
            if point.odd:
                yield _odd(row, point, inks)
    if weight is not None and weight.at_target is not None and weight.path_ahead is not None:
        yield _ahead(row, weight, inks)
    if weight is not None and weight.advice is not None and material.path_held is not None:
        yield from _held(row, weight.advice, material.path_held, inks)
    if target is not None:
        yield _corridor(row, target, inks)
    yield from _notes(row, weight, inks)


def _latest(row: WeightRow, point: WeighedPoint, inks: Inks) -> Label:
    loss = percent(point.mean)
    texts = [_tr("{loss} on day {day}").format(loss=loss, day=number(point.day, 0)), loss]
    x, y = row.scale.px(point.day), row.y_px(point.mean)
    places = [
        (QPointF(x - _AIR, y + _AIR), "left", "below"),
        (QPointF(x + _AIR, y - _AIR), "right", "above"),
        (QPointF(x - _AIR, y + 4 * _AIR), "left", "below"),
        (QPointF(x + _AIR, y - 4 * _AIR), "right", "above"),
    ]
    return Label(texts, "weight", inks.body_bold, places, _MEAN, over_data=True)


def _odd(row: WeightRow, point: WeighedPoint, inks: Inks) -> Label:
    """A weight that cannot well be right asks for a look."""
    x, y = row.scale.px(point.day), row.y_px(point.mean)
    places = [(QPointF(x + _AIR, y), "right", "middle"), (QPointF(x - _AIR, y), "left", "middle")]
    return Label(["?"], "weight", inks.body_bold, places, _MEAN, over_data=True)


def _ahead(row: WeightRow, weight: WeightForecast, inks: Inks) -> Label:
    end, path = weight.at_target, weight.path_ahead
    assert end is not None
    assert path is not None
    value = f"{estimate_text(end)} %"
    day = float(path.day[-1])
    long = _tr("heading for {value} on day {day}").format(value=value, day=number(day, 0))
    x = row.scale.px(day)
    # Right-aligned above the cone: so high that its beginning is clear of it.
    begins = day - inks.width(inks.small_bold, long) / row.scale.px_per_day
    above = row.y_px(float(np.interp(begins, path.day, path.low))) - 2 * _LINE_AIR
    places = [
        (QPointF(x + 1.5 * _AIR, row.y_px(end.value)), "right", "middle"),
        (QPointF(x - _AIR, above), "left", "above"),
        (QPointF(x - _AIR, row.y_px(end.high) + 4 * _LINE_AIR), "left", "below"),
    ]
    return Label([long, value], "weight", inks.small_bold, places, _AHEAD, over_data=True)


def _held(row: WeightRow, advice: HoldAdvice, path: LossPath, inks: Inks) -> Iterator[Label]:
    if not path.day.size:
        return
    texts = [_tr("if {humidity} is held").format(humidity=percent(advice.humidity, 0))]
    x, y = row.scale.px(float(path.day[-1])), row.y_px(float(path.mean[-1]))
    places = [
        (QPointF(x + 1.5 * _AIR, y), "right", "middle"),
        (QPointF(x - _AIR, y - 2 * _LINE_AIR), "left", "above"),
        (QPointF(x - _AIR, y + 2 * _LINE_AIR), "left", "below"),
    ]
    yield Label(texts, "water", inks.small, places, _HELD, over_data=True)


def _corridor(row: WeightRow, target: LossTarget, inks: Inks) -> Label:
    band = corridor_text(target)
    texts = [_tr("corridor {band} %").format(band=band), f"{band} %"]
    x = row.scale.px(target.day)
    places = [
        (QPointF(x + _AIR, row.y_px(target.high) + 2), "right", "below"),
        (QPointF(x + _AIR, row.y_px(target.low) - 2), "right", "above"),
        (QPointF(x - _AIR, row.y_px(target.high) + 2), "left", "below"),
        (QPointF(x - 6 * _AIR, row.y_px(target.low) - 8 * _LINE_AIR), "left", "above"),
    ]
    return Label(texts, "weight", inks.small, places, _CORRIDOR)


def _notes(row: WeightRow, weight: WeightForecast | None, inks: Inks) -> Iterator[Label]:
    corner = QPointF(row.plot.left() + 2 * _AIR, row.plot.bottom() - _AIR)
    if weight is None or not weight.weighings:
        texts = [_tr("not weighed yet")]
        if weight is not None and weight.basis is WeightBasis.PRIOR:
            texts.insert(0, _tr("not weighed yet: by what is known of the species alone"))
        yield Label(texts, "ink2", inks.small, [(corner, "right", "above")], _NOTE, over_data=True)
        return
    if weight.basis is WeightBasis.EGGS and weight.weighed_eggs > 1:
        text = _tr("thin: %n egg(s); thick: their mean", weight.weighed_eggs)
        yield Label([text], "weight", inks.small, [(corner, "right", "above")], _NOTE, over_data=True)


def point_sentence(point: WeighedPoint, zone: ZoneInfo) -> str:
    """Thu 14 May, day 11: 6.8 ± 0.3 % lost, mean of 12 eggs."""
    value = number(point.mean)
    if point.standard_error is not None:
        value = f"{value} {plus_minus(1.96 * point.standard_error, 1)}"
    text = _tr("{date}, day {day}: {value} % lost, mean of %n egg(s)", point.eggs)
    return text.format(date=weekday_date(point.at, zone), day=number(point.day, 0), value=value)


def weight_description(weight: WeightForecast | None, now_day: float) -> str:
    """How it stands with the weight, for those who cannot see the row; "" where nothing is estimated."""
    if weight is None:
        return ""
    parts = [
        _tr("Weight lost by day {day}: {value} %.").format(
            day=number(now_day), value=estimate_text(weight.loss_now)
        )
    ]
    if weight.at_target is not None and weight.target is not None and weight.path_ahead is not None:
        parts.append(
            _tr("Heading for {value} % on day {day}; the corridor is {band} %.").format(
                value=estimate_text(weight.at_target),
                day=number(weight.target.day, 0),
                band=corridor_text(weight.target),
            )
        )
    return " ".join(parts)
