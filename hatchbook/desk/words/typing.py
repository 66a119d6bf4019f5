"""What is wrong with what was typed, in plain sentences."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.noop import QT_TRANSLATE_NOOP
from hatchbook.exchange.typed_reading import ReadingError, ReadingFault
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


def number_sentence(error: NumberError) -> str:
    """What is wrong with a typed number."""
    return QCoreApplication.translate("Typing", _NUMBERS[error.fault]).format(text=error.text.strip())


def reading_sentence(error: ReadingError) -> str:
    """What is wrong with a typed reading."""
    return QCoreApplication.translate("Typing", _READINGS[error.fault])
