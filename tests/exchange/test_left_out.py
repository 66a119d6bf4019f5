"""Lines that do not come in: runs of one reason, and reasons as the journal keeps them."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hatchbook.exchange.left_out import NO_HUMIDITY, LeftOut, LeftOutLine, left_out_runs
from hatchbook.journal.reject_codes import coded_reason, read_reason


def test_neighbours_of_one_reason_are_one_run_with_what_they_share() -> None:
    back = LeftOutLine(8, "x", "time_runs_backwards", {"by_s": 3600.0})
    lines = [
        LeftOutLine(3, "a;--", "no_number"),
        LeftOutLine(5, "b;--", "no_number"),
        LeftOutLine(6, "c;--", "no_number"),
        LeftOutLine(7, "d", "cut_short"),
        back,
        replace(back, number=9),
        replace(back, number=10, fields={"by_s": 600.0}),
    ]
    runs = left_out_runs(lines)
    assert [(run.first, run.last, run.count, run.text) for run in runs] == [
        (3, 3, 1, "a;--"),
        (5, 6, 2, ""),
        (7, 7, 1, "d"),
        (8, 10, 3, ""),
    ]
    assert runs[3].fields == {}
    assert left_out_runs(lines[4:6])[0].fields == {"by_s": 3600.0}


def test_lines_are_put_in_the_order_of_the_file_and_counted() -> None:
    partial, whole = LeftOutLine(9, "x", NO_HUMIDITY), LeftOutLine(4, "y", "no_date")
    left_out = LeftOut.of([partial, whole])
    assert left_out.lines == (whole, partial)
    assert (left_out.dropped, left_out.codes) == (1, {"no_date", NO_HUMIDITY})
    assert partial.comes_in
    assert not whole.comes_in


@pytest.mark.parametrize(
    ("code", "fields", "text"),
    [
        ("no_date", {}, "no_date"),
        ("time_runs_backwards", {"by_s": 3600}, "time_runs_backwards by_s=3600"),
        (
            "differs",
            {"temperature_c": 37.6, "humidity": 52.125},
            "differs temperature_c=37.6 humidity=52.125",
        ),
    ],
)
def test_a_reason_is_kept_with_its_numbers_and_read_again(
    code: str, fields: dict[str, float], text: str
) -> None:
    assert coded_reason(code, **fields) == text
    assert read_reason(text) == (code, fields)


def test_numbers_that_are_not_known_are_left_out_of_a_reason() -> None:
    assert coded_reason("differs", temperature_c=math.nan, humidity=None) == "differs"
    assert read_reason("differs by_s=soon humidity=3") == ("differs", {"humidity": 3.0})
