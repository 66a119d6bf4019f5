"""What is aimed at: phases, weight loss, which eggs are weighed, and the days of candling."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QLocale, Qt, Signal
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLineEdit, QSpinBox, QVBoxLayout, QWidget

from hatchbook.desk.dialogs.phase_rows import PhaseRowsModel, PhaseTable
from hatchbook.desk.dialogs.typed_targets import typed_days, typed_loss, typing_sentence
from hatchbook.desk.dialogs.with_trouble import WithTrouble, focus
from hatchbook.desk.entry.value_edit import ValueEdit
from hatchbook.desk.widgets.buttons import LinkButton
from hatchbook.desk.widgets.labels import ElidedLabel, Label
from hatchbook.desk.widgets.segmented import Segmented
from hatchbook.desk.words.codes import word
from hatchbook.trade.codes import WeighPlan
from hatchbook.trade.phases import ProgrammeError
from hatchbook.trade.programme import Programme
from hatchbook.trade.programme_changes import loss_target, with_changes
from hatchbook.trade.units import Unit

_MARKED = 12
_LONGEST_NOTE = 2000


class TargetsForm(QWidget):
    """The targets of a programme, which the breeder may change for this batch.

    Signals:
        edited: something was changed.
    """

    edited = Signal()

    def __init__(self, unit: Unit, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.phases = PhaseRowsModel(unit)
        self.phase_table = PhaseTable(self.phases)
        self.changed_line = ElidedLabel("", role="caption", ink="ink2")
        self.sources = LinkButton(self.tr("Where this comes from"))
        self.phase_line = Label("", role="caption", ink="bad", wraps=True)
        self.phase_line.setVisible(False)
        self.loss_low = self._number(Unit.PERCENT, self.tr("Least weight lost"))
        self.loss_high = self._number(Unit.PERCENT, self.tr("Most weight lost"))
        self.loss_day = QLineEdit()
        self.loss_day.setAccessibleName(self.tr("Day by which the weight is lost"))
        self.loss_day.setMaximumWidth(56)
        self.loss_line = Label("", role="caption", ink="bad", wraps=True)
        self.loss_line.setVisible(False)
        self.weigh = Segmented(
            [(plan, word(plan)) for plan in WeighPlan], name=self.tr("Which eggs are weighed")
        )
        self.marked = QSpinBox()
        self.marked.setRange(1, 999)
        self.marked.setValue(_MARKED)
        self.marked.setSuffix(self.tr(" eggs"))
        self.marked.setAccessibleName(self.tr("How many eggs are marked for weighing"))
        self.candle = QLineEdit()
        self.candle.setAccessibleName(self.tr("Candle on days"))
        self.candle_line = WithTrouble(self.candle)
        self.note = QLineEdit()
        self.note.setMaxLength(_LONGEST_NOTE)
        self.note.setAccessibleName(self.tr("Note"))
        self._lay_out()
        self.phases.edited.connect(self.edited)
        for field in (self.loss_day, self.candle, self.note):
            field.textEdited.connect(lambda _text: self.edited.emit())
        for edit in (self.loss_low, self.loss_high):
            edit.edited.connect(self.edited)
        self.weigh.chosen.connect(lambda _plan: self._weigh_chosen())
        self.marked.valueChanged.connect(lambda _value: self.edited.emit())

    def _number(self, unit: Unit, name: str) -> ValueEdit:
        edit = ValueEdit(unit, name)
        edit.field.setMaximumWidth(56)
        return edit

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        title = Label(self.tr("P&hases"), role="section")
        title.setBuddy(self.phase_table)
        head.addWidget(title)
        head.addSpacing(8)
        head.addWidget(self.changed_line, 1)
        head.addWidget(self.sources)
        loss = QHBoxLayout()
        loss.setSpacing(6)
        loss.addWidget(self.loss_low)
        loss.addWidget(Label(self.tr("to")))
        loss.addWidget(self.loss_high)
        loss.addWidget(Label(self.tr("by day")))
        loss.addWidget(self.loss_day)
        loss.addStretch(1)
        weigh = QHBoxLayout()
        weigh.setSpacing(8)
        weigh.addWidget(self.weigh)
        weigh.addWidget(self.marked)
        weigh.addStretch(1)
        grid = QGridLayout()
        grid.setHorizontalSpacing(10)
        grid.setVerticalSpacing(8)
        grid.setColumnStretch(1, 1)
        for row, (text, buddy) in enumerate(
            (
                (self.tr("&Weight lost"), self.loss_low.field),
                ("", None),
                (self.tr("We&igh"), self.weigh),
                (self.tr("Candle on &days"), self.candle),
            )
        ):
            if buddy is not None:
                label = Label(text)
                label.setBuddy(buddy)
                grid.addWidget(label, row, 0)
        grid.addLayout(loss, 0, 1)
        grid.addWidget(self.loss_line, 1, 1)
        grid.addLayout(weigh, 2, 1)
        last = QGridLayout()
        last.setHorizontalSpacing(10)
        last.setColumnStretch(0, 1)
        last.setColumnStretch(2, 2)
        note = Label(self.tr("No&te"))
        note.setBuddy(self.note)
        last.addWidget(self.candle_line, 0, 0, Qt.AlignmentFlag.AlignTop)
        last.addWidget(note, 0, 1)
        last.addWidget(self.note, 0, 2, Qt.AlignmentFlag.AlignTop)
        grid.addLayout(last, 3, 1)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(6)
        rows.addLayout(head)
        rows.addWidget(self.phase_table)
        rows.addWidget(self.phase_line)
        rows.addSpacing(4)
        rows.addLayout(grid)

    # ---------------------------------------------------------------- showing

    def show_programme(self, programme: Programme) -> None:
        """Shows what a programme aims at; which eggs are weighed stays as it was."""
        self.phases.show_phases(programme.phases)
        loss = loss_target(programme)
        blocked = self.blockSignals(True)
        self.loss_low.set_text("" if loss is None else _plain(loss.low_percent))
        self.loss_high.set_text("" if loss is None else _plain(loss.high_percent))
        self.loss_day.setText("" if loss is None else _plain(loss.day))
        self.candle.setText(", ".join(f"{day:g}" for day in programme.candle_days))
        self.blockSignals(blocked)
        self.show_troubles()

    def show_weighing(self, plan: WeighPlan, marked: int | None = None) -> None:
        """Shows which eggs are weighed."""
        self.weigh.choose(plan)
        if marked is not None:
            self.marked.setValue(marked)
        self.marked.setVisible(plan is WeighPlan.MARKED)

    @property
    def weigh_plan(self) -> WeighPlan:
        """Which eggs are weighed."""
        return WeighPlan(str(self.weigh.current()))

    def _weigh_chosen(self) -> None:
        self.marked.setVisible(self.weigh_plan is WeighPlan.MARKED)
        self.edited.emit()

    # ---------------------------------------------------------------- reading

    def programme(self, base: Programme) -> Programme:
        """A programme with what was entered in place of its own.

        Raises:
            ProgrammeError: something cannot be; ``first_gap`` leads there.
        """
        phases = self.phases.phases()
        ends = phases[-1].to_day
        weighs = self.weigh_plan is not WeighPlan.NONE
        return with_changes(
            base,
            phases=phases,
            candle_days=typed_days(self.candle.text(), "candle_days"),
            weigh_days=tuple(day for day in base.weigh_days if day <= ends) if weighs else (),
            loss=typed_loss(self.loss_low.field.text(), self.loss_high.field.text(), self.loss_day.text()),
        )

    def show_troubles(self, error: ProgrammeError | None = None) -> None:
        """Says in its place what cannot be; None where all can."""
        said = "" if error is None else typing_sentence(error)
        field = "" if error is None else error.field.split("[")[0]
        cell = self.phases.first_trouble()
        in_phases = cell[2] if cell is not None else said if field not in _OTHERS else ""
        self.phase_line.setText(in_phases)
        self.phase_line.setVisible(bool(in_phases))
        self.candle_line.tell(said if field == "candle_days" else "")
        in_loss = said if field in ("loss_percent", "loss_day") else ""
        self.loss_line.setText(in_loss)
        self.loss_line.setVisible(bool(in_loss))

    def first_gap(self, error: ProgrammeError) -> None:
        """Puts the focus to what cannot be."""
        cell = self.phases.first_trouble()
        if cell is not None:
            self.phase_table.edit_cell(cell[0], cell[1])
        elif error.field == "candle_days":
            focus(self.candle)
        elif error.field in ("loss_percent", "loss_day"):
            focus(self.loss_day if error.field == "loss_day" else self.loss_low.field)
        else:
            focus(self.phase_table)

    # ---------------------------------------------------------------- keeping what was typed

    def state(self) -> dict[str, object]:
        """What was typed, letter by letter."""
        return {
            "phases": self.phases.texts(),
            "loss": [self.loss_low.field.text(), self.loss_high.field.text(), self.loss_day.text()],
            "weigh": str(self.weigh_plan),
            "marked": self.marked.value(),
            "candle": self.candle.text(),
            "note": self.note.text(),
        }

    def restore(self, state: dict[str, object]) -> None:
        """Shows again what was typed; the programme it was typed over is shown already."""
        phases: Sequence[Sequence[str]] = state["phases"]  # type: ignore[assignment]
        if len(phases) == len(self.phases.texts()):
            self.phases.set_texts(phases)
        loss: Sequence[str] = state["loss"]  # type: ignore[assignment]
        self.loss_low.set_text(loss[0])
        self.loss_high.set_text(loss[1])
        self.loss_day.setText(loss[2])
        self.show_weighing(WeighPlan(str(state["weigh"])), int(str(state["marked"])))
        self.candle.setText(str(state["candle"]))
        self.note.setText(str(state["note"]))


_OTHERS = ("", "candle_days", "loss_percent", "loss_day")


def _plain(value: float) -> str:
    return QLocale().toString(float(value), "g", 6)
