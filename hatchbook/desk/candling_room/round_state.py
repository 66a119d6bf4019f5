"""The round of a candling without a window: which egg is next, what was seen so far, how long the rest takes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from statistics import median

from hatchbook.trade.codes import FindingCode

Place = tuple[int, int, int]
"""Tray, row and column, each from 1."""

PAUSE_S = 15 * 60
"""Longer than this nobody looks at one egg: it was a pause (our choice)."""
_PACE_OF, _PACE_FROM = 10, 3
"""The pace is the median of the last ten eggs; of fewer than three nothing is said."""


class Order(StrEnum):
    """In which order the eggs are gone through."""

    ROWS = "rows"
    COLUMNS = "columns"
    SNAKE = "snake"


class Direction(StrEnum):
    """Where an arrow leads."""

    LEFT = "left"
    RIGHT = "right"
    UP = "up"
    DOWN = "down"


@dataclass(frozen=True)
class RoundEgg:
    """An egg as the round finds it.

    ``passed``: the round goes past it, because it was out before; ``left``: it has left the batch, and no verdict
    can be given. ``last``: what was seen in it at the candling before.
    """

    uid: str
    number: int
    place: Place | None = None
    passed: bool = False
    left: bool = False
    last: FindingCode | None = None


class RoundState:
    """Order, cursor, verdicts and times. Eggs without a place come last, by number.

    Args:
        eggs: all eggs of the batch.
        verdicts: what this candling has noted already, by uid.
        order: in which order to go.
        at: when the round begins or goes on, seconds.
    """

    def __init__(
        self,
        eggs: Iterable[RoundEgg],
        verdicts: Mapping[str, FindingCode],
        *,
        order: Order = Order.ROWS,
        at: int = 0,
    ) -> None:
        self._eggs = {egg.uid: egg for egg in eggs}
        self._by_number = {egg.number: egg for egg in self._eggs.values()}
        self._read = sorted(self._eggs.values(), key=lambda egg: _sort_key(egg, Order.ROWS))
        self._verdicts = {uid: code for uid, code in verdicts.items() if uid in self._eggs}
        self._intervals: list[int] = []
        self._since = at
        self._cursor = ""
        self.set_order(order)
        if self._sequence:
            self._cursor = self._sequence[0].uid
            first = self._next_after(-1)
            self._cursor = self._cursor if first is None else first.uid

    # ---------------------------------------------------------------- what there is

    @property
    def order(self) -> Order:
        """In which order the round goes."""
        return self._order

    @property
    def eggs(self) -> tuple[RoundEgg, ...]:
        """All eggs in the order of the round."""
        return self._sequence

    @property
    def due(self) -> tuple[RoundEgg, ...]:
        """The eggs of the round: those it does not go past, and those that have a verdict."""
        return tuple(egg for egg in self._sequence if self.is_due(egg))

    @property
    def current(self) -> RoundEgg | None:
        """The egg under the cursor; None in a batch without eggs."""
        return self._eggs.get(self._cursor)

    @property
    def verdicts(self) -> Mapping[str, FindingCode]:
        """What was seen at this candling, by uid."""
        return self._verdicts

    @property
    def counts(self) -> Counter[FindingCode]:
        """How often each verdict was given."""
        return Counter(self._verdicts.values())

    @property
    def done(self) -> int:
        """How many eggs have a verdict."""
        return len(self._verdicts)

    @property
    def total(self) -> int:
        """How many eggs the round has."""
        return sum(self.is_due(egg) for egg in self._sequence)

    @property
    def finished(self) -> bool:
        """Whether no egg is left to be looked into."""
        return all(egg.passed or egg.uid in self._verdicts for egg in self._sequence)

    def egg(self, uid: str) -> RoundEgg:
        """An egg by its uid. KeyError where there is none."""
        return self._eggs[uid]

    def is_due(self, egg: RoundEgg) -> bool:
        """Whether an egg belongs to the round."""
        return not egg.passed or egg.uid in self._verdicts

    def seconds_left(self) -> float | None:
        """How long the rest will take at the pace of the last ten eggs; None while too little is known."""
        if len(self._intervals) < _PACE_FROM:
            return None
        return median(self._intervals[-_PACE_OF:]) * (self.total - self.done)

    # ---------------------------------------------------------------- verdicts

    def note(self, uid: str, code: FindingCode, at: int) -> None:
        """A verdict was stored; the cursor stays. KeyError where there is no such egg."""
        egg = self._eggs[uid]
        if uid not in self._verdicts and 0 <= at - self._since <= PAUSE_S:
            self._intervals.append(at - self._since)
        self._verdicts[egg.uid] = code
        self._since = at

    def take_back(self, uid: str, code: FindingCode | None, at: int) -> None:
        """A verdict was taken back, and the egg has the one before, or none again; the cursor goes to it."""
        if code is None:
            self._verdicts.pop(uid, None)
            self._intervals = self._intervals[:-1]
        else:
            self._verdicts[uid] = code
        self._since = at
        self._cursor = uid

    # ---------------------------------------------------------------- going

    def go_on(self) -> None:
        """To the next egg without a verdict, round the end of the order; stays where there is none."""
        following = self._next_after(self._position(self._cursor))
        if following is not None:
            self._cursor = following.uid

    def skip(self, at: int) -> bool:
        """As ``go_on``, without a verdict; False where no other egg is left to go to."""
        before = self._cursor
        self._since = at
        self.go_on()
        return self._cursor != before

    def go_to(self, number: int) -> bool:
        """To the egg of a number; False where there is none."""
        egg = self._by_number.get(number)
        if egg is not None:
            self._cursor = egg.uid
        return egg is not None

    def go_to_egg(self, uid: str) -> None:
        """To an egg. KeyError where there is none."""
        self._cursor = self._eggs[uid].uid

    def step(self, direction: Direction) -> bool:
        """To the neighbour past empty places; left and right go on in the next row. False at an edge."""
        egg = self.current
        if egg is None:
            return False
        if direction in (Direction.LEFT, Direction.RIGHT):
            at = self._read.index(egg) + (1 if direction is Direction.RIGHT else -1)
            found = self._read[at] if 0 <= at < len(self._read) else None
        else:
            found = self._across(egg, down=direction is Direction.DOWN)
        if found is not None:
            self._cursor = found.uid
        return found is not None

    def set_order(self, order: Order) -> None:
        """Goes in another order from here on."""
        self._order = order
        self._sequence = tuple(sorted(self._eggs.values(), key=lambda egg: _sort_key(egg, order)))
        self._positions = {egg.uid: at for at, egg in enumerate(self._sequence)}

    def _position(self, uid: str) -> int:
        return self._positions.get(uid, -1)

    def _next_after(self, position: int) -> RoundEgg | None:
        later, earlier = self._sequence[position + 1 :], self._sequence[: max(position, 0)]
        for egg in (*later, *earlier):
            if not egg.passed and egg.uid not in self._verdicts:
                return egg
        return None

    def _across(self, egg: RoundEgg, *, down: bool) -> RoundEgg | None:
        """The egg below or above: of the same column if there is one, else of the nearest row that has any."""
        if egg.place is None:
            return None
        row, column = egg.place[:2], egg.place[2]
        placed = [(other.place, other) for other in self._read if other.place is not None]
        beyond = [(place, other) for place, other in placed if (place[:2] > row if down else place[:2] < row)]
        same = [(place, other) for place, other in beyond if place[2] == column]
        if same:
            return same[0 if down else -1][1]
        if not beyond:
            return None
        nearest = beyond[0 if down else -1][0][:2]
        in_row = [(place, other) for place, other in beyond if place[:2] == nearest]
        return min(in_row, key=lambda one: abs(one[0][2] - column))[1]


def next_order(order: Order) -> Order:
    """The one that follows when the order is changed."""
    orders = list(Order)
    return orders[(orders.index(order) + 1) % len(orders)]


def _sort_key(egg: RoundEgg, order: Order) -> tuple[int, ...]:
    if egg.place is None:
        return (1, egg.number)
    tray, row, column = egg.place
    if order is Order.COLUMNS:
        return (0, tray, column, row)
    if order is Order.SNAKE and row % 2 == 0:
        return (0, tray, row, -column)
    return (0, tray, row, column)
