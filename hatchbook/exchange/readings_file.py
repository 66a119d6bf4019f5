"""Readings as a delimited text file that any spreadsheet, and this program's own import, can read."""

from __future__ import annotations

import csv
import math
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import TextIO
from zoneinfo import ZoneInfo

import numpy as np
from numpy.typing import NDArray

from hatchbook.exchange.whole_file import NothingWrittenError, whole_file

HEADER = ("time", "temperature_c", "humidity_percent")
_ROWS_AT_ONCE = 10_000


def write_readings(
    path: Path | str,
    at: NDArray[np.int64],
    temperature_c: NDArray[np.float64],
    humidity: NDArray[np.float64],
    zone: ZoneInfo,
    *,
    progress: Callable[[float], bool] | None = None,
) -> int:
    """Writes readings with a header, commas and decimal points, and returns how many.

    Times are ISO 8601 in the given zone with their offset from UTC, so that an hour that comes twice in autumn
    stays told apart; a quantity that was not measured is an empty cell, a row with neither is left out.
    A file of that name is replaced once all is written, and stays as it was when something goes wrong.

    Args:
        path: where to.
        at: instants, UTC seconds.
        temperature_c: °C, NaN where not measured.
        humidity: % RH, NaN where not measured.
        zone: in which the times are written.
        progress: is told the share done, 0 to 1; when it answers False, writing stops and nothing is left behind.

    Raises:
        ValueError: the arrays are not equally long.
        OSError: the file cannot be written there.
    """
    if not at.size == temperature_c.size == humidity.size:
        raise ValueError("There must be one temperature and one humidity for each time.")
    with whole_file(path) as file:
        return _write(file, at, temperature_c, humidity, zone, progress)
    return 0  # it was stopped


def _write(
    file: TextIO,
    at: NDArray[np.int64],
    temperature_c: NDArray[np.float64],
    humidity: NDArray[np.float64],
    zone: ZoneInfo,
    progress: Callable[[float], bool] | None,
) -> int:
    writer = csv.writer(file)
    writer.writerow(HEADER)
    written = 0
    for begin in range(0, at.size, _ROWS_AT_ONCE):
        part = slice(begin, begin + _ROWS_AT_ONCE)
        rows = [
            (datetime.fromtimestamp(instant, zone).isoformat(), _cell(degrees), _cell(per_cent))
            for instant, degrees, per_cent in zip(
                at[part].tolist(), temperature_c[part].tolist(), humidity[part].tolist(), strict=True
            )
            if not (math.isnan(degrees) and math.isnan(per_cent))
        ]
        writer.writerows(rows)
        written += len(rows)
        if progress is not None and not progress(min(1.0, (begin + _ROWS_AT_ONCE) / at.size)):
            raise NothingWrittenError
    return written


def _cell(value: float) -> str:
    # Corrections leave tails such as 46.699999999999996; no instrument reads a thousandth.
    return "" if math.isnan(value) else f"{round(value, 3):g}"
