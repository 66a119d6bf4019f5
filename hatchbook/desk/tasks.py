"""Slow work on one worker thread, with progress and cancel; results come back to the window's thread."""

from __future__ import annotations

import threading
from collections.abc import Callable
from typing import Any, Protocol

from PySide6.QtCore import QObject, Qt, QThreadPool, Signal, Slot

_QUEUED = Qt.ConnectionType.QueuedConnection


class Task(QObject):
    """One piece of slow work, seen from the window.

    Signals:
        progressed: the share done, 0 to 1.
        finished: what the work returned.
        failed: the exception that ended it; a cancelled task tells neither.
        ended: it is over, however it ended.
    """

    progressed = Signal(float)
    finished = Signal(object)
    failed = Signal(object)
    ended = Signal()
    # Emitted in the worker's thread, received in the task's own.
    _progress_came = Signal(float)
    _outcome_came = Signal(object, object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._cancelled = threading.Event()
        self._progress_came.connect(self._tell_progress, type=_QUEUED)
        self._outcome_came.connect(self._tell_outcome, type=_QUEUED)

    def cancel(self) -> None:
        """Asks the work to stop; nothing is told afterwards."""
        self._cancelled.set()

    @property
    def cancelled(self) -> bool:
        """Whether it was asked to stop."""
        return self._cancelled.is_set()

    def report(self, share: float) -> None:
        """For the work, in any thread: how much of it is done, 0 to 1."""
        self._progress_came.emit(share)

    def run(self, work: Work) -> None:
        """Does the work in the calling thread; its outcome is told in the task's own."""
        if self.cancelled:
            self._outcome_came.emit(None, None)
            return
        try:
            result = work(self)
        except Exception as error:  # noqa: BLE001  told to the window, see ``failed``
            self._outcome_came.emit(None, error)
        else:
            self._outcome_came.emit(result, None)

    @Slot(float)
    def _tell_progress(self, share: float) -> None:
        if not self.cancelled:
            self.progressed.emit(share)

    @Slot(object, object)
    def _tell_outcome(self, result: object, error: object) -> None:
        if not self.cancelled:
            if error is not None:
                self.failed.emit(error)
            else:
                self.finished.emit(result)
        self.ended.emit()


Work = Callable[[Task], Any]


class Worker(Protocol):
    """What runs slow work: the thread in the program, inline in tests."""

    def start(self, work: Work) -> Task:
        """Starts work; connect to the task it returns before the event loop runs on."""

    def stop(self) -> None:
        """Cancels what runs and waits for its end."""


class ThreadWorker(QObject):
    """Runs one piece of work at a time on a thread of its own."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._pool = QThreadPool(self)
        self._pool.setMaxThreadCount(1)
        self._tasks: set[Task] = set()

    def start(self, work: Work) -> Task:
        """Queues work; it gets its task to tell progress and to ask whether it is cancelled."""
        task = Task()
        self._tasks.add(task)
        handed_over = [(task, work)]
        left = threading.Event()

        def run() -> None:
            mine, doing = handed_over.pop()
            try:
                mine.run(doing)
            finally:
                # The last to let go of a task must be the thread it lives in.
                del mine, doing
                left.set()

        task.ended.connect(lambda: self._forget(task, left))
        self._pool.start(run)
        return task

    def stop(self) -> None:
        """Cancels what runs and waits for its end."""
        for task in list(self._tasks):
            task.cancel()
        self._pool.waitForDone()

    def _forget(self, task: Task, left: threading.Event) -> None:
        # The outcome can be here while the thread is still inside the signal that brought it.
        left.wait()
        self._tasks.discard(task)


class InlineWorker(QObject):
    """Runs work at once, in the caller's thread; the outcome still comes with the next turn of the loop."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._tasks: list[Task] = []

    def start(self, work: Work) -> Task:
        """Runs the work and tells its outcome once the event loop runs on."""
        task = Task()
        self._tasks.append(task)
        task.ended.connect(lambda: self._tasks.remove(task))
        task.run(work)
        return task

    def stop(self) -> None:
        """Nothing runs on."""
