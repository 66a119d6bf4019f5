"""The page of the chosen batch: the running one's or the finished one's."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QStackedWidget

from hatchbook.desk.actions import Actions
from hatchbook.desk.context import DeskContext
from hatchbook.desk.pages.journal_page import JournalPage
from hatchbook.desk.widgets.tab_order import tab_through
from hatchbook.figures import BatchState, batch_view
from hatchbook.journal import Change

if TYPE_CHECKING:
    from hatchbook.desk.pages.finished_page import FinishedPage

#: The kinds of record whose change leaves the shown batch as it is.
_ELSEWHERE = frozenset({"programme", "past_batch"})


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
        context.door.changed.connect(self._refresh)

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
    def has_batch(self) -> bool:
        """Whether a batch of the open journal is shown."""
        door = self._context.door
        return door.is_open and self._uid is not None and door.journal.batches.find(self._uid) is not None

    def show_batch(self, uid: str | None) -> None:
        """Shows another batch, or none."""
        self._uid = uid
        if not self.has_batch:
            self._uid = None
            self.journal_page.show_view(None, None)
            return
        assert uid is not None
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

    def _refresh(self, change: Change) -> None:
        if self._uid is not None and not change.kinds <= _ELSEWHERE:
            self.show_batch(self._uid)
