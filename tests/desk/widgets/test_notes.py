"""Notes in place, and the read-out line."""

from __future__ import annotations

import pytest
from hatchbook.desk.theme.theme import SchemeChoice, Theme
from hatchbook.desk.theme.tokens import load_scheme
from hatchbook.desk.widgets import notes, readout
from hatchbook.desk.widgets.buttons import LinkButton
from hatchbook.desk.widgets.notes import InlineNote, NoteKind
from hatchbook.desk.widgets.readout import Readout
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

LONG = (
    "26-05 is due to hatch in the Dairy machine on Sun 24 May. A late hatch would keep it too humid for "
    "these eggs until Mon 25 May evening."
)


@pytest.fixture
def announced(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    said: list[str] = []

    def say(_widget: QWidget, text: str) -> None:
        said.append(text)

    monkeypatch.setattr(notes, "announce", say)
    monkeypatch.setattr(readout, "announce", say)
    return said


@pytest.mark.parametrize("kind", NoteKind)
def test_a_note_shows_icon_and_text_on_its_plate(qtbot: QtBot, theme: Theme, kind: NoteKind) -> None:
    note = InlineNote("Machine full", kind)
    qtbot.addWidget(note)
    note.resize(300, note.heightForWidth(300))
    image = note.grab().toImage()
    fill = {"info": "inset", "warn": "warn_fill", "bad": "bad_fill"}[kind]
    assert image.pixelColor(image.width() - 12, 6).name() == load_scheme("light").hex(fill)
    assert not note._icon.pixmap().isNull()
    assert note.accessibleName() == note.text() == "Machine full"


def test_the_kinds_have_different_icons(qtbot: QtBot, theme: Theme) -> None:
    icons = []
    for kind in NoteKind:
        note = InlineNote("text", kind)
        qtbot.addWidget(note)
        alpha = (
            note._icon.pixmap().toImage().convertToFormat(note._icon.pixmap().toImage().Format.Format_Alpha8)
        )
        icons.append(bytes(alpha.constBits()))
    assert len(set(icons)) == len(NoteKind)


def test_a_long_note_wraps(qtbot: QtBot, theme: Theme) -> None:
    note = InlineNote(LONG)
    qtbot.addWidget(note)
    assert note.heightForWidth(260) > note.heightForWidth(700)
    assert note.sizeHint().height() < 120
    note.resize(300, note.heightForWidth(300))
    note.show()
    assert note._text.height() >= note._text.heightForWidth(note._text.width())
    note.hide()


@pytest.mark.parametrize("separator", ["/", "\\"])
def test_a_long_path_does_not_force_a_window_wide(qtbot: QtBot, theme: Theme, separator: str) -> None:
    path = separator.join(["", *["folder"] * 30, "spring.hatchbook"])
    note = InlineNote(f"Could not save to {path}: disk full.")
    qtbot.addWidget(note)
    assert note.minimumSizeHint().width() < 250
    assert path in note.text()
    assert "\u200b" not in note.accessibleName()


def test_a_link_leads_to_the_way_out(qtbot: QtBot, theme: Theme) -> None:
    note = InlineNote("Disk full", "bad", "Save elsewhere")
    qtbot.addWidget(note)
    note.show()
    link = note.findChild(LinkButton)
    assert link is not None
    assert link.isVisible()
    with qtbot.waitSignal(note.link_clicked, timeout=1000):
        qtbot.mouseClick(link, Qt.MouseButton.LeftButton)
    note.set_text("Disk still full")
    assert (note.text(), note.kind, link.label()) == ("Disk still full", NoteKind.BAD, "Save elsewhere")
    note.set_note("Saved", "info")
    assert not link.isVisible()
    note.hide()


def test_a_note_on_the_screen_is_read_aloud(qtbot: QtBot, theme: Theme, announced: list[str]) -> None:
    note = InlineNote("first")
    qtbot.addWidget(note)
    note.set_text("second")
    assert announced == []
    note.show()
    note.set_text("third")
    assert announced == ["third"]
    note.hide()


def test_the_icon_changes_with_the_scheme(qtbot: QtBot, theme: Theme) -> None:
    note = InlineNote("text")
    qtbot.addWidget(note)
    note.show()
    light = note._icon.pixmap().toImage()
    theme.choose(SchemeChoice.DARK)
    assert note._icon.pixmap().toImage() != light
    note.hide()


def test_the_read_out_is_heard_when_it_rests(
    qtbot: QtBot, theme: Theme, announced: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    line = Readout("Now 41.6 %", name="Reading")
    qtbot.addWidget(line)
    line._rest.setInterval(20)
    for day in range(5):
        line.set_reading(f"Day {day}: 46.7 %")
    assert announced == []
    qtbot.waitUntil(lambda: bool(announced), timeout=2000)
    assert announced == ["Day 4: 46.7 %"]
    assert line.accessibleName() == "Reading: Day 4: 46.7 %"


def test_pointing_no_more_silences_the_read_out(qtbot: QtBot, theme: Theme, announced: list[str]) -> None:
    line = Readout()
    qtbot.addWidget(line)
    line.set_reading("Day 5: 46.7 %")
    assert line.ink == "ink"
    line.set_reading("Now 41.6 %", pointed=False)
    assert line.ink == "ink2"
    assert not line._rest.isActive()
    assert announced == []
