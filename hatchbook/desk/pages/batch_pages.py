"""The page of the chosen batch: the running one's or the finished one's."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QStackedWidget

from hatchbook.desk.actions import Actions
from hatchbook.desk.context import DeskContext
from hatchbook.desk.pages.journal_page import JournalPage
from hatchbook.desk.widgets.tab_order import tab_through
from hatchbook.figures import BatchState, batch_view, past_figures
from hatchbook.journal import Change

if TYPE_CHECKING:
    from hatchbook.desk.pages.finished_page import FinishedPage
    from hatchbook.desk.pages.past_page import PastPage

#: The kinds of record whose change leaves the shown batch as it is.
_ELSEWHERE = frozenset({"programme"})
#: The same while a batch is shown of which only counts are known.
_ELSEWHERE_OF_PAST = frozenset({"reading", "import_run", "event", "duty"})


class BatchPages(QStackedWidget):
    """Reads the figures of the chosen batch once, and has the page show them that fits its state."""

    def __init__(self, context: DeskContext, actions: Actions) -> None:
        super().__init__()
        self._context = context
        self._uid: str | None = None
        self._actions = actions
        self.journal_page = JournalPage(context, actions)
        self.addWidget(self.journal_page)
        self._finished_page: FinishedPage | None = None
        self._past_page: PastPage | None = None
        context.door.changed.connect(self._refresh)
        context.instant_shown.connect(self._show_instant)

    @property
    def finished_page(self) -> FinishedPage:
        """The page of finished batches, built with the first of them."""
        if self._finished_page is None:
            from hatchbook.desk.pages.finished_page import FinishedPage

            self._finished_page = FinishedPage(self._context, self._actions)
            self.addWidget(self._finished_page)
            tab_through([self.journal_page, self._finished_page])
        return self._finished_page

    @property
    def past_page(self) -> PastPage:
        """The page of batches of which only counts are known, built with the first of them."""
        if self._past_page is None:
            from hatchbook.desk.pages.past_page import PastPage

            self._past_page = PastPage(self._context, self._actions)
            self.addWidget(self._past_page)
            tab_through([self.journal_page, self._past_page])
        return self._past_page

    @property
    def has_batch(self) -> bool:
        """Whether a batch of the open journal is shown."""
        door = self._context.door
        if not door.is_open or self._uid is None:
            return False
        return door.journal.batches.find(self._uid) is not None or self._is_past

    @property
    def _is_past(self) -> bool:
        """Whether only counts are known of the batch that is shown."""
        journal = self._context.door.journal
        return self._uid is not None and journal.past_batches.find(self._uid) is not None

    def show_batch(self, uid: str | None) -> None:
        """Shows another batch, or none."""
        self._uid = uid
        if not self.has_batch:
            self._uid = None
            self.journal_page.show_view(None, None)
            return
        assert uid is not None
        if self._is_past:
            self.past_page.show_past(past_figures(self._context.door.journal, uid))
            self.setCurrentWidget(self.past_page)
            return
        figures, curves = batch_view(self._context.door.journal, uid, self._context.now())
        finished = figures.state is BatchState.CLOSED
        page = self.finished_page if finished else self.journal_page
        page.show_view(figures, curves)
        self.setCurrentWidget(page)

    @property
    def page(self) -> JournalPage | FinishedPage:
        """The page that is shown."""
        shown = self.currentWidget()
        if self._finished_page is not None and shown is self._finished_page:
            return self._finished_page
        return self.journal_page

    def focus_chart(self) -> None:
        """Puts the focus into the chart."""
        self.page.focus_chart()

    def focus_tray(self) -> None:
        """Puts the focus into the tray."""
        self.page.focus_tray()

    def focus_lines(self) -> None:
        """Puts the focus into the journal lines."""
        self.page.focus_lines()

    def show_chart_table(self) -> None:
        """Shows the chart of the batch as a table."""
        self.page.show_chart_table()

    def _show_instant(self, at: int) -> None:
        if self.has_batch and not self._is_past:
            self.page.show_instant(at)

    def _refresh(self, change: Change) -> None:
        elsewhere = _ELSEWHERE_OF_PAST if self._past_page is self.currentWidget() else _ELSEWHERE
        if self._uid is not None and not change.kinds <= elsewhere:
            self.show_batch(self._uid)
