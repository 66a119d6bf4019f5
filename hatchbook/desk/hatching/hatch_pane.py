"""How the hatch goes: the curve, its figures, and who has pipped and is waited for."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from PySide6.QtWidgets import QGridLayout, QVBoxLayout, QWidget

from hatchbook.desk.hatching.curve_view import CurveView
from hatchbook.desk.hatching.waiting_list import WaitingView
from hatchbook.desk.widgets.labels import ElidedLabel, Label
from hatchbook.desk.words.hatching import chicks_text, first_pip_text, spread_text, yield_text
from hatchbook.figures.hatch_curve import HatchCurve
from hatchbook.figures.results import BatchFigures


class HatchPane(QWidget):
    """Curve above, four figures below it, then the eggs that are waited for."""

    def __init__(self, zone: ZoneInfo, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.curve = CurveView(zone)
        self.waiting = WaitingView(zone)
        self.waiting_title = Label("", role="section")
        self.first_pip, self.chicks, self.spread, self.chick_yield = (ElidedLabel("") for _ in range(4))
        figures = QGridLayout()
        figures.setHorizontalSpacing(12)
        figures.setVerticalSpacing(2)
        rows = (
            (self.tr("Chicks"), self.chicks),
            (self.tr("First pip"), self.first_pip),
            (self.tr("Spread"), self.spread),
            (self.tr("Chick yield"), self.chick_yield),
        )
        for row, (words, value) in enumerate(rows):
            figures.addWidget(Label(words, ink="ink2"), row, 0)
            figures.addWidget(value, row, 1)
            value.setAccessibleName(words)
        figures.setColumnStretch(1, 1)
        self.chick_yield.setToolTip(self.tr("The chick's mass in per cent of its egg's mass when set"))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        column.addWidget(self.curve, 1)
        column.addLayout(figures)
        column.addWidget(self.waiting_title)
        column.addWidget(self.waiting)

    def show_curve(self, curve: HatchCurve, figures: BatchFigures, now: int) -> None:
        """Shows how a batch hatches, as it stands at an instant."""
        self.curve.show_curve(curve, now)
        self.first_pip.setText(first_pip_text(curve, figures.batch.set_at))
        self.chicks.setText(chicks_text(curve))
        self.spread.setText(spread_text(curve))
        self.chick_yield.setText(yield_text(curve))
        for value in (self.first_pip, self.chicks, self.spread, self.chick_yield):
            value.setAccessibleDescription(value.text())
        self.waiting.show_eggs(curve.waited_for, now, figures.trays)
        count = len(curve.waited_for)
        self.waiting.setVisible(count > 0)
        self.waiting_title.setText(
            self.tr("%n egg(s) pipped and waited for", "", count)
            if count
            else self.tr("No egg pipped and waited for")
        )
