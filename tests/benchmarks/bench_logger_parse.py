"""How long reading and checking a million logger lines takes, beside storing the same rows and beside pandas.

Told only: what is promised is the whole import.
"""

from __future__ import annotations

import sqlite3
import tempfile
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pandas
from hatchbook.exchange.logger_file import LoggerTable, read_logger_file
from result import Result, best_of, seconds

ROUNDS = 3


def write_plain(path: Path, lines: int) -> None:
    """`2026-05-03 09:00:00,37.6,52.1`, one line a second."""
    start = datetime(2026, 5, 3, 9, tzinfo=UTC)
    with path.open("w", encoding="utf-8") as file:
        for n in range(lines):
            when = start + timedelta(seconds=n)
            file.write(f"{when:%Y-%m-%d %H:%M:%S},{37 + n * 7 % 13 / 10:.1f},{45 + n * 11 % 200 / 10:.1f}\n")


def write_quoted(path: Path, lines: int) -> None:
    """The same with a header, day first, decimal comma, AM and PM, quotes, °F and some empty cells, in UTF-16."""
    start = datetime(2026, 5, 3, 9, tzinfo=UTC)
    with path.open("w", encoding="utf-16") as file:
        file.write('"No.";"Date";"Time";"Temp °F";"RH %"\n')
        for n in range(lines):
            when = start + timedelta(seconds=n)
            temperature = "" if n % 1000 == 0 else f"{99 + n * 7 % 13 / 10:.1f}".replace(".", ",")
            humidity = f"{45 + n * 11 % 200 / 10:.1f}".replace(".", ",")
            file.write(f'"{n}";"{when:%d/%m/%Y}";"{when:%I:%M:%S %p}";"{temperature}";"{humidity}"\n')


def store(table: LoggerTable) -> None:
    """The readings into a bare table with sqlite3."""
    rows = list(zip(table.at.tolist(), table.temperature_c.tolist(), table.humidity.tolist(), strict=True))
    with tempfile.TemporaryDirectory() as folder:
        connection = sqlite3.connect(Path(folder) / "readings.db")
        connection.execute(
            "CREATE TABLE reading (at INTEGER PRIMARY KEY, temperature REAL, humidity REAL) STRICT"
        )
        connection.executemany("INSERT INTO reading VALUES (?, ?, ?)", rows)
        connection.commit()
        connection.close()


def with_pandas(path: Path) -> None:
    """What pandas needs for the plain file, unchecked."""
    frame = pandas.read_csv(path, header=None, names=["at", "temperature", "humidity"])
    frame["at"] = pandas.to_datetime(frame["at"])


def run(lines: int = 1_000_000) -> list[Result]:
    """The plain file and a hard one, beside storing the rows and beside pandas reading the plain one unchecked."""
    with tempfile.TemporaryDirectory() as folder:
        plain, quoted = Path(folder) / "plain.csv", Path(folder) / "quoted.csv"
        write_plain(plain, lines)
        write_quoted(quoted, lines)
        table = read_logger_file(plain)
        assert table.stored == lines
        assert read_logger_file(quoted, zone="Europe/Lisbon").stored == lines
        read_plain, read_quoted, stored, pandas_read = best_of(
            ROUNDS,
            lambda: seconds(lambda: read_logger_file(plain)),
            lambda: seconds(lambda: read_logger_file(quoted, zone="Europe/Lisbon")),
            lambda: seconds(lambda: store(table)),
            lambda: seconds(lambda: with_pandas(plain)),
        )
    count = f"{lines:,} lines"
    return [
        Result(f"reading {count} / executemany", read_plain, stored),
        Result(f"reading {count}, quoted, UTF-16 / executemany", read_quoted, stored),
        Result(f"reading {count} / pandas read_csv, to_datetime", read_plain, pandas_read),
    ]
