"""Care of a machine: cleaned, run dry and warm, a power cut, anything else that was mended or changed."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QFormLayout, QLineEdit, QPushButton, QSpinBox, QVBoxLayout, QWidget

from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.frame import FramedDialog
from hatchbook.desk.entry.instant_edit import CLOCK_PLAY_S, InstantEdit
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.widgets.segmented import Segmented
from hatchbook.desk.words.codes import event_word
from hatchbook.desk.words.errors import error_sentence
from hatchbook.journal import Event, Machine
from hatchbook.trade.codes import EventKind
from hatchbook.trade.instants import InstantError

KINDS = (EventKind.CLEANED, EventKind.DRY_RUN, EventKind.POWER_CUT, EventKind.CARE)
_LASTING = frozenset({EventKind.DRY_RUN, EventKind.POWER_CUT})
_MINUTE_S = 60
_USUAL_DRY_RUN_MIN = 60


class CareDialog(FramedDialog):
    """Notes what was done to a machine, or changes what was noted."""

    def __init__(
        self,
        context: DeskContext,
        machine: Machine,
        parent: QWidget | None,
        *,
        kind: EventKind = EventKind.CLEANED,
        event: Event | None = None,
    ) -> None:
        title = self.tr("Care of {machine}") if event is None else self.tr("Change care of {machine}")
        super().__init__(title.format(machine=machine.name), parent, QSize(520, 0))
        self._context = context
        self._machine = machine
        self._event = event
        self.kinds = Segmented([(one, event_word(one)) for one in KINDS], name=self.tr("What was done"))
        self.at = InstantEdit(context.zone, context.now() if event is None else event.at)
        self.at.set_accessible_name(self.tr("When"))
        self.minutes = QSpinBox()
        self.minutes.setRange(0, 60 * 72)
        self.minutes.setSuffix(self.tr(" min"))
        self.minutes.setSpecialValueText(self.tr("not timed"))
        self.text = QLineEdit()
        self.text.setMaxLength(2000)
        self.how = Label("", role="caption", ink="ink2", wraps=True)
        self._time_typed = event is not None
        self.at.edited.connect(self._note_time)
        self._build()
        if event is not None:
            self.text.setText(event.text)
            if event.ends_at is not None:
                self.minutes.setValue((event.ends_at - event.at) // _MINUTE_S)
        self.kinds.chosen.connect(lambda _key: self._show_fields())
        self.kinds.choose(kind if event is None else event.kind)
        self._show_fields()
        self.text.setFocus(Qt.FocusReason.OtherFocusReason)

    def _build(self) -> None:
        self.form = QFormLayout()
        self.form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.ExpandingFieldsGrow)
        self.form.setLabelAlignment(Qt.AlignmentFlag.AlignLeft)
        self.form.addRow(self.tr("&When"), self.at)
        self.form.addRow(self.tr("&Lasted"), self.minutes)
        self.form.addRow(self.tr("&Note"), self.text)
        rows = QVBoxLayout()
        rows.setSpacing(12)
        rows.addWidget(self.kinds, 0, Qt.AlignmentFlag.AlignLeft)
        rows.addLayout(self.form)
        rows.addWidget(self.how)
        rows.addStretch(1)
        self.set_content(rows)
        known = self._event is not None
        self.save: QPushButton = self.add_main_button(
            self.tr("Keep the change") if known else self.tr("Note the care")
        )
        self.save.clicked.connect(self._store)
        if known:
            self.delete: QPushButton = self.add_leave_button(self.tr("Delete this entry"))
            self.delete.clicked.connect(self._delete)
        self.add_leave_button(self.tr("Cancel"))

    @property
    def kind(self) -> EventKind:
        """What is chosen."""
        return EventKind(str(self.kinds.current()))

    def _note_time(self) -> None:
        self._time_typed = True

    def _show_fields(self) -> None:
        kind = self.kind
        self.tell("")
        if not self._time_typed:
            # A dry run that is noted now began an hour ago.
            began = _USUAL_DRY_RUN_MIN * _MINUTE_S if kind is EventKind.DRY_RUN else 0
            blocked = self.at.blockSignals(True)
            self.at.set_instant(self._context.now() - began)
            self.at.blockSignals(blocked)
        self.form.setRowVisible(self.minutes, kind in _LASTING)
        if kind is EventKind.DRY_RUN and self._event is None and not self.minutes.value():
            self.minutes.setValue(_USUAL_DRY_RUN_MIN)
        self.text.setPlaceholderText(
            self.tr("What was done, such as: vent seal replaced") if kind is EventKind.CARE else ""
        )
        self.how.setText(
            self.tr(
                "The machine warm, dry and without eggs for an hour shows what the room air alone gives. What its "
                "hygrometer and that of the room read then is taken from their readings: import those too, or log "
                "them by “Add care”, “Reading”."
            )
            if kind is EventKind.DRY_RUN
            else ""
        )
        self.how.setVisible(kind is EventKind.DRY_RUN)

    # ---------------------------------------------------------------- storing

    def _made(self) -> Event | None:
        kind, text = self.kind, self.text.text().strip()
        try:
            at = self.at.instant()
        except InstantError as error:
            self.tell(error_sentence(error))
            return None
        if at > self._context.now() + CLOCK_PLAY_S:
            self.tell(self.tr("That time is still to come. Note what was done."))
            self.at.setFocus(Qt.FocusReason.OtherFocusReason)
            return None
        if kind is EventKind.CARE and not text:
            self.tell(self.tr("Write what was done first."))
            self.text.setFocus()
            return None
        minutes = self.minutes.value() if kind in _LASTING else 0
        if at + minutes * _MINUTE_S > self._context.now() + CLOCK_PLAY_S:
            self.tell(self.tr("It would end in time to come: note it when it is over, or as shorter."))
            self.minutes.setFocus(Qt.FocusReason.OtherFocusReason)
            return None
        base = self._event if self._event is not None else Event(at, kind, machine=self._machine.uid)
        ends_at = at + minutes * _MINUTE_S if minutes else None
        return replace(base, at=at, kind=kind, ends_at=ends_at, text=text)

    def _store(self) -> None:
        self.tell("")
        event = self._made()
        if event is None:
            return
        known = self._event is not None
        change = self._context.door.run(
            lambda journal: journal.events.replace(event) if known else journal.events.add(event)
        )
        if change is not None:
            self.accept()
        else:
            self.tell(self.tr("It was not stored; what you typed is still here."))

    def _delete(self) -> None:
        event = self._event
        if event is not None:
            self._context.door.run(lambda journal: journal.events.remove(event))
