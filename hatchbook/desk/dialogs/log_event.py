"""Logging what happened: water, vent, lid, power cut, misting, turning, a note; and editing it afterwards."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from PySide6.QtCore import QEvent, QObject, QSize, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QComboBox,
    QFormLayout,
    QLineEdit,
    QPushButton,
    QSpinBox,
    QVBoxLayout,
    QWidget,
)

from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.frame import FramedDialog
from hatchbook.desk.entry.instant_edit import CLOCK_PLAY_S, InstantEdit
from hatchbook.desk.entry.vent_edit import VentEdit
from hatchbook.desk.widgets.segmented import Segmented
from hatchbook.desk.words.codes import event_word
from hatchbook.desk.words.errors import error_sentence
from hatchbook.journal import Batch, Event
from hatchbook.trade.codes import EventKind
from hatchbook.trade.instants import InstantError, from_local_shifted, to_local

KINDS = (
    EventKind.WATER,
    EventKind.VENT,
    EventKind.LID,
    EventKind.POWER_CUT,
    EventKind.MISTED,
    EventKind.TURNED,
    EventKind.NOTE,
)
#: The letter that chooses each kind while no field is being typed in.
_LETTERS = dict(zip("WVLPMTN", KINDS, strict=True))
#: Kinds that belong to the machine; the others to the batch.
_OF_MACHINE = frozenset({EventKind.WATER, EventKind.VENT, EventKind.LID, EventKind.POWER_CUT})
_LASTING = frozenset({EventKind.LID, EventKind.POWER_CUT})
_MINUTE_S = 60


class LogEventDialog(FramedDialog):
    """One letter chooses the kind, the time is now, Enter saves."""

    def __init__(
        self,
        context: DeskContext,
        batch: Batch,
        parent: QWidget | None,
        *,
        kind: EventKind = EventKind.WATER,
        event: Event | None = None,
    ) -> None:
        title = self.tr("Log event") if event is None else self.tr("Change event")
        super().__init__(title, parent, QSize(560, 0))
        self._context = context
        self._batch = batch
        self._event = event
        self._machine = batch.machine if event is None or event.machine is None else event.machine
        self._build()
        self.choose(kind if event is None else event.kind)
        if event is not None:
            self._fill(event)

    def _build(self) -> None:
        words = [(kind, event_word(kind)) for kind in KINDS]
        self.kinds = Segmented(words, name=self.tr("What happened"))
        self.kinds.chosen.connect(lambda _kind: self._show_fields(to_field=not self.kinds.is_stepping))
        self.kinds.set_tips([f"{event_word(kind)}  ({letter})" for letter, kind in _LETTERS.items()])
        at = self._on_chosen_day() if self._event is None else self._event.at
        self.at = InstantEdit(self._context.zone, at)
        self.at.set_accessible_name(self.tr("When"))
        self.minutes = QSpinBox()
        self.minutes.setRange(0, 60 * 72)
        self.minutes.setSuffix(self.tr(" min"))
        self.minutes.setSpecialValueText(self.tr("not timed"))
        self.channels = QSpinBox()
        count = len(self._context.door.journal.machines.channels(self._machine))
        self.channels.setRange(-1, count if count else 12)
        self.channels.setSpecialValueText(self.tr("topped up, number not noted"))
        self.amount = QSpinBox()
        self.amount.setRange(0, 20_000)
        self.amount.setSingleStep(50)
        self.amount.setSuffix(self.tr(" ml"))
        self.amount.setSpecialValueText(self.tr("not measured"))
        self.vent = VentEdit()
        self.text = QLineEdit()
        self.text.setMaxLength(2000)
        # These would swallow the letters.
        for field in (self.channels, self.amount, self.minutes, self.vent):
            field.installEventFilter(self)
        self.form = QFormLayout()
        self.form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.ExpandingFieldsGrow)
        self.form.setLabelAlignment(Qt.AlignmentFlag.AlignLeft)
        self.form.addRow(self.tr("&When"), self.at)
        self.form.addRow(self.tr("&Channels with water from now on"), self.channels)
        self.form.addRow(self.tr("Water &added"), self.amount)
        self.form.addRow(self.tr("Vent from now &on"), self.vent)
        self.form.addRow(self.tr("&Lasted"), self.minutes)
        self.form.addRow(self.tr("&Note"), self.text)
        rows = QVBoxLayout()
        rows.setSpacing(14)
        rows.addWidget(self.kinds, 0, Qt.AlignmentFlag.AlignLeft)
        rows.addLayout(self.form)
        rows.addStretch(1)
        self.set_content(rows)
        self.save: QPushButton = self.add_main_button(
            self.tr("Log it") if self._event is None else self.tr("Keep the change")
        )
        self.save.clicked.connect(self._store)
        if self._event is not None:
            self.delete = self.add_leave_button(self.tr("Delete this entry"))
            self.delete.clicked.connect(self._delete)
        self.add_leave_button(self.tr("Cancel"))

    def _on_chosen_day(self) -> int:
        """Now; where a day before is chosen in the calendar, that day at the present time of day."""
        now, zone = self._context.now(), self._context.zone
        if self._context.day >= self._context.today():
            return now
        local = to_local(now, zone).replace(tzinfo=None)
        moment = datetime.combine(self._context.day, local.time())
        return from_local_shifted(moment, zone)

    @property
    def kind(self) -> EventKind:
        """The kind that is chosen."""
        return EventKind(str(self.kinds.current()))

    def choose(self, kind: EventKind) -> None:
        """Chooses a kind and puts the focus where its value is typed."""
        if kind in KINDS:
            self.kinds.choose(kind)
        self._show_fields()

    def _show_fields(self, *, to_field: bool = True) -> None:
        kind = self.kind
        shown = {
            self.channels: kind is EventKind.WATER,
            self.amount: kind is EventKind.WATER,
            self.vent: kind is EventKind.VENT,
            self.minutes: kind in _LASTING,
        }
        for field, visible in shown.items():
            self.form.setRowVisible(field, visible)
        if self._event is None:
            self._prefill(kind)
        if to_field:
            first = next((field for field, visible in shown.items() if visible), self.text)
            first.setFocus(Qt.FocusReason.OtherFocusReason)
            if first is self.vent:
                self.vent.line.selectAll()

    def _prefill(self, kind: EventKind) -> None:
        """What the machine stands at now is the likeliest start."""
        last = self._context.door.journal.events.last_before(self._machine, kind, self._context.now() + 1)
        if kind is EventKind.WATER and last is not None and last.channels_filled is not None:
            self.channels.setValue(last.channels_filled)
        if kind is EventKind.VENT and last is not None and last.vent is not None:
            self.vent.show_opening(last.vent)

    def _fill(self, event: Event) -> None:
        self.text.setText(event.text)
        self.channels.setValue(-1 if event.channels_filled is None else event.channels_filled)
        self.amount.setValue(round(event.water_ml or 0))
        if event.vent is not None:
            self.vent.show_opening(event.vent)
        if event.ends_at is not None:
            self.minutes.setValue((event.ends_at - event.at) // _MINUTE_S)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """A letter typed in a field for numbers chooses the kind; in that of the vent, where no word is begun."""
        if isinstance(event, QKeyEvent) and event.type() is QEvent.Type.KeyPress:
            begun = watched is self.vent and self.vent.line.selectedText() != self.vent.currentText()
            if not begun and self._choose_by(event):
                return True
        return super().eventFilter(watched, event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """A letter chooses the kind, unless a text is being typed."""
        typing = isinstance(self.focusWidget(), QLineEdit | QComboBox)
        if typing or not self._choose_by(event):
            super().keyPressEvent(event)

    def _choose_by(self, event: QKeyEvent) -> bool:
        kind = _LETTERS.get(event.text().upper())
        plain = not event.modifiers() & ~Qt.KeyboardModifier.ShiftModifier
        if kind is None or not plain:
            return False
        self.choose(kind)
        return True

    # ---------------------------------------------------------------- storing

    def _made(self) -> Event | None:
        kind = self.kind
        try:
            at = self.at.instant()
        except InstantError as error:
            self.tell(error_sentence(error))
            return None
        if at > self._context.now() + CLOCK_PLAY_S:
            self.tell(self.tr("That time is still to come. Log what has happened."))
            self.at.setFocus(Qt.FocusReason.OtherFocusReason)
            return None
        if kind is EventKind.NOTE and not self.text.text().strip():
            self.tell(self.tr("Write the note first."))
            self.text.setFocus()
            return None
        vent = None
        if kind is EventKind.VENT:
            vent = self._vent()
            if vent is None:
                return None
        water = kind is EventKind.WATER
        minutes = self.minutes.value() if kind in _LASTING else 0
        base = self._event if self._event is not None else Event(at, kind, batch=self._batch.uid)
        return replace(
            base,
            at=at,
            kind=kind,
            machine=self._machine if kind in _OF_MACHINE else None,
            batch=None if kind in _OF_MACHINE else self._batch.uid,
            ends_at=at + minutes * _MINUTE_S if minutes else None,
            channels_filled=self.channels.value() if water and self.channels.value() >= 0 else None,
            water_ml=float(self.amount.value()) if water and self.amount.value() else None,
            vent=vent,
            text=self.text.text().strip(),
        )

    def _vent(self) -> float | None:
        opening = self.vent.opening()
        if opening is None:
            self.tell(self.vent.trouble())
            self.vent.setFocus()
        return opening

    def _store(self) -> None:
        self.tell("")
        event = self._made()
        if event is None:
            return
        known = self._event is not None
        door = self._context.door
        change = door.run(
            lambda journal: journal.events.replace(event) if known else journal.events.add(event)
        )
        if change is not None:
            self.accept()
        else:
            self.tell(
                self.tr("{event} was not stored; what you typed is still here.").format(
                    event=event_word(event.kind)
                )
            )

    def _delete(self) -> None:
        event = self._event
        if event is not None:
            self._context.door.run(lambda journal: journal.events.remove(event))
