"""The lines of a batch's journal as sentences."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QCoreApplication, QLocale

from hatchbook.desk.words.codes import (
    break_out_word,
    event_word,
    finding_word,
    hatch_mark_word,
    in_sentence,
    removal_word,
)
from hatchbook.desk.words.numbers import duration_text, mass, percent, temperature, vent_text
from hatchbook.figures.results import JournalLine, LineKind
from hatchbook.trade.codes import BreakOutResult, EventKind, FindingCode, HatchMark, RemovalReason

#: So many eggs of one note are named by their numbers at most.
_NUMBERS_NAMED = 6


def _tr(text: str, n: int = -1) -> str:
    return QCoreApplication.translate("Lines", text, "", n)


def listed(parts: list[str]) -> str:
    """Parts in a row: 31 alive, 1 unsure."""
    return _tr(", ").join(parts)


def _water(values: dict[str, Any]) -> str:
    filled = values.get("channels_filled")
    text = _tr("Water added") if filled is None else _tr("%n channel(s) filled", int(filled))
    if values.get("water_ml"):
        text = listed([text, _tr("{amount} ml").format(amount=QLocale().toString(round(values["water_ml"])))])
    return text


def _vent(values: dict[str, Any]) -> str:
    now, before = values.get("vent"), values.get("vent_before")
    if now is None:
        return _tr("Vent moved")
    if before is None or before == now:
        return _tr("Vent {opening}").format(opening=vent_text(now))
    return _tr("Vent {before} to {now}").format(before=vent_text(before), now=vent_text(now))


def _lasting(values: dict[str, Any], bare: str, long: str) -> str:
    seconds = values.get("seconds")
    return long.format(time=duration_text(seconds)) if seconds else bare


def _noted(eggs: list[int], text: str) -> str:
    """A note; one on eggs begins with their numbers, or their count where they are many."""
    if not eggs:
        return text
    if len(eggs) == 1:
        return _tr("Egg {number}: {text}").format(number=eggs[0], text=text)
    if len(eggs) <= _NUMBERS_NAMED:
        return _tr("Eggs {numbers}: {text}").format(numbers=listed([str(egg) for egg in eggs]), text=text)
    return _tr("%n egg(s): {text}", len(eggs)).format(text=text)


def _event(values: dict[str, Any]) -> str:
    kind = EventKind(values["kind"])
    text = str(values.get("text") or "")
    match kind:
        case EventKind.NOTE:
            return _noted(values.get("eggs") or [], text)
        case EventKind.WATER:
            sentence = _water(values)
        case EventKind.VENT:
            sentence = _vent(values)
        case EventKind.LID:
            sentence = _lasting(values, _tr("Lid opened"), _tr("Lid open {time}"))
        case EventKind.POWER_CUT:
            sentence = _lasting(values, _tr("Power cut"), _tr("Power off {time}"))
        case EventKind.TURNED if int(values.get("count", 1)) > 1:
            sentence = _tr("Turned %n time(s)", int(values["count"]))
        case _:
            sentence = event_word(kind)
    return _tr("{event}: {text}").format(event=sentence, text=text) if text else sentence


def _set(values: dict[str, Any]) -> str:
    eggs = int(values["eggs"])
    if values.get("mean_mass_g") is not None:
        return _tr("Set %n egg(s), {mass} mean", eggs).format(mass=mass(values["mean_mass_g"]))
    return _tr("Set %n egg(s)", eggs)


def _candled(values: dict[str, Any]) -> str:
    parts = [
        _tr("{count} {finding}").format(count=count, finding=in_sentence(finding_word(FindingCode(code))))
        for code, count in values["counts"].items()
    ]
    return _tr("Candled: {findings}").format(findings=listed(parts))


def _weighed(values: dict[str, Any]) -> str:
    if values.get("loss_percent") is not None:
        return _tr("Weighed %n egg(s): {loss} lost", int(values["eggs"])).format(
            loss=percent(values["loss_percent"])
        )
    return _tr("Weighed %n egg(s)", int(values["eggs"]))


def _reading(values: dict[str, Any]) -> str:
    parts = []
    if values.get("humidity") is not None:
        parts.append(percent(values["humidity"]))
    if values.get("temperature_c") is not None:
        parts.append(temperature(values["temperature_c"]))
    return _tr("Read {values}").format(values=listed(parts))


def _imported(values: dict[str, Any]) -> str:
    return _tr("%Ln reading(s) from {file}", int(values["stored"])).format(file=values["file"])


def _hatched(values: dict[str, Any]) -> str:
    parts = [
        _tr("{count} {mark}").format(count=count, mark=in_sentence(hatch_mark_word(HatchMark(mark))))
        for mark, count in values["counts"].items()
    ]
    return listed(parts)


def _opened(values: dict[str, Any]) -> str:
    parts = [
        _tr("{count} {result}").format(
            count=count, result=in_sentence(break_out_word(BreakOutResult(result)))
        )
        for result, count in values["counts"].items()
    ]
    return _tr("Opened: {results}").format(results=listed(parts))


def _taken_out(values: dict[str, Any]) -> str:
    return _tr("Egg {number}: {reason}").format(
        number=values["number"], reason=in_sentence(removal_word(RemovalReason(values["reason"])))
    )


_MAKERS: dict[LineKind, Callable[[dict[str, Any]], str]] = {
    LineKind.SET: _set,
    LineKind.EVENT: _event,
    LineKind.CANDLED: _candled,
    LineKind.WEIGHED: _weighed,
    LineKind.READING: _reading,
    LineKind.IMPORTED: _imported,
    LineKind.HATCHED: _hatched,
    LineKind.OPENED: _opened,
    LineKind.TAKEN_OUT: _taken_out,
    LineKind.CLOSED: lambda _values: _tr("Batch closed"),
}


def line_sentence(line: JournalLine) -> str:
    """The sentence for a line of a batch's journal.

    The values by kind: set {eggs, mean_mass_g}; event {kind, text, channels_filled, water_ml, vent, vent_before,
    seconds}; candled {counts: finding → n}; weighed {eggs, loss_percent}; reading {humidity, temperature_c};
    imported {stored, file}; hatched {counts: mark → n}; opened {counts: result → n}; taken_out {number, reason}.
    """
    return _MAKERS[line.kind](line.values)
