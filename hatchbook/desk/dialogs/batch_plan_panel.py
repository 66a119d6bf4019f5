"""What a planned batch will ask, and how it will lie on the tray; for looking, beside the form."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from PySide6.QtWidgets import QVBoxLayout, QWidget

from hatchbook.desk.dialogs.plan_list import PlanList
from hatchbook.desk.dialogs.tray_preview import TrayPreview
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.widgets.rules import HLine
from hatchbook.desk.words.planning import placed_sentence, weighed_text
from hatchbook.figures.planning import BatchDraft, DraftPlan
from hatchbook.trade.codes import WeighPlan


class BatchPlanPanel(QWidget):
    """The plan along its rail, the tray below."""

    def __init__(self, zone: ZoneInfo, unit: str) -> None:
        super().__init__()
        self._zone = zone
        self._unit = unit
        self.plan = PlanList()
        self.tray = TrayPreview()
        self.tray_line = Label("", role="caption", ink="ink2", wraps=True)
        self.tray_note = Label(
            self.tr("Filled row by row; once they are set, eggs can be moved on the tray."),
            role="caption",
            ink="ink3",
            wraps=True,
        )
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(6)
        rows.addWidget(Label(self.tr("What this batch will ask of you"), role="section"))
        rows.addWidget(self.plan, 1)
        rows.addWidget(HLine())
        rows.addWidget(Label(self.tr("The tray"), role="section"))
        rows.addWidget(self.tray)
        rows.addWidget(self.tray_line)
        rows.addWidget(self.tray_note)

    def show_draft(self, draft: BatchDraft, plan: DraftPlan) -> None:
        """Shows what follows from a draft."""
        marked = sum(egg.marked for egg in plan.eggs)
        weighed = weighed_text(draft.weigh_plan, marked or draft.marked)
        self.plan.plan.show_plan(plan, self._zone, weighed, self._unit)
        taken = plan.room.taken if plan.room is not None else ()
        self.tray.tray.show_eggs(draft.machine, draft.rows, plan.eggs, taken)
        placeless = sum(egg.place is None for egg in plan.eggs)
        shown = marked if draft.weigh_plan is WeighPlan.MARKED else None
        others = plan.room.labels if plan.room is not None and taken else ()
        self.tray_line.setText(placed_sentence(draft, placeless, shown, others))
