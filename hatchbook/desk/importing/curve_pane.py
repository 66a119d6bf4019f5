"""The curve that would come in."""

from __future__ import annotations

from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from PySide6.QtWidgets import QFrame, QVBoxLayout, QWidget

from hatchbook.desk.widgets.labels import Label
from hatchbook.exchange.logger_file import LoggerTable

if TYPE_CHECKING:
    from hatchbook.desk.charts.preview_chart import ReadingsPreview


class CurvePane(QWidget):
    """Title and chart; the chart is made when there is something to show."""

    def __init__(self, zone: ZoneInfo, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._zone = zone
        self.chart: ReadingsPreview | None = None
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(6)
        self._column.addWidget(Label(self.tr("What comes in"), role="section"))
        self._column.addStretch(0)

    def show_table(self, table: LoggerTable) -> None:
        """Shows the readings of a file."""
        if self.chart is None:
            from hatchbook.desk.charts.preview_chart import ReadingsPreview

            self.chart = ReadingsPreview()
            frame = QFrame()
            frame.setFrameShape(QFrame.Shape.StyledPanel)
            inside = QVBoxLayout(frame)
            inside.setContentsMargins(1, 1, 1, 1)
            inside.addWidget(self.chart)
            self._column.addWidget(frame, 1)
        self.chart.show_readings(table.at, table.temperature_c, table.humidity, self._zone, table.gaps)
