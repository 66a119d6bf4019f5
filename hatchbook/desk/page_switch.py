"""Which of the window's pages is shown: the journal of a batch, the seasons, the machines."""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from PySide6.QtGui import QActionGroup
from PySide6.QtWidgets import QStackedWidget, QWidget

from hatchbook.desk.actions import Actions
from hatchbook.desk.context import DeskContext

if TYPE_CHECKING:
    from hatchbook.desk.machines.page import MachinesPage
    from hatchbook.desk.seasons.page import SeasonsPage


class Page(StrEnum):
    """A page of the window."""

    JOURNAL = "journal"
    SEASONS = "seasons"
    MACHINES = "machines"


class PageSwitch(QObject):
    """Shows one of the pages; those of seasons and machines are built when they are first wanted.

    The journal page is whatever shows the chosen batch, or that there is none.
    """

    def __init__(
        self, context: DeskContext, actions: Actions, pages: QStackedWidget, journal_page: QWidget
    ) -> None:
        super().__init__(pages)
        self._context = context
        self._actions = actions
        self._pages = pages
        self._journal_page = journal_page
        self._seasons: SeasonsPage | None = None
        self._machines: MachinesPage | None = None
        self.shown = Page.JOURNAL
        group = QActionGroup(self)
        for page in Page:
            action = actions[f"page_{page}"]
            group.addAction(action)
            action.setChecked(page is Page.JOURNAL)

    @property
    def seasons(self) -> SeasonsPage:
        """The page on which seasons, pens and machines are compared."""
        if self._seasons is None:
            from hatchbook.desk.seasons.page import SeasonsPage

            self._seasons = SeasonsPage(self._context, self._actions)
            self._seasons.batch_opened.connect(self.open_batch)
            self._pages.addWidget(self._seasons)
        return self._seasons

    @property
    def machines(self) -> MachinesPage:
        """The page of the machines, with what water and vent give."""
        if self._machines is None:
            from hatchbook.desk.machines.page import MachinesPage

            self._machines = MachinesPage(self._context, self._actions)
            self._machines.batch_opened.connect(self.open_batch)
            self._pages.addWidget(self._machines)
        return self._machines

    def show_journal(self, page: QWidget | None = None) -> None:
        """Shows the journal of the chosen batch, or what stands in its place."""
        self._journal_page = page or self._journal_page
        self._show(Page.JOURNAL, self._journal_page)

    def set_journal_page(self, page: QWidget) -> None:
        """What the journal's page is from now on; it is shown at once where the journal is."""
        self._journal_page = page
        if self.shown is Page.JOURNAL:
            self._pages.setCurrentWidget(page)

    def show_seasons(self) -> None:
        """Shows how seasons, pens and machines compare."""
        self._show(Page.SEASONS, self.seasons)
        self.seasons.show_page()

    def show_machines(self, machine: str | None = None) -> None:
        """Shows a machine (by its uid), or the one in which the chosen batch lies."""
        self._show(Page.MACHINES, self.machines)
        self.machines.show_page(machine)

    def open_batch(self, uid: str) -> None:
        """Shows a batch in its journal."""
        self._context.choose_batch(uid)
        self.show_journal()

    def batch_chosen(self) -> None:
        """A batch was chosen in the list: it opens, except beside the seasons, whose charts ring it."""
        if self.shown is Page.MACHINES:
            self.show_journal()

    def _show(self, page: Page, widget: QWidget) -> None:
        self.shown = page
        self._actions[f"page_{page}"].setChecked(True)
        self._pages.setCurrentWidget(widget)
