"""Where the eggs of a batch come to lie on a machine's trays, and which of them are marked for weighing."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace

from hatchbook.journal import Egg, Machine

Place = tuple[int, int, int]
"""Tray, row and column, each from 1."""


@dataclass(frozen=True)
class RowOfEggs:
    """So many eggs of one pen, laid by one date; ``known`` are those of them that lie in the batch already."""

    count: int
    known: tuple[Egg, ...] = ()


@dataclass(frozen=True)
class PlannedEgg:
    """An egg of a plan: its number in the batch, which row it belongs to, its place (None: none is left)."""

    number: int
    row: int
    place: Place | None
    marked: bool
    known: Egg | None = None


def places_of(machine: Machine) -> Iterator[Place]:
    """Every place of a machine, tray by tray and row by row."""
    for tray in range(1, machine.trays + 1):
        for row in range(1, machine.tray_rows + 1):
            for column in range(1, machine.tray_columns + 1):
                yield tray, row, column


def spread(count: int, among: int) -> frozenset[int]:
    """So many of the positions 0, 1, … spread evenly; all of them where there are no more.

    Spread eggs come from every pen and every corner of the tray, as a sample should.
    """
    if among <= 0 or count <= 0:
        return frozenset()
    count = min(count, among)
    return frozenset((2 * index + 1) * among // (2 * count) for index in range(count))


def lay_out(
    machine: Machine,
    rows: Sequence[RowOfEggs],
    taken: Collection[Place],
    marked: int,
    keep_first: Collection[str] = (),
) -> tuple[PlannedEgg, ...]:
    """The eggs of all rows with number, place and mark.

    Eggs that lie in the batch keep number and place where the machine has that place; new ones fill what is free,
    row by row, and what finds no place has none. Marks that are there stay while their number is right.

    Args:
        machine: whose trays are filled.
        rows: what was entered, in its order.
        taken: places in which eggs of other batches lie.
        marked: how many eggs are to be marked.
        keep_first: uids of eggs that stay longest when a row gets smaller: those of which something is recorded.
    """
    kept = [_kept(row, keep_first) for row in rows]
    places = list(places_of(machine))
    stay: dict[str, Place] = {}
    for egg in (egg for eggs in kept for egg in eggs):
        place = place_of(egg)
        if place is not None and place in places and place not in stay.values():
            stay[egg.uid] = place
    used = {*taken, *stay.values()}
    free = iter([place for place in places if place not in used])
    number = max((egg.number for row in rows for egg in row.known), default=0)
    planned: list[PlannedEgg] = []
    for index, (row, known) in enumerate(zip(rows, kept, strict=True)):
        for egg in known:
            place = stay[egg.uid] if egg.uid in stay else next(free, None)
            planned.append(PlannedEgg(egg.number, index, place, egg.marked, egg))
        for _ in range(row.count - len(known)):
            number += 1
            planned.append(PlannedEgg(number, index, next(free, None), marked=False))
    planned.sort(key=lambda egg: egg.number)
    return _marked(planned, marked)


def place_of(egg: Egg) -> Place | None:
    """Where an egg lies, or None."""
    return egg.place


def _kept(row: RowOfEggs, keep_first: Collection[str]) -> list[Egg]:
    eggs = sorted(row.known, key=lambda egg: (egg.uid not in keep_first, egg.number))
    return sorted(eggs[: max(row.count, 0)], key=lambda egg: egg.number)


def _marked(planned: list[PlannedEgg], marked: int) -> tuple[PlannedEgg, ...]:
    if sum(egg.marked for egg in planned) == min(marked, len(planned)):
        return tuple(planned)
    chosen = spread(marked, len(planned))
    return tuple(replace(egg, marked=index in chosen) for index, egg in enumerate(planned))
