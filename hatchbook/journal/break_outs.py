"""Break-outs: what opening the eggs that did not hatch showed."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any, ClassVar

from hatchbook.journal.collection import Collection
from hatchbook.journal.eggs import batch_of_egg, number_of, of_eggs_in
from hatchbook.journal.history import Change
from hatchbook.journal.table import new_uid
from hatchbook.trade.codes import BreakOutResult, BreakOutSign, Malposition


@dataclass(frozen=True)
class BreakOut:
    """What one opened egg showed; ``dead_day`` is the day of incubation at which it died, as its looks tell."""

    KIND: ClassVar[str] = "break_out"
    KEY: ClassVar[tuple[str, ...]] = ("uid",)

    egg: str
    at: int
    result: BreakOutResult
    by_whom: str = ""
    dead_day: float | None = None
    note: str = ""
    uid: str = field(default_factory=new_uid)


@dataclass(frozen=True)
class BreakOutMark:
    """A malposition or a sign seen in an opened egg; several may go together."""

    KIND: ClassVar[str] = "break_out_mark"
    KEY: ClassVar[tuple[str, ...]] = ("uid",)

    break_out: str
    kind: str
    code: str
    uid: str = field(default_factory=new_uid)


class BreakOuts(Collection[BreakOut]):
    """The break-outs of a journal."""

    record_class = BreakOut
    order = "at"

    def of_batch(self, batch: str) -> list[BreakOut]:
        """The break-outs of a batch."""
        return self._where("egg IN (SELECT uid FROM egg WHERE batch = ?)", (batch,))

    def of_egg(self, egg: str) -> list[BreakOut]:
        """The break-out of one egg; none or one."""
        return self._where("egg = ?", (egg,))

    def results_in(self, batches: Sequence[str] | None = None) -> list[tuple[str, int, str, float | None]]:
        """(egg, instant, result, day of death) of the break-outs in these batches, or in all, in no order."""
        condition, parameters = of_eggs_in(batches)
        return self._store.rows(
            f"SELECT egg, at, result, dead_day FROM break_out WHERE {condition}", parameters
        )

    def marks(self, break_out: str) -> list[BreakOutMark]:
        """The malpositions and signs of one break-out."""
        return self._store.records(BreakOutMark, "break_out = ?", (break_out,), "kind, code")

    def keep(
        self,
        break_out: BreakOut,
        *,
        malpositions: Iterable[Malposition] = (),
        signs: Iterable[BreakOutSign] = (),
    ) -> Change:
        """Stores what an opened egg showed, in place of an earlier record of that egg, as one step."""
        batch = batch_of_egg(self._store, break_out.egg) or ""
        return self.keep_all(batch, [break_out], malpositions=malpositions, signs=signs)

    def keep_all(
        self,
        batch: str,
        break_outs: Sequence[BreakOut],
        *,
        malpositions: Iterable[Malposition] = (),
        signs: Iterable[BreakOutSign] = (),
    ) -> Change:
        """Stores what several opened eggs of a batch showed alike, as one step."""
        wanted = {("malposition", str(code)) for code in malpositions}
        wanted |= {("sign", str(code)) for code in signs}
        details: dict[str, Any] = {"count": len(break_outs), "result": str(break_outs[0].result)}
        if len(break_outs) == 1:
            details["number"] = number_of(self._store, break_outs[0].egg)
            details["again"] = bool(self._where("egg = ?", (break_outs[0].egg,)))
        with self._history.step("break_out_noted", batch=batch, **details) as step:
            for break_out in break_outs:
                for old in self._where("egg = ?", (break_out.egg,)):
                    for mark in self.marks(old.uid):
                        step.remove(mark)
                    step.remove(old)
                step.add(break_out)
                for kind, code in sorted(wanted):
                    step.add(BreakOutMark(break_out.uid, kind, code))
        return step.done

    def remove_with_marks(self, break_out: BreakOut) -> Change:
        """Removes a break-out with its malpositions and signs as one step."""
        batch, named = self.batch_of(break_out), self.named(break_out)
        with self._history.step("break_out_removed", batch=batch, **named) as step:
            for mark in self.marks(break_out.uid):
                step.remove(mark)
            step.remove(break_out)
        return step.done

    def batch_of(self, record: BreakOut) -> str | None:
        """The batch of the record's egg."""
        return batch_of_egg(self._store, record.egg)

    def named(self, record: BreakOut) -> dict[str, Any]:
        """The egg's number and the result."""
        return {"number": number_of(self._store, record.egg), "result": str(record.result)}
