"""The figures of a finished batch: three rates with their ranges, the weight lost, the hatch."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication
from PySide6.QtWidgets import QWidget

from hatchbook.desk.pages.figure_row import FigureRow
from hatchbook.desk.painting.gauge import GaugeMark, GaugeScale
from hatchbook.desk.widgets.gauge import Gauge
from hatchbook.desk.widgets.key_figure import FootRole, KeyFigure
from hatchbook.desk.widgets.value_row import FigureText
from hatchbook.desk.words import numbers
from hatchbook.desk.words.rates import fertility_foot, hatch_foot, loss_foot, of_fertile_foot, of_set_foot
from hatchbook.desk.words.weights import reached_foot, weighed_to_target
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
        show_rate(self.fertile, rates.fertility, fertility_foot(rates))
        show_rate(self.of_fertile, rates.hatch_of_fertile, of_fertile_foot(rates))
        show_rate(self.of_set, rates.hatch_of_set, of_set_foot(rates))
        self._show_weight(figures)
        self._show_hatch(figures)

    def _show_weight(self, figures: BatchFigures) -> None:
        """What was lost by the day of the target; without a target, by the last weighing."""
        forecast, weight = figures.forecast, figures.weight
        self.weight.set_caption(self.tr("Weight lost"))
        if forecast is not None and weighed_to_target(forecast):
            assert forecast.at_target is not None
            assert forecast.target is not None
            lost, target = forecast.at_target, forecast.target
            eggs = self.tr("%n egg(s)", "", forecast.weighed_eggs) if forecast.weighed_eggs else ""
            text = FigureText(numbers.number(lost.value), "%", numbers.plus_minus(lost.half_width, 1), eggs)
            mark = GaugeMark(lost.value, lost.low, lost.high)
            self._draw_weight(text, target.day, (target.low, target.high), mark, *reached_foot(forecast))
        elif weight is not None:
            error, batch = weight.standard_error, figures.batch
            spread = "" if error is None else numbers.plus_minus(1.96 * error, 1)
            eggs = self.tr("%n egg(s)", "", weight.eggs)
            text = FigureText(numbers.number(weight.mean_loss_percent), "%", spread, eggs)
            low, high = batch.loss_low_percent, batch.loss_high_percent
            corridor = None if low is None or high is None else (low, high)
            self._draw_weight(
                text, weight.day, corridor, GaugeMark(weight.mean_loss_percent), *loss_foot(figures)
            )
        else:
            self.weight.set_missing(self.tr("not weighed"))

    def _draw_weight(
        self,
        text: FigureText,
        day: float,
        corridor: tuple[float, float] | None,
        mark: GaugeMark,
        foot: str,
        off: bool,
    ) -> None:
        self.weight.set_caption(self.tr("Weight lost by day {day}").format(day=numbers.number(day, 0)))
        self.weight.set_figure(text)
        top = max(20.0, -(-mark.value // 5) * 5)
        ticks = tuple(float(tick) for tick in range(0, int(top) + 1, 5))
        gauge = Gauge()
        gauge.set_gauge(GaugeScale(0.0, top, ticks, corridor, role="weight", band_role="weight_band"), [mark])
        self.weight.set_picture(gauge)
        self.weight.set_foot(foot, FootRole.BAD if off else FootRole.NORMAL)

    def _show_hatch(self, figures: BatchFigures) -> None:
        spread = figures.timing.spread_h
        if spread is None:
            self.hatch.set_missing(hatch_foot(figures.timing))
            return
        self.hatch.set_picture(None)
        self.hatch.set_figure(FigureText(numbers.number(spread, 0), "h", self.tr("first to last")))
        self.hatch.set_foot(hatch_foot(figures.timing))


def show_rate(figure: KeyFigure, rate: Rate, foot: str) -> None:
    """Shows a rate with its range, its counts and a gauge; where there is none, the foot says why."""
    if rate.estimate is None:
        figure.set_missing(foot)
        return
    count = numbers.count_of(rate.hits, rate.trials)
    span = numbers.range_text(rate.low * 100, rate.high * 100)
    text = FigureText(numbers.number(rate.estimate * 100, 0), "%", span, count)
    figure.set_figure(
        text,
        QCoreApplication.translate("RateFigures", "{caption}: {rate}, {count}; {foot}").format(
            caption=figure.caption(), rate=numbers.rate_text(rate), count=count, foot=foot
        ),
    )
    gauge = Gauge()
    gauge.set_gauge(_SCALE, [GaugeMark(rate.estimate * 100, rate.low * 100, rate.high * 100)])
    figure.set_picture(gauge)
    figure.set_foot(foot)
