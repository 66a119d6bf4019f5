"""What went wrong, as plain sentences."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.dates import time_of_day, weekday_of_year
from hatchbook.desk.words.noop import QT_TRANSLATE_NOOP
from hatchbook.journal import JournalError
from hatchbook.trade.instants import SkippedHourError

_SENTENCES = {
    "exists": QT_TRANSLATE_NOOP("Errors", "{file} is there already. Choose another name."),
    "missing": QT_TRANSLATE_NOOP("Errors", "There is no journal {file}."),
    "no_folder": QT_TRANSLATE_NOOP("Errors", "There is no folder {folder}."),
    "moved": QT_TRANSLATE_NOOP(
        "Errors",
        "{file} was moved, deleted or replaced while it was open. It takes no more entries; "
        "what was stored before comes into its latest backup when it is closed.",
    ),
    "foreign": QT_TRANSLATE_NOOP("Errors", "{file} is not a Hatchbook journal. It has been left untouched."),
    "newer": QT_TRANSLATE_NOOP(
        "Errors",
        "{file} was written by a newer Hatchbook. It has been left untouched; update Hatchbook to open it.",
    ),
    "busy": QT_TRANSLATE_NOOP(
        "Errors", "{file} is open in another window or program. Close it there, then try again."
    ),
    "damaged": QT_TRANSLATE_NOOP("Errors", "{file} is damaged. It has been left as it is."),
    "read_only": QT_TRANSLATE_NOOP("Errors", "{file} cannot be written here. Nothing was stored."),
    "unreadable": QT_TRANSLATE_NOOP("Errors", "{file} may not be read here. It has been left untouched."),
    "needs_writing": QT_TRANSLATE_NOOP(
        "Errors",
        "{file} was not closed properly, or comes from an older Hatchbook: "
        "it has to be opened once where it can be written.",
    ),
    "disk_full": QT_TRANSLATE_NOOP("Errors", "The disk is full. Nothing of this entry was stored in {file}."),
    "disk": QT_TRANSLATE_NOOP("Errors", "The disk refused to read or write {file}. Nothing was stored."),
    "refused": QT_TRANSLATE_NOOP(
        "Errors",
        "The journal does not accept this entry: a value is out of range, or other entries refer to it.",
    ),
    "no_record": QT_TRANSLATE_NOOP("Errors", "That entry is no longer in the journal."),
    "backup": QT_TRANSLATE_NOOP("Errors", "No backup of {file} could be made."),
    "backup_made": QT_TRANSLATE_NOOP(
        "Errors", "{file} is backed up, but older backups could not be removed."
    ),
    "backup_disk_full": QT_TRANSLATE_NOOP("Errors", "No backup of {file} could be made: the disk is full."),
    "backup_read_only": QT_TRANSLATE_NOOP(
        "Errors", "No backup of {file} could be made: the folder of the backups cannot be written."
    ),
    "backup_disk": QT_TRANSLATE_NOOP(
        "Errors", "No backup of {file} could be made: the disk refused to read or write."
    ),
    "backup_busy": QT_TRANSLATE_NOOP(
        "Errors", "No backup of {file} could be made: another program is using the journal."
    ),
    "backup_damaged": QT_TRANSLATE_NOOP(
        "Errors",
        "No backup of {file} could be made: the copy is not sound, so the journal itself may be damaged. "
        "Earlier backups are kept.",
    ),
    "nothing_to_undo": QT_TRANSLATE_NOOP("Errors", "There is nothing to take back."),
}


def error_sentence(error: BaseException) -> str:
    """The sentence for an error: a journal's by its code, a time's by its own, any other by what it says itself."""
    if isinstance(error, SkippedHourError):
        return QCoreApplication.translate(
            "Errors", "There was no {time} on {date}: the clocks were put forward over it."
        ).format(time=time_of_day(error.wall), date=weekday_of_year(error.wall.date()))
    if isinstance(error, JournalError):
        known = _SENTENCES.get(_code(error))
        path = error.fields.get("path")
        if known is not None and (isinstance(path, Path) or "{" not in known):
            name, folder = (path.name, str(path.parent)) if isinstance(path, Path) else ("", "")
            return QCoreApplication.translate("Errors", known).format(file=name, folder=folder)
    return str(error)


def _code(error: JournalError) -> str:
    """The key of the sentence: that of the kind, closer where the fields tell more."""
    path = error.fields.get("path")
    if error.code == "missing" and isinstance(path, Path) and not path.parent.is_dir():
        return "no_folder"
    if error.code == "backup":
        closer = "backup_made" if error.fields.get("made") else f"backup_{error.fields.get('cause')}"
        return closer if closer in _SENTENCES else "backup"
    return error.code
