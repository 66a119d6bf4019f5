"""Words for how a logger's file is laid out, and for what a guess of it rests on."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.noop import QT_TRANSLATE_NOOP
from hatchbook.desk.words.numbers import number
from hatchbook.exchange.logger_file import (
    Basis,
    ColumnRole,
    DateForm,
    DateOrder,
    DecimalSign,
    Encoding,
    HourClock,
    RepeatedHour,
    Separator,
    TemperatureUnit,
    TimeMeaning,
)

_SEPARATORS = {
    Separator.COMMA: QT_TRANSLATE_NOOP("FileLayout", "comma"),
    Separator.SEMICOLON: QT_TRANSLATE_NOOP("FileLayout", "semicolon"),
    Separator.TAB: QT_TRANSLATE_NOOP("FileLayout", "tab"),
    Separator.BAR: QT_TRANSLATE_NOOP("FileLayout", "upright bar"),
    Separator.SPACES: QT_TRANSLATE_NOOP("FileLayout", "spaces"),
}
_DECIMALS = {
    DecimalSign.POINT: QT_TRANSLATE_NOOP("FileLayout", "point"),
    DecimalSign.COMMA: QT_TRANSLATE_NOOP("FileLayout", "comma"),
}
_ORDERS = {
    DateOrder.DAY_MONTH_YEAR: QT_TRANSLATE_NOOP("FileLayout", "day.month.year"),
    DateOrder.MONTH_DAY_YEAR: QT_TRANSLATE_NOOP("FileLayout", "month/day/year"),
    DateOrder.YEAR_MONTH_DAY: QT_TRANSLATE_NOOP("FileLayout", "year-month-day"),
}
_FORMS = {
    DateForm.CALENDAR: QT_TRANSLATE_NOOP("FileLayout", "calendar dates"),
    DateForm.EPOCH_SECONDS: QT_TRANSLATE_NOOP("FileLayout", "seconds since 1970"),
    DateForm.EPOCH_MILLISECONDS: QT_TRANSLATE_NOOP("FileLayout", "milliseconds since 1970"),
    DateForm.SPREADSHEET_DAYS: QT_TRANSLATE_NOOP("FileLayout", "days as spreadsheets count"),
}
_CLOCKS = {
    HourClock.TWENTY_FOUR: QT_TRANSLATE_NOOP("FileLayout", "24 hours"),
    HourClock.TWELVE: QT_TRANSLATE_NOOP("FileLayout", "12 hours, AM and PM"),
}
_REPEATED = {
    RepeatedHour.BY_NEIGHBOURS: QT_TRANSLATE_NOOP("FileLayout", "by the lines around it"),
    RepeatedHour.FIRST: QT_TRANSLATE_NOOP("FileLayout", "the first round, summer time"),
    RepeatedHour.SECOND: QT_TRANSLATE_NOOP("FileLayout", "the second round, winter time"),
}
_ENCODINGS = {
    Encoding.UTF_8: QT_TRANSLATE_NOOP("FileLayout", "UTF-8"),
    Encoding.UTF_16_LE: QT_TRANSLATE_NOOP("FileLayout", "UTF-16, little end first"),
    Encoding.UTF_16_BE: QT_TRANSLATE_NOOP("FileLayout", "UTF-16, big end first"),
    Encoding.LATIN_1: QT_TRANSLATE_NOOP("FileLayout", "Western, Latin-1"),
}
_UNITS = {TemperatureUnit.CELSIUS: "°C", TemperatureUnit.FAHRENHEIT: "°F"}
_BASES = {
    Basis.GIVEN: QT_TRANSLATE_NOOP("FileLayout", "You chose this."),
    Basis.STATED: QT_TRANSLATE_NOOP("FileLayout", "The file says so itself."),
    Basis.VALUES: QT_TRANSLATE_NOOP("FileLayout", "Only this fits what stands in the file."),
    Basis.USUAL: QT_TRANSLATE_NOOP(
        "FileLayout", "The file does not say; this is usual. Change it if it is wrong."
    ),
    Basis.UNDECIDED: QT_TRANSLATE_NOOP("FileLayout", "The file does not decide this: please choose."),
}


def _tr(text: str) -> str:
    return QCoreApplication.translate("FileLayout", text)


def separator_word(separator: Separator) -> str:
    """What parts the columns."""
    return _tr(_SEPARATORS[separator])


def decimal_word(sign: DecimalSign) -> str:
    """What stands before the fraction of a number."""
    return _tr(_DECIMALS[sign])


def date_word(form: DateForm, order: DateOrder) -> str:
    """How dates are written."""
    return _tr(_ORDERS[order]) if form is DateForm.CALENDAR else _tr(_FORMS[form])


def clock_word(clock: HourClock) -> str:
    """How many hours a round of the clock has."""
    return _tr(_CLOCKS[clock])


def repeated_word(repeated: RepeatedHour) -> str:
    """Which round of the hour that autumn repeats is meant."""
    return _tr(_REPEATED[repeated])


def encoding_word(encoding: Encoding) -> str:
    """How the file's bytes stand for letters."""
    return _tr(_ENCODINGS[encoding])


def unit_word(unit: TemperatureUnit) -> str:
    """The unit of the temperature column."""
    return _UNITS[unit]


def basis_sentence(basis: Basis) -> str:
    """What a guess rests on."""
    return _tr(_BASES[basis])


def time_word(meaning: TimeMeaning, home: ZoneInfo, system: ZoneInfo) -> str:
    """Which clock the file's times come from."""
    if meaning is TimeMeaning.HOME_ZONE:
        if home.key == system.key:
            return _tr("as on this computer")
        return _tr("clock time in {zone}").format(zone=home.key.replace("_", " "))
    if meaning is TimeMeaning.IN_FILE:
        return _tr("offsets in the file")
    return _tr("UTC") if meaning is TimeMeaning.UTC else _tr("one offset all year")


def offset_word(minutes: int) -> str:
    """An offset from UTC: UTC+1:00."""
    hours, rest = divmod(abs(minutes), 60)
    sign = "\u2212" if minutes < 0 else "+"
    return _tr("UTC{sign}{hours}:{minutes}").format(sign=sign, hours=hours, minutes=f"{rest:02d}")


def role_word(role: ColumnRole, unit: TemperatureUnit = TemperatureUnit.CELSIUS) -> str:
    """What a column holds."""
    match role:
        case ColumnRole.LEAVE_OUT:
            return _tr("Leave out")
        case ColumnRole.DATE_TIME:
            return _tr("Date and time")
        case ColumnRole.DATE:
            return _tr("Date")
        case ColumnRole.TIME:
            return _tr("Time")
        case ColumnRole.TEMPERATURE:
            return _tr("Temperature, {unit}").format(unit=_UNITS[unit])
        case ColumnRole.HUMIDITY:
            return _tr("Humidity, %")


def column_word(name: str, place: int) -> str:
    """A column by its name in the file, or by its place counted from 0."""
    return name or _tr("column {number}").format(number=number(place + 1, 0))


def winter_offset_minutes(at: int, zone: ZoneInfo) -> int:
    """The offset that a clock which is never put forward keeps all year, in minutes east of Greenwich."""
    year = datetime.fromtimestamp(at, zone).year
    offsets = [datetime(year, month, 15, tzinfo=zone).utcoffset() for month in (1, 7)]
    return min(round(offset.total_seconds() / 60) for offset in offsets if offset is not None)
