"""Backups of a journal beside it, thinned by age."""

from __future__ import annotations

from pathlib import Path

from hatchbook.journal.store import Store


def make(store: Store, now: float, *, reason: str) -> Path | None:
    """Makes a backup."""
    raise NotImplementedError
