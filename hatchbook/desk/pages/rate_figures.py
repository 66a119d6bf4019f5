"""The figures of a finished batch: three rates with their ranges, the weight lost, the hatch."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from hatchbook.desk.pages.figure_row import FigureRow
from hatchbook.desk.painting.gauge import GaugeMark, GaugeScale
from hatchbook.desk.widgets.gauge import Gauge
from hatchbook.desk.widgets.key_figure import FootRole, KeyFigure
from hatchbook.desk.widgets.value_row import FigureText
from hatchbook.desk.words import numbers
from hatchbook.desk.words.rates import fertility_foot, hatch_foot, loss_foot, of_fertile_foot, of_set_foot
from hatchbook.figures.results import BatchFigures
from hatchbook.statistics.rates import Rate

_SCALE = GaugeScale(0.0, 100.0, (0.0, 50.0, 100.0))


class RateFigures(FigureRow):
    """Three rates, the weight lost, the hatch."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.fertile = KeyFigure(self.tr("Fertile, of set"))
        self.of_fertile = KeyFigure(self.tr("Hatched, of fertile"))
        self.of_set = KeyFigure(self.tr("Hatched, of set"))
        self.weight = KeyFigure(self.tr("Weight lost"))
        self.hatch = KeyFigure(self.tr("Hatch"))
        self.set_figures(
            {
                "fertility": self.fertile,
                "of_fertile": self.of_fertile,
                "of_set": self.of_set,
                "weight": self.weight,
                "hatch": self.hatch,
            }
        )

    def show_figures(self, figures: BatchFigures) -> None:
        """Shows the rates of a batch."""
        rates = figures.rates
        self._show_rate(self.fertile, rates.fertility, fertility_foot(rates))
        self._show_rate(self.of_fertile, rates.hatch_of_fertile, of_fertile_foot(rates))
        self._show_rate(self.of_set, rates.hatch_of_set, of_set_foot(rates))
        self._show_weight(figures)
        self._show_hatch(figures)

    def _show_rate(self, figure: KeyFigure, rate: Rate, foot: str) -> None:
        if rate.estimate is None:
            figure.set_missing(foot)
            return
        count = numbers.count_of(rate.hits, rate.trials)
        span = numbers.range_text(rate.low * 100, rate.high * 100)
        text = FigureText(numbers.number(rate.estimate * 100, 0), "%", span, count)
        figure.set_figure(
            text,
            self.tr("{caption}: {rate}, {count}; {foot}").format(
                caption=figure.caption(), rate=numbers.rate_text(rate), count=count, foot=foot
            ),
        )
        gauge = Gauge()
        gauge.set_gauge(_SCALE, [GaugeMark(rate.estimate * 100, rate.low * 100, rate.high * 100)])
        figure.set_picture(gauge)
        figure.set_foot(foot)

    def _show_weight(self, figures: BatchFigures) -> None:
        weight = figures.weight
        if weight is None:
            self.weight.set_missing(self.tr("not weighed"))
            return
        spread = "" if weight.standard_error is None else numbers.plus_minus(1.96 * weight.standard_error, 1)
        self.weight.set_caption(self.tr("Weight lost by day {day}").format(day=numbers.number(weight.day, 0)))
        eggs = self.tr("%n egg(s)", "", weight.eggs)
        self.weight.set_figure(FigureText(numbers.number(weight.mean_loss_percent), "%", spread, eggs))
        batch = figures.batch
        low, high = batch.loss_low_percent, batch.loss_high_percent
        corridor = None if low is None or high is None else (low, high)
        gauge = Gauge()
        gauge.set_gauge(
            GaugeScale(
                0.0,
                max(20.0, weight.mean_loss_percent),
                (0.0, 5.0, 10.0, 15.0, 20.0),
                corridor,
                role="weight",
                band_role="weight_band",
            ),
            [GaugeMark(weight.mean_loss_percent)],
        )
        self.weight.set_picture(gauge)
        foot, off = loss_foot(figures)
        self.weight.set_foot(foot, FootRole.BAD if off else FootRole.NORMAL)

    def _show_hatch(self, figures: BatchFigures) -> None:
        spread = figures.timing.spread_h
        if spread is None:
            self.hatch.set_missing(hatch_foot(figures.timing))
            return
        self.hatch.set_picture(None)
        self.hatch.set_figure(FigureText(numbers.number(spread, 0), "h", self.tr("first to last")))
        self.hatch.set_foot(hatch_foot(figures.timing))
