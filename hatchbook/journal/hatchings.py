"""The hatching record of each egg: pips, chicks, helped, died in pip, culled; and eggs taken out."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Any, ClassVar

from hatchbook.journal.collection import Collection
from hatchbook.journal.eggs import batch_of_egg, number_of, of_eggs_in
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

    def of_egg(self, egg: str) -> list[Hatching]:
        """The hatching records of one egg, oldest first."""
        return self._where("egg = ?", (egg,))

    def marks_in(self, batches: Sequence[str] | None = None) -> list[tuple[str, int, str]]:
        """(egg, instant, mark) of every hatching record in these batches, or in all, in no order."""
        condition, parameters = of_eggs_in(batches)
        return self._store.rows(f"SELECT egg, at, mark FROM hatching WHERE {condition}", parameters)

    def note_marks(self, batch: str, eggs: Sequence[str], mark: HatchMark, at: int) -> Change:
        """Stores the same mark for several eggs as one step."""
        return self.note(batch, [Hatching(egg, at, mark) for egg in eggs])

    def note(self, batch: str, records: Sequence[Hatching]) -> Change:
        """Stores hatching records as one step.

        A mark that an egg has already is corrected: the earlier record takes the new instant, and keeps of its
        mass, ring and note what the new one leaves empty.
        """
        marks = {str(record.mark) for record in records}
        details: dict[str, Any] = {"count": len(records), "mark": marks.pop() if len(marks) == 1 else None}
        if len(records) == 1:
            details["number"] = number_of(self._store, records[0].egg)
        eggs = json.dumps([record.egg for record in records])
        known = {
            (record.egg, record.mark): record
            for record in self._where("egg IN (SELECT value FROM json_each(?))", (eggs,))
        }
        with self._history.step("hatching_noted", batch=batch, **details) as step:
            for record in records:
                old = known.get((record.egg, record.mark))
                if old is None:
                    step.add(record)
                else:
                    step.replace(_corrected(old, record))
        return step.done

    def batch_of(self, record: Hatching) -> str | None:
        """The batch of the record's egg."""
        return batch_of_egg(self._store, record.egg)

    def named(self, record: Hatching) -> dict[str, Any]:
        """The egg's number and the mark."""
        return {"number": number_of(self._store, record.egg), "mark": str(record.mark)}


def _corrected(old: Hatching, new: Hatching) -> Hatching:
    return replace(
        old,
        at=new.at,
        chick_mass_g=old.chick_mass_g if new.chick_mass_g is None else new.chick_mass_g,
        ring=new.ring or old.ring,
        note=new.note or old.note,
    )


class Removals(Collection[Removal]):
    """The eggs taken out, of a journal."""

    record_class = Removal
    order = "at"

    def of_batch(self, batch: str) -> list[Removal]:
        """The eggs taken out of a batch."""
        return self._where(_OF_BATCH, (batch,))

    def of_egg(self, egg: str) -> list[Removal]:
        """The taking out of one egg; none or one."""
        return self._where("egg = ?", (egg,))

    def reasons_in(self, batches: Sequence[str] | None = None) -> list[tuple[str, int, str]]:
        """(egg, instant, reason) of every egg taken out of these batches, or of all, in no order."""
        condition, parameters = of_eggs_in(batches)
        return self._store.rows(f"SELECT egg, at, reason FROM removal WHERE {condition}", parameters)

    def batch_of(self, record: Removal) -> str | None:
        """The batch of the record's egg."""
        return batch_of_egg(self._store, record.egg)

    def named(self, record: Removal) -> dict[str, Any]:
        """The egg's number and the reason."""
        return {"number": number_of(self._store, record.egg), "reason": str(record.reason)}

    def note(self, batch: str, records: Sequence[Removal]) -> Change:
        """Stores eggs taken out as one step; an earlier record of the same egg is replaced."""
        reasons = {str(record.reason) for record in records}
        details: dict[str, Any] = {
            "count": len(records),
            "reason": reasons.pop() if len(reasons) == 1 else None,
        }
        if len(records) == 1:
            details["number"] = number_of(self._store, records[0].egg)
        with self._history.step("removals_noted", batch=batch, **details) as step:
            for record in records:
                for old in self._where("egg = ?", (record.egg,)):
                    step.remove(old)
                step.add(record)
        return step.done
