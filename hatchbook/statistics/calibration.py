"""Corrections of a probe from its dated checks: from when on, by what line, and what stays uncertain.

A check holds what a probe showed beside a known value: the fixed point of a salt (`hatchbook.trade.salts`) or a
reference instrument. All values are in % RH or in °C, instants are whole UTC seconds.

The rules, which are ours:

- A *session* is a run of checks at different points, all within three days of its first. Checking a point again
  begins a new session: so a probe that was adjusted and checked again is not corrected by what it showed before.
- A session gives one correction, from its first check on until the next session's. Before the first check ever the
  readings stay as they are: nobody knows since when the probe was off.
- One point, or points closer than `LINE_NEEDS` (such as two salts of nearly the same humidity): an offset, the mean
  of known less shown. Points further apart: the straight line by least squares, which for two points runs through
  both. Over humidity the usual pair is table salt (75 %) and magnesium chloride (33 %).
- A line whose slope lies outside `GAINS` comes from an interchanged salt or a slip of the pen, not from a
  hygrometer: that session corrects nothing, and the correction before it stays.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from hatchbook.trade.codes import Quantity
from hatchbook.trade.instants import DAY_S

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]

SESSION_S = 3 * DAY_S
"""So long a session may last: a salt needs half a day or more to settle, and two are often tried one by one."""
SAME_POINT = {Quantity.HUMIDITY: 5.0, Quantity.TEMPERATURE: 2.0}
"""Known values not further apart than this are one point checked again, % RH and °C."""
LINE_NEEDS = {Quantity.HUMIDITY: 20.0, Quantity.TEMPERATURE: 10.0}
"""So far apart points must lie for a line: closer ones would make a slope of their own uncertainty."""
GAINS = (0.6, 1.6)

HANDLING = {Quantity.HUMIDITY: 1.0, Quantity.TEMPERATURE: 0.1}
"""What a careful check at home may be off besides its reference, plus or minus (our choice). Carelessly prepared
salts were found more than 5 % RH off (Carotenuto & Dell'Isola 1996, Int. J. Thermophys. 17:1423)."""
REFERENCE = {Quantity.HUMIDITY: 2.0, Quantity.TEMPERATURE: 0.2}
"""What a reference instrument of unknown class may be off itself, plus or minus (from memory, of a good one)."""
GAIN_UNKNOWN = 0.05
"""How much of the distance from its only point a probe may be off, once it is right there (our choice): 1.5 % RH
at 45 % after table salt alone. So one point at 75 % leaves about ±2 % RH at 45 %, two leave about ±1 %."""
_ENOUGH_FOR_STEPS = 2000
_FULL_STEP = 1.0 / math.sqrt(3.0)
"""Half-width (k = 2) of a value rounded to a step, in steps: a rectangle of half a step, twice its deviation."""


@dataclass(frozen=True, slots=True)
class CheckPoint:
    """What a probe showed beside a known value; ``uncertainty``: that of the known value, plus or minus (k = 2)."""

    at: int
    known: float
    shown: float
    uncertainty: float


class CorrectionKind(StrEnum):
    """How a session corrects."""

    OFFSET = "offset"
    LINE = "line"
    REFUSED = "refused"


@dataclass(frozen=True, slots=True)
class Correction:
    """What is true where the probe shows ``x``: ``gain · x + offset``, from ``from_at`` until before ``until_at``.

    ``until_at``: None while no later session ends it. ``points``: the checks it rests on. A refused one has the
    line of the correction before it, or none (gain 1, offset 0).
    """

    quantity: Quantity
    kind: CorrectionKind
    from_at: int
    until_at: int | None
    gain: float
    offset: float
    points: tuple[CheckPoint, ...]

    def corrected(self, shown: float) -> float:
        """What is true where the probe shows a value; a humidity stays within 0 to 100 %."""
        value = self.gain * shown + self.offset
        return min(max(value, 0.0), 100.0) if self.quantity is Quantity.HUMIDITY else value

    @property
    def checked_at(self) -> int:
        """When the last of its checks was made."""
        return max(point.at for point in self.points)

    @property
    def changes(self) -> bool:
        """Whether it changes anything at all."""
        return (self.gain, self.offset) != (1.0, 0.0)

    def residual(self, value: float, resolution: float = 0.0) -> float:
        """How far a corrected value may still be off, plus or minus (k = 2).

        Root of the sum of squares of the reference, the handling, the rounding to the probe's ``resolution`` (the
        smallest step it shows) when it was checked, and for an offset the unknown slope away from its points. Along
        a line the points' shares are those of the straight line through them; beyond its points it widens.
        A refused session leaves nothing known: infinity.
        """
        if self.kind is CorrectionKind.REFUSED:
            return math.inf
        known = np.array([point.known for point in self.points])
        own = np.array([point.uncertainty for point in self.points])
        each = np.sqrt(own**2 + HANDLING[self.quantity] ** 2 + (_FULL_STEP * resolution) ** 2)
        count = len(self.points)
        if self.kind is CorrectionKind.OFFSET:
            away = GAIN_UNKNOWN * abs(value - float(known.mean()))
            return math.hypot(float(np.sqrt((each**2).sum())) / count, away)
        spread = known - known.mean()
        share = 1.0 / count + spread * (value - known.mean()) / float((spread**2).sum())
        return float(np.sqrt(((share * each) ** 2).sum()))


def corrections(quantity: Quantity, points: Iterable[CheckPoint]) -> tuple[Correction, ...]:
    """The corrections that the checks of one quantity of a probe give, oldest first; they follow on one another."""
    found: list[Correction] = []
    gain, offset = 1.0, 0.0
    for session in _sessions(quantity, points):
        kind, line = _line(quantity, session)
        if kind is not CorrectionKind.REFUSED:
            gain, offset = line
        from_at = session[0].at
        if found:
            found[-1] = replace(found[-1], until_at=from_at)
        found.append(Correction(quantity, kind, from_at, None, gain, offset, tuple(session)))
    return tuple(found)


def correction_at(of_probe: Sequence[Correction], at: int) -> Correction | None:
    """The correction that holds at an instant; None before the first."""
    return next((one for one in reversed(of_probe) if one.from_at <= at), None)


def apply_corrections(of_probe: Sequence[Correction], at: IntArray, values: FloatArray) -> FloatArray:
    """The values as they are corrected at their instants (ascending); the array itself where nothing changes.

    NaN stays NaN; a humidity stays within 0 to 100 %.
    """
    result = values
    for one in of_probe:
        if not one.changes:
            continue
        first = int(np.searchsorted(at, one.from_at))
        stop = at.size if one.until_at is None else int(np.searchsorted(at, one.until_at))
        if first >= stop:
            continue
        if result is values:
            result = values.copy()
        part = values[first:stop] * one.gain + one.offset
        result[first:stop] = np.clip(part, 0.0, 100.0) if one.quantity is Quantity.HUMIDITY else part
    return result


def resolution_of(values: FloatArray) -> float:
    """The step in which a probe shows its values: 1, 0.5, 0.1...; 0 where it is finer, or cannot be told.

    The coarsest of the usual steps of which at least 99 in 100 readings are whole multiples; with fewer than three
    different values it cannot be told. Give it readings as they are stored: corrected ones are no multiples.
    """
    known = values[~np.isnan(values)][:_ENOUGH_FOR_STEPS]
    if np.unique(known).size < 3:
        return 0.0
    for step in (5.0, 2.0, 1.0, 0.5, 0.2, 0.1, 0.05, 0.01):
        parts = known / step
        if np.mean(np.abs(parts - np.rint(parts)) < 1e-4) >= 0.99:
            return step
    return 0.0


def _sessions(quantity: Quantity, points: Iterable[CheckPoint]) -> list[list[CheckPoint]]:
    sessions: list[list[CheckPoint]] = []
    for point in sorted(points, key=lambda one: (one.at, one.known)):
        current = sessions[-1] if sessions else None
        if (
            current is None
            or point.at - current[0].at > SESSION_S
            or any(abs(point.known - other.known) <= SAME_POINT[quantity] for other in current)
        ):
            sessions.append([point])
        else:
            current.append(point)
    return sessions


def _line(quantity: Quantity, session: Sequence[CheckPoint]) -> tuple[CorrectionKind, tuple[float, float]]:
    """Kind, gain and offset of a session."""
    known = np.array([point.known for point in session])
    shown = np.array([point.shown for point in session])
    if float(np.ptp(known)) < LINE_NEEDS[quantity]:
        return CorrectionKind.OFFSET, (1.0, float((known - shown).mean()))
    moved = shown - shown.mean()
    squares = float((moved**2).sum())
    gain = float((moved * (known - known.mean())).sum()) / squares if squares else math.inf
    if not GAINS[0] <= gain <= GAINS[1]:
        return CorrectionKind.REFUSED, (1.0, 0.0)
    return CorrectionKind.LINE, (gain, float(known.mean()) - gain * float(shown.mean()))
