"""What a benchmark gives: two times measured in the same run, and the ratio that is promised."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True)
class Result:
    """One line of the table: ours against a reference, both in seconds; ``limit`` is the promised ratio.

    Without a limit the line is only told.
    """

    name: str
    ours_s: float
    reference_s: float
    limit: float | None = None

    @property
    def ratio(self) -> float:
        """How many times the reference ours takes."""
        return self.ours_s / self.reference_s

    @property
    def kept(self) -> bool:
        """Whether the promise is kept."""
        return self.limit is None or self.ratio <= self.limit


def seconds(work: Callable[[], object]) -> float:
    """How long something takes once."""
    began = time.perf_counter()
    work()
    return time.perf_counter() - began


def best_of(rounds: int, *works: Callable[[], float]) -> list[float]:
    """The best of several rounds for each of some measurements, taken in turn so that all see the same machine."""
    times = [[work() for work in works] for _ in range(rounds)]
    return [min(column) for column in zip(*times, strict=True)]
