"""A record's change in words: what was added, taken away, or changed from what to what."""

from __future__ import annotations

from typing import Any
from zoneinfo import ZoneInfo

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.dates import date_time_of_year
from hatchbook.desk.words.noop import QT_TRANSLATE_NOOP
from hatchbook.desk.words.numbers import NONE_SIGN
from hatchbook.journal import ChangeInfo

_KINDS = {
    "machine": QT_TRANSLATE_NOOP("Records", "Machine"),
    "channel": QT_TRANSLATE_NOOP("Records", "Channel"),
    "probe": QT_TRANSLATE_NOOP("Records", "Probe"),
    "probe_placement": QT_TRANSLATE_NOOP("Records", "Probe's place"),
    "probe_check": QT_TRANSLATE_NOOP("Records", "Probe's check"),
    "pen": QT_TRANSLATE_NOOP("Records", "Pen"),
    "pen_member": QT_TRANSLATE_NOOP("Records", "Bird"),
    "programme": QT_TRANSLATE_NOOP("Records", "Programme"),
    "batch": QT_TRANSLATE_NOOP("Records", "Batch"),
    "batch_phase": QT_TRANSLATE_NOOP("Records", "Phase"),
    "duty": QT_TRANSLATE_NOOP("Records", "Duty"),
    "egg": QT_TRANSLATE_NOOP("Records", "Egg"),
    "candling": QT_TRANSLATE_NOOP("Records", "Candling"),
    "finding": QT_TRANSLATE_NOOP("Records", "Finding"),
    "weighing": QT_TRANSLATE_NOOP("Records", "Weighing"),
    "egg_mass": QT_TRANSLATE_NOOP("Records", "Egg's mass"),
    "event": QT_TRANSLATE_NOOP("Records", "Event"),
    "hatching": QT_TRANSLATE_NOOP("Records", "Hatching"),
    "break_out": QT_TRANSLATE_NOOP("Records", "Opened egg"),
    "break_out_mark": QT_TRANSLATE_NOOP("Records", "Sign in an opened egg"),
    "removal": QT_TRANSLATE_NOOP("Records", "Egg taken out"),
    "past_batch": QT_TRANSLATE_NOOP("Records", "Past batch"),
    "reading": QT_TRANSLATE_NOOP("Records", "Reading"),
    "import_run": QT_TRANSLATE_NOOP("Records", "Import"),
    "setting": QT_TRANSLATE_NOOP("Records", "Setting"),
}
#: Fields that tell a breeder nothing.
_HIDDEN = frozenset(
    {
        "uid",
        "batch",
        "egg",
        "candling",
        "weighing",
        "break_out",
        "programme",
        "machine",
        "probe",
        "entered",
        "pen",
    }
)
#: What names a record when it is added or taken away, the first that it has.
_NAMING = ("number", "name", "label", "code", "kind", "mark", "result", "mass_g", "text", "file_name", "key")


def _tr(text: str) -> str:
    return QCoreApplication.translate("Records", text)


def kind_word(kind: str) -> str:
    """The word for a kind of record."""
    known = _KINDS.get(kind)
    return kind.replace("_", " ") if known is None else _tr(known)


def value_text(field: str, value: Any, zone: ZoneInfo) -> str:
    """A stored value as it is read: instants in the home zone, nothing as a dash."""
    if value is None or value == "":
        return NONE_SIGN
    if field == "at" or field.endswith("_at"):
        return date_time_of_year(int(value), zone)
    return str(value).replace("_", " ") if isinstance(value, str) else f"{value:g}"


def change_lines(change: ChangeInfo, zone: ZoneInfo) -> list[str]:
    """One line for a record added or taken away, one a field for a changed one."""
    kind = kind_word(change.kind)
    if change.before is None or change.after is None:
        row = change.after or change.before or {}
        name = next((value_text(field, row[field], zone) for field in _NAMING if row.get(field)), "")
        sentence = _tr("{kind} added: {name}") if change.before is None else _tr("{kind} taken away: {name}")
        return [sentence.format(kind=kind, name=name).rstrip(": ")]
    return [
        _tr("{kind}, {field}: {before} → {after}").format(
            kind=kind,
            field=field.replace("_", " "),
            before=value_text(field, change.before[field], zone),
            after=value_text(field, value, zone),
        )
        for field, value in change.after.items()
        if change.before.get(field) != value and field not in _HIDDEN
    ]
