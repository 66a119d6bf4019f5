"""Taking the chart out of the program: as a picture, or its readings as a file."""

from __future__ import annotations

from pathlib import Path

import numpy as np
from PySide6.QtCore import QPointF
from PySide6.QtGui import QGuiApplication, QPainter, QPixmap

from hatchbook.desk.charts.batch_graph import BatchGraph
from hatchbook.desk.charts.inks import Inks
from hatchbook.desk.context import DeskContext
from hatchbook.desk.keeping import Keeping
from hatchbook.desk.tasks import Task
from hatchbook.desk.theme.theme import scheme_of
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.widgets.notes import InlineNote
from hatchbook.desk.words.numbers import share
from hatchbook.exchange.readings_file import write_readings

_HEAD = 34
_RATIO = 2.0


class ChartKeeping(Keeping):
    """Saves and copies the picture, exports the readings in view, and tells in a note what came of it."""

    def __init__(self, context: DeskContext, graph: BatchGraph, note: InlineNote) -> None:
        super().__init__(graph, note)
        self._context = context
        self._graph = graph

    # ---------------------------------------------------------------- picture

    def picture(self) -> QPixmap:
        """The chart under the name of its batch."""
        chart = self._graph.picture(_RATIO)
        scheme = scheme_of(self._graph)
        width, height = self._graph.width(), self._graph.height() + _HEAD
        pixmap = QPixmap(round(width * _RATIO), round(height * _RATIO))
        pixmap.setDevicePixelRatio(_RATIO)
        pixmap.fill(scheme.page)
        with QPainter(pixmap) as painter:
            painter.setFont(role_font(TypeRole.SECTION))
            painter.setPen(scheme.ink)
            metrics = Inks(scheme, _RATIO).metrics(painter.font())
            painter.drawText(QPointF(14, _HEAD / 2 + metrics.ascent() / 2), self._title())
            painter.drawPixmap(QPointF(0, _HEAD), chart)
        return pixmap

    def copy_picture(self) -> None:
        """Puts the picture on the clipboard."""
        QGuiApplication.clipboard().setPixmap(self.picture())
        self.confirm(self.tr("The picture of the chart is on the clipboard"))

    # ---------------------------------------------------------------- readings

    def export_readings(self) -> None:
        """Asks where to, and writes the readings in view there."""
        self.ask(self.tr("Export readings"), self.tr("Readings (*.csv)"), "csv", self.export_readings_as)

    def export_readings_as(self, name: str) -> None:
        """Writes the readings in view to a file, on the worker; a note tells when it is done.

        They are written as the probe showed them: read in again they are corrected by its checks as they were here.
        """
        material, scale = self._graph.material, self._graph.scale_of_days
        if material is None:
            return
        curves, zone = material.curves, self._context.zone
        part = slice(
            int(np.searchsorted(curves.at, scale.at_of(scale.low))),
            int(np.searchsorted(curves.at, scale.at_of(scale.high), side="right")),
        )

        humidity = curves.humidity if curves.shown_humidity is None else curves.shown_humidity
        warmth = curves.temperature_c if curves.shown_temperature_c is None else curves.shown_temperature_c

        def work(task: Task) -> int:
            def tell(done: float) -> bool:
                task.report(done)
                return not task.cancelled

            return write_readings(name, curves.at[part], warmth[part], humidity[part], zone, progress=tell)

        task = self._context.worker.start(work)
        task.progressed.connect(self._tell_progress)
        task.finished.connect(lambda count: self._tell_written(int(count), name, curves.corrected))
        task.failed.connect(lambda error: self._tell_failed(error, name))

    def _tell_progress(self, done: float) -> None:
        if done < 1:
            self.confirm(self.tr("Writing readings, {share}").format(share=share(done)))

    def _tell_written(self, count: int, name: str, corrected: bool) -> None:
        text = self.tr("%Ln reading(s) written to {file}", "", count)
        if corrected:
            text = self.tr("%Ln reading(s) written to {file}, as the probe showed them", "", count)
        self.confirm(text.format(file=Path(name).name))

    def _tell_failed(self, error: Exception, name: str) -> None:
        if not isinstance(error, OSError):
            raise error
        text = self.tr("The readings could not be written to {file}: {reason}.")
        self.complain(text.format(file=name, reason=error.strerror or str(error)))

    # ---------------------------------------------------------------- names

    def file_name(self) -> str | None:
        """The label of the batch."""
        material = self._graph.material
        return None if material is None else material.curves.batch.label

    def _title(self) -> str:
        material = self._graph.material
        assert material is not None
        batch = material.curves.batch
        return f"{batch.name}  {batch.label}" if batch.name else batch.label
