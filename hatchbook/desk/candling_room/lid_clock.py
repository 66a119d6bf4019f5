"""How long the lid has been open while eggs are candled; it becomes an event of the machine."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from hatchbook.desk.candling_room.round_state import PAUSE_S
from hatchbook.journal import Event
from hatchbook.journal.table import new_uid
from hatchbook.trade.codes import EventKind


@dataclass(frozen=True)
class LidClock:
    """The lid from one opening on; each change gives another clock. Instants are UTC seconds.

    Nobody tells the clock when the lid is shut, unless they say so: it counts until the latest verdict, and after
    a pause the next verdict begins an opening of its own.
    """

    opened_at: int
    seen_at: int
    shut_at: int | None = None
    uid: str = field(default_factory=new_uid)

    @classmethod
    def open_from(cls, at: int) -> LidClock:
        """The lid is opened at an instant."""
        return cls(at, at)

    def worked(self, at: int) -> LidClock:
        """A verdict was given: if the lid is open it has been so until now."""
        if self.shut_at is not None:
            return self
        if at - self.seen_at > PAUSE_S:
            return LidClock.open_from(at)
        return replace(self, seen_at=max(at, self.seen_at))

    def toggled(self, at: int) -> LidClock:
        """The lid is shut now; or, if it was, opened anew."""
        if self.counts(at):
            return replace(self, shut_at=max(at, self.opened_at))
        return LidClock.open_from(at)

    def counts(self, at: int) -> bool:
        """Whether the lid counts as open at an instant."""
        return self.shut_at is None and at - self.seen_at <= PAUSE_S

    def seconds(self, at: int) -> int:
        """For how long it is, or was, open."""
        if self.counts(at):
            return max(at - self.opened_at, 0)
        return self.ended_at - self.opened_at

    @property
    def ended_at(self) -> int:
        """Until when it is known to have been open."""
        return self.seen_at if self.shut_at is None else self.shut_at

    def event(self, machine: str) -> Event:
        """The event that the journal keeps, of a machine (its uid)."""
        return Event(self.opened_at, EventKind.LID, machine=machine, ends_at=self.ended_at, uid=self.uid)
