"""Batches with their own copy of the programme's phases, so that a later edit never rewrites the past."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any, ClassVar

from hatchbook.journal.break_outs import BreakOut, BreakOutMark
from hatchbook.journal.candlings import Candling, Finding
from hatchbook.journal.collection import Collection
from hatchbook.journal.duties import Duty
from hatchbook.journal.eggs import Egg
from hatchbook.journal.events import Event
from hatchbook.journal.hatchings import Hatching, Removal
from hatchbook.journal.history import Change, Step
from hatchbook.journal.table import Record, new_uid
from hatchbook.journal.weighings import EggMass, Weighing
from hatchbook.trade.codes import EggSource, PhaseKind, WeighPlan
from hatchbook.trade.instants import DAY_S

if TYPE_CHECKING:
    from hatchbook.trade.plan import BatchPlan


@dataclass(frozen=True)
class Batch:
    """The eggs set together in one machine at one time; ``set_at`` is its time zero.

    ``programme`` is the JSON of the programme as it was when the batch was set. ``probe``: the probe whose
    readings count; None leaves the choice to the one that covers most of the time.
    """

    KIND: ClassVar[str] = "batch"
    KEY: ClassVar[tuple[str, ...]] = ("uid",)

    label: str
    species: str
    machine: str
    set_at: int
    incubation_days: float
    programme: str
    early_until_day: float
    mid_until_day: float
    name: str = ""
    breed: str = ""
    probe: str | None = None
    loss_low_percent: float | None = None
    loss_high_percent: float | None = None
    loss_day: float | None = None
    weigh_plan: WeighPlan = WeighPlan.NONE
    source: EggSource = EggSource.OWN
    closed_at: int | None = None
    note: str = ""
    uid: str = field(default_factory=new_uid)

    @property
    def hatch_due_at(self) -> int:
        """The instant at which the incubation is over by its programme."""
        return self.set_at + round(self.incubation_days * DAY_S)


@dataclass(frozen=True)
class BatchPhase:
    """A phase of a batch, in days since it was set; ``machine`` where it is another than the batch's."""

    KIND: ClassVar[str] = "batch_phase"
    KEY: ClassVar[tuple[str, ...]] = ("uid",)

    batch: str
    kind: PhaseKind
    from_day: float
    to_day: float
    humidity_low: float
    humidity_aim: float
    humidity_high: float
    temperature_low_c: float
    temperature_aim_c: float
    temperature_high_c: float
    turns_per_day: int = 0
    machine: str | None = None
    uid: str = field(default_factory=new_uid)


@dataclass(frozen=True)
class BatchLine:
    """What a list needs to know of a batch; ``lockdown_day`` is None where it has no such phase."""

    uid: str
    label: str
    name: str
    species: str
    breed: str
    machine: str
    set_at: int
    incubation_days: float
    early_until_day: float
    mid_until_day: float
    closed_at: int | None
    note: str
    lockdown_day: float | None
    eggs: int


def plan_records(batch: Batch, plan: BatchPlan) -> tuple[list[BatchPhase], list[Duty]]:
    """The phases and duties of a plan as records of a batch."""
    phases = [
        BatchPhase(
            batch=batch.uid,
            kind=phase.kind,
            from_day=phase.targets.from_day,
            to_day=phase.targets.to_day,
            humidity_low=phase.targets.humidity_low,
            humidity_aim=phase.targets.humidity_aim,
            humidity_high=phase.targets.humidity_high,
            temperature_low_c=phase.targets.temperature_low_c,
            temperature_aim_c=phase.targets.temperature_aim_c,
            temperature_high_c=phase.targets.temperature_high_c,
            turns_per_day=phase.targets.turns_per_day,
        )
        for phase in plan.phases
    ]
    duties = [Duty(duty.kind, duty.at_s, batch.uid, duty.day, duty.ordinal, duty.of) for duty in plan.duties]
    return phases, duties


#: What belongs to a batch, in an order in which it can be removed: table class and condition.
_OF_BATCH = "batch = ?1"
_OF_EGG = "egg IN (SELECT uid FROM egg WHERE batch = ?1)"
_BELONGINGS: tuple[tuple[type[Any], str], ...] = (
    (BreakOutMark, f"break_out IN (SELECT uid FROM break_out WHERE {_OF_EGG})"),
    (BreakOut, _OF_EGG),
    (Hatching, _OF_EGG),
    (Removal, _OF_EGG),
    (EggMass, _OF_EGG),
    (Weighing, _OF_BATCH),
    (Finding, _OF_EGG),
    (Candling, _OF_BATCH),
    (Event, f"{_OF_BATCH} OR {_OF_EGG}"),
    (Egg, _OF_BATCH),
    (Duty, _OF_BATCH),
    (BatchPhase, _OF_BATCH),
)


class Batches(Collection[Batch]):
    """The batches of a journal."""

    record_class = Batch
    order = "set_at DESC, label DESC"

    def by_label(self, label: str) -> Batch | None:
        """The batch with this label, or None."""
        found = self._where("label = ?", (label,))
        return found[0] if found else None

    def in_machine(self, machine: str, start_at: int, end_at: int) -> list[Batch]:
        """The batches that lie in a machine, by their programmes, at some time of a stretch."""
        return self._where(
            "machine = ? AND set_at < ? AND coalesce(closed_at, set_at + incubation_days * 86400) > ?",
            (machine, end_at, start_at),
        )

    def lines(self, start_at: int | None = None, end_at: int | None = None) -> list[BatchLine]:
        """All batches, newest first; or those that are to lie in a machine at some time of a stretch."""
        condition, parameters = "", tuple[int, ...]()
        if start_at is not None and end_at is not None:
            condition = "WHERE set_at < ? AND set_at + incubation_days * 86400 >= ?"
            parameters = (end_at, start_at)
        rows = self._store.rows(
            "SELECT uid, label, name, species, breed, machine, set_at, incubation_days, early_until_day, "
            "mid_until_day, closed_at, note, (SELECT min(from_day) FROM batch_phase AS phase "
            "WHERE phase.batch = batch.uid AND phase.kind = 'lockdown'), "
            "(SELECT count(*) FROM egg WHERE egg.batch = batch.uid) "
            f"FROM batch {condition} ORDER BY {self.order}",
            parameters,
        )
        return [BatchLine(*row) for row in rows]

    def programmes_and_sources(self) -> dict[str, tuple[str, EggSource]]:
        """The code of the programme of each batch, "" for one without, and where its eggs came from."""
        rows = self._store.rows("SELECT uid, json_extract(programme, '$.code'), source FROM batch")
        return {uid: (str(code or ""), EggSource(source)) for uid, code, source in rows}

    def with_phase_in(self, machine: str) -> list[Batch]:
        """The batches that were in a machine, or are to come into it, for a phase at least; newest first."""
        return self._where(
            "machine = ?1 OR uid IN (SELECT batch FROM batch_phase WHERE machine = ?1)", (machine,)
        )

    def stretches_in(self, machine: str, before_at: int, newest: int) -> list[tuple[int, int]]:
        """For how long batches lay in a machine, as (begin, end), newest first, begun before an instant.

        A phase's stretch ends with the phase or when the batch was closed.
        """
        rows = self._store.rows(
            "SELECT * FROM (SELECT CAST(round(set_at + from_day * 86400) AS INTEGER) AS start_at, "
            "CAST(round(min(set_at + to_day * 86400, coalesce(closed_at, 9e18))) AS INTEGER) AS end_at "
            "FROM batch_phase AS phase JOIN batch ON batch.uid = phase.batch "
            "WHERE coalesce(phase.machine, batch.machine) = ?) "
            "WHERE start_at < ? AND start_at < end_at ORDER BY start_at DESC LIMIT ?",
            (machine, before_at, newest),
        )
        return [(int(start_at), int(end_at)) for start_at, end_at in rows]

    def phases(self, batch: str) -> list[BatchPhase]:
        """The phases of a batch, first to last."""
        return self._store.records(BatchPhase, "batch = ?", (batch,), "from_day")

    def set_batch(
        self, batch: Batch, phases: Sequence[BatchPhase], duties: Sequence[Duty], eggs: Sequence[Egg]
    ) -> Change:
        """Sets a batch with its phases, duties and eggs as one step."""
        with self._history.step("batch_set", batch=batch.uid, **self.named(batch), eggs=len(eggs)) as step:
            step.add(batch)
            records: list[Record] = [*phases, *duties, *eggs]
            for record in records:
                step.add(record)
        return step.done

    def replan(self, batch: Batch, phases: Sequence[BatchPhase], duties: Sequence[Duty]) -> Change:
        """Stores a batch with other phases and duties in place of its own; duties already done are kept."""
        with self._history.step("batch_changed", batch=batch.uid, **self.named(batch)) as step:
            self.replan_in(step, batch, phases, duties)
        return step.done

    def replan_in(
        self, step: Step, batch: Batch, phases: Sequence[BatchPhase], duties: Sequence[Duty]
    ) -> None:
        """The same as part of a step that runs."""
        step.replace(batch)
        for phase in self.phases(batch.uid):
            step.remove(phase)
        old = self._store.records(Duty, "batch = ?", (batch.uid,), "due_at")
        done = {(duty.kind, duty.day, duty.ordinal) for duty in old if duty.done_at is not None}
        for duty in old:
            if duty.done_at is None and not duty.text:
                step.remove(duty)
        for phase in phases:
            step.add(phase)
        for duty in duties:
            if (duty.kind, duty.day, duty.ordinal) not in done:
                step.add(duty)

    def rename(self, batch: Batch, name: str) -> Change:
        """Gives a batch another name."""
        with self._history.step("batch_renamed", batch=batch.uid, label=batch.label, name=name) as step:
            step.replace(replace(batch, name=name))
        return step.done

    def close(self, batch: Batch, at: int) -> Change:
        """Closes a batch: its eggs' fates are final from then on."""
        with self._history.step("batch_closed", batch=batch.uid, **self.named(batch)) as step:
            step.replace(replace(batch, closed_at=max(at, batch.set_at)))
        return step.done

    def reopen(self, batch: Batch) -> Change:
        """Opens a closed batch again."""
        with self._history.step("batch_reopened", batch=batch.uid, **self.named(batch)) as step:
            step.replace(replace(batch, closed_at=None))
        return step.done

    def delete(self, batch: Batch) -> Change:
        """Removes a batch with all that belongs to it as one step; readings stay with their probes."""
        with self._history.step("batch_removed", batch=batch.uid, **self.named(batch)) as step:
            for record_class, condition in _BELONGINGS:
                belongings: list[Record] = self._store.records(record_class, condition, (batch.uid,))
                for record in belongings:
                    step.remove(record)
            step.remove(batch)
        return step.done

    def batch_of(self, record: Batch) -> str | None:
        """The batch itself."""
        return record.uid

    def named(self, record: Batch) -> dict[str, Any]:
        """The batch's label and name."""
        return {"label": record.label, "name": record.name}
