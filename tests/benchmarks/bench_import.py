"""Importing a logger's file of a million lines: read, checked, stored as one undo step."""

from __future__ import annotations

import sqlite3
import tempfile
from collections.abc import Callable
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pandas
from hatchbook.exchange.logger_file import LoggerTable, read_logger_file
from hatchbook.journal import Journal, NewReadings
from result import Result, best_of, seconds

LINES = 1_000_000
ROUNDS = 3
INSERT = "INSERT INTO reading (probe, at, temperature_c, humidity, import_run) VALUES (?, ?, ?, ?, ?)"


def plain(moment: datetime, temperature_c: float, humidity: float) -> str:
    """A line with an ISO date, decimal points and commas."""
    return f"{moment:%Y-%m-%d %H:%M:%S},{temperature_c:.2f},{humidity:.1f}"


def continental(moment: datetime, temperature_c: float, humidity: float) -> str:
    """A line with day before month, decimal commas and semicolons."""
    values = f"{temperature_c:.2f};{humidity:.1f}".replace(".", ",")
    return f"{moment:%d.%m.%Y %H:%M};{values}"


def write(path: Path, header: str, line: Callable[[datetime, float, float], str]) -> None:
    """A file of a logger that writes once a minute."""
    start = datetime(2024, 1, 1, tzinfo=UTC)
    with path.open("w", encoding="utf-8") as file:
        file.write(header + "\n")
        for n in range(LINES):
            moment = start + timedelta(minutes=n)
            file.write(line(moment, 37.2 + n % 61 / 100, 42 + n % 83 / 10) + "\n")


def new_readings(path: Path, table: LoggerTable) -> NewReadings:
    """What the reader gives, as the journal takes it."""
    rejects = [(line.number, line.text, str(line.reason)) for line in table.rejected]
    return NewReadings(
        path.name, "", "{}", table.lines, table.at, table.temperature_c, table.humidity, rejects
    )


def with_probe(folder: Path, name: str) -> Journal:
    """A new journal with one probe."""
    path = folder / name
    path.unlink(missing_ok=True)
    journal = Journal.create(path)
    journal.probes.add_to("P1", machine=None, from_at=0)
    return journal


def ours(folder: Path, file: Path) -> float:
    """Read, check and store."""
    journal = with_probe(folder, "ours.hatchbook")
    (probe,) = journal.probes.all()

    def bring_in() -> None:
        table = read_logger_file(file, zone="UTC")
        journal.imports.bring_in(probe, new_readings(file, table), 0)

    took = seconds(bring_in)
    assert journal.imports.all()[0].stored == LINES
    journal._store.abandon()
    return took


def stored(folder: Path, readings: NewReadings) -> float:
    """Store only."""
    journal = with_probe(folder, "ours.hatchbook")
    (probe,) = journal.probes.all()
    took = seconds(lambda: journal.imports.bring_in(probe, readings, 0))
    journal._store.abandon()
    return took


def executemany(folder: Path, rows: list[tuple[object, ...]]) -> float:
    """The same rows into the same table by sqlite3 alone, in one transaction."""
    journal = with_probe(folder, "reference.hatchbook")
    connection = journal._store.connection

    def store() -> None:
        connection.execute("BEGIN IMMEDIATE")
        connection.executemany(INSERT, rows)
        connection.execute("COMMIT")

    took = seconds(store)
    journal._store.abandon()
    return took


def with_pandas(folder: Path, file: Path) -> float:
    """The usual way with a data frame, into a table without any checks."""
    target = folder / "pandas.db"
    target.unlink(missing_ok=True)

    def store() -> None:
        frame = pandas.read_csv(file)
        frame["time"] = pandas.to_datetime(frame["time"])
        with closing(sqlite3.connect(target)) as connection:
            frame.to_sql("reading", connection, index=False)
            connection.commit()

    return seconds(store)


def run() -> list[Result]:
    """Imports against plain sqlite3 and against pandas."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        iso, local = folder / "iso.csv", folder / "local.csv"
        write(iso, "time,temperature (C),humidity (%)", plain)
        write(local, "Datum;Temperatur °C;Feuchte %", continental)
        readings = new_readings(iso, read_logger_file(iso, zone="UTC"))
        rows: list[tuple[object, ...]] = [
            (1, at, temperature_c, humidity, 1)
            for at, temperature_c, humidity in zip(
                readings.at.tolist(), readings.temperature_c.tolist(), readings.humidity.tolist(), strict=True
            )
        ]
        whole, whole_local, only_stored, reference, frame = best_of(
            ROUNDS,
            lambda: ours(folder, iso),
            lambda: ours(folder, local),
            lambda: stored(folder, readings),
            lambda: executemany(folder, rows),
            lambda: with_pandas(folder, iso),
        )
    return [
        Result("import of 1,000,000 lines / executemany of the same rows", whole, reference, 2.0),
        Result("the same with local dates and decimal commas", whole_local, reference, 2.0),
        Result("storing alone / executemany of the same rows", only_stored, reference, 1.0),
        Result("import of 1,000,000 lines / pandas to_sql", whole, frame, 1.0),
    ]
