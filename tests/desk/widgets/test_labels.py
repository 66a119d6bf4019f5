"""Labels: their inks, their fonts, and what happens where there is no room."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from hatchbook.desk.theme.theme import SchemeChoice, Theme, wear_scheme
from hatchbook.desk.theme.tokens import load_scheme
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.widgets.labels import ElidedLabel, Label
from PySide6.QtCore import Qt
from PySide6.QtGui import QFont, QPalette
from PySide6.QtWidgets import QApplication, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot


def ink_of(label: Label) -> str:
    return label.palette().color(QPalette.ColorGroup.Active, QPalette.ColorRole.WindowText).name()


@pytest.fixture
def system_font(qapp: QApplication) -> Iterator[QFont]:
    before = QFont(qapp.font())
    yield QFont(before)
    qapp.setFont(before)


@pytest.mark.parametrize("ink", ["ink", "ink2", "ink3", "warn", "bad", "ok", "accent"])
def test_the_ink_follows_the_scheme(qtbot: QtBot, theme: Theme, ink: str) -> None:
    label = Label("text", ink=ink)
    qtbot.addWidget(label)
    label.show()
    assert ink_of(label) == load_scheme("light").hex(ink)
    theme.choose(SchemeChoice.DARK)
    assert ink_of(label) == load_scheme("dark").hex(ink)
    label.hide()


def test_a_label_that_was_never_shown_follows_once_it_is(qtbot: QtBot, theme: Theme) -> None:
    label = Label("text", ink="warn")
    qtbot.addWidget(label)
    theme.choose(SchemeChoice.DARK)
    label.show()
    assert ink_of(label) == load_scheme("dark").hex("warn")
    label.hide()


def test_a_label_put_into_the_candling_room_turns_red(qtbot: QtBot, theme: Theme) -> None:
    room = QWidget()
    qtbot.addWidget(room)
    wear_scheme(room, load_scheme("candling"))
    label = Label("text", ink="ink3")
    QVBoxLayout(room).addWidget(label)
    assert ink_of(label) == load_scheme("candling").hex("ink3")


def test_the_ink_can_be_changed(qtbot: QtBot, theme: Theme) -> None:
    label = Label("overdue", ink="ink2")
    qtbot.addWidget(label)
    label.set_ink("bad")
    assert label.ink == "bad"
    assert ink_of(label) == load_scheme("light").hex("bad")
    with pytest.raises(KeyError):
        label.set_ink("mauve")


def test_the_font_grows_with_the_systems(
    qtbot: QtBot, theme: Theme, qapp: QApplication, system_font: QFont
) -> None:
    label = Label("text", "title")
    qtbot.addWidget(label)
    label.show()
    before = label.font().pointSizeF()
    system_font.setPointSizeF(system_font.pointSizeF() * 1.5)
    qapp.setFont(system_font)
    # Qt tells the widgets in a later turn of the event loop.
    qtbot.waitUntil(lambda: label.font().pointSizeF() > before, timeout=1000)
    assert label.font().pointSizeF() == pytest.approx(before * 1.5, rel=0.01)
    assert label.font() == role_font(TypeRole.TITLE)
    label.hide()


def test_a_role_that_does_not_exist_is_refused(qtbot: QtBot) -> None:
    with pytest.raises(ValueError, match="huge"):
        Label("text", "huge")


def test_typed_markup_stays_text(qtbot: QtBot, theme: Theme) -> None:
    label = Label("<b>Brook</b> pen")
    qtbot.addWidget(label)
    assert label.textFormat() == Qt.TextFormat.PlainText


def test_a_line_without_room_is_cut_but_kept_whole_for_readers(qtbot: QtBot, theme: Theme) -> None:
    text = "36 hen eggs from Orchard pen in the Dairy machine, set Sun 3 May 09:00"
    label = ElidedLabel(text)
    qtbot.addWidget(label)
    label.resize(label.sizeHint())
    assert not label.is_elided()
    label.resize(90, label.height())
    assert label.is_elided()
    assert label.text() == text
    assert label.minimumSizeHint().width() < 90


def test_a_cut_line_differs_from_a_clipped_one(qtbot: QtBot, theme: Theme) -> None:
    """The dots are really drawn."""
    label = ElidedLabel("iiiiiiiiii " * 20)
    qtbot.addWidget(label)
    label.resize(100, 20)
    cut = label.grab().toImage()
    label.setText(label.fontMetrics().elidedText(label.text(), Qt.TextElideMode.ElideRight, 100))
    assert label.text().endswith("…")
    assert label.grab().toImage() == cut
