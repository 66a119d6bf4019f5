"""Egg glyph, outcome bar, gauge and rules as widgets, and all of them in every scheme."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hatchbook.desk.painting.gauge import GaugeMark, GaugeScale
from hatchbook.desk.theme.theme import SchemeChoice, Theme, wear_scheme
from hatchbook.desk.theme.tokens import SCHEME_NAMES, SchemeName, load_scheme
from hatchbook.desk.widgets.buttons import FlatButton, LinkButton
from hatchbook.desk.widgets.gauge import Gauge
from hatchbook.desk.widgets.key_figure import FigureText, FootRole, KeyFigure
from hatchbook.desk.widgets.labels import ElidedLabel, Label
from hatchbook.desk.widgets.notes import InlineNote
from hatchbook.desk.widgets.pictures import EggGlyph, OutcomeBar
from hatchbook.desk.widgets.readout import Readout
from hatchbook.desk.widgets.rules import HLine, VLine
from hatchbook.desk.widgets.segmented import Segmented
from hatchbook.desk.widgets.sheet import Desk, Sheet
from hatchbook.trade.codes import Fate
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot


def a_gauge() -> Gauge:
    gauge = Gauge()
    gauge.set_gauge(GaugeScale(30, 60, (30, 40, 50, 60), (40, 50), 45), [GaugeMark(48, 46, 50)])
    return gauge


def a_bar() -> OutcomeBar:
    bar = OutcomeBar()
    bar.set_counts({Fate.HATCHED: 17, Fate.LATE_DEAD: 6, Fate.CLEAR: 4}, "17 hatched, 6 dead late, 4 clear")
    return bar


def a_figure() -> KeyFigure:
    figure = KeyFigure("Hold from now on")
    figure.set_figure(FigureText("29", "%", "for 2 d"))
    figure.set_picture(a_gauge())
    figure.set_foot("29 % not reachable", FootRole.BAD)
    return figure


MAKERS: dict[str, Callable[[], QWidget]] = {
    "label": lambda: Label("Orchard hens", "title"),
    "elided": lambda: ElidedLabel("36 hen eggs from Orchard pen", ink="ink2"),
    "hline": HLine,
    "vline": lambda: VLine(strong=True),
    "flat": lambda: FlatButton("Candle", icon_name="candle"),
    "link": lambda: LinkButton("all 19 lines"),
    "segmented": lambda: Segmented([(1, "Batch"), (2, "Week")], name="Time shown"),
    "gauge": a_gauge,
    "bar": a_bar,
    "glyph": lambda: EggGlyph(Fate.ALIVE, 28, "alive"),
    "figure": a_figure,
    "note": lambda: InlineNote("Machine full", "bad", "Choose another"),
    "readout": lambda: Readout("Now 41.6 %", name="Reading"),
}


@pytest.mark.parametrize("name", SCHEME_NAMES)
@pytest.mark.parametrize("maker", MAKERS)
def test_it_is_painted_in_the_scheme_of_its_place(
    qtbot: QtBot, theme: Theme, maker: str, name: SchemeName
) -> None:
    """On a sheet of each scheme it differs from the bare sheet, and nothing of the light one is left."""
    sheet = Sheet()
    qtbot.addWidget(sheet)
    wear_scheme(sheet, load_scheme(name))
    widget = MAKERS[maker]()
    QVBoxLayout(sheet).addWidget(widget)
    sheet.resize(320, max(60, sheet.sizeHint().height()))
    image = sheet.grab().toImage()
    colours = {image.pixelColor(x, y).name() for x in range(image.width()) for y in range(image.height())}
    assert load_scheme(name).hex("page") in colours
    assert len(colours) > 1
    foreign = {
        load_scheme(other).hex(role)
        for other in SCHEME_NAMES
        # The light levels of the candling room share their darkest inks.
        if other.split("_")[0] != name.split("_")[0]
        for role in ("page", "ink", "rule", "accent", "band")
    }
    assert not colours & foreign


@pytest.mark.parametrize("maker", MAKERS)
def test_it_follows_the_theme_while_it_is_shown(qtbot: QtBot, theme: Theme, maker: str) -> None:
    widget = MAKERS[maker]()
    qtbot.addWidget(widget)
    widget.resize(max(widget.sizeHint().width(), 4), max(widget.sizeHint().height(), 4))
    widget.show()
    light = widget.grab().toImage()
    theme.choose(SchemeChoice.DARK)
    dark = widget.grab().toImage()
    theme.choose(SchemeChoice.LIGHT)
    assert dark != light
    assert widget.grab().toImage() == light
    widget.hide()


def test_pictures_speak_in_the_callers_words(qtbot: QtBot, theme: Theme) -> None:
    bar, glyph = a_bar(), EggGlyph(Fate.SET, 18, "set")
    for widget in (bar, glyph):
        qtbot.addWidget(widget)
    assert bar.accessibleName() == bar.toolTip() == "17 hatched, 6 dead late, 4 clear"
    glyph.set_fate(Fate.CLEAR, "clear")
    assert glyph.fate is Fate.CLEAR
    assert glyph.accessibleName() == "clear"


def test_changing_what_is_shown_changes_the_picture(qtbot: QtBot, theme: Theme) -> None:
    glyph, bar, gauge = EggGlyph(Fate.SET, 28, "set"), a_bar(), a_gauge()
    for widget in (glyph, bar, gauge):
        qtbot.addWidget(widget)
    before = [widget.grab().toImage() for widget in (glyph, bar, gauge)]
    glyph.set_fate(Fate.HATCHED, "hatched")
    bar.set_counts({Fate.HATCHED: 2}, "2 hatched")
    gauge.set_gauge(None)
    for widget, old in zip((glyph, bar, gauge), before, strict=True):
        assert widget.grab().toImage() != old


def test_rules_never_stretch_their_row(qtbot: QtBot, theme: Theme) -> None:
    page = QWidget()
    qtbot.addWidget(page)
    column, row = QVBoxLayout(page), QHBoxLayout()
    row.addWidget(Label("a"))
    row.addWidget(VLine())
    column.addLayout(row)
    column.addWidget(HLine())
    body = QWidget()
    column.addWidget(body, 1)
    page.resize(300, 400)
    page.show()
    assert row.geometry().height() < 60
    page.hide()


def test_grounds_are_painted(qtbot: QtBot, theme: Theme) -> None:
    for ground, role in ((Sheet(), "page"), (Desk(), "desk")):
        qtbot.addWidget(ground)
        ground.resize(10, 10)
        assert ground.grab().toImage().pixelColor(5, 5).name() == load_scheme("light").hex(role)
