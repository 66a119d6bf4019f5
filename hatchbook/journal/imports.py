"""Import runs: a logger's file brought in as one step."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import chain
from typing import Any, ClassVar

import numpy as np
from numpy.typing import NDArray

from hatchbook.journal.collection import Collection
from hatchbook.journal.history import Change
from hatchbook.journal.probes import Probe
from hatchbook.journal.table import new_uid

_CHUNK = 50_000
#: A statement of so many rows costs half of as many statements of one row.
_ROWS_A_STATEMENT = 100


class ImportCancelledError(Exception):
    """The breeder stopped an import; nothing of it was stored."""


@dataclass(frozen=True)
class ImportRun:
    """One file brought in: how it was read (JSON ``layout``) and what became of its lines.

    ``already``: readings that were there with the same values; ``differing``: instants that were there with
    other values, which were kept, and whose lines stand among the rejects.
    """

    KIND: ClassVar[str] = "import_run"
    KEY: ClassVar[tuple[str, ...]] = ("uid",)

    number: int
    probe: str
    at: int
    file_name: str
    digest: str
    layout: str
    lines: int
    stored: int
    already: int
    differing: int
    rejected: int
    first_at: int | None
    last_at: int | None
    uid: str = field(default_factory=new_uid)


@dataclass(frozen=True)
class ImportReject:
    """A line of a file that was not stored: its number, what it says and why."""

    KIND: ClassVar[str] = "import_reject"
    KEY: ClassVar[tuple[str, ...]] = ("import_run", "line", "reason")

    import_run: int
    line: int
    text: str
    reason: str


@dataclass(frozen=True)
class NewReadings:
    """The readings of a file: instants ascending and unique (int64), °C and % RH (float64, NaN: none).

    ``rejects``: (line number, text, reason) of every line that could not be read.
    """

    file_name: str
    digest: str
    layout: str
    lines: int
    at: NDArray[np.int64]
    temperature_c: NDArray[np.float64]
    humidity: NDArray[np.float64]
    rejects: Sequence[tuple[int, str, str]] = ()


@dataclass(frozen=True)
class Overlap:
    """How new readings meet those already there, as masks over the new ones: same values, other values."""

    same: NDArray[np.bool_]
    differing: NDArray[np.bool_]

    @property
    def new(self) -> NDArray[np.bool_]:
        """The readings whose instants are not there yet."""
        return ~(self.same | self.differing)


class Imports(Collection[ImportRun]):
    """The import runs of a journal."""

    record_class = ImportRun
    order = "number DESC"

    def rejects(self, run: ImportRun) -> list[ImportReject]:
        """The lines of a run that were not stored."""
        return self._store.records(ImportReject, "import_run = ?", (run.number,), "line")

    def overlap(self, probe: Probe, readings: NewReadings) -> Overlap:
        """Which of the new readings are in the journal already."""
        same = np.zeros(len(readings.at), dtype=np.bool_)
        differing = np.zeros(len(readings.at), dtype=np.bool_)
        if len(readings.at):
            rows = self._store.rows(
                "SELECT at, temperature_c, humidity FROM reading WHERE probe = ? AND at BETWEEN ? AND ?",
                (probe.number, int(readings.at[0]), int(readings.at[-1])),
            )
            if rows:
                there = np.array(rows, dtype=np.float64)
                _, new_index, old_index = np.intersect1d(
                    readings.at, there[:, 0].astype(np.int64), assume_unique=True, return_indices=True
                )
                equal = _equal(readings.temperature_c[new_index], there[old_index, 1]) & _equal(
                    readings.humidity[new_index], there[old_index, 2]
                )
                same[new_index[equal]] = True
                differing[new_index[~equal]] = True
        return Overlap(same, differing)

    def bring_in(
        self,
        probe: Probe,
        readings: NewReadings,
        at: int,
        *,
        progress: Callable[[float], None] | None = None,
        cancelled: Callable[[], bool] | None = None,
    ) -> Change:
        """Stores the readings of a file as one step: all that are new, or nothing.

        Args:
            probe: whose readings they are.
            readings: what the file holds.
            at: the instant of the import.
            progress: told the share done, 0 to 1.
            cancelled: asked between portions.

        Raises:
            ImportCancelledError: ``cancelled`` said so; nothing is stored.
            RecordRefusedError: a value is out of range; nothing is stored.
            ValueError: the instants do not ascend.
        """
        if np.any(np.diff(readings.at) <= 0):
            raise ValueError("the instants of an import must ascend")
        with self._history.step("readings_imported", file=readings.file_name, probe=probe.name) as step:
            overlap = self.overlap(probe, readings)
            new = overlap.new
            number = self._next_number()
            stored = int(new.sum())
            instants = readings.at[new]
            differing = [
                (0, str(at_s), "differs_from_journal") for at_s in readings.at[overlap.differing].tolist()
            ]
            run = ImportRun(
                number=number,
                probe=probe.uid,
                at=at,
                file_name=readings.file_name,
                digest=readings.digest,
                layout=readings.layout,
                lines=readings.lines,
                stored=stored,
                already=int(overlap.same.sum()),
                differing=len(differing),
                rejected=len(readings.rejects),
                first_at=int(instants[0]) if stored else None,
                last_at=int(instants[-1]) if stored else None,
            )
            step.add(run)
            step.note_bulk(number)
            step.details["stored"] = stored
            self._insert(probe, number, readings, new, progress, cancelled)
            self._store.write_many(
                "INSERT INTO import_reject (import_run, line, text, reason) VALUES (?, ?, ?, ?)",
                ((number, *reject) for reject in [*readings.rejects, *_numbered(differing)]),
            )
        return step.done

    def take_back(self, run: ImportRun) -> Change:
        """Takes an import out again as one step, also when other steps came after it.

        All readings that came with it go, those corrected since as well; undo brings them back as they were.

        Raises:
            RecordMissingError: there is no such run.
        """
        with self._history.step("import_taken_back", **self.named(run)) as step:
            step.remove_bulk(run.number)
            step.remove(run)
        return step.done

    def remove(self, record: ImportRun) -> Change:
        """Takes the import out again; see ``take_back``."""
        return self.take_back(record)

    def _next_number(self) -> int:
        # Also past the runs that were undone: their numbers come back with redo.
        row = self._store.one(
            "SELECT max((SELECT coalesce(max(number), 0) FROM import_run), "
            "(SELECT coalesce(max(CAST(record AS INTEGER)), 0) FROM history_change "
            "WHERE kind = 'import_rows')) + 1"
        )
        return int(row[0]) if row else 1

    def _insert(
        self,
        probe: Probe,
        number: int,
        readings: NewReadings,
        new: NDArray[np.bool_],
        progress: Callable[[float], None] | None,
        cancelled: Callable[[], bool] | None,
    ) -> None:
        where = np.flatnonzero(new)
        for start in range(0, len(where), _CHUNK):
            if cancelled is not None and cancelled():
                raise ImportCancelledError
            chunk = where[start : start + _CHUNK]
            triples = zip(
                readings.at[chunk].tolist(),
                # NaN is stored as NULL by SQLite.
                readings.temperature_c[chunk].tolist(),
                readings.humidity[chunk].tolist(),
                strict=True,
            )
            self._insert_rows(probe.number, number, list(chain.from_iterable(triples)))
            if progress is not None:
                progress((start + len(chunk)) / len(where))
        if cancelled is not None and cancelled():
            raise ImportCancelledError

    def _insert_rows(self, probe: int, number: int, values: list[int | float]) -> None:
        """Stores readings from instant, temperature and humidity in turn."""
        row = f"({probe:d}, ?, ?, ?, {number:d})"
        for rows in (_ROWS_A_STATEMENT, 1):
            width = 3 * rows
            whole = len(values) // width * width
            self._store.write_many(
                "INSERT INTO reading (probe, at, temperature_c, humidity, import_run) "
                f"VALUES {', '.join([row] * rows)}",
                (values[start : start + width] for start in range(0, whole, width)),
            )
            values = values[whole:]

    def named(self, record: ImportRun) -> dict[str, Any]:
        """The file's name."""
        return {"file": record.file_name}


def _equal(new: NDArray[np.float64], old: NDArray[np.float64]) -> NDArray[np.bool_]:
    equal: NDArray[np.bool_] = (new == old) | (np.isnan(new) & np.isnan(old))
    return equal


def _numbered(rows: Sequence[tuple[int, str, str]]) -> Iterator[tuple[int, str, str]]:
    """Rows without a line of their own, numbered downwards from −1 so that each stays apart."""
    for position, (_, text, reason) in enumerate(rows, start=1):
        yield -position, text, reason
