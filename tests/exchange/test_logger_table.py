"""What a read file tells about itself: preview, silences, stuck values, progress; and files that are refused."""

from __future__ import annotations

from pathlib import Path

import pytest
from hatchbook.exchange.logger_file import (
    Cancelled,
    LoggerFileError,
    LoggerFileProblem,
    Quantity,
    RejectReason,
    read_logger_file,
)
from hatchbook.exchange.loggers.line_reading import BLOCK_LINES

from .conftest import ReadText


def ten_minutely(count: int, temperature: str = "37.6", start_min: int = 0) -> list[str]:
    """Lines every ten minutes from midnight on; humidity never stands still."""
    return [
        f"2026-05-{1 + minute // 1440:02} {minute // 60 % 24:02}:{minute % 60:02},{temperature},{40 + minute % 7}\n"
        for minute in range(start_min, start_min + 10 * count, 10)
    ]


def test_the_preview_shows_the_first_lines_and_each_kind_of_bad_line_once(read_text: ReadText) -> None:
    lines = ["time,temp,hum\n", *ten_minutely(100)]
    for number, temperature in ((51, "99"), (61, "-41"), (71, "99")):
        lines[number - 1] = lines[number - 1].replace("37.6", temperature)
    rows = read_text("".join(lines)).preview(3)
    assert [row.number for row in rows] == [2, 3, 4, 50, 51, 52, 60, 61, 62, 101]
    assert [row.reason for row in rows if row.number in (51, 61)] == [
        RejectReason.TEMPERATURE_TOO_HIGH,
        RejectReason.TEMPERATURE_TOO_LOW,
    ]
    assert all(row.reason is None for row in rows if row.number not in (51, 61))
    flagged = next(row for row in rows if row.number == 51)
    assert flagged.cells == ("2026-05-01 08:10", "99", "40")
    assert flagged.bad_columns == (1,)


def test_the_preview_shows_a_bad_line_among_the_first(read_text: ReadText) -> None:
    rows = read_text(
        "time,temp\n2026-05-01 00:00,37.6\n2026-05-01 00:10,--\n2026-05-01 00:20,37.6\n"
    ).preview(1)
    assert [(row.number, row.reason) for row in rows][:2] == [(2, None), (3, RejectReason.NO_NUMBER)]


def test_a_silence_is_named_with_its_ends(read_text: ReadText) -> None:
    table = read_text("".join(ten_minutely(20) + ten_minutely(20, start_min=860)))
    (gap,) = table.gaps
    assert (gap.start_s - table.at[0], gap.end_s - table.at[0]) == (190 * 60, 860 * 60)
    assert gap.seconds == 670 * 60
    assert table.spacing_s == 600


def test_half_an_hour_without_readings_is_no_silence(read_text: ReadText) -> None:
    assert read_text("".join(ten_minutely(20) + ten_minutely(20, start_min=240))).gaps == ()


def test_a_value_that_never_moves_is_named(read_text: ReadText) -> None:
    moving = [line.replace("37.6", f"37.{place % 5}") for place, line in enumerate(ten_minutely(50))]
    stuck = ten_minutely(80, "36.9", start_min=500)
    table = read_text("".join(moving + stuck))
    (stretch,) = table.stuck
    assert (stretch.quantity, stretch.value) == (Quantity.TEMPERATURE, 36.9)
    assert (stretch.start_s - table.at[0], stretch.end_s - table.at[0]) == (500 * 60, 1290 * 60)


def test_a_value_that_stands_for_some_hours_is_not_stuck(read_text: ReadText) -> None:
    assert read_text("".join(ten_minutely(72))).stuck == ()


def test_progress_runs_from_0_to_1(tmp_path: Path) -> None:
    path = tmp_path / "long.csv"
    path.write_text(
        "".join(f"{1_700_000_000 + step},37.6,5{step % 10}\n" for step in range(BLOCK_LINES * 2 + 5))
    )
    shares: list[float] = []
    table = read_logger_file(path, progress=shares.append)
    assert table.stored == BLOCK_LINES * 2 + 5
    assert shares == sorted(shares)
    assert (shares[0], shares[-1]) == (0.0, 1.0)
    assert len(shares) >= 6


@pytest.mark.parametrize("asked", [1, 2, 3, 4])
def test_reading_stops_at_the_next_block_when_it_is_cancelled(tmp_path: Path, asked: int) -> None:
    path = tmp_path / "long.csv"
    path.write_text("".join(f"{1_700_000_000 + step},37.6,52\n" for step in range(BLOCK_LINES + 5)))
    answers = iter([False] * (asked - 1) + [True])
    with pytest.raises(Cancelled):
        read_logger_file(path, cancelled=lambda: next(answers))


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"\n \n\t\r\n",
        b"\xef\xbb\xbf",
        b"\xff\xfe",
        b"\0" * 5000,
        b"SQLite format 3\0" + bytes(range(256)) * 20,
        b"\x89PNG\r\n\x1a\n" + bytes(range(256)) * 20,
        bytes(range(256)) * 1000,
    ],
)
def test_what_is_empty_or_no_text_is_refused(read_text: ReadText, data: bytes) -> None:
    with pytest.raises(LoggerFileError) as caught:
        read_text(data)
    assert caught.value.problem is LoggerFileProblem.NOT_TEXT_OR_EMPTY
    assert str(caught.value) == "This file is not text, or is empty."


def test_a_missing_file_and_a_folder_are_refused_with_a_sentence(tmp_path: Path) -> None:
    for path in (tmp_path / "nowhere.csv", tmp_path):
        with pytest.raises(LoggerFileError, match="cannot be opened") as caught:
            read_logger_file(path)
        assert caught.value.problem is LoggerFileProblem.CANNOT_BE_OPENED
        assert caught.value.detail


@pytest.mark.parametrize("begins", [b"PK\x03\x04", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"])
def test_a_spreadsheets_own_file_is_told_from_any_other_that_is_not_text(
    tmp_path: Path, begins: bytes
) -> None:
    path = tmp_path / "logger.xlsx"
    path.write_bytes(begins + bytes(range(256)) * 20)
    with pytest.raises(LoggerFileError, match="Save it as CSV") as caught:
        read_logger_file(path)
    assert caught.value.problem is LoggerFileProblem.WORKBOOK
