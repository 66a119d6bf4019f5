"""The masses of a batch that count for what its eggs lose: of which eggs, until when, in parts of what base."""

from __future__ import annotations

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
"""By how much a mass from length and breadth may be off, standard deviation in parts of it (ours; Hoyt 1979 is said to
be good to a few per cent where the species' own coefficient is taken: from memory)."""
STORAGE_LOSS_A_DAY = 0.002
"""Share of its mass that an egg loses in a day of storage (quail at 7.5 °C 0.187 % a day: LRRD 20(10))."""
USUAL_STORAGE_DAYS = 5.0
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


@dataclass(frozen=True)
class EggMasses:
    """An egg's masses that count, by day since set.

    ``guess_g``: the best guess of its mass when set, of which ``base`` says where it is from; None where the line
    through its weighings must give it. ``guess_sd``: how far that may be off, in parts of it. ``days``, ``masses_g``,
    ``sds_g``: its weighings. ``odd``: the weighings left out since they cannot be right.
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
    odd: tuple[tuple[str, float], ...] = ()

    @property
    def told(self) -> bool:
        """Whether there is anything to draw a line through."""
        return len(self.days) + (self.guess_g is not None) >= 1 and bool(self.days)


def egg_masses(
    course: Course, weights: BatchWeights, eggs: Sequence[EggFigures], until_day: float
) -> tuple[EggMasses, ...]:
    """The masses of each egg of a batch until a day, by number."""
    resolutions = {one.uid: resolution_g(one, weights.masses(one).values()) for one in weights.weighings}
    set_resolution = _set_resolution(eggs, list(resolutions.values()))
    found = []
    for egg in eggs:
        leaves = leaves_day(egg, course)
        rows = []
        for weighing in weights.weighings:
            mass_g, day = weights.masses(weighing).get(egg.egg.uid), course.day_of(weighing.at)
            if mass_g is not None and 0.0 <= day <= min(leaves, until_day):
                rows.append((day, mass_g, resolutions[weighing.uid], weighing.uid))
        found.append(_egg_masses(egg, leaves, rows, set_resolution, course.batch.set_at))
    return tuple(found)


def _egg_masses(
    egg: EggFigures,
    leaves: float,
    rows: list[tuple[float, float, float, str]],
    set_resolution: float,
    set_at: int,
) -> EggMasses:
    set_g = egg.egg.set_mass_g
    whole = rows if set_g is None else [(0.0, set_g, set_resolution, ""), *rows]
    kept = _that_can_be_right(whole)
    odd = tuple((row[3], row[1]) for row in whole if row not in kept and row[3])
    used = [row for row in kept if row[3]]
    base, guess_g, guess_sd = _base(egg.egg, kept, set_at)
    return EggMasses(
        egg,
        leaves,
        base,
        guess_g,
        guess_sd,
        tuple(row[0] for row in used),
        tuple(row[1] for row in used),
        tuple(scale_sd(row[2]) for row in used),
        tuple(row[3] for row in used),
        odd,
    )


def _base(
    egg: Egg, kept: list[tuple[float, float, float, str]], set_at: int
) -> tuple[MassBase, float | None, float]:
    if kept and not kept[0][3]:
        return MassBase.SET, kept[0][1], scale_sd(kept[0][2]) / kept[0][1]
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


def _that_can_be_right(rows: list[tuple[float, float, float, str]]) -> list[tuple[float, float, float, str]]:
    """The longest run of masses each of which can follow the one before; the earlier one of two as long."""
    if all(_can_follow(rows[n], rows[n + 1]) for n in range(len(rows) - 1)):
        return rows
    best: list[list[tuple[float, float, float, str]]] = []
    for n, row in enumerate(rows):
        before = max((best[m] for m in range(n) if _can_follow(rows[m], row)), key=len, default=[])
        best.append([*before, row])
    return max(best, key=len)


def _can_follow(earlier: tuple[float, float, float, str], later: tuple[float, float, float, str]) -> bool:
    lost = 100.0 * (earlier[1] - later[1]) / earlier[1]
    steps = 100.0 * _STEPS_OF_SLACK * max(earlier[2], later[2]) / earlier[1]
    slack = max(_SLACK_PERCENT, steps)
    return -slack <= lost <= MOST_LOSS_PERCENT_A_DAY * (later[0] - earlier[0]) + slack


def resolution_g(weighing: Weighing, masses: Sequence[float] | object) -> float:
    """The step of the scale at a weighing, g: as it was noted, else as its masses show."""
    if weighing.resolution_g:
        return weighing.resolution_g
    values = [float(mass) for mass in masses]  # type: ignore[attr-defined]
    return step_of(values)


def step_of(values: Sequence[float]) -> float:
    """The coarsest of 1, 0.1 and 0.01 g of which all masses are whole multiples."""
    for step in (1.0, 0.1):
        if all(abs(value / step - round(value / step)) < 1e-6 for value in values):
            return step
    return 0.01


def _set_resolution(eggs: Sequence[EggFigures], of_weighings: Sequence[float]) -> float:
    """The step of the scale on which the eggs were weighed when set: as the masses show, but no finer than later."""
    values = [egg.egg.set_mass_g for egg in eggs if egg.egg.set_mass_g is not None]
    shown = step_of(values) if values else 0.1
    return max(shown, median(of_weighings)) if of_weighings else shown
