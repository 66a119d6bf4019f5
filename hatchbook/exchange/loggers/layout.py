"""How a logger file is laid out: what was guessed, what was chosen, and what each guess rests on."""

from __future__ import annotations

from dataclasses import dataclass, fields
from enum import StrEnum


class Encoding(StrEnum):
    """How the file's bytes stand for letters."""

    UTF_8 = "utf-8"
    UTF_16_LE = "utf-16-le"
    UTF_16_BE = "utf-16-be"
    LATIN_1 = "latin-1"


class Separator(StrEnum):
    """What parts the columns."""

    COMMA = ","
    SEMICOLON = ";"
    TAB = "\t"
    BAR = "|"
    SPACES = " "


class DecimalSign(StrEnum):
    """What parts the whole number from its fraction."""

    POINT = "."
    COMMA = ","


class DateOrder(StrEnum):
    """The order of day, month and year in dates that do not begin with a four-digit year."""

    YEAR_MONTH_DAY = "ymd"
    DAY_MONTH_YEAR = "dmy"
    MONTH_DAY_YEAR = "mdy"


class DateForm(StrEnum):
    """What the date cells hold: a calendar date, or a running count."""

    CALENDAR = "calendar"
    EPOCH_SECONDS = "epoch_seconds"
    EPOCH_MILLISECONDS = "epoch_milliseconds"
    SPREADSHEET_DAYS = "spreadsheet_days"


class HourClock(StrEnum):
    """Whether AM and PM count; with `TWENTY_FOUR` such marks are passed over."""

    TWENTY_FOUR = "24"
    TWELVE = "12"


class TimeMeaning(StrEnum):
    """Which clock the file's times come from.

    With `IN_FILE` every line carries its own offset; with the others a written offset is passed over.
    """

    HOME_ZONE = "home_zone"
    UTC = "utc"
    FIXED_OFFSET = "fixed_offset"
    IN_FILE = "in_file"


class RepeatedHour(StrEnum):
    """How a stretch in the hour that autumn repeats is read, if it occurs only once in the file.

    A stretch that runs through the hour twice is always read in its order: first summer, then winter time.
    """

    BY_NEIGHBOURS = "by_neighbours"
    FIRST = "first"
    SECOND = "second"


class TemperatureUnit(StrEnum):
    """The unit of the temperature column; a unit written in a cell itself wins for that cell."""

    CELSIUS = "C"
    FAHRENHEIT = "F"


class ColumnRole(StrEnum):
    """What a column holds."""

    LEAVE_OUT = "leave_out"
    DATE_TIME = "date_time"
    DATE = "date"
    TIME = "time"
    TEMPERATURE = "temperature"
    HUMIDITY = "humidity"


class Basis(StrEnum):
    """What a value of the layout rests on. Only `UNDECIDED` has to be asked."""

    GIVEN = "given"  # chosen by the caller
    STATED = "stated"  # the file says so: a header, a unit, an offset, a mark
    VALUES = "values"  # only this reading fits the values
    USUAL = "usual"  # nothing speaks for or against it: what loggers mostly do
    UNDECIDED = "undecided"  # another reading fits just as well


class LayoutField(StrEnum):
    """The names of a layout's fields."""

    ENCODING = "encoding"
    SEPARATOR = "separator"
    DECIMAL = "decimal"
    COLUMNS = "columns"
    HEADER_LINE = "header_line"
    DATA_LINE = "data_line"
    DATE_FORM = "date_form"
    DATE_ORDER = "date_order"
    HOUR_CLOCK = "hour_clock"
    TIME_MEANING = "time_meaning"
    OFFSET_MINUTES = "offset_minutes"
    TEMPERATURE_UNIT = "temperature_unit"
    REPEATED_HOUR = "repeated_hour"


@dataclass(frozen=True, slots=True)
class Layout:
    """Everything that was used to read a file; change a copy with `dataclasses.replace` and read again."""

    encoding: Encoding
    separator: Separator
    decimal: DecimalSign
    columns: tuple[ColumnRole, ...]
    header_line: int  # line of the column names, counted from 1; 0: none
    data_line: int  # first line that is read as data, counted from 1
    date_form: DateForm = DateForm.CALENDAR
    date_order: DateOrder = DateOrder.YEAR_MONTH_DAY
    hour_clock: HourClock = HourClock.TWENTY_FOUR
    time_meaning: TimeMeaning = TimeMeaning.HOME_ZONE
    offset_minutes: int = 0  # east of Greenwich positive; counts with FIXED_OFFSET only
    temperature_unit: TemperatureUnit = TemperatureUnit.CELSIUS
    repeated_hour: RepeatedHour = RepeatedHour.BY_NEIGHBOURS

    def first(self, role: ColumnRole) -> int | None:
        """The first column with this role, counted from 0."""
        return self.columns.index(role) if role in self.columns else None

    @property
    def has_date(self) -> bool:
        """Whether some column holds the date."""
        return ColumnRole.DATE_TIME in self.columns or ColumnRole.DATE in self.columns

    @property
    def has_values(self) -> bool:
        """Whether some column holds a temperature or a humidity."""
        return ColumnRole.TEMPERATURE in self.columns or ColumnRole.HUMIDITY in self.columns


@dataclass(frozen=True, slots=True)
class LayoutHints:
    """What the caller has chosen of a layout; whatever is None is guessed around it.

    A dialog collects the breeder's choices here, so that after another separator the columns are guessed anew.
    """

    encoding: Encoding | None = None
    separator: Separator | None = None
    decimal: DecimalSign | None = None
    columns: tuple[ColumnRole, ...] | None = None
    header_line: int | None = None
    data_line: int | None = None
    date_form: DateForm | None = None
    date_order: DateOrder | None = None
    hour_clock: HourClock | None = None
    time_meaning: TimeMeaning | None = None
    offset_minutes: int | None = None
    temperature_unit: TemperatureUnit | None = None
    repeated_hour: RepeatedHour | None = None

    @classmethod
    def from_layout(cls, layout: Layout) -> LayoutHints:
        """Hints that leave nothing to guess."""
        return cls(**{field.name: getattr(layout, field.name) for field in fields(cls)})


@dataclass(frozen=True, slots=True)
class Guess:
    """What one field of the layout rests on, and which other values would read the file as well."""

    field: LayoutField
    basis: Basis
    others: tuple[str, ...] = ()
