"""What went wrong, as plain sentences."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.noop import QT_TRANSLATE_NOOP
from hatchbook.journal import JournalError

_SENTENCES = {
    "exists": QT_TRANSLATE_NOOP("Errors", "{file} is there already. Choose another name."),
    "missing": QT_TRANSLATE_NOOP("Errors", "There is no journal {file}."),
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
    "disk_full": QT_TRANSLATE_NOOP("Errors", "The disk is full. Nothing of this entry was stored in {file}."),
    "disk": QT_TRANSLATE_NOOP("Errors", "The disk refused to read or write {file}. Nothing was stored."),
    "refused": QT_TRANSLATE_NOOP(
        "Errors",
        "The journal does not accept this entry: a value is out of range, or other entries refer to it.",
    ),
    "no_record": QT_TRANSLATE_NOOP("Errors", "That entry is no longer in the journal."),
    "nothing_to_undo": QT_TRANSLATE_NOOP("Errors", "There is nothing to take back."),
}


def error_sentence(error: BaseException) -> str:
    """The sentence for an error: a journal's by its code, any other by what it says itself."""
    if isinstance(error, JournalError):
        known = _SENTENCES.get(error.code)
        path = error.fields.get("path")
        if known is not None and (path is not None or "{file}" not in known):
            name = getattr(path, "name", "")
            return QCoreApplication.translate("Errors", known).format(file=name)
    return str(error)
