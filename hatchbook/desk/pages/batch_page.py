"""What the pages of a running and of a finished batch have in common."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from hatchbook.desk.actions import Actions
from hatchbook.desk.charts.lazy import LazyChartPane
from hatchbook.desk.context import DeskContext
from hatchbook.desk.pages.figure_row import FigureRow
from hatchbook.desk.pages.header import BatchHeader
from hatchbook.desk.pages.side_pane import SidePane
from hatchbook.desk.widgets.rules import HLine, VLine
from hatchbook.desk.widgets.tab_order import tab_through
from hatchbook.figures.results import BatchFigures, Curves


class BatchPage(QWidget):
    """Header, a row of figures, a main part with the chart, and beside it tray, tally and journal."""

    def __init__(
        self, context: DeskContext, actions: Actions, header_actions: Sequence[str], figures: FigureRow
    ) -> None:
        super().__init__()
        self.setObjectName("sheet")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self._context = context
        self._shown: BatchFigures | None = None
        self._row = figures
        self.header = BatchHeader(actions, header_actions)
        self.chart = LazyChartPane(context, actions)
        self.side = SidePane(context)
        figures.explained.connect(self._explain)
        self.chart.event_chosen.connect(self.side.choose_record)

    def set_main_part(self, main: QWidget) -> None:
        """Lays out the page round its main part."""
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(0)
        rows.addWidget(self.header)
        rows.addWidget(HLine())
        rows.addWidget(self._row)
        rows.addWidget(HLine())
        columns = QHBoxLayout()
        columns.setContentsMargins(0, 0, 0, 0)
        columns.setSpacing(0)
        columns.addWidget(main, 1)
        columns.addWidget(VLine())
        columns.addWidget(self.side)
        rows.addLayout(columns, 1)
        tab_through([self.header, self._row, main, self.side])

    def show_view(self, figures: BatchFigures | None, curves: Curves | None) -> None:
        """Shows a batch; None shows nothing."""
        self._shown = figures
        if figures is not None and curves is not None:
            self.header.show_figures(figures, self._context.zone, self.more_facts(figures, curves))
            self._row.show_figures(figures)
            self.show_main_part(figures, curves)
        self.chart.show_view(figures, curves)
        self.side.show_figures(figures, None if curves is None else curves.effects)

    def show_main_part(self, figures: BatchFigures, curves: Curves) -> None:
        """Shows what the main part has beside the chart."""

    def more_facts(self, figures: BatchFigures, curves: Curves) -> list[str]:  # noqa: ARG002
        """Sentences that go behind the facts of the batch."""
        return []

    def focus_chart(self) -> None:
        """Puts the focus into the chart."""
        self.chart.focus_chart()

    def focus_tray(self) -> None:
        """Puts the focus into the tray."""
        self.side.tray.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def focus_lines(self) -> None:
        """Puts the focus into the journal lines."""
        self.side.lines.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def show_instant(self, at: int) -> None:
        """Brings an instant (UTC seconds) of the chart into view and points at it."""
        self.chart.show_instant(at)

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
