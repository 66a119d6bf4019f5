"""The lines of a table as the preview shows them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hatchbook.desk.importing.preview_model import PreviewLines
from hatchbook.desk.words.past_seasons import refusal_sentence
from hatchbook.exchange.past_seasons.fields import PastField
from hatchbook.exchange.past_seasons.grid import cell_text
from hatchbook.exchange.past_seasons.reading import PastSeasonsTable
from hatchbook.exchange.past_seasons.refusals import RefusedLine


@dataclass(frozen=True)
class TableLine:
    """A line to show: its number counted from 1, its cells, and the columns (from 0) for which it stays out."""

    number: int
    cells: tuple[str, ...]
    bad_columns: tuple[int, ...] = ()


def preview_lines(table: PastSeasonsTable, refused: Sequence[RefusedLine]) -> PreviewLines:
    """The first lines of a table and every kind of refused line once, with what the columns hold."""
    by_number = {line.number: line for line in refused}
    rows = []
    for row in table.preview(refused):
        line = by_number.get(row.number)
        bad = () if line is None or line.column is None else (line.column,)
        rows.append(TableLine(row.number, tuple(map(cell_text, row.cells[: len(table.columns)])), bad))
    shown = {row.number for row in rows}
    return PreviewLines(
        table.names,
        table.columns,
        tuple(rows),
        {number: refusal_sentence(line.why) for number, line in by_number.items() if number in shown},
        frozenset(place for place, field in enumerate(table.columns) if field is PastField.LEAVE_OUT),
    )
