"""Where eggs come to lie that are carried over the trays together."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

Place = tuple[int, int, int]
"""Tray, row and column, each from 1."""


@dataclass(frozen=True)
class TraySpace:
    """The trays of a machine and what lies in them: the uid of the egg by its place.

    ``others``: places in which eggs of another batch lie.
    """

    trays: int
    rows: int
    columns: int
    lying: Mapping[Place, str]
    others: frozenset[Place] = frozenset()

    def has(self, place: Place) -> bool:
        """Whether there is such a place."""
        tray, row, column = place
        return 1 <= tray <= self.trays and 1 <= row <= self.rows and 1 <= column <= self.columns

    def places(self) -> Iterator[Place]:
        """Every place, tray by tray and row by row."""
        for tray in range(1, self.trays + 1):
            for row in range(1, self.rows + 1):
                for column in range(1, self.columns + 1):
                    yield tray, row, column


def landing(
    space: TraySpace, carried: Mapping[str, Place | None], anchor: str, target: Place
) -> dict[str, Place] | None:
    """The places (uid → place) of carried eggs when the one that is held is put down on a place.

    One egg may come onto another of its batch, which then takes its place. Several keep their pattern where all of
    its places are free; else they fill the free places from the target on, row by row.

    Args:
        carried: the eggs and where they lie, in their order; None for an egg without a place.
        anchor: the uid of the egg that is held.

    Returns:
        None where there is not enough room.
    """
    if not space.has(target) or target in space.others:
        return None
    if len(carried) == 1:
        return {anchor: target}
    held_from = carried[anchor]
    if held_from is not None and all(place is not None for place in carried.values()):
        step = tuple(there - here for there, here in zip(target, held_from, strict=True))
        kept = {
            uid: (place[0] + step[0], place[1] + step[1], place[2] + step[2])
            for uid, place in carried.items()
            if place is not None
        }
        if all(_is_free(space, carried, place) for place in kept.values()):
            return kept
    free = [place for place in space.places() if place >= target and _is_free(space, carried, place)]
    if len(free) < len(carried) or free[0] != target:
        return None
    return dict(zip(carried, free, strict=False))


def displaced(space: TraySpace, carried: Mapping[str, Place | None], plan: Mapping[str, Place]) -> str | None:
    """The uid of the egg onto which the one carried egg is put; None where the place is free."""
    for place in plan.values():
        uid = space.lying.get(place)
        if uid is not None and uid not in carried:
            return uid
    return None


def _is_free(space: TraySpace, carried: Mapping[str, Place | None], place: Place) -> bool:
    lying = space.lying.get(place)
    return space.has(place) and place not in space.others and (lying is None or lying in carried)
