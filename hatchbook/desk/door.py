"""One door for every change: an operation goes in, the journal stores it, the open views hear what changed."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import replace
from types import TracebackType

from PySide6.QtCore import QObject, Signal

from hatchbook.journal import Change, Journal, JournalError, StepInfo

Operation = Callable[[Journal], Change]


class Holding:
    """While it lasts, changes are stored but not told; when it ends they are told together, as one.

    For a screen that covers all others and takes many entries in a row: what lies behind it refreshes once. Used
    with ``with``, or ended by ``release``, which may be called twice.
    """

    def __init__(self, door: Door) -> None:
        self._door: Door | None = door

    def release(self) -> None:
        """Tells what was held back."""
        door, self._door = self._door, None
        if door is not None:
            door.end_holding(self)

    def __enter__(self) -> Holding:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.release()


class Door(QObject):
    """Runs operations on the open journal.

    Signals:
        changed: a ``Change`` was stored, taken back or done again; views compare its ``kinds``.
        refused: a ``JournalError``: nothing was stored; the window shows it until it is solved.
        journal_changed: another journal is open now, or none.
    """

    changed = Signal(object)
    refused = Signal(object)
    journal_changed = Signal()

    def __init__(self, clock: Callable[[], float] = time.time, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._clock = clock
        self._journal: Journal | None = None
        self._saved_at: int | None = None
        self._holdings: set[Holding] = set()
        self._held: list[Change] = []

    @property
    def journal(self) -> Journal:
        """The open journal.

        Raises:
            RuntimeError: none is open; a page that needs one is not shown then.
        """
        if self._journal is None:
            raise RuntimeError("no journal is open")
        return self._journal

    @property
    def is_open(self) -> bool:
        """Whether a journal is open."""
        return self._journal is not None

    @property
    def saved_at(self) -> int | None:
        """The instant of the latest change stored since the journal was opened."""
        return self._saved_at

    def now(self) -> int:
        """The present instant, UTC seconds."""
        return int(self._clock())

    def take(self, journal: Journal | None) -> None:
        """Works on another journal from now on (None: on none); the one before is closed."""
        before, self._journal = self._journal, journal
        self._saved_at = None
        self._held.clear()
        try:
            if before is not None:
                before.close()
        finally:
            self.journal_changed.emit()

    def run(self, operation: Operation) -> Change | None:
        """Stores what an operation does; None where the journal refused it, which ``refused`` has told."""
        try:
            change = operation(self.journal)
        except JournalError as error:
            self.refused.emit(error)
            return None
        self.announce(change)
        return change

    def announce(self, change: Change) -> None:
        """Tells the views of a change that a worker's own connection has stored."""
        self._saved_at = self.now()
        if self._holdings:
            self._held.append(change)
        else:
            self.changed.emit(change)

    def hold_back(self) -> Holding:
        """Changes are told only when what this returns has ended; see ``Holding``."""
        holding = Holding(self)
        self._holdings.add(holding)
        return holding

    def end_holding(self, holding: Holding) -> None:
        """For a ``Holding`` that ends: with the last of them, tells what was held back as one change."""
        self._holdings.discard(holding)
        if not self._holdings and self._held:
            held, self._held = self._held, []
            kinds = frozenset().union(*(change.kinds for change in held))
            self.changed.emit(replace(held[-1], kinds=kinds))

    def undo(self) -> Change | None:
        """Takes back the latest step."""
        return self.run(lambda journal: journal.undo())

    def redo(self) -> Change | None:
        """Does the step again that was taken back last."""
        return self.run(lambda journal: journal.redo())

    def next_undo(self) -> StepInfo | None:
        """The step that undo would take back."""
        return self.journal.history.next_undo() if self.is_open else None

    def next_redo(self) -> StepInfo | None:
        """The step that redo would do again."""
        return self.journal.history.next_redo() if self.is_open else None
