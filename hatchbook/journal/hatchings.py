"""The hatching record of each egg: pips, chicks, helped, died in pip, culled; and eggs taken out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import ClassVar

from hatchbook.journal.collection import Collection
from hatchbook.journal.eggs import of_eggs_in
from hatchbook.journal.history import Change
from hatchbook.journal.table import new_uid
from hatchbook.trade.codes import HatchMark, RemovalReason


@dataclass(frozen=True)
class Hatching:
    """What was seen of one egg while the batch hatched; a chick's mass in g and its ring or mark."""

    KIND: ClassVar[str] = "hatching"
    KEY: ClassVar[tuple[str, ...]] = ("uid",)

    egg: str
    at: int
    mark: HatchMark
    chick_mass_g: float | None = None
    ring: str = ""
    note: str = ""
    uid: str = field(default_factory=new_uid)


@dataclass(frozen=True)
class Removal:
    """An egg that left the batch without hatching or dying in it."""

    KIND: ClassVar[str] = "removal"
    KEY: ClassVar[tuple[str, ...]] = ("uid",)

    egg: str
    at: int
    reason: RemovalReason
    note: str = ""
    uid: str = field(default_factory=new_uid)


_OF_BATCH = "egg IN (SELECT uid FROM egg WHERE batch = ?)"


class Hatchings(Collection[Hatching]):
    """The hatching records of a journal."""

    record_class = Hatching
    order = "at"

    def of_batch(self, batch: str) -> list[Hatching]:
        """The hatching records of a batch, oldest first."""
        return self._where(_OF_BATCH, (batch,))

    def marks_in(self, batches: Sequence[str] | None = None) -> list[tuple[str, int, str]]:
        """(egg, instant, mark) of every hatching record in these batches, or in all, in no order."""
        condition, parameters = of_eggs_in(batches)
        return self._store.rows(f"SELECT egg, at, mark FROM hatching WHERE {condition}", parameters)

    def note_marks(self, batch: str, eggs: Sequence[str], mark: HatchMark, at: int) -> Change:
        """Stores the same mark for several eggs as one step."""
        return self.note(batch, [Hatching(egg, at, mark) for egg in eggs])

    def note(self, batch: str, records: Sequence[Hatching]) -> Change:
        """Stores hatching records as one step."""
        marks = {str(record.mark) for record in records}
        mark = marks.pop() if len(marks) == 1 else None
        with self._history.step("hatching_noted", batch=batch, count=len(records), mark=mark) as step:
            for record in records:
                step.add(record)
        return step.done

    def batch_of(self, record: Hatching) -> str | None:
        """The batch of the record's egg."""
        row = self._store.one("SELECT batch FROM egg WHERE uid = ?", (record.egg,))
        return row[0] if row else None


class Removals(Collection[Removal]):
    """The eggs taken out, of a journal."""

    record_class = Removal
    order = "at"

    def of_batch(self, batch: str) -> list[Removal]:
        """The eggs taken out of a batch."""
        return self._where(_OF_BATCH, (batch,))

    def reasons_in(self, batches: Sequence[str] | None = None) -> list[tuple[str, int, str]]:
        """(egg, instant, reason) of every egg taken out of these batches, or of all, in no order."""
        condition, parameters = of_eggs_in(batches)
        return self._store.rows(f"SELECT egg, at, reason FROM removal WHERE {condition}", parameters)

    def batch_of(self, record: Removal) -> str | None:
        """The batch of the record's egg."""
        row = self._store.one("SELECT batch FROM egg WHERE uid = ?", (record.egg,))
        return row[0] if row else None

    def note(self, batch: str, records: Sequence[Removal]) -> Change:
        """Stores eggs taken out as one step; an earlier record of the same egg is replaced."""
        with self._history.step("removals_noted", batch=batch, count=len(records)) as step:
            for record in records:
                for old in self._where("egg = ?", (record.egg,)):
                    step.remove(old)
                step.add(record)
        return step.done
