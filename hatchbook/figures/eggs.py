"""Each egg of a batch with what became of it, and when the chicks came."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from hatchbook.figures.course import Course
from hatchbook.figures.outcomes import EggRecords, bounds_of, egg_records
from hatchbook.figures.results import EggFigures, HatchTiming
from hatchbook.figures.weights import BatchWeights
from hatchbook.journal import Batch, Journal


def egg_figures(course: Course, weights: BatchWeights) -> tuple[EggFigures, ...]:
    """The eggs of a batch, by number, with what they have lost by its weighings."""
    batch, journal = course.batch, course.journal
    eggs = figures_from(journal, batch, egg_records(journal, [batch.uid]).get(batch.uid, {}))
    if not weights.weighings:
        return eggs
    return tuple(replace(egg, lost_percent=_lost_since_set(weights, egg.egg.uid)) for egg in eggs)


def _lost_since_set(weights: BatchWeights, egg: str) -> float | None:
    loss = weights.latest_of_egg(egg)
    return None if loss is None or loss.since_day else loss.loss_percent


def figures_from(journal: Journal, batch: Batch, records: Mapping[str, EggRecords]) -> tuple[EggFigures, ...]:
    """The eggs of a batch, by number, as these records (by egg) have them."""
    pens = {pen.uid: pen.name for pen in journal.pens.all()}
    bounds = bounds_of(batch)
    return tuple(
        EggFigures(
            egg=egg,
            pen_name=pens[egg.pen] if egg.pen is not None else "",
            outcome=records[egg.uid].outcome(batch, bounds),
            seen=records[egg.uid].seen(batch),
        )
        for egg in journal.eggs.of_batch(batch.uid)
    )


def pen_names(eggs: Sequence[EggFigures]) -> tuple[str, ...]:
    """The pens that eggs come from, in the order of the eggs."""
    return tuple(dict.fromkeys(egg.pen_name for egg in eggs if egg.pen_name))


def hatch_timing(course: Course, eggs: Sequence[EggFigures]) -> HatchTiming:
    """When the first egg pipped and the chicks were noted out of the shell, days since setting."""
    outcomes = [egg.outcome for egg in eggs]
    pips = [course.day_of(one.pipped_at_s) for one in outcomes if one.pipped_at_s is not None]
    chicks = sorted(course.day_of(one.hatched_at_s) for one in outcomes if one.hatched_at_s is not None)
    return HatchTiming(
        first_pip_day=min(pips, default=None),
        first_day=chicks[0] if chicks else None,
        last_day=chicks[-1] if chicks else None,
        chick_days=tuple(chicks),
        due_day=course.day_of(course.due_at),
    )
