"""The steps of history that concern single eggs, in words: moved, changed, marked, weighed, noted."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.codes import finding_word, in_sentence
from hatchbook.desk.words.eggs import place_name
from hatchbook.desk.words.noop import QT_TRANSLATE_NOOP
from hatchbook.desk.words.numbers import mass
from hatchbook.trade.codes import FindingCode


def _tr(text: str, n: int = -1) -> str:
    return QCoreApplication.translate("EggSteps", text, "", n)


_FIELDS = {
    "number": QT_TRANSLATE_NOOP("EggSteps", "number"),
    "pen": QT_TRANSLATE_NOOP("EggSteps", "pen"),
    "dam": QT_TRANSLATE_NOOP("EggSteps", "dam"),
    "laid_on": QT_TRANSLATE_NOOP("EggSteps", "laying date"),
    "laid_mass_g": QT_TRANSLATE_NOOP("EggSteps", "mass when laid"),
    "set_mass_g": QT_TRANSLATE_NOOP("EggSteps", "mass when set"),
    "length_mm": QT_TRANSLATE_NOOP("EggSteps", "length"),
    "breadth_mm": QT_TRANSLATE_NOOP("EggSteps", "breadth"),
    "shell_note": QT_TRANSLATE_NOOP("EggSteps", "note on the shell"),
    "mark": QT_TRANSLATE_NOOP("EggSteps", "mark on the shell"),
    "remark": QT_TRANSLATE_NOOP("EggSteps", "remark"),
}


def egg_field_word(field: str) -> str:
    """What a field of an egg is called within a sentence."""
    known = _FIELDS.get(field)
    return field.replace("_", " ") if known is None else _tr(known)


def _place(details: dict[str, Any], key: str) -> str:
    tray, row, column = details[key]
    return place_name(row, column, tray, int(details.get("trays", 1)))


def _moved(details: dict[str, Any]) -> str:
    number, other = details.get("number", ""), details.get("other")
    if details.get("place") is None and details.get("was") is None:
        return _tr("egg {number} moved").format(number=number)  # as older steps noted it
    if details.get("place") is None:
        return _tr("egg {number} taken from {was}, without a place now").format(
            number=number, was=_place(details, "was")
        )
    if details.get("was") is None and other is None:
        return _tr("egg {number} put into {place}").format(number=number, place=_place(details, "place"))
    if details.get("was") is None:
        return _tr("egg {number} put into {place}, egg {other} without a place now").format(
            number=number, place=_place(details, "place"), other=other
        )
    if other is None:
        return _tr("egg {number} moved from {was} to {place}").format(
            number=number, was=_place(details, "was"), place=_place(details, "place")
        )
    return _tr("egg {number} moved from {was} to {place}, egg {other} the other way").format(
        number=number, was=_place(details, "was"), place=_place(details, "place"), other=other
    )


def _moved_many(details: dict[str, Any]) -> str:
    count = int(details.get("count", 0))
    if details.get("off"):
        return _tr("%n egg(s) taken off the tray", count)
    return _tr("%n egg(s) moved", count)


def _changed(details: dict[str, Any]) -> str:
    number, names = details.get("number", ""), details.get("fields") or []
    if "marked" in details:
        marked = _tr("egg {number} marked for weighing")
        unmarked = _tr("egg {number} no longer marked for weighing")
        return (marked if details["marked"] else unmarked).format(number=number)
    if not names:
        return _tr("egg {number} changed").format(number=number)
    words = _tr(", ").join(egg_field_word(name) for name in names)
    return _tr("egg {number} changed: {fields}").format(number=number, fields=words)


def _changed_many(details: dict[str, Any]) -> str:
    count = int(details.get("count", 0))
    if "marked" in details:
        if details["marked"]:
            return _tr("%n egg(s) marked for weighing", count)
        return _tr("%n egg(s) no longer marked for weighing", count)
    names = details.get("fields") or []
    words = _tr(", ").join(egg_field_word(name) for name in names)
    return _tr("%n egg(s) changed: {fields}", count).format(fields=words)


def _finding(details: dict[str, Any], sentence: str) -> str:
    finding = in_sentence(finding_word(FindingCode(details["finding"])))
    return sentence.format(number=details.get("number", ""), finding=finding)


def _mass(details: dict[str, Any], sentence: str) -> str:
    return sentence.format(number=details.get("number", ""), mass=mass(details.get("mass_g")))


def _weighed(details: dict[str, Any]) -> str:
    if details.get("number") is not None:
        return _tr("egg {number} weighed").format(number=details["number"])
    return _tr("%n egg(s) weighed", int(details.get("count", 0)))


def _noted(details: dict[str, Any]) -> str:
    if details.get("number") is not None:
        return _tr("note on egg {number}").format(number=details["number"])
    return _tr("note on %n egg(s)", int(details.get("count", 0)))


EGG_STEPS: dict[str, Callable[[dict[str, Any]], str]] = {
    "egg_moved": _moved,
    "eggs_moved": _moved_many,
    "egg_changed": _changed,
    "eggs_changed": _changed_many,
    "finding_changed": lambda details: _finding(details, _tr("egg {number} corrected: {finding}")),
    "finding_removed": lambda details: _finding(details, _tr("finding of egg {number} removed: {finding}")),
    "weighed": _weighed,
    "egg_weighed": lambda details: _mass(details, _tr("egg {number} weighed: {mass}")),
    "egg_mass_changed": lambda details: _mass(details, _tr("mass of egg {number} corrected: {mass}")),
    "egg_mass_removed": lambda details: _mass(details, _tr("mass of egg {number} removed: {mass}")),
    "eggs_noted": _noted,
}
"""The sentence of each of these steps, made from its values."""
