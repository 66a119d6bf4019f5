"""The journal: one file that holds everything, and the collections through which it is read and changed."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from contextlib import AbstractContextManager, closing
from pathlib import Path
from types import TracebackType
from typing import Any
from zoneinfo import ZoneInfo

from hatchbook.journal import backups, migrations
from hatchbook.journal.batches import Batches
from hatchbook.journal.break_outs import BreakOuts
from hatchbook.journal.candlings import Candlings
from hatchbook.journal.check import CheckReport, check_store
from hatchbook.journal.duties import Duties
from hatchbook.journal.eggs import Eggs
from hatchbook.journal.errors import JournalError, NeedsWritingError
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
from hatchbook.journal.settings import JournalSettings, known_zone
from hatchbook.journal.store import Store
from hatchbook.journal.uses import Uses
from hatchbook.journal.weighings import Weighings


class Journal:
    """An open journal file; use it as a context manager, or ``close`` it.

    One thread uses one Journal; ``second`` gives another thread its own. Instants are UTC seconds.
    """

    def __init__(
        self, store: Store, clock: Callable[[], float] = time.time, *, backs_up: bool = False
    ) -> None:
        self._store = store
        self._clock = clock
        self._backs_up = backs_up
        self._backs_up_on_close = backs_up
        self._backup_tried_at: float | None = None
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
        self.uses = Uses(store)

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
            JournalMissingError: there is no such folder.
            JournalReadOnlyError: the folder cannot be written.
            JournalError: the time zone is unknown.
        """
        path = Path(path)
        known_zone(time_zone)

        def build(store: Store) -> None:
            migrations.migrate(store)
            with store.transaction():
                store.write("INSERT INTO setting VALUES ('time_zone', ?)", (time_zone,))

        return cls._working(Store.create(path, build), clock)

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
            if store.version < newest:
                if read_only:
                    raise NeedsWritingError(
                        f"{path.name} was written by an older Hatchbook and has to be opened for writing once.",
                        path=path,
                    )
                backups.make(store, clock(), reason="before_migration")
                migrations.migrate(store, migration_steps)
        except BaseException:
            store.abandon()
            raise
        return cls._working(store, clock)

    @classmethod
    def _working(cls, store: Store, clock: Callable[[], float]) -> Journal:
        try:
            store.keep_log()
        except BaseException:
            store.abandon()
            raise
        return cls(store, clock, backs_up=not store.read_only)

    def second(self, *, read_only: bool = True) -> Journal:
        """The same journal for another thread, to be closed there."""
        second = Journal(self._store.second(read_only=read_only), self._clock, backs_up=self._backs_up)
        second._backs_up_on_close = False
        return second

    def close(self) -> None:
        """Backs up what has changed and closes the file; may be called twice.

        Raises:
            BackupError: the backup could not be made; the file is closed all the same.
            DiskFullError, DiskError: all is stored, but the file still needs its log beside it.
        """
        backs_up, self._backs_up_on_close = self._backs_up_on_close, False
        try:
            if backs_up:
                self.back_up(reason="closed")
        except BaseException as error:
            try:
                self._store.close()
            except JournalError as second:
                error.add_note(str(second))
            raise
        self._store.close()

    def __enter__(self) -> Journal:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        try:
            self.close()
        except JournalError as trouble:
            if error is None:
                raise
            error.add_note(str(trouble))

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
        """What is wrong with the file, if anything; ranges of values only where it is open for writing."""
        if self._store.read_only and self._backs_up:  # the reading connection of a thread
            with closing(self._store.looking()) as looking:
                return check_store(looking)
        return check_store(self._store)

    def back_up(self, *, reason: str = "asked") -> Path | None:
        """Makes a backup and returns its file; None where nothing has changed since the latest one.

        A journal opened for reading only and the demo make none.

        Raises:
            BackupError: it could not be made.
        """
        return backups.make(self._store, self._clock(), reason=reason) if self._backs_up else None

    def back_up_if_due(self) -> Path | None:
        """Makes a backup if the latest one, and the latest try, are half an hour old; see ``back_up``.

        Cheap while none is due; may be called on a ``second`` of another thread.
        """
        return self.back_up(reason="interval") if self.backup_is_due() else None

    def backup_is_due(self) -> bool:
        """Whether the latest backup and the latest try are half an hour old. Saying so counts as a try: whoever
        asks makes the backup, here or on a ``second`` of another thread.

        Raises:
            BackupError: the folder of the backups cannot be read.
        """
        now = self._clock()
        tried_at = self._backup_tried_at
        if not self._backs_up or (tried_at is not None and 0 <= now - tried_at < backups.INTERVAL_S):
            return False
        if not backups.is_due(self.path, now):
            return False
        self._backup_tried_at = now
        return True
