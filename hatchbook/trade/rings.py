"""Rings and marks of chicks that count on: after B17 comes B18."""

from __future__ import annotations

import re

_COUNTED = re.compile(r"^(.*?)([0-9]+)$", re.DOTALL)


def next_ring(ring: str, steps: int = 1) -> str:
    """The ring so many steps later: a number at the end counts on and keeps its zeros; other marks stay."""
    found = _COUNTED.match(ring)
    if found is None:
        return ring
    head, digits = found.groups()
    return f"{head}{int(digits) + steps:0{len(digits)}}"


def rings_from(first: str, count: int) -> list[str]:
    """The rings of so many chicks, from the first one's; empty stays empty."""
    return [next_ring(first, step) for step in range(count)]
