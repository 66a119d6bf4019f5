"""What the chart says of an instant: the reading, the mean so far, what happened, or what is to come."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.charts.event_words import event_with_effect
from hatchbook.desk.charts.material import BatchMaterial
from hatchbook.desk.charts.weight_labels import weight_description
from hatchbook.desk.words.dates import clock_time, date_time, day_month
from hatchbook.desk.words.lines import listed
from hatchbook.desk.words.numbers import duration_text, number, percent, temperature
from hatchbook.desk.words.verdicts import band_text, verdict_sentence
from hatchbook.figures.results import BatchFigures, BatchState, PhaseState
from hatchbook.journal import Event
from hatchbook.statistics.trace import SHORTEST_BRIDGE_S
from hatchbook.trade.instants import DAY_S

_TOLD_FROM = 0.05
"""A correction too small to be seen is not told, % RH."""


def pointed_text(
    material: BatchMaterial, at: int, index: int | None, event: Event | None, zone: ZoneInfo
) -> str:
    """Day 5.4, 8 May 18:36: 46.7 %, 37.7 °C, mean 50.9 %."""
    parts = []
    if event is not None:
        parts.append(event_with_effect(event, material))
    if index is not None:
        parts += _reading_parts(material, index)
    elif event is None:
        parts += _other_parts(material, at)
    loss = material.loss_at(at)
    if loss is not None:
        parts.append(QCoreApplication.translate("Chart", "{loss} lost").format(loss=percent(loss)))
    return QCoreApplication.translate("Chart", "Day {day}, {date} {time}: {values}").format(
        day=number((at - material.set_at) / DAY_S),
        date=day_month(at, zone),
        time=clock_time(at, zone),
        values=listed(parts),
    )


def _reading_parts(material: BatchMaterial, index: int) -> list[str]:
    curves = material.curves
    humidity, degrees = float(curves.humidity[index]), float(curves.temperature_c[index])
    mean = material.mean_at(int(curves.at[index]))
    parts = []
    if humidity == humidity:
        shown = humidity if curves.shown_humidity is None else float(curves.shown_humidity[index])
        if abs(shown - humidity) < _TOLD_FROM:
            parts.append(percent(humidity))
        else:
            text = QCoreApplication.translate("Chart", "{value} (the probe showed {shown})")
            parts.append(text.format(value=percent(humidity), shown=percent(shown)))
    if degrees == degrees:
        parts.append(temperature(degrees))
    if mean == mean:
        parts.append(QCoreApplication.translate("Chart", "mean {mean}").format(mean=percent(mean)))
    still = material.still_at(float(curves.at[index]))
    if still is not None:
        text = QCoreApplication.translate("Chart", "same value for {time}")
        parts.append(text.format(time=duration_text(still.seconds)))
    return parts


def _other_parts(material: BatchMaterial, at: int) -> list[str]:
    gap = material.gap_at(at)
    if gap is not None:
        text = QCoreApplication.translate("Chart", "no readings for {time}")
        return [text.format(time=duration_text(gap.end_at - gap.start_at))]
    phase = material.phase_at(at)
    if phase is None:
        return [QCoreApplication.translate("Chart", "no readings")]
    band = phase.humidity_band
    parts = [
        QCoreApplication.translate("Chart", "band {band} %, aim {aim} %").format(
            band=band_text(band), aim=number(band.aim, 0)
        )
    ]
    held = material.held if phase is material.running else None
    if held is not None and material.now <= at <= material.set_at + held.until_day * DAY_S:
        text = QCoreApplication.translate("Chart", "hold {value}")
        parts.append(text.format(value=percent(held.humidity)))
    return parts


def resting_text(figures: BatchFigures | None, zone: ZoneInfo) -> str:
    """How it stands while nothing is pointed at: Now 41.6 %, 37.7 °C."""
    if figures is None or figures.last_reading is None or figures.state is not BatchState.RUNNING:
        return ""
    last = figures.last_reading
    parts = []
    if last.humidity is not None:
        parts.append(percent(last.humidity))
    if last.temperature_c is not None:
        parts.append(temperature(last.temperature_c))
    if figures.now - last.at <= SHORTEST_BRIDGE_S:
        return QCoreApplication.translate("Chart", "Now {values}").format(values=listed(parts))
    return QCoreApplication.translate("Chart", "Last read {date}: {values}").format(
        date=date_time(last.at, zone), values=listed(parts)
    )


def description(material: BatchMaterial | None) -> str:
    """What the chart shows, for those who cannot see it: each phase with the numbers of its verdict."""
    if material is None:
        return ""
    from hatchbook.desk.charts.phase_lane import phase_name

    sentences = []
    for phase in material.phases:
        if phase.state is PhaseState.TO_COME or phase.humidity is None:
            text = QCoreApplication.translate("Chart", "{phase}: band {band} %, aim {aim} %.")
            sentences.append(
                text.format(
                    phase=phase_name(phase),
                    band=band_text(phase.humidity_band),
                    aim=number(phase.humidity_band.aim, 0),
                )
            )
            continue
        text = QCoreApplication.translate("Chart", "{phase}: mean humidity {mean}, {verdict}.")
        verdict = verdict_sentence(phase.humidity, phase.humidity_band, phase.from_day)
        sentences.append(
            text.format(phase=phase_name(phase), mean=percent(phase.humidity.mean), verdict=verdict)
        )
    about_weight = weight_description(material.weight, (material.now - material.set_at) / DAY_S)
    return " ".join([*sentences, about_weight]).strip()


def widest_reading() -> str:
    """A read-out as wide as they come, to keep its place free."""
    return QCoreApplication.translate("Chart", "Day {day}, {date} {time}: {values}").format(
        day=number(20.8),
        date=day_month(0, ZoneInfo("UTC")),
        time=clock_time(0, ZoneInfo("UTC")),
        values=listed(
            [
                percent(48.8),
                temperature(38.8),
                QCoreApplication.translate("Chart", "mean {mean}").format(mean=percent(48.8)),
            ]
        ),
    )
