"""The air of the room: as it was read last, or as the breeder types it; every number of the guide follows it."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import QDoubleSpinBox, QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from hatchbook.desk.widgets.buttons import LinkButton
from hatchbook.desk.widgets.labels import ElidedLabel, Label
from hatchbook.desk.widgets.notes import InlineNote
from hatchbook.desk.words.guide import ask_for_room, room_origin, room_sentence, weather_sentence
from hatchbook.figures.guide_results import MachineGuide, RoomAir, RoomAirFrom

_REST_MS = 150
"""Typing rests this long before the table follows."""
_WARMTHS = (-10.0, 45.0)


class RoomPane(QWidget):
    """Two spin boxes, where their values come from, and what the room air means for the machine.

    Signals:
        room_typed: a ``RoomAir`` that the breeder typed, or None to go back to the reading.
    """

    room_typed = Signal(object)

    def __init__(self, zone: ZoneInfo, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.zone = zone
        self.warmth = self._spin(_WARMTHS, self.tr(" °C"), self.tr("Temperature of the room"))
        self.humidity = self._spin((1.0, 100.0), self.tr(" %"), self.tr("Humidity of the room"))
        self.back = LinkButton(self.tr("Back to the reading"))
        self.origin = ElidedLabel("", "caption", "ink2")
        self.ask = InlineNote("")
        self.alone = Label("", wraps=True)
        self.weather = [Label("", ink="ink2", wraps=True) for _ in range(2)]
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(_REST_MS)
        self._build()
        for spin in (self.warmth, self.humidity):
            spin.valueChanged.connect(lambda _value: self._rest.start())
            spin.editingFinished.connect(self._tell_at_once)
        self._rest.timeout.connect(self._tell)
        self.back.clicked.connect(self._go_back)

    @staticmethod
    def _spin(span: tuple[float, float], suffix: str, name: str) -> QDoubleSpinBox:
        spin = QDoubleSpinBox()
        spin.setRange(*span)
        spin.setDecimals(1)
        spin.setSingleStep(0.5)
        spin.setSuffix(suffix)
        spin.setAccessibleName(name)
        spin.setAlignment(Qt.AlignmentFlag.AlignRight)
        spin.setKeyboardTracking(True)
        return spin

    def _build(self) -> None:
        head = QHBoxLayout()
        head.setSpacing(8)
        head.addWidget(Label(self.tr("Room air"), role="section"))
        head.addWidget(self.origin, 1, Qt.AlignmentFlag.AlignBottom)
        head.addWidget(self.back, 0, Qt.AlignmentFlag.AlignBottom)
        fields = QGridLayout()
        fields.setHorizontalSpacing(12)
        fields.setVerticalSpacing(3)
        for column, (text, spin) in enumerate(
            ((self.tr("&Temperature"), self.warmth), (self.tr("H&umidity"), self.humidity))
        ):
            label = Label(text, "caption", "ink2")
            label.setBuddy(spin)
            fields.addWidget(label, 0, column)
            fields.addWidget(spin, 1, column)
            fields.setColumnStretch(column, 1)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(6)
        rows.addLayout(head)
        rows.addLayout(fields)
        rows.addWidget(self.ask)
        rows.addWidget(self.alone)
        for label in self.weather:
            rows.addWidget(label)

    # ---------------------------------------------------------------- showing

    def show_guide(self, guide: MachineGuide, read: RoomAir | None) -> None:
        """Shows the air that a guide rests on; ``read``: the last reading, None where there is none."""
        if not self._rest.isActive():
            for spin, value in (
                (self.warmth, guide.room.temperature_c),
                (self.humidity, guide.room.humidity),
            ):
                if not spin.hasFocus() or guide.room.origin is not RoomAirFrom.TYPED:
                    blocked = spin.blockSignals(True)
                    spin.setValue(value)
                    spin.blockSignals(blocked)
        typed = guide.room.origin is RoomAirFrom.TYPED
        self.origin.setText(
            room_origin(guide.room, self.zone, learned=guide.stretches > 0 and guide.wanted is not None)
        )
        self.back.set_text(self.tr("Back to the reading") if read is not None else self.tr("Forget it"))
        self.back.setVisible(typed)
        asks = ask_for_room(guide)
        if asks != self.ask.text():
            self.ask.set_note(asks, "warn")
        self.ask.setVisible(bool(asks))
        self.alone.setText(room_sentence(guide))
        sentences = [weather_sentence(effect, guide) for effect in guide.weather]
        for position, label in enumerate(self.weather):
            label.setText(sentences[position] if position < len(sentences) else "")
            label.setVisible(position < len(sentences))

    def focus_first(self) -> None:
        """Puts the focus to the temperature."""
        self.warmth.setFocus(Qt.FocusReason.OtherFocusReason)
        self.warmth.selectAll()

    # ---------------------------------------------------------------- typing

    def typed(self) -> RoomAir:
        """The air as it stands in the fields."""
        return RoomAir(self.warmth.value(), self.humidity.value(), RoomAirFrom.TYPED)

    def _tell(self) -> None:
        self.room_typed.emit(self.typed())

    def _tell_at_once(self) -> None:
        if self._rest.isActive():
            self._rest.stop()
            self._tell()

    def _go_back(self) -> None:
        self._rest.stop()
        self.room_typed.emit(None)
        self.warmth.setFocus(Qt.FocusReason.OtherFocusReason)
