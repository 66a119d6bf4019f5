"""The masses of a batch that count for what its eggs lose: of which eggs, until when, in parts of what base."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median

from hatchbook.figures.course import Course
from hatchbook.figures.results import EggFigures
from hatchbook.figures.to_weigh import MOST_LOSS_PERCENT_A_DAY
from hatchbook.figures.weight_results import MassBase
from hatchbook.figures.weights import FIRST_DAY, BatchWeights
from hatchbook.journal import Egg, Weighing
from hatchbook.statistics.conductance import scale_sd
from hatchbook.statistics.egg_size import fresh_mass_g
from hatchbook.trade.codes import Fate, FindingCode, RemovalReason
from hatchbook.trade.fates import DIED
from hatchbook.trade.instants import DAY_S

HOYT_SD = 0.05
"""By how much a mass from length and breadth may be off, standard deviation in parts of it (ours)."""
STORAGE_LOSS_A_DAY = 0.002
"""Share of its mass that an egg loses in a day of storage (quail at 7.5 °C 0.187 % a day: LRRD 20(10))."""
USUAL_STORAGE_DAYS = 5.0
MANY_MASSES = 5
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


_Mass = tuple[float, float, float, float, str]
"""One mass of an egg: day, g, its standard deviation, the step of the scale, and its weighing ("": when set)."""


@dataclass(frozen=True)
class EggMasses:
    """An egg's masses that count, by day since set.

    ``guess_g``: the best guess of its mass when set; None where the line through its weighings must give it.
    ``guess_sd``: how far that may be off, in parts of it. ``base``: where the base of its loss is from. ``days``,
    ``masses_g``, ``sds_g``, ``weighings``: of its weighings; ``left_out``: weighing and mass of those that cannot
    be right.
    """

    figures: EggFigures
    leaves: float
    base: MassBase
    guess_g: float | None
    guess_sd: float
    days: tuple[float, ...]
    masses_g: tuple[float, ...]
    sds_g: tuple[float, ...]
    weighings: tuple[str, ...]
    left_out: tuple[tuple[str, float], ...] = ()

    @property
    def told(self) -> bool:
        """Whether the egg's own masses tell what it has lost: there are two, or one and a guess at the first."""
        return len(self.days) + (self.guess_g is not None) >= 2


def egg_masses(
    course: Course, weights: BatchWeights, eggs: Sequence[EggFigures], until_day: float
) -> tuple[EggMasses, ...]:
    """The masses of each egg of a batch until a day, by number."""
    leaving = {egg.egg.uid: leaves_day(egg, course) for egg in eggs}
    first_leaves = min(leaving.values(), default=math.inf)
    sessions = []
    for weighing in weights.weighings:
        day = course.day_of(weighing.at)
        if not 0.0 <= day <= until_day + ON_THE_STROKE:
            continue
        masses = weights.masses(weighing)
        if day > first_leaves:
            masses = {uid: mass for uid, mass in masses.items() if day <= leaving[uid]}
        if masses:
            step_g = resolution_g(weighing, tuple(masses.values()))
            sessions.append((day, masses, scale_sd(step_g), step_g, weighing.uid))
    set_step_g = _set_step_g(eggs, [step_g for _, _, _, step_g, _ in sessions])
    set_sd_g = scale_sd(set_step_g)
    found = []
    for egg in eggs:
        uid, set_g = egg.egg.uid, egg.egg.set_mass_g
        whole: list[_Mass] = [] if set_g is None else [(0.0, set_g, set_sd_g, set_step_g, "")]
        for day, masses, sd_g, step_g, weighing_uid in sessions:
            if uid in masses:
                whole.append((day, masses[uid], sd_g, step_g, weighing_uid))
        kept = _that_can_be_right(whole)
        base, guess_g, guess_sd = _base(egg.egg, kept, course.batch.set_at)
        used = kept[1:] if kept and not kept[0][4] else kept
        days, masses_g, sds_g, _, weighings = zip(*used, strict=True) if used else ((),) * 5
        left_out = (
            () if len(kept) == len(whole) else tuple((one[4], one[1]) for one in whole if one not in kept)
        )
        found.append(
            EggMasses(egg, leaving[uid], base, guess_g, guess_sd, days, masses_g, sds_g, weighings, left_out)
        )
    return tuple(found)


def _base(egg: Egg, kept: Sequence[_Mass], set_at: int) -> tuple[MassBase, float | None, float]:
    if kept and not kept[0][4]:
        return MassBase.SET, kept[0][1], kept[0][2] / kept[0][1]
    first = MassBase.SET if kept and kept[0][0] <= FIRST_DAY else MassBase.FIRST_WEIGHING
    base = first if len(kept) > 1 or first is MassBase.SET else None
    if egg.laid_mass_g is not None:
        stored = USUAL_STORAGE_DAYS if egg.laid_on is None else _stored_days(egg.laid_on, set_at)
        lost = STORAGE_LOSS_A_DAY * stored
        return base or MassBase.LAID, egg.laid_mass_g * (1.0 - lost), 0.5 * lost + 0.003
    if egg.length_mm and egg.breadth_mm:
        return base or MassBase.ESTIMATED, fresh_mass_g(egg.length_mm, egg.breadth_mm), HOYT_SD
    return base or first, None, 0.0


def _stored_days(laid_on: str, set_at: int) -> float:
    from datetime import UTC, date, datetime

    laid = datetime.combine(date.fromisoformat(laid_on), datetime.min.time(), UTC).timestamp() + DAY_S / 2
    return min(max((set_at - laid) / DAY_S, 0.0), 30.0)


def _that_can_be_right(masses: list[_Mass]) -> list[_Mass]:
    """The longest run of masses each of which can follow the one before; the earlier one of two as long."""
    for before, mass in itertools.pairwise(masses):
        if not _can_follow(before, mass):
            break
    else:
        return masses
    best: list[list[_Mass]] = []
    for n, mass in enumerate(masses):
        run = max((best[m] for m in range(n) if _can_follow(masses[m], mass)), key=len, default=[])
        best.append([*run, mass])
    return max(best, key=len)


def _can_follow(earlier: _Mass, later: _Mass) -> bool:
    before_g, days = earlier[1], later[0] - earlier[0]
    lost = 100.0 * (before_g - later[1]) / before_g
    if 0.0 <= lost <= MOST_LOSS_PERCENT_A_DAY * days:
        return True
    slack = max(_SLACK_PERCENT, 100.0 * _STEPS_OF_SLACK * max(earlier[3], later[3]) / before_g)
    return -slack <= lost <= MOST_LOSS_PERCENT_A_DAY * days + slack


def resolution_g(weighing: Weighing, masses: Sequence[float]) -> float:
    """The step of the scale at a weighing, g: as it was noted, else as its masses show."""
    return weighing.resolution_g or step_of(masses)


def step_of(values: Sequence[float]) -> float:
    """The coarsest of 1, 0.1 and 0.01 g of which all masses are whole multiples."""
    for step in (1.0, 0.1):
        if all(abs(value / step - round(value / step)) < 1e-6 for value in values):
            return step
    return 0.01


def _set_step_g(eggs: Sequence[EggFigures], of_weighings: Sequence[float]) -> float:
    """The step of the scale on which the eggs were weighed when set: that of later; coarser if they show it."""
    values = [egg.egg.set_mass_g for egg in eggs if egg.egg.set_mass_g is not None]
    shown = step_of(values) if values else 0.1
    if not of_weighings:
        return shown
    later = median(of_weighings)
    # A few masses can be whole grams by chance.
    return max(shown, later) if len(values) >= MANY_MASSES else later
