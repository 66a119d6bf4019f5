"""Asks for the place that eggs are to be moved to."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication, QSize
from PySide6.QtWidgets import QFormLayout, QLineEdit, QVBoxLayout, QWidget

from hatchbook.desk.dialogs.frame import FramedDialog
from hatchbook.desk.dialogs.with_trouble import WithTrouble, focus
from hatchbook.desk.tray.carry import Place, displaced, landing
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.words.eggs import PlaceError, parse_place, title_of
from hatchbook.figures.results import EggFigures

if TYPE_CHECKING:
    from hatchbook.desk.tray.tray_work import TrayWork


class MoveToDialog(FramedDialog):
    """A place is typed as it is written on the tray; what lies there is said before the eggs are moved."""

    def __init__(self, work: TrayWork, eggs: Sequence[EggFigures], parent: QWidget | None) -> None:
        super().__init__(QCoreApplication.translate("MoveToDialog", "Move eggs"), parent, QSize(380, 150))
        self._work = work
        self._model = work.tray.tray
        self._carried = {egg.egg.uid: egg.egg.place for egg in eggs}
        self._anchor = eggs[0].egg.uid
        self.place = QLineEdit()
        self.place.setMaxLength(12)
        self.place.setAccessibleName(self.tr("Place"))
        self.line = WithTrouble(self.place)
        self.says = Label("", role="caption", ink="ink2", wraps=True)
        form = QFormLayout()
        form.addRow(self.tr("&Place"), self.line)
        rows = QVBoxLayout()
        rows.setSpacing(8)
        trays = self._model.space.trays
        what = (
            title_of(eggs[0].egg, trays)
            if len(eggs) == 1
            else self.tr("%n egg(s); the first comes to the place you type", "", len(eggs))
        )
        rows.addWidget(Label(what, wraps=True))
        rows.addLayout(form)
        rows.addWidget(self.says)
        rows.addStretch(1)
        self.set_content(rows)
        self.add_main_button(self.tr("Move there")).clicked.connect(self._move)
        self.add_leave_button(self.tr("Cancel"))
        self.place.textEdited.connect(lambda _text: self._preview())
        focus(self.place)

    def _plan(self) -> dict[str, Place] | None:
        """Where the eggs would come to lie; None where what is typed is wrong, which is said."""
        space = self._model.space
        try:
            place = parse_place(self.place.text(), space.trays, space.rows, space.columns)
        except PlaceError as error:
            self.line.tell(str(error))
            return None
        plan = landing(space, self._carried, self._anchor, place)
        if place in space.others:
            named = self._model.place_name(place)
            self.line.tell(self.tr("An egg of another batch lies in {place}.").format(place=named))
        elif plan is None:
            self.line.tell(
                self.tr("There is no room for %n egg(s) from {place} on.", "", len(self._carried)).format(
                    place=self._model.place_name(place)
                )
            )
        return plan

    def _preview(self) -> None:
        """Says what lies at the place; what is still being typed is not wrong yet."""
        self.line.tell("")
        space = self._model.space
        try:
            place = parse_place(self.place.text(), space.trays, space.rows, space.columns)
        except PlaceError:
            self.says.setText("")
            return
        plan = landing(space, self._carried, self._anchor, place)
        pushed = None if plan is None else displaced(space, self._carried, plan)
        other = None if pushed is None else self._model.egg(pushed)
        if other is not None:
            left = self._carried[self._anchor]
            sentence = (
                self.tr("Egg {number} lies there; it goes off the tray.")
                if left is None
                else self.tr("Egg {number} lies there; the two change places.")
            )
            self.says.setText(sentence.format(number=other.egg.number))
        else:
            self.says.setText(self.tr("That place is free.") if plan is not None else "")

    def _move(self) -> None:
        plan = self._plan()
        if plan is None:
            focus(self.place)
            return
        if self._work.move(plan) is not None:
            self.accept()
        else:
            self.tell(self.tr("The eggs were not moved."))
