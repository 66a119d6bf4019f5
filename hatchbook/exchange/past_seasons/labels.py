"""Labels for batches that have none, or whose own is another's."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterable

from hatchbook.journal import Journal

_RUNNING = re.compile(r"(\d\d)-(\d+)")


class FreeLabels:
    """Labels that no batch has; each is given once.

    Args:
        taken: the labels that there are.
    """

    def __init__(self, taken: Iterable[str]) -> None:
        self._taken = {*taken}
        self._last: dict[int, int] = {}
        for label in self._taken:
            running = _RUNNING.fullmatch(label)
            if running is not None:
                short = int(running[1])
                self._last[short] = max(self._last.get(short, 0), int(running[2]))

    def next_of(self, season: int) -> str:
        """The season's year and a running number, as the program numbers batches: 21-04."""
        short = season % 100
        for number in itertools.count(self._last.get(short, 0) + 1):
            label = f"{short:02d}-{number:02d}"
            if label not in self._taken:
                self._last[short] = number
                return self._give(label)
        raise AssertionError("numbers do not end")

    def like(self, label: str, season: int) -> str:
        """One that still shows the label: 21-04 for 4 in 2021, for B4 it is B4 2021, then B4 2021-2 and so on."""
        if label.isdecimal():
            wanted = f"{season % 100:02d}-{int(label):02d}"
            if wanted not in self._taken:
                return self._give(wanted)
        stem = f"{label} {season}"
        found = itertools.chain([stem], (f"{stem}-{number}" for number in itertools.count(2)))
        return self._give(next(one for one in found if one not in self._taken))

    def _give(self, label: str) -> str:
        self._taken.add(label)
        return label


def free_label(journal: Journal, season: int) -> str:
    """A label of this season that neither a kept nor a past batch has: 21-04."""
    labels = {line.label for line in journal.batches.lines()}
    labels |= {past.label for past in journal.past_batches.all()}
    return FreeLabels(labels).next_of(season)
