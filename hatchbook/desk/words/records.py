"""A record's change in words: what was added, taken away, or changed from what to what."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping, Sequence
from typing import Any
from zoneinfo import ZoneInfo

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.codes import duty_word, event_word, in_sentence, phase_word
from hatchbook.desk.words.dates import date_time_of_year
from hatchbook.desk.words.eggs import place_name
from hatchbook.desk.words.noop import QT_TRANSLATE_NOOP
from hatchbook.desk.words.numbers import NONE_SIGN
from hatchbook.desk.words.planning import about_word
from hatchbook.desk.words.programmes import value_text as programme_text
from hatchbook.desk.words.record_fields import PLACE_FIELDS, field_word, is_told
from hatchbook.desk.words.record_values import programme_of, programme_title, setting_word, value_text
from hatchbook.figures.record_names import RecordNames
from hatchbook.journal import ChangeInfo
from hatchbook.trade.codes import DutyKind, EventKind, PhaseKind
from hatchbook.trade.programme_changes import changes_of
from hatchbook.trade.sources import About

Row = Mapping[str, Any]

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
#: What is said of an egg, after its number.
_OF_EGG = {
    "egg": QT_TRANSLATE_NOOP("Records", "{egg}"),
    "finding": QT_TRANSLATE_NOOP("Records", "{egg}, finding"),
    "egg_mass": QT_TRANSLATE_NOOP("Records", "{egg}, mass"),
    "hatching": QT_TRANSLATE_NOOP("Records", "{egg}, hatching"),
    "break_out": QT_TRANSLATE_NOOP("Records", "{egg}, opened"),
    "break_out_mark": QT_TRANSLATE_NOOP("Records", "{egg}, sign when opened"),
    "removal": QT_TRANSLATE_NOOP("Records", "{egg}"),
}
#: The value that says it all, behind a colon; the others follow in brackets.
_MAIN = {
    "finding": "code",
    "egg_mass": "mass_g",
    "hatching": "mark",
    "break_out": "result",
    "break_out_mark": "code",
    "removal": "reason",
    "setting": "value",
}
#: Fields that stand in the name of a record already.
_NAMED_BY = {
    "machine": ("name",),
    "channel": ("position",),
    "probe": ("name",),
    "pen": ("name",),
    "pen_member": ("name",),
    "programme": ("title", "definition"),
    "batch": ("label",),
    "batch_phase": ("kind",),
    "duty": ("kind", "text"),
    "egg": ("number", *PLACE_FIELDS),
    "candling": ("at",),
    "weighing": ("at",),
    "event": ("kind",),
    "past_batch": ("label",),
    "reading": ("at",),
    "import_run": ("file_name",),
}
#: From so many on in one step, eggs and duties are counted rather than listed.
_MANY = 6


def _tr(text: str, n: int = -1) -> str:
    return QCoreApplication.translate("Records", text, "", n)


def kind_word(kind: str) -> str:
    """The word for a kind of record."""
    known = _KINDS.get(kind)
    return kind.replace("_", " ") if known is None else _tr(known)


def step_lines(changes: Sequence[ChangeInfo], zone: ZoneInfo, names: RecordNames) -> list[str]:
    """What a step changed, a line for each thing; many eggs or duties that came or went together are counted."""
    lines: list[str] = []
    for (kind, way), group in itertools.groupby(changes, key=lambda change: (change.kind, _way(change))):
        members = list(group)
        counted = _counted(kind, way, len(members)) if len(members) > _MANY else ""
        lines += (
            [counted] if counted else [line for one in members for line in change_lines(one, zone, names)]
        )
    return lines


def change_lines(change: ChangeInfo, zone: ZoneInfo, names: RecordNames) -> list[str]:
    """One line for a record added or taken away, one a field for a changed one."""
    kind = change.kind
    if not change.before and not change.after:
        # The readings of a file come and go as one.
        added = change.before is None
        return [_tr("Readings of the file added") if added else _tr("Readings of the file taken away")]
    if change.before is None or change.after is None:
        return [_whole(kind, change.after or change.before or {}, change.before is None, zone, names)]
    return list(_differences(kind, change.before, change.after, zone, names))


def _way(change: ChangeInfo) -> str:
    return "added" if change.before is None else "removed" if change.after is None else "changed"


def _counted(kind: str, way: str, count: int) -> str:
    if kind == "egg" and way != "changed":
        return _tr("%n egg(s) added", count) if way == "added" else _tr("%n egg(s) taken away", count)
    if kind == "duty" and way != "changed":
        return (
            _tr("%n date(s) planned", count) if way == "added" else _tr("%n planned date(s) dropped", count)
        )
    return ""


def _whole(kind: str, row: Row, added: bool, zone: ZoneInfo, names: RecordNames) -> str:
    """A record that came or went, with what it says."""
    subject = _subject(kind, row, zone, names)
    main = _MAIN.get(kind)
    told = []
    for field, word in _told(kind, row):
        value = value_text(kind, field, row[field], row, names, zone)
        if field != main:
            told.append(value if field == "at" else _tr("{field} {value}").format(field=word, value=value))
    if main is not None:
        value = value_text(kind, main, row.get(main), row, names, zone)
        subject = _tr("{subject}: {value}").format(subject=subject, value=value)
        if told:
            subject = _tr("{subject} ({more})").format(subject=subject, more=_listed(told))
        return subject if added else _tr("{subject}, taken away").format(subject=subject)
    sentence = _tr("{subject} added") if added else _tr("{subject} taken away")
    sentence = sentence.format(subject=subject)
    return _tr("{sentence}: {more}").format(sentence=sentence, more=_listed(told)) if told else sentence


def _told(kind: str, row: Row) -> Iterator[tuple[str, str]]:
    """The fields worth telling of a record that came or went, with their words."""
    for field, value in row.items():
        word = field_word(kind, field)
        dull = value is None or value == "" or (field in ("marked", "kept_though_odd") and not value)
        if word is not None and is_told(kind, field) and field not in _NAMED_BY.get(kind, ()) and not dull:
            yield field, word


def _differences(kind: str, before: Row, after: Row, zone: ZoneInfo, names: RecordNames) -> Iterator[str]:
    """What is another in a record, field by field."""
    subject = _subject(kind, after, zone, names)
    pattern = _tr("{subject}, {field}: {before} → {after}")

    def line(field: str, old: str, new: str) -> str:
        return pattern.format(subject=subject, field=field, before=old, after=new)

    place_told = False
    for field in after:
        if before.get(field) == after[field] or not is_told(kind, field):
            continue
        word = field_word(kind, field)
        if kind == "egg" and field in PLACE_FIELDS:
            if not place_told:
                place_told = True
                yield line(word or "", _place(before) or NONE_SIGN, _place(after) or NONE_SIGN)
        elif field in ("definition", "programme") and kind in ("programme", "batch"):
            for about, old, new in _programme_changes(str(before[field]), str(after[field])):
                yield line(about, old, new)
        elif word is not None:
            old = value_text(kind, field, before.get(field), before, names, zone)
            new = value_text(kind, field, after[field], after, names, zone)
            if field == _MAIN.get(kind):
                yield _tr("{subject}: {before} → {after}").format(subject=subject, before=old, after=new)
            else:
                yield line(word, old, new)


def _programme_changes(before: str, after: str) -> Iterator[tuple[str, str, str]]:
    """What is another in a programme: the thing, and what was and is said of it."""
    old, new = programme_of(before), programme_of(after)
    if old is None or new is None:
        yield _tr("programme"), programme_title(before), programme_title(after)
        return
    if old.title != new.title:
        yield _tr("programme"), old.title, new.title
    changed = changes_of(old, new)
    for about in About:
        if about in changed:
            yield (
                _tr("{about} in the programme").format(about=in_sentence(about_word(about))),
                programme_text(old, about),
                programme_text(new, about),
            )


# ---------------------------------------------------------------- how a record is named


def _subject(kind: str, row: Row, zone: ZoneInfo, names: RecordNames) -> str:
    """A record by what a breeder knows it by: Egg 7 (C 2), finding; Candling of Sun 10 May 2026 09:00."""
    if kind in _OF_EGG:
        return _tr(_OF_EGG[kind]).format(egg=_egg(names.egg_of(kind, row)))
    word = kind_word(kind)
    match kind:
        case "machine" | "probe" | "pen" | "pen_member":
            return _named(word, row.get("name"))
        case "programme":
            return _named(word, row.get("title"))
        case "batch" | "past_batch":
            return _named(word, row.get("label"))
        case "channel":
            machine = names.name("machine", str(row.get("machine")))
            return _tr("Channel {position} of {machine}").format(
                position=row.get("position"), machine=machine
            )
        case "probe_placement":
            return _tr("Place of {probe}").format(probe=names.name("probe", str(row.get("probe"))))
        case "probe_check":
            return _tr("Check of {probe}").format(probe=names.name("probe", str(row.get("probe"))))
        case "batch_phase":
            return _tr("Phase “{phase}”").format(phase=in_sentence(phase_word(PhaseKind(row["kind"]))))
        case "duty":
            what = row.get("text") or in_sentence(duty_word(DutyKind(row["kind"])))
            if int(row.get("of") or 1) > 1:
                what = _tr("{what}, {ordinal} of {of}").format(
                    what=what, ordinal=row["ordinal"], of=row["of"]
                )
            return _tr("Duty “{what}”").format(what=what)
        case "event":
            return _event(row, names)
        case "candling":
            return _tr("Candling of {when}").format(when=date_time_of_year(int(row["at"]), zone))
        case "weighing":
            return _tr("Weighing of {when}").format(when=date_time_of_year(int(row["at"]), zone))
        case "reading":
            when = date_time_of_year(int(row["at"]), zone)
            probe = names.probe_numbered(int(row["probe"]))
            return (
                _tr("Reading of {probe}, {when}").format(probe=probe, when=when)
                if probe
                else _tr("Reading of {when}").format(when=when)
            )
        case "import_run":
            return _tr("Import of {file}").format(file=row.get("file_name", ""))
        case "setting":
            return setting_word(str(row.get("key", "")))
    return word


def _named(word: str, name: object) -> str:
    return _tr("{kind} {name}").format(kind=word, name=name) if name else word


def _event(row: Row, names: RecordNames) -> str:
    what = in_sentence(event_word(EventKind(row["kind"])))
    egg = names.egg_of("event", row)
    if egg is not None:
        return _tr("Event “{what}”, {egg}").format(what=what, egg=in_sentence(_egg(egg)))
    return _tr("Event “{what}”").format(what=what)


def _egg(row: Row | None) -> str:
    """Egg 7 (C 2); without a place where it has none."""
    if row is None:
        return _tr("An egg that is gone")
    place = _place(row)
    if place:
        return _tr("Egg {number} ({place})").format(number=row.get("number"), place=place)
    return _tr("Egg {number}").format(number=row.get("number"))


def _place(row: Row) -> str:
    """An egg's place in the tray; "" where it has none."""
    tray, tray_row, column = (row.get(field) for field in PLACE_FIELDS)
    if tray is None or tray_row is None or column is None:
        return ""
    return place_name(int(tray_row), int(column), int(tray), int(tray))


def _listed(parts: Sequence[str]) -> str:
    return _tr(", ").join(parts)
