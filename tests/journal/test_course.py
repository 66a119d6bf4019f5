"""The course of a batch: its plan, its eggs and what is seen of them, its duties, events and readings."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from hatchbook.journal import (
    BreakOut,
    Candling,
    Duty,
    Event,
    Journal,
    NothingToUndoError,
    Pen,
    Reading,
    RecordMissingError,
    Removal,
    plan_records,
)
from hatchbook.trade.codes import (
    BreakOutResult,
    BreakOutSign,
    DutyKind,
    EventKind,
    FindingCode,
    HatchMark,
    Malposition,
    PhaseKind,
    RemovalReason,
)

DAY = 86_400
SET_AT = 1_776_708_000


# ------------------------------------------------------------------ batches


def test_a_batch_is_found_by_label_and_by_the_machine_it_lies_in(filled: SimpleNamespace) -> None:
    batches, machine = filled.journal.batches, filled.machine.uid
    assert batches.by_label("2026-03") == filled.batch
    assert batches.by_label("2026-04") is None
    assert batches.phases(filled.batch.uid) == filled.phases
    end = SET_AT + 21 * DAY
    assert filled.batch.hatch_due_at == end
    assert batches.in_machine(machine, end - 1, end + DAY) == [filled.batch]
    assert batches.in_machine(machine, end, end + DAY) == []
    assert batches.in_machine(machine, SET_AT - DAY, SET_AT) == []
    batches.close(filled.batch, SET_AT + 5 * DAY)
    assert batches.in_machine(machine, SET_AT + 6 * DAY, end) == []
    assert batches.get(filled.batch.uid).closed_at == SET_AT + 5 * DAY
    batches.reopen(batches.get(filled.batch.uid))
    assert batches.get(filled.batch.uid) == filled.batch


def test_a_batch_is_never_closed_before_it_was_set(filled: SimpleNamespace) -> None:
    filled.journal.batches.close(filled.batch, SET_AT - DAY)
    assert filled.journal.batches.get(filled.batch.uid).closed_at == SET_AT


def test_a_new_plan_keeps_the_duties_already_done_and_those_with_a_text(filled: SimpleNamespace) -> None:
    journal, batch = filled.journal, filled.batch
    journal.duties.tick(filled.duties[0], SET_AT + DAY)
    own = Duty(DutyKind.OTHER, SET_AT + 3 * DAY, batch.uid, text="look at the pump")
    journal.duties.add(own)
    phases = [
        replace(filled.phases[0], to_day=17.0, uid="p1"),
        replace(filled.phases[1], from_day=17.0, uid="p2"),
    ]
    duties = [
        Duty(DutyKind.TURN, SET_AT + DAY + 60, batch.uid, 1.0, 1, 2),
        Duty(DutyKind.CANDLE, SET_AT + 8 * DAY, batch.uid, 8.0),
    ]
    journal.batches.replan(replace(batch, incubation_days=20.0), phases, duties)
    assert journal.batches.phases(batch.uid) == phases
    kept = journal.duties.of_batch(batch.uid)
    assert [(duty.kind, duty.day) for duty in kept] == [
        (DutyKind.TURN, 1.0),
        (DutyKind.OTHER, None),
        (DutyKind.CANDLE, 8.0),
    ]
    assert kept[0].done_at == SET_AT + DAY
    assert kept[1] == own


def test_deleting_a_batch_takes_all_that_belongs_to_it_and_no_readings(filled: SimpleNamespace) -> None:
    journal = filled.journal
    about_an_egg = Event(SET_AT, EventKind.NOTE, filled.machine.uid, egg=filled.eggs[2].uid, text="fell over")
    journal.events.add(about_an_egg)
    readings = journal.check().counts["reading"]
    journal.batches.delete(filled.batch)
    counts = journal.check().counts
    kinds = {"batch", "batch_phase", "duty", "egg", "candling", "finding", "weighing", "egg_mass"}
    kinds |= {"hatching", "break_out", "break_out_mark", "removal"}
    assert {kind for kind in kinds if counts[kind]} == set()
    assert counts["reading"] == readings
    assert journal.events.all() == [filled.event]
    assert journal.check().sound


def test_a_plan_becomes_phases_and_duties(filled: SimpleNamespace) -> None:
    targets = SimpleNamespace(
        from_day=0.0,
        to_day=18.0,
        humidity_low=40.0,
        humidity_aim=45.0,
        humidity_high=50.0,
        temperature_low_c=37.2,
        temperature_aim_c=37.5,
        temperature_high_c=37.8,
        turns_per_day=3,
    )
    plan: Any = SimpleNamespace(
        phases=[SimpleNamespace(kind=PhaseKind.INCUBATION, targets=targets)],
        duties=[SimpleNamespace(kind=DutyKind.TURN, at_s=SET_AT + 9, day=1.0, ordinal=2, of=3)],
    )
    (phase,), (duty,) = plan_records(filled.batch, plan)
    assert (phase.batch, phase.kind, phase.to_day, phase.turns_per_day) == (
        filled.batch.uid,
        PhaseKind.INCUBATION,
        18.0,
        3,
    )
    assert (duty.kind, duty.due_at, duty.batch, duty.day, duty.ordinal, duty.of) == (
        DutyKind.TURN,
        SET_AT + 9,
        filled.batch.uid,
        1.0,
        2,
        3,
    )


# ------------------------------------------------------------------ eggs and what is seen of them


def places(journal: Journal, batch: str) -> dict[int, tuple[int | None, int | None]]:
    return {egg.number: (egg.tray_row, egg.tray_column) for egg in journal.eggs.of_batch(batch)}


def test_an_egg_moves_to_a_free_place_and_changes_places_with_another(filled: SimpleNamespace) -> None:
    journal, eggs = filled.journal, filled.eggs
    journal.eggs.move(eggs[0], 1, 2, 4)
    assert places(journal, filled.batch.uid)[1] == (2, 4)
    journal.eggs.move(journal.eggs.get(eggs[0].uid), 1, 1, 2)
    assert places(journal, filled.batch.uid) == {
        1: (1, 2),
        2: (2, 4),
        3: (1, 3),
        4: (1, 4),
        5: (2, 1),
        6: (2, 2),
    }
    before = journal.history.steps()
    change = journal.eggs.move(journal.eggs.get(eggs[0].uid), 1, 1, 2)
    assert change.kinds == frozenset()
    assert journal.history.steps() == before


def test_a_second_look_at_an_egg_replaces_the_first_and_keeps_its_note(filled: SimpleNamespace) -> None:
    candlings, egg = filled.journal.candlings, filled.eggs[2].uid
    candlings.note_finding(filled.candling, egg, FindingCode.UNSURE, SET_AT + 7 * DAY + 90, "shell is dark")
    candlings.note_finding(filled.candling, egg, FindingCode.ALIVE, SET_AT + 7 * DAY + 99)
    (finding,) = [found for found in candlings.findings_of(filled.candling.uid) if found.egg == egg]
    assert (finding.code, finding.at, finding.note) == (
        FindingCode.ALIVE,
        SET_AT + 7 * DAY + 99,
        "shell is dark",
    )
    assert len(candlings.findings(filled.batch.uid)) == 3
    assert candlings.of_batch(filled.batch.uid) == [filled.candling]
    candlings.remove_with_findings(filled.candling)
    assert candlings.all() == candlings.findings(filled.batch.uid) == []


def test_weighings_with_their_masses(filled: SimpleNamespace) -> None:
    weighings = filled.journal.weighings
    assert weighings.of_batch(filled.batch.uid) == [filled.weighing]
    assert weighings.masses(filled.batch.uid) == weighings.masses_of(filled.weighing.uid) == [filled.mass]
    weighings.remove_with_masses(filled.weighing)
    assert weighings.all() == weighings.masses(filled.batch.uid) == []


def test_several_eggs_take_one_hatch_mark_in_one_step(filled: SimpleNamespace) -> None:
    journal = filled.journal
    eggs = [egg.uid for egg in filled.eggs[2:4]]
    change = journal.hatchings.note_marks(filled.batch.uid, eggs, HatchMark.HATCHED, SET_AT + 21 * DAY)
    assert change.step.details == {"count": 2, "mark": "hatched"}
    marked = [record.egg for record in journal.hatchings.of_batch(filled.batch.uid)]
    assert marked[0] == filled.eggs[0].uid
    assert set(marked[1:]) == set(eggs)
    journal.undo()
    assert journal.hatchings.of_batch(filled.batch.uid) == [filled.hatching]


def test_a_removed_egg_belongs_to_its_batchs_history(filled: SimpleNamespace) -> None:
    change = filled.journal.removals.add(Removal(filled.eggs[5].uid, SET_AT, RemovalReason.TAKEN_OUT_ALIVE))
    assert change.step.batch == filled.batch.uid
    assert len(filled.journal.removals.of_batch(filled.batch.uid)) == 2


def test_a_break_out_replaces_the_earlier_one_of_its_egg(filled: SimpleNamespace) -> None:
    break_outs, egg = filled.journal.break_outs, filled.eggs[1].uid
    assert [mark.code for mark in break_outs.marks(filled.break_out.uid)] == ["II", "wet"]
    again = BreakOut(egg, SET_AT + 22 * DAY, BreakOutResult.PIPPED_DEAD)
    break_outs.keep(
        again,
        malpositions=[Malposition.VI_BEAK_OVER_RIGHT_WING, Malposition.I_HEAD_BETWEEN_THIGHS],
        signs=[BreakOutSign.YOLK_OUTSIDE],
    )
    assert break_outs.of_batch(filled.batch.uid) == [again]
    assert [mark.code for mark in break_outs.marks(again.uid)] == ["I", "VI", "yolk_outside"]
    break_outs.remove_with_marks(again)
    assert break_outs.all() == break_outs.marks(again.uid) == []


# ------------------------------------------------------------------ duties, events, readings


def test_a_ticked_turning_becomes_a_line_of_the_journal_and_unticking_takes_it_back(
    filled: SimpleNamespace,
) -> None:
    journal, duty = filled.journal, filled.duties[0]
    journal.duties.tick(duty, SET_AT + DAY + 60)
    (turned,) = [event for event in journal.events.all() if event.kind is EventKind.TURNED]
    assert (turned.at, turned.batch) == (SET_AT + DAY + 60, filled.batch.uid)
    journal.duties.untick(journal.duties.get(duty.uid))
    assert journal.duties.get(duty.uid) == duty
    assert turned not in journal.events.all()
    journal.duties.tick(filled.duties[2], SET_AT + 7 * DAY)
    assert [event.kind for event in journal.events.all()].count(EventKind.TURNED) == 0


def test_duties_between_two_instants_include_the_first_and_not_the_last(filled: SimpleNamespace) -> None:
    one, two, three = filled.duties
    assert filled.journal.duties.between(one.due_at, three.due_at) == [one, two]
    assert filled.journal.duties.of_batch(filled.batch.uid) == [one, two, three]


def test_a_batch_sees_its_own_events_and_those_of_its_machine_while_it_lies_there(
    filled: SimpleNamespace,
) -> None:
    events, machine = filled.journal.events, filled.machine.uid
    elsewhere = Event(SET_AT + DAY, EventKind.VENT, filled.other_machine.uid, vent=0.5)
    earlier = Event(SET_AT - 1, EventKind.VENT, machine, vent=0.2)
    events.add(elsewhere)
    events.add(earlier)
    seen = events.of_batch(filled.batch.uid, [machine], SET_AT, SET_AT + 21 * DAY)
    assert set(seen) == {filled.event, filled.batch_event}
    assert events.of_batch(filled.batch.uid, [], SET_AT, SET_AT + DAY) == [filled.batch_event]
    assert events.of_machine(machine, SET_AT - 1, SET_AT + DAY) == [earlier]
    assert events.last_before(machine, EventKind.VENT, SET_AT) == earlier
    assert events.last_before(machine, EventKind.VENT, SET_AT - 1) is None


def test_readings_come_as_arrays_in_time_order(filled: SimpleNamespace) -> None:
    readings, number = filled.journal.readings, filled.probe.number
    series = readings.series(number, SET_AT, SET_AT + 3 * DAY)
    assert len(series) == 41
    assert (series.at.dtype, series.temperature_c.dtype, series.humidity.dtype) == (np.int64, float, float)
    assert np.all(np.diff(series.at) > 0)
    assert np.isnan(series.temperature_c).sum() == 8
    assert (series.at[0], series.humidity[0]) == (SET_AT + 3600, 46.0)
    assert len(readings.series(number, SET_AT, SET_AT)) == 0
    assert readings.count(number, SET_AT, SET_AT + 3 * DAY) == 41
    assert readings.by_hand(number, SET_AT, SET_AT + 3 * DAY) == [filled.reading]
    assert readings.last(number).at == SET_AT + 2 * DAY + 39 * 60
    assert readings.last(number, SET_AT + DAY) == filled.reading
    assert readings.last(number, SET_AT) is None
    with pytest.raises(RecordMissingError):
        readings.find("a uid")


def test_a_reading_is_corrected_in_value_and_in_time(filled: SimpleNamespace) -> None:
    readings, old = filled.journal.readings, filled.reading
    better = replace(old, humidity=47.0)
    readings.move(old, better)
    assert readings.at(old.probe, old.at) == better
    later = replace(better, at=old.at + 600)
    readings.move(better, later)
    assert readings.at(old.probe, old.at) is None
    assert readings.at(old.probe, later.at) == later
    filled.journal.undo()
    filled.journal.undo()
    assert readings.at(old.probe, old.at) == old
    with pytest.raises(RecordMissingError):
        readings.replace(Reading(old.probe, old.at + 1, humidity=50.0))


def test_the_time_the_lid_was_open_is_kept_with_the_finding_and_goes_with_it(filled: SimpleNamespace) -> None:
    journal, at = filled.journal, SET_AT + 14 * DAY
    candling, (one, two, *_) = Candling(filled.batch.uid, at), filled.eggs
    lid = Event(at - 60, EventKind.LID, machine=filled.batch.machine, ends_at=at)
    events = journal.events.all()
    journal.candlings.note_finding(candling, one.uid, FindingCode.ALIVE, at, lid=lid)
    longer = replace(lid, ends_at=at + 20)
    journal.candlings.note_finding(candling, two.uid, FindingCode.CLEAR, at + 20, lid=longer)
    assert set(journal.events.all()) - set(events) == {longer}
    journal.undo()
    assert set(journal.events.all()) - set(events) == {lid}
    journal.undo()
    assert journal.events.all() == events
    assert journal.candlings.find(candling.uid) is None


def test_the_end_of_a_candling_ticks_the_duty_that_asked_for_it(filled: SimpleNamespace) -> None:
    journal, batch = filled.journal, filled.batch
    due = Duty(DutyKind.CANDLE, SET_AT + 14 * DAY, batch.uid, 14.0)
    journal.duties.add(due)
    assert journal.duties.candle_due(batch.uid, SET_AT + 11 * DAY) is None
    assert journal.duties.candle_due(batch.uid, SET_AT + 15 * DAY) == due
    at = SET_AT + 14 * DAY + 7200
    candling = Candling(batch.uid, at)
    journal.candlings.note_finding(candling, filled.eggs[0].uid, FindingCode.ALIVE, at)
    journal.candlings.end(candling, at + 600, due)
    assert journal.candlings.get(candling.uid).ended_at == at + 600
    assert journal.duties.get(due.uid).done_at == at + 600
    assert journal.duties.candle_due(batch.uid, at) is None


def test_a_step_is_taken_back_only_while_it_is_the_latest(filled: SimpleNamespace) -> None:
    journal = filled.journal
    change = journal.pens.add(Pen("South pen"))
    journal.pens.add(Pen("West pen"))
    with pytest.raises(NothingToUndoError):
        journal.history.undo(only=change.step.number)
    assert {"South pen", "West pen"} <= {pen.name for pen in journal.pens.all()}
    journal.undo()
    journal.history.undo(only=change.step.number)
    assert "South pen" not in {pen.name for pen in journal.pens.all()}
