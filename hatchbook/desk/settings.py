"""The desk's own settings: a typed list of every key, kept in QSettings."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Generic, TypeVar

from PySide6.QtCore import QByteArray, QSettings

T = TypeVar("T")


@dataclass(frozen=True)
class Key(Generic[T]):
    """A setting: its name in the file, what it is when nothing was kept, and how its text is read."""

    name: str
    otherwise: T
    read: Callable[[Any], T]


def _text(value: Any) -> str:
    return str(value)


def _flag(value: Any) -> bool:
    return value in (True, "true", "1", 1)


def _bytes(value: Any) -> bytes:
    return bytes(value.data()) if isinstance(value, QByteArray) else bytes(value)


def _paths(value: Any) -> tuple[str, ...]:
    if isinstance(value, str):
        return (value,) if value else ()
    return tuple(str(item) for item in value or ())


WINDOW = Key("window/geometry", b"", _bytes)
COLUMNS = Key("window/columns", b"", _bytes)
LEFT_ROWS = Key("window/left_rows", b"", _bytes)
LEFT_FOLDED = Key("window/left_folded", False, _flag)
SCHEME = Key("look/scheme", "system", _text)
LAST_JOURNAL = Key("journal/last", "", _text)
_NO_PATHS: tuple[str, ...] = ()
RECENT_JOURNALS = Key("journal/recent", _NO_PATHS, _paths)
TEMPERATURE_UNIT = Key("entry/temperature_unit", "C", _text)
HUMIDITY_ENTRY = Key("entry/humidity", "rh", _text)
WICK = Key("entry/wick", "still_air", _text)
IMPORT_FOLDER = Key("import/folder", "", _text)
OBSERVER = Key("entry/observer", "", _text)
CANDLING_LIGHT = Key("candling/light", 1, int)
CANDLING_HAND = Key("candling/hand", "right", _text)
CANDLING_ORDER = Key("candling/order", "rows", _text)
MASS_UNIT = Key("entry/mass_unit", "gram", _text)
SEASONS_QUESTION = Key("seasons/question", "", _text)

ALL: tuple[Key[Any], ...] = (
    WINDOW,
    COLUMNS,
    LEFT_ROWS,
    LEFT_FOLDED,
    SCHEME,
    LAST_JOURNAL,
    RECENT_JOURNALS,
    TEMPERATURE_UNIT,
    HUMIDITY_ENTRY,
    WICK,
    IMPORT_FOLDER,
    OBSERVER,
    CANDLING_LIGHT,
    CANDLING_HAND,
    CANDLING_ORDER,
    MASS_UNIT,
    SEASONS_QUESTION,
)


class DeskSettings:
    """Reads and keeps the settings of the list above, and no others."""

    def __init__(self, store: QSettings | None = None) -> None:
        self._store = store if store is not None else QSettings()

    def get(self, key: Key[T]) -> T:
        """The kept value, or what the key is otherwise."""
        if not self._store.contains(key.name):
            return key.otherwise
        return key.read(self._store.value(key.name))

    def keep(self, key: Key[T], value: T) -> None:
        """Keeps a value."""
        if isinstance(value, bytes):
            self._store.setValue(key.name, QByteArray(value))
        elif isinstance(value, tuple):
            self._store.setValue(key.name, list(value))
        else:
            self._store.setValue(key.name, value)
