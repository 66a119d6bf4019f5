"""The page of a closed batch: rates, every egg, losses by stage and day, the phases with what drifted."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QGridLayout, QHBoxLayout, QLayout, QScrollArea, QVBoxLayout, QWidget

from hatchbook.desk.actions import Actions
from hatchbook.desk.charts.lazy import LazyChartPane, LazyPhasesChart
from hatchbook.desk.context import DeskContext
from hatchbook.desk.pages.day_stacks import DayStacks
from hatchbook.desk.pages.header import BatchHeader
from hatchbook.desk.pages.losses import Losses
from hatchbook.desk.pages.phase_checks import PhaseChecks
from hatchbook.desk.pages.rate_figures import RateFigures
from hatchbook.desk.pages.side_pane import SidePane
from hatchbook.desk.pages.survival_curve import SurvivalCurveSection
from hatchbook.desk.widgets.buttons import LinkButton
from hatchbook.desk.widgets.labels import ElidedLabel, Label
from hatchbook.desk.widgets.rules import HLine, VLine
from hatchbook.desk.words.phase_checks import check_lines, drift_marks
from hatchbook.desk.words.survival import bounds_sentence
from hatchbook.figures.by_day import eggs_by_day
from hatchbook.figures.outcomes import bounds_of
from hatchbook.figures.results import BatchFigures, Curves
from hatchbook.figures.survival import batch_survival

_HEADER_ACTIONS = ("batch_history", "add_note", "reopen_batch")
_CHART_HEIGHT = 380
_PHASES_HEIGHT = 170
_NARROW = 960
#: Row, column, rows and columns of the days, the phases, the losses, the survival and the course.
_WIDE_PLACES = ((0, 0, 1, 1), (0, 1, 1, 1), (1, 0, 1, 1), (1, 1, 1, 1), (2, 0, 1, 2))
_NARROW_PLACES = ((0, 0, 1, 2), (1, 0, 1, 2), (2, 0, 1, 2), (3, 0, 1, 2), (4, 0, 1, 2))


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
        self.bounds = ElidedLabel("", "caption", "ink2")
        self.change_bounds = LinkButton(self.tr("Change…"))
        self.change_bounds.setAccessibleName(self.tr("Change the days of early, mid and late"))
        self.survival = SurvivalCurveSection()
        self.phases = LazyPhasesChart()
        self.phases.setFixedHeight(_PHASES_HEIGHT)
        self.checks = PhaseChecks()
        self.chart = LazyChartPane(context, actions)
        self.chart.setMinimumHeight(_CHART_HEIGHT)
        self._lay_out()
        self.rates.explained.connect(self._explain)
        self.change_bounds.clicked.connect(self._change_bounds)
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
        self._grid = QGridLayout(content)
        self._grid.setContentsMargins(16, 10, 12, 12)
        self._grid.setHorizontalSpacing(20)
        self._grid.setVerticalSpacing(8)
        caption = self.tr("days since setting; a bar: the day is known only to this span")
        self._days = _column(
            Label(self.tr("Lost and hatched, by day"), role="section"),
            self.stacks,
            Label(caption, "caption", "ink2", wraps=True),
        )
        self._phases = _column(Label(self.tr("Phases"), role="section"), self.phases, self.checks)
        bounds = QHBoxLayout()
        bounds.setSpacing(4)
        bounds.addWidget(self.bounds)
        bounds.addWidget(self.change_bounds)
        bounds.addStretch(1)
        self._lost = _column(
            Label(self.tr("Losses of the fertile eggs"), role="section"), bounds, self.losses
        )
        self._lived = _column(Label(self.tr("Fertile eggs alive, by day"), role="section"), self.survival)
        self._course = _column(HLine(), self.chart)
        self._narrow: bool | None = None
        area = QScrollArea()
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setWidgetResizable(True)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        area.setWidget(content)
        return area

    def _arrange(self) -> None:
        """Days beside phases and losses, or above them where there is little width."""
        narrow = self.width() < _NARROW
        if narrow == self._narrow:
            return
        self._narrow = narrow
        places = _NARROW_PLACES if narrow else _WIDE_PLACES
        parts = (self._days, self._phases, self._lost, self._lived, self._course)
        for part, place in zip(parts, places, strict=True):
            self._grid.addWidget(part, *place)
        self._grid.setColumnStretch(0, 1)
        self._grid.setColumnStretch(1, 1)
        self.stacks.setFixedHeight(200 if narrow else 270)

    def show_view(self, figures: BatchFigures | None, curves: Curves | None) -> None:
        """Shows a batch; None shows nothing."""
        self._shown = figures
        if figures is not None and curves is not None:
            self.header.show_figures(figures, self._context.zone)
            self.rates.show_figures(figures)
            self.stacks.show_stacks(eggs_by_day(figures), figures.lockdown_day, figures.batch.incubation_days)
            self.phases.show_view(curves, self._context.zone, drift_marks(figures))
            self.checks.show_lines(check_lines(figures, curves.events))
            self.losses.show_rates(figures.rates)
            self.bounds.setText(bounds_sentence(bounds_of(figures.batch)))
            self.change_bounds.setVisible(not self._context.door.journal.read_only)
            self.survival.show_survival(batch_survival(figures))
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
        self._arrange()

    def _explain(self, name: str) -> None:
        from hatchbook.desk.dialogs.explain import ExplainDialog

        if self._shown is not None:
            ExplainDialog(name, self._shown, self).open()

    def _change_bounds(self) -> None:
        from hatchbook.desk.dialogs.stage_bounds import StageBoundsDialog

        if self._shown is not None:
            StageBoundsDialog(self._context, self._shown.batch, self).open()


def _column(*parts: QWidget | QLayout) -> QWidget:
    column = QWidget()
    rows = QVBoxLayout(column)
    rows.setContentsMargins(0, 0, 0, 0)
    rows.setSpacing(6)
    for part in parts:
        if isinstance(part, QLayout):
            rows.addLayout(part)
        else:
            rows.addWidget(part)
    rows.addStretch(1)
    return column
