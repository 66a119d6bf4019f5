"""Which columns hold what, in which unit: from their names first, from their values where names say nothing."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from statistics import median

from hatchbook.exchange.loggers.layout import Basis, ColumnRole, TemperatureUnit, TimeMeaning
from hatchbook.exchange.loggers.number_cells import CellUnit, read_number
from hatchbook.exchange.loggers.sample import CellKind, SampleRow

_TEMPERATURE = re.compile(
    r"temp|celsius|fahrenheit|[°º]\s*[cf]\b|℃|℉|^t\d*$|^t\d*[ _.,(\[/-]|[ _]t\d*$|l[aä]mp[oö]|teplota|hőm"
)
_HUMIDITY = re.compile(
    r"hum|umid|feucht|\br\.?\s?[hf]\b|^rh|rh$|[_ (\[%]r\.?h|\b[hu]\.?r\b|h[uú]med|vocht|fukt|fugt|kosteu|vlhk"
    r"|wilgot|párat|^h\d*$|^%$|^\(?%\)?$"
)
_NEITHER = re.compile(
    r"dew|d\.?p\b|taup|ros[ée]e|roc[ií]o|rugiada|dauw|ratio|abs|set.?p|setting|soll|alarm|\bmin|\bmax|lim|batt?e?r"
    r"|akku|press|druck|co2|lux|light|volt|signal|rssi|std|dev|vpd|index|feels|wet|feuchttemp|feuchtkugel|g/m|g/kg"
)
_FAHRENHEIT = re.compile(r"fahrenheit|℉|[°º]\s*f\b|\bdeg\.?\s*f\b|[_ (\[/]f[)\]]?$|^f$")
_CELSIUS = re.compile(r"celsius|℃|[°º]\s*c\b|\bdeg\.?\s*c\b|[_ (\[/]c[)\]]?$|^c$")
_CLOCK = re.compile(r"\b(?:utc|gmt)\s*(?:(?P<sign>[+-]|\u2212)\s*(?P<hour>\d{1,2})(?::?(?P<minute>\d\d))?)?")

_TIME = re.compile(r"time|zeit|uhr|hora|heure|\bora\b|tijd|klok|tid|aika|čas|godz")
_RUN_OF_TIME = re.compile(r"([01]\d|2[0-3])[0-5]\d([0-5]\d)?")

_WARMEST_CELSIUS = 45.0  # no room and no machine for eggs is above; in °F nearly every one of them is


@dataclass(frozen=True, slots=True)
class ColumnGuess:
    """The roles of the columns and what they rest on; `rivals` are columns that would do as well."""

    roles: tuple[ColumnRole, ...]
    basis: Basis
    rivals: tuple[int, ...] = ()


def guess_columns(rows: Sequence[SampleRow], names: Sequence[str], width: int) -> ColumnGuess:
    """Roles for the columns of data rows that all have this width; names may be blank."""
    roles = [ColumnRole.LEAVE_OUT] * width
    dates = _place_dates(rows, names, roles)
    named = {
        role: [
            column
            for column in range(width)
            if column not in dates
            and pattern.search(names[column].lower())
            and not _named_otherwise(names[column])
        ]
        for role, pattern in ((ColumnRole.TEMPERATURE, _TEMPERATURE), (ColumnRole.HUMIDITY, _HUMIDITY))
    }
    # "Temp./Humidity probe" speaks of both and so of neither.
    both = set(named[ColumnRole.TEMPERATURE]) & set(named[ColumnRole.HUMIDITY])
    numeric = [column for column in range(width) if column not in dates and _is_numeric(rows, column)]
    rivals: list[int] = []
    for role, columns in named.items():
        found = [column for column in columns if column not in both]
        found = [column for column in found if column in numeric] or found
        if found:
            roles[found[0]] = role
            rivals += found[1:]
    if ColumnRole.TEMPERATURE in roles or ColumnRole.HUMIDITY in roles:
        return ColumnGuess(tuple(roles), Basis.UNDECIDED if rivals else Basis.STATED, tuple(rivals))
    unnamed = {column for column in range(width) if not names[column]} if any(names) else set()
    open_columns = [
        column
        for column in numeric
        if not _named_otherwise(names[column])
        and column not in unnamed
        and not (column < min(dates, default=0) and _is_count(rows, column))
    ]
    return _by_values(rows, roles, open_columns)


def _named_otherwise(name: str) -> bool:
    return bool(_NEITHER.search(name.lower()))


def _place_dates(rows: Sequence[SampleRow], names: Sequence[str], roles: list[ColumnRole]) -> set[int]:
    """Gives the date columns their roles, and returns every column that holds dates or times."""

    def most(kind: CellKind) -> int | None:
        counts = [sum(row.kinds[column] is kind for row in rows) for column in range(len(roles))]
        best = max(range(len(roles)), key=lambda column: counts[column], default=None)
        return best if best is not None and counts[best] > 0.5 * len(rows) else None

    date_time, date, time = most(CellKind.DATE_TIME), most(CellKind.DATE), most(CellKind.TIME)
    dated = {
        column
        for column in range(len(roles))
        if sum(row.kinds[column] >= CellKind.DATE for row in rows) > 0.5 * len(rows)
    }
    if date_time is not None:
        roles[date_time] = ColumnRole.DATE_TIME
    elif date is not None:
        roles[date] = ColumnRole.DATE
        if time is None:
            time = next(
                (place for place in range(len(roles)) if _is_run_of_time(rows, names, place, date)), None
            )
        if time is not None:
            roles[time] = ColumnRole.TIME
            dated.add(time)
    return dated


def _is_run_of_time(rows: Sequence[SampleRow], names: Sequence[str], column: int, date: int) -> bool:
    """Whether a column beside a date holds times without colons: 0900 or 090000."""
    if not (_TIME.search(names[column].lower()) or (column == date + 1 and not names[column])):
        return False
    cells = [row.cells[column] for row in rows if row.cells[column]]
    return bool(cells) and all(_RUN_OF_TIME.fullmatch(cell) for cell in cells)


def _is_numeric(rows: Sequence[SampleRow], column: int) -> bool:
    filled = [row.kinds[column] for row in rows if row.kinds[column] is not CellKind.EMPTY]
    return bool(filled) and sum(kind is CellKind.NUMBER for kind in filled) >= 0.5 * len(filled)


def column_values(rows: Sequence[SampleRow], column: int) -> list[float]:
    """The numbers of one column."""
    found = (read_number(row.cells[column]) for row in rows if row.kinds[column] is CellKind.NUMBER)
    return [number[0] for number in found if number is not None]


def _is_count(rows: Sequence[SampleRow], column: int) -> bool:
    """Whether the column numbers the lines."""
    values = column_values(rows, column)
    if len(values) < 2 or any(value != int(value) for value in values):
        return False
    steps = [after - before for before, after in pairwise(values)]
    return sum(step == 1 for step in steps) >= 0.8 * len(steps)


def _like_temperature(value: float) -> bool:
    return 15 <= value <= _WARMEST_CELSIUS or 90 <= value <= 110


def _by_values(rows: Sequence[SampleRow], roles: list[ColumnRole], columns: list[int]) -> ColumnGuess:
    """Without telling names: a temperature near a room's or a machine's, and a share of 100."""
    middles = {column: median(column_values(rows, column)) for column in columns}
    warm = [column for column in columns if -40 <= middles[column] <= 185]
    moist = [column for column in columns if 1 <= middles[column] <= 100]
    likely = [column for column in warm if _like_temperature(middles[column])]
    if likely:
        temperature: int | None = likely[0]
    else:
        temperature = next((column for column in warm if column not in moist or len(moist) > 1), None)
    humidity = next((column for column in moist if column != temperature), None)
    if temperature is not None:
        roles[temperature] = ColumnRole.TEMPERATURE
    if humidity is not None:
        roles[humidity] = ColumnRole.HUMIDITY
    rest = tuple(column for column in columns if column not in (temperature, humidity))
    sure = len(likely) == 1 and humidity is not None and len(columns) == 2
    return ColumnGuess(tuple(roles), Basis.VALUES if sure else Basis.UNDECIDED, rest)


def guess_unit(rows: Sequence[SampleRow], name: str, column: int) -> tuple[TemperatureUnit, Basis]:
    """°C or °F: from the column's name, from units in its cells, from its values."""
    lowered = name.lower().strip()
    if _FAHRENHEIT.search(lowered):
        return TemperatureUnit.FAHRENHEIT, Basis.STATED
    if _CELSIUS.search(lowered):
        return TemperatureUnit.CELSIUS, Basis.STATED
    found = [number for row in rows if (number := read_number(row.cells[column])) is not None]
    units = [plan.unit for _, plan in found if plan.unit in (CellUnit.CELSIUS, CellUnit.FAHRENHEIT)]
    if units:
        fahrenheit = units.count(CellUnit.FAHRENHEIT) > len(units) / 2
        return (TemperatureUnit.FAHRENHEIT if fahrenheit else TemperatureUnit.CELSIUS), Basis.STATED
    if not found:
        return TemperatureUnit.CELSIUS, Basis.USUAL
    middle = median(value for value, _ in found)
    if middle > _WARMEST_CELSIUS:
        return TemperatureUnit.FAHRENHEIT, Basis.VALUES
    return TemperatureUnit.CELSIUS, Basis.USUAL


def stated_clock(names: Sequence[str]) -> tuple[TimeMeaning, int] | None:
    """UTC or an offset in minutes that the name of a date or time column states."""
    for name in names:
        match = _CLOCK.search(name.lower())
        if match is None:
            continue
        if match["sign"] is None:
            return TimeMeaning.UTC, 0
        minutes = int(match["hour"]) * 60 + int(match["minute"] or 0)
        if minutes == 0:
            return TimeMeaning.UTC, 0
        return TimeMeaning.FIXED_OFFSET, minutes if match["sign"] == "+" else -minutes
    return None
