"""Key figures."""

from __future__ import annotations

import pytest
from hatchbook.desk.painting.gauge import GaugeMark, GaugeScale
from hatchbook.desk.theme.theme import Theme
from hatchbook.desk.widgets.gauge import Gauge
from hatchbook.desk.widgets.key_figure import FigureText, FootRole, KeyFigure
from hatchbook.desk.widgets.pictures import OutcomeBar
from hatchbook.trade.codes import Fate
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot


def gauge() -> Gauge:
    made = Gauge()
    made.set_gauge(GaugeScale(30, 60, (30, 40, 50, 60), (40, 50), 45), [GaugeMark(48, 46, 50)])
    return made


@pytest.fixture
def figure(qtbot: QtBot, theme: Theme) -> KeyFigure:
    figure = KeyFigure("Mean humidity so far")
    figure.set_figure(FigureText("48.0", "%", "± 2"))
    figure.set_picture(gauge())
    figure.set_foot("in the band, 3.0 above the aim")
    qtbot.addWidget(figure)
    figure.resize(260, figure.sizeHint().height())
    return figure


def heard(widget: QWidget) -> tuple[str, str, QAccessible.Role]:
    interface = QAccessible.queryAccessibleInterface(widget)
    return (
        interface.text(QAccessible.Text.Name),
        interface.text(QAccessible.Text.Description),
        interface.role(),
    )


def test_screen_readers_hear_one_sentence(figure: KeyFigure) -> None:
    assert heard(figure) == (
        "Mean humidity so far: 48.0 % ± 2",
        "in the band, 3.0 above the aim",
        QAccessible.Role.Button,
    )


def test_the_sentence_follows_the_figure(figure: KeyFigure) -> None:
    figure.set_figure(FigureText("58", "%", "41–74", "18 of 31"))
    figure.set_caption("Hatched, of fertile")
    assert heard(figure)[0] == "Hatched, of fertile: 58 % 41–74 18 of 31"
    figure.set_figure(FigureText("58", "%", "41–74"), spoken="58 percent hatched, between 41 and 74")
    assert heard(figure)[0] == "58 percent hatched, between 41 and 74"


@pytest.mark.parametrize("key", [Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space])
def test_keys_ask_how_it_is_reckoned(qtbot: QtBot, figure: KeyFigure, key: Qt.Key) -> None:
    assert figure.focusPolicy() & Qt.FocusPolicy.TabFocus
    with qtbot.waitSignal(figure.activated, timeout=1000):
        qtbot.keyClick(figure, key)


def test_a_click_anywhere_asks_too(qtbot: QtBot, figure: KeyFigure) -> None:
    figure.show()
    picture = figure.findChild(Gauge)
    assert picture is not None
    with qtbot.waitSignal(figure.activated, timeout=1000):
        qtbot.mouseClick(picture.window().childAt(picture.geometry().center()), Qt.MouseButton.LeftButton)
    figure.hide()


def test_a_link_in_the_line_leads_elsewhere(qtbot: QtBot, figure: KeyFigure) -> None:
    figure.set_foot("2 channels, vent 1/2 give 41 ± 2 %", FootRole.LINK)
    figure.show()
    link = figure._link
    assert link.isVisible()
    assert link.focusPolicy() & Qt.FocusPolicy.TabFocus
    with qtbot.assertNotEmitted(figure.activated), qtbot.waitSignal(figure.foot_activated, timeout=1000):
        qtbot.mouseClick(link, Qt.MouseButton.LeftButton)
    with qtbot.assertNotEmitted(figure.activated), qtbot.waitSignal(figure.foot_activated, timeout=1000):
        qtbot.keyClick(link, Qt.Key.Key_Return)
    assert figure.foot() == "2 channels, vent 1/2 give 41 ± 2 %"
    figure.set_foot("little left to steer")
    assert not link.isVisible()
    assert figure.foot() == "little left to steer"
    figure.hide()


@pytest.mark.parametrize("role", [FootRole.WARN, FootRole.BAD])
def test_a_warning_carries_a_flag(figure: KeyFigure, role: FootRole) -> None:
    figure.show()
    figure.set_foot("34 % not reachable; driest is 38 %", role)
    assert figure._flag.isVisible()
    assert not figure._flag.pixmap().isNull()
    assert figure._foot.ink == role.value
    figure.set_foot("in the band")
    assert not figure._flag.isVisible()
    figure.hide()


def test_a_figure_that_is_missing_says_why(figure: KeyFigure) -> None:
    figure.set_missing("not weighed yet; next on Sun 17 May")
    assert figure.figure().value == "–"
    assert heard(figure)[:2] == ("Mean humidity so far: –", "not weighed yet; next on Sun 17 May")
    assert figure._picture is None


def test_another_picture_replaces_the_first(qtbot: QtBot, figure: KeyFigure) -> None:
    first = figure.findChild(Gauge)
    assert first is not None
    bar = OutcomeBar()
    bar.set_counts({Fate.ALIVE: 31, Fate.CLEAR: 3}, "31 alive, 3 clear")
    with qtbot.waitSignal(first.destroyed, timeout=1000):
        figure.set_picture(bar)
    assert bar.parent() is figure
    figure.set_picture(bar)
    assert figure.findChildren(OutcomeBar) == [bar]


def test_figures_in_a_row_are_equally_high(qtbot: QtBot, figure: KeyFigure) -> None:
    bare = KeyFigure("Weight lost")
    qtbot.addWidget(bare)
    bare.set_missing("not weighed yet")
    linked = KeyFigure("Hold from now on")
    qtbot.addWidget(linked)
    linked.set_picture(gauge())
    linked.set_foot("2 channels", FootRole.LINK)
    assert {bare.sizeHint().height(), linked.sizeHint().height()} == {figure.sizeHint().height()}


def test_gauges_in_a_row_lie_level(qtbot: QtBot, figure: KeyFigure) -> None:
    """A link below is higher than a remark."""
    tops = []
    for role in (FootRole.NORMAL, FootRole.LINK, FootRole.BAD):
        figure.set_foot("2 channels, vent 1/2", role)
        figure.show()
        layout = figure.layout()
        assert layout is not None
        layout.activate()
        picture = figure.findChild(Gauge)
        assert picture is not None
        tops.append(picture.y())
    assert len(set(tops)) == 1
    figure.hide()


def test_words_go_before_the_number_does(figure: KeyFigure) -> None:
    parts = ("58", "%", "41–74", "18 of 31")
    figure.set_figure(FigureText(*parts))
    row = figure._row
    for width, shown in (
        (row.sizeHint().width() + 8, parts),
        (row.sizeHint().width() - 12, parts[:3]),
        (row.minimumSizeHint().width(), parts[:2]),
    ):
        row.resize(width, row.height())
        assert row.shown_parts() == shown


def test_five_fit_the_narrow_window(figure: KeyFigure) -> None:
    """1100 px less the left column of 250 px, parted into five by four lines."""
    assert figure.minimumSizeHint().width() <= (1100 - 250 - 4) / 5


def test_nothing_is_cut_off_below(figure: KeyFigure) -> None:
    figure.show()
    for child in (figure._caption, figure._row, figure._foot):
        assert child.height() >= child.sizeHint().height()
        assert figure.rect().contains(child.geometry())
    figure.hide()
