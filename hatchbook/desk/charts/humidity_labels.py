"""The labels of the humidity row: the mean, what to hold, the bands. Where two would touch the lower rank goes."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import numpy as np
from PySide6.QtCore import QCoreApplication, QPointF, QRectF

from hatchbook.desk.charts.inks import Inks
from hatchbook.desk.charts.labels import Label, Room
from hatchbook.desk.charts.material import BatchMaterial
from hatchbook.desk.words.numbers import duration_text, number, percent
from hatchbook.desk.words.verdicts import band_text
from hatchbook.figures.results import PhaseFigures, PhaseState

if TYPE_CHECKING:
    from hatchbook.desk.charts.humidity_row import HumidityRow

_SAID, _MEAN, _HOLD, _BAND, _STILL = 0, 1, 2, 3, 2
_AIR = 7.0
_LINE_AIR = 3.0
_STILL_AIR = 4.0
_EDGE_AIR = 24.0
_PATH_PIECES = 6


def humidity_labels(
    row: HumidityRow, material: BatchMaterial, path: list[QPointF], room: Room, inks: Inks
) -> list[Label]:
    """The labels wanted in the row; what the lines take up is put into the room.

    `path` are the points of the way that the mean takes from now on.
    """
    room.taken.extend(_obstacles(row, material, path))
    labels: list[Label] = []
    if row.said:
        labels.append(_said_label(row, material, room, inks))
    for phase in material.phases:
        left = max(row.scale.px(phase.from_day), row.plot.left())
        right = min(row.scale.px(phase.to_day), row.plot.right())
        if right - left < 12:
            continue
        labels += _phase_labels(row, material, phase, (left, right), path, inks)
    labels += _still_labels(row, material, inks)
    return labels


def _still_labels(row: HumidityRow, material: BatchMaterial, inks: Inks) -> Iterator[Label]:
    """Where the probe stood still: same value for 9 h, at the foot of its plate or beside it."""
    for still in material.curves.still:
        left, right = row.scale.px_of(still.start_at), row.scale.px_of(still.end_at)
        if right < row.plot.left() or left > row.plot.right():
            continue
        text = QCoreApplication.translate("Chart", "same value for {time}")
        time = duration_text(still.seconds)
        foot, top = row.plot.bottom() - _STILL_AIR, row.plot.top() + _STILL_AIR
        places = [
            (QPointF(x, y), side, where)
            for y, where in ((foot, "above"), (top, "below"))
            for x, side in (
                ((left + right) / 2, "centre"),
                (right + _LINE_AIR, "right"),
                (left - _LINE_AIR, "left"),
            )
        ]
        yield Label([text.format(time=time)], "warn", inks.small_bold, places, _STILL, over_data=True)


def _said_label(row: HumidityRow, material: BatchMaterial, room: Room, inks: Inks) -> Label:
    """What there is to say of an empty row, in the middle, beside the bands."""
    for phase in material.phases:
        left, right = row.scale.px(phase.from_day), row.scale.px(phase.to_day)
        high, low = row.y_px(phase.humidity_band.high), row.y_px(phase.humidity_band.low)
        room.taken.append(QRectF(left, high, right - left, low - high))
    centre, half = row.plot.center().x(), row.plot.height() / 2
    places = [
        (QPointF(centre, row.plot.top() + half * share), "centre", "middle")
        for share in (1.0, 1.2, 0.8, 1.4, 0.6, 1.6, 0.4)
    ]
    places.append((row.plot.center(), "centre", "middle"))
    return Label([row.said], "ink2", inks.body, places, _SAID)


def _obstacles(row: HumidityRow, material: BatchMaterial, path: list[QPointF]) -> Iterator[QRectF]:
    """What no label may cover: the line of now, the aims to come, the hold line, the way of the mean."""
    now = row.scale.px_of(material.now)
    yield QRectF(now - 2, row.plot.top(), 4, row.plot.height())
    for phase in material.phases[1:]:
        yield QRectF(row.scale.px(phase.from_day) - 1, row.plot.top(), 2, row.plot.height())
    for phase in material.phases:
        begin = max(row.scale.px(phase.from_day), now)
        end = row.scale.px(phase.to_day)
        if end > begin:
            yield QRectF(begin, row.y_px(phase.humidity_band.aim) - 1, end - begin, 2)
        if material.held is not None and material.held.phase is phase and path:
            yield QRectF(begin, row.y_px(material.held.humidity) - 2, end - begin, 4)
    piece = max(1, len(path) // _PATH_PIECES)
    for first in range(0, len(path) - 1, piece):
        some = path[first : first + piece + 1]
        top, bottom = min(point.y() for point in some), max(point.y() for point in some)
        yield QRectF(some[0].x(), top - 2, some[-1].x() - some[0].x(), bottom - top + 4)
    if path:
        yield QRectF(path[-1].x() - 5, path[-1].y() - 5, 10, 10)


def _phase_labels(
    row: HumidityRow,
    material: BatchMaterial,
    phase: PhaseFigures,
    ends: tuple[float, float],
    path: list[QPointF],
    inks: Inks,
) -> Iterator[Label]:
    if phase.humidity is not None and np.isfinite(phase.humidity.mean):
        yield _mean_label(row, material, phase, ends, path, inks)
    if path and phase is material.running:
        yield _hold_label(row, material, ends, inks)
    yield _band_label(row, material, phase, ends, inks)


def _mean_label(
    row: HumidityRow,
    material: BatchMaterial,
    phase: PhaseFigures,
    ends: tuple[float, float],
    path: list[QPointF],
    inks: Inks,
) -> Label:
    assert phase.humidity is not None
    mean = percent(phase.humidity.mean)
    y = row.y_px(phase.humidity.mean)
    if phase.state is PhaseState.RUNNING:
        texts = [QCoreApplication.translate("Chart", "mean so far {mean}").format(mean=mean), mean]
        x = row.scale.px_of(material.now)
        ways = [point.y() for point in path if abs(point.x() - x) < 130] or [y]
        above = QPointF(x + _AIR, min(ways) - _LINE_AIR - 1)
        below = QPointF(x + _AIR, max(ways) + _LINE_AIR + 1)
        outside = row.y_px(phase.humidity_band.high) - _LINE_AIR
        places = [
            (QPointF(x + _AIR, min(above.y(), outside)), "right", "above"),
            (above, "right", "above"),
            (below, "right", "below"),
            (QPointF(x - _AIR, y - _AIR), "left", "above"),
            (QPointF(x - _AIR, y + _AIR), "left", "below"),
        ]
        return Label(texts, "water_deep", inks.body_bold, places, _MEAN, over_data=True)
    texts = [QCoreApplication.translate("Chart", "mean {mean}").format(mean=mean), mean]
    x = ends[1] - _AIR
    places = [(QPointF(x, y - _AIR), "left", "above"), (QPointF(x, y + _AIR), "left", "below")]
    return Label(texts, "water_deep", inks.body_bold, places, _MEAN, over_data=True)


def _hold_label(row: HumidityRow, material: BatchMaterial, ends: tuple[float, float], inks: Inks) -> Label:
    wanted = material.held
    assert wanted is not None
    held = percent(wanted.humidity)
    texts = [QCoreApplication.translate("Chart", "hold {value}").format(value=held), held]
    if wanted.by_weight:
        long = QCoreApplication.translate("Chart", "hold {value} for the weight")
        texts = [long.format(value=held), *texts]
    elif wanted.aim_takes is not None and wanted.ends_on is not None:
        long = QCoreApplication.translate("Chart", "hold {value}, ends on {mean}")
        texts = [long.format(value=held, mean=percent(wanted.ends_on)), *texts]
    # What lies beyond the rows that are drawn is named at their edge.
    y = min(max(row.y_px(wanted.humidity), row.plot.top() + _EDGE_AIR), row.plot.bottom() - _EDGE_AIR)
    until = min(ends[1], row.scale.px(wanted.until_day))
    right, left = until - _AIR, max(ends[0], row.scale.px_of(material.now)) + _AIR
    places = [
        (QPointF(right, y + _LINE_AIR), "left", "below"),
        (QPointF(right, y - _LINE_AIR), "left", "above"),
        (QPointF(left, y + _LINE_AIR), "right", "below"),
        (QPointF(left, y - _LINE_AIR), "right", "above"),
    ]
    # Over what has been, only where no wording fits into what is to come.
    last = [
        (QPointF(left - 2 * _AIR, y), "left", "middle"),
        (QPointF(left - 2 * _AIR, y - _AIR), "left", "above"),
    ]
    return Label(texts, "water", inks.body_bold, places, _HOLD, over_data=True, last_places=last)


def _band_label(
    row: HumidityRow, material: BatchMaterial, phase: PhaseFigures, ends: tuple[float, float], inks: Inks
) -> Label:
    band = phase.humidity_band
    long = QCoreApplication.translate("Chart", "{band}, aim {aim}")
    texts = [long.format(band=band_text(band), aim=number(band.aim, 0)), band_text(band)]
    now = row.scale.px_of(material.now)
    left = max(ends[0], now) + _AIR
    right = ends[1] - 4
    low, high = row.y_px(band.low), row.y_px(band.high)
    running = phase.state is PhaseState.RUNNING
    beside = [(QPointF(left, low + 2), "right", "below"), (QPointF(left, low - 2), "right", "above")]
    ending = [(QPointF(right, low + 2), "left", "below"), (QPointF(right, high - 2), "left", "above")]
    inside = [(QPointF(left, high + 2), "right", "below"), (QPointF(right, low - 2), "left", "above")]
    places = [*beside, *inside, *ending] if running else [*ending, *beside, *inside]
    if running:
        # Little of the phase is left: then over what has been.
        places.append((QPointF(now - _AIR, low + 2), "left", "below"))
    if phase.state is PhaseState.OVER or now > row.plot.right():
        places = [*ending, (QPointF(right, low - 2), "left", "above")]
        return Label(texts, "water_deep", inks.small, places, _BAND, over_data=True)
    return Label(texts, "water_deep", inks.small, places, _BAND, over_data=running)
