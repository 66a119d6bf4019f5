"""How a frozen record and a row of its table become each other.

A record class is a frozen dataclass whose fields are named as the table's columns; its ``KIND`` is the table's
name and its ``KEY`` the columns that identify it.
"""

from __future__ import annotations

import dataclasses
import json
import secrets
import types
import typing
from collections.abc import Callable, Mapping, Sequence
from enum import StrEnum
from typing import Any, ClassVar, Protocol, TypeVar

import numpy as np

Row = Mapping[str, object]
Key = tuple[object, ...]


class Record(Protocol):
    """What every record class offers."""

    KIND: ClassVar[str]
    KEY: ClassVar[tuple[str, ...]]
    __dataclass_fields__: ClassVar[dict[str, Any]]


R = TypeVar("R", bound=Record)


def new_uid() -> str:
    """A random identifier: 64 bits as 16 hexadecimal digits."""
    return secrets.token_hex(8)


_Readers = tuple[tuple[str, Callable[[Any], object] | None], ...]
_READERS: dict[type[Any], _Readers] = {}


def _readers_of(record_class: type[Any]) -> _Readers:
    """Per field what turns a stored value into the field's type; None where it is stored as it is."""
    known = _READERS.get(record_class)
    if known is None:
        hints = typing.get_type_hints(record_class)
        known = tuple((field.name, _reader(hints[field.name])) for field in dataclasses.fields(record_class))
        _READERS[record_class] = known
    return known


def _reader(hint: object) -> Callable[[Any], object] | None:
    if isinstance(hint, types.UnionType):
        inner = next(part for part in typing.get_args(hint) if part is not types.NoneType)
        return _reader(inner)
    if hint is bool or (isinstance(hint, type) and issubclass(hint, StrEnum)):
        return typing.cast(Callable[[Any], object], hint)
    return None


def columns(record_class: type[Any]) -> tuple[str, ...]:
    """The columns of a record class, in the order of its fields."""
    return tuple(name for name, _ in _readers_of(record_class))


def from_row(record_class: type[R], row: Sequence[object]) -> R:
    """The record for a row whose values stand in the order of ``columns(record_class)``."""
    values = {
        name: value if reader is None or value is None else reader(value)
        for (name, reader), value in zip(_readers_of(record_class), row, strict=True)
    }
    return record_class(**values)


def to_row(record: Record) -> dict[str, object]:
    """The values to store for a record, by column."""
    return {name: plain(getattr(record, name)) for name in columns(type(record))}


def plain(value: object) -> object:
    """A value as SQLite and JSON know it."""
    if isinstance(value, StrEnum):
        return str(value)
    if isinstance(value, bool):
        return int(value)
    if isinstance(value, np.generic):  # SQLite would take it for a blob
        return value.item()
    return value


def key_of(record: Record) -> Key:
    """The values that identify a record."""
    return tuple(getattr(record, name) for name in record.KEY)


def key_text(key: Key) -> str:
    """A key as history keeps it: the uid itself, or the parts as a JSON list."""
    return str(key[0]) if len(key) == 1 else json.dumps(list(key))


def select_sql(record_class: type[Any], condition: str = "", order: str = "") -> str:
    """A SELECT of all columns of a record class; ``condition`` and ``order`` are the program's own text."""
    sql = f"SELECT {', '.join(quoted(name) for name in columns(record_class))} FROM {record_class.KIND}"
    if condition:
        sql += f" WHERE {condition}"
    return sql + (f" ORDER BY {order}" if order else "")


def quoted(name: str) -> str:
    """A column name that may be a word of SQL, quoted."""
    return f'"{name}"'
