"""Units at the edge: what the breeder types, and the units that are stored.

Stored are °C, % RH, grams and a vent's opening from 0 (shut) to 1 (fully open). What was typed is kept beside it as
`Typed`, so that it comes back as it was typed.
"""

from __future__ import annotations

import json
import math
import re
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

GRAMS_PER_OUNCE = 28.349523125
"""One avoirdupois ounce, exact: a sixteenth of the pound of 0.45359237 kg (NIST SP 811, appendix B)."""


class Unit(StrEnum):
    """A unit in which something is typed."""

    CELSIUS = "celsius"
    FAHRENHEIT = "fahrenheit"
    GRAM = "gram"
    OUNCE = "ounce"
    PERCENT = "percent"


STORED_UNIT = {
    Unit.CELSIUS: Unit.CELSIUS,
    Unit.FAHRENHEIT: Unit.CELSIUS,
    Unit.GRAM: Unit.GRAM,
    Unit.OUNCE: Unit.GRAM,
    Unit.PERCENT: Unit.PERCENT,
}
"""The unit in which a journal stores what was typed in this one."""

_SIGNS = {
    "°c": Unit.CELSIUS,
    "c": Unit.CELSIUS,
    "℃": Unit.CELSIUS,
    "°f": Unit.FAHRENHEIT,
    "f": Unit.FAHRENHEIT,
    "℉": Unit.FAHRENHEIT,
    "g": Unit.GRAM,
    "oz": Unit.OUNCE,
    "%": Unit.PERCENT,
    "% rh": Unit.PERCENT,
    "%rh": Unit.PERCENT,
}


class NumberFault(StrEnum):
    """Why a text is no number that can be used."""

    EMPTY = "empty"
    NOT_A_NUMBER = "not_a_number"
    AMBIGUOUS_THOUSANDS = "ambiguous_thousands"
    TWO_MARKS = "two_marks"
    UNIT_NOT_EXPECTED = "unit_not_expected"
    OTHER_QUANTITY = "other_quantity"
    OUTSIDE_VENT = "outside_vent"


class NumberError(ValueError):
    """A typed text that is not a usable number; `text` is what was typed, `fault` why not."""

    def __init__(self, fault: NumberFault, text: str, sentence: str) -> None:
        super().__init__(sentence)
        self.fault = fault
        self.text = text


def celsius_from_fahrenheit(fahrenheit: float) -> float:
    """°C of a temperature in °F."""
    return (fahrenheit - 32.0) * 5.0 / 9.0


def fahrenheit_from_celsius(celsius: float) -> float:
    """°F of a temperature in °C."""
    return celsius * 9.0 / 5.0 + 32.0


def grams_from_ounces(ounces: float) -> float:
    """Grams of a mass in avoirdupois ounces."""
    return ounces * GRAMS_PER_OUNCE


def ounces_from_grams(grams: float) -> float:
    """Avoirdupois ounces of a mass in grams."""
    return grams / GRAMS_PER_OUNCE


def to_stored(value: float, unit: Unit) -> float:
    """A value typed in `unit`, in the unit that is stored (°C, g, %)."""
    match unit:
        case Unit.FAHRENHEIT:
            return celsius_from_fahrenheit(value)
        case Unit.OUNCE:
            return grams_from_ounces(value)
    return value


def from_stored(value: float, unit: Unit) -> float:
    """A stored value (°C, g, %) in the unit in which it is to be shown."""
    match unit:
        case Unit.FAHRENHEIT:
            return fahrenheit_from_celsius(value)
        case Unit.OUNCE:
            return ounces_from_grams(value)
    return value


@dataclass(frozen=True)
class Typed:
    """What the breeder typed: the value in its own unit, the unit, and the text letter by letter."""

    value: float
    unit: Unit
    text: str

    @property
    def stored(self) -> float:
        """The value in the unit that is stored: °C, g or %."""
        return to_stored(self.value, self.unit)

    def to_json(self) -> str:
        """As JSON, for the column of a record that keeps what was typed."""
        return json.dumps({"value": self.value, "unit": self.unit, "text": self.text}, ensure_ascii=False)

    @classmethod
    def from_json(cls, text: str) -> Typed:
        """Back from `to_json`; further entries of the JSON are left alone.

        Raises:
            ValueError: when it is not the JSON of a typed value.
        """
        try:
            stored = json.loads(text)
            value, unit, typed = float(stored["value"]), Unit(stored["unit"]), str(stored["text"])
        except (KeyError, TypeError) as error:
            raise ValueError(f"This is not the record of a typed value: {text}") from error
        return cls(value, unit, typed)


_NUMBER = re.compile(r"(?P<sign>[+\-\u2212]?)(?P<whole>[0-9]*)(?:(?P<mark>[.,])(?P<part>[0-9]*))?")


def parse_number(text: str, *, below: float = math.inf) -> float:
    """A number written with a decimal point or a decimal comma; blanks around it do not count.

    "1,234" and "1.234" are refused where they could be a thousand as well as a fraction: one mark with exactly
    three figures after it and one to three before, which do not begin with 0.

    Args:
        text: the number alone, without a unit.
        below: the number is known to be smaller than this, so that a reading that is not is no reading at all:
            with 1000, "37.625" is plain.

    Raises:
        NumberError: when the text is not such a number; `str(error)` says why and what to write.
    """
    bare = text.strip()
    if not bare:
        raise NumberError(NumberFault.EMPTY, text, "There is no number here.")
    found = _NUMBER.fullmatch(bare)
    if found is None or not (found["whole"] or found["part"]):
        raise _no_number(text, bare)
    sign, whole, mark, part = found["sign"], found["whole"], found["mark"], found["part"]
    if mark and len(part) == 3 and 1 <= len(whole) <= 3 and whole[0] != "0" and int(whole + part) < below:
        raise NumberError(
            NumberFault.AMBIGUOUS_THOUSANDS,
            text,
            f'"{bare}" can mean a thousand or a fraction. Write {sign}{whole}{part} for the thousand, '
            f"or {bare}0 for the fraction.",
        )
    number = float(f"{whole or 0}.{part or 0}")
    if not math.isfinite(number):
        raise _no_number(text, bare)
    return -number if sign in ("-", "\u2212") and number else number


def _no_number(text: str, bare: str) -> NumberError:
    if re.fullmatch(r"[+\-\u2212]?[0-9]*[.,'\u2019\s][0-9.,'\u2019\s]*", bare) and re.search(r"[0-9]", bare):
        sentence = (
            f'"{bare}" has more than one mark or a gap in it. Write the thousands without a sign: 1234.5.'
        )
        return NumberError(NumberFault.TWO_MARKS, text, sentence)
    number, sign = _split_sign(bare)
    if sign is not None and _NUMBER.fullmatch(number):
        sentence = f'Write the number alone, without "{bare[len(number) :].strip()}".'
        return NumberError(NumberFault.UNIT_NOT_EXPECTED, text, sentence)
    return NumberError(NumberFault.NOT_A_NUMBER, text, f'"{bare}" is not a number.')


def _split_sign(bare: str) -> tuple[str, Unit | None]:
    """The text before a unit's sign at the end, and the unit; None where no sign that is known ends it."""
    for length in range(min(4, len(bare)), 0, -1):
        unit = _SIGNS.get(bare[-length:].lower())
        if unit is not None:
            return bare[:-length].rstrip(), unit
    return bare, None


def parse_typed(text: str, unit: Unit, *, below: float = math.inf) -> Typed:
    """A number with or without its unit: "37,6", "99.5 °F", "58.4 g".

    Args:
        text: what was typed; it is kept as it is.
        unit: the unit that is meant where none is written. A written one of the same quantity goes first.
        below: as in `parse_number`, in the unit typed.

    Raises:
        NumberError: when it is no number, or a unit of another quantity is written.
    """
    number, written = _split_sign(text.strip())
    if written is not None and number and not re.search(r"[0-9]", number):
        raise _no_number(text, text.strip())  # a word that ends like a sign
    if written is not None and STORED_UNIT[written] is not STORED_UNIT[unit]:
        sentence = f'"{text.strip()}" is in another unit than is asked for here.'
        raise NumberError(NumberFault.OTHER_QUANTITY, text, sentence)
    return Typed(parse_number(number, below=below), written or unit, text)


_VULGAR = {
    "½": "1/2",
    "⅓": "1/3",
    "⅔": "2/3",
    "¼": "1/4",
    "¾": "3/4",
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
}
_LARGEST_DENOMINATOR = 12


def parse_vent(text: str) -> float:
    """How far a vent is open, 0 shut to 1 fully open: "1/2", "½", "0.5", "0,5", "50 %".

    Raises:
        NumberError: when it is neither, or not from 0 to 1.
    """
    bare = text.strip()
    parts = _VULGAR.get(bare, bare).split("/")
    if len(parts) == 2 and all(re.fullmatch(r"\s*[0-9]{1,3}\s*", part) for part in parts) and int(parts[1]):
        value = int(parts[0]) / int(parts[1])
    elif bare.endswith("%"):
        value = parse_number(bare[:-1], below=1000) / 100.0
    else:
        value = parse_number(bare, below=1000)
    if not 0 <= value <= 1:
        raise NumberError(
            NumberFault.OUTSIDE_VENT, text, f'A vent is open from 0 (shut) to 1 (fully open), not "{bare}".'
        )
    return value


def vent_fraction(opening: float) -> Fraction | None:
    """The plain fraction, up to twelfths, that an opening was given as; None where it is none, such as 0.45."""
    fraction = Fraction(opening).limit_denominator(_LARGEST_DENOMINATOR)
    return fraction if math.isclose(float(fraction), opening, abs_tol=1e-9) else None
