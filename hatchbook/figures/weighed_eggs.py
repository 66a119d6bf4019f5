"""The masses of a batch that count for what its eggs lose: of which eggs, until when, in parts of what base."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from hatchbook.figures.course import Course
from hatchbook.figures.results import EggFigures
from hatchbook.figures.to_weigh import MOST_LOSS_PERCENT_A_DAY
from hatchbook.figures.weight_results import MassBase
from hatchbook.figures.weights import FIRST_DAY, BatchWeights
from hatchbook.journal import Egg, Weighing
from hatchbook.statistics.conductance import common_sd, scale_sd
from hatchbook.statistics.egg_size import fresh_mass_g
from hatchbook.trade.codes import Fate, FindingCode, RemovalReason
from hatchbook.trade.fates import DIED
from hatchbook.trade.instants import DAY_S

FloatArray = NDArray[np.float64]

HOYT_SD, HOYT_COMMON_SD = 0.045, 0.02
"""By how much a mass from length and breadth may be off, standard deviation in parts of it: of an egg by itself,
and of all eggs of a flock together, since they are alike in shape (ours)."""
STORAGE_LOSS_A_DAY, STORAGE_DOUBT = 0.002, 0.5
"""Share of its mass that an egg loses in a day of storage (quail at 7.5 °C 0.187 % a day: LRRD 20(10)), and the
standard deviation in parts of that, the same for all eggs, which lay in one air (ours)."""
LAID_SD = 0.003
"""By how much an egg's mass when laid may be off by itself, standard deviation in parts of it (ours)."""
USUAL_STORAGE_DAYS = 5.0
MANY_MASSES = 5
FINEST_STEP_G = 0.01
_STEPS = ((5.0, False), (2.0, False), (1.0, True), (0.5, False), (0.1, True))
"""Steps of scales, g, and whether they are usual ones of kitchen scales."""
ON_THE_STROKE = 1e-6
"""A weighing at the very end of what is known counts, days."""
_SLACK_PERCENT = 0.5
_STEPS_OF_SLACK = 1.5

_IN_THE_MACHINE = frozenset({Fate.SET, Fate.ALIVE, Fate.UNSURE, Fate.INTERNAL_PIP, Fate.UNKNOWN})
_LEFT_BY = frozenset(
    {
        FindingCode.CLEAR.value,
        FindingCode.EARLY_DEAD.value,
        FindingCode.DEAD.value,
        FindingCode.CRACKED.value,
        FindingCode.ROTTEN.value,
        *(reason.value for reason in RemovalReason),
    }
)


def leaves_day(egg: EggFigures, day_of: Course) -> float:
    """Until which day the weight of an egg tells of living eggs in the machine; inf where it still does.

    It ends when the egg is found clear, dead, broken or rotten, is taken out, or pips.
    """
    outcome = egg.outcome
    if outcome.fate in _IN_THE_MACHINE:
        return math.inf
    if outcome.fate in DIED and outcome.dead_until_day is not None and outcome.pipped_at_s is None:
        return outcome.dead_until_day
    out = [at for at in (outcome.pipped_at_s, outcome.hatched_at_s) if at is not None]
    if out:
        return day_of.day_of(min(out))
    seen = [day for day, code in egg.seen if code in _LEFT_BY or code.startswith("opened:")]
    return min(seen, default=math.inf)


_Mass = tuple[float, float, float, int]
"""One mass of an egg: day, g, the step of the scale, and its column (-1: when set)."""


@dataclass(frozen=True)
class WeighedMasses:
    """The masses of a batch's eggs that count; eggs are the rows, weighings the columns.

    ``leaves``: until which day an egg's weight tells. ``bases``: where the base of its loss is from. ``guess_g``:
    the best guess of its mass when set, NaN where the line through its weighings must give it; how far that may be
    off, standard deviation in parts of it: ``guess_sd`` by itself, ``guess_common`` together with all others.
    ``weighings``: their uids; ``days`` since set; ``sd_g``, ``common_g``: how far a mass may be off by itself, and
    all of a weighing together, g. ``mass_g``: NaN where an egg was not weighed. ``left_out``: row, weighing and
    mass, g, of those that cannot be right.
    """

    eggs: tuple[EggFigures, ...]
    leaves: FloatArray
    bases: tuple[MassBase, ...]
    guess_g: FloatArray
    guess_sd: FloatArray
    guess_common: FloatArray
    weighings: tuple[str, ...]
    days: FloatArray
    sd_g: FloatArray
    common_g: FloatArray
    mass_g: FloatArray
    left_out: tuple[tuple[int, str, float], ...] = ()

    @cached_property
    def counts(self) -> NDArray[np.int64]:
        """How many masses of each egg count, the one when set aside."""
        return np.asarray((~np.isnan(self.mass_g)).sum(axis=1), dtype=np.int64)

    @property
    def told(self) -> NDArray[np.bool_]:
        """Whether an egg's own masses tell what it lost: there are two, or one and a guess at the one when set."""
        return self.counts + ~np.isnan(self.guess_g) >= 2

    def of(self, rows: NDArray[np.int64]) -> WeighedMasses:
        """Only some of the eggs."""
        if rows.size == len(self.eggs):
            return self
        places = {row: place for place, row in enumerate(rows.tolist())}
        chosen = list(places)
        return replace(
            self,
            eggs=tuple(self.eggs[row] for row in chosen),
            leaves=self.leaves[rows],
            bases=tuple(self.bases[row] for row in chosen),
            guess_g=self.guess_g[rows],
            guess_sd=self.guess_sd[rows],
            guess_common=self.guess_common[rows],
            mass_g=self.mass_g[rows],
            left_out=tuple((places[row], uid, mass) for row, uid, mass in self.left_out if row in places),
        )


def weighed_masses(
    course: Course, weights: BatchWeights, eggs: Sequence[EggFigures], until_day: float
) -> WeighedMasses:
    """The masses of a batch's eggs until a day."""
    leaves = np.array([leaves_day(egg, course) for egg in eggs])
    rows = {egg.egg.uid: row for row, egg in enumerate(eggs)}
    first_leaves = float(leaves.min(initial=math.inf))
    uids, days, steps_g, columns = [], [], [], []
    for weighing in weights.weighings:
        day = course.day_of(weighing.at)
        if not 0.0 <= day <= until_day + ON_THE_STROKE:
            continue
        masses = weights.masses(weighing)
        column = np.full(len(eggs), np.nan)
        column[[rows[uid] for uid in masses if uid in rows]] = [masses[uid] for uid in masses if uid in rows]
        if day > first_leaves:
            column[day > leaves] = np.nan
        known = column[~np.isnan(column)]
        if known.size:
            uids.append(weighing.uid)
            days.append(day)
            steps_g.append(resolution_g(weighing, known))
            columns.append(column)
    set_g = np.array([math.nan if egg.egg.set_mass_g is None else egg.egg.set_mass_g for egg in eggs])
    set_step_g = _set_step_g(set_g, steps_g)
    mass_g = np.stack([set_g, *columns], axis=1)
    left_out = _take_out_what_cannot_be(mass_g, [0.0, *days], [set_step_g, *steps_g])
    bases, guesses = _bases(eggs, mass_g, days, set_step_g, course.batch.set_at)
    return WeighedMasses(
        eggs=tuple(eggs),
        leaves=leaves,
        bases=bases,
        guess_g=guesses[0],
        guess_sd=guesses[1],
        guess_common=guesses[2],
        weighings=tuple(uids),
        days=np.array(days),
        sd_g=np.array([scale_sd(step_g) for step_g in steps_g]),
        common_g=np.array([common_sd(step_g) for step_g in steps_g]),
        mass_g=mass_g[:, 1:],
        left_out=tuple((row, uids[column], mass) for row, column, mass in left_out if column >= 0),
    )


def _bases(
    eggs: Sequence[EggFigures], mass_g: FloatArray, days: Sequence[float], set_step_g: float, set_at: int
) -> tuple[tuple[MassBase, ...], FloatArray]:
    """Where the base of each egg's loss is from; guess, its own and its common doubt, shape (3, eggs)."""
    set_g = mass_g[:, 0]
    guesses = np.stack([set_g, scale_sd(set_step_g) / set_g, common_sd(set_step_g) / set_g])
    bases = [MassBase.SET] * len(eggs)
    for row in np.flatnonzero(np.isnan(set_g)).tolist():
        weighed = np.flatnonzero(~np.isnan(mass_g[row, 1:])).tolist()
        early = bool(weighed) and days[weighed[0]] <= FIRST_DAY
        first = MassBase.SET if early else MassBase.FIRST_WEIGHING
        taken, guesses[:, row] = _guess(eggs[row].egg, set_at)
        bases[row] = first if len(weighed) > 1 or early or taken is None else taken
    return tuple(bases), guesses


def _guess(egg: Egg, set_at: int) -> tuple[MassBase | None, tuple[float, float, float]]:
    """What tells of the mass when set of an egg that was not weighed then: the mass, its own and its common
    doubt."""
    if egg.laid_mass_g is not None:
        stored = USUAL_STORAGE_DAYS if egg.laid_on is None else _stored_days(egg.laid_on, set_at)
        lost = STORAGE_LOSS_A_DAY * stored
        return MassBase.LAID, (egg.laid_mass_g * (1.0 - lost), 0.2 * lost + LAID_SD, STORAGE_DOUBT * lost)
    if egg.length_mm and egg.breadth_mm:
        return MassBase.ESTIMATED, (fresh_mass_g(egg.length_mm, egg.breadth_mm), HOYT_SD, HOYT_COMMON_SD)
    return None, (math.nan, math.nan, math.nan)


def _stored_days(laid_on: str, set_at: int) -> float:
    from datetime import UTC, date, datetime

    laid = datetime.combine(date.fromisoformat(laid_on), datetime.min.time(), UTC).timestamp() + DAY_S / 2
    return min(max((set_at - laid) / DAY_S, 0.0), 30.0)


def _take_out_what_cannot_be(
    mass_g: FloatArray, days: Sequence[float], steps_g: Sequence[float]
) -> list[tuple[int, int, float]]:
    """Blots out masses that cannot be right; row, column (-1: when set) and mass of each."""
    day, step_g = np.array(days), np.array(steps_g)
    before = mass_g[:, 0].copy()
    before_day, before_step = np.zeros(before.size), np.full(before.size, step_g[0])
    suspect = np.zeros(before.size, dtype=np.bool_)
    for column in range(1, day.size):
        now = mass_g[:, column]
        known = ~np.isnan(now)
        suspect |= known & ~_can_follow(
            before, now, day[column] - before_day, np.maximum(before_step, step_g[column])
        )
        before = np.where(known, now, before)
        before_day, before_step = (
            np.where(known, day[column], before_day),
            np.where(known, step_g[column], before_step),
        )
    left_out = []
    for row in np.flatnonzero(suspect).tolist():
        columns = np.flatnonzero(~np.isnan(mass_g[row])).tolist()
        masses = [
            (days[column], float(mass_g[row, column]), steps_g[column], column - 1) for column in columns
        ]
        kept = {one[3] for one in _that_can_be_right(masses)}
        for _, mass, _, column in masses:
            if column not in kept:
                mass_g[row, column + 1] = np.nan
                left_out.append((row, column, mass))
    return left_out


def _can_follow(
    before_g: FloatArray, now_g: FloatArray, days: FloatArray, step_g: FloatArray
) -> NDArray[np.bool_]:
    """Whether masses can follow others after some days; where there is none before, they can."""
    lost = 100.0 * (before_g - now_g) / before_g
    slack = np.maximum(_SLACK_PERCENT, 100.0 * _STEPS_OF_SLACK * step_g / before_g)
    fits: NDArray[np.bool_] = (lost >= -slack) & (lost <= MOST_LOSS_PERCENT_A_DAY * days + slack)
    return fits | np.isnan(before_g)


def _that_can_be_right(masses: Sequence[_Mass]) -> list[_Mass]:
    """The longest run of masses each of which can follow the one before; the earlier one of two as long."""

    def can_follow(earlier: _Mass, later: _Mass) -> bool:
        days, step_g = later[0] - earlier[0], max(earlier[2], later[2])
        return bool(_can_follow(*(np.array([one]) for one in (earlier[1], later[1], days, step_g)))[0])

    best: list[list[_Mass]] = []
    for n, mass in enumerate(masses):
        run = max((best[m] for m in range(n) if can_follow(masses[m], mass)), key=len, default=[])
        best.append([*run, mass])
    return max(best, key=len)


def resolution_g(weighing: Weighing, masses: FloatArray) -> float:
    """The step of the scale at a weighing, g: as it was noted, else as its masses show."""
    return weighing.resolution_g or step_of(masses)


def step_of(values: FloatArray) -> float:
    """The coarsest usual step of a scale, g, of which all masses are whole multiples.

    A few masses can be multiples of an unusual one by chance: those are only taken of `MANY_MASSES` or more, of
    which three or more differ.
    """
    for step, usual in _STEPS:
        parts = values / step
        if bool(np.all(np.abs(parts - np.rint(parts)) < 1e-6)) and (
            usual or (values.size >= MANY_MASSES and np.unique(values).size >= 3)
        ):
            return step
    return FINEST_STEP_G


def _set_step_g(set_g: FloatArray, of_weighings: Sequence[float]) -> float:
    """The step of the scale on which the eggs were weighed when set: that of later; coarser if they show it."""
    values = set_g[~np.isnan(set_g)]
    shown = step_of(values) if values.size else 0.1
    if not of_weighings:
        return shown
    later = float(np.median(of_weighings))
    # A few masses can be whole grams by chance.
    return max(shown, later) if values.size >= MANY_MASSES else later
