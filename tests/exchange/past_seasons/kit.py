"""Tables as breeders keep them, written for one test each."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import Any

from hatchbook.exchange.past_seasons.reading import PastHints, PastSeasonsTable, read_past_seasons

TODAY = date(2026, 5, 14)

BOOK = """\
Batch,Name,Date set,Species,Breed,Pen,Incubator,Eggs set,Clear,Early dead,Late dead,Hatched,Note
21-01,Spring,2021-03-14,Hen,Marans,Orchard,Dairy,24,3,1,2,18,first of all
21-02,,2021-04-02,hens,Marans,Orchard,Dairy,24,5,2,3,14,
22-01,,2022-03-20,Duck,,Pond,Cupboard,12,1,,,10,
"""


def read(path: Path, **hints: Any) -> PastSeasonsTable:
    """Reads a table as on 14 May 2026."""
    return read_past_seasons(path, TODAY, hints=PastHints(**hints))


def write(folder: Path, text: str, name: str = "book.csv", encoding: str = "utf-8") -> Path:
    """A text file."""
    path = folder / name
    path.write_bytes(text.encode(encoding))
    return path


def book(folder: Path, rows: Sequence[Sequence[Any]], name: str = "book.xlsx") -> Path:
    """A workbook of one sheet."""
    from openpyxl import Workbook

    made = Workbook()
    assert made.active is not None
    for row in rows:
        made.active.append(list(row))
    path = folder / name
    made.save(path)
    made.close()
    return path


def reasons(table: PastSeasonsTable) -> dict[int, str]:
    """Why lines were refused, by their number."""
    return {line.number: str(line.why.reason) for line in table.refused}
