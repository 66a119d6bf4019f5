"""Every kind of record comes back as it went in, and each collection finds what is asked of it."""

from __future__ import annotations

import dataclasses
import typing
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from hatchbook.journal import (
    BreakOut,
    Duty,
    Egg,
    Event,
    Journal,
    Machine,
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


def test_the_filled_journal_has_every_kind_and_is_sound(
    filled: SimpleNamespace, every_kind: dict[str, type[Any]]
) -> None:
    report = filled.journal.check()
    assert report.problems == report.remarks == ()
    assert {kind for kind in every_kind if report.counts[kind] == 0} == set()


def test_every_table_has_its_record_class_with_the_same_columns(
    journal: Journal, every_kind: dict[str, type[Any]]
) -> None:
    store = journal._store
    tables = {name for (name,) in store.rows("SELECT name FROM sqlite_schema WHERE type = 'table'")}
    assert tables - {"history_step", "history_change"} == set(every_kind)
    for table, record_class in every_kind.items():
        columns = {row[1] for row in store.rows(f"PRAGMA table_info({table})")}
        assert columns == {field.name for field in dataclasses.fields(record_class)}, table


def test_every_table_is_strict_and_its_uids_are_unique(
    journal: Journal, every_kind: dict[str, type[Any]]
) -> None:
    strict = dict(journal._store.rows("SELECT name, strict FROM pragma_table_list WHERE type = 'table'"))
    assert {name for name, is_strict in strict.items() if not is_strict} <= {
        "sqlite_schema",
        "sqlite_temp_schema",
    }
    assert journal._store.one("PRAGMA foreign_keys") == (1,)


RECORDS = [
    "machine",
    "channel",
    "probe",
    "check",
    "pen",
    "member",
    "programme",
    "batch",
    "candling",
    "weighing",
]
RECORDS += ["mass", "event", "batch_event", "hatching", "removal", "break_out", "past_batch"]


@pytest.mark.parametrize("name", RECORDS)
def test_a_record_comes_back_equal_and_of_the_same_types(filled: SimpleNamespace, name: str) -> None:
    record = getattr(filled, name)
    (back,) = filled.journal._store.records(type(record), "uid = ?", (record.uid,))
    assert back == record
    for field in dataclasses.fields(record):
        stored, given = getattr(back, field.name), getattr(record, field.name)
        assert type(stored) is type(given), field.name


@pytest.mark.parametrize(
    "name", [name for name in RECORDS if name not in ("channel", "check", "member", "mass")]
)
def test_a_collection_gets_finds_and_lists_its_records(filled: SimpleNamespace, name: str) -> None:
    record = getattr(filled, name)
    collection = next(
        part for part in vars(filled.journal).values() if getattr(part, "record_class", None) is type(record)
    )
    assert collection.get(record.uid) == collection.find(record.uid) == record
    assert record in collection.all()
    assert collection.find("nowhere") is None
    with pytest.raises(RecordMissingError, match="no longer in the journal"):
        collection.get("nowhere")
    with pytest.raises(RecordMissingError):
        collection.replace(replace(record, uid="nowhere"))


def test_optional_values_may_be_missing(filled: SimpleNamespace) -> None:
    egg = Egg(filled.batch.uid, 7)
    filled.journal.eggs.add(egg)
    assert filled.journal.eggs.get(egg.uid) == egg
    assert {value for value in vars(egg).values() if value is None}


def test_uids_are_random_and_kept(filled: SimpleNamespace) -> None:
    uids = [Machine("M", 1, 1).uid for _ in range(1000)]
    assert len(set(uids)) == 1000
    assert all(len(uid) == 16 and int(uid, 16) >= 0 for uid in uids)
    assert filled.journal.machines.get(filled.machine.uid).uid == filled.machine.uid


# ------------------------------------------------------------------ machines, probes, pens


def test_a_machine_keeps_its_channels_and_gains_or_loses_the_last(filled: SimpleNamespace) -> None:
    machines = filled.journal.machines
    first = machines.channels(filled.machine.uid)
    assert [channel.position for channel in first] == [1, 2]
    machines.keep(replace(filled.machine, note="cellar"), channels=3)
    assert machines.channels(filled.machine.uid)[:2] == first
    machines.keep(machines.get(filled.machine.uid), channels=1)
    assert machines.channels(filled.machine.uid) == first[:1]
    machines.keep(machines.get(filled.machine.uid))
    assert machines.channels(filled.machine.uid) == first[:1]
    assert machines.get(filled.machine.uid).note == "cellar"
    assert filled.machine.places == 8


def test_a_machine_without_batches_goes_with_its_channels(filled: SimpleNamespace) -> None:
    filled.journal.machines.remove(filled.other_machine)
    assert filled.journal.machines.all() == [filled.machine]
    assert filled.journal.machines.channels(filled.other_machine.uid) == []


def test_a_probe_without_readings_goes_with_its_stays_and_checks(filled: SimpleNamespace) -> None:
    probes = filled.journal.probes
    probes.add_to("P2", machine=filled.machine.uid, from_at=SET_AT)
    probe = probes.by_name("P2")
    probes.add_check(replace(filled.check, probe=probe.uid, uid="c2"))
    probes.remove(probe)
    assert probes.by_name("P2") is None
    assert probes.placements(probe.uid) == probes.checks(probe.uid) == []


def test_a_pen_goes_with_its_birds_unless_eggs_came_from_it(filled: SimpleNamespace) -> None:
    pens = filled.journal.pens
    assert pens.by_name("North pen") == filled.pen
    assert pens.members(filled.pen.uid) == [filled.member]
    filled.journal.batches.delete(filled.batch)
    pens.remove(filled.pen)
    assert pens.all() == []


def stays(journal: Journal, probe: str) -> list[tuple[str | None, int, int | None]]:
    return [
        (placement.machine, placement.from_at - SET_AT, placement.until_at and placement.until_at - SET_AT)
        for placement in journal.probes.placements(probe)
    ]


def test_a_probe_hangs_in_one_place_at_a_time(filled: SimpleNamespace) -> None:
    journal, probe = filled.journal, filled.probe
    one, other = filled.machine.uid, filled.other_machine.uid
    journal.probes.move(probe, machine=other, at=SET_AT + 18 * DAY)
    assert stays(journal, probe.uid) == [(one, -DAY, 18 * DAY), (other, 18 * DAY, None)]
    journal.probes.move(probe, machine=None, at=SET_AT + 18 * DAY)  # the same move, corrected
    assert stays(journal, probe.uid) == [(one, -DAY, 18 * DAY), (None, 18 * DAY, None)]
    journal.probes.move(probe, machine=other, at=SET_AT + 5 * DAY)  # a move remembered later
    assert stays(journal, probe.uid) == [
        (one, -DAY, 5 * DAY),
        (other, 5 * DAY, 18 * DAY),
        (None, 18 * DAY, None),
    ]
    journal.probes.move(probe, machine=other, at=SET_AT - 3 * DAY)  # before it was known
    assert stays(journal, probe.uid)[0] == (other, -3 * DAY, -DAY)
    assert journal.check().sound


def test_where_a_probe_hung_and_which_hung_somewhere(filled: SimpleNamespace) -> None:
    journal, probe, machine = filled.journal, filled.probe, filled.machine.uid
    journal.probes.move(probe, machine=None, at=SET_AT + 10 * DAY)
    assert journal.probes.machine_of(probe.uid, SET_AT + 10 * DAY - 1) == machine
    assert journal.probes.machine_of(probe.uid, SET_AT + 10 * DAY) is None
    (stay,) = journal.probes.stays(machine, SET_AT, SET_AT + 21 * DAY)
    assert (stay.probe, stay.start_at, stay.end_at) == (probe, SET_AT, SET_AT + 10 * DAY)
    assert [found.name for found in journal.probes.present_in(None, SET_AT)] == ["Room"]
    assert {found.name for found in journal.probes.present_in(None, SET_AT + 10 * DAY)} == {"Room", "P1"}
    assert journal.probes.checks(probe.uid) == [filled.check]
    assert journal.probes.next_number() == 3


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
    assert [record.egg for record in journal.hatchings.of_batch(filled.batch.uid)] == [
        filled.eggs[0].uid,
        *eggs,
    ]
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


# ------------------------------------------------------------------ settings


def test_settings_of_the_journal(journal: Journal) -> None:
    assert (journal.settings.season_first_month, journal.settings.is_demo) == (1, False)
    journal.settings.set_season_first_month(11)
    journal.settings.set_zone("America/St_Johns")
    journal.settings.mark_as_demo()
    assert journal.settings.season_first_month == 11
    assert journal.zone.key == "America/St_Johns"
    assert journal.settings.is_demo
    with pytest.raises(ValueError, match="1 to 12"):
        journal.settings.set_season_first_month(13)


def test_every_mutating_method_says_what_it_returns(journal: Journal) -> None:
    for part in vars(journal).values():
        if hasattr(part, "record_class"):
            for name in ("add", "replace", "remove"):
                assert typing.get_type_hints(getattr(part, name))["return"].__name__ == "Change"
