"""The page of a batch of which only counts are known: rates, what became of the eggs, losses by stage, the note."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QScrollArea, QVBoxLayout, QWidget

from hatchbook.desk.actions import Actions
from hatchbook.desk.context import DeskContext
from hatchbook.desk.latest_work import LatestWork
from hatchbook.desk.pages.header import BatchHeader
from hatchbook.desk.pages.losses import Losses
from hatchbook.desk.pages.sheets import column, scrolled
from hatchbook.desk.past.rates import PastRates
from hatchbook.desk.tasks import Task
from hatchbook.desk.tray.tally import Tally
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.widgets.pictures import OutcomeBar
from hatchbook.desk.widgets.rules import HLine
from hatchbook.desk.widgets.tab_order import tab_through
from hatchbook.desk.words.alive import rest_sentence
from hatchbook.desk.words.past_batches import past_facts
from hatchbook.desk.words.past_seasons import left_sentence
from hatchbook.figures import PastFigures, rates_among_others
from hatchbook.figures.among_others import RatesAmong
from hatchbook.journal import Journal

_HEADER_ACTIONS = ("change_batch", "delete_batch")
_NARROW = 720
_BAR_HEIGHT = 16
_SPACING = 8
_SETTLE_MS = 30
"""The page is painted first."""


class PastPage(QWidget):
    """Everything that is known of a past batch; it is changed in its dialog."""

    def __init__(self, context: DeskContext, actions: Actions) -> None:
        super().__init__()
        self.setObjectName("sheet")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self._context = context
        self._shown: PastFigures | None = None
        self.header = BatchHeader(actions, _HEADER_ACTIONS)
        self.rates = PastRates()
        self.bar = OutcomeBar(_BAR_HEIGHT)
        self.tally = Tally()
        self.left = Label("", "caption", "ink2", wraps=True)
        self.losses = Losses()
        self.remark = Label("", wraps=True)
        self.remark.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(0)
        for part in (self.header, HLine(), self.rates, HLine()):
            rows.addWidget(part)
        self._area = self._scrolled()
        rows.addWidget(self._area, 1)
        self._work = LatestWork(context, self)
        self._work.answered.connect(self._show_among)
        self._work.failed.connect(self._raise)
        self.rates.explained.connect(lambda _name: self._explain())
        tab_through([self.header, self.rates, self._area])

    def _scrolled(self) -> QScrollArea:
        content = QWidget()
        self._grid = QGridLayout(content)
        self._grid.setContentsMargins(16, 12, 16, 12)
        self._grid.setHorizontalSpacing(32)
        self._grid.setVerticalSpacing(14)
        became = Label(self.tr("What became of the eggs"), role="section")
        self._became = column(became, self.bar, self.tally, self.left, spacing=_SPACING)
        self._lost = column(
            Label(self.tr("Losses of the fertile eggs"), role="section"), self.losses, spacing=_SPACING
        )
        self._note = column(Label(self.tr("Note"), role="section"), self.remark, spacing=_SPACING)
        self._grid.setColumnStretch(0, 1)
        self._grid.setColumnStretch(1, 1)
        self._grid.setRowStretch(3, 1)
        self._narrow: bool | None = None
        self._arrange(narrow=False)
        return scrolled(content, self.tr("Eggs, losses and note of the past batch"))

    def show_past(self, figures: PastFigures) -> None:
        """Shows a batch."""
        self._shown = figures
        batch, counts = figures.batch, figures.rates.counts.by_fate
        self.header.show_texts(batch.label, batch.name, past_facts(figures))
        self.rates.show_rates(figures.rates)
        self._ask_among(figures.batch.uid)
        self.bar.set_counts(counts, rest_sentence(counts))
        self.tally.show_counts(counts)
        self.left.setText(left_sentence(figures.left))
        self.losses.show_rates(figures.rates)
        self.remark.setText(batch.note)
        self._note.setVisible(bool(batch.note))

    def _ask_among(self, uid: str) -> None:
        """Has it told what the other batches do; the page does not wait for it."""

        def tell(journal: Journal, _task: Task) -> RatesAmong:
            return rates_among_others(journal, uid)

        self._work.read_soon(tell, _SETTLE_MS)

    def _show_among(self, among: RatesAmong) -> None:
        if self._shown is not None:
            self.rates.show_rates(self._shown.rates, among)

    @staticmethod
    def _raise(error: BaseException) -> None:
        raise error

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Eggs and losses go one above the other in a narrow window."""
        super().resizeEvent(event)
        self._arrange(narrow=self.width() < _NARROW)

    def _arrange(self, *, narrow: bool) -> None:
        if narrow == self._narrow:
            return
        self._narrow = narrow
        places = ((0, 0, 1, 2), (1, 0, 1, 2)) if narrow else ((0, 0, 1, 1), (0, 1, 1, 1))
        for part, place in zip((self._became, self._lost), places, strict=True):
            self._grid.addWidget(part, *place)
        self._grid.addWidget(self._note, 2, 0, 1, 2)

    def _explain(self) -> None:
        from hatchbook.desk.dialogs.explain import ExplanationDialog
        from hatchbook.desk.words.explanations import rates_explanation

        if self._shown is not None:
            ExplanationDialog(*rates_explanation(self._shown.rates), self).open()
