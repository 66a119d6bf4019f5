"""The slow part of bringing in a table: reading, planning and storing on the worker, one at a time."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QLocale

from hatchbook.desk.importing.file_work import FileWork, Job
from hatchbook.desk.tasks import Task
from hatchbook.desk.words.codes import species_word
from hatchbook.exchange.date_example import DateExample
from hatchbook.exchange.past_seasons.bringing_in import PastPlan, import_past_batches, plan_past_import
from hatchbook.exchange.past_seasons.known_words import known_words
from hatchbook.exchange.past_seasons.open_questions import open_date, unknown_species
from hatchbook.exchange.past_seasons.reading import PastHints, PastSeasonsTable, read_past_seasons
from hatchbook.trade.programmes import load_species


@dataclass(frozen=True)
class PastOutcome:
    """A table that was read, what importing it would do, and what it leaves open."""

    table: PastSeasonsTable
    plan: PastPlan
    open_date: DateExample | None
    unknown_species: tuple[tuple[str, int], ...]


class PastWork(FileWork):
    """Reads a table, plans its import and stores it.

    ``was_read`` tells a ``PastOutcome``, ``planned`` a ``PastPlan``.
    """

    def read(self, path: Path, hints: PastHints, *, new_labels: bool) -> None:
        """Reads a file and plans its import."""
        journal, today = self._context.door.journal, self._context.today()
        # Words are the window's to translate.
        spoken = {species_word(one.code): one.code for one in load_species()}
        month_first = _month_comes_first()

        def work(task: Task) -> PastOutcome:
            with journal.second() as second:
                table = read_past_seasons(
                    path,
                    today,
                    season_first_month=second.settings.season_first_month,
                    hints=hints,
                    words=known_words(second, spoken),
                    month_first_usual=month_first,
                    progress=task.report,
                    cancelled=lambda: task.cancelled,
                )
                plan = plan_past_import(second, table, new_labels=new_labels)
            return PastOutcome(table, plan, open_date(table, today.year), unknown_species(table))

        self.start(Job.READING, work)

    def plan(self, table: PastSeasonsTable, *, new_labels: bool) -> None:
        """Plans the import of a table that was read, with other labels."""
        journal = self._context.door.journal

        def work(_task: Task) -> PastPlan:
            with journal.second() as second:
                return plan_past_import(second, table, new_labels=new_labels)

        self.start(Job.PLANNING, work)

    def store(self, table: PastSeasonsTable, *, new_labels: bool) -> None:
        """Brings a table in."""
        self.start_storing(
            lambda journal, tell, asked: import_past_batches(
                journal, table, new_labels=new_labels, progress=tell, cancelled=asked
            )
        )


def _month_comes_first() -> bool:
    pattern = QLocale().dateFormat(QLocale.FormatType.ShortFormat)
    return "M" in pattern and "d" in pattern and pattern.index("M") < pattern.index("d")
