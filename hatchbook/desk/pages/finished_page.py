"""The page of a closed batch: rates, every egg, losses by stage and day, the phases with what drifted."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QGridLayout, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from hatchbook.desk.actions import Actions
from hatchbook.desk.charts.lazy import LazyChartPane
from hatchbook.desk.context import DeskContext
from hatchbook.desk.pages.day_stacks import DayStacks
from hatchbook.desk.pages.header import BatchHeader
from hatchbook.desk.pages.losses import Losses
from hatchbook.desk.pages.phase_checks import PhaseChecks
from hatchbook.desk.pages.rate_figures import RateFigures
from hatchbook.desk.pages.side_pane import SidePane
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.widgets.rules import HLine, VLine
from hatchbook.desk.words.phase_checks import check_lines
from hatchbook.figures.by_day import eggs_by_day
from hatchbook.figures.results import BatchFigures, Curves

_HEADER_ACTIONS = ("batch_history", "add_note", "reopen_batch")
_CHART_HEIGHT = 380


class FinishedPage(QWidget):
    """Read-only until the batch is reopened; notes can still be added."""

    def __init__(self, context: DeskContext, actions: Actions) -> None:
        super().__init__()
        self.setObjectName("sheet")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self._context = context
        self._shown: BatchFigures | None = None
        self.header = BatchHeader(actions, _HEADER_ACTIONS)
        self.rates = RateFigures()
        self.side = SidePane(context)
        self.stacks = DayStacks()
        self.losses = Losses()
        self.checks = PhaseChecks()
        self.chart = LazyChartPane(context, actions)
        self.chart.setMinimumHeight(_CHART_HEIGHT)
        self._lay_out()
        self.rates.explained.connect(self._explain)
        self.chart.event_chosen.connect(self.side.choose_record)

    def _lay_out(self) -> None:
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(0)
        rows.addWidget(self.header)
        rows.addWidget(HLine())
        rows.addWidget(self.rates)
        rows.addWidget(HLine())
        columns = QHBoxLayout()
        columns.setContentsMargins(0, 0, 0, 0)
        columns.setSpacing(0)
        columns.addWidget(self._scrolled(), 1)
        columns.addWidget(VLine())
        columns.addWidget(self.side)
        rows.addLayout(columns, 1)

    def _scrolled(self) -> QScrollArea:
        content = QWidget()
        content.setObjectName("sheet")
        grid = QGridLayout(content)
        grid.setContentsMargins(16, 10, 12, 12)
        grid.setHorizontalSpacing(20)
        grid.setVerticalSpacing(8)
        grid.addWidget(Label(self.tr("Lost and hatched, by day"), role="section"), 0, 0)
        grid.addWidget(self.stacks, 1, 0)
        caption = Label(
            self.tr("days since setting; a bar: the day is known only to this span"), "caption", "ink2"
        )
        grid.addWidget(caption, 2, 0)
        right = QVBoxLayout()
        right.setSpacing(6)
        right.addWidget(Label(self.tr("Phases"), role="section"))
        right.addWidget(self.checks)
        right.addSpacing(8)
        right.addWidget(Label(self.tr("Losses of the fertile eggs"), role="section"))
        right.addWidget(self.losses)
        right.addStretch(1)
        grid.addLayout(right, 0, 1, 3, 1)
        grid.addWidget(HLine(), 3, 0, 1, 2)
        grid.addWidget(self.chart, 4, 0, 1, 2)
        grid.setColumnStretch(0, 1)
        grid.setColumnStretch(1, 1)
        grid.setRowStretch(4, 1)
        area = QScrollArea()
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setWidgetResizable(True)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        area.setWidget(content)
        return area

    def show_view(self, figures: BatchFigures | None, curves: Curves | None) -> None:
        """Shows a batch; None shows nothing."""
        self._shown = figures
        if figures is not None and curves is not None:
            self.header.show_figures(figures, self._context.zone)
            self.rates.show_figures(figures)
            self.stacks.show_stacks(eggs_by_day(figures), figures.lockdown_day, figures.batch.incubation_days)
            self.checks.show_lines(check_lines(figures, curves.events))
            self.losses.show_rates(figures.rates)
        self.chart.show_view(figures, curves)
        self.side.show_figures(figures)

    def focus_chart(self) -> None:
        """Puts the focus into the chart."""
        self.chart.focus_chart()

    def focus_tray(self) -> None:
        """Puts the focus into the tray."""
        self.side.tray.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def focus_lines(self) -> None:
        """Puts the focus into the journal lines."""
        self.side.lines.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def show_chart_table(self) -> None:
        """Shows the chart as a table."""
        self.chart.show_table()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """The side pane gives way in a narrow window."""
        super().resizeEvent(event)
        self.side.fit(self.width())

    def _explain(self, name: str) -> None:
        from hatchbook.desk.dialogs.explain import ExplainDialog

        if self._shown is not None:
            ExplainDialog(name, self._shown, self).open()
