"""The hand that carries eggs over the trays: which eggs, where they would come to lie, and what that is called."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.tray.carry import Place, displaced, landing
from hatchbook.desk.tray.tray_model import TrayModel
from hatchbook.figures.results import EggFigures


def _tr(text: str, n: int = -1) -> str:
    return QCoreApplication.translate("Carry", text, "", n)


@dataclass(frozen=True)
class Preview:
    """How a cell looks while eggs are carried: the egg that would lie there, and what part the cell plays."""

    egg: EggFigures | None
    is_target: bool = False
    is_left: bool = False


class TrayHand:
    """Holds eggs of a tray from taking them up until they are put down or let go."""

    def __init__(self, model: TrayModel) -> None:
        self._model = model
        self._eggs: tuple[EggFigures, ...] = ()
        self._anchor = ""
        self._target: Place | None = None
        self._off_tray = False
        self._plan: dict[str, Place | None] | None = None

    @property
    def is_full(self) -> bool:
        """Whether eggs are carried."""
        return bool(self._eggs)

    @property
    def plan(self) -> dict[str, Place | None] | None:
        """Uid → place (None: without one) as the eggs are held now; None where they cannot be put down."""
        return self._plan

    @property
    def anchor(self) -> str:
        """The uid of the egg that is held."""
        return self._anchor

    def take_up(self, eggs: Sequence[EggFigures], anchor: EggFigures) -> None:
        """Takes eggs; ``anchor`` is the one that is held, the others come along."""
        self._eggs, self._anchor = tuple(eggs), anchor.egg.uid
        self.aim(anchor.egg.place)

    def let_go(self) -> None:
        """Leaves the eggs where they are."""
        self._eggs, self._plan, self._target, self._off_tray = (), None, None, False

    def aim(self, place: Place | None) -> None:
        """Holds the eggs over a place; None: over none."""
        self._target, self._off_tray, self._plan = place, False, None
        if place is not None:
            plan = landing(self._model.space, self._carried(), self._anchor, place)
            self._plan = None if plan is None else dict(plan)

    def aim_off_tray(self) -> None:
        """Holds the eggs over the rows of those without a place."""
        self._target, self._off_tray, self._plan = None, True, None
        if any(egg.egg.place is not None for egg in self._eggs):
            self._plan = {egg.egg.uid: None for egg in self._eggs}

    def changes_nothing(self) -> bool:
        """Whether every egg would come to lie where it lies."""
        carried = self._carried()
        return self._plan is None or all(carried[uid] == place for uid, place in self._plan.items())

    def preview(self, place: Place | None, egg: EggFigures | None) -> Preview:
        """How the cell of a place looks now, in which an egg lies or none."""
        if not self._eggs:
            return Preview(egg)
        carried = self._carried()
        if place is None:
            return Preview(egg, is_left=egg is not None and egg.egg.uid in carried and self._plan is not None)
        if self._plan is None:
            return Preview(egg, is_target=place == self._target)
        coming = next((uid for uid, there in self._plan.items() if there == place), None)
        if coming is not None:
            return Preview(self._model.egg(coming), is_target=True)
        if egg is not None and egg.egg.uid in carried:
            pushed = self._pushed()
            return Preview(egg if pushed is None else pushed, is_left=pushed is None)
        return Preview(egg)

    def words(self) -> str:
        """What would happen if the eggs were put down now."""
        count = len(self._eggs)
        number = next((egg.egg.number for egg in self._eggs if egg.egg.uid == self._anchor), 0)
        if not count:
            return ""
        if self._off_tray:
            if count > 1:
                return _tr("%n egg(s) off the tray", count)
            return _tr("egg {number} off the tray").format(number=number)
        if self._target is None:
            return ""
        place = self._model.place_name(self._target)
        if self._plan is None and self._target in self._model.space.others:
            return _tr("an egg of another batch lies in {place}").format(place=place)
        if self._plan is None:
            return _tr("no room for %n egg(s) from {place} on", count).format(place=place)
        if count > 1:
            return _tr("%n egg(s) to {place}", count).format(place=place)
        pushed, left = self._pushed(), self._carried()[self._anchor]
        if pushed is None:
            return _tr("egg {number} to {place}").format(number=number, place=place)
        if left is None:
            return _tr("egg {number} to {place}, egg {other} off the tray").format(
                number=number, place=place, other=pushed.egg.number
            )
        return _tr("egg {number} to {place}, egg {other} to {left}").format(
            number=number, place=place, other=pushed.egg.number, left=self._model.place_name(left)
        )

    def _carried(self) -> dict[str, Place | None]:
        eggs = sorted(self._eggs, key=lambda egg: (egg.egg.place is None, egg.egg.place, egg.egg.number))
        return {egg.egg.uid: egg.egg.place for egg in eggs}

    def _pushed(self) -> EggFigures | None:
        """The egg whose place is taken by the carried one."""
        if self._plan is None or self._target is None:
            return None
        plan = {uid: place for uid, place in self._plan.items() if place is not None}
        uid = displaced(self._model.space, self._carried(), plan)
        return None if uid is None else self._model.egg(uid)
