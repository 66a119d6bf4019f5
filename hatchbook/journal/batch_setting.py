"""Setting a batch, or changing one that was set, together with what is new in the holding, as one step."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from hatchbook.journal.batches import Batch, BatchPhase
from hatchbook.journal.duties import Duty
from hatchbook.journal.eggs import Egg
from hatchbook.journal.history import Change, Step
from hatchbook.journal.machines import Channel, Machine
from hatchbook.journal.pens import Pen
from hatchbook.journal.probes import Probe, ProbePlacement
from hatchbook.journal.table import Record
from hatchbook.trade.codes import DutyKind, ProbePlace

if TYPE_CHECKING:
    from hatchbook.journal.journal import Journal


@dataclass(frozen=True)
class NewHolding:
    """What a batch brings into the holding.

    ``machine`` with so many ``channels``; a probe of this name hangs in the batch's machine from ``probe_from_at``
    on ("" stands for none); ``pens`` are new, ``changed_pens`` are known and get other values.
    """

    machine: Machine | None = None
    channels: int = 0
    probe_name: str = ""
    probe_from_at: int = 0
    pens: tuple[Pen, ...] = ()
    changed_pens: tuple[Pen, ...] = ()


@dataclass(frozen=True)
class EggChanges:
    """The eggs that come to a batch, that are changed in it, and that are taken away as if never set."""

    added: tuple[Egg, ...] = ()
    replaced: tuple[Egg, ...] = ()
    removed: tuple[Egg, ...] = ()


def set_batch_with_holding(
    journal: Journal,
    batch: Batch,
    phases: Sequence[BatchPhase],
    duties: Sequence[Duty],
    eggs: Sequence[Egg],
    holding: NewHolding | None = None,
) -> Change:
    """Sets a batch with its phases, duties and eggs, and stores the machine, probe and pens it needs first.

    Raises:
        RecordRefusedError: a label or a name is taken, or a value can not be; nothing of it is stored.
    """
    named = journal.batches.named(batch)
    with journal.step("batch_set", batch=batch.uid, **named, eggs=len(eggs)) as step:
        _add_holding(journal, step, batch, holding or NewHolding())
        step.add(batch)
        records: list[Record] = [*phases, *duties, *eggs]
        for record in records:
            step.add(record)
    return step.done


def change_batch(
    journal: Journal,
    batch: Batch,
    phases: Sequence[BatchPhase],
    duties: Sequence[Duty],
    eggs: EggChanges | None = None,
    holding: NewHolding | None = None,
) -> Change:
    """Stores a batch that was planned or set before with other values, phases, duties and eggs.

    Duties already done are kept; the one of setting moves along with the batch.

    Raises:
        RecordMissingError: there is no such batch.
        RecordRefusedError: a label or a place is taken, or an egg to be taken away has records.
    """
    before = journal.batches.get(batch.uid)
    with journal.step("batch_changed", batch=batch.uid, **journal.batches.named(batch)) as step:
        _add_holding(journal, step, batch, holding or NewHolding())
        journal.batches.replan_in(step, batch, phases, duties)
        _move_setting(journal, step, before, batch)
        _change_eggs(journal, step, eggs or EggChanges())
    return step.done


def _add_holding(journal: Journal, step: Step, batch: Batch, new: NewHolding) -> None:
    if new.machine is not None:
        step.add(new.machine)
        for position in range(1, new.channels + 1):
            step.add(Channel(new.machine.uid, position))
    if new.probe_name:
        probe = Probe(new.probe_name, journal.probes.next_number())
        step.add(probe)
        step.add(ProbePlacement(probe.uid, ProbePlace.MACHINE, batch.machine, new.probe_from_at))
    for pen in new.pens:
        step.add(pen)
    for pen in new.changed_pens:
        step.replace(pen)


def _move_setting(journal: Journal, step: Step, before: Batch, batch: Batch) -> None:
    if before.set_at == batch.set_at:
        return
    for duty in journal.duties.of_batch(batch.uid):
        if duty.kind is DutyKind.SET and duty.done_at is not None:
            done_at = batch.set_at if duty.done_at == before.set_at else duty.done_at
            step.replace(replace(duty, due_at=batch.set_at, done_at=done_at))


def _change_eggs(journal: Journal, step: Step, eggs: EggChanges) -> None:
    for egg in eggs.removed:
        step.remove(egg)
    # No two eggs lie in one place, not even for a moment: those that move leave their places first.
    for egg in eggs.replaced:
        known = journal.eggs.get(egg.uid)
        if known.tray is not None and _place(known) != _place(egg):
            step.replace(replace(known, tray=None, tray_row=None, tray_column=None))
    for egg in eggs.replaced:
        step.replace(egg)
    for egg in eggs.added:
        step.add(egg)


def _place(egg: Egg) -> tuple[int | None, int | None, int | None]:
    return egg.tray, egg.tray_row, egg.tray_column
