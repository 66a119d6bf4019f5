"""What holds for every logger file: values come back, every line is accounted for, nothing crashes."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from dataclasses import dataclass, fields
from datetime import UTC, datetime, timedelta
from enum import StrEnum
from pathlib import Path

import numpy as np
import pytest
from hatchbook.exchange.logger_file import (
    ColumnRole,
    DateForm,
    DateOrder,
    DecimalSign,
    Encoding,
    HourClock,
    LayoutHints,
    LoggerFileError,
    LoggerTable,
    RepeatedHour,
    Separator,
    TemperatureUnit,
    TimeMeaning,
    read_logger_file,
)
from hatchbook.exchange.loggers.line_parsing import LinePattern, TextLines, cut_block
from hatchbook.exchange.loggers.line_splitting import is_blank, split_line
from hatchbook.exchange.loggers.rejects import LineFate
from hypothesis import given, settings
from hypothesis import strategies as st

Write = Callable[[bytes], Path]


@pytest.fixture(scope="module")
def write(tmp_path_factory: pytest.TempPathFactory) -> Write:
    """Writes bytes to one file, over and over."""
    path = tmp_path_factory.mktemp("logger") / "file.txt"

    def to_file(data: bytes) -> Path:
        path.write_bytes(data)
        return path

    return to_file


def assert_sound(table: LoggerTable) -> None:
    """The promises of a table that do not depend on what is in the file."""
    accounted = table.header + table.preamble + table.blank + table.stored + table.duplicates
    assert table.lines == accounted + len(table.rejected)
    assert (np.diff(table.at) > 0).all()
    assert table.at.size == table.temperature_c.size == table.humidity.size == table.line_numbers.size
    assert not (np.isnan(table.temperature_c) & np.isnan(table.humidity)).any()
    assert not (table.humidity < 0).any()
    assert not (table.humidity > 100).any()
    assert not np.isinf(table.temperature_c).any()
    numbers = [line.number for line in table.rejected]
    assert numbers == sorted(set(numbers))
    placed = set(numbers) | set(table.line_numbers.tolist()) | set(table.duplicate_lines.tolist())
    assert len(placed) == len(numbers) + table.stored + table.duplicates


DATE_FORMS = {
    "%Y-%m-%d %H:%M:%S": None,
    "%Y-%m-%dT%H:%M:%S": None,
    "%Y/%m/%d %H:%M:%S": None,
    "%Y%m%d %H%M%S": None,
    "%d.%m.%Y %H:%M:%S": DateOrder.DAY_MONTH_YEAR,
    "%d/%m/%Y %H:%M:%S": DateOrder.DAY_MONTH_YEAR,
    "%m/%d/%Y %I:%M:%S %p": DateOrder.MONTH_DAY_YEAR,
    "%d.%m.%y %H:%M:%S": DateOrder.DAY_MONTH_YEAR,
    "%m-%d-%y %H:%M:%S": DateOrder.MONTH_DAY_YEAR,
    "%d %b %Y %H:%M:%S": None,
}


@dataclass
class Written:
    """A table and the file it was written to."""

    data: bytes
    at: list[int]
    temperature: list[float]
    humidity: list[float]
    order: DateOrder | None


@st.composite
def written_files(draw: st.DrawFn) -> Written:
    """A table written as some logger would write it."""
    count = draw(st.integers(1, 40))
    start = draw(st.datetimes(datetime(2012, 1, 1), datetime(2038, 1, 1)))  # noqa: DTZ001 - UTC is set below
    start = start.replace(microsecond=0, tzinfo=UTC)
    steps = draw(st.lists(st.integers(1, 200_000), min_size=count - 1, max_size=count - 1))
    instants = [start]
    for step in steps:
        instants.append(instants[-1] + timedelta(seconds=step))
    decimals = draw(st.integers(0, 4))
    temperature = [round(draw(st.floats(-40, 44)), decimals) + 0.0 for _ in range(count)]
    humidity = [round(draw(st.floats(0, 100)), decimals) + 0.0 for _ in range(count)]
    separator = draw(st.sampled_from([",", ";", "\t", "|"]))
    point = draw(st.sampled_from([".", ","]))
    form, order = draw(st.sampled_from(sorted(DATE_FORMS.items())))
    two_columns = " %" in form and draw(st.booleans())
    quoting = csv.QUOTE_ALL if draw(st.booleans()) else csv.QUOTE_MINIMAL
    line_end = draw(st.sampled_from(["\n", "\r\n"]))
    index = draw(st.sampled_from(["no", "named", "unnamed"]))
    out = io.StringIO()
    for line in draw(
        st.lists(st.sampled_from(["Logger 3", "Serial no. 17", "", "Interval: 600 s"]), max_size=4)
    ):
        out.write(line + line_end)
    writer = csv.writer(out, delimiter=separator, quoting=quoting, lineterminator=line_end)
    dates = ["date", "time"] if two_columns else ["date"]
    writer.writerow([*(["no."] if index == "named" else []), *dates, "Temp °C", "Humidity %", "remark"])
    for place, instant in enumerate(instants):
        shown = instant.strftime(form)
        day, _, clock = shown.rpartition(" ") if form.count(" ") < 2 or "%b" in form else shown.partition(" ")
        numbers = [
            f"{value:.{decimals}f}".replace(".", point) for value in (temperature[place], humidity[place])
        ]
        cells = [
            *([day, clock] if two_columns else [shown]),
            *numbers,
            draw(st.sampled_from(["", "ok", "lid, open"])),
        ]
        writer.writerow([*([str(place + 1)] if index != "no" else []), *cells])
    encoding = draw(st.sampled_from(["utf-8", "utf-8-sig", "utf-16", "latin-1"]))
    return Written(
        out.getvalue().encode(encoding),
        [int(instant.timestamp()) for instant in instants],
        temperature,
        humidity,
        order,
    )


@settings(max_examples=300)
@given(written=written_files())
def test_whatever_a_logger_writes_comes_back(write: Write, written: Written) -> None:
    # The order of day and month and °C are the two things that a file may not tell.
    hints = LayoutHints(date_order=written.order, temperature_unit=TemperatureUnit.CELSIUS)
    table = read_logger_file(write(written.data), hints=hints)
    assert_sound(table)
    assert table.rejected == table.partial == ()
    assert table.at.tolist() == written.at
    assert table.temperature_c.tolist() == written.temperature
    assert table.humidity.tolist() == written.humidity
    again = read_logger_file(write(written.data), layout=table.layout)
    assert again.at.tolist() == written.at


def good_line(minute: int, temperature: int, humidity: int) -> str:
    when = f"2026-05-{3 + minute // 1440:02} {minute // 60 % 24:02}:{minute % 60:02}"
    return f"{when},{temperature},{humidity}"


GOOD_LINE = st.builds(good_line, st.integers(0, 3000), st.integers(36, 39), st.integers(40, 60))
CHARACTERS = st.sampled_from("0123456789.,;:-/ \t|\"'°CF%aPM\u00a0é\0x")
ODD_LINE = st.one_of(
    st.text(CHARACTERS, max_size=40),
    st.sampled_from(
        ["", ";;", ",,", "time,temp,hum", "2026-05-03 09:00", "2026-05-03 09:00,--,--", "End", '"']
    ),
    GOOD_LINE.flatmap(lambda line: st.integers(0, len(line)).map(lambda cut: line[:cut])),
    GOOD_LINE.map(lambda line: line + ",x"),
)


@settings(max_examples=400)
@given(
    head=st.lists(GOOD_LINE, min_size=1, max_size=4),
    lines=st.lists(st.one_of(GOOD_LINE, ODD_LINE), max_size=40),
    end=st.sampled_from(["", "\n", "\r\n"]),
)
def test_every_line_ends_in_exactly_one_place(
    write: Write, head: list[str], lines: list[str], end: str
) -> None:
    data = ("\n".join(head + lines) + end).encode()
    try:
        table = read_logger_file(write(data), zone="Europe/Lisbon")
    except LoggerFileError:
        return
    assert_sound(table)


@settings(max_examples=400)
@given(
    data=st.one_of(
        st.binary(max_size=600), st.text(CHARACTERS, max_size=600).map(str.encode), st.text().map(str.encode)
    )
)
def test_no_bytes_crash_the_reader(write: Write, data: bytes) -> None:
    try:
        table = read_logger_file(write(data))
    except LoggerFileError:
        return
    assert_sound(table)


@settings(max_examples=400)
@given(
    lines=st.lists(st.text(st.sampled_from('12.ab"\u00e9 \t;,|'), max_size=14), min_size=1, max_size=12),
    separator=st.sampled_from(list(Separator)),
    width=st.integers(1, 4),
)
def test_lines_cut_together_are_cut_as_one_by_one(lines: list[str], separator: Separator, width: int) -> None:
    text = TextLines(("\n".join(lines) + "\n").encode())
    cut = cut_block(text, 0, len(lines), LinePattern(separator, width, tuple(range(width)), ""))
    for row, line in enumerate(lines):
        if is_blank(line, separator):
            continue
        cells = split_line(line, separator)
        fits = len(cells) >= width and not any(cells[width:])
        assert (cut.fates[row] == LineFate.STORED) == fits
        if fits:
            found = [
                cut.buffer[cut.start[place, row] : cut.end[place, row]].tobytes() for place in range(width)
            ]
            assert [cell.decode().strip() for cell in found] == cells[:width]


def some(kind: type[StrEnum]) -> st.SearchStrategy[StrEnum | None]:
    return st.none() | st.sampled_from(list(kind))


ANY_HINTS = st.builds(
    LayoutHints,
    encoding=some(Encoding),
    separator=some(Separator),
    decimal=some(DecimalSign),
    columns=st.none() | st.lists(st.sampled_from(list(ColumnRole)), max_size=6).map(tuple),
    header_line=st.none() | st.integers(0, 30),
    data_line=st.none() | st.integers(1, 30),
    date_form=some(DateForm),
    date_order=some(DateOrder),
    hour_clock=some(HourClock),
    time_meaning=some(TimeMeaning),
    offset_minutes=st.none() | st.integers(-1439, 1439),
    temperature_unit=some(TemperatureUnit),
    repeated_hour=some(RepeatedHour),
)


@settings(max_examples=400)
@given(lines=st.lists(st.one_of(GOOD_LINE, ODD_LINE), max_size=20), hints=ANY_HINTS)
def test_no_choice_of_layout_crashes_the_reader(write: Write, lines: list[str], hints: LayoutHints) -> None:
    try:
        table = read_logger_file(write("\n".join(lines).encode()), zone="Europe/Lisbon", hints=hints)
    except LoggerFileError:
        return
    assert_sound(table)
    chosen = {field.name: getattr(hints, field.name) for field in fields(hints)}
    for name in ("separator", "decimal", "date_form", "date_order", "temperature_unit", "repeated_hour"):
        assert chosen[name] in (None, getattr(table.layout, name))


CELLS = st.text(st.sampled_from("0123456789-:/. TZ+apmM"), max_size=24)


@settings(max_examples=300)
@given(cells=st.lists(st.tuples(CELLS, CELLS), max_size=8), twelve=st.booleans())
def test_no_cell_crashes_the_reader(write: Write, cells: list[tuple[str, str]], twelve: bool) -> None:
    first = "2026-05-03 09:00 AM" if twelve else "2026-05-03 09:00"
    lines = [f"{first};37.6", *(";".join(pair) for pair in cells)]
    hints = LayoutHints(separator=Separator.SEMICOLON, columns=(ColumnRole.DATE_TIME, ColumnRole.TEMPERATURE))
    table = read_logger_file(write("\n".join(lines).encode()), zone="America/New_York", hints=hints)
    assert_sound(table)
