"""The table of a comparison as a delimited text file that any spreadsheet can read."""

from __future__ import annotations

import csv
from collections.abc import Iterator, Mapping
from pathlib import Path

from hatchbook.exchange.whole_file import whole_file
from hatchbook.figures.comparison_results import ComparisonFigures, GroupName, GroupRate, GroupRow

HEADER = (
    "species",
    "seasons",
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
    "percent_drawn",
    "against_others",
    "chance",
)
"""One line a group and a rate. ``species`` and ``seasons`` are what was asked for; of all of them "all".
``percent_low`` and ``percent_high`` are the 95 % range, ``percent_drawn`` is the percent drawn towards the others,
``chance`` a share of 1, corrected for all that was looked at."""

Cells = tuple[str | int | float, ...]


def write_comparison(
    path: Path | str, figures: ComparisonFigures, names: Mapping[GroupName, str], *, decimal_point: str = "."
) -> int:
    """Writes every group and rate, and returns how many lines.

    A file of that name is replaced once all is written, and stays as it was when something goes wrong.

    Args:
        path: where to.
        figures: what is written.
        names: what the groups are called.
        decimal_point: as the reader's spreadsheet wants it; beside a comma the cells are parted by semicolons.

    Raises:
        OSError: the file cannot be written there.
    """
    asked = _asked(figures)
    rows = [[*asked, *(_written(cell, decimal_point) for cell in cells)] for cells in _lines(figures, names)]
    # With a byte order mark, by which spreadsheets know the names' letters.
    with whole_file(path, "utf-8-sig") as file:
        writer = csv.writer(file, delimiter=";" if decimal_point == "," else ",")
        writer.writerow(HEADER)
        writer.writerows(rows)
    return len(rows)


def _asked(figures: ComparisonFigures) -> Cells:
    species, seasons = figures.question.species, figures.question.seasons
    return (
        species or "all",
        "all" if seasons is None else "-".join(str(year) for year in sorted({*seasons})),
    )


def _written(cell: str | int | float, decimal_point: str) -> str:
    return str(cell).replace(".", decimal_point) if isinstance(cell, float) else str(cell)


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
        return ("", "", "", "", rate.standing.value, "")
    shares = (rate.mean, rate.low, rate.high, rate.mean if rate.drawn is None else rate.drawn)
    chance = "" if rate.p is None else float(f"{rate.p:.3g}")
    return (*(round(100 * share, 2) for share in shares), rate.standing.value, chance)


def _harmless(name: str) -> str:
    """A name that a spreadsheet would take for a formula is marked as text."""
    return f"'{name}" if name[:1] in ("=", "+", "-", "@") else name
