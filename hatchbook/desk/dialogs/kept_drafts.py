"""What was typed for a new batch that was not set: kept while the program runs, by journal file."""

from __future__ import annotations

from pathlib import Path

State = dict[str, object]

_KEPT: dict[Path, State] = {}


def keep(journal: Path, state: State) -> None:
    """Keeps what was typed for a journal's next batch."""
    _KEPT[journal] = state


def take(journal: Path) -> State | None:
    """What was kept, once; None where nothing was."""
    return _KEPT.pop(journal, None)
