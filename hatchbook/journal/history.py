"""Every change of a record, kept with before and after; undo and redo read it.

A ``Step`` is one thing the breeder did. Its changes and its line in history are stored in one transaction. What
was taken back stays in history as ``undone``, and as ``dropped`` once something else was done instead.
"""

from __future__ import annotations

import json
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any, Literal, TypeVar

from hatchbook.journal import bulk
from hatchbook.journal.errors import NothingToUndoError, RecordMissingError
from hatchbook.journal.store import Store
from hatchbook.journal.table import (
    Key,
    Record,
    columns,
    key_of,
    key_text,
    new_uid,
    plain,
    quoted,
    select_sql,
    to_row,
)

R = TypeVar("R", bound=Record)

StepState = Literal["done", "undone", "dropped"]


@dataclass(frozen=True)
class StepInfo:
    """A line of history: what was done, when, with the values that name it."""

    number: int
    uid: str
    at: int
    code: str
    batch: str | None
    details: dict[str, Any]
    state: StepState


@dataclass(frozen=True)
class ChangeInfo:
    """One record's change within a step; None before means added, None after means removed."""

    kind: str
    record: str
    before: dict[str, Any] | None
    after: dict[str, Any] | None


@dataclass(frozen=True)
class Change:
    """What an operation did: the step, and the kinds of record whose views may want to refresh.

    An operation that found everything as it was to be changes nothing: no kinds, and a step of number 0, for
    which history has no line.
    """

    step: StepInfo
    kinds: frozenset[str]
    direction: Literal["done", "undone", "redone"] = "done"


@dataclass
class Step:
    """A running step: records are added, replaced and removed through it, and it remembers how they were."""

    _store: Store
    code: str
    batch: str | None
    details: dict[str, Any]
    _changes: list[tuple[str, str, str | None, str | None, bytes | None]] = field(default_factory=list)
    change: Change | None = None

    @property
    def done(self) -> Change:
        """The finished step's change.

        Raises:
            RuntimeError: the step is still running.
        """
        if self.change is None:
            raise RuntimeError("the step is not finished")
        return self.change

    def add(self, record: Record) -> None:
        """Stores a new record."""
        row = to_row(record)
        _insert(self._store, record.KIND, row)
        self._changes.append((record.KIND, key_text(key_of(record)), None, _dump(row), None))

    def replace(self, record: Record) -> None:
        """Stores a record in place of the one with the same key; nothing is noted where nothing differs.

        Raises:
            RecordMissingError: there is none.
        """
        before = _stored(self._store, type(record), key_of(record))
        after = to_row(record)
        if before == after:
            return
        _update(self._store, record.KIND, record.KEY, after)
        self._changes.append((record.KIND, key_text(key_of(record)), _dump(before), _dump(after), None))

    def remove(self, record: Record) -> None:
        """Removes a record; those that refer to it must have gone before.

        Raises:
            RecordMissingError: there is none.
        """
        before = _stored(self._store, type(record), key_of(record))
        _delete(self._store, record.KIND, record.KEY, before)
        self._changes.append((record.KIND, key_text(key_of(record)), _dump(before), None, None))

    def note_bulk(self, import_number: int) -> None:
        """Notes that the rows of an import run came in with this step; they are kept aside only when undone."""
        self._changes.append((bulk.KIND, str(import_number), None, "{}", None))

    def remove_bulk(self, import_number: int) -> None:
        """Takes the rows of an import run out of the journal and keeps them in this step's history."""
        packed = bulk.take_away(self._store, import_number)
        self._changes.append((bulk.KIND, str(import_number), "{}", None, packed))

    @property
    def kinds(self) -> frozenset[str]:
        """The kinds of record that this step has changed so far."""
        return frozenset(_shown_kind(kind) for kind, *_ in self._changes)

    def _write(self, clock: Callable[[], float]) -> Change:
        at = int(clock())
        if not self._changes:
            return Change(StepInfo(0, "", at, self.code, self.batch, self.details, "done"), frozenset())
        store = self._store
        store.write("UPDATE history_step SET state = 'dropped' WHERE state = 'undone'")
        uid = new_uid()
        details = json.dumps(self.details, ensure_ascii=False, default=plain)
        cursor = store.write(
            "INSERT INTO history_step (uid, at, code, batch, details, state) VALUES (?, ?, ?, ?, ?, 'done')",
            (uid, at, self.code, self.batch, details),
        )
        number = int(cursor.lastrowid or 0)
        store.write_many(
            "INSERT INTO history_change (step, position, kind, record, before, after, payload) "
            "VALUES (?, ?, ?, ?, ?, ?, ?)",
            ((number, position, *change) for position, change in enumerate(self._changes)),
        )
        info = StepInfo(number, uid, at, self.code, self.batch, json.loads(details), "done")
        return Change(info, self.kinds)


class History:
    """The steps of a journal, oldest first, and the way back and forth through them."""

    def __init__(self, store: Store, clock: Callable[[], float] = time.time) -> None:
        self._store = store
        self._clock = clock

    @contextmanager
    def step(self, code: str, *, batch: str | None = None, **details: Any) -> Iterator[Step]:
        """One thing the breeder does: all of it is stored, with its line of history, or nothing.

        Args:
            code: what it is, in the program's words; the desk makes the sentence.
            batch: the uid of the batch it belongs to.
            details: the values that the sentence names; plain JSON values.

        Raises:
            RuntimeError: another step is running; one thing the breeder does is one step.
            RecordRefusedError, DiskFullError, JournalBusyError: as they say; nothing is stored.
        """
        step = Step(self._store, code, batch, details)
        with self._store.transaction():
            yield step
            step.change = step._write(self._clock)

    def next_undo(self) -> StepInfo | None:
        """The step that undo would take back."""
        return self._first("state = 'done'", "number DESC")

    def next_redo(self) -> StepInfo | None:
        """The step that redo would do again."""
        return self._first("state = 'undone'", "number")

    def undo(self, only: int | None = None) -> Change:
        """Takes back the latest step; with ``only``, the number of a step, that step and no other.

        Raises:
            NothingToUndoError: there is none, or the latest is another than ``only``.
        """
        return self._move(lambda: _that(self.next_undo(), only), "undone")

    def redo(self) -> Change:
        """Does the step again that was taken back last.

        Raises:
            NothingToUndoError: there is none.
        """
        return self._move(self.next_redo, "redone")

    def steps(self, *, batch: str | None = None, newest: int | None = None) -> list[StepInfo]:
        """The lines of history, newest first; of one batch, or all; at most ``newest`` of them."""
        condition = "WHERE batch = ?" if batch is not None else ""
        limit = f" LIMIT {int(newest)}" if newest is not None else ""
        rows = self._store.rows(
            f"SELECT {_STEP_COLUMNS} FROM history_step {condition} ORDER BY number DESC{limit}",
            (batch,) if batch is not None else (),
        )
        return [_info(row) for row in rows]

    def changes(self, step: int) -> list[ChangeInfo]:
        """What a step changed, in the order in which it did."""
        rows = self._store.rows(
            "SELECT kind, record, before, after FROM history_change WHERE step = ? ORDER BY position", (step,)
        )
        return [
            ChangeInfo(_shown_kind(kind), record, _load(before), _load(after))
            for kind, record, before, after in rows
        ]

    def last_known(self, kind: str, record: str) -> dict[str, Any] | None:
        """A record as history saw it last, also one that is gone since; None for one it never saw."""
        row = self._store.one(
            "SELECT before, after FROM history_change WHERE kind = ? AND record = ? ORDER BY step DESC LIMIT 1",
            (kind, record),
        )
        return None if row is None else _load(row[1] if row[1] is not None else row[0])

    def _first(self, condition: str, order: str) -> StepInfo | None:
        row = self._store.one(
            f"SELECT {_STEP_COLUMNS} FROM history_step WHERE {condition} ORDER BY {order} LIMIT 1"
        )
        return None if row is None else _info(row)

    def _move(self, which: Callable[[], StepInfo | None], direction: Literal["undone", "redone"]) -> Change:
        with self._store.transaction():
            info = which()
            if info is None:
                word = "take back" if direction == "undone" else "do again"
                raise NothingToUndoError(f"There is nothing to {word}.")
            backwards = direction == "undone"
            state: StepState = "undone" if backwards else "done"
            rows = self._store.rows(
                "SELECT position, kind, record, before, after, payload FROM history_change WHERE step = ? "
                f"ORDER BY position {'DESC' if backwards else 'ASC'}",
                (info.number,),
            )
            for position, kind, record, before, after, payload in rows:
                now, then = (after, before) if backwards else (before, after)
                if kind == bulk.KIND:
                    packed = bulk.move(self._store, int(record), payload, away=then is None)
                    self._store.write(
                        "UPDATE history_change SET payload = ? WHERE step = ? AND position = ?",
                        (packed, info.number, position),
                    )
                else:
                    _apply(self._store, kind, _load(now), _load(then))
            self._store.write("UPDATE history_step SET state = ? WHERE number = ?", (state, info.number))
        kinds = frozenset(_shown_kind(row[1]) for row in rows)
        return Change(StepInfo(**{**vars(info), "state": state}), kinds, direction)


_STEP_COLUMNS = "number, uid, at, code, batch, details, state"

#: What identifies a row of each table; everything else goes by its uid.
_KEYS: dict[str, tuple[str, ...]] = {"reading": ("probe", "at"), "setting": ("key",)}


def newest_step(store: Store, *, done: bool = False) -> StepInfo | None:
    """The latest line of history, or the latest that is not taken back; None where there is none."""
    condition = "WHERE state = 'done' " if done else ""
    row = store.one(f"SELECT {_STEP_COLUMNS} FROM history_step {condition}ORDER BY number DESC LIMIT 1")
    return None if row is None else _info(row)


def _that(step: StepInfo | None, only: int | None) -> StepInfo | None:
    return step if step is not None and only in (None, step.number) else None


def _info(row: tuple[Any, ...]) -> StepInfo:
    number, uid, at, code, batch, details, state = row
    return StepInfo(number, uid, at, code, batch, json.loads(details), state)


def _shown_kind(kind: str) -> str:
    return "reading" if kind == bulk.KIND else kind


def _dump(row: dict[str, object]) -> str:
    return json.dumps(row, ensure_ascii=False)


def _load(text: str | None) -> dict[str, Any] | None:
    return None if text is None else json.loads(text)


def _apply(store: Store, kind: str, now: dict[str, Any] | None, then: dict[str, Any] | None) -> None:
    """Makes the row that is ``now`` what it is to be ``then``."""
    key = _KEYS.get(kind, ("uid",))
    if now is None and then is not None:
        _insert(store, kind, then)
    elif now is not None and then is None:
        _delete(store, kind, key, now)
    elif then is not None:
        _update(store, kind, key, then)


def _insert(store: Store, kind: str, row: dict[str, Any]) -> None:
    names = ", ".join(quoted(name) for name in row)
    marks = ", ".join("?" * len(row))
    store.write(f"INSERT INTO {kind} ({names}) VALUES ({marks})", tuple(row.values()))


def _update(store: Store, kind: str, key: tuple[str, ...], row: dict[str, Any]) -> None:
    values = {name: value for name, value in row.items() if name not in key}
    sets = ", ".join(f"{quoted(name)} = ?" for name in values)
    cursor = store.write(
        f"UPDATE {kind} SET {sets} WHERE {_where(key)}", (*values.values(), *(row[name] for name in key))
    )
    _require_one(cursor.rowcount, kind, key, row)


def _delete(store: Store, kind: str, key: tuple[str, ...], row: dict[str, Any]) -> None:
    cursor = store.write(f"DELETE FROM {kind} WHERE {_where(key)}", tuple(row[name] for name in key))
    _require_one(cursor.rowcount, kind, key, row)


def _require_one(count: int, kind: str, key: tuple[str, ...], row: dict[str, Any]) -> None:
    # Another program can have changed the file past its history.
    if count != 1:
        raise RecordMissingError(
            "That entry is no longer in the journal.",
            kind=kind,
            record=key_text(tuple(row[name] for name in key)),
        )


def _where(key: tuple[str, ...]) -> str:
    return " AND ".join(f"{quoted(name)} = ?" for name in key)


def _stored(store: Store, record_class: type[Any], key: Key) -> dict[str, object]:
    row = store.one(select_sql(record_class, _where(record_class.KEY)), key)
    if row is None:
        raise RecordMissingError(
            "That entry is no longer in the journal.", kind=record_class.KIND, record=key_text(key)
        )
    return dict(zip(columns(record_class), row, strict=True))
