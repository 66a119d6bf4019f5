"""Setting a batch together with what is new in the holding, and changing it afterwards."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest
from hatchbook.journal import (
    Batch,
    BatchPhase,
    Duty,
    Egg,
    EggChanges,
    Journal,
    Machine,
    NewHolding,
    Pen,
    RecordRefusedError,
    change_batch,
    set_batch_with_holding,
)
from hatchbook.trade.codes import DutyKind, PhaseKind

DAY = 86_400
SET_AT = 1_776_708_000
Contents = Callable[[Journal], dict[str, list[tuple[Any, ...]]]]


def planned(machine: Machine, label: str = "26-01") -> SimpleNamespace:
    """A batch of three eggs from a new pen, with two phases and two duties."""
    pen = Pen("Brook pen", "hen", letter="B")
    batch = Batch(label, "hen", machine.uid, SET_AT, 21.0, "{}", 7.0, 14.0)
    band = (40.0, 45.0, 50.0, 37.5, 37.7, 37.8)
    return SimpleNamespace(
        batch=batch,
        pen=pen,
        phases=[
            BatchPhase(batch.uid, PhaseKind.INCUBATION, 0.0, 19.0, *band, 3),
            BatchPhase(batch.uid, PhaseKind.LOCKDOWN, 19.0, 21.0, *band),
        ],
        duties=[
            Duty(DutyKind.SET, SET_AT, batch.uid, 0.0, done_at=SET_AT),
            Duty(DutyKind.CANDLE, SET_AT + 7 * DAY, batch.uid, 7.0),
        ],
        eggs=[Egg(batch.uid, number, 1, 1, number, pen.uid, mark="B") for number in (1, 2, 3)],
    )


def test_everything_that_is_new_comes_in_one_step(journal: Journal) -> None:
    machine = Machine("Blue one", 2, 4)
    of = planned(machine)
    holding = NewHolding(machine, 2, "P1", SET_AT - DAY, (of.pen,))
    change = set_batch_with_holding(journal, of.batch, of.phases, of.duties, of.eggs, holding)
    assert change.step.code == "batch_set"
    assert change.step.details["eggs"] == 3
    kinds = {"machine", "channel", "probe", "probe_placement", "pen", "batch", "batch_phase", "duty", "egg"}
    assert change.kinds == kinds
    assert journal.batches.get(of.batch.uid) == of.batch
    assert [channel.position for channel in journal.machines.channels(machine.uid)] == [1, 2]
    assert [probe.name for probe in journal.probes.present_in(machine.uid, SET_AT)] == ["P1"]
    assert journal.eggs.of_batch(of.batch.uid) == of.eggs


def test_undo_takes_all_of_it_back_and_redo_brings_it_again(journal: Journal, contents: Contents) -> None:
    machine = Machine("Blue one", 2, 4)
    of = planned(machine)
    before = contents(journal)
    set_batch_with_holding(
        journal, of.batch, of.phases, of.duties, of.eggs, NewHolding(machine, 1, "P1", SET_AT, (of.pen,))
    )
    after = contents(journal)
    journal.undo()
    assert contents(journal) == before
    journal.redo()
    assert contents(journal) == after


def test_a_label_that_is_taken_leaves_nothing_of_the_holding_behind(
    filled: SimpleNamespace, contents: Contents
) -> None:
    machine = Machine("New one", 2, 4)
    of = planned(machine, label=filled.batch.label)
    before = contents(filled.journal)
    with pytest.raises(RecordRefusedError) as error:
        set_batch_with_holding(
            filled.journal, of.batch, of.phases, of.duties, of.eggs, NewHolding(machine, pens=(of.pen,))
        )
    assert error.value.fields["where"] == "batch.label"
    assert contents(filled.journal) == before


@pytest.fixture
def of(journal: Journal) -> SimpleNamespace:
    machine = Machine("Blue one", 2, 4)
    of = planned(machine)
    holding = NewHolding(machine, pens=(of.pen,))
    set_batch_with_holding(journal, of.batch, of.phases, of.duties, of.eggs, holding)
    return of


def test_eggs_change_places_come_and_go(journal: Journal, of: SimpleNamespace) -> None:
    one, two, three = of.eggs
    swapped = (
        replace(one, tray_column=2),
        replace(two, tray_column=1),
    )
    fourth = Egg(of.batch.uid, 4, 1, 1, 3, of.pen.uid)
    change_batch(journal, of.batch, of.phases, of.duties, EggChanges((fourth,), swapped, (three,)))
    eggs = {egg.number: egg.tray_column for egg in journal.eggs.of_batch(of.batch.uid)}
    assert eggs == {1: 2, 2: 1, 4: 3}


def test_a_change_is_taken_back_whole(journal: Journal, of: SimpleNamespace, contents: Contents) -> None:
    before = contents(journal)
    one, two, three = of.eggs
    pen = Pen("Lower yard", "hen", letter="L")
    change_batch(
        journal,
        replace(of.batch, set_at=SET_AT + DAY, note="later"),
        of.phases,
        of.duties,
        EggChanges((), (replace(one, tray_column=2, pen=pen.uid), replace(two, tray_column=1)), (three,)),
        NewHolding(pens=(pen,), changed_pens=(replace(of.pen, letter="X"),)),
    )
    assert journal.pens.get(of.pen.uid).letter == "X"
    journal.undo()
    assert contents(journal) == before


def test_the_duty_of_setting_moves_along_with_the_batch(journal: Journal, of: SimpleNamespace) -> None:
    moved = replace(of.batch, set_at=SET_AT + 3600)
    change_batch(journal, moved, of.phases, of.duties)
    (duty,) = [duty for duty in journal.duties.of_batch(of.batch.uid) if duty.kind is DutyKind.SET]
    assert (duty.due_at, duty.done_at) == (SET_AT + 3600, SET_AT + 3600)


def test_a_setting_that_was_ticked_later_keeps_its_tick(journal: Journal, of: SimpleNamespace) -> None:
    (duty,) = [duty for duty in journal.duties.of_batch(of.batch.uid) if duty.kind is DutyKind.SET]
    journal.duties.replace(replace(duty, done_at=SET_AT + 600))
    change_batch(journal, replace(of.batch, set_at=SET_AT + 60), of.phases, of.duties)
    assert journal.duties.get(duty.uid).done_at == SET_AT + 600


def test_an_egg_with_records_can_not_be_taken_away(filled: SimpleNamespace, contents: Contents) -> None:
    before = contents(filled.journal)
    with pytest.raises(RecordRefusedError) as error:
        change_batch(filled.journal, filled.batch, filled.phases, (), EggChanges(removed=(filled.eggs[0],)))
    assert error.value.fields["rule"] == "foreign_key"
    assert contents(filled.journal) == before


def test_uses_count_what_refers_to_the_holding(filled: SimpleNamespace) -> None:
    uses = filled.journal.uses
    machine = uses.of_machine(filled.machine.uid)
    assert (machine.batches, machine.events, machine.probes) == (1, 1, 1)
    assert uses.of_machine(filled.other_machine.uid).any is False
    probe = uses.of_probe(filled.probe.uid)
    assert (probe.batches, probe.readings) == (0, 41)
    assert uses.of_probe(filled.room_probe.uid).any is False
    pen = uses.of_pen(filled.pen.uid)
    assert (pen.batches, pen.eggs, pen.past_batches) == (1, 6, 0)
    bird = uses.of_bird(filled.member.uid)
    assert (bird.batches, bird.eggs) == (1, 1)


def test_a_machine_that_a_phase_is_spent_in_is_used(filled: SimpleNamespace) -> None:
    phase = replace(filled.phases[1], machine=filled.other_machine.uid)
    filled.journal.batches.replan(filled.batch, [filled.phases[0], phase], [])
    assert filled.journal.uses.of_machine(filled.other_machine.uid).batches == 1


def test_eggs_with_records_are_those_of_which_anything_was_noted(filled: SimpleNamespace) -> None:
    # Candled, weighed, hatched; candled, opened, an event; taken out. The others were only set.
    expected = {filled.eggs[index].uid for index in (0, 1, 4)}
    assert filled.journal.uses.eggs_with_records(filled.batch.uid) == expected


def test_a_channel_keeps_its_surface_and_volume(filled: SimpleNamespace) -> None:
    channel = filled.journal.machines.channels(filled.machine.uid)[0]
    change = filled.journal.machines.replace_channel(replace(channel, area_cm2=80.0, volume_ml=250.0))
    assert change.step.details == {"name": "Blue one"}
    assert filled.journal.machines.channels(filled.machine.uid)[0].area_cm2 == 80.0
