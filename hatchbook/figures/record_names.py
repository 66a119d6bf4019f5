"""What the records of history refer to: by name rather than by identifier, also where it is gone since."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from hatchbook.journal import Journal, PenMember
from hatchbook.trade.programmes import programme_named

Fields = Mapping[str, Any]

#: Through which of its fields a record belongs to an egg; a list is followed field by field.
_WAYS_TO_EGG: dict[str, tuple[tuple[str, str], ...]] = {
    "finding": (("egg", "egg"),),
    "egg_mass": (("egg", "egg"),),
    "hatching": (("egg", "egg"),),
    "break_out": (("egg", "egg"),),
    "removal": (("egg", "egg"),),
    "event": (("egg", "egg"),),
    "break_out_mark": (("break_out", "break_out"), ("egg", "egg")),
}


class RecordNames:
    """Looks up records by kind and uid in a journal, and in its history where they are gone; each once."""

    def __init__(self, journal: Journal) -> None:
        self._journal = journal
        self._find: dict[str, Callable[[str], object | None]] = {
            "egg": journal.eggs.find,
            "batch": journal.batches.find,
            "machine": journal.machines.find,
            "probe": journal.probes.find,
            "pen": journal.pens.find,
            "pen_member": self._bird,
            "break_out": journal.break_outs.find,
        }
        self._known: dict[tuple[str, str], Fields | None] = {}
        self._birds: dict[str, PenMember] | None = None
        self._probes: dict[int, str] | None = None
        self._programmes: dict[str, str] | None = None

    def fields(self, kind: str, uid: str) -> Fields | None:
        """A record's fields as they are or were last; None for one that is nowhere."""
        key = (kind, uid)
        if key not in self._known:
            find = self._find.get(kind)
            stored = None if find is None else find(uid)
            self._known[key] = self._journal.history.last_known(kind, uid) if stored is None else vars(stored)
        return self._known[key]

    def name(self, kind: str, uid: str) -> str:
        """How a record is called: by its name, label or title; "" where it has none or is not known."""
        fields = self.fields(kind, uid) or {}
        return next((str(fields[name]) for name in ("name", "label", "title") if fields.get(name)), "")

    def egg_of(self, kind: str, row: Fields) -> Fields | None:
        """The egg that a record belongs to; an egg belongs to itself; None where it belongs to none."""
        if kind == "egg":
            return row
        found: Fields | None = row
        for field, of_kind in _WAYS_TO_EGG.get(kind, ()):
            uid = None if found is None else found.get(field)
            found = None if uid is None else self.fields(of_kind, str(uid))
        return found if kind in _WAYS_TO_EGG else None

    def _bird(self, uid: str) -> PenMember | None:
        if self._birds is None:
            pens = self._journal.pens
            self._birds = {bird.uid: bird for pen in pens.all() for bird in pens.members(pen.uid)}
        return self._birds.get(uid)

    def probe_numbered(self, number: int) -> str:
        """The name of the probe with this number, which readings carry; "" where it is gone."""
        if self._probes is None:
            self._probes = {probe.number: probe.name for probe in self._journal.probes.all()}
        return self._probes.get(number, "")

    def programme_coded(self, code: str) -> str:
        """The title of a programme by its code: of the trade or of the breeder's own; "" where it is gone."""
        programme = programme_named(code)
        if programme is not None:
            return programme.title
        if self._programmes is None:
            self._programmes = {own.code: own.title for own in self._journal.programmes.all()}
        return self._programmes.get(code, "")
