"""Readings written to a file."""

from __future__ import annotations

import csv
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from hatchbook.exchange.logger_file import read_logger_file
from hatchbook.exchange.readings_file import HEADER, write_readings

LISBON = ZoneInfo("Europe/Lisbon")
# 2026-10-25: at 02:00 summer time the clocks in Lisbon go back to 01:00.
REPEATED = int(datetime(2026, 10, 25, 0, 30, tzinfo=ZoneInfo("UTC")).timestamp())


def rows_of(path: Path) -> list[list[str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.reader(file))


def test_each_reading_is_a_row_with_its_offset(tmp_path: Path) -> None:
    at = np.array([REPEATED, REPEATED + 3600])
    path = tmp_path / "readings.csv"
    assert write_readings(path, at, np.array([37.7, 37.65]), np.array([46.699999999996, 50.0]), LISBON) == 2
    assert rows_of(path) == [
        list(HEADER),
        ["2026-10-25T01:30:00+01:00", "37.7", "46.7"],
        ["2026-10-25T01:30:00+00:00", "37.65", "50"],
    ]


def test_what_was_not_measured_is_an_empty_cell_and_a_row_of_nothing_is_left_out(tmp_path: Path) -> None:
    nan = float("nan")
    path = tmp_path / "readings.csv"
    at = np.array([0, 60, 120])
    assert write_readings(path, at, np.array([nan, 37.0, nan]), np.array([45.0, nan, nan]), LISBON) == 2
    assert [row[1:] for row in rows_of(path)[1:]] == [["", "45"], ["37", ""]]


def test_the_own_import_reads_it_back(tmp_path: Path) -> None:
    at = REPEATED + np.arange(0, 40 * 600, 600)
    warmth, humidity = np.linspace(37.1, 37.9, at.size).round(2), np.linspace(40, 55, at.size).round(1)
    path = tmp_path / "readings.csv"
    write_readings(path, at, warmth, humidity, LISBON)
    table = read_logger_file(path)
    assert table.at.tolist() == at.tolist()
    assert table.temperature_c.tolist() == pytest.approx(warmth.tolist())
    assert table.humidity.tolist() == pytest.approx(humidity.tolist())
    assert not table.rejected


def test_a_file_that_cannot_be_finished_leaves_the_old_one_and_nothing_else(tmp_path: Path) -> None:
    path = tmp_path / "readings.csv"
    path.write_text("older\n", encoding="utf-8")
    at = np.arange(3)

    def breaks(_share: float) -> bool:
        raise OSError(28, "No space left on device")

    with pytest.raises(OSError, match="No space"):
        write_readings(path, at, np.ones(3), np.ones(3), LISBON, progress=breaks)
    assert path.read_text(encoding="utf-8") == "older\n"
    assert list(tmp_path.iterdir()) == [path]


def test_stopping_leaves_nothing_behind(tmp_path: Path) -> None:
    told: list[float] = []
    at = np.arange(25_000)

    def stop(share: float) -> bool:
        told.append(share)
        return len(told) < 2

    path = tmp_path / "readings.csv"
    assert write_readings(path, at, np.ones(at.size), np.ones(at.size), LISBON, progress=stop) == 0
    assert told == [0.4, 0.8]
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_is_not_there_is_an_os_error(tmp_path: Path) -> None:
    with pytest.raises(OSError, match="No such file"):
        write_readings(tmp_path / "none" / "readings.csv", np.arange(1), np.ones(1), np.ones(1), LISBON)


def test_columns_of_different_lengths_are_refused(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="one temperature and one humidity"):
        write_readings(tmp_path / "x.csv", np.arange(2), np.ones(1), np.ones(2), LISBON)
