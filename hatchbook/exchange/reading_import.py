"""A logger's file on its way into the journal: read, planned, and brought in as one step."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Iterator, Sequence
from dataclasses import asdict, dataclass
from functools import cached_property
from pathlib import Path
from zoneinfo import ZoneInfo

import numpy as np

from hatchbook.exchange.import_shares import BatchShare, batch_shares
from hatchbook.exchange.left_out import LeftOut, LeftOutLine, left_out_of, unreadable_lines
from hatchbook.exchange.logger_file import (
    Cancelled,
    Gap,
    Layout,
    LayoutHints,
    LoggerFileError,
    LoggerFileProblem,
    LoggerTable,
    read_logger_file,
)
from hatchbook.exchange.loggers.line_parsing import TextLines
from hatchbook.exchange.loggers.rejects import shortened
from hatchbook.exchange.loggers.text_decoding import read_text
from hatchbook.journal import Change, Journal, NewReadings, Overlap, Probe, ProbePlacement
from hatchbook.journal.reject_codes import DIFFERS
from hatchbook.trade.codes import ProbePlace

_READ = 0.9  # share of the work of reading; the rest is the digest
_PIECE_BYTES = 1 << 20


@dataclass(frozen=True)
class NewProbe:
    """A probe that the import brings along: it hangs in a machine (uid; None: in the room)."""

    name: str
    machine: str | None


Target = Probe | NewProbe
"""Whose readings a file holds."""


@dataclass(frozen=True, eq=False)
class ReadFile:
    """A file that was read: where it lies, its SHA-256 in hexadecimal, the zone of its times, what it holds."""

    path: Path
    digest: str
    zone: str
    table: LoggerTable

    @cached_property
    def _lines(self) -> TextLines:
        return TextLines(read_text(self.path, self.table.layout.encoding).data)

    def line_text(self, number: int) -> str:
        """What a line says, by its number counted from 1; its first 300 letters. Reads the file again.

        Raises:
            LoggerFileError: it cannot be opened any more.
        """
        return shortened(self._lines.text(number - 1)) if number <= len(self._lines) else ""

    def new_readings(self) -> NewReadings:
        """What the journal takes."""
        table = self.table
        return NewReadings(
            file_name=self.path.name,
            digest=self.digest,
            layout=layout_json(table.layout, self.zone),
            lines=table.lines,
            at=table.at,
            temperature_c=table.temperature_c,
            humidity=table.humidity,
            rejects=[line.coded() for line in unreadable_lines(table)],
            line_numbers=table.line_numbers,
        )


@dataclass(frozen=True)
class EarlierImport:
    """An import of the very same file: when it was, and into which probe."""

    at: int
    probe: str


@dataclass(frozen=True, eq=False)
class ImportPlan:
    """What an import would do.

    ``lines``: all but header, preamble and blank ones; ``readings`` of them can be read. ``new``, ``already`` (the
    journal has the same) and ``differing`` (it has others, and keeps them) add up to ``readings``. ``left_out``:
    the lines that do not come in as they stand. ``batches``: which of the readings count for which batch, and
    ``outside`` those for none; readings that are in the journal already are counted with the others.
    ``future``: readings later than now. ``earlier``: imports of the very same file, newest first. ``step_s``: the
    usual step in seconds, None with fewer than two readings.
    """

    target: Target
    lines: int
    readings: int
    new: int
    already: int
    differing: int
    left_out: LeftOut
    start_at: int | None
    end_at: int | None
    step_s: float | None
    gaps: tuple[Gap, ...]
    batches: tuple[BatchShare, ...]
    outside: int
    future: int
    earlier: tuple[EarlierImport, ...]


def layout_json(layout: Layout, zone: str) -> str:
    """How a file was read, as the journal keeps it: the fields of ``Layout`` and the home zone."""
    return json.dumps({**asdict(layout), "zone": zone})


def read_readings(
    path: Path,
    zone: ZoneInfo,
    hints: LayoutHints | None = None,
    progress: Callable[[float], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> ReadFile:
    """Reads a logger's file, in a way that can be brought in.

    Args:
        path: the file.
        zone: the zone of times that are written without an offset.
        hints: what was chosen of its layout; the rest is guessed.
        progress: told the share done, 0 to 1.
        cancelled: asked between portions.

    Raises:
        LoggerFileError: it cannot be read.
        Cancelled: ``cancelled`` said so.
    """

    def tell(share: float) -> None:
        if progress is not None:
            progress(share)

    table = read_logger_file(path, None, zone, lambda share: tell(_READ * share), cancelled, hints=hints)
    digest = _digest(path, cancelled)
    tell(1.0)
    return ReadFile(path, digest, zone.key, table)


def _digest(path: Path, cancelled: Callable[[], bool] | None) -> str:
    digest = hashlib.sha256()
    try:
        with path.open("rb") as file:
            while piece := file.read(_PIECE_BYTES):
                if cancelled is not None and cancelled():
                    raise Cancelled
                digest.update(piece)
    except OSError as error:
        raise LoggerFileError(LoggerFileProblem.CANNOT_BE_OPENED, error.strerror or str(error)) from error
    return digest.hexdigest()


def plan_import(journal: Journal, target: Target, file: ReadFile, now: int | None = None) -> ImportPlan:
    """What bringing in a file would do; nothing is changed.

    Args:
        journal: where it would go.
        target: whose readings they are.
        file: what was read.
        now: UTC seconds; later readings are counted as future. None: none is.
    """
    table = file.table
    overlap = _overlap(journal, target, file)
    shares = target_shares(journal, target, file, now)
    inside = np.zeros(table.at.size, dtype=np.bool_)
    for share in shares:
        inside |= share.readings
    return ImportPlan(
        target=target,
        lines=table.lines - table.header - table.preamble - table.blank,
        readings=table.stored,
        new=int(overlap.new.sum()),
        already=int(overlap.same.sum()),
        differing=int(overlap.differing.sum()),
        left_out=left_out_of(table, _differing(file, overlap)),
        start_at=int(table.at[0]) if table.stored else None,
        end_at=int(table.at[-1]) if table.stored else None,
        step_s=table.spacing_s,
        gaps=table.gaps,
        batches=shares,
        outside=int((~inside).sum()),
        future=0 if now is None else int((table.at > now).sum()),
        earlier=tuple(
            EarlierImport(run.at, journal.probes.get(run.probe).name)
            for run in journal.imports.all()
            if run.digest == file.digest
        ),
    )


def target_shares(
    journal: Journal, target: Target, file: ReadFile, now: int | None = None
) -> tuple[BatchShare, ...]:
    """The batches for which readings of the file would count, if they are this target's."""
    if isinstance(target, Probe):
        return batch_shares(journal, target.uid, journal.probes.placements(target.uid), file.table.at, now)
    return batch_shares(journal, None, [_placement("", target, file)], file.table.at, now)


def suggest_target(
    journal: Journal, targets: Sequence[Target], file: ReadFile, batch: str | None = None
) -> Target:
    """Whose readings a file most likely holds.

    The probe into which the very file went before; else one with readings for the given batch, then for any batch;
    a known probe before a new one; one into which a file of this name went; the one with the most readings for a
    batch; the first.

    Args:
        journal: where it would go.
        targets: what there is to choose from, at least one.
        file: what was read.
        batch: the uid of the batch that is being looked at.
    """
    runs = journal.imports.all()

    def score(target: Target) -> tuple[bool, bool, bool, bool, bool, int, int]:
        known = [run for run in runs if isinstance(target, Probe) and run.probe == target.uid]
        shares = target_shares(journal, target, file)
        of_batch = sum(share.count for share in shares if share.batch.uid == batch)
        of_any = sum(share.count for share in shares)
        return (
            any(run.digest == file.digest for run in known),
            of_batch > 0,
            of_any > 0,
            isinstance(target, Probe),
            any(run.file_name == file.path.name for run in known),
            of_batch,
            of_any,
        )

    # The first of equals.
    return max(targets, key=score)


def run_import(
    journal: Journal,
    target: Target,
    file: ReadFile,
    at: int,
    progress: Callable[[float], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> Change:
    """Brings a file in as one step; a new probe comes with it.

    What the journal has already is passed over; where it has other values it keeps them, and the line is noted
    among those left out.

    Args:
        journal: where it goes, open for writing.
        target: whose readings they are.
        file: what was read.
        at: the present instant, UTC seconds.
        progress: told the share done, 0 to 1.
        cancelled: asked between portions.

    Raises:
        ImportCancelledError: ``cancelled`` said so; nothing is stored.
        JournalError: as it says; nothing is stored.
        LoggerFileError: a line that the journal contradicts could not be read again; nothing is stored.
    """
    if isinstance(target, Probe):
        probe, placement = target, None
    else:
        probe = Probe(target.name, journal.probes.next_number())
        placement = _placement(probe.uid, target, file)
    return journal.imports.bring_in(
        probe,
        file.new_readings(),
        at,
        placement=placement,
        line_text=file.line_text,
        progress=progress,
        cancelled=cancelled,
    )


def _placement(probe: str, target: NewProbe, file: ReadFile) -> ProbePlacement:
    """A new probe hung in its place from the first reading on."""
    place = ProbePlace.ROOM if target.machine is None else ProbePlace.MACHINE
    from_at = int(file.table.at[0]) if file.table.stored else 0
    return ProbePlacement(probe, place, target.machine, from_at)


def _overlap(journal: Journal, target: Target, file: ReadFile) -> Overlap:
    readings = file.new_readings()
    if isinstance(target, Probe):
        return journal.imports.overlap(target, readings)
    none, nothing = np.zeros(readings.at.size, dtype=np.bool_), np.full(readings.at.size, np.nan)
    return Overlap(none, none, nothing, nothing)


def _differing(file: ReadFile, overlap: Overlap) -> Iterator[LeftOutLine]:
    """The lines that the journal contradicts, with what it keeps."""
    for position in np.flatnonzero(overlap.differing).tolist():
        number = int(file.table.line_numbers[position])
        kept = {
            "temperature_c": float(overlap.kept_temperature_c[position]),
            "humidity": float(overlap.kept_humidity[position]),
        }
        known = {name: value for name, value in kept.items() if value == value}
        yield LeftOutLine(number, file.line_text(number), DIFFERS, known)
