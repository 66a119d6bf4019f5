"""Filling a new journal with records that a program made up, at once and without lines of history.

Only the demo does so. What a breeder enters goes through ``Journal.step``, and can be undone.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from operator import attrgetter
from typing import Any

from hatchbook.journal.journal import Journal
from hatchbook.journal.reading_rows import insert_readings
from hatchbook.journal.readings import ReadingSeries
from hatchbook.journal.table import Record, columns, quoted


@dataclass(frozen=True)
class FilledReadings:
    """Readings of one probe, and the number of the import run that they came with, if any."""

    series: ReadingSeries
    import_run: int | None = None


def fill(journal: Journal, records: Iterable[Record], readings: Iterable[FilledReadings] = ()) -> None:
    """Stores records of any kind, in any order, and readings, in one transaction.

    Raises:
        RuntimeError: something was entered before, as history tells.
        RecordRefusedError: a record cannot be, or refers to one that is not there; nothing is stored.
    """
    store = journal._store
    by_class: dict[type[Any], list[Record]] = {}
    for record in records:
        by_class.setdefault(type(record), []).append(record)
    with store.transaction():
        if store.one("SELECT 1 FROM history_step") is not None:
            raise RuntimeError("only a journal in which nothing was entered is filled")
        # References are looked at when all is there.
        store.write("PRAGMA defer_foreign_keys = ON")
        for record_class, of_class in by_class.items():
            names = columns(record_class)
            listed = ", ".join(quoted(name) for name in names)
            marks = ", ".join("?" * len(names))
            sql = f"INSERT INTO {record_class.KIND} ({listed}) VALUES ({marks})"
            store.write_many(sql, map(attrgetter(*names), of_class))
        for part in readings:
            series = part.series
            insert_readings(
                store, series.probe, part.import_run, series.at, series.temperature_c, series.humidity
            )
