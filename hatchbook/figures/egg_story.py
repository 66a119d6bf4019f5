"""The whole story of one egg: laid, set, weighed, candled, hatched or opened, and what was noted of it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from hatchbook.figures.course import Course
from hatchbook.figures.egg_age import age_when_set
from hatchbook.figures.outcomes import bounds_of, egg_records
from hatchbook.figures.results import BatchState
from hatchbook.figures.weights import BatchWeights, EggLoss
from hatchbook.journal import (
    Batch,
    BreakOut,
    Egg,
    EggMass,
    Event,
    Finding,
    Hatching,
    Journal,
    PenMember,
    Removal,
    Weighing,
)
from hatchbook.statistics.egg_size import fresh_mass_g
from hatchbook.trade.codes import BreakOutSign, Malposition
from hatchbook.trade.fates import EggOutcome

EggRecord = Finding | EggMass | Hatching | BreakOut | Removal | Event


class StoryKind(StrEnum):
    """What an entry of an egg's story tells."""

    LAID = "laid"
    SET = "set"
    WEIGHED = "weighed"
    CANDLED = "candled"
    HATCH = "hatch"
    OPENED = "opened"
    TAKEN_OUT = "taken_out"
    NOTED = "noted"


@dataclass(frozen=True)
class StoryEntry:
    """One thing that is known of an egg.

    ``at``: UTC seconds, None for the laying, of which only the date is known. ``day``: since setting.
    ``record``: what can be changed; None for laying and setting, which are values of the egg itself.
    ``loss``: of a weighing. ``chick_percent``: a chick's mass in % of the egg's when set (chick yield).
    ``malpositions`` and ``signs``: of an opened egg.
    """

    kind: StoryKind
    at: int | None
    day: float
    record: EggRecord | None = None
    loss: EggLoss | None = None
    chick_percent: float | None = None
    malpositions: tuple[Malposition, ...] = ()
    signs: tuple[BreakOutSign, ...] = ()


@dataclass(frozen=True)
class EggStory:
    """An egg with all that is known of it.

    ``birds``: the hens of its pen that can be its dam. ``age_days``: whole days from laying to setting.
    ``estimated_mass_g``: of the fresh egg, by its length and breadth (Hoyt; see ``statistics.egg_size``).
    ``lost_percent``: by the latest weighing that tells, since day ``lost_since_day``. ``entries``: oldest first.
    ``position``: of ``count`` eggs of the batch in the order of their numbers, from 1. ``previous``, ``following``:
    uids, None at the ends.
    """

    egg: Egg
    batch: Batch
    state: BatchState
    outcome: EggOutcome
    pen_name: str
    dam_name: str
    birds: tuple[PenMember, ...]
    age_days: int | None
    estimated_mass_g: float | None
    lost_percent: float | None
    lost_since_day: float | None
    entries: tuple[StoryEntry, ...]
    trays: int
    tray_rows: int
    tray_columns: int
    position: int
    count: int
    previous: str | None
    following: str | None

    def as_dict(self) -> dict[str, Any]:
        """The figures as plain JSON values, without the batch's own."""
        from hatchbook.figures.plain import plain_fields

        figures = plain_fields(self)
        figures["batch"] = self.batch.label
        return figures


def story_of_egg(journal: Journal, uid: str, now: int | None = None) -> EggStory:
    """All that is known of an egg at an instant (None: of the clock).

    Raises:
        RecordMissingError: there is no such egg.
    """
    egg = journal.eggs.get(uid)
    course = Course(journal, egg.batch, now)
    batch = course.batch
    order = [one.uid for one in journal.eggs.of_batch(batch.uid)]
    at = order.index(uid)
    weights = BatchWeights(course)
    lost = weights.latest_of_egg(uid)
    birds = journal.pens.members(egg.pen) if egg.pen is not None else []
    pen = journal.pens.find(egg.pen) if egg.pen is not None else None
    measured = egg.length_mm is not None and egg.breadth_mm is not None
    return EggStory(
        egg=egg,
        batch=batch,
        state=course.state,
        outcome=egg_records(journal, [batch.uid])[batch.uid][uid].outcome(batch, bounds_of(batch)),
        pen_name="" if pen is None else pen.name,
        dam_name=next((bird.name for bird in birds if bird.uid == egg.dam), ""),
        birds=tuple(bird for bird in birds if bird.sex == "female"),
        age_days=age_when_set(egg, course.batch.set_at, course.journal.zone),
        estimated_mass_g=fresh_mass_g(egg.length_mm or 0, egg.breadth_mm or 0) if measured else None,
        lost_percent=None if lost is None else lost.loss_percent,
        lost_since_day=None if lost is None else lost.since_day,
        entries=tuple(sorted(_entries(course, egg, weights.of_egg(uid)), key=lambda entry: entry.day)),
        trays=course.machine.trays,
        tray_rows=course.machine.tray_rows,
        tray_columns=course.machine.tray_columns,
        position=at + 1,
        count=len(order),
        previous=order[at - 1] if at > 0 else None,
        following=order[at + 1] if at + 1 < len(order) else None,
    )


def _entries(course: Course, egg: Egg, weighings: tuple[EggLoss, ...]) -> Iterator[StoryEntry]:
    """In the order in which those of one instant are told."""
    age_days = age_when_set(egg, course.batch.set_at, course.journal.zone)
    if age_days is not None:
        yield StoryEntry(StoryKind.LAID, None, float(-age_days))
    yield StoryEntry(StoryKind.SET, course.batch.set_at, 0.0)
    yield from _weighed(course, egg, weighings)
    journal = course.journal
    for finding in journal.candlings.findings_of_egg(egg.uid):
        yield StoryEntry(StoryKind.CANDLED, finding.at, course.day_of(finding.at), finding)
    for hatching in journal.hatchings.of_egg(egg.uid):
        chick_percent = None
        if hatching.chick_mass_g is not None and egg.set_mass_g is not None:
            chick_percent = 100.0 * hatching.chick_mass_g / egg.set_mass_g
        day = course.day_of(hatching.at)
        yield StoryEntry(StoryKind.HATCH, hatching.at, day, hatching, chick_percent=chick_percent)
    for opening in journal.break_outs.of_egg(egg.uid):
        marks = journal.break_outs.marks(opening.uid)
        yield StoryEntry(
            StoryKind.OPENED,
            opening.at,
            course.day_of(opening.at),
            opening,
            malpositions=tuple(Malposition(mark.code) for mark in marks if mark.kind == "malposition"),
            signs=tuple(BreakOutSign(mark.code) for mark in marks if mark.kind == "sign"),
        )
    for removal in journal.removals.of_egg(egg.uid):
        yield StoryEntry(StoryKind.TAKEN_OUT, removal.at, course.day_of(removal.at), removal)
    for event in journal.events.of_egg(egg.uid):
        yield StoryEntry(StoryKind.NOTED, event.at, course.day_of(event.at), event)


def _weighed(course: Course, egg: Egg, weighings: tuple[EggLoss, ...]) -> Iterator[StoryEntry]:
    """Every mass of the egg; also one of the future, which tells no loss yet."""
    losses = {one.weighing: one for one in weighings}
    masses = {mass.weighing: mass for mass in course.journal.weighings.masses_of_egg(egg.uid)}
    occasions: list[Weighing] = course.journal.weighings.of_batch(course.batch.uid)
    for weighing in occasions:
        mass = masses.get(weighing.uid)
        if mass is not None:
            day = course.day_of(weighing.at)
            yield StoryEntry(StoryKind.WEIGHED, weighing.at, day, mass, loss=losses.get(weighing.uid))
