"""Counts, seasons and short texts in cells."""

from __future__ import annotations

import math
import re
from datetime import date

from hatchbook.exchange.past_seasons.grid import Cell, Uncomputed, cell_text, is_empty
from hatchbook.exchange.past_seasons.refusals import PastReason, Refusal

FIRST_YEAR, LAST_YEAR = 1800, 2199
MOST_EGGS = 1_000_000
NOT_COUNTED = frozenset({"-", "--", "–", "—", "−", "?", ".", "n/a", "n.a.", "na", "k.a.", "nc", "n/c"})
"""What is written where nothing was counted; a dash says no more than that."""

_WHOLE = re.compile(r"\+?(\d+)(?:[.,]0{1,2})?")
_NEGATIVE = re.compile(r"[-−–]\s*\d+(?:[.,]\d+)?")
_BROKEN = re.compile(r"\+?\d+[.,]\d+|\+?\d{1,3}(?:[ .,']\d{3})+")
_YEAR = re.compile(r"(?<!\d)(\d{4})(?!\d)(?:\s*[-–/]\s*(\d{4}|\d{2})(?!\d))?")
_SHORT_YEAR = re.compile(r"['’´]?(\d{2})(?:\s*[-–/]\s*['’´]?(\d{2}))?")


def parse_count(cell: Cell) -> int | None:
    """A count of eggs; None where nothing was counted.

    Raises:
        Refusal: it is no count: text, a share, a part of an egg, less than none.
    """
    if isinstance(cell, Uncomputed):
        raise Refusal(PastReason.NOT_COMPUTED, cell=cell.formula)
    if is_empty(cell):
        return None
    if isinstance(cell, bool | date):
        raise Refusal(PastReason.NOT_A_COUNT, cell=cell_text(cell))
    if isinstance(cell, int | float):
        return _count_of(float(cell), cell_text(cell))
    assert isinstance(cell, str)
    text = cell.strip().replace("\u00a0", " ")
    if text.casefold() in NOT_COUNTED:
        return None
    if (whole := _WHOLE.fullmatch(text)) is not None:
        if len(whole[1]) > len(str(MOST_EGGS)) + 20:
            raise Refusal(PastReason.TOO_LARGE, cell=text)
        return _count_of(float(int(whole[1])), text)
    if text.endswith("%"):
        raise Refusal(PastReason.PERCENTAGE, cell=text)
    if _NEGATIVE.fullmatch(text):
        raise Refusal(PastReason.NEGATIVE, cell=text)
    if _BROKEN.fullmatch(text):
        raise Refusal(PastReason.NOT_WHOLE, cell=text)
    raise Refusal(PastReason.NOT_A_COUNT, cell=text)


def _count_of(number: float, text: str) -> int:
    if not math.isfinite(number):
        raise Refusal(PastReason.NOT_A_COUNT, cell=text)
    if number < 0:
        raise Refusal(PastReason.NEGATIVE, cell=text)
    if not number.is_integer():
        raise Refusal(PastReason.NOT_WHOLE, cell=text)
    if number > MOST_EGGS:
        raise Refusal(PastReason.TOO_LARGE, cell=text)
    return int(number)


def is_dash(cell: Cell) -> bool:
    """Whether a cell says that nothing was counted."""
    return isinstance(cell, str) and cell.strip().casefold() in NOT_COUNTED


def full_year(short: int, last_year: int) -> int:
    """The year that two figures mean: none later than ``last_year``, of the others the latest."""
    century = last_year // 100 * 100
    return century + short if century + short <= last_year else century - 100 + short


def parse_season(cell: Cell, last_year: int) -> int | date | None:
    """The year of a season, of "2020/21" the first; a date where the cell holds one; None for an empty cell.

    Args:
        cell: what was written.
        last_year: the latest year that two figures can mean.

    Raises:
        Refusal: it names no year.
    """
    if isinstance(cell, Uncomputed):
        raise Refusal(PastReason.NOT_COMPUTED, cell=cell.formula)
    if is_empty(cell) or is_dash(cell):
        return None
    if isinstance(cell, date):
        return cell
    year = season_in(cell_text(cell), last_year)
    if year is None:
        raise Refusal(PastReason.NOT_A_SEASON, cell=cell_text(cell))
    return year


def season_in(text: str, last_year: int) -> int | None:
    """The year of the season that a text names, or None."""
    full = _YEAR.search(text)
    if full is not None:
        # Any other figures ("3/2021, 24 eggs") make it something else.
        rest = (text[: full.start()] + text[full.end() :]).strip()
        year = int(full[1])
        second = int(full[2]) if full[2] is not None else None
        follows = second is None or second % 100 == (year + 1) % 100
        good = FIRST_YEAR <= year <= LAST_YEAR and follows and not any(map(str.isdigit, rest))
        return year if good else None
    short = _SHORT_YEAR.fullmatch(text.strip())
    if short is None:
        return None
    first, other = int(short[1]), short[2]
    if other is not None and int(other) != (first + 1) % 100:
        return None
    return full_year(first, last_year)


def looks_like_count(cell: Cell) -> bool:
    """Whether a cell may stand in a column of counts, right or wrong."""
    if isinstance(cell, Uncomputed) or is_dash(cell):
        return True
    try:
        return parse_count(cell) is not None
    except Refusal as refusal:
        return refusal.reason in (PastReason.NEGATIVE, PastReason.NOT_WHOLE, PastReason.TOO_LARGE)


def looks_like_season(cell: Cell) -> bool:
    """Whether a cell may stand in a column of seasons."""
    return isinstance(cell, date) or season_in(cell_text(cell), LAST_YEAR) is not None


def parse_text(cell: Cell) -> str:
    """A short text on one line.

    Raises:
        Refusal: it is a formula without its result.
    """
    if isinstance(cell, Uncomputed):
        raise Refusal(PastReason.NOT_COMPUTED, cell=cell.formula)
    return " ".join(cell_text(cell).split())
