"""The four figures of a running batch: mean so far, hold from now on, weight lost, alive."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtWidgets import QWidget

from hatchbook.desk.pages.figure_row import FigureRow
from hatchbook.desk.painting.gauge import GaugeMark, GaugeScale, MarkKind
from hatchbook.desk.widgets.gauge import Gauge
from hatchbook.desk.widgets.key_figure import FootRole, KeyFigure
from hatchbook.desk.widgets.pictures import OutcomeBar
from hatchbook.desk.widgets.value_row import FigureText
from hatchbook.desk.words import numbers
from hatchbook.desk.words.alive import ALIVE_STILL, rest_sentence
from hatchbook.desk.words.verdicts import (
    band_text,
    hold_foot,
    hold_for,
    is_flagged,
    mean_foot,
)
from hatchbook.desk.words.weights import (
    by_weight_foot,
    estimate_text,
    hold_caption,
    weight_foot,
    weight_heading,
)
from hatchbook.figures.results import BatchFigures, PhaseFigures, PhaseState
from hatchbook.figures.to_hold import ToHold, to_hold
from hatchbook.figures.weight_results import HoldAdvice, WeightBasis

_WIDE = 15.0


@dataclass(frozen=True)
class _Scale:
    low: float
    high: float
    ticks: tuple[float, ...]


def _scale(phase: PhaseFigures, *values: float) -> _Scale:
    """A scale in tens round the band that holds the values as well."""
    band = phase.humidity_band
    low = min(band.low - 10, *values) if values else band.low - 10
    high = max(band.high + 10, *values) if values else band.high + 10
    low, high = max(0.0, low // 10 * 10), min(100.0, -(-high // 10) * 10)
    step = 10 if high - low <= 50 else 20
    ticks = tuple(float(tick) for tick in range(int(low), int(high) + 1, step))
    return _Scale(low, high, ticks)


class KeyFigures(FigureRow):
    """Mean so far, hold from now on, weight lost, alive."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.mean = KeyFigure(self.tr("Mean humidity so far"))
        self.hold = KeyFigure(self.tr("Hold from now on"))
        self.weight = KeyFigure(self.tr("Weight lost"))
        self.alive = KeyFigure(self.tr("Alive"))
        self.set_figures({"mean": self.mean, "hold": self.hold, "weight": self.weight, "alive": self.alive})

    def show_figures(self, figures: BatchFigures) -> None:
        """Shows the figures of a batch."""
        phase = figures.phase
        self._show_mean(phase)
        advice = None if figures.forecast is None else figures.forecast.advice
        self._show_hold(phase, to_hold(figures.phases, advice), advice)
        self._show_weight(figures)
        self._show_alive(figures)

    def show_setting(self, text: str) -> None:
        """Names the water and vent setting that gives what to hold, as a way to the machine's page.

        A warning under the figure stays: it matters more.
        """
        if self.hold.figure() != FigureText() and self.hold.foot_role is FootRole.NORMAL:
            self.hold.setToolTip(self.hold.foot())
            self.hold.set_foot(text, FootRole.LINK)

    def _show_mean(self, phase: PhaseFigures) -> None:
        lockdown = phase.kind.value == "lockdown"
        self.mean.set_caption(
            self.tr("Mean humidity in lockdown so far") if lockdown else self.tr("Mean humidity so far")
        )
        drift = phase.humidity
        if drift is None or drift.mean != drift.mean:
            self.mean.set_missing(mean_foot(phase))
            return
        half = phase.plus_minus
        spread = "" if half is None else numbers.plus_minus(half)
        text = FigureText(numbers.number(drift.mean), "%", spread)
        band = phase.humidity_band
        spoken = self.tr("Mean humidity so far: {value} %, {verdict}; band {band} %, aim {aim} %").format(
            value=numbers.number(drift.mean),
            verdict=mean_foot(phase),
            band=band_text(band),
            aim=numbers.number(band.aim, 0),
        )
        self.mean.set_figure(text, spoken)
        scale = _scale(phase, drift.mean)
        bar = (None, None) if half is None else (drift.mean - half, drift.mean + half)
        gauge = Gauge()
        gauge.set_gauge(
            GaugeScale(scale.low, scale.high, scale.ticks, (band.low, band.high), band.aim),
            [GaugeMark(drift.mean, bar[0], bar[1])],
        )
        self.mean.set_picture(gauge)
        self.mean.set_foot(mean_foot(phase), FootRole.BAD if is_flagged(drift) else FootRole.NORMAL)

    def _show_hold(self, phase: PhaseFigures, held: ToHold | None, advice: HoldAdvice | None) -> None:
        by_weight = held is not None and held.by_weight
        self.hold.set_caption(hold_caption(by_weight=by_weight))
        self.hold.setToolTip("")
        if held is None or phase.state is not PhaseState.RUNNING or (phase.hold is None and not by_weight):
            self.hold.set_missing(hold_foot(phase, held))
            return
        if advice is not None and by_weight:
            until = self.tr("until day {day}").format(day=numbers.number(held.until_day, 0))
            self._draw_hold(held, until, by_weight_foot(advice), lost=not advice.reachable)
        else:
            self._draw_hold(held, hold_for(phase), hold_foot(phase, held), lost=not held.in_band)

    def _draw_hold(self, held: ToHold, until: str, foot: str, *, lost: bool) -> None:
        """Shows what to hold, with the lowest and the highest that will still do."""
        shown, band = held.humidity, held.phase.humidity_band
        value = numbers.number(shown) if held.steers else band_text(band)
        self.hold.set_figure(
            FigureText(value, "%", until),
            self.tr("{caption}: {value} %, {time}; {foot}").format(
                caption=self.hold.caption(), value=value, time=until, foot=foot
            ),
        )
        scale = _scale(held.phase, shown)
        low, high = max(held.low, scale.low), min(held.high, scale.high)
        gauge = Gauge()
        gauge.set_gauge(
            GaugeScale(scale.low, scale.high, scale.ticks, (band.low, band.high), band.aim),
            [GaugeMark(shown, min(low, shown), max(high, shown), MarkKind.FORECAST)] if held.steers else [],
        )
        self.hold.set_picture(gauge)
        self.hold.set_foot(foot, FootRole.WARN if lost else FootRole.NORMAL)

    def _show_weight(self, figures: BatchFigures) -> None:
        forecast = figures.forecast
        self.weight.setToolTip("")
        if forecast is None or (forecast.basis is WeightBasis.PRIOR and forecast.at_target is None):
            day = figures.next_weighing_day
            if day is None:
                self.weight.set_missing(self.tr("not weighed; no weighing lies ahead"))
            else:
                reason = self.tr("not weighed yet; next on day {day}")
                self.weight.set_missing(reason.format(day=numbers.number(day, 0)))
            return
        lost, end = forecast.loss_now, forecast.at_target
        text = FigureText(numbers.number(lost.value), "%", numbers.plus_minus(lost.half_width, 1))
        foot, off = weight_foot(forecast)
        heading = weight_heading(forecast)
        self.weight.set_figure(
            text,
            self.tr("Weight lost: {value} %. {foot}").format(value=estimate_text(lost), foot=heading or foot),
        )
        self.weight.setToolTip(heading)
        marks = [] if forecast.basis is WeightBasis.PRIOR else [GaugeMark(lost.value)]
        if end is not None:
            marks.append(GaugeMark(end.value, end.low, end.high, MarkKind.FORECAST))
        target = forecast.target
        corridor = None if target is None else (target.low, target.high)
        top = max([_WIDE, lost.value, *([] if end is None else [end.high])])
        top = -(-top // 5) * 5
        ticks = tuple(float(tick) for tick in range(0, int(top) + 1, 5))
        gauge = Gauge()
        gauge.set_gauge(
            GaugeScale(0.0, top, ticks, corridor, role="weight", band_role="weight_band"),
            marks,
        )
        self.weight.set_picture(gauge)
        self.weight.set_foot(foot, FootRole.WARN if off else FootRole.NORMAL)

    def _show_alive(self, figures: BatchFigures) -> None:
        total = len(figures.eggs)
        alive = sum(figures.counts.get(fate, 0) for fate in ALIVE_STILL)
        text = FigureText(
            numbers.number(alive, 0), self.tr("of {total}").format(total=numbers.number(total, 0))
        )
        rest = rest_sentence(figures.counts)
        self.alive.set_figure(
            text, self.tr("Alive: {count}; {rest}").format(count=text.sentence(), rest=rest)
        )
        bar = OutcomeBar()
        bar.set_counts(figures.counts, rest)
        self.alive.set_picture(bar)
        self.alive.set_foot(rest)
        fertility = figures.rates.candled_fertility
        if fertility.estimate is not None:
            self.alive.setToolTip(
                self.tr("Fertile as candled: {rate}, {count}").format(
                    rate=numbers.rate_text(fertility),
                    count=numbers.count_of(fertility.hits, fertility.trials),
                )
            )
