"""The theme: what it changes, whom it tells, and what it leaves alone."""

from __future__ import annotations

import re

import pytest
from hatchbook.desk.theme.dress import scheme_style_sheet
from hatchbook.desk.theme.theme import SchemeChoice, Theme, current_theme, scheme_of, wear_scheme
from hatchbook.desk.theme.tokens import SCHEME_NAMES, SchemeName, load_scheme
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QApplication, QLabel, QLineEdit, QToolBar, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot


def test_choosing_dark_dresses_the_application_and_tells(
    qtbot: QtBot, theme: Theme, qapp: QApplication
) -> None:
    with qtbot.waitSignal(theme.scheme_changed, timeout=1000):
        theme.choose(SchemeChoice.DARK)
    assert theme.scheme is load_scheme("dark")
    assert qapp.palette().color(QPalette.ColorRole.Window) == load_scheme("dark").desk
    assert load_scheme("dark").hex("inset") in qapp.styleSheet()


def test_choosing_the_same_again_tells_nobody(qtbot: QtBot, theme: Theme) -> None:
    with qtbot.assertNotEmitted(theme.scheme_changed):
        theme.choose(SchemeChoice.LIGHT)


def test_listeners_find_the_application_already_dressed(theme: Theme, qapp: QApplication) -> None:
    seen: list[str] = []
    listener = lambda: seen.append(qapp.palette().color(QPalette.ColorRole.Window).name())  # noqa: E731
    theme.scheme_changed.connect(listener)
    theme.choose(SchemeChoice.DARK)
    theme.scheme_changed.disconnect(listener)
    assert seen == [load_scheme("dark").hex("desk")]


def test_the_system_decides_unless_the_breeder_did(theme: Theme, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("hatchbook.desk.theme.theme.system_is_dark", lambda: True)
    theme.choose(SchemeChoice.SYSTEM)
    assert theme.scheme.name == "dark"
    theme.choose(SchemeChoice.LIGHT)
    theme._follow()  # what the system's signal calls
    assert theme.scheme.name == "light"


def test_there_is_one_theme(theme: Theme) -> None:
    assert current_theme() is theme


def test_the_style_stays_the_systems_own(theme: Theme, qapp: QApplication) -> None:
    before = qapp.style().name()
    theme.choose(SchemeChoice.DARK)
    assert qapp.style().name() == before


@pytest.mark.parametrize("name", SCHEME_NAMES)
def test_the_style_sheet_speaks_only_to_named_widgets(name: SchemeName) -> None:
    sheet = scheme_style_sheet(load_scheme(name))
    selectors = [part.strip() for head in re.findall(r"([^{}]+)\{", sheet) for part in head.split(",")]
    assert len(selectors) > 10
    # A part of a named widget that cannot have a name itself, such as a table's corner, is reached through it.
    named = re.compile(r"Q\w+#\w+( Q\w+)?(::?[\w-]+)*(:\w+)*$")
    assert [selector for selector in selectors if not named.match(selector)] == []


def test_the_style_sheet_names_only_colours_of_the_scheme() -> None:
    scheme = load_scheme("dark")
    known = {
        scheme.hex(role)
        for role in ("desk", "page", "inset", "rule_strong", "ink", "ink2", "select", "accent")
    }
    assert set(re.findall(r"#[0-9a-f]{6}\b", scheme_style_sheet(scheme))) <= known | {scheme.hex("focus")}


def test_a_window_may_wear_a_scheme_of_its_own(qtbot: QtBot, theme: Theme) -> None:
    room, field = QWidget(), QLineEdit()
    qtbot.addWidget(room)
    QVBoxLayout(room).addWidget(field)
    assert scheme_of(field).name == "light"
    wear_scheme(room, load_scheme("candling"))
    assert scheme_of(field).name == "candling"
    assert field.palette().color(QPalette.ColorRole.Base) == load_scheme("candling").field
    theme.choose(SchemeChoice.DARK)
    assert scheme_of(field).name == "candling"


def test_colours_reach_plain_widgets_inside_named_ones(qtbot: QtBot, theme: Theme) -> None:
    """A style sheet for the application keeps Qt from handing palettes down by itself."""
    window, inner = QWidget(), QLabel("text")
    qtbot.addWidget(window)
    window.setObjectName("sheet")
    column = QVBoxLayout(window)
    column.addWidget(inner)
    window.show()
    theme.choose(SchemeChoice.DARK)
    assert inner.palette().color(QPalette.ColorRole.WindowText) == load_scheme("dark").ink
    window.hide()
    wear_scheme(window, load_scheme("candling"))
    assert inner.palette().color(QPalette.ColorRole.WindowText) == load_scheme("candling").ink
    late = QLabel("put in later")
    column.addWidget(late)
    window.show()
    assert late.palette().color(QPalette.ColorRole.WindowText) == load_scheme("candling").ink
    window.hide()


def test_the_ground_of_a_tool_bar_is_not_handed_down_to_its_fields(qtbot: QtBot, theme: Theme) -> None:
    bar, field = QToolBar(), QLineEdit()
    qtbot.addWidget(bar)
    bar.setObjectName("tools")
    bar.addWidget(field)
    bar.show()
    assert field.palette().color(QPalette.ColorRole.Base) == load_scheme("light").field
    theme.choose(SchemeChoice.DARK)
    assert field.palette().color(QPalette.ColorRole.Base) == load_scheme("dark").field
    bar.hide()


def test_what_is_filled_in_stands_out_from_the_sheet(qtbot: QtBot, theme: Theme) -> None:
    field = QLineEdit()
    qtbot.addWidget(field)
    field.show()
    for choice, name in ((SchemeChoice.DARK, "dark"), (SchemeChoice.LIGHT, "light")):
        theme.choose(choice)
        assert field.palette().color(QPalette.ColorRole.Base) == load_scheme(name).field
    field.hide()
