"""Weighings, of single eggs or of the tray as one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Any, ClassVar

from hatchbook.journal.collection import Collection
from hatchbook.journal.eggs import number_of
from hatchbook.journal.history import Change
from hatchbook.journal.table import new_uid


@dataclass(frozen=True)
class Weighing:
    """One weighing of a batch; masses in g. Of the tray as one: its mass, its tare and how many eggs lay on it."""

    KIND: ClassVar[str] = "weighing"
    KEY: ClassVar[tuple[str, ...]] = ("uid",)

    batch: str
    at: int
    resolution_g: float | None = None
    tray_mass_g: float | None = None
    tare_g: float | None = None
    eggs_on_tray: int | None = None
    entered: str | None = None
    note: str = ""
    uid: str = field(default_factory=new_uid)


@dataclass(frozen=True)
class EggMass:
    """The mass of one egg at a weighing, g; ``entered`` is JSON of what was typed, with its unit."""

    KIND: ClassVar[str] = "egg_mass"
    KEY: ClassVar[tuple[str, ...]] = ("uid",)

    weighing: str
    egg: str
    mass_g: float
    entered: str | None = None
    kept_though_odd: bool = False
    uid: str = field(default_factory=new_uid)


class Weighings(Collection[Weighing]):
    """The weighings of a journal."""

    record_class = Weighing
    order = "at"

    def of_batch(self, batch: str) -> list[Weighing]:
        """The weighings of a batch, oldest first."""
        return self._where("batch = ?", (batch,))

    def masses(self, batch: str) -> list[EggMass]:
        """All egg masses of a batch."""
        return self._store.records(
            EggMass, "weighing IN (SELECT uid FROM weighing WHERE batch = ?)", (batch,)
        )

    def masses_of(self, weighing: str) -> list[EggMass]:
        """The egg masses of one weighing."""
        return self._store.records(EggMass, "weighing = ?", (weighing,))

    def masses_of_egg(self, egg: str) -> list[EggMass]:
        """The masses of one egg."""
        return self._store.records(EggMass, "egg = ?", (egg,))

    def replace_mass(self, mass: EggMass) -> Change:
        """Stores the mass of one egg that was corrected, as one step."""
        with self._history.step("egg_mass_changed", **self._of_mass(mass)) as step:
            step.replace(mass)
        return step.done

    def remove_mass(self, mass: EggMass) -> Change:
        """Removes the mass of one egg as one step, and its weighing if nothing was weighed in it then."""
        weighing = self.get(mass.weighing)
        with self._history.step("egg_mass_removed", **self._of_mass(mass)) as step:
            step.remove(mass)
            if not self.masses_of(weighing.uid) and weighing.tray_mass_g is None and not weighing.note:
                step.remove(weighing)
        return step.done

    def _of_mass(self, mass: EggMass) -> dict[str, Any]:
        return {
            "batch": self.get(mass.weighing).batch,
            "number": number_of(self._store, mass.egg),
            "mass_g": mass.mass_g,
        }

    def note_weighing(self, weighing: Weighing, masses: Sequence[EggMass] = ()) -> Change:
        """Stores a weighing with its egg masses as one step."""
        details: dict[str, Any] = {"count": len(masses)}
        if len(masses) == 1:
            details["number"] = number_of(self._store, masses[0].egg)
        with self._history.step("weighed", batch=weighing.batch, **details) as step:
            step.add(weighing)
            for mass in masses:
                step.add(mass)
        return step.done

    def note_mass(self, weighing: Weighing, mass: EggMass) -> Change:
        """Stores the mass of one egg at once; begins the weighing if it is new, replaces an earlier mass in it.

        The weighing is stored as it is given: its resolution may have become known with this mass.
        """
        row = self._store.one("SELECT number FROM egg WHERE uid = ?", (mass.egg,))
        number = row[0] if row else None
        with self._history.step(
            "egg_weighed", batch=weighing.batch, number=number, mass_g=mass.mass_g
        ) as step:
            begun = self.find(weighing.uid)
            if begun is None:
                step.add(weighing)
            elif begun != weighing:
                step.replace(weighing)
            known = [one for one in self.masses_of(weighing.uid) if one.egg == mass.egg]
            if known:
                step.replace(replace(mass, uid=known[0].uid))
            else:
                step.add(mass)
        return step.done

    def remove_with_masses(self, weighing: Weighing) -> Change:
        """Removes a weighing with its egg masses as one step."""
        with self._history.step("weighing_removed", batch=weighing.batch) as step:
            for mass in self.masses_of(weighing.uid):
                step.remove(mass)
            step.remove(weighing)
        return step.done
