"""Cells sorted by their shape: the same text but for the digits.

A logger writes a million dates in one or two shapes. Whatever the letters and signs of a shape mean is worked out
once; the digits of all its cells are then taken together, column of digits by column of digits.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

LONGEST_CELL = 64  # bytes; no date and no number is longer
_TRIES = 8  # shapes of one width looked for over the whole block before the rest is sorted one by one

ZERO = ord("0")
SPACE = rb"(?:\s|\xc2\xa0|\xe2\x80\xaf)"
"""Pattern of one space, also of those that do not break (U+00A0, U+202F), in UTF-8."""
_DIGITS_TO_ZERO = bytes(ZERO if 48 <= code <= 57 else code for code in range(256))

Bytes = NDArray[np.uint8]
Rows = NDArray[np.intp]


def shape_of(cell: bytes) -> bytes:
    """The cell with every digit replaced by 0."""
    return cell.translate(_DIGITS_TO_ZERO)


@dataclass(frozen=True, slots=True)
class ShapeGroup:
    """The cells of one shape: `rows` says which, `letters[i]` is the i-th byte of each of them."""

    shape: bytes
    rows: Rows | slice
    letters: Bytes

    def digits(self, start: int, stop: int) -> NDArray[np.int64]:
        """The number that the digits from start to stop make, for each cell."""
        number = np.zeros(self.letters.shape[1], dtype=np.int64)
        for position in range(start, stop):
            number *= 10
            number += self.letters[position] - ZERO
        return number

    def small(self, start: int, stop: int) -> NDArray[np.int16]:
        """The same for at most four digits."""
        number: NDArray[np.int16] = (self.letters[start] - ZERO).astype(np.int16)
        for position in range(start + 1, stop):
            number *= 10
            number += self.letters[position] - ZERO
        return number

    def texts(self) -> list[bytes]:
        """Every cell as it stands."""
        width, count = self.letters.shape
        joined = np.ascontiguousarray(self.letters.T).tobytes()
        return [joined[row * width : (row + 1) * width] for row in range(count)]


def shape_groups(buffer: Bytes, start: Rows, end: Rows) -> Iterator[ShapeGroup]:
    """Sorts the cells buffer[start[i]:end[i]] by shape; empty and overlong cells are in no group."""
    width_of = end - start
    widths = np.bincount(np.clip(width_of, 0, LONGEST_CELL + 1), minlength=LONGEST_CELL + 2)
    for width in np.flatnonzero(widths[1 : LONGEST_CELL + 1]) + 1:
        window = np.lib.stride_tricks.sliding_window_view(buffer, int(width))
        if widths[width] == start.size:
            yield from _peel(np.ascontiguousarray(window[start].T), None)
        else:
            rows = np.flatnonzero(width_of == width)
            yield from _peel(np.ascontiguousarray(window[start[rows]].T), rows)


def _peel(letters: Bytes, rows: Rows | None) -> Iterator[ShapeGroup]:
    for _ in range(_TRIES):
        shape = shape_of(letters[:, 0].tobytes())
        alike = np.ones(letters.shape[1], dtype=bool)
        for position, code in enumerate(shape):
            column = letters[position]
            alike &= (column - ZERO < 10) if code == ZERO else (column == code)
        if alike.all():
            yield ShapeGroup(shape, slice(None) if rows is None else rows, letters)
            return
        if rows is None:
            rows = np.arange(letters.shape[1])
        yield ShapeGroup(shape, rows[alike], letters[:, alike])
        rest = ~alike
        rows, letters = rows[rest], np.ascontiguousarray(letters[:, rest])
    assert rows is not None
    by_shape: dict[bytes, list[int]] = {}
    for index, cell in enumerate(ShapeGroup(b"", rows, letters).texts()):
        by_shape.setdefault(shape_of(cell), []).append(index)
    for shape, members in by_shape.items():
        yield ShapeGroup(shape, rows[members], letters[:, members])
