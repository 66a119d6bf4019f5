"""Pens, the breeding groups the eggs come from, and their members."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import ClassVar

from hatchbook.journal.collection import Collection
from hatchbook.journal.history import Change
from hatchbook.journal.table import new_uid


@dataclass(frozen=True)
class Pen:
    """A breeding group; ``letter`` is what its eggs carry on the shell."""

    KIND: ClassVar[str] = "pen"
    KEY: ClassVar[tuple[str, ...]] = ("uid",)

    name: str
    species: str = ""
    breed: str = ""
    letter: str = ""
    from_on: str | None = None
    until_on: str | None = None
    note: str = ""
    uid: str = field(default_factory=new_uid)


@dataclass(frozen=True)
class PenMember:
    """A bird of a pen; ``sex`` is ``male`` or ``female``."""

    KIND: ClassVar[str] = "pen_member"
    KEY: ClassVar[tuple[str, ...]] = ("uid",)

    pen: str
    name: str
    sex: str
    breed: str = ""
    ring: str = ""
    from_on: str | None = None
    until_on: str | None = None
    note: str = ""
    uid: str = field(default_factory=new_uid)


class Pens(Collection[Pen]):
    """The pens of a journal."""

    record_class = Pen
    order = "until_on IS NOT NULL, name"

    def by_name(self, name: str) -> Pen | None:
        """The pen of this name, or None."""
        found = self._where("name = ?", (name,))
        return found[0] if found else None

    def members(self, pen: str) -> list[PenMember]:
        """The birds of a pen, males first."""
        return self._store.records(PenMember, "pen = ?", (pen,), "sex DESC, name")

    def remove(self, record: Pen) -> Change:
        """Removes a pen with its birds as one step; one from which eggs came is refused."""
        with self._history.step("pen_removed", name=record.name) as step:
            for member in self.members(record.uid):
                step.remove(member)
            step.remove(record)
        return step.done

    def all_members(self) -> list[PenMember]:
        """The birds of all pens."""
        return self._store.records(PenMember, order="name")

    def add_member(self, member: PenMember) -> Change:
        """Adds a bird as one step."""
        with self._history.step("pen_member_added", name=member.name) as step:
            step.add(member)
        return step.done

    def replace_member(self, member: PenMember) -> Change:
        """Stores a bird's changes as one step."""
        with self._history.step("pen_member_changed", name=member.name) as step:
            step.replace(member)
        return step.done

    def remove_member(self, member: PenMember) -> Change:
        """Removes a bird as one step; one that eggs name as their dam is refused."""
        with self._history.step("pen_member_removed", name=member.name) as step:
            step.remove(member)
        return step.done
