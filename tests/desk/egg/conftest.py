"""Sheets of eggs over a small journal."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TypeVar

import pytest
from hatchbook.desk.dialogs.egg_sheet import EggSheet
from hatchbook.desk.words.history import step_sentence
from hatchbook.journal import Candling, Egg, EggMass, PenMember, Weighing
from hatchbook.trade.codes import FindingCode
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QCheckBox, QComboBox, QLineEdit, QWidget
from pytestqt.qtbot import QtBot
from tests.desk.conftest import DAY, SET_AT, ZONE, Desk

Found = TypeVar("Found", bound=QWidget)


def pick(combo: QComboBox, key: object) -> None:
    """Chooses as the breeder does."""
    row = combo.findData(key)
    assert row >= 0
    combo.setCurrentIndex(row)
    combo.activated.emit(row)


@dataclass
class Sheet:
    """A sheet, and short ways into it."""

    desk: Desk
    dialog: EggSheet
    qtbot: QtBot

    def line(self, name: str, within: QWidget | None = None) -> QLineEdit:
        """The line of that name; of the form below the story where ``within`` says so."""
        lines = (within or self.dialog.fields).findChildren(QLineEdit)
        return next(line for line in lines if line.accessibleName() == name)

    def type(self, name: str, text: str, within: QWidget | None = None) -> QLineEdit:
        """Types into a line in place of what stands there, and leaves it."""
        line = self.line(name, within)
        line.setFocus()
        line.selectAll()
        if text:
            self.qtbot.keyClicks(line, text)
        else:
            self.qtbot.keyClick(line, Qt.Key.Key_Delete)
        self.dialog.table.setFocus()
        return line

    def trouble(self, name: str, within: QWidget | None = None) -> str:
        """What is said to be wrong with a line."""
        return self.line(name, within).accessibleDescription()

    def egg(self, number: int) -> Egg:
        """An egg as it is stored."""
        return next(
            egg for egg in self.desk.journal.eggs.of_batch(self.desk.batch.uid) if egg.number == number
        )

    def last_step(self) -> str:
        """What undo would take back."""
        step = self.desk.door.next_undo()
        assert step is not None
        return step_sentence(step, ZONE)

    def combo(self, name: str) -> QComboBox:
        """The list of that name in the form below the story."""
        return self._in_form(QComboBox, lambda one: one.accessibleName() == name)

    def box(self, text: str) -> QCheckBox:
        """The box with that text in the form below the story."""
        return self._in_form(QCheckBox, lambda one: one.text() == text)

    def _in_form(self, kind: type[Found], fits: Callable[[Found], bool]) -> Found:
        form = self.dialog.panel.form
        assert form is not None
        return next(one for one in form.findChildren(kind) if fits(one))

    def said(self) -> list[str]:
        """The sentences of the story."""
        model = self.dialog.table.story
        return [str(model.index(row, 2).data()) for row in range(model.rowCount())]


@pytest.fixture
def sheet(desk: Desk, qtbot: QtBot) -> Callable[..., Sheet]:
    """Opens the sheet of an egg."""

    def make(number: int = 1) -> Sheet:
        dialog = EggSheet(desk.context, desk.eggs[number - 1].uid, None)
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)
        qtbot.addWidget(dialog)
        with qtbot.waitActive(dialog):
            dialog.open()
            dialog.activateWindow()
        return Sheet(desk, dialog, qtbot)

    return make


@pytest.fixture
def told(desk: Desk) -> Desk:
    """The journal with two candlings and a weighing of the first egg, which weighed 60 g when set."""
    first = desk.eggs[0]
    desk.journal.eggs.replace(replace(first, set_mass_g=60.0))
    for day, code in ((7, FindingCode.ALIVE), (10, FindingCode.UNSURE)):
        candling = Candling(desk.batch.uid, SET_AT + day * DAY)
        desk.journal.candlings.note_findings(
            candling, {first.uid: code, desk.eggs[1].uid: FindingCode.ALIVE}, candling.at
        )
    weighing = Weighing(desk.batch.uid, SET_AT + 8 * DAY)
    desk.journal.weighings.note_weighing(weighing, [EggMass(weighing.uid, first.uid, 57.0)])
    pen = desk.journal.pens.by_name("Orchard")
    assert pen is not None
    for name, sex in (("Sorrel", "female"), ("Yarrow", "female"), ("Bran", "male")):
        desk.journal.pens.add_member(PenMember(pen.uid, name, sex))
    return desk
