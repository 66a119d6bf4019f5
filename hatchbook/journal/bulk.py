"""The rows of an import run, taken out and put back as one.

They are not copied into history when they come in, which would double the file: their run number tells them.
Only when an import is taken back are they kept aside, packed, in the step's line of history, so that they can be
brought back exactly: numpy's ``.npz`` of the columns, compressed by zlib.
"""

from __future__ import annotations

import io
import json
import zipfile
import zlib
from typing import Any

import numpy as np

from hatchbook.journal.errors import JournalDamagedError
from hatchbook.journal.store import Store

#: The kind under which history notes them.
KIND = "import_rows"

_CHUNK = 100_000


def move(store: Store, import_number: int, packed: bytes | None, *, away: bool) -> bytes | None:
    """Takes the rows of an import run ``away`` or brings them back; returns what is to be kept in history."""
    if away:
        return take_away(store, import_number)
    _bring_back(store, import_number, packed or b"")
    return None


def take_away(store: Store, import_number: int) -> bytes:
    """Removes the rows of an import run, also those that were corrected or moved since, and packs them."""
    # No index leads from a run to its rows; looking through ten million readings takes half a second.
    readings = store.rows(
        "SELECT probe, at, temperature_c, humidity, entered FROM reading WHERE import_run = ?",
        (import_number,),
    )
    rejects = store.rows(
        "SELECT line, text, reason FROM import_reject WHERE import_run = ?", (import_number,)
    )
    entered = [(position, row[4]) for position, row in enumerate(readings) if row[4] is not None]
    probes = np.array([row[0] for row in readings], dtype=np.int64)
    at = np.array([row[1] for row in readings], dtype=np.int64)
    texts = json.dumps({"entered": entered, "rejects": rejects}).encode()
    buffer = io.BytesIO()
    np.savez(
        buffer,
        allow_pickle=False,
        probe=probes,
        at=at,
        temperature_c=np.array([row[2] for row in readings], dtype=np.float64),
        humidity=np.array([row[3] for row in readings], dtype=np.float64),
        texts=np.frombuffer(texts, dtype=np.uint8),
    )
    for probe in set(probes.tolist()):
        of_probe = at[probes == probe]
        store.write(
            "DELETE FROM reading WHERE probe = ? AND at BETWEEN ? AND ? AND import_run = ?",
            (probe, int(of_probe.min()), int(of_probe.max()), import_number),
        )
    store.write("DELETE FROM import_reject WHERE import_run = ?", (import_number,))
    return zlib.compress(buffer.getbuffer(), level=1)


def _bring_back(store: Store, import_number: int, packed: bytes) -> None:
    try:
        with np.load(io.BytesIO(zlib.decompress(packed)), allow_pickle=False) as kept:
            texts: dict[str, list[list[Any]]] = json.loads(kept["texts"].tobytes())
            columns = [kept[name] for name in ("probe", "at", "temperature_c", "humidity")]
    except (zlib.error, zipfile.BadZipFile, KeyError, ValueError) as error:
        raise JournalDamagedError(
            f"{store.path.name} is damaged: the readings that were taken back cannot be read.",
            path=store.path,
        ) from error
    entered: list[str | None] = [None] * len(columns[0])
    for position, text in texts["entered"]:
        entered[position] = text
    for start in range(0, len(entered), _CHUNK):
        part = slice(start, start + _CHUNK)
        store.write_many(
            "INSERT INTO reading (probe, at, temperature_c, humidity, entered, import_run) "
            f"VALUES (?, ?, ?, ?, ?, {import_number:d})",
            # NaN is stored as NULL by SQLite.
            zip(*(column[part].tolist() for column in columns), entered[part], strict=True),
        )
    store.write_many(
        f"INSERT INTO import_reject (import_run, line, text, reason) VALUES ({import_number:d}, ?, ?, ?)",
        texts["rejects"],
    )
