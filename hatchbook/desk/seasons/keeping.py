"""Taking a comparison out of the program: its table as a file, its findings and charts as a picture."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QLocale, QPointF, QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPixmap
from PySide6.QtWidgets import QWidget

from hatchbook.desk.context import DeskContext
from hatchbook.desk.keeping import Keeping
from hatchbook.desk.seasons.charts_pane import ChartsPane
from hatchbook.desk.tasks import Task
from hatchbook.desk.theme.theme import scheme_of
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.widgets.notes import InlineNote
from hatchbook.desk.words.groups import group_word
from hatchbook.desk.words.season_facts import asked_sentence
from hatchbook.desk.words.seasons import story_of
from hatchbook.exchange.comparison_file import write_comparison
from hatchbook.figures.comparison_results import ComparisonFigures

_RATIO = 2.0
_MARGIN, _GAP = 16.0, 8.0
_ENDLESS = 10_000.0
_WRAPPED = int(Qt.TextFlag.TextWordWrap)


class SeasonsKeeping(Keeping):
    """Asks where to, writes, and tells what came of it."""

    def __init__(self, context: DeskContext, charts: ChartsPane, note: InlineNote, parent: QWidget) -> None:
        super().__init__(parent, note)
        self._context = context
        self._charts = charts
        self.figures: ComparisonFigures | None = None

    def file_name(self) -> str | None:
        """Seasons."""
        return None if self.figures is None else self.tr("Seasons")

    # ---------------------------------------------------------------- table

    def export_table(self) -> None:
        """Asks where to, and writes the table there."""
        self.ask(self.tr("Export table"), self.tr("Table (*.csv)"), "csv", self.export_table_as)

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
            return write_comparison(name, figures, names, decimal_point=QLocale().decimalPoint())

        task = self._context.worker.start(work)
        task.finished.connect(lambda count: self._tell_written(int(count), name))
        task.failed.connect(lambda error: self._tell_failed(error, name))

    def _tell_written(self, count: int, name: str) -> None:
        self.confirm(self.tr("%n row(s) written to {file}", "", count).format(file=Path(name).name))

    def _tell_failed(self, error: Exception, name: str) -> None:
        if not isinstance(error, OSError):
            raise error
        text = self.tr("The table could not be written to {file}: {reason}.")
        self.complain(text.format(file=name, reason=error.strerror or str(error)))

    # ---------------------------------------------------------------- picture

    def picture(self) -> QPixmap:
        """What was compared and what was found, above both charts with the shapes of their groups."""
        assert self.figures is not None
        scheme = scheme_of(self._charts)
        parts = self._charts.pictures()
        width = sum(part.deviceIndependentSize().width() for _title, part in parts) + 2 * _MARGIN + _GAP
        texts = self._texts(self.figures, width - 2 * _MARGIN)
        titles = texts[-1][1].bottom() + _GAP
        strong = role_font(TypeRole.SECTION)
        line = QFontMetricsF(strong).height() + _GAP / 2
        high = max(part.deviceIndependentSize().height() for _title, part in parts)
        pixmap = QPixmap(round(width * _RATIO), round((titles + line + high + _MARGIN) * _RATIO))
        pixmap.setDevicePixelRatio(_RATIO)
        pixmap.fill(scheme.page)
        with QPainter(pixmap) as painter:
            for text, place, role in texts:
                painter.setFont(role_font(role))
                painter.setPen(scheme.ink if role is TypeRole.SECTION else scheme.ink2)
                painter.drawText(place, _WRAPPED, text)
            painter.setPen(scheme.ink)
            x = _MARGIN
            for title, part in parts:
                painter.setFont(strong)
                painter.drawText(QPointF(x + 4, titles + QFontMetricsF(strong).ascent()), title)
                painter.drawPixmap(QPointF(x, titles + line), part)
                x += part.deviceIndependentSize().width() + _GAP
            legend = QRectF(width / 2, titles, width / 2 - _MARGIN, line - _GAP / 2)
            self._charts.legend.paint_entries(painter, legend)
        return pixmap

    @staticmethod
    def _texts(figures: ComparisonFigures, width: float) -> list[tuple[str, QRectF, TypeRole]]:
        """The texts of the picture with their places, one below the other."""
        story = story_of(figures)
        wanted = (
            (asked_sentence(figures), TypeRole.CAPTION),
            (f"{story.headline} {story.odds}".strip(), TypeRole.SECTION),
            ("  ".join(story.rest), TypeRole.CAPTION),
        )
        placed, top = [], _MARGIN
        for text, role in wanted:
            if text:
                room = QRectF(_MARGIN, top, width, _ENDLESS)
                height = QFontMetricsF(role_font(role)).boundingRect(room, _WRAPPED, text).height()
                placed.append((text, QRectF(_MARGIN, top, width, height), role))
                top += height + _GAP / 2
        return placed
