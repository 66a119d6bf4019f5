"""Duties: what a batch, or the breeder, has asked for at a time, and whether it was done."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Any, ClassVar

from hatchbook.journal.collection import Collection
from hatchbook.journal.events import Event
from hatchbook.journal.history import Change
from hatchbook.journal.table import new_uid
from hatchbook.trade.codes import DutyKind, EventKind


@dataclass(frozen=True)
class Duty:
    """Something to do: of a batch's plan, or a free one (batch None, or kind ``other`` with its text)."""

    KIND: ClassVar[str] = "duty"
    KEY: ClassVar[tuple[str, ...]] = ("uid",)

    kind: DutyKind
    due_at: int
    batch: str | None = None
    day: float | None = None
    ordinal: int = 1
    of: int = 1
    text: str = ""
    done_at: int | None = None
    uid: str = field(default_factory=new_uid)


class Duties(Collection[Duty]):
    """The duties of a journal."""

    record_class = Duty
    order = "due_at, kind, ordinal"

    def between(self, start_at: int, end_at: int) -> list[Duty]:
        """The duties due from ``start_at`` until before ``end_at``."""
        return self._where("due_at >= ? AND due_at < ?", (start_at, end_at))

    def of_batch(self, batch: str) -> list[Duty]:
        """The duties of a batch."""
        return self._where("batch = ?", (batch,))

    def turn_due(self, batch: str, at: int) -> Duty | None:
        """The turning of a batch that is due and not done, nearest to an instant and at most 3 h from it."""
        found = self._store.records(
            Duty,
            "batch = ? AND kind = 'turn' AND done_at IS NULL AND abs(due_at - ?) <= 10800",
            (batch, at),
            f"abs(due_at - {int(at)}) LIMIT 1",
        )
        return found[0] if found else None

    def candle_due(self, batch: str, at: int) -> Duty | None:
        """The candling of a batch that is not done, nearest to an instant and at most two days from it."""
        found = self._store.records(
            Duty,
            "batch = ? AND kind = 'candle' AND done_at IS NULL AND abs(due_at - ?) <= 172800",
            (batch, at),
            f"abs(due_at - {int(at)}) LIMIT 1",
        )
        return found[0] if found else None

    def tick(self, duty: Duty, at: int) -> Change:
        """Marks a duty as done; a turning also becomes a line of the journal."""
        with self._history.step("duty_ticked", batch=duty.batch, **self.named(duty)) as step:
            step.replace(replace(duty, done_at=at))
            if duty.kind is DutyKind.TURN and duty.batch is not None:
                step.add(Event(at, EventKind.TURNED, batch=duty.batch))
        return step.done

    def untick(self, duty: Duty) -> Change:
        """Marks a duty as still to do; the turning that its tick logged goes with it."""
        with self._history.step("duty_unticked", batch=duty.batch, **self.named(duty)) as step:
            step.replace(replace(duty, done_at=None))
            if duty.kind is DutyKind.TURN and duty.done_at is not None:
                logged = self._store.records(
                    Event,
                    "batch = ? AND at = ? AND kind = ?",
                    (duty.batch, duty.done_at, str(EventKind.TURNED)),
                )
                for event in logged[:1]:
                    step.remove(event)
        return step.done

    def named(self, record: Duty) -> dict[str, Any]:
        """Kind, number and text of the duty."""
        return {"kind": str(record.kind), "ordinal": record.ordinal, "of": record.of, "text": record.text}
