"""Reads over many batches at once, and readings taken as samples."""

from __future__ import annotations

import dataclasses
from types import SimpleNamespace

import numpy as np
import pytest
from hatchbook.journal import Batch, BatchPhase, Egg, Journal, Reading
from hatchbook.trade.codes import PhaseKind

DAY = 86_400
#: When the batch of the filled journal is set.
SET_AT = 1_776_708_000


@pytest.fixture
def second(filled: SimpleNamespace) -> Batch:
    """Another batch, a year later, in the other machine for lockdown; two eggs without records."""
    batch = Batch("2027-01", "hen", filled.machine.uid, SET_AT + 365 * DAY, 21.0, "{}", 7.0, 14.0)
    phases = [
        BatchPhase(batch.uid, PhaseKind.INCUBATION, 0.0, 18.0, 40, 45, 50, 37.2, 37.5, 37.8),
        BatchPhase(
            batch.uid,
            PhaseKind.LOCKDOWN,
            18.0,
            21.0,
            60,
            65,
            70,
            37.2,
            37.5,
            37.8,
            machine=filled.other_machine.uid,
        ),
    ]
    filled.journal.batches.set_batch(batch, phases, [], [Egg(batch.uid, 2), Egg(batch.uid, 1)])
    return batch


def test_lines_tell_what_a_list_needs(filled: SimpleNamespace, second: Batch) -> None:
    lines = filled.journal.batches.lines()
    assert [(line.uid, line.label, line.eggs, line.lockdown_day) for line in lines] == [
        (second.uid, "2027-01", 2, 18.0),
        (filled.batch.uid, "2026-03", 6, 18.0),
    ]
    for name in ("set_at", "incubation_days", "early_until_day", "mid_until_day", "closed_at", "note"):
        assert getattr(lines[1], name) == getattr(filled.batch, name)


def test_lines_of_a_stretch_are_those_that_lie_in_a_machine_then(
    filled: SimpleNamespace, second: Batch
) -> None:
    batches = filled.journal.batches

    def found(from_day: float, to_day: float) -> list[str]:
        stretch = SET_AT + round(from_day * DAY), SET_AT + round(to_day * DAY)
        return [line.uid for line in batches.lines(*stretch)]

    assert found(-5, 0) == []
    assert found(-5, 0.1) == [filled.batch.uid]
    assert found(20.9, 30) == [filled.batch.uid]
    assert found(21.1, 30) == []
    assert found(0, 400) == [second.uid, filled.batch.uid]


def test_records_are_read_for_all_batches_or_for_some(filled: SimpleNamespace, second: Batch) -> None:
    journal: Journal = filled.journal
    of_second = [uid for _, uid in journal.eggs.uids([second.uid])]
    assert of_second == [egg.uid for egg in journal.eggs.of_batch(second.uid)]
    assert len(journal.eggs.uids()) == 8
    assert len(journal.eggs.uids([filled.batch.uid, second.uid])) == 8
    one, two = filled.eggs[0].uid, filled.eggs[1].uid
    at = SET_AT + 7 * DAY + 60
    assert sorted(journal.candlings.findings_in()) == sorted([(one, at, "alive"), (two, at, "clear")])
    assert journal.hatchings.marks_in([filled.batch.uid]) == [(one, SET_AT + 20 * DAY, "external_pip")]
    assert journal.break_outs.results_in() == [(two, SET_AT + 22 * DAY, "late_dead", 19.0)]
    assert journal.removals.reasons_in() == [(filled.eggs[4].uid, SET_AT + 9 * DAY, "broken")]
    for read in (
        journal.candlings.findings_in,
        journal.hatchings.marks_in,
        journal.break_outs.results_in,
        journal.removals.reasons_in,
    ):
        assert read([second.uid]) == []
        assert read([]) == []
    assert journal.eggs.pens() == {filled.batch.uid: ["North pen"]}


def test_a_machine_knows_when_batches_lay_in_it(filled: SimpleNamespace, second: Batch) -> None:
    batches = filled.journal.batches
    here, there = filled.machine.uid, filled.other_machine.uid
    assert [batch.uid for batch in batches.with_phase_in(here)] == [second.uid, filled.batch.uid]
    assert [batch.uid for batch in batches.with_phase_in(there)] == [second.uid]
    late = SET_AT + 1000 * DAY
    begin = second.set_at
    assert batches.stretches_in(there, late, 9) == [(begin + 18 * DAY, begin + 21 * DAY)]
    ours = [(begin, begin + 18 * DAY), (SET_AT + 18 * DAY, SET_AT + 21 * DAY), (SET_AT, SET_AT + 18 * DAY)]
    assert batches.stretches_in(here, late, 9) == ours
    assert batches.stretches_in(here, late, 1) == ours[:1]
    assert batches.stretches_in(here, SET_AT + 18 * DAY, 9) == ours[2:]
    batches.replace(dataclasses.replace(filled.batch, closed_at=SET_AT + 10 * DAY))
    assert batches.stretches_in(here, begin, 9) == [(SET_AT, SET_AT + 10 * DAY)]


def test_samples_are_the_first_readings_of_equal_stretches(journal: Journal) -> None:
    journal.probes.add_to("P1", machine=None, from_at=0)
    for at in (3, 10, 15, 20, 29, 47, 50, 60, 61):
        journal.readings.add(Reading(1, at, humidity=float(at), temperature_c=None if at == 10 else 30.0))
    sampled = journal.readings.sampled(1, 5, 60, 10)
    # Stretches begin at 5, 15, 25, 35, 45 and 55; nothing is in the fourth, and 60 lies past the end.
    assert sampled.at.tolist() == [10, 15, 29, 47]
    assert sampled.humidity.tolist() == [10.0, 15.0, 29.0, 47.0]
    assert np.isnan(sampled.temperature_c[0])
    assert len(journal.readings.sampled(1, 60, 60, 10)) == 0
    assert len(journal.readings.sampled(2, 0, 60, 10)) == 0
