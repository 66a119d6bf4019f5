"""Beside the chart: the tray, its tally, and the journal of the batch."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from hatchbook.desk.context import DeskContext
from hatchbook.desk.lines.lines_view import LinesView
from hatchbook.desk.tray.arranging_tray import ArrangingTray
from hatchbook.desk.tray.tally import Tally
from hatchbook.desk.tray.tray_work import TrayWork
from hatchbook.desk.widgets.labels import ElidedLabel, Label
from hatchbook.desk.widgets.rules import HLine
from hatchbook.desk.words.numbers import number
from hatchbook.figures import journal_lines
from hatchbook.figures.effects import EventEffect
from hatchbook.figures.results import BatchFigures, JournalLine

#: The largest share of the pane's height for the tray.
_TRAY_SHARE = 0.45
_TRAY_LEAST = 90
#: The heights of a line that titles and a few journal lines take.
_LINES_LEFT = 9
_MARGINS = 18
#: The widths of the pane, by the least width of the page that they go with.
_WIDTHS = ((1350, 300), (950, 236), (0, 206))


class SidePane(QWidget):
    """Tray, tally and journal lines of one batch."""

    def __init__(self, context: DeskContext, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._context = context
        self.tray = ArrangingTray()
        self.work = TrayWork(context, self.tray, self)
        self._candled_words = ""
        self.tally = Tally()
        self.lines = LinesView()
        self._candled = ElidedLabel("", role="caption", ink="ink2")
        self._count = ElidedLabel("", role="caption", ink="ink2")
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 8, 8, 6)
        column.setSpacing(4)
        column.addLayout(_head(Label(self.tr("Tray"), role="section"), self._candled))
        column.addWidget(self.tray)
        column.addWidget(self.tally)
        column.addSpacing(4)
        column.addWidget(HLine())
        column.addSpacing(2)
        column.addLayout(_head(Label(self.tr("Journal"), role="section"), self._count))
        column.addWidget(self.lines, 1)
        self.tray.said.connect(lambda words: self._candled.setText(words or self._candled_words))
        self.lines.line_chosen.connect(lambda line: context.show_instant(line.at))
        self.lines.line_opened.connect(self._open_line)

    def show_figures(
        self, figures: BatchFigures | None, effects: Mapping[str, EventEffect] | None = None
    ) -> None:
        """Shows the eggs and lines of a batch, with what its events did; the eggs that are chosen stay so."""
        if figures is None:
            self.work.show_figures(None)
            self.tally.show_counts({})
            self.lines.lines.show_lines((), self._context.zone)
            return
        self.work.show_figures(figures)
        self.tally.show_counts(figures.counts)
        self._fit_tray()
        if figures.candled_days:
            day = number(figures.candled_days[-1], 0)
            self._candled_words = self.tr("candled day {day}").format(day=day)
        else:
            self._candled_words = self.tr("not candled yet")
        self._candled.setText(self._candled_words)
        lines = journal_lines(self._context.door.journal, figures.batch.uid, figures.now)
        self.lines.lines.show_lines(lines, self._context.zone, effects)
        self._count.setText(self.tr("%n line(s)", "", len(lines)))

    def fit(self, page_width: int) -> None:
        """Gives way in a narrow page."""
        self.setFixedWidth(next(width for least, width in _WIDTHS if page_width >= least))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """The tray follows the room."""
        super().resizeEvent(event)
        self._fit_tray()

    def _fit_tray(self) -> None:
        line = self.fontMetrics().height()
        below = self.tally.sizeHint().height() + _LINES_LEFT * line
        room = min(round(self.height() * _TRAY_SHARE), self.height() - below)
        self.tray.fit(self.width() - _MARGINS, max(_TRAY_LEAST, room))

    def choose_record(self, uid: str) -> None:
        """Puts the cursor on the line of a record."""
        self.lines.choose_record(uid)

    def _open_line(self, line: JournalLine) -> None:
        from hatchbook.desk.dialogs.edit_line import edit_line

        edit_line(self._context, line, self.window())


def _head(title: Label, aside: ElidedLabel) -> QHBoxLayout:
    row = QHBoxLayout()
    row.setContentsMargins(0, 0, 0, 0)
    row.addWidget(title)
    row.addStretch(1)
    row.addWidget(aside, 0, Qt.AlignmentFlag.AlignVCenter)
    return row
