"""Batches of any size for tests of the candling room."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from hatchbook.journal import Batch, BatchPhase, Duty, Egg, Journal, Machine
from hatchbook.trade.codes import DutyKind, EventKind, FindingCode, PhaseKind

DAY = 86_400
#: 2026-05-03 08:00 UTC.
SET_AT = 1_777_795_200
_labels = itertools.count(1)


def candled_batch(
    journal: Journal, rows: int, columns: int, *, set_at: int = SET_AT, empty: Sequence[int] = ()
) -> Batch:
    """A hen batch in a machine of its own: eggs row by row, but for some empty places, and candlings asked for."""
    number = next(_labels)
    machine = Machine(f"Machine {number}", rows, columns)
    journal.machines.add(machine)
    batch = Batch(f"B{number:03}", "hen", machine.uid, set_at, 21.0, "{}", 7.0, 14.0, name="Orchard hens")
    bands = (37.2, 37.5, 37.8)
    phases = [
        BatchPhase(batch.uid, PhaseKind.INCUBATION, 0.0, 18.0, 40.0, 45.0, 50.0, *bands),
        BatchPhase(batch.uid, PhaseKind.LOCKDOWN, 18.0, 21.0, 60.0, 65.0, 70.0, *bands),
    ]
    duties = [Duty(DutyKind.CANDLE, set_at + day * DAY, batch.uid, float(day)) for day in (7, 14, 18)]
    places = [place for place in range(rows * columns) if place not in empty]
    eggs = [
        Egg(
            batch.uid, at, 1, place // columns + 1, place % columns + 1, laid_on="2026-04-29", set_mass_g=58.1
        )
        for at, place in enumerate(places, 1)
    ]
    journal.batches.set_batch(batch, phases, duties, eggs)
    return batch


def findings(journal: Journal, batch: Batch) -> dict[int, FindingCode]:
    """What the journal holds of all candlings of a batch, by the numbers of the eggs; the latest of each egg."""
    numbers = {egg.uid: egg.number for egg in journal.eggs.of_batch(batch.uid)}
    return {numbers[finding.egg]: finding.code for finding in journal.candlings.findings(batch.uid)}


def lid_events(journal: Journal, batch: Batch) -> list[tuple[int, int]]:
    """From when until when the lid of a batch's machine was open, by the journal."""
    events = journal.events.of_machine(batch.machine, 0, 2**40)
    return [(event.at, event.ends_at or 0) for event in events if event.kind is EventKind.LID]
