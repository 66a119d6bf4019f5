"""Eggs: number, place on the tray, pen and dam, laying date, measures."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Any, ClassVar

from hatchbook.journal.collection import Collection
from hatchbook.journal.history import Change
from hatchbook.journal.table import new_uid


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


def of_eggs_in(batches: Sequence[str] | None) -> tuple[str, tuple[str, ...]]:
    """Condition and parameters for rows whose ``egg`` lies in these batches; None stands for all."""
    if batches is None:
        return "TRUE", ()
    listed = "egg IN (SELECT uid FROM egg WHERE batch IN (SELECT value FROM json_each(?)))"
    return listed, (json.dumps(list(batches)),)


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

    def move(self, egg: Egg, tray: int, tray_row: int, tray_column: int) -> Change:
        """Puts an egg into a place; the egg that lay there takes the place it came from."""
        there = self._where(
            "batch = ? AND tray = ? AND tray_row = ? AND tray_column = ?",
            (egg.batch, tray, tray_row, tray_column),
        )
        moved = replace(egg, tray=tray, tray_row=tray_row, tray_column=tray_column)
        with self._history.step("egg_moved", batch=egg.batch, number=egg.number) as step:
            if there and there[0].uid != egg.uid:
                other = there[0]
                step.replace(replace(other, tray=None, tray_row=None, tray_column=None))
                step.replace(moved)
                step.replace(
                    replace(other, tray=egg.tray, tray_row=egg.tray_row, tray_column=egg.tray_column)
                )
            else:
                step.replace(moved)
        return step.done
