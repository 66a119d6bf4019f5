"""Checking a journal: is the file sound, and do its records agree with each other."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from hatchbook.journal import agreement, guard, migrations
from hatchbook.journal.errors import JournalDamagedError, JournalError, environment
from hatchbook.journal.problems import Problem
from hatchbook.journal.store import MISFITS, Store

_MOST_LINES = 50


@dataclass(frozen=True)
class CheckReport:
    """What a check found.

    ``problems``: empty for a sound journal. ``remarks``: what is possible, but worth a look. ``counts``: how many
    entries there are of each kind (by table), of those that could be counted.
    """

    problems: tuple[Problem, ...]
    remarks: tuple[Problem, ...]
    counts: dict[str, int]

    @property
    def sound(self) -> bool:
        """Whether no problem was found."""
        return not self.problems


def check_file(path: Path) -> CheckReport:
    """Checks a file, which may be open elsewhere; one that cannot be opened is reported, too."""
    try:
        store = Store.open(path, read_only=True, newest_version=migrations.newest(), look_through=False)
    except JournalError as error:
        return CheckReport((Problem("cannot_open", {"sentence": str(error), "error": error.code}),), (), {})
    with closing(store):
        if guard.is_left_open(store.path):
            return check_store(store)
        with closing(store.looking()) as looking:
            return check_store(looking)


def check_store(store: Store) -> CheckReport:
    """Checks an open journal; what cannot be read is reported, and the rest is checked all the same."""
    counts: dict[str, int] = {}
    problems = [
        *_found(_file_is_sound, store),
        *_found(_references_hold, store),
        *_found(lambda store: _counted(store, counts), store),
    ]
    for check in agreement.PROBLEMS:
        problems += _found(check, store)
    remarks = [problem for check in agreement.REMARKS for problem in _found(check, store)]
    # A part that cannot be read stops several checks; it is told once.
    troubles = [remark for remark in remarks if remark.code == "unreadable"]
    return CheckReport(
        tuple(_once([*problems, *troubles])),
        tuple(remark for remark in remarks if remark.code != "unreadable"),
        counts,
    )


def _found(check: Callable[[Store], Iterable[Problem]], store: Store) -> list[Problem]:
    found = []
    try:
        for problem in check(store):
            found.append(problem)
    except JournalError as error:
        found.append(Problem("unreadable", {"sentence": str(error), "error": error.code}))
    return found


def _once(problems: Iterable[Problem]) -> Iterator[Problem]:
    told: set[str] = set()
    for problem in problems:
        if (sentence := str(problem)) not in told:
            told.add(sentence)
            yield problem


def _file_is_sound(store: Store) -> Iterator[Problem]:
    try:
        rows = store.rows(f"PRAGMA integrity_check({_MOST_LINES})")
    except JournalDamagedError:
        # The check itself stumbles over the damage: say at least where it is.
        rows = [row for table in _tables(store) for row in _table_is_sound(store, table)]
    for (text,) in rows:
        for line in text.splitlines():
            if line != "ok" and not line.startswith("***"):
                yield Problem("misfit" if line.startswith(MISFITS) else "damaged", {"found": line})


def _table_is_sound(store: Store, table: str) -> list[tuple[str]]:
    try:
        return store.rows(f"PRAGMA integrity_check('{table}')")
    except JournalDamagedError:
        return [(f"the table {table} cannot be read to its end",)]


def _references_hold(store: Store) -> Iterator[Problem]:
    broken: dict[tuple[str, str], int] = {}
    for table, _, parent, _ in store.rows("PRAGMA foreign_key_check"):
        broken[table, parent] = broken.get((table, parent), 0) + 1
    for (table, parent), count in sorted(broken.items()):
        yield Problem("reference", {"table": table, "parent": parent, "count": count})


def _counted(store: Store, counts: dict[str, int]) -> Iterator[Problem]:
    for table in _tables(store):
        try:
            with environment(store.path):
                counts[table] = store.database[table].count
        except JournalError as error:
            yield Problem("unreadable", {"sentence": str(error), "error": error.code})


def _tables(store: Store) -> list[str]:
    with environment(store.path):
        return sorted(name for name in store.database.table_names() if not name.startswith("sqlite_"))
