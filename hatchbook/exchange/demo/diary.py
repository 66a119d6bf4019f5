"""What the breeder of the demo writes down of one batch: its records, in the order in which they came about."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from datetime import timedelta

import numpy as np

from hatchbook.exchange.demo.batch_run import BatchRun
from hatchbook.exchange.demo.chance import uids
from hatchbook.exchange.demo.dates import DemoDates
from hatchbook.exchange.demo.holding import Holding
from hatchbook.journal import Batch, Duty, Egg, Event, plan_records
from hatchbook.journal.table import Record
from hatchbook.statistics.egg_size import HOYT_G_PER_CM3
from hatchbook.trade.codes import DutyKind, EggSource, EventKind, WeighPlan
from hatchbook.trade.instants import day_number
from hatchbook.trade.stages import StageBounds

_WEIGHED_EVERY = 3
"""Of marked eggs every third is weighed."""
_BREADTH_TO_LENGTH = 0.74


@dataclass
class Diary:
    """A batch as it stands in the journal: the batch, its eggs in order, and all other records of it.

    ``gone``: when an egg (by its position) was taken out of the tray, UTC seconds. ``duties``: by what was planned.
    """

    run: BatchRun
    batch: Batch
    eggs: tuple[Egg, ...]
    bounds: StageBounds
    dates: DemoDates
    rng: np.random.Generator
    uid: Iterator[str]
    duties: list[Duty]
    records: list[Record] = field(default_factory=list)
    gone: dict[int, int] = field(default_factory=dict)

    @property
    def machine(self) -> str:
        """The uid of the machine."""
        return self.batch.machine

    def day(self, at: int) -> float:
        """Days since setting."""
        return day_number(at, self.batch.set_at)

    def in_tray(self, at: int) -> list[int]:
        """The positions of the eggs that have not been taken out before an instant."""
        return [egg for egg in range(len(self.eggs)) if self.gone.get(egg, at + 1) >= at]

    def note(self, at: int, text: str, egg: str | None = None) -> None:
        """Writes a note, if that instant has come."""
        if at < self.run.until:
            self.add_event(at, EventKind.NOTE, batch=self.batch.uid, egg=egg, text=text)

    def add_event(self, at: int, kind: EventKind, **values: object) -> None:
        """Writes an event."""
        self.records.append(Event(at, kind, **values, uid=next(self.uid)))  # type: ignore[arg-type]


def begin_diary(run: BatchRun, label: str, holding: Holding, dates: DemoDates) -> Diary:
    """The batch as it was set, with its plan and its eggs."""
    story, plan = run.story, run.plan
    programme = plan.programme
    uid = uids(run.rng)
    bounds = StageBounds.for_incubation(programme.incubation_days)
    pens = [pen for pen in holding.pens if story.eggs.get(pen)]
    breeds = {pen.breed for pen in run.raw.pens}
    batch = Batch(
        label=label,
        name=story.name,
        species=programme.species,
        breed=breeds.pop() if len(breeds) == 1 else "",
        machine=holding.machines[story.machine].uid,
        probe=holding.probes[story.machine].uid,
        set_at=run.set_at,
        incubation_days=programme.incubation_days,
        programme=programme.to_json(),
        early_until_day=bounds.early_until_day,
        mid_until_day=bounds.mid_until_day,
        loss_low_percent=programme.loss_low_percent,
        loss_high_percent=programme.loss_high_percent,
        loss_day=programme.loss_day,
        weigh_plan=WeighPlan(story.weigh),
        source=EggSource.OWN if pens else EggSource.SHIPPED,
        closed_at=run.closed_at,
        uid=next(uid),
    )
    phases, duties = plan_records(batch, plan)
    diary = Diary(
        run=run,
        batch=batch,
        eggs=tuple(_eggs(run, batch, holding, dates, uid)),
        bounds=bounds,
        dates=dates,
        rng=run.rng,
        uid=uid,
        duties=[
            replace(duty, done_at=run.rounds.done.get(planned), uid=next(uid))
            for duty, planned in zip(duties, plan.duties, strict=True)
        ],
    )
    diary.records += [replace(phase, uid=next(uid)) for phase in phases]
    return diary


def _eggs(
    run: BatchRun, batch: Batch, holding: Holding, dates: DemoDates, uid: Iterator[str]
) -> Iterator[Egg]:
    story, raw, rng = run.story, run.raw, run.rng
    set_on = dates.local_date(min(run.set_at, dates.now))
    columns = run.machine.columns
    every_egg = story.weigh == "every_egg"
    for place, pen in enumerate(raw.pens):
        hens = holding.hens.get(pen.key, ())
        known = story.dams and hens and rng.random() < 0.8
        dam = hens[int(rng.integers(len(hens)))].uid if known else None
        marked = story.weigh == "marked" and place % _WEIGHED_EVERY == 0
        weighed = (marked or every_egg) and not run.planned
        mass_g = float(raw.mass_g[place])
        row, column = divmod(place, columns)
        length_mm = _length_mm(mass_g) if story.measured else None
        age = int(raw.age_days[place])
        yield Egg(
            batch=batch.uid,
            number=place + 1,
            tray=1,
            tray_row=row + 1,
            tray_column=column + 1,
            pen=holding.pens[pen.key].uid if pen.key in holding.pens else None,
            dam=dam,
            laid_on=str(set_on - timedelta(days=age)) if batch.source is EggSource.OWN else None,
            laid_mass_g=round(mass_g * (1 + 0.0011 * age), 1) if story.measured else None,
            set_mass_g=mass_g if weighed else None,
            length_mm=None if length_mm is None else round(length_mm, 1),
            breadth_mm=None if length_mm is None else round(length_mm * _BREADTH_TO_LENGTH, 1),
            marked=marked,
            mark=f"{pen.letter}{place + 1}" if pen.letter else "",
            uid=next(uid),
        )


def _length_mm(mass_g: float) -> float:
    """An egg's length from its mass: the other way round than ``fresh_mass_g`` (Hoyt, from memory)."""
    return 10 * float((mass_g / HOYT_G_PER_CM3 / _BREADTH_TO_LENGTH**2) ** (1 / 3))


def duty_of(diary: Diary, kind: DutyKind, ordinal: int) -> Duty:
    """A duty of the batch's plan."""
    return next(one for one in diary.duties if one.kind is kind and one.ordinal == ordinal)
