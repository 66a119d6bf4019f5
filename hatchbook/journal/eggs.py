"""Eggs: number, place on the tray, pen and dam, laying date, measures."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, fields, replace
from typing import Any, ClassVar

from hatchbook.journal.collection import Collection
from hatchbook.journal.errors import RecordMissingError
from hatchbook.journal.history import Change
from hatchbook.journal.store import Store
from hatchbook.journal.table import new_uid

Place = tuple[int, int, int]
"""Tray, row and column, each from 1."""


@dataclass(frozen=True)
class Egg:
    """One egg of a batch. Places count from 1; masses in g; length and breadth in mm.

    ``marked``: it is weighed when only some are. ``mark``: what is written on its shell.
    """

    KIND: ClassVar[str] = "egg"
    KEY: ClassVar[tuple[str, ...]] = ("uid",)

    batch: str
    number: int
    tray: int | None = None
    tray_row: int | None = None
    tray_column: int | None = None
    pen: str | None = None
    dam: str | None = None
    laid_on: str | None = None
    laid_mass_g: float | None = None
    set_mass_g: float | None = None
    length_mm: float | None = None
    breadth_mm: float | None = None
    shell_note: str = ""
    marked: bool = False
    mark: str = ""
    remark: str = ""
    uid: str = field(default_factory=new_uid)

    @property
    def place(self) -> Place | None:
        """Tray, row and column; None for an egg without a place."""
        if self.tray is None or self.tray_row is None or self.tray_column is None:
            return None
        return self.tray, self.tray_row, self.tray_column

    def at_place(self, place: Place | None) -> Egg:
        """The same egg in another place."""
        tray, row, column = place if place is not None else (None, None, None)
        return replace(self, tray=tray, tray_row=row, tray_column=column)


def of_eggs_in(batches: Sequence[str] | None) -> tuple[str, tuple[str, ...]]:
    """Condition and parameters for rows whose ``egg`` lies in these batches; None stands for all."""
    if batches is None:
        return "TRUE", ()
    listed = "egg IN (SELECT uid FROM egg WHERE batch IN (SELECT value FROM json_each(?)))"
    return listed, (json.dumps(list(batches)),)


def number_of(store: Store, egg: str) -> int | None:
    """The number of an egg in its batch; None where there is no such egg."""
    row = store.one("SELECT number FROM egg WHERE uid = ?", (egg,))
    return int(row[0]) if row else None


def batch_of_egg(store: Store, egg: str) -> str | None:
    """The uid of the batch of an egg; None where there is no such egg."""
    row = store.one("SELECT batch FROM egg WHERE uid = ?", (egg,))
    return str(row[0]) if row else None


class Eggs(Collection[Egg]):
    """The eggs of a journal."""

    record_class = Egg
    order = "number"

    def of_batch(self, batch: str) -> list[Egg]:
        """The eggs of a batch, by number."""
        return self._where("batch = ?", (batch,))

    def uids(self, batches: Sequence[str] | None = None) -> list[tuple[str, str]]:
        """(batch, egg) of every egg in these batches, or in all, by batch and number."""
        if batches is None:
            return self._store.rows("SELECT batch, uid FROM egg ORDER BY batch, number")
        return self._store.rows(
            "SELECT batch, uid FROM egg WHERE batch IN (SELECT value FROM json_each(?)) ORDER BY batch, number",
            (json.dumps(list(batches)),),
        )

    def origins(self) -> list[tuple[str, str | None, str | None, str | None]]:
        """(batch, pen, dam, date laid) of every egg, in the order of ``uids``."""
        return self._store.rows("SELECT batch, pen, dam, laid_on FROM egg ORDER BY batch, number")

    def pens(self) -> dict[str, list[str]]:
        """The names of the pens that the eggs of each batch come from, by batch, in the order of the names."""
        rows = self._store.rows(
            "SELECT DISTINCT batch, pen.name FROM egg JOIN pen ON pen.uid = egg.pen ORDER BY batch, pen.name"
        )
        names: dict[str, list[str]] = {}
        for batch, name in rows:
            names.setdefault(batch, []).append(name)
        return names

    def named(self, record: Egg) -> dict[str, Any]:
        """The egg's number."""
        return {"number": record.number}

    def replace(self, record: Egg) -> Change:
        """Stores an egg in place of the one with the same uid, as one step named by the fields that changed."""
        return self.change_many([record])

    def change_many(self, eggs: Sequence[Egg]) -> Change:
        """Stores several eggs of one batch in place of those with the same uids, as one step.

        Raises:
            RecordMissingError: one of them is not there.
        """
        changed = {name for egg in eggs for name in _differing(self.get(egg.uid), egg)}
        details: dict[str, Any] = {"count": len(eggs), "fields": sorted(changed)}
        if changed == {"marked"} and len({egg.marked for egg in eggs}) == 1:
            details["marked"] = eggs[0].marked
        code = "eggs_changed"
        if len(eggs) == 1:
            code = "egg_changed"
            details |= self.named(eggs[0])
        with self._history.step(code, batch=eggs[0].batch if eggs else None, **details) as step:
            for egg in eggs:
                step.replace(egg)
        return step.done

    def move(self, egg: Egg, tray: int, tray_row: int, tray_column: int) -> Change:
        """Puts an egg into a place; the egg that lay there takes the place it came from."""
        return self.move_many(egg.batch, {egg.uid: (tray, tray_row, tray_column)})

    def move_many(self, batch: str, places: Mapping[str, Place | None]) -> Change:
        """Puts eggs of a batch (uid → place, None: without one) where they are to lie, as one step.

        An egg that lay in one of these places takes a place that became free, the first the first; where none
        did it is left without a place.

        Raises:
            RecordMissingError: one of the eggs is not there.
            RecordRefusedError: two eggs are to lie in one place.
        """
        eggs = {egg.uid: egg for egg in self.of_batch(batch)}
        missing = next((uid for uid in places if uid not in eggs), None)
        if missing is not None:
            raise RecordMissingError("That egg is not in this batch.", kind=Egg.KIND, record=missing)
        moved = {uid: eggs[uid] for uid in places}
        targets = {place for place in places.values() if place is not None}
        freed = [place for egg in moved.values() if (place := egg.place) is not None and place not in targets]
        displaced = [egg for egg in eggs.values() if egg.uid not in places and egg.place in targets]
        wanted: dict[str, Place | None] = dict(places)
        for position, egg in enumerate(displaced):
            wanted[egg.uid] = freed[position] if position < len(freed) else None
        details = self._moved(batch, list(moved.values()), places, displaced)
        code = "egg_moved" if len(places) == 1 else "eggs_moved"
        with self._history.step(code, batch=batch, **details) as step:
            going = [eggs[uid] for uid, place in wanted.items() if eggs[uid].place != place]
            for egg in going:  # a place is left before another egg takes it
                if egg.place in targets:
                    step.replace(egg.at_place(None))
            for egg in going:
                step.replace(egg.at_place(wanted[egg.uid]))
        return step.done

    def _moved(
        self, batch: str, moved: Sequence[Egg], places: Mapping[str, Place | None], displaced: Sequence[Egg]
    ) -> dict[str, Any]:
        """The values by which history names a move."""
        if len(moved) != 1:
            return {"count": len(moved), "off": bool(moved) and not any(places.values())}
        row = self._store.one(
            "SELECT machine.trays FROM batch JOIN machine ON machine.uid = batch.machine WHERE batch.uid = ?",
            (batch,),
        )
        return {
            "number": moved[0].number,
            "was": moved[0].place,
            "place": places[moved[0].uid],
            "other": displaced[0].number if displaced else None,
            "trays": row[0] if row else 1,
        }


def _differing(before: Egg, after: Egg) -> set[str]:
    return {one.name for one in fields(Egg) if getattr(before, one.name) != getattr(after, one.name)}
