"""The egg on the scale: which it is, what it weighed last, the field for what it weighs now."""

from __future__ import annotations

from contextlib import suppress
from zoneinfo import ZoneInfo

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from hatchbook.desk.egg.typed_values import HEAVIEST_G
from hatchbook.desk.weighing.mass_edit import MassEdit
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.words.eggs import egg_title
from hatchbook.desk.words.weighing import last_weight, loss_sentence, not_to_be_weighed
from hatchbook.figures.results import EggFigures
from hatchbook.figures.to_weigh import EggToWeigh
from hatchbook.trade.scale_text import read_scale
from hatchbook.trade.units import NumberError, Unit


class EggPane(QWidget):
    """One number field. Enter stores, up and down go to another egg.

    Signals:
        entered: Enter was pressed in the field.
        stepped: 1 for the next egg, -1 for the one before.
    """

    entered = Signal()
    stepped = Signal(int)

    def __init__(self, zone: ZoneInfo, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._zone = zone
        self.title = Label("", role="title")
        self.story = Label("", ink="ink2", wraps=True)
        self.mass = MassEdit(Unit.GRAM, self.tr("Mass of the egg"), below=HEAVIEST_G)
        self.mass.field.setMaximumWidth(220)
        self.mass.field.setMinimumHeight(34)
        self.mass.field.installEventFilter(self)
        self.lost = Label("", ink="ink2")
        self.told = Label("", wraps=True)
        self._egg: EggToWeigh | None = None
        self.mass.edited.connect(self._tell_loss)
        hint = Label(
            self.tr(
                "Enter stores the weight and goes on. A scale that types like a keyboard does it by itself. "
                "Arrows go to another egg."
            ),
            role="caption",
            ink="ink2",
            wraps=True,
        )
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(8)
        for widget in (self.title, self.story, self.mass, self.lost, self.told):
            rows.addWidget(widget)
        rows.addStretch(1)
        rows.addWidget(hint)
        self.setFocusProxy(self.mass)

    def show_egg(self, egg: EggToWeigh | None, shown: EggFigures | None, typed: str) -> None:
        """Shows the egg under the cursor; ``typed``: what was weighed in this sitting already."""
        self._egg = egg
        self.mass.setVisible(True)
        self.mass.setEnabled(egg is not None)
        self.mass.set_text("")
        if egg is None:
            self.title.setText("" if shown is None else egg_title(shown))
            self.story.setText("" if shown is None else not_to_be_weighed())
            return
        self.title.setText(egg_title(egg.figures))
        if typed:
            self.mass.set_text(typed)
            self.mass.field.selectAll()
        self.story.setText(last_weight(egg, self._zone, self.mass.unit))

    def show_none(self, why: str) -> None:
        """There is no egg to weigh at all."""
        self.show_egg(None, None, "")
        self.mass.setVisible(False)
        self.story.setText(why)

    def _tell_loss(self) -> None:
        """What has been lost, while the mass is typed; what is no mass yet says nothing."""
        self.lost.setText("")
        if self._egg is None or self.mass.is_empty():
            return
        with suppress(NumberError):
            found = read_scale(self.mass.field.text(), self.mass.unit, below=self.mass.below)
            self.lost.setText(loss_sentence(self._egg, found.mass_g))

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Notices Enter and the arrows in the field."""
        if (
            watched is self.mass.field
            and isinstance(event, QKeyEvent)
            and event.type() == QEvent.Type.KeyPress
        ):
            if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
                self.entered.emit()
                return True
            if event.key() in (Qt.Key.Key_Up, Qt.Key.Key_Down):
                self.stepped.emit(1 if event.key() == Qt.Key.Key_Down else -1)
                return True
        return super().eventFilter(watched, event)
