"""Readings that come by the thousand, stored many rows a statement."""

from __future__ import annotations

from itertools import chain

import numpy as np
from numpy.typing import NDArray

from hatchbook.journal.store import Store

#: A statement of so many rows costs half of as many statements of one row.
_ROWS_A_STATEMENT = 100


def insert_readings(
    store: Store,
    probe: int,
    import_run: int | None,
    at: NDArray[np.int64],
    temperature_c: NDArray[np.float64],
    humidity: NDArray[np.float64],
) -> None:
    """Stores readings of a probe within the running transaction; arrays of one length, NaN: not measured."""
    # NaN is stored as NULL by SQLite.
    triples = zip(at.tolist(), temperature_c.tolist(), humidity.tolist(), strict=True)
    values = list(chain.from_iterable(triples))
    row = f"({probe:d}, ?, ?, ?, {'NULL' if import_run is None else format(import_run, 'd')})"
    for rows in (_ROWS_A_STATEMENT, 1):
        width = 3 * rows
        whole = len(values) // width * width
        store.write_many(
            "INSERT INTO reading (probe, at, temperature_c, humidity, import_run) "
            f"VALUES {', '.join([row] * rows)}",
            (values[start : start + width] for start in range(0, whole, width)),
        )
        values = values[whole:]
