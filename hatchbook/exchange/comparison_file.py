"""The table of a comparison as a delimited text file that any spreadsheet can read."""

from __future__ import annotations

import csv
import secrets
from collections.abc import Iterator, Mapping
from pathlib import Path

from hatchbook.figures.comparison_results import ComparisonFigures, GroupName, GroupRate, GroupRow

HEADER = (
    "grouping",
    "group",
    "batches",
    "eggs_set",
    "rate",
    "hits",
    "of",
    "percent",
    "percent_low",
    "percent_high",
    "against_others",
    "chance",
)
"""One line a group and a rate; ``percent_low`` and ``percent_high`` are the 95 % range, ``chance`` a share of 1."""

Cells = tuple[str | int | float, ...]


def write_comparison(path: Path | str, figures: ComparisonFigures, names: Mapping[GroupName, str]) -> int:
    """Writes every group and rate with commas and decimal points, and returns how many lines.

    A file of that name is replaced once all is written, and stays as it was when something goes wrong.

    Args:
        path: where to.
        figures: what is written.
        names: what the groups are called.

    Raises:
        OSError: the file cannot be written there.
    """
    target = Path(path)
    part = target.with_name(f".{target.name}.{secrets.token_hex(4)}.part")
    written = 0
    try:
        # With a byte order mark, by which spreadsheets know the names' letters.
        with part.open("x", encoding="utf-8-sig", newline="") as file:
            writer = csv.writer(file)
            writer.writerow(HEADER)
            for cells in _lines(figures, names):
                writer.writerow(cells)
                written += 1
        part.replace(target)
    except BaseException:
        part.unlink(missing_ok=True)
        raise
    return written


def _lines(figures: ComparisonFigures, names: Mapping[GroupName, str]) -> Iterator[Cells]:
    yield from _of_row("all", "", figures.overall)
    for section in figures.sections:
        for row in section.rows:
            name = "" if row.group is None else names[row.group]
            yield from _of_row(section.grouping.value, _harmless(name), row)


def _of_row(grouping: str, name: str, row: GroupRow) -> Iterator[Cells]:
    for kind, rate in row.rates.items():
        yield (grouping, name, row.batches, row.eggs_set, kind.value, rate.hits, rate.trials, *_values(rate))


def _values(rate: GroupRate) -> Cells:
    if rate.mean is None:
        return ("", "", "", rate.standing.value, "")
    percents = (round(100 * share, 2) for share in (rate.mean, rate.low, rate.high))
    return (*percents, rate.standing.value, "" if rate.p is None else f"{rate.p:.3g}")


def _harmless(name: str) -> str:
    """A name that a spreadsheet would take for a formula is marked as text."""
    return f"'{name}" if name[:1] in ("=", "+", "-", "@") else name
