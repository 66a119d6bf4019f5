"""Slow work on a file: reading, planning and storing on the worker, one at a time, each of which can be stopped."""

from __future__ import annotations

import threading
from collections.abc import Callable
from enum import StrEnum

from PySide6.QtCore import QObject, QTimer, Signal, Slot

from hatchbook.desk.context import DeskContext
from hatchbook.desk.tasks import Task
from hatchbook.journal import Change, ImportCancelledError, Journal

Progress = Callable[[float], None]
Asked = Callable[[], bool]

SHOW_AFTER_MS = 500
"""Work that is over sooner shows no progress."""


class Job(StrEnum):
    """What is going on."""

    READING = "reading"
    PLANNING = "planning"
    STORING = "storing"


class StopGate:
    """Stops an import until it is past stopping: what ``stop`` has promised to stop is never stored.

    The journal asks once more after it was told that everything is done; from then on it stores.
    """

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._stopped = self._done = self._closed = False

    def told(self, share: float) -> None:
        """The share done, 0 to 1."""
        with self._lock:
            self._done = share >= 1.0

    def asked(self) -> bool:
        """Whether to stop; asked by the worker."""
        with self._lock:
            self._closed = self._closed or (self._done and not self._stopped)
            return self._stopped

    def stop(self) -> bool:
        """Asks to stop; False where it is too late."""
        with self._lock:
            self._stopped = self._stopped or not self._closed
            return self._stopped


class FileWork(QObject):
    """The work on a file, one piece at a time; whatever is started ends what was going on before.

    Signals:
        was_read: what reading the file gave.
        planned: what planning its import anew gave.
        imported: the ``Change``; the views have not been told yet.
        stopped: nothing of the import was stored.
        failed: the exception that ended it.
        began: a ``Job`` was started.
        ended: nothing is going on any more.
        took_long: the ``Job`` goes on for half a second.
        progressed: the share done, 0 to 1.
    """

    was_read = Signal(object)
    planned = Signal(object)
    imported = Signal(object)
    stopped = Signal()
    failed = Signal(object)
    began = Signal(object)
    ended = Signal()
    took_long = Signal(object)
    progressed = Signal(float)

    def __init__(self, context: DeskContext, parent: QObject) -> None:
        super().__init__(parent)
        self._context = context
        self._task: Task | None = None
        self._job: Job | None = None
        self._gate = StopGate()
        self._patience = QTimer(self)
        self._patience.setSingleShot(True)
        self._patience.setInterval(SHOW_AFTER_MS)
        self._patience.timeout.connect(self._tell_long)

    @property
    def job(self) -> Job | None:
        """What is going on."""
        return self._job

    def stop(self) -> bool:
        """Stops what goes on; False where an import is past stopping."""
        if self._job is Job.STORING:
            return self._gate.stop()
        self._drop()
        self._end()
        return True

    # ---------------------------------------------------------------- starting

    def start_storing(self, store: Callable[[Journal, Progress, Asked], Change]) -> None:
        """Stores through a connection of the worker's own, in a way that ``stop`` can stop.

        Args:
            store: what stores; told where to tell the share done, and whom to ask whether to stop.
        """
        journal = self._context.door.journal
        gate = self._gate = StopGate()

        def work(task: Task) -> Change:
            def tell(share: float) -> None:
                gate.told(share)
                task.report(share)

            def asked() -> bool:
                if task.cancelled:
                    gate.stop()
                return gate.asked()

            with journal.second(read_only=False) as second:
                return store(second, tell, asked)

        self.start(Job.STORING, work)

    def start(self, job: Job, work: Callable[[Task], object]) -> None:
        """Starts a piece of work on the worker."""
        self._drop()
        self._job = job
        self._patience.start()
        self.began.emit(job)
        task = self._task = self._context.worker.start(work)
        task.progressed.connect(self._progress)
        task.finished.connect(self._finish)
        task.failed.connect(self._fail)

    def _drop(self) -> None:
        task, self._task = self._task, None
        if task is not None:
            task.progressed.disconnect(self._progress)
            task.cancel()

    def _end(self) -> None:
        self._patience.stop()
        self._task = self._job = None
        self.ended.emit()

    @Slot(float)
    def _progress(self, share: float) -> None:
        self.progressed.emit(share)

    @Slot(object)
    def _finish(self, result: object) -> None:
        job = self._job
        self._end()
        if job is Job.READING:
            self.was_read.emit(result)
        elif job is Job.PLANNING:
            self.planned.emit(result)
        else:
            self.imported.emit(result)

    @Slot(object)
    def _fail(self, error: BaseException) -> None:
        self._end()
        if isinstance(error, ImportCancelledError):
            self.stopped.emit()
        else:
            self.failed.emit(error)

    @Slot()
    def _tell_long(self) -> None:
        if self._job is not None:
            self.took_long.emit(self._job)
