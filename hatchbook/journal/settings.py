"""What holds for the whole journal: its home time zone, the first month of its season."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from hatchbook.journal.errors import JournalError
from hatchbook.journal.history import Change, History
from hatchbook.journal.store import Store

_TIME_ZONE = "time_zone"
_FIRST_MONTH = "season_first_month"
_IS_DEMO = "is_demo"


@dataclass(frozen=True)
class Setting:
    """One setting of the journal, as text."""

    KIND: ClassVar[str] = "setting"
    KEY: ClassVar[tuple[str, ...]] = ("key",)

    key: str
    value: str


def known_zone(name: str) -> ZoneInfo:
    """The time zone of an IANA name.

    Raises:
        JournalError: this computer does not know it.
    """
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError) as error:
        raise JournalError(f"There is no time zone {name} on this computer.", time_zone=name) from error


def is_demo(store: Store) -> bool:
    """Whether a journal is the invented one that shows the program."""
    return store.one("SELECT 1 FROM setting WHERE key = ? AND value = 'yes'", (_IS_DEMO,)) is not None


class JournalSettings:
    """The settings of a journal; changes are steps like any other."""

    def __init__(self, store: Store, history: History) -> None:
        self._store = store
        self._history = history

    @property
    def zone(self) -> ZoneInfo:
        """The home time zone in which instants are shown.

        Raises:
            JournalError: this computer does not know it.
        """
        return known_zone(self._read(_TIME_ZONE, "UTC"))

    @property
    def season_first_month(self) -> int:
        """The month, 1 to 12, with which a breeding year begins."""
        return int(self._read(_FIRST_MONTH, "1"))

    @property
    def is_demo(self) -> bool:
        """Whether the journal is the invented one that shows the program."""
        return is_demo(self._store)

    def set_zone(self, name: str) -> Change:
        """Sets the home time zone by its IANA name.

        Raises:
            JournalError: this computer does not know it.
        """
        return self._write(_TIME_ZONE, known_zone(name).key)

    def set_season_first_month(self, month: int) -> Change:
        """Sets the month, 1 to 12, with which a breeding year begins."""
        if not 1 <= month <= 12:
            raise ValueError("A season begins in a month from 1 to 12.")
        return self._write(_FIRST_MONTH, str(month))

    def mark_as_demo(self) -> Change:
        """Marks the journal as the invented one."""
        return self._write(_IS_DEMO, "yes")

    def _read(self, key: str, otherwise: str) -> str:
        row = self._store.one("SELECT value FROM setting WHERE key = ?", (key,))
        return str(row[0]) if row else otherwise

    def _write(self, key: str, value: str) -> Change:
        setting = Setting(key, value)
        with self._history.step("setting_changed", name=key) as step:
            if self._store.one("SELECT 1 FROM setting WHERE key = ?", (key,)):
                step.replace(setting)
            else:
                step.add(setting)
        return step.done
