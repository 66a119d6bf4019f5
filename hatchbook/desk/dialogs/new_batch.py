"""A new batch, or one that is changed: the form on the left, what it will ask of the breeder on the right."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QApplication, QFrame, QHBoxLayout, QScrollArea, QWidget

from hatchbook.desk import settings
from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs import kept_drafts
from hatchbook.desk.dialogs.batch_entry import BatchEntry
from hatchbook.desk.dialogs.batch_plan_panel import BatchPlanPanel
from hatchbook.desk.dialogs.edit_table import dialog_size, text_scale
from hatchbook.desk.dialogs.frame import FramedDialog
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.widgets.rules import HLine, VLine
from hatchbook.figures.plan_records import store_draft
from hatchbook.figures.planning import BatchDraft, DraftPlan
from hatchbook.journal import Batch

_SIZE = QSize(1060, 676)
_PLAN_WIDTH = 372


@dataclass(frozen=True)
class _Ready:
    """A draft with nothing missing, and what follows from it."""

    draft: BatchDraft
    plan: DraftPlan


class NewBatchDialog(FramedDialog):
    """Plans a batch as it is typed and sets it; with ``batch`` it changes one, with ``copy_of`` it starts from one.

    What was typed for a new batch comes back when the dialog was left without setting it.
    """

    def __init__(
        self,
        context: DeskContext,
        parent: QWidget | None,
        batch: Batch | None = None,
        copy_of: Batch | None = None,
    ) -> None:
        super().__init__("", parent)
        self.resize(dialog_size(_SIZE, self.screen().availableSize()))
        self._context = context
        self._batch = batch
        self._starts_afresh = batch is None and copy_of is None
        self.setWindowTitle(
            self.tr("New batch")
            if batch is None
            else self.tr("Change batch {label}").format(label=batch.label)
        )
        self.entry = BatchEntry(context, batch, copy_of)
        unit = context.settings.get(settings.TEMPERATURE_UNIT)
        self.panel = BatchPlanPanel(context.zone, unit)
        self._build()
        self._first_state = self.entry.state()
        self._restore()
        self.entry.edited.connect(self._show_plan)
        self.finished.connect(self._keep)
        application = QApplication.instance()
        assert isinstance(application, QApplication)
        application.focusChanged.connect(self._follow_focus)
        self._show_plan()
        self.entry.form.species.setFocus()

    def _build(self) -> None:
        self.area = area = QScrollArea()
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        area.setWidgetResizable(True)
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setWidget(self.entry)
        area.viewport().setAutoFillBackground(False)
        self.entry.setAutoFillBackground(False)
        self.panel.setFixedWidth(round(_PLAN_WIDTH * text_scale()))
        columns = QHBoxLayout()
        columns.setSpacing(14)
        columns.addWidget(area, 1)
        columns.addWidget(VLine())
        columns.addWidget(self.panel)
        self.set_content(columns)
        self.set = self.add_main_button(
            self.tr("Set batch") if self._batch is None else self.tr("Keep the changes")
        )
        self.set.clicked.connect(self._store)
        self.add_leave_button(self.tr("Cancel"))
        # The buttons share their row with what can be said to everyone.
        foot = QHBoxLayout()
        self._rows.removeWidget(self.buttons)
        self.foot = Label(self._foot_text(), ink="ink2", wraps=True)
        foot.addWidget(self.foot, 1)
        foot.addWidget(self.buttons)
        self._rows.addWidget(HLine())
        self._rows.addLayout(foot)

    def _foot_text(self) -> str:
        if self._batch is not None and self._batch.set_at <= self._context.now():
            return self.tr("The eggs are in. What was before stays in the history of the batch.")
        return self.tr("You can change all of this until the eggs are in.")

    # ---------------------------------------------------------------- the plan

    def _show_plan(self) -> None:
        """What was typed may have changed the plan; while it cannot be read, the last plan stays."""
        self.tell("")
        found = self.entry.read()
        if found is not None:
            self.panel.show_draft(*found)

    def _follow_focus(self, _old: QWidget | None, new: QWidget | None) -> None:
        """Where the keyboard is, is seen, however it came there."""
        if new is not None and self.area.isAncestorOf(new):
            self.area.ensureWidgetVisible(new, 0, 40)

    # ---------------------------------------------------------------- storing

    def _ready(self) -> _Ready | None:
        """The draft if nothing is missing; else the focus goes to the first gap."""
        self.entry.ask()
        found = self.entry.read()
        if self.entry.first_gap() or found is None:
            return None
        return _Ready(*found)

    def _store(self) -> None:
        ready = self._ready()
        if ready is None:
            return
        now = self._context.now()
        change = self._context.door.run(lambda journal: store_draft(journal, ready.draft, ready.plan, now))
        if change is None:
            self.tell(self.tr("The batch was not stored; what you typed is still here."))
            return
        self.accept()
        if self._batch is None:
            self._context.choose_batch(ready.draft.uid)

    # ---------------------------------------------------------------- leaving and coming back

    def _restore(self) -> None:
        if not self._starts_afresh:
            return
        state = kept_drafts.take(self._context.door.journal.path)
        if state is not None:
            self.entry.restore(state)
            self.entry.tell_restored()

    def _keep(self, result: int) -> None:
        """Leaving asks nothing, and what was typed is there again next time."""
        if self._starts_afresh and result != int(self.DialogCode.Accepted) and self._context.door.is_open:
            state = self.entry.state()
            if state != self._first_state:
                kept_drafts.keep(self._context.door.journal.path, state)
