"""The batch list with the line that searches it, and what stands in its place while it is empty."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QStackedLayout, QVBoxLayout, QWidget

from hatchbook.desk.actions import Actions
from hatchbook.desk.context import DeskContext
from hatchbook.desk.left.batch_list import BatchList
from hatchbook.desk.left.find_line import FindLine
from hatchbook.desk.theme.tokens import tokens
from hatchbook.desk.theme.type_scale import TypeRole
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.widgets.notes import InlineNote
from hatchbook.desk.widgets.sheet import Sheet
from hatchbook.figures import overview
from hatchbook.figures.results import BatchState, BatchSummary, Overview
from hatchbook.journal import Change, Journal

#: The kinds of record that a line of the list shows something of.
_SHOWN = frozenset(
    {
        "batch",
        "batch_phase",
        "break_out",
        "candling",
        "egg",
        "finding",
        "hatching",
        "past_batch",
        "pen",
        "removal",
        "setting",
    }
)


class BatchPane(Sheet):
    """Reads the batches of the open journal and follows its changes.

    Signals:
        copy_wanted: uid of the batch whose plan a new one is to have.
    """

    copy_wanted = Signal(str)

    def __init__(self, context: DeskContext, actions: Actions, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._context = context
        self._actions = actions
        self.find_line = FindLine(actions)
        self.list = BatchList(actions)
        self._build()
        self.find_line.textChanged.connect(self._find)
        self.find_line.left.connect(self.focus_list)
        self.find_line.entered.connect(self._enter)
        self.list.batch_chosen.connect(context.choose_batch)
        self.list.batch_opened.connect(self._go_to)
        self.list.name_typed.connect(self._rename)
        self.list.copy_wanted.connect(self.copy_wanted)
        context.batch_chosen.connect(self.list.show_chosen)
        context.batches_filtered.connect(self._keep_to)
        self.filter_note.link_clicked.connect(context.end_filter)
        context.door.changed.connect(self._follow)

    def _build(self) -> None:
        space = tokens().spacing
        self._search_row = QWidget()
        search = QVBoxLayout(self._search_row)
        search.setContentsMargins(space.x2, space.x1 + 1, space.x2, space.x1 + 1)
        search.addWidget(self.find_line)
        self.filter_note = InlineNote("", "info", self.tr("Show all"))
        self.filter_note.setVisible(False)
        search.addWidget(self.filter_note)
        self._empty = _Notice(
            self.tr("No batches yet"),
            self.tr(
                "Every batch you set will stand here, grouped by season, with its progress from set to hatch."
            ),
        )
        self._not_found = _Notice(self.tr("No batch is found"), self.tr("Esc shows all batches again."))
        self._places = QStackedLayout()
        for place in (self.list, self._empty, self._not_found):
            self._places.addWidget(place)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(0)
        rows.addWidget(self._search_row)
        rows.addLayout(self._places, 1)
        self.setMinimumHeight(tokens().sizes.season_row + 2 * tokens().sizes.batch_row)
        self.setFocusProxy(self.list)
        self._place()

    # ---------------------------------------------------------------- reading

    def reload(self) -> None:
        """Shows the batches of the open journal as they are now; none where none is open."""
        door = self._context.door
        if door.is_open:
            journal = door.journal
            self.list.batches.show_overview(
                overview(journal, self._context.now()),
                journal.settings.season_first_month,
                journal.zone,
                can_rename=not journal.read_only,
            )
        else:
            self.list.batches.show_overview(Overview(()))
        self.list.show_chosen(self._context.batch)
        self._place()

    @property
    def has_batches(self) -> bool:
        """Whether the journal has any batch, be it counts from paper."""
        return bool(self.list.batches.batches)

    @property
    def first_batch(self) -> str | None:
        """The batch to show first: of those that run the one set last, else the one set last, else a past one."""
        kept = [batch for batch in self.list.batches.batches if not batch.counts_only]
        running = [batch for batch in kept if batch.state is BatchState.RUNNING]
        newest = max(running or kept or self.list.batches.batches, key=_set_at, default=None)
        return newest.uid if newest is not None else None

    def _follow(self, change: Change) -> None:
        if change.kinds & _SHOWN:
            self.reload()

    def _place(self) -> None:
        self._search_row.setVisible(self.has_batches)
        if not self.has_batches:
            self._places.setCurrentWidget(self._empty)
        elif self.list.batches.rowCount() == 0:
            self._places.setCurrentWidget(self._not_found)
        else:
            self._places.setCurrentWidget(self.list)

    # ---------------------------------------------------------------- searching

    def focus_list(self) -> None:
        """Puts the cursor into the list; into the search where nothing is found."""
        if self._places.currentWidget() is not self.list:
            self.find_line.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        if not self.list.currentIndex().isValid():
            shown = self.list.batches.index_of(self._context.batch)
            self.list.setCurrentIndex(shown if shown.isValid() else self.list.batches.index(0, 0))
        self.list.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _find(self, text: str) -> None:
        self.list.batches.find(text)
        self._place()

    def _keep_to(self, uids: frozenset[str] | None, name: str) -> None:
        if uids is not None:
            self.filter_note.set_note(self.tr("Only {group}").format(group=name), "info", self.tr("Show all"))
        self.filter_note.setVisible(uids is not None)
        self.list.batches.keep_to(uids)
        self._place()

    def _enter(self) -> None:
        if self._places.currentWidget() is self.list:
            if self.list.batches.is_searching:
                self.list.choose_first()
            self.focus_list()

    def _go_to(self, uid: str) -> None:
        """To the chart of a batch; one of which only counts are known has none."""
        past = any(batch.uid == uid and batch.counts_only for batch in self.list.batches.batches)
        self._actions["page_journal" if past else "go_chart"].trigger()

    # ---------------------------------------------------------------- renaming

    def _rename(self, uid: str, typed: str) -> None:
        batch = next((batch for batch in self.list.batches.batches if batch.uid == uid), None)
        if batch is None or batch.name == typed:
            return
        if self._context.door.run(lambda journal: _renamed(journal, batch, typed)) is None:
            self.list.rename(uid, typed)


def _renamed(journal: Journal, batch: BatchSummary, name: str) -> Change:
    if batch.counts_only:
        return journal.past_batches.replace(replace(journal.past_batches.get(batch.uid), name=name))
    return journal.batches.rename(journal.batches.get(batch.uid), name)


def _set_at(batch: BatchSummary) -> int:
    return batch.set_at


class _Notice(QWidget):
    """A bold line and what it means, at the top of an empty place."""

    def __init__(self, title: str, text: str) -> None:
        super().__init__()
        space = tokens().spacing
        rows = QVBoxLayout(self)
        rows.setContentsMargins(space.x4, space.x4, space.x4, space.x4)
        rows.setSpacing(space.x2)
        rows.addWidget(Label(title, bold=True))
        rows.addWidget(Label(text, TypeRole.CAPTION, "ink2", wraps=True))
        rows.addStretch()
