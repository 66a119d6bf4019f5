"""Work on the worker of which only the latest counts: whatever is asked ends what was asked before."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QObject, QTimer, Signal

from hatchbook.desk.context import DeskContext
from hatchbook.desk.tasks import Task, Work
from hatchbook.journal import Journal


class LatestWork(QObject):
    """One question at a time; the answer to an earlier one is never told.

    Signals:
        answered: what the work returned, unless that was None.
        failed: the exception that ended it.
        progressed: the share done, 0 to 1.
        busy_changed: whether something is being worked at.
    """

    answered = Signal(object)
    failed = Signal(object)
    progressed = Signal(float)
    busy_changed = Signal(bool)

    def __init__(self, context: DeskContext, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._context = context
        self._task: Task | None = None
        self._later: Callable[[], None] | None = None
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.timeout.connect(self._begin)

    @property
    def is_busy(self) -> bool:
        """Whether something is being worked at."""
        return self._task is not None

    def ask(self, work: Work) -> None:
        """Starts work in place of what goes on; it gets its task, for progress and to ask if it is cancelled."""
        self._wait_no_more()
        if self._task is not None:
            self._task.cancel()
        task = self._task = self._context.worker.start(work)
        self.busy_changed.emit(True)
        task.progressed.connect(self.progressed)
        task.finished.connect(lambda answer: self._finish(task, answer))
        task.failed.connect(lambda error: self._fail(task, error))

    def read(self, reading: Callable[[Journal, Task], Any]) -> None:
        """The same for work that reads the open journal, over a connection of its own."""
        journal = self._context.door.journal

        def work(task: Task) -> Any:
            with journal.second() as second:
                return None if task.cancelled else reading(second, task)

        self.ask(work)

    def read_soon(self, reading: Callable[[Journal, Task], Any], rest_ms: int) -> None:
        """The same when nothing was asked for a while, so that the window is painted first.

        What goes on is ended at once. Nothing is read where no journal is open by then.
        """
        self.stop()
        self._later = lambda: self.read(reading)
        self._rest.start(rest_ms)

    def stop(self) -> None:
        """Wants no answer any more."""
        self._wait_no_more()
        if self._task is not None:
            self._task.cancel()
            self._task = None
            self.busy_changed.emit(False)

    def _begin(self) -> None:
        later = self._later
        if later is not None and self._context.door.is_open:
            later()

    def _wait_no_more(self) -> None:
        self._later = None
        self._rest.stop()

    def _finish(self, task: Task, answer: object) -> None:
        if self._leave(task) and answer is not None:
            self.answered.emit(answer)

    def _fail(self, task: Task, error: object) -> None:
        if self._leave(task):
            self.failed.emit(error)

    def _leave(self, task: Task) -> bool:
        """Whether the task is the latest one, which then is over."""
        if task is not self._task:
            return False
        self._task = None
        self.busy_changed.emit(False)
        return True
