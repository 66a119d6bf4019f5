"""Taking a comparison out of the program: its table as a file, its findings and charts as a picture."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject, QPointF, QRectF, QStandardPaths, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPixmap, QStatusTipEvent
from PySide6.QtWidgets import QApplication, QFileDialog, QWidget

from hatchbook.desk.context import DeskContext
from hatchbook.desk.seasons.charts_pane import ChartsPane
from hatchbook.desk.tasks import Task
from hatchbook.desk.theme.theme import scheme_of
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.widgets.notes import InlineNote
from hatchbook.desk.words.groups import group_word
from hatchbook.desk.words.seasons import story_of
from hatchbook.exchange.comparison_file import write_comparison
from hatchbook.figures.comparison_results import ComparisonFigures

_RATIO = 2.0
_MARGIN, _GAP = 16.0, 8.0


class SeasonsKeeping(QObject):
    """Asks where to, writes, and tells what came of it."""

    def __init__(self, context: DeskContext, charts: ChartsPane, note: InlineNote, parent: QWidget) -> None:
        super().__init__(parent)
        self._context = context
        self._charts = charts
        self._note = note
        self._page = parent
        self.figures: ComparisonFigures | None = None

    # ---------------------------------------------------------------- table

    def export_table(self) -> None:
        """Asks where to, and writes the table there."""
        self._ask(self.tr("Export table"), self.tr("Table (*.csv)"), "csv", self.export_table_as)

    def export_table_as(self, name: str) -> None:
        """Writes the table to a file, on the worker."""
        figures = self.figures
        if figures is None:
            return
        month = figures.season_first_month
        names = {
            row.group: group_word(row.group, month)
            for section in figures.sections
            for row in section.rows
            if row.group is not None
        }

        def work(_task: Task) -> int:
            return write_comparison(name, figures, names)

        task = self._context.worker.start(work)
        task.finished.connect(lambda count: self._tell_written(int(count), name))
        task.failed.connect(lambda error: self._tell_failed(error, name))

    def _tell_written(self, count: int, name: str) -> None:
        self._confirm(self.tr("%n row(s) written to {file}", "", count).format(file=Path(name).name))

    def _tell_failed(self, error: Exception, name: str) -> None:
        if not isinstance(error, OSError):
            raise error
        text = self.tr("The table could not be written to {file}: {reason}.")
        self._complain(text.format(file=name, reason=error.strerror or str(error)))

    # ---------------------------------------------------------------- picture

    def picture(self) -> QPixmap:
        """The findings above both charts."""
        assert self.figures is not None
        scheme = scheme_of(self._charts)
        parts = self._charts.pictures()
        width = sum(part.deviceIndependentSize().width() for _title, part in parts) + 2 * _MARGIN + _GAP
        story = story_of(self.figures)
        strong, plain = role_font(TypeRole.SECTION), role_font(TypeRole.CAPTION)
        room = QRectF(_MARGIN, _MARGIN, width - 2 * _MARGIN, 10_000)
        wrapped = int(Qt.TextFlag.TextWordWrap)
        head = QFontMetricsF(strong).boundingRect(room, wrapped, f"{story.headline} {story.odds}")
        below = room.translated(0, head.height() + _GAP / 2)
        rest = QFontMetricsF(plain).boundingRect(below, wrapped, "  ".join(story.rest))
        titles = (rest.bottom() if story.rest else head.bottom()) + _GAP
        line = QFontMetricsF(strong).height() + _GAP / 2
        height = (
            titles + line + max(part.deviceIndependentSize().height() for _title, part in parts) + _MARGIN
        )
        pixmap = QPixmap(round(width * _RATIO), round(height * _RATIO))
        pixmap.setDevicePixelRatio(_RATIO)
        pixmap.fill(scheme.page)
        with QPainter(pixmap) as painter:
            painter.setPen(scheme.ink)
            painter.setFont(strong)
            painter.drawText(room, wrapped, f"{story.headline} {story.odds}")
            x = _MARGIN
            for title, part in parts:
                painter.drawText(QPointF(x + 4, titles + QFontMetricsF(strong).ascent()), title)
                painter.drawPixmap(QPointF(x, titles + line), part)
                x += part.deviceIndependentSize().width() + _GAP
            painter.setPen(scheme.ink2)
            painter.setFont(plain)
            painter.drawText(below, wrapped, "  ".join(story.rest))
        return pixmap

    def save_picture(self) -> None:
        """Asks where to, and saves the picture there."""
        self._ask(self.tr("Save picture"), self.tr("Picture (*.png)"), "png", self.save_picture_as)

    def save_picture_as(self, name: str) -> None:
        """Saves the picture under a name."""
        if self.picture().save(name, "PNG"):
            self._confirm(self.tr("Picture saved as {file}").format(file=Path(name).name))
        else:
            self._complain(self.tr("The picture could not be saved as {file}.").format(file=name))

    # ---------------------------------------------------------------- asking and telling

    def _ask(self, title: str, kind: str, suffix: str, then: Callable[[str], None]) -> None:
        if self.figures is None:
            return
        folder = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.DocumentsLocation)
        dialog = QFileDialog(self._page.window(), title, folder, kind)
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
        dialog.setDefaultSuffix(suffix)
        dialog.selectFile(f"{self.tr('Seasons')}.{suffix}")
        dialog.fileSelected.connect(then)
        dialog.open()

    def _confirm(self, text: str) -> None:
        self._note.setVisible(False)
        QApplication.sendEvent(self._page, QStatusTipEvent(text))

    def _complain(self, text: str) -> None:
        self._note.set_note(text, "bad")
        self._note.setVisible(True)
