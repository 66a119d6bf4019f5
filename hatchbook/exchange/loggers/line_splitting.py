"""One line to its cells, slowly and exactly: quotes, separators inside them, runs of spaces."""

from __future__ import annotations

import csv

from hatchbook.exchange.loggers.layout import Separator


def split_line(text: str, separator: Separator) -> list[str]:
    """The cells of one line, without surrounding spaces and quotes."""
    if separator is Separator.SPACES:
        if '"' not in text:
            return text.split()
        text = text.replace("\t", " ").strip()
    elif '"' not in text:
        return [cell.strip() for cell in text.split(separator.value)]
    try:
        (cells,) = csv.reader(
            [text], delimiter=separator.value, skipinitialspace=True, doublequote=True, strict=False
        )
    except (csv.Error, ValueError):
        return [text]
    if separator is Separator.SPACES:
        cells = [cell for cell in cells if cell]
    return [cell.strip() for cell in cells]


def is_blank(text: str, separator: Separator) -> bool:
    """Whether a line holds nothing but spaces, separators and empty quotes."""
    return not text.strip(separator.value + ' \t\f\v\ufeff\x1a"')
