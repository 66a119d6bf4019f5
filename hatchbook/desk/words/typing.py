"""What is wrong with what was typed, in plain sentences."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.codes import in_sentence, wick_word
from hatchbook.desk.words.noop import QT_TRANSLATE_NOOP
from hatchbook.desk.words.numbers import number, percent
from hatchbook.exchange.typed_eggs import EggListError, EggListFault
from hatchbook.exchange.typed_reading import ReadingError, ReadingFault, WetBulbMeaning
from hatchbook.trade.units import NumberError, NumberFault

_NUMBERS = {
    NumberFault.EMPTY: QT_TRANSLATE_NOOP("Typing", "There is no number here."),
    NumberFault.NOT_A_NUMBER: QT_TRANSLATE_NOOP("Typing", "“{text}” is not a number."),
    NumberFault.AMBIGUOUS_THOUSANDS: QT_TRANSLATE_NOOP(
        "Typing", "“{text}” can mean a thousand or a fraction: write it with fewer or more figures."
    ),
    NumberFault.TWO_MARKS: QT_TRANSLATE_NOOP("Typing", "“{text}” has more than one mark or a gap in it."),
    NumberFault.UNIT_NOT_EXPECTED: QT_TRANSLATE_NOOP("Typing", "Write the number alone, without a unit."),
    NumberFault.OTHER_QUANTITY: QT_TRANSLATE_NOOP(
        "Typing", "“{text}” is in another unit than is asked for here."
    ),
    NumberFault.OUTSIDE_VENT: QT_TRANSLATE_NOOP("Typing", "A vent is open from 0 (shut) to 1 (fully open)."),
}
_READINGS = {
    ReadingFault.NOTHING: QT_TRANSLATE_NOOP("Typing", "Type a temperature or a humidity."),
    ReadingFault.TEMPERATURE_RANGE: QT_TRANSLATE_NOOP("Typing", "A temperature lies between −20 and 60 °C."),
    ReadingFault.HUMIDITY_RANGE: QT_TRANSLATE_NOOP("Typing", "Humidity lies between 0 and 100 %."),
    ReadingFault.WET_ABOVE_DRY: QT_TRANSLATE_NOOP(
        "Typing", "The wet bulb cannot be warmer than the dry bulb."
    ),
    ReadingFault.WET_NEEDS_DRY: QT_TRANSLATE_NOOP(
        "Typing", "A wet bulb tells the humidity only beside the dry bulb: type the temperature as well."
    ),
    ReadingFault.WET_TOO_LOW: QT_TRANSLATE_NOOP(
        "Typing", "So cold a wet bulb would mean less than 0 % humidity: check both."
    ),
}
_EGG_LISTS = {
    EggListFault.NOTHING: QT_TRANSLATE_NOOP(
        "Typing", "Type the numbers or places of eggs, like 3, 7, C2, 10–14."
    ),
    EggListFault.NOT_AN_EGG: QT_TRANSLATE_NOOP(
        "Typing", "“{text}” is neither the number nor the place of an egg."
    ),
    EggListFault.NO_SUCH_NUMBER: QT_TRANSLATE_NOOP(
        "Typing", "There is no egg {text}: the numbers go from {first} to {last}."
    ),
    EggListFault.NO_EGG_THERE: QT_TRANSLATE_NOOP("Typing", "No egg of this batch lies in {text}."),
    EggListFault.WHICH_TRAY: QT_TRANSLATE_NOOP(
        "Typing", "“{text}”: on which tray? Write its number before it, like 2 {text}."
    ),
    EggListFault.BACKWARDS: QT_TRANSLATE_NOOP("Typing", "“{text}” runs backwards."),
    EggListFault.NO_RANGE: QT_TRANSLATE_NOOP(
        "Typing", "“{text}”: a range goes from number to number, or along one row."
    ),
}


def number_sentence(error: NumberError) -> str:
    """What is wrong with a typed number."""
    return QCoreApplication.translate("Typing", _NUMBERS[error.fault]).format(text=error.text.strip())


def reading_sentence(error: ReadingError) -> str:
    """What is wrong with a typed reading."""
    return QCoreApplication.translate("Typing", _READINGS[error.fault])


def egg_list_sentence(error: EggListError) -> str:
    """What is wrong with a typed list of eggs."""
    sentence = QCoreApplication.translate("Typing", _EGG_LISTS[error.fault])
    return sentence.format(text=error.text, first=error.first, last=error.last)


def wet_bulb_sentence(meaning: WetBulbMeaning) -> str:
    """What a wet bulb means, by which coefficient and at which pressure, and how much the wick matters."""
    sentence = _tr(
        "That is {humidity} relative humidity: {wick}, coefficient {coefficient} per °C (FAO-56), at {pressure} "
        "kPa ({altitude} m above the sea)."
    ).format(
        humidity=percent(meaning.humidity),
        wick=in_sentence(wick_word(meaning.wick)),
        coefficient=number(meaning.coefficient, 6).rstrip("0"),
        pressure=number(meaning.pressure_kpa, 1),
        altitude=number(meaning.altitude_m, 0),
    )
    others = [(wick, value) for wick, value in meaning.others.items() if value is not None]
    if not others:
        return sentence
    wick, value = max(others, key=lambda one: abs(one[1] - meaning.humidity))
    other = _tr("With a {wick} the same two would mean {humidity}.")
    return f"{sentence} {other.format(wick=in_sentence(wick_word(wick)), humidity=percent(value))}"


def counts_as_sentence(shown: float, counts: float) -> str:
    """As what a humidity counts that its probe's check corrects."""
    return _tr("By the check of the probe {shown} count as {counts}; what you type is kept.").format(
        shown=percent(shown), counts=percent(counts)
    )


def _tr(text: str) -> str:
    return QCoreApplication.translate("Typing", text)
