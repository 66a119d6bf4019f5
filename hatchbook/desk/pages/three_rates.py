"""The three rates of a batch that is over, each with its counts, its range, and what the other batches do."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.painting.gauge import GaugeMark, GaugeScale, MarkKind
from hatchbook.desk.widgets.gauge import Gauge
from hatchbook.desk.widgets.key_figure import KeyFigure
from hatchbook.desk.widgets.value_row import FigureText
from hatchbook.desk.words import numbers
from hatchbook.desk.words.among import among_foot, among_sentence
from hatchbook.figures.among_others import RateAmong, RatesAmong
from hatchbook.statistics.rates import BatchRates, Rate
from hatchbook.statistics.tallies import RateKind

_TICKS = (0.0, 50.0, 100.0)


def _tr(text: str) -> str:
    return QCoreApplication.translate("RateFigures", text)


@dataclass(frozen=True)
class RateFeet:
    """What stands under each rate: what it counts, or why there is none."""

    fertility: str
    of_fertile: str
    of_set: str


class ThreeRates:
    """Fertility, hatch of fertile, hatch of set, as key figures that a page lays out."""

    def __init__(self) -> None:
        self.fertile = KeyFigure(_tr("Fertile, of set"))
        self.of_fertile = KeyFigure(_tr("Hatched, of fertile"))
        self.of_set = KeyFigure(_tr("Hatched, of set"))

    @property
    def by_name(self) -> dict[str, KeyFigure]:
        """The figures in reading order, by the names under which they are explained."""
        return {"fertility": self.fertile, "of_fertile": self.of_fertile, "of_set": self.of_set}

    def show_rates(self, rates: BatchRates, feet: RateFeet, among: RatesAmong | None = None) -> None:
        """Shows the rates of a batch; ``among``: what is known of the others, None or empty while nothing is."""
        among = among or {}
        show_rate(self.fertile, rates.fertility, feet.fertility, among.get(RateKind.FERTILITY))
        show_rate(
            self.of_fertile, rates.hatch_of_fertile, feet.of_fertile, among.get(RateKind.HATCH_OF_FERTILE)
        )
        show_rate(self.of_set, rates.hatch_of_set, feet.of_set, among.get(RateKind.HATCH_OF_SET))

    def show_nothing(self) -> None:
        """Shows that there are no rates."""
        for figure in self.by_name.values():
            figure.setToolTip("")
            figure.set_missing("")


def show_rate(figure: KeyFigure, rate: Rate, foot: str, among: RateAmong | None = None) -> None:
    """Shows a rate with its range, its counts and a gauge; where there is none, the foot says why.

    A dashed line is the other batches' rate. Lower or higher than batches differ by is a triangle, and a word.
    """
    if rate.estimate is None:
        figure.setToolTip("")
        figure.set_missing(foot)
        return
    count = numbers.count_of(rate.hits, rate.trials)
    span = numbers.range_text(rate.low * 100, rate.high * 100)
    text = FigureText(numbers.number(rate.estimate * 100, 0), "%", span, count)
    full, *shorter = [foot] if among is None else among_foot(among, foot)
    spoken = _tr("{caption}: {rate}, {count}; {foot}").format(
        caption=figure.caption(), rate=numbers.rate_text(rate), count=count, foot=full
    )
    figure.set_figure(text, spoken)
    gauge = Gauge()
    usual = None if among is None else among.usual * 100
    mark = GaugeMark(rate.estimate * 100, rate.low * 100, rate.high * 100, _kind(among))
    gauge.set_gauge(GaugeScale(0.0, 100.0, _TICKS, reference=usual), [mark])
    figure.set_picture(gauge)
    figure.set_foot(full, shorter=shorter)
    figure.setToolTip("" if among is None else among_sentence(among))


def _kind(among: RateAmong | None) -> MarkKind:
    if among is None or not among.is_outside:
        return MarkKind.NOW
    return MarkKind.LOW if among.is_low else MarkKind.HIGH
