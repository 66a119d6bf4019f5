"""The rows of an import run, taken out and put back as one.

They are not copied into history when they come in, which would double the file: their run number tells them.
Only when an import is undone are they kept aside, packed, in the step's history line, so that redo can bring
them back exactly.
"""

from __future__ import annotations

import json
import zlib
from typing import Any

from hatchbook.journal.store import Store

#: The kind under which history notes them.
KIND = "import_rows"

_READING = "probe, at, temperature_c, humidity, import_run, entered"
_REJECT = "import_run, line, text, reason"


def move(
    store: Store, step: int, position: int, import_number: int, payload: bytes | None, *, away: bool
) -> None:
    """Takes the rows of an import run ``away`` into the history line, or puts them back from there."""
    connection = store.connection
    if away:
        packed = zlib.compress(json.dumps(_rows(store, import_number)).encode(), level=1)
        _delete(store, import_number)
    else:
        kept = json.loads(zlib.decompress(payload or b""))
        connection.executemany(f"INSERT INTO reading ({_READING}) VALUES (?, ?, ?, ?, ?, ?)", kept["reading"])
        connection.executemany(f"INSERT INTO import_reject ({_REJECT}) VALUES (?, ?, ?, ?)", kept["reject"])
        packed = None
    connection.execute(
        "UPDATE history_change SET payload = ? WHERE step = ? AND position = ?", (packed, step, position)
    )


def _span(store: Store, import_number: int) -> tuple[int, int, int] | None:
    """Probe and first and last instant of a run: its rows lie together there, no index is needed."""
    row = store.one(
        "SELECT probe.number, first_at, last_at FROM import_run JOIN probe ON probe.uid = import_run.probe "
        "WHERE import_run.number = ?",
        (import_number,),
    )
    return None if row is None or row[1] is None else (row[0], row[1], row[2])


def _rows(store: Store, import_number: int) -> dict[str, list[Any]]:
    span = _span(store, import_number)
    readings = (
        store.rows(
            f"SELECT {_READING} FROM reading WHERE probe = ? AND at BETWEEN ? AND ? AND import_run = ?",
            (*span, import_number),
        )
        if span
        else []
    )
    rejects = store.rows(f"SELECT {_REJECT} FROM import_reject WHERE import_run = ?", (import_number,))
    return {"reading": readings, "reject": rejects}


def _delete(store: Store, import_number: int) -> None:
    span = _span(store, import_number)
    if span:
        store.connection.execute(
            "DELETE FROM reading WHERE probe = ? AND at BETWEEN ? AND ? AND import_run = ?",
            (*span, import_number),
        )
    store.connection.execute("DELETE FROM import_reject WHERE import_run = ?", (import_number,))
