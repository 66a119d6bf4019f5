"""How long reading and checking a million logger lines takes, beside storing the same rows and beside pandas.

Run by hand: `.venv/bin/python tests/benchmarks/bench_logger_parse.py [LINES]`.
"""

from __future__ import annotations

import sqlite3
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pandas
from hatchbook.exchange.logger_file import LoggerTable, read_logger_file

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


def quickest(work: Callable[[], object]) -> float:
    """Seconds of the quickest of some rounds."""
    times = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times)


def measure(lines: int = 1_000_000) -> dict[str, float]:
    """Seconds for each way, all in one run."""
    with tempfile.TemporaryDirectory() as folder:
        plain, quoted = Path(folder) / "plain.csv", Path(folder) / "quoted.csv"
        write_plain(plain, lines)
        write_quoted(quoted, lines)
        table = read_logger_file(plain)
        assert table.stored == lines
        assert read_logger_file(quoted, zone="Europe/Lisbon").stored == lines
        return {
            "read_plain": quickest(lambda: read_logger_file(plain)),
            "read_quoted": quickest(lambda: read_logger_file(quoted, zone="Europe/Lisbon")),
            "executemany": quickest(lambda: store(table)),
            "pandas": quickest(lambda: with_pandas(plain)),
        }


def main() -> None:
    lines = int(sys.argv[1]) if len(sys.argv) > 1 else 1_000_000
    seconds = measure(lines)
    print(f"{lines} lines")
    for name, taken in seconds.items():
        print(f"{name:12} {taken:6.2f} s   {taken / seconds['executemany']:5.2f} x executemany")


if __name__ == "__main__":
    main()
