"""The steps of history, named in the breeder's words: for undo, redo and the history of a batch."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any
from zoneinfo import ZoneInfo

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.codes import (
    break_out_word,
    duty_word,
    event_word,
    finding_word,
    hatch_mark_word,
    in_sentence,
    removal_word,
)
from hatchbook.desk.words.dates import date_time
from hatchbook.desk.words.egg_steps import EGG_STEPS
from hatchbook.desk.words.noop import QT_TRANSLATE_NOOP
from hatchbook.desk.words.numbers import percent, temperature, vent_text
from hatchbook.journal import Change, StepInfo
from hatchbook.trade.codes import (
    BreakOutResult,
    DutyKind,
    EventKind,
    FindingCode,
    HatchMark,
    RemovalReason,
)


def _tr(text: str, n: int = -1) -> str:
    return QCoreApplication.translate("History", text, "", n)


#: Steps that need no more than their own values.
_PLAIN = {
    "machine_added": QT_TRANSLATE_NOOP("History", "machine {name} added"),
    "machine_changed": QT_TRANSLATE_NOOP("History", "machine {name} changed"),
    "machine_removed": QT_TRANSLATE_NOOP("History", "machine {name} removed"),
    "probe_added": QT_TRANSLATE_NOOP("History", "probe {name} added"),
    "probe_changed": QT_TRANSLATE_NOOP("History", "probe {name} changed"),
    "probe_removed": QT_TRANSLATE_NOOP("History", "probe {name} removed"),
    "probe_moved": QT_TRANSLATE_NOOP("History", "probe {name} moved"),
    "probe_check_added": QT_TRANSLATE_NOOP("History", "check of {name} noted"),
    "probe_check_changed": QT_TRANSLATE_NOOP("History", "check of {name} changed"),
    "probe_check_removed": QT_TRANSLATE_NOOP("History", "check of {name} removed"),
    "pen_added": QT_TRANSLATE_NOOP("History", "pen {name} added"),
    "pen_changed": QT_TRANSLATE_NOOP("History", "pen {name} changed"),
    "pen_removed": QT_TRANSLATE_NOOP("History", "pen {name} removed"),
    "pen_member_added": QT_TRANSLATE_NOOP("History", "bird {name} added"),
    "pen_member_changed": QT_TRANSLATE_NOOP("History", "bird {name} changed"),
    "pen_member_removed": QT_TRANSLATE_NOOP("History", "bird {name} removed"),
    "programme_added": QT_TRANSLATE_NOOP("History", "programme {name} added"),
    "programme_changed": QT_TRANSLATE_NOOP("History", "programme {name} changed"),
    "programme_removed": QT_TRANSLATE_NOOP("History", "programme {name} removed"),
    "batch_added": QT_TRANSLATE_NOOP("History", "batch {label} added"),
    "batch_changed": QT_TRANSLATE_NOOP("History", "batch {label} changed"),
    "batch_removed": QT_TRANSLATE_NOOP("History", "batch {label} deleted"),
    "batch_renamed": QT_TRANSLATE_NOOP("History", "batch {label} renamed to {name}"),
    "batch_closed": QT_TRANSLATE_NOOP("History", "batch {label} closed"),
    "batch_reopened": QT_TRANSLATE_NOOP("History", "batch {label} reopened"),
    "past_batch_added": QT_TRANSLATE_NOOP("History", "past batch {label} added"),
    "past_batch_changed": QT_TRANSLATE_NOOP("History", "past batch {label} changed"),
    "past_batch_removed": QT_TRANSLATE_NOOP("History", "past batch {label} removed"),
    "egg_added": QT_TRANSLATE_NOOP("History", "egg {number} added"),
    "egg_removed": QT_TRANSLATE_NOOP("History", "egg {number} removed"),
    "candling_added": QT_TRANSLATE_NOOP("History", "candling begun"),
    "candling_ended": QT_TRANSLATE_NOOP("History", "candling ended"),
    "candling_changed": QT_TRANSLATE_NOOP("History", "candling changed"),
    "candling_removed": QT_TRANSLATE_NOOP("History", "candling removed"),
    "weighing_removed": QT_TRANSLATE_NOOP("History", "weighing removed"),
    "setting_changed": QT_TRANSLATE_NOOP("History", "setting changed"),
}


def _plural_batch_set(details: dict[str, Any]) -> str:
    eggs = int(details.get("eggs", 0))
    return _tr("batch {label} set, %n egg(s)", eggs).format(label=details.get("label", ""))


def _event(details: dict[str, Any], done: str) -> str:
    kind = EventKind(details["kind"])
    what = in_sentence(event_word(kind))
    if kind is EventKind.WATER and details.get("channels_filled") is not None:
        what = _tr("water, %n channel(s)", int(details["channels_filled"]))
    elif kind is EventKind.VENT and details.get("vent") is not None:
        what = _tr("vent {opening}").format(opening=vent_text(float(details["vent"])))
    elif details.get("number") is not None:
        what = _tr("{what} on egg {number}").format(what=what, number=details["number"])
    return done.format(what=what)


def _setting_logged(details: dict[str, Any]) -> str:
    channels, vent = details.get("channels_filled"), details.get("vent")
    if channels is None:
        return _tr("vent {opening} logged").format(opening=vent_text(float(vent or 0.0)))
    if vent is None:
        return _tr("water, %n channel(s), logged", int(channels))
    return _tr("%n channel(s) and vent {opening} logged", int(channels)).format(
        opening=vent_text(float(vent))
    )


def _findings(details: dict[str, Any]) -> str:
    if details.get("number") is not None and details.get("finding"):
        return _tr("egg {number}: {finding}").format(
            number=details["number"], finding=in_sentence(finding_word(FindingCode(details["finding"])))
        )
    return _tr("%n egg(s) candled", int(details.get("count", 0)))


def _hatching(details: dict[str, Any]) -> str:
    count = int(details.get("count", 1))
    if details.get("mark") is None:
        return _tr("%n hatching record(s) noted", count)
    if details.get("number") is None:
        mark = in_sentence(hatch_mark_word(HatchMark(details["mark"])))
        return _tr("%n egg(s): {mark}", count).format(mark=mark)
    return _of_mark(details, _tr("egg {number}: {mark}"), "")


def _of_mark(details: dict[str, Any], sentence: str, bare: str) -> str:
    """A sentence with number and mark; the bare one for older steps, which noted neither."""
    if details.get("number") is None or details.get("mark") is None:
        return bare
    mark = in_sentence(hatch_mark_word(HatchMark(details["mark"])))
    return sentence.format(number=details["number"], mark=mark)


def _break_out(details: dict[str, Any]) -> str:
    result = in_sentence(break_out_word(BreakOutResult(details["result"])))
    if details.get("number") is None:
        return _tr("%n egg(s) opened: {result}", int(details.get("count", 1))).format(result=result)
    if details.get("again"):
        return _tr("opened egg {number} changed: {result}").format(number=details["number"], result=result)
    return _tr("egg {number} opened: {result}").format(number=details["number"], result=result)


def _break_out_removed(details: dict[str, Any]) -> str:
    if details.get("number") is None:
        return _tr("opened egg removed")
    result = in_sentence(break_out_word(BreakOutResult(details["result"])))
    return _tr("egg {number} not opened after all ({result} removed)").format(
        number=details["number"], result=result
    )


def _removals(details: dict[str, Any]) -> str:
    count = int(details.get("count", 1))
    if details.get("reason") is None:
        return _tr("%n egg(s) taken out", count)
    if details.get("number") is None:
        reason = in_sentence(removal_word(RemovalReason(details["reason"])))
        return _tr("%n egg(s): {reason}", count).format(reason=reason)
    return _of_reason(details, _tr("egg {number}: {reason}"), "")


def _of_reason(details: dict[str, Any], sentence: str, bare: str) -> str:
    """A sentence with number and reason; the bare one for older steps, which noted neither."""
    if details.get("number") is None or details.get("reason") is None:
        return bare
    reason = in_sentence(removal_word(RemovalReason(details["reason"])))
    return sentence.format(number=details["number"], reason=reason)


def _duty(details: dict[str, Any], done: str) -> str:
    what = details.get("text") or in_sentence(duty_word(DutyKind(details["kind"])))
    if int(details.get("of", 1)) > 1:
        what = _tr("{duty}, {ordinal} of {of}").format(
            duty=what, ordinal=details["ordinal"], of=details["of"]
        )
    return done.format(what=what)


def _reading(details: dict[str, Any], zone: ZoneInfo, sentence: str) -> str:
    values = []
    if details.get("humidity") is not None:
        values.append(percent(details["humidity"]))
    if details.get("temperature_c") is not None:
        values.append(temperature(details["temperature_c"]))
    when = date_time(int(details["at"]), zone)
    return sentence.format(values=", ".join(values), when=when)


def _imported(details: dict[str, Any]) -> str:
    stored = int(details.get("stored", 0))
    return _tr("%Ln reading(s) imported from {file}", stored).format(file=details.get("file", ""))


_MADE: dict[str, Callable[[dict[str, Any], ZoneInfo], str]] = {
    "batch_set": lambda details, _zone: _plural_batch_set(details),
    "event_added": lambda details, _zone: _event(details, _tr("{what} logged")),
    "event_changed": lambda details, _zone: _event(details, _tr("{what} changed")),
    "event_removed": lambda details, _zone: _event(details, _tr("{what} removed")),
    "setting_logged": lambda details, _zone: _setting_logged(details),
    "findings_noted": lambda details, _zone: _findings(details),
    "hatching_noted": lambda details, _zone: _hatching(details),
    "hatching_added": lambda details, _zone: _of_mark(
        details, _tr("egg {number}: {mark}"), _tr("hatching noted")
    ),
    "hatching_changed": lambda details, _zone: _of_mark(
        details, _tr("egg {number}: {mark}, changed"), _tr("hatching changed")
    ),
    "hatching_removed": lambda details, _zone: _of_mark(
        details, _tr("egg {number}: {mark} removed"), _tr("hatching removed")
    ),
    "break_out_noted": lambda details, _zone: _break_out(details),
    "break_out_removed": lambda details, _zone: _break_out_removed(details),
    "duty_ticked": lambda details, _zone: _duty(details, _tr("{what} ticked")),
    "duty_unticked": lambda details, _zone: _duty(details, _tr("{what} unticked")),
    "duty_added": lambda details, _zone: _duty(details, _tr("duty “{what}” added")),
    "duty_changed": lambda details, _zone: _duty(details, _tr("duty “{what}” changed")),
    "duty_removed": lambda details, _zone: _duty(details, _tr("duty “{what}” removed")),
    "removals_noted": lambda details, _zone: _removals(details),
    "removal_added": lambda details, _zone: _of_reason(
        details, _tr("egg {number}: {reason}"), _tr("egg taken out")
    ),
    "removal_changed": lambda details, _zone: _of_reason(
        details, _tr("egg {number}: {reason}, changed"), _tr("taking out changed")
    ),
    "removal_removed": lambda details, _zone: _of_reason(
        details, _tr("egg {number} put back ({reason} removed)"), _tr("taking out removed")
    ),
    "readings_imported": lambda details, _zone: _imported(details),
    "past_batches_imported": lambda details, _zone: _tr(
        "%Ln past batch(es) imported from {file}", int(details.get("stored", 0))
    ).format(file=details.get("file", "")),
    "import_taken_back": lambda details, _zone: _tr("import of {file} taken back").format_map(
        _Blank(details)
    ),
    "reading_added": lambda details, zone: _reading(details, zone, _tr("reading {values}, {when}")),
    "reading_changed": lambda details, zone: _reading(details, zone, _tr("reading of {when} changed")),
    "reading_removed": lambda details, zone: _reading(details, zone, _tr("reading of {when} removed")),
}

#: Every step that has words; a test holds that the journal writes no other.
STEP_CODES = frozenset({*_PLAIN, *_MADE, *EGG_STEPS})


def step_sentence(step: StepInfo, zone: ZoneInfo) -> str:
    """What a step did, as it stands after "Undo": egg 7: alive."""
    of_egg = EGG_STEPS.get(step.code)
    if of_egg is not None:
        return of_egg(step.details)
    made = _MADE.get(step.code)
    if made is not None:
        return made(step.details, zone)
    plain = _PLAIN.get(step.code)
    return step.code.replace("_", " ") if plain is None else _tr(plain).format_map(_Blank(step.details))


def change_sentence(change: Change, zone: ZoneInfo) -> str:
    """What has just happened, for the status bar."""
    sentence = step_sentence(change.step, zone)
    if change.direction == "undone":
        return _tr("Taken back: {step}").format(step=sentence)
    if change.direction == "redone":
        return _tr("Done again: {step}").format(step=sentence)
    return sentence[:1].upper() + sentence[1:]


class _Blank(dict[str, Any]):
    """Values for a sentence; one that an older step did not note stays blank."""

    def __missing__(self, key: str) -> str:
        return ""
