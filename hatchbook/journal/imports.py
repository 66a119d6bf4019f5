"""Import runs: a logger's file brought in as one step."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Any, ClassVar

import numpy as np
from numpy.typing import NDArray

from hatchbook.journal.collection import Collection
from hatchbook.journal.history import Change
from hatchbook.journal.probes import Probe, ProbePlacement
from hatchbook.journal.reading_rows import insert_readings
from hatchbook.journal.reject_codes import DIFFERS, coded_reason
from hatchbook.journal.table import new_uid

_CHUNK = 50_000


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
    """A line of a file that was not stored: its number, what it says and why (see ``reject_codes``)."""

    KIND: ClassVar[str] = "import_reject"
    KEY: ClassVar[tuple[str, ...]] = ("import_run", "line", "reason")

    import_run: int
    line: int
    text: str
    reason: str


@dataclass(frozen=True)
class NewReadings:
    """The readings of a file: instants ascending and unique (int64), °C and % RH (float64, NaN: none).

    ``rejects``: (line number, text, reason) of every line that could not be read. ``line_numbers``: the line of
    each reading, counted from 1 (int64), where it is known.
    """

    file_name: str
    digest: str
    layout: str
    lines: int
    at: NDArray[np.int64]
    temperature_c: NDArray[np.float64]
    humidity: NDArray[np.float64]
    rejects: Sequence[tuple[int, str, str]] = ()
    line_numbers: NDArray[np.int64] | None = None


@dataclass(frozen=True)
class Overlap:
    """How new readings meet those already there, as masks over the new ones: same values, other values.

    ``kept_temperature_c`` and ``kept_humidity`` hold what is there, NaN where nothing is.
    """

    same: NDArray[np.bool_]
    differing: NDArray[np.bool_]
    kept_temperature_c: NDArray[np.float64]
    kept_humidity: NDArray[np.float64]

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
        kept = np.full((2, len(readings.at)), np.nan)
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
                kept[:, new_index] = there[old_index, 1:].T
        return Overlap(same, differing, kept[0], kept[1])

    def bring_in(
        self,
        probe: Probe,
        readings: NewReadings,
        at: int,
        *,
        placement: ProbePlacement | None = None,
        line_text: Callable[[int], str] | None = None,
        progress: Callable[[float], None] | None = None,
        cancelled: Callable[[], bool] | None = None,
    ) -> Change:
        """Stores the readings of a file as one step: all that are new, or nothing.

        Args:
            probe: whose readings they are.
            readings: what the file holds.
            at: the instant of the import.
            placement: where the probe hangs if it is new; both are stored in the same step.
            line_text: what a line of the file says, by its number; asked for lines that the journal contradicts.
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
            if placement is not None:
                step.add(probe)
                step.add(placement)
            overlap = self.overlap(probe, readings)
            new = overlap.new
            number = self._next_number()
            stored = int(new.sum())
            instants = readings.at[new]
            differing = _differing(readings, overlap, line_text)
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
                ((number, *reject) for reject in [*readings.rejects, *differing]),
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
            insert_readings(
                self._store,
                probe.number,
                number,
                readings.at[chunk],
                readings.temperature_c[chunk],
                readings.humidity[chunk],
            )
            if progress is not None:
                progress((start + len(chunk)) / len(where))
        if cancelled is not None and cancelled():
            raise ImportCancelledError

    def named(self, record: ImportRun) -> dict[str, Any]:
        """The file's name."""
        return {"file": record.file_name}


def _equal(new: NDArray[np.float64], old: NDArray[np.float64]) -> NDArray[np.bool_]:
    equal: NDArray[np.bool_] = (new == old) | (np.isnan(new) & np.isnan(old))
    return equal


def _differing(
    readings: NewReadings, overlap: Overlap, line_text: Callable[[int], str] | None
) -> list[tuple[int, str, str]]:
    """Line, text and reason of what the journal contradicts, with what it keeps.

    Without line numbers they are numbered downwards from −1, so that each stays apart, and say their instant.
    """
    found: list[tuple[int, str, str]] = []
    for position in np.flatnonzero(overlap.differing).tolist():
        line = -1 - len(found) if readings.line_numbers is None else int(readings.line_numbers[position])
        text = line_text(line) if line_text is not None and line > 0 else str(readings.at[position])
        reason = coded_reason(
            DIFFERS,
            temperature_c=float(overlap.kept_temperature_c[position]),
            humidity=float(overlap.kept_humidity[position]),
        )
        found.append((line, text, reason))
    return found
