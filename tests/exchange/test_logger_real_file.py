"""A file that nobody here wrote: an office's climate, its header one field short.

Source: Candanedo, L.M., Feldheim, V. (2016): Accurate occupancy detection of an office room from light,
temperature, humidity and CO2 measurements using statistical learning models. Energy and Buildings 112, 28–39.
"""

from __future__ import annotations

import csv
from datetime import UTC, datetime
from pathlib import Path

import pytest
from hatchbook.exchange.logger_file import ColumnRole, LoggerTable, read_logger_file

OFFICE = Path(__file__).parents[1] / "published" / "office_climate_2015.csv"


@pytest.fixture(scope="module")
def office() -> LoggerTable:
    return read_logger_file(OFFICE)


def test_every_value_is_what_the_csv_module_reads(office: LoggerTable) -> None:
    with OFFICE.open(newline="", encoding="utf-8") as file:
        rows = list(csv.reader(file))[1:]
    assert office.stored == len(rows) == 2665
    instants = [int(datetime.fromisoformat(row[1]).replace(tzinfo=UTC).timestamp()) for row in rows]
    assert office.at.tolist() == instants
    assert office.temperature_c.tolist() == [float(row[2]) for row in rows]
    assert office.humidity.tolist() == [float(row[3]) for row in rows]


def test_the_short_header_names_the_right_columns(office: LoggerTable) -> None:
    assert office.column_names == (
        *("", "date", "Temperature", "Humidity"),
        *("Light", "CO2", "HumidityRatio", "Occupancy"),
    )
    assert office.layout.columns == (
        ColumnRole.LEAVE_OUT,
        ColumnRole.DATE_TIME,
        ColumnRole.TEMPERATURE,
        ColumnRole.HUMIDITY,
        *(ColumnRole.LEAVE_OUT,) * 4,
    )


def test_nothing_is_left_out_and_nothing_has_to_be_asked(office: LoggerTable) -> None:
    assert office.lines == 2666
    assert (office.header, office.preamble, office.blank, office.duplicates) == (1, 0, 0, 0)
    assert office.rejected == office.partial == office.gaps == office.undecided == ()
    assert office.spacing_s == 60
