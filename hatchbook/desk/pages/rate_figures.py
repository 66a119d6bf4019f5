"""The figures of a finished batch: three rates with their ranges, the weight lost, the hatch."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from hatchbook.desk.pages.figure_row import FigureRow
from hatchbook.desk.pages.hatch_bars import HatchBars
from hatchbook.desk.pages.three_rates import RateFeet, ThreeRates
from hatchbook.desk.painting.gauge import GaugeMark, GaugeScale
from hatchbook.desk.widgets.gauge import Gauge
from hatchbook.desk.widgets.key_figure import FootRole, KeyFigure
from hatchbook.desk.widgets.value_row import FigureText
from hatchbook.desk.words import numbers
from hatchbook.desk.words.rates import fertility_foot, hatch_foot, loss_foot, of_fertile_foot, of_set_foot
from hatchbook.desk.words.weights import reached_foot, weighed_to_target
from hatchbook.figures.among_others import RatesAmong
from hatchbook.figures.results import BatchFigures


class RateFigures(FigureRow):
    """Three rates, the weight lost, the hatch."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.rates = ThreeRates()
        self.weight = KeyFigure(self.tr("Weight lost"))
        self.hatch = KeyFigure(self.tr("Hatch"))
        self.set_figures(
            {**self.rates.by_name, "weight": self.weight, "hatch": self.hatch},
        )
        self._shown: BatchFigures | None = None
        self._among: RatesAmong = {}

    def show_figures(self, figures: BatchFigures) -> None:
        """Shows the rates of a batch; what others do stays only where these are the rates it was told beside."""
        before = self._shown
        same = before is not None and before.batch.uid == figures.batch.uid and before.rates == figures.rates
        self._shown = figures
        self.show_among(self._among if same else {})
        self._show_weight(figures)
        self._show_hatch(figures)

    def show_among(self, among: RatesAmong) -> None:
        """Shows what the breeder's other batches do beside the rates."""
        self._among = among
        if self._shown is not None:
            rates = self._shown.rates
            feet = RateFeet(fertility_foot(rates), of_fertile_foot(rates), of_set_foot(rates))
            self.rates.show_rates(rates, feet, among)

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
        bars = HatchBars()
        bars.show_chicks(figures.timing.chick_days)
        self.hatch.set_picture(bars)
        self.hatch.set_figure(FigureText(numbers.number(spread, 0), "h", self.tr("first to last")))
        self.hatch.set_foot(hatch_foot(figures.timing))
