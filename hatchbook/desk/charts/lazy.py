"""The chart pane before pyqtgraph is there: it costs a fifth of a second, which the first window need not wait."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer, Signal
from PySide6.QtGui import QPaintEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from hatchbook.desk.actions import Actions
from hatchbook.desk.context import DeskContext
from hatchbook.figures.results import BatchFigures, Curves

if TYPE_CHECKING:
    from hatchbook.desk.charts.pane import ChartPane


class LazyChartPane(QWidget):
    """Stands in for the chart pane, and builds it once it has been painted, or when something is asked of it.

    Signals:
        event_chosen: the uid of the event whose mark was chosen.
    """

    event_chosen = Signal(str)

    def __init__(self, context: DeskContext, actions: Actions) -> None:
        super().__init__()
        self._context = context
        self._actions = actions
        self._pane: ChartPane | None = None
        self._shown: tuple[BatchFigures | None, Curves | None] = (None, None)
        self._rows = QVBoxLayout(self)
        self._rows.setContentsMargins(0, 0, 0, 0)
        self._later = QTimer(self)
        self._later.setSingleShot(True)
        self._later.setInterval(0)
        self._later.timeout.connect(self._build)

    @property
    def is_built(self) -> bool:
        """Whether the real pane is there."""
        return self._pane is not None

    @property
    def pane(self) -> ChartPane:
        """The real pane; it is built if need be."""
        return self._pane or self._build()

    def show_view(self, figures: BatchFigures | None, curves: Curves | None) -> None:
        """Shows a batch, as soon as there is a chart to show it."""
        self._shown = (figures, curves)
        if self._pane is not None:
            self._pane.show_view(figures, curves)

    def show_instant(self, at: int) -> None:
        """Brings an instant (UTC seconds) into view and points at it."""
        self.pane.show_instant(at)

    def focus_chart(self) -> None:
        """Puts the focus into the plot."""
        self.pane.focus_chart()

    def show_table(self) -> None:
        """Shows the chart as a table."""
        self.pane.show_table()

    def paintEvent(self, event: QPaintEvent) -> None:
        """The window is on its way to the screen: the chart comes next."""
        super().paintEvent(event)
        if self._pane is None and not self._later.isActive():
            self._later.start()

    def _build(self) -> ChartPane:
        if self._pane is not None:
            return self._pane
        from hatchbook.desk.charts.pane import ChartPane

        self._later.stop()
        self._pane = ChartPane(self._context, self._actions)
        self._pane.event_chosen.connect(self.event_chosen)
        self._rows.addWidget(self._pane)
        self.setFocusProxy(self._pane.graph)
        self._pane.show_view(*self._shown)
        return self._pane
