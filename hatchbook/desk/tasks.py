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

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._cancelled = threading.Event()

    def cancel(self) -> None:
        """Asks the work to stop; nothing is told afterwards."""
        self._cancelled.set()

    @property
    def cancelled(self) -> bool:
        """Whether it was asked to stop."""
        return self._cancelled.is_set()

    @Slot(object, object)
    def deliver(self, result: object, error: object) -> None:
        """Tells the outcome in the window's thread."""
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


class _Courier(QObject):
    """Carries the outcome over to the thread that the task lives in."""

    arrived = Signal(object, object)


class ThreadWorker(QObject):
    """Runs one piece of work at a time on a thread of its own."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._pool = QThreadPool(self)
        self._pool.setMaxThreadCount(1)
        self._tasks: set[Task] = set()

    def start(self, work: Work) -> Task:
        """Queues work; it gets its task to tell progress and to ask whether it is cancelled."""
        task = Task(self)
        courier = _Courier(task)
        courier.arrived.connect(task.deliver, type=_QUEUED)
        self._tasks.add(task)
        task.ended.connect(lambda: self._forget(task))

        def run() -> None:
            if task.cancelled:
                courier.arrived.emit(None, None)
                return
            try:
                result = work(task)
            except Exception as error:  # noqa: BLE001  told to the window, see Task.failed
                courier.arrived.emit(None, error)
            else:
                courier.arrived.emit(result, None)

        self._pool.start(run)
        return task

    def stop(self) -> None:
        """Cancels what runs and waits for its end."""
        for task in list(self._tasks):
            task.cancel()
        self._pool.waitForDone()

    def _forget(self, task: Task) -> None:
        self._tasks.discard(task)
        task.deleteLater()


class InlineWorker(QObject):
    """Runs work at once, in the caller's thread; the outcome still comes with the next turn of the loop."""

    def start(self, work: Work) -> Task:
        """Runs the work and tells its outcome once the event loop runs on."""
        task = Task(self)
        courier = _Courier(task)
        courier.arrived.connect(task.deliver, type=_QUEUED)
        try:
            result = work(task)
        except Exception as error:  # noqa: BLE001  told to the window, see Task.failed
            courier.arrived.emit(None, error)
        else:
            courier.arrived.emit(result, None)
        return task

    def stop(self) -> None:
        """Nothing runs on."""
