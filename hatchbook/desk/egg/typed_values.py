"""What is typed into the fields of an egg: numbers with bounds, days, and what is wrong with them."""

from __future__ import annotations

from datetime import date

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.entry.day_text import parse_day
from hatchbook.desk.words.numbers import typed_text
from hatchbook.desk.words.typing import number_sentence
from hatchbook.journal import EggMass
from hatchbook.trade.units import NumberError, Typed, Unit, from_stored, parse_number, parse_typed

HEAVIEST_G = 3000.0
"""No egg of a bird is heavier; a larger number is another unit or a slip of the finger."""
LONGEST_MM = 250.0
_LARGEST_NUMBER = 100_000


def _tr(text: str) -> str:
    return QCoreApplication.translate("EggValues", text)


class TypedError(ValueError):
    """A text that is no such value; ``str(error)`` says so to the breeder."""


def mass_text(grams: float | None, unit: Unit) -> str:
    """A mass as it is typed."""
    return "" if grams is None else typed_text(from_stored(grams, unit))


def kept_mass_text(mass: EggMass, unit: Unit) -> str:
    """The mass of a weighing as it was typed; as a number where it was typed in another unit, or not kept."""
    if mass.entered is not None:
        try:
            typed = Typed.from_json(mass.entered)
        except ValueError:
            return mass_text(mass.mass_g, unit)  # another program's way of keeping it
        if typed.unit is unit:
            return typed.text
    return mass_text(mass.mass_g, unit)


def typed_mass(text: str, unit: Unit) -> Typed | None:
    """The mass that was typed, in its unit; None where nothing was.

    Raises:
        TypedError: it is no mass of an egg or a chick.
    """
    if not text:
        return None
    try:
        typed = parse_typed(text, unit, below=HEAVIEST_G)
    except NumberError as error:
        raise TypedError(number_sentence(error)) from None
    if typed.stored <= 0:
        raise TypedError(_tr("A mass is more than nothing."))
    if typed.stored > HEAVIEST_G:
        raise TypedError(_tr("No egg is as heavy as that. Check the number and its unit."))
    return typed


def typed_grams(text: str, unit: Unit) -> float | None:
    """The mass that was typed, in grams; see ``typed_mass``."""
    typed = typed_mass(text, unit)
    return None if typed is None else typed.stored


def typed_length(text: str) -> float | None:
    """A length in mm; "mm" may stand behind it.

    Raises:
        TypedError: it is no length of an egg.
    """
    bare = text.removesuffix("mm").strip()
    if not bare:
        return None
    try:
        value = parse_number(bare, below=LONGEST_MM)
    except NumberError as error:
        raise TypedError(number_sentence(error)) from None
    if value <= 0:
        raise TypedError(_tr("A length is more than nothing."))
    if value > LONGEST_MM:
        raise TypedError(_tr("No egg is as long as that. Lengths are in mm."))
    return value


def typed_day(text: str, near: date, set_on: date) -> str | None:
    """A laying date, as it is stored.

    Args:
        near: what is left out is such that the date lies near this one.
        set_on: the date on which the egg was set; it was laid by then.

    Raises:
        TypedError, DayError: it is no such date.
    """
    if not text:
        return None
    day = parse_day(text, near)
    if day > set_on:
        raise TypedError(_tr("An egg is laid before it is set."))
    return day.isoformat()


def typed_egg_number(text: str, taken: frozenset[int]) -> int:
    """The number of an egg in its batch.

    Raises:
        TypedError: it is no number, or another egg has it.
    """
    if not text.isdecimal() or not 1 <= int(text) <= _LARGEST_NUMBER:
        raise TypedError(_tr("An egg's number is 1, 2, 3 …"))
    if int(text) in taken:
        raise TypedError(_tr("Another egg of this batch has the number {number}.").format(number=int(text)))
    return int(text)


def typed_dead_day(text: str, incubation_days: float) -> float | None:
    """The day of incubation at which an embryo died.

    Raises:
        TypedError: it is no day of this incubation.
    """
    if not text:
        return None
    try:
        day = parse_number(text, below=1000)
    except NumberError as error:
        raise TypedError(number_sentence(error)) from None
    if not 0 <= day <= incubation_days + _OVERTIME_DAYS:
        raise TypedError(_tr("That day is outside of this incubation."))
    return day


_OVERTIME_DAYS = 7.0
