"""The backup files of a journal: where they are and what their names tell."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

_ENDING = ".hatchbook"
_MINUTE = "%Y-%m-%d %H%M"

#: Reasons that stand in a file's name; backups made for them are not thinned out.
NAMED_REASONS = ("before_migration", "before_restore")
_NAME = re.compile(
    r" (\d{4}-\d\d-\d\d \d{4})(?: \((\d+)\))?(?: (" + "|".join(NAMED_REASONS) + r"))?" + re.escape(_ENDING)
)


@dataclass(frozen=True)
class BackupFile:
    """A backup as its name tells it: its instant to the minute (UTC seconds), and why it was made.

    ``reason`` is one of ``NAMED_REASONS``, or None for the others. Those of one minute are counted from 1.
    """

    path: Path
    at: int
    reason: str | None
    ordinal: int


def folder_of(path: Path) -> Path:
    """Where the backups of a journal are."""
    return path.with_name(f"{path.stem} backups")


def files(path: Path) -> list[BackupFile]:
    """The backups of a journal by their names, oldest first; without opening them.

    Raises:
        OSError: the folder is there and cannot be read.
    """
    folder = folder_of(path)
    if not folder.is_dir():
        return []
    found = [backup for file in folder.iterdir() if (backup := _read(path, file)) is not None]
    return sorted(found, key=lambda backup: (backup.at, backup.ordinal))


def free_name(path: Path, now: int, reason: str, present: Sequence[BackupFile]) -> Path:
    """The name for a new backup."""
    minute = now - now % 60
    ordinal = 1 + max((backup.ordinal for backup in present if backup.at == minute), default=0)
    count = f" ({ordinal})" if ordinal > 1 else ""
    tail = f" {reason}" if reason in NAMED_REASONS else ""
    moment = datetime.fromtimestamp(minute, UTC).strftime(_MINUTE)
    return folder_of(path) / f"{path.stem} {moment}{count}{tail}{_ENDING}"


def _read(path: Path, file: Path) -> BackupFile | None:
    """None for a file that is no backup of this journal."""
    match = _NAME.fullmatch(file.name.removeprefix(path.stem)) if file.name.startswith(path.stem) else None
    if match is None or not file.is_file():
        return None
    try:
        moment = datetime.strptime(match[1], _MINUTE).replace(tzinfo=UTC)
    except ValueError:  # looks like a time and is none
        return None
    return BackupFile(file, int(moment.timestamp()), match[3], int(match[2] or 1))
