"""Charts before pyqtgraph is there: it costs a fifth of a second, which the first window need not wait for."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Generic, TypeVar
from zoneinfo import ZoneInfo

from PySide6.QtCore import QTimer, Signal
from PySide6.QtGui import QPaintEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from hatchbook.desk.actions import Actions
from hatchbook.desk.context import DeskContext
from hatchbook.desk.widgets.tab_order import stop_before, tab_through
from hatchbook.figures.results import BatchFigures, Curves

if TYPE_CHECKING:
    from hatchbook.desk.charts.pane import ChartPane
    from hatchbook.desk.charts.phases_chart import PhasesChart

Chart = TypeVar("Chart", bound=QWidget)


class _LazyChart(QWidget, Generic[Chart]):
    """Stands in for a chart, and builds it once it has been painted itself, or when something is asked of it."""

    def __init__(self) -> None:
        super().__init__()
        self._chart: Chart | None = None
        self._rows = QVBoxLayout(self)
        self._rows.setContentsMargins(0, 0, 0, 0)
        self._later = QTimer(self)
        self._later.setSingleShot(True)
        self._later.setInterval(0)
        self._later.timeout.connect(self._build)

    @property
    def is_built(self) -> bool:
        """Whether the chart is there."""
        return self._chart is not None

    @property
    def chart(self) -> Chart:
        """The chart; it is built if need be."""
        return self._chart if self._chart is not None else self._build()

    def paintEvent(self, event: QPaintEvent) -> None:
        """The window is on its way to the screen: the chart comes next."""
        super().paintEvent(event)
        if self._chart is None and not self._later.isActive():
            self._later.start()

    def _build(self) -> Chart:
        if self._chart is None:
            self._later.stop()
            self._chart = self._make()
            self._rows.addWidget(self._chart)
            self._fill(self._chart)
            self._take_turn(self._chart)
        return self._chart

    def _take_turn(self, chart: Chart) -> None:
        """Tab comes to the chart where it stands in the window, not last as what was made last."""
        before = stop_before(self)
        if before is not None:
            tab_through([before, chart])

    def _make(self) -> Chart:
        """Makes the chart; only here may its module be imported."""
        raise NotImplementedError

    def _fill(self, chart: Chart) -> None:
        """Shows what was to be shown before there was a chart."""
        raise NotImplementedError


class LazyChartPane(_LazyChart["ChartPane"]):
    """The chart pane of a batch.

    Signals:
        event_chosen: the uid of the event whose mark was chosen.
    """

    event_chosen = Signal(str)

    def __init__(self, context: DeskContext, actions: Actions) -> None:
        super().__init__()
        self._context = context
        self._actions = actions
        self._shown: tuple[BatchFigures | None, Curves | None] = (None, None)

    def show_view(self, figures: BatchFigures | None, curves: Curves | None) -> None:
        """Shows a batch, as soon as there is a chart to show it."""
        self._shown = (figures, curves)
        if self._chart is not None:
            self._fill(self._chart)

    def show_instant(self, at: int) -> None:
        """Brings an instant (UTC seconds) into view and points at it."""
        self.chart.show_instant(at)

    def focus_chart(self) -> None:
        """Puts the focus into the plot."""
        self.chart.focus_chart()

    def show_table(self) -> None:
        """Shows the chart as a table."""
        self.chart.show_table()

    def _make(self) -> ChartPane:
        from hatchbook.desk.charts.pane import ChartPane

        pane = ChartPane(self._context, self._actions)
        pane.event_chosen.connect(self.event_chosen)
        return pane

    def _fill(self, chart: ChartPane) -> None:
        chart.show_view(*self._shown)


class LazyPhasesChart(_LazyChart["PhasesChart"]):
    """The small chart of a finished batch's phases."""

    def __init__(self) -> None:
        super().__init__()
        self._shown: tuple[Curves | None, ZoneInfo, Sequence[tuple[int, str]]] = (None, ZoneInfo("UTC"), ())

    def show_view(self, curves: Curves | None, zone: ZoneInfo, marks: Sequence[tuple[int, str]] = ()) -> None:
        """Shows a batch; `marks` are instants (UTC seconds) with the texts that stand beside their lines."""
        self._shown = (curves, zone, marks)
        if self._chart is not None:
            self._fill(self._chart)

    def _make(self) -> PhasesChart:
        from hatchbook.desk.charts.phases_chart import PhasesChart

        return PhasesChart()

    def _fill(self, chart: PhasesChart) -> None:
        chart.show_view(*self._shown)
