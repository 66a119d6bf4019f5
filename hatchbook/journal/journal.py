"""The journal: one file that holds everything, and the collections through which it is read and changed."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from contextlib import AbstractContextManager
from pathlib import Path
from types import TracebackType
from typing import Any
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from hatchbook.journal import backups, migrations
from hatchbook.journal.batches import Batches
from hatchbook.journal.break_outs import BreakOuts
from hatchbook.journal.candlings import Candlings
from hatchbook.journal.check import CheckReport, check_store
from hatchbook.journal.duties import Duties
from hatchbook.journal.eggs import Eggs
from hatchbook.journal.errors import JournalError
from hatchbook.journal.events import Events
from hatchbook.journal.hatchings import Hatchings, Removals
from hatchbook.journal.history import Change, History, Step
from hatchbook.journal.imports import Imports
from hatchbook.journal.machines import Machines
from hatchbook.journal.migrations import Migration
from hatchbook.journal.past_batches import PastBatches
from hatchbook.journal.pens import Pens
from hatchbook.journal.probes import Probes
from hatchbook.journal.programmes import OwnProgrammes
from hatchbook.journal.readings import Readings
from hatchbook.journal.settings import JournalSettings
from hatchbook.journal.store import Store
from hatchbook.journal.weighings import Weighings


class Journal:
    """An open journal file; use it as a context manager, or ``close`` it.

    One thread uses one Journal; ``second`` gives another thread its own. Instants are UTC seconds.
    """

    def __init__(self, store: Store, clock: Callable[[], float] = time.time) -> None:
        self._store = store
        self._clock = clock
        self.history = History(store, clock)
        self.settings = JournalSettings(store, self.history)
        self.machines = Machines(store, self.history)
        self.probes = Probes(store, self.history)
        self.pens = Pens(store, self.history)
        self.programmes = OwnProgrammes(store, self.history)
        self.batches = Batches(store, self.history)
        self.duties = Duties(store, self.history)
        self.eggs = Eggs(store, self.history)
        self.candlings = Candlings(store, self.history)
        self.weighings = Weighings(store, self.history)
        self.events = Events(store, self.history)
        self.hatchings = Hatchings(store, self.history)
        self.removals = Removals(store, self.history)
        self.break_outs = BreakOuts(store, self.history)
        self.readings = Readings(store, self.history)
        self.imports = Imports(store, self.history)
        self.past_batches = PastBatches(store, self.history)

    # ---------------------------------------------------------------- opening and closing

    @classmethod
    def create(
        cls, path: str | Path, *, time_zone: str = "UTC", clock: Callable[[], float] = time.time
    ) -> Journal:
        """A new, empty journal.

        Args:
            path: the file; a file of that name is never overwritten.
            time_zone: IANA name of the zone in which instants are shown.
            clock: tells the instant of a change, in UTC seconds.

        Raises:
            JournalExistsError: there is a file of that name.
            JournalReadOnlyError: the folder cannot be written.
            JournalError: the time zone is unknown.
        """
        path = Path(path)
        try:
            ZoneInfo(time_zone)
        except (ZoneInfoNotFoundError, ValueError, OSError) as error:
            raise JournalError(f"There is no time zone {time_zone}.", time_zone=time_zone) from error
        store = Store.create(path)
        try:
            migrations.migrate(store)
            with store.transaction():
                store.connection.execute("INSERT INTO setting VALUES ('time_zone', ?)", (time_zone,))
            store.keep_log()
        except BaseException:
            store.close()
            path.unlink(missing_ok=True)
            raise
        return cls(store, clock)

    @classmethod
    def open(
        cls,
        path: str | Path,
        *,
        read_only: bool = False,
        clock: Callable[[], float] = time.time,
        migration_steps: Sequence[Migration] = migrations.MIGRATIONS,
    ) -> Journal:
        """An existing journal; one of an older format is backed up and brought to the present one.

        Raises:
            JournalError: with a plain sentence; a foreign, newer or damaged file is left untouched.
        """
        path = Path(path)
        newest = migrations.newest(migration_steps)
        store = Store.open(path, read_only=read_only, newest_version=newest)
        try:
            store.require_sound()
            if store.version < newest and not read_only:
                backups.make(store, clock(), reason="before_migration")
                migrations.migrate(store, migration_steps)
            store.keep_log()
        except BaseException:
            store.close()
            raise
        return cls(store, clock)

    def second(self, *, read_only: bool = True) -> Journal:
        """The same journal for another thread, to be closed there."""
        return Journal(self._store.second(read_only=read_only), self._clock)

    def close(self) -> None:
        """Backs up what has changed and closes the file; may be called twice."""
        self._store.close()

    def __enter__(self) -> Journal:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    # ---------------------------------------------------------------- what it is

    @property
    def path(self) -> Path:
        """The file."""
        return self._store.path

    @property
    def read_only(self) -> bool:
        """Whether the file is opened for reading only."""
        return self._store.read_only

    @property
    def zone(self) -> ZoneInfo:
        """The home time zone in which instants are shown."""
        return self.settings.zone

    # ---------------------------------------------------------------- changing

    def step(self, code: str, *, batch: str | None = None, **details: Any) -> AbstractContextManager[Step]:
        """Several changes as one step of history; see ``History.step``."""
        return self.history.step(code, batch=batch, **details)

    def undo(self) -> Change:
        """Takes back the latest step."""
        return self.history.undo()

    def redo(self) -> Change:
        """Does the step again that was taken back last."""
        return self.history.redo()

    # ---------------------------------------------------------------- keeping

    def check(self) -> CheckReport:
        """What is wrong with the file, if anything."""
        return check_store(self._store)

    def back_up(self, *, reason: str = "asked") -> Path | None:
        """Makes a backup, unless nothing has changed since the latest one; returns its file."""
        return backups.make(self._store, self._clock(), reason=reason)
