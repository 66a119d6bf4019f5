"""Checking a journal: is the file sound, and do its records agree with each other."""

from __future__ import annotations

from dataclasses import dataclass

from hatchbook.journal.store import Store


@dataclass(frozen=True)
class CheckReport:
    """What a check found; ``problems`` are plain sentences, empty for a sound journal."""

    problems: tuple[str, ...]
    counts: dict[str, int]

    @property
    def sound(self) -> bool:
        """Whether nothing was found."""
        return not self.problems


def check_store(store: Store) -> CheckReport:
    """Checks a store."""
    raise NotImplementedError
