"""Lines that cannot be used: each with its number, its text and its reason; whatever is good around them stays."""

from __future__ import annotations

import math

import pytest
from hatchbook.exchange.logger_file import Quantity, RejectReason

from .conftest import ReadText

FILE = """when;t_in;rh_in;state
03.05.2026 09:00;37,6;52,1;ok
03.05.2026 09:10;37,7;52,4;ok
13.05.2026 23:40;--;--;batt
13.05.2026 23:50;;;batt

;;;
14.05.2026 10:50;37,6;52,6;ok
14.05.2026 11:00;34,9;118,0;ok
14.05.2026 11:10;34,9;-0,1;ok
14.05.2026 11:20;85,1;50,0;ok
14.05.2026 11:30;-40,1;50,0;ok
14.05.2026 11:40;37,6;52,6;ok;more
14.05.2026 11:5
14.05.2026 12:00;37,7;41,6;ok
End of file
"""


def test_every_kind_of_bad_line_has_number_text_and_reason(read_text: ReadText) -> None:
    table = read_text(FILE)
    lines = FILE.splitlines()
    found = {line.number: (line.reason, line.quantity, line.value) for line in table.rejected}
    assert found == {
        4: (RejectReason.NO_NUMBER, None, None),
        5: (RejectReason.NO_NUMBER, None, None),
        9: (RejectReason.HUMIDITY_ABOVE_100, Quantity.HUMIDITY, 118.0),
        10: (RejectReason.HUMIDITY_BELOW_0, Quantity.HUMIDITY, -0.1),
        11: (RejectReason.TEMPERATURE_TOO_HIGH, Quantity.TEMPERATURE, 85.1),
        12: (RejectReason.TEMPERATURE_TOO_LOW, Quantity.TEMPERATURE, -40.1),
        13: (RejectReason.TOO_MANY_CELLS, None, None),
        14: (RejectReason.CUT_SHORT, None, None),
        16: (RejectReason.CUT_SHORT, None, None),
    }
    assert all(line.text == lines[line.number - 1] for line in table.rejected)
    assert (table.lines, table.header, table.blank, table.stored) == (16, 1, 2, 4)


@pytest.mark.parametrize(
    ("number", "sentence"),
    [
        (4, "line 4: no number in it: 13.05.2026 23:40;--;--;batt"),
        (9, "humidity over 100 %"),
        (14, "line cut short"),
    ],
)
def test_a_rejected_line_says_why_in_plain_english(read_text: ReadText, number: int, sentence: str) -> None:
    said = next(str(line) for line in read_text(FILE).rejected if line.number == number)
    assert sentence in said


def test_neighbours_with_one_reason_make_one_run(read_text: ReadText) -> None:
    runs = read_text(FILE).rejected_runs()
    assert [(run.first.number, run.last.number, run.count) for run in runs][:2] == [(4, 5, 2), (9, 9, 1)]


def test_range_limits_themselves_are_good(read_text: ReadText) -> None:
    table = read_text(
        "time;temp;hum\n2026-05-03 09:00;-40;0\n2026-05-03 09:10;85;100\n2026-05-03 09:20;37;50\n"
    )
    assert table.temperature_c.tolist() == [-40, 85, 37]


@pytest.mark.parametrize(
    "word", ["--", "NaN", "nan", "null", "N/A", "batt", "ERR", "inf", "1.2.3", "3 7", "-", "0x10"]
)
def test_one_unreadable_cell_costs_only_its_own_quantity(read_text: ReadText, word: str) -> None:
    table = read_text(f"time,temp,hum\n2026-05-03 09:00,37.6,52.1\n2026-05-03 09:10,{word},52.2\n")
    assert table.stored == 2
    assert math.isnan(table.temperature_c[1])
    assert table.humidity[1] == 52.2
    (partial,) = table.partial
    assert (partial.number, partial.missing, partial.cell) == (3, Quantity.TEMPERATURE, word)


def test_an_empty_cell_is_counted_and_no_fault(read_text: ReadText) -> None:
    table = read_text(
        "time,temp,hum\n2026-05-03 09:00,37.6,\n2026-05-03 09:10,37.6, \n2026-05-03 09:20,,52\n"
    )
    assert (table.stored, table.partial, table.rejected) == (3, (), ())
    assert (table.empty_temperature, table.empty_humidity) == (1, 2)


def test_a_number_with_the_wrong_unit_is_no_number(read_text: ReadText) -> None:
    table = read_text("time,temp,hum\n2026-05-03 09:00,37.6 °C,52 %\n2026-05-03 09:10,52 %,37.6 °C\n")
    assert [line.reason for line in table.rejected] == [RejectReason.NO_NUMBER]


def test_zero_bytes_of_a_power_cut_spoil_only_their_lines(read_text: ReadText) -> None:
    good = [f"2026-05-03 09:{minute:02},37.6,52.1\n" for minute in range(10)]
    table = read_text("".join([*good[:5], "2026-05-03 09:05,3" + "\0" * 512 + "\n", *good[6:], "\0" * 4096]))
    assert table.stored == 9
    assert [(line.number, line.reason) for line in table.rejected] == [
        (6, RejectReason.NOT_TEXT),
        (11, RejectReason.NOT_TEXT),
    ]
    assert max(len(line.text) for line in table.rejected) <= 301


@pytest.mark.parametrize("end", ["37.6,5", "37.6,52.", "37.6,"])
def test_a_last_line_cut_inside_its_last_number_is_not_believed(read_text: ReadText, end: str) -> None:
    whole = "".join(f"2026-05-03 09:{minute:02}:00,37.6,52.1\n" for minute in range(5))
    table = read_text(whole + "2026-05-03 09:05:00," + end)
    assert [line.reason for line in table.rejected] == [RejectReason.CUT_SHORT]
    assert read_text(whole + "2026-05-03 09:05:00,37.6,52.1").rejected == ()


def test_a_short_line_is_trusted_as_far_as_a_further_cell_closes_its_numbers(read_text: ReadText) -> None:
    table = read_text(
        "time,temp,hum,light,remark\n2026-05-03 09:00,37.6,52.1,4,\n2026-05-03 09:10,37.6,52.1,4,x\n"
        "2026-05-03 09:20,37.6,52.1,4\n2026-05-03 09:30,37.6,5\n"
    )
    assert table.stored == 3
    assert [(line.number, line.reason) for line in table.rejected] == [(5, RejectReason.CUT_SHORT)]


def test_a_quote_that_never_closes_spoils_only_its_line(read_text: ReadText) -> None:
    table = read_text(
        'time,temp,hum\n"2026-05-03 09:00",37.6,52\n"2026-05-03 09:10,37.6,52\n"2026-05-03 09:20",37.6,52\n'
    )
    assert table.stored == 2
    assert [line.number for line in table.rejected] == [3]


def test_an_overlong_line_is_rejected_and_shortened(read_text: ReadText) -> None:
    table = read_text("time,temp\n2026-05-03 09:00,37.6\n" + "x" * 200_000 + "\n2026-05-03 09:20,37.6\n")
    (line,) = table.rejected
    assert line.number == 3
    assert len(line.text) == 301
