"""Chance that comes out the same every time: random numbers and identifiers from one seed."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

_AT_ONCE = 256


def chance(seed: int, *of: int) -> np.random.Generator:
    """The random numbers of one part of the demo; other parts do not move them."""
    return np.random.default_rng([seed, *of])


def uids(rng: np.random.Generator) -> Iterator[str]:
    """Identifiers as the journal's own ones, 16 hexadecimal digits, without end."""
    while True:
        digits = rng.bytes(8 * _AT_ONCE).hex()
        for start in range(0, len(digits), 16):
            yield digits[start : start + 16]
