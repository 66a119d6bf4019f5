"""The slow part of an import: reading, planning and storing on the worker, one at a time."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from hatchbook.desk.importing.file_work import FileWork, Job
from hatchbook.desk.tasks import Task
from hatchbook.exchange.logger_file import LayoutHints
from hatchbook.exchange.reading_import import (
    ImportPlan,
    ReadFile,
    Target,
    plan_import,
    read_readings,
    run_import,
    suggest_target,
)


@dataclass(frozen=True, eq=False)
class ReadOutcome:
    """A file that was read, and what importing it would do."""

    file: ReadFile
    plan: ImportPlan


class ImportWork(FileWork):
    """Reads a file, plans its import and stores it.

    ``was_read`` tells a ``ReadOutcome``, ``planned`` an ``ImportPlan`` for another target.
    """

    def read(self, path: Path, hints: LayoutHints, targets: Sequence[Target], chosen: Target | None) -> None:
        """Reads a file and plans its import for the chosen target, or the likeliest."""
        journal, zone, now = self._context.door.journal, self._context.zone, self._context.now()
        batch, choices = self._context.batch, tuple(targets)

        def work(task: Task) -> ReadOutcome:
            file = read_readings(path, zone, hints, task.report, lambda: task.cancelled)
            with journal.second() as second:
                target = chosen or suggest_target(second, choices, file, batch)
                return ReadOutcome(file, plan_import(second, target, file, now))

        self.start(Job.READING, work)

    def plan(self, file: ReadFile, target: Target) -> None:
        """Plans the import of a file that was read for another target."""
        journal, now = self._context.door.journal, self._context.now()

        def work(_task: Task) -> ImportPlan:
            with journal.second() as second:
                return plan_import(second, target, file, now)

        self.start(Job.PLANNING, work)

    def store(self, file: ReadFile, target: Target) -> None:
        """Brings a file in."""
        now = self._context.now()
        self.start_storing(lambda journal, tell, asked: run_import(journal, target, file, now, tell, asked))
