"""Which line names the columns, and what each column holds."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import lru_cache
from itertools import pairwise

from hatchbook.exchange.past_seasons.cells import looks_like_count, looks_like_season
from hatchbook.exchange.past_seasons.day_cells import looks_like_day
from hatchbook.exchange.past_seasons.fields import COUNT_FIELDS, PastField
from hatchbook.exchange.past_seasons.grid import Cell, GridRow, bare_words, cell_text, is_empty
from hatchbook.exchange.past_seasons.header_words import SHARES, WORDS

SEARCHED_LINES = 40
"""The column names stand in one of the first lines."""

_LONGEST_NAME = 60
_WHOLE, _WITHIN = 1_000, 100
_LEAST_KNOWN = 2
_FILLED_LOOKED_AT = 200

#: What the cells of a column have to look like for it to hold this.
_LOOKS: dict[PastField, Callable[[Cell], bool]] = {
    **dict.fromkeys(COUNT_FIELDS, looks_like_count),
    PastField.SEASON: looks_like_season,
    PastField.SET_ON: looks_like_day,
}


def header_score(row: GridRow) -> int:
    """How many different things the cells of a line name; 0 where it is no line of names."""
    filled = [cell for cell in row.cells if not is_empty(cell)]
    texts = [cell for cell in filled if isinstance(cell, str) and any(map(str.isalpha, cell))]
    if len(texts) < _LEAST_KNOWN or 2 * len(texts) <= len(filled):
        return 0
    # Long texts tell something; they name nothing.
    named = {next(iter(scores)) for cell in texts if (scores := _scores(cell))}
    return len(named)


def find_header(rows: Sequence[GridRow]) -> int:
    """The number of the line that names the columns; 0 where there is none.

    The one that names the most things that are known; without one, a first line of texts over a line with numbers.
    """
    filled = [row for row in rows[: SEARCHED_LINES * 2] if not row.is_blank][:SEARCHED_LINES]
    best = max(filled, key=header_score, default=None)
    if best is not None and header_score(best) >= _LEAST_KNOWN:
        return best.number
    for row, below in pairwise(filled):
        names = [cell for cell in row.cells if not is_empty(cell)]
        if (
            len(names) > _LEAST_KNOWN
            and all(isinstance(cell, str) and not looks_like_count(cell) for cell in names)
            and any(looks_like_count(cell) for cell in below.cells if not is_empty(cell))
        ):
            return row.number
    return 0


def guess_columns(names: Sequence[str], rows: Sequence[GridRow]) -> tuple[PastField, ...]:
    """What each column holds, by its name, where its cells look like that; the rest is left out."""
    samples = [_sample(rows, place) for place in range(len(names))]
    found = [
        (score, -place, field)
        for place, name in enumerate(names)
        for field, score in _scores(name).items()
        if _fits(field, samples[place]) or _is_sure(field, name)
    ]
    columns = [PastField.LEAVE_OUT] * len(names)
    taken: set[PastField] = set()
    for _score, place, field in sorted(found, key=lambda one: one[:2], reverse=True):
        if columns[-place] is PastField.LEAVE_OUT and field not in taken:
            columns[-place] = field
            if field is not PastField.NOTE:
                taken.add(field)
    return tuple(columns)


@lru_cache(maxsize=2048)
def _scores(name: str) -> dict[PastField, int]:
    """What a column of this name may hold, the likeliest first, with how much speaks for it."""
    bare = bare_words(name)
    if not bare or len(name) > _LONGEST_NAME or SHARES.search(bare):
        return {}
    padded = f" {bare} "
    scores: dict[PastField, int] = {}
    for field, words in WORDS.items():
        if bare in words:
            scores[field] = _WHOLE + len(bare)
            continue
        within = [len(word) for word in words if len(word) > 2 and f" {word} " in padded]
        if within:
            scores[field] = _WITHIN + max(within)
    return dict(sorted(scores.items(), key=lambda one: -one[1]))


def _is_sure(field: PastField, name: str) -> bool:
    """Whether a name means seasons or dates alone: whatever stands in the column, its lines are to say so."""
    whole = [one for one, score in _scores(name).items() if score >= _WHOLE]
    return whole == [field] and field in (PastField.SEASON, PastField.SET_ON)


def _sample(rows: Sequence[GridRow], place: int) -> list[Cell]:
    cells = (row.cells[place] for row in rows if place < len(row.cells))
    return [cell for cell in cells if not is_empty(cell)][:_FILLED_LOOKED_AT]


def _fits(field: PastField, cells: list[Cell]) -> bool:
    looks = _LOOKS.get(field)
    return looks is None or not cells or 2 * sum(map(looks, cells)) >= len(cells)


def column_names(rows: Sequence[GridRow], header: int, width: int) -> tuple[str, ...]:
    """The names of the columns; blank where there are none."""
    row = next((row for row in rows if row.number == header), None)
    cells = row.cells if row is not None else ()
    texts = [" ".join(cell_text(cell).split()) for cell in cells]
    return tuple(texts + [""] * (width - len(texts)))[:width]
