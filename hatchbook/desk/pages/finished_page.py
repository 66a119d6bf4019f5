"""The page of a closed batch: rates, every egg, losses by stage and day, the phases with what drifted."""

from __future__ import annotations

from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QScrollArea, QWidget

from hatchbook.desk.actions import Actions
from hatchbook.desk.causes.section import CausesSection
from hatchbook.desk.charts.lazy import LazyPhasesChart
from hatchbook.desk.context import DeskContext
from hatchbook.desk.pages.batch_page import BatchPage
from hatchbook.desk.pages.day_stacks import DayStacks
from hatchbook.desk.pages.losses import Losses
from hatchbook.desk.pages.phase_checks import PhaseChecks
from hatchbook.desk.pages.rate_figures import RateFigures
from hatchbook.desk.pages.sheets import column, scrolled
from hatchbook.desk.pages.survival_curve import SurvivalCurveSection
from hatchbook.desk.widgets.buttons import LinkButton
from hatchbook.desk.widgets.labels import ElidedLabel, Label
from hatchbook.desk.widgets.rules import HLine
from hatchbook.desk.widgets.tab_order import tab_through
from hatchbook.desk.words.phase_checks import check_lines, drift_marks
from hatchbook.desk.words.survival import bounds_sentence
from hatchbook.figures.by_day import eggs_by_day
from hatchbook.figures.outcomes import bounds_of
from hatchbook.figures.results import BatchFigures, Curves
from hatchbook.figures.survival import batch_survival
from hatchbook.figures.temperature import temperature_figures

_HEADER_ACTIONS = ("batch_history", "add_note", "reopen_batch")
_CHART_HEIGHT = 380
_PHASES_HEIGHT = 170
_STACKS_HEIGHT, _STACKS_MOST, _STACKS_NARROW = 270, 460, 210
#: Below so many heights of a line the parts stand one above the other.
_NARROW_LINES = 53
#: Row, column, rows and columns of the days, the phases, the causes, the losses, the survival and the course.
_WIDE_PLACES = ((0, 0, 1, 1), (0, 1, 1, 1), (1, 0, 1, 2), (2, 0, 1, 1), (2, 1, 1, 1), (3, 0, 1, 2))
_NARROW_PLACES = ((0, 0, 1, 2), (1, 0, 1, 2), (2, 0, 1, 2), (3, 0, 1, 2), (4, 0, 1, 2), (5, 0, 1, 2))


class FinishedPage(BatchPage):
    """Read-only until the batch is reopened; notes can still be added."""

    def __init__(self, context: DeskContext, actions: Actions) -> None:
        self.rates = RateFigures()
        super().__init__(context, actions, _HEADER_ACTIONS, self.rates)
        self.stacks = DayStacks()
        self.losses = Losses()
        self.bounds = ElidedLabel("", "caption", "ink2")
        self.change_bounds = LinkButton(self.tr("Change…"))
        self.change_bounds.setAccessibleName(self.tr("Change the days of early, mid and late"))
        self.survival = SurvivalCurveSection()
        self.phases = LazyPhasesChart()
        self.phases.setFixedHeight(_PHASES_HEIGHT)
        self.checks = PhaseChecks()
        self.causes = CausesSection(context)
        self.chart.setMinimumHeight(_CHART_HEIGHT)
        self.set_main_part(self._scrolled())
        self.change_bounds.clicked.connect(self._change_bounds)
        self.causes.weighed.connect(lambda causes: self.rates.show_among(causes.among))

    def _scrolled(self) -> QScrollArea:
        content = QWidget()
        self._grid = QGridLayout(content)
        self._grid.setContentsMargins(16, 10, 12, 12)
        self._grid.setHorizontalSpacing(20)
        self._grid.setVerticalSpacing(8)
        caption = self.tr("days since setting; a bar: the day is known only to this span")
        self._days = column(
            Label(self.tr("Lost and hatched, by day"), role="section"),
            self.stacks,
            Label(caption, "caption", "ink2", wraps=True),
            grows=self.stacks,
        )
        self._phases = column(Label(self.tr("Phases"), role="section"), self.phases, self.checks)
        bounds = QHBoxLayout()
        bounds.setSpacing(4)
        bounds.addWidget(self.bounds)
        bounds.addWidget(self.change_bounds)
        bounds.addStretch(1)
        self._lost = column(Label(self.tr("Losses of the fertile eggs"), role="section"), bounds, self.losses)
        self._lived = column(Label(self.tr("Fertile eggs alive, by day"), role="section"), self.survival)
        self._course = column(HLine(), self.chart)
        self._causes = column(HLine(), self.causes, HLine())
        self._narrow: bool | None = None
        name = self.tr("Days, phases, causes, losses and curves of the finished batch")
        self._area = scrolled(content, name)
        return self._area

    def _arrange(self) -> None:
        """Days beside phases and losses, or above them where there is little width."""
        narrow = self.width() < _NARROW_LINES * self.fontMetrics().height()
        if narrow == self._narrow:
            return
        self._narrow = narrow
        places = _NARROW_PLACES if narrow else _WIDE_PLACES
        parts = (self._days, self._phases, self._causes, self._lost, self._lived, self._course)
        for part, place in zip(parts, places, strict=True):
            self._grid.addWidget(part, *place)
        self._grid.setColumnStretch(0, 1)
        self._grid.setColumnStretch(1, 1)
        self.stacks.setMinimumHeight(_STACKS_NARROW if narrow else _STACKS_HEIGHT)
        self.stacks.setMaximumHeight(_STACKS_NARROW if narrow else _STACKS_MOST)
        tab_through([self._area, self.side])  # the parts have come into the window only now

    def show_view(self, figures: BatchFigures | None, curves: Curves | None) -> None:
        """Shows a batch; what its losses came of follows when it is weighed."""
        super().show_view(figures, curves)
        self.causes.show_view(figures, curves)

    def show_main_part(self, figures: BatchFigures, curves: Curves) -> None:
        """Days, phases, losses and survival."""
        self.stacks.show_stacks(eggs_by_day(figures), figures.lockdown_day, figures.batch.incubation_days)
        self.phases.show_view(curves, self._context.zone, drift_marks(figures, curves))
        self.checks.show_lines(check_lines(figures, temperature_figures(figures, curves, self._context.zone)))
        self.losses.show_rates(figures.rates)
        self.bounds.setText(bounds_sentence(bounds_of(figures.batch)))
        self.change_bounds.setVisible(not self._context.door.journal.read_only)
        self.survival.show_survival(batch_survival(figures))

    def show_instant(self, at: int) -> None:
        """The same, with the chart scrolled into view: it stands below everything else."""
        super().show_instant(at)
        self._area.ensureWidgetVisible(self.chart, 0, 0)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Days and phases go one above the other in a narrow window."""
        super().resizeEvent(event)
        self._arrange()

    def _change_bounds(self) -> None:
        from hatchbook.desk.dialogs.stage_bounds import StageBoundsDialog

        if self._shown is not None:
            StageBoundsDialog(self._context, self._shown.batch, self).open()
