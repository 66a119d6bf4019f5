"""A batch as it is being planned: places, labels, dates, notes, and the records that come of it."""

from __future__ import annotations

import itertools
from dataclasses import replace
from datetime import date
from typing import Any

import pytest
from hatchbook.figures.egg_places import RowOfEggs, lay_out, place_of, places_of, spread
from hatchbook.figures.plan_records import programme_of, records_of, rows_of, store_draft
from hatchbook.figures.planning import (
    BatchDraft,
    NoteCode,
    PenRow,
    kept_days,
    label_taken,
    next_label,
    plan_draft,
)
from hatchbook.journal import Egg, Machine, PastBatch, Pen, Removal
from hatchbook.trade.codes import DutyKind, FindingCode, PhaseKind, RemovalReason, WeighPlan
from hatchbook.trade.programme import Programme
from hatchbook.trade.programmes import programme_named
from hypothesis import given
from hypothesis import strategies as st

DAY = 86_400
SET_AT = 1_777_917_600
NOW = SET_AT + 3600
Hatchery = Any


def hen(code: str = "hen") -> Programme:
    programme = programme_named(code)
    assert programme is not None
    return programme


def draft(hatchery: Hatchery, **fields: Any) -> BatchDraft:
    given = {"label": "26-50", "machine": hatchery.machine, "rows": (PenRow("Brook pen", 4, None, "B"),)}
    return BatchDraft(**{"programme": hen(), "set_at": SET_AT, **given, **fields})


def codes(hatchery: Hatchery, wanted: BatchDraft, now: int = NOW) -> list[NoteCode]:
    return [note.code for note in plan_draft(hatchery.journal, wanted, now).notes]


# ---------------------------------------------------------------- places and marks


@given(st.integers(0, 60), st.integers(0, 60))
def test_spread_marks_are_as_many_as_asked_and_nowhere_further_apart_than_needed(
    count: int, among: int
) -> None:
    chosen = sorted(spread(count, among))
    assert len(chosen) == min(count, among)
    assert all(0 <= position < among for position in chosen)
    gaps = [later - earlier for earlier, later in itertools.pairwise(chosen)]
    assert not gaps or max(gaps) - min(gaps) <= 1


def test_eggs_fill_the_tray_row_by_row_in_the_order_of_the_pens() -> None:
    eggs = lay_out(Machine("m", 2, 3), [RowOfEggs(2), RowOfEggs(3)], (), 0)
    assert [egg.place for egg in eggs] == [(1, 1, 1), (1, 1, 2), (1, 1, 3), (1, 2, 1), (1, 2, 2)]
    assert [egg.row for egg in eggs] == [0, 0, 1, 1, 1]
    assert [egg.number for egg in eggs] == [1, 2, 3, 4, 5]


def test_places_of_another_batch_are_left_out_and_what_finds_none_has_none() -> None:
    eggs = lay_out(Machine("m", 1, 4), [RowOfEggs(4)], {(1, 1, 1), (1, 1, 3)}, 0)
    assert [egg.place for egg in eggs] == [(1, 1, 2), (1, 1, 4), None, None]


def test_a_second_tray_is_filled_after_the_first() -> None:
    assert list(places_of(Machine("m", 1, 2, trays=2))) == [(1, 1, 1), (1, 1, 2), (2, 1, 1), (2, 1, 2)]


def known(number: int, column: int, **fields: Any) -> Egg:
    return Egg("b", number, 1, 1, column, **fields)


def test_eggs_that_lie_there_keep_their_places_and_new_ones_come_behind() -> None:
    there = (known(1, 3), known(2, 1))
    eggs = lay_out(Machine("m", 1, 6), [RowOfEggs(4, there)], (), 0)
    assert [(egg.number, egg.place) for egg in eggs] == [
        (1, (1, 1, 3)),
        (2, (1, 1, 1)),
        (3, (1, 1, 2)),
        (4, (1, 1, 4)),
    ]


def test_a_smaller_row_loses_eggs_without_records_first() -> None:
    there = (known(1, 1), known(2, 2), known(3, 3))
    eggs = lay_out(Machine("m", 1, 6), [RowOfEggs(2, there)], (), 0, {there[2].uid})
    assert [egg.number for egg in eggs] == [1, 3]


def test_eggs_move_only_where_another_machine_has_not_their_place() -> None:
    there = (known(1, 5), known(2, 1))
    eggs = lay_out(Machine("m", 1, 4), [RowOfEggs(2, there)], (), 0)
    assert [egg.place for egg in eggs] == [(1, 1, 2), (1, 1, 1)]


def test_marks_stay_while_their_number_is_right() -> None:
    there = (known(1, 1, marked=True), known(2, 2), known(3, 3))
    kept = lay_out(Machine("m", 1, 6), [RowOfEggs(3, there)], (), 1)
    assert [egg.marked for egg in kept] == [True, False, False]
    spread_anew = lay_out(Machine("m", 1, 6), [RowOfEggs(3, there)], (), 3)
    assert [egg.marked for egg in spread_anew] == [True, True, True]


# ---------------------------------------------------------------- labels


def test_the_first_label_is_the_season_and_one(hatchery: Hatchery) -> None:
    assert next_label(hatchery.journal, date(2026, 5, 25)) == "26-01"


def test_a_label_counts_on_over_past_batches_too(hatchery: Hatchery) -> None:
    hatchery.add_batch(label="26-04")
    hatchery.journal.past_batches.add(PastBatch("26-05", 2026, "hen", 10))
    assert next_label(hatchery.journal, date(2026, 5, 25)) == "26-06"
    assert next_label(hatchery.journal, date(2027, 1, 2)) == "27-01"


def test_a_label_follows_the_season_and_not_the_calendar(hatchery: Hatchery) -> None:
    hatchery.journal.settings.set_season_first_month(10)
    assert next_label(hatchery.journal, date(2026, 11, 1)) == "26-01"
    assert next_label(hatchery.journal, date(2027, 3, 1)) == "26-01"


@pytest.mark.parametrize(
    ("latest", "expected"),
    [("A7", "A8"), ("hens 009", "hens 010"), ("2026-3", "2026-4"), ("Spring", "26-01")],
)
def test_an_own_scheme_is_counted_on(hatchery: Hatchery, latest: str, expected: str) -> None:
    hatchery.add_batch(label=latest)
    assert next_label(hatchery.journal, date(2026, 5, 25)) == expected


def test_a_label_is_taken_by_another_batch_only(hatchery: Hatchery) -> None:
    batch = hatchery.add_batch(label="26-04")
    assert label_taken(hatchery.journal, "26-04", "other")
    assert not label_taken(hatchery.journal, "26-04", batch.uid)
    assert not label_taken(hatchery.journal, "26-05", "other")


# ---------------------------------------------------------------- the plan


def test_the_stops_of_a_hen_batch_are_its_dates(hatchery: Hatchery) -> None:
    plan = plan_draft(hatchery.journal, draft(hatchery), NOW)
    assert [(stop.day, [str(kind) for kind in stop.kinds]) for stop in plan.stops] == [
        (0.0, ["set", "weigh"]),
        (4.0, ["weigh"]),
        (7.0, ["candle", "weigh"]),
        (11.0, ["weigh"]),
        (14.0, ["candle", "weigh"]),
        (18.0, ["candle", "weigh"]),
        (19.0, ["lockdown"]),
        (21.0, ["hatch"]),
    ]
    assert plan.plan.hatch_due_at_s == SET_AT + 21 * DAY


def test_eggs_are_as_old_as_their_row_says(hatchery: Hatchery) -> None:
    rows = (
        PenRow("a", 3, date(2026, 4, 28)),
        PenRow("b", 2, date(2026, 4, 26)),
        PenRow("c", 2),
        PenRow("d", 0, date(2026, 1, 1)),
    )
    assert kept_days(rows, date(2026, 5, 4)) == (6, 8)
    assert kept_days((PenRow("c", 2),), date(2026, 5, 4)) is None


def test_a_machine_with_room_is_no_matter(hatchery: Hatchery) -> None:
    hatchery.add_batch(eggs=4)
    # Both go into lockdown on day 18.
    wanted = draft(hatchery, rows=(PenRow("Brook pen", 8),), programme=hen("hen_extension"))
    plan = plan_draft(hatchery.journal, wanted, NOW)
    assert plan.room is not None
    assert (plan.room.places, plan.room.free, plan.room.labels) == (12, 8, ("26-01",))
    assert plan.notes == ()


def test_a_machine_that_is_full_says_how_many_eggs_too_many(hatchery: Hatchery) -> None:
    hatchery.add_batch(eggs=4)
    wanted = draft(hatchery, rows=(PenRow("Brook pen", 10),), programme=hen("hen_extension"))
    (note,) = plan_draft(hatchery.journal, wanted, NOW).notes
    assert (note.code, note.eggs, note.places, note.label) == (NoteCode.MACHINE_FULL, 2, 8, "26-01")


def test_eggs_taken_out_leave_room_and_their_places(hatchery: Hatchery) -> None:
    batch = hatchery.add_batch(
        set_at=SET_AT - DAY,
        each_egg=[{"tray": 1, "tray_row": 1, "tray_column": column} for column in (1, 2, 3)],
    )
    eggs = hatchery.eggs(batch)
    hatchery.journal.removals.note(batch.uid, [Removal(eggs[1], SET_AT, RemovalReason.BROKEN)])
    hatchery.candle(batch, 0.5, {2: FindingCode.CLEAR})
    plan = plan_draft(hatchery.journal, draft(hatchery), NOW)
    assert plan.room is not None
    assert plan.room.free == 10
    assert plan.room.taken == {(1, 1, 2), (1, 1, 3)}
    assert plan.eggs[0].place == (1, 1, 1)


def test_only_batches_that_lie_there_at_once_take_room(hatchery: Hatchery) -> None:
    hatchery.add_batch(set_at=SET_AT - 21 * DAY, eggs=10)
    hatchery.add_batch(set_at=SET_AT - 10 * DAY, eggs=5)
    hatchery.add_batch(set_at=SET_AT + 15 * DAY, eggs=3)
    closed = hatchery.add_batch(set_at=SET_AT - 5 * DAY, eggs=10)
    hatchery.close(closed, 4)
    plan = plan_draft(hatchery.journal, draft(hatchery), NOW)
    assert plan.room is not None
    # The second is out on day 11 of ours, before the third comes.
    assert plan.room.most_eggs == 5


def test_a_lockdown_in_the_same_machine_reaches_the_new_eggs(hatchery: Hatchery) -> None:
    other = hatchery.add_batch(set_at=SET_AT - 16 * DAY)
    notes = plan_draft(hatchery.journal, draft(hatchery), NOW).notes
    (note,) = [note for note in notes if note.code is NoteCode.LOCKDOWN_REACHES_US]
    assert (note.label, note.from_at, note.until_at) == (other.label, SET_AT + 2 * DAY, SET_AT + 5 * DAY)


def test_our_lockdown_reaches_the_eggs_of_a_later_batch(hatchery: Hatchery) -> None:
    other = hatchery.add_batch(set_at=SET_AT + 10 * DAY)
    (note,) = plan_draft(hatchery.journal, draft(hatchery), NOW).notes
    assert (note.code, note.label) == (NoteCode.OUR_LOCKDOWN_REACHES, other.label)
    assert (note.from_at, note.until_at) == (SET_AT + 19 * DAY, SET_AT + 21 * DAY)


def test_batches_set_together_or_apart_do_not_clash(hatchery: Hatchery) -> None:
    hatchery.add_batch(set_at=SET_AT - 30 * DAY)
    elsewhere = hatchery.add_machine("Old one")
    hatchery.add_batch(set_at=SET_AT - 16 * DAY, machine=elsewhere.uid)
    assert codes(hatchery, draft(hatchery)) == []


def test_a_lockdown_spent_in_a_hatcher_does_not_reach(hatchery: Hatchery) -> None:
    hatcher = hatchery.add_machine("Hatcher")
    hatchery.add_batch(set_at=SET_AT - 16 * DAY, lockdown={"machine": hatcher.uid})
    assert codes(hatchery, draft(hatchery)) == []
    assert codes(hatchery, draft(hatchery, machine=hatcher)) == [NoteCode.LOCKDOWN_REACHES_US]


def test_the_batch_that_is_changed_does_not_stand_in_its_own_way(hatchery: Hatchery) -> None:
    batch = hatchery.add_batch(eggs=12)
    rows = rows_of(hatchery.journal, batch.uid)
    wanted = draft(hatchery, batch=batch, rows=rows, set_at=SET_AT + DAY)
    assert codes(hatchery, wanted) == []


@pytest.mark.parametrize(("days", "noted"), [(1.9, False), (2.1, True)])
def test_a_batch_set_long_ago_is_entered_afterwards(hatchery: Hatchery, days: float, noted: bool) -> None:
    now = SET_AT + round(days * DAY)
    assert (NoteCode.SET_LONG_AGO in codes(hatchery, draft(hatchery), now)) is noted


@pytest.mark.parametrize(("laid_on", "noted"), [(date(2026, 4, 24), False), (date(2026, 4, 23), True)])
def test_eggs_older_than_ten_days_are_noted(hatchery: Hatchery, laid_on: date, noted: bool) -> None:
    wanted = draft(hatchery, rows=(PenRow("Brook pen", 4, laid_on),))
    assert (NoteCode.EGGS_OLD in codes(hatchery, wanted)) is noted


def test_a_plan_without_a_machine_has_no_places(hatchery: Hatchery) -> None:
    plan = plan_draft(hatchery.journal, draft(hatchery, machine=None), NOW)
    assert plan.room is None
    assert plan.eggs == ()
    assert plan.stops


# ---------------------------------------------------------------- records


def test_a_batch_is_set_with_its_pens_and_the_eggs_in_their_places(hatchery: Hatchery) -> None:
    journal = hatchery.journal
    journal.pens.add(Pen("Lower yard", "hen"))
    rows = (PenRow("Brook pen", 3, date(2026, 4, 28), "B"), PenRow("lower YARD", 2, None, "L"))
    wanted = draft(hatchery, rows=rows, weigh_plan=WeighPlan.MARKED, marked=2, name="Both")
    change = store_draft(journal, wanted, plan_draft(journal, wanted, NOW), NOW)
    assert change.step.batch == wanted.uid
    batch = journal.batches.get(wanted.uid)
    assert (batch.early_until_day, batch.mid_until_day) == (7.0, 14.0)
    assert Programme.from_json(batch.programme) == hen()
    pens = {pen.name: pen.letter for pen in journal.pens.all()}
    assert pens == {"Brook pen": "B", "Lower yard": "L"}
    eggs = journal.eggs.of_batch(batch.uid)
    assert [place_of(egg) for egg in eggs] == [(1, 1, 1), (1, 1, 2), (1, 1, 3), (1, 1, 4), (1, 2, 1)]
    assert [egg.mark for egg in eggs] == ["B", "B", "B", "L", "L"]
    assert [egg.laid_on for egg in eggs] == ["2026-04-28"] * 3 + [None] * 2
    assert sum(egg.marked for egg in eggs) == 2
    assert [phase.kind for phase in journal.batches.phases(batch.uid)] == list(PhaseKind)


def test_the_first_duty_is_done_when_the_eggs_are_in(hatchery: Hatchery) -> None:
    for now, done_at in ((NOW, SET_AT), (SET_AT - DAY, None)):
        wanted = draft(hatchery)
        made = records_of(hatchery.journal, wanted, plan_draft(hatchery.journal, wanted, now), now)
        (duty,) = [duty for duty in made.duties if duty.kind is DutyKind.SET]
        assert duty.done_at == done_at
        assert all(duty.done_at is None for duty in made.duties if duty.kind is not DutyKind.SET)


def test_a_new_machine_comes_with_channels_and_a_probe_that_hangs_in_it(hatchery: Hatchery) -> None:
    journal = hatchery.journal
    machine = Machine("New one", 2, 6)
    wanted = draft(hatchery, machine=machine, machine_is_new=True, channels=3, probe_name="H1")
    store_draft(journal, wanted, plan_draft(journal, wanted, NOW), NOW)
    assert len(journal.machines.channels(machine.uid)) == 3
    assert [probe.name for probe in journal.probes.present_in(machine.uid, SET_AT)] == ["H1"]


def test_a_batch_can_not_be_stored_without_a_machine(hatchery: Hatchery) -> None:
    wanted = draft(hatchery, machine=None)
    with pytest.raises(ValueError, match="set in a machine"):
        store_draft(hatchery.journal, wanted, plan_draft(hatchery.journal, wanted, NOW), NOW)


def test_what_was_set_comes_back_as_it_was_entered(hatchery: Hatchery) -> None:
    journal = hatchery.journal
    rows = (PenRow("Brook pen", 3, date(2026, 4, 28), "B"), PenRow("", 2, None, ""))
    wanted = draft(hatchery, rows=rows)
    store_draft(journal, wanted, plan_draft(journal, wanted, NOW), NOW)
    back = rows_of(journal, wanted.uid)
    assert [replace(row, known=()) for row in back] == list(rows)
    assert programme_of(journal, journal.batches.get(wanted.uid)) == hen()


def test_a_changed_batch_gains_and_loses_eggs_and_keeps_the_rest(hatchery: Hatchery) -> None:
    journal = hatchery.journal
    wanted = draft(hatchery, rows=(PenRow("Brook pen", 3, None, "B"), PenRow("Lower yard", 2, None, "L")))
    store_draft(journal, wanted, plan_draft(journal, wanted, NOW), NOW)
    batch = journal.batches.get(wanted.uid)
    before = journal.eggs.of_batch(batch.uid)
    first, second = rows_of(journal, batch.uid)
    rows = (replace(first, eggs=2), replace(second, eggs=4, letter="Y"))
    changed = replace(wanted, batch=batch, rows=rows, note="two more came")
    store_draft(journal, changed, plan_draft(journal, changed, NOW), NOW)
    after = journal.eggs.of_batch(batch.uid)
    assert [egg.number for egg in after] == [1, 2, 4, 5, 6, 7]
    assert [egg.uid for egg in after[:2]] == [egg.uid for egg in before[:2]]
    assert [egg.mark for egg in after] == ["B", "B", "Y", "Y", "Y", "Y"]
    assert journal.batches.get(batch.uid).note == "two more came"
    journal.undo()
    assert journal.eggs.of_batch(batch.uid) == before


def test_bounds_of_stages_that_the_breeder_keeps_stay_unless_the_incubation_changes(
    hatchery: Hatchery,
) -> None:
    journal = hatchery.journal
    batch = hatchery.add_batch(early_until_day=6.0, mid_until_day=17.0)
    wanted = draft(hatchery, batch=batch, rows=rows_of(journal, batch.uid))
    made = records_of(journal, wanted, plan_draft(journal, wanted, NOW), NOW)
    assert (made.batch.early_until_day, made.batch.mid_until_day) == (6.0, 17.0)
    duck = programme_named("duck")
    assert duck is not None
    other = replace(wanted, programme=duck)
    made = records_of(journal, other, plan_draft(journal, other, NOW), NOW)
    assert made.batch.early_until_day == pytest.approx(7 / 21 * duck.incubation_days)


def test_a_lockdown_elsewhere_stays_elsewhere_when_the_plan_changes(hatchery: Hatchery) -> None:
    hatcher = hatchery.add_machine("Hatcher")
    batch = hatchery.add_batch(lockdown={"machine": hatcher.uid})
    wanted = draft(hatchery, batch=batch, rows=rows_of(hatchery.journal, batch.uid))
    made = records_of(hatchery.journal, wanted, plan_draft(hatchery.journal, wanted, NOW), NOW)
    assert [phase.machine for phase in made.phases] == [None, hatcher.uid]


def test_marks_of_single_eggs_are_not_lost(hatchery: Hatchery) -> None:
    journal = hatchery.journal
    batch = hatchery.add_batch(each_egg=[{"mark": "B1"}, {"mark": "B2"}])
    (row,) = rows_of(journal, batch.uid)
    assert row.letter == ""
    wanted = draft(hatchery, batch=batch, rows=(row,))
    store_draft(journal, wanted, plan_draft(journal, wanted, NOW), NOW)
    assert [egg.mark for egg in journal.eggs.of_batch(batch.uid)] == ["B1", "B2"]


def test_a_programme_that_can_not_be_read_is_put_together_from_what_the_batch_has(
    hatchery: Hatchery,
) -> None:
    batch = hatchery.add_batch(loss_low_percent=11.0, loss_high_percent=13.0, loss_day=18.0)
    programme = programme_of(hatchery.journal, batch)
    assert programme.lockdown_day == 18.0
    assert programme.phases[0].humidity_aim == 45.0
    assert (programme.loss_low_percent, programme.loss_day) == (11.0, 18.0)
    assert programme.sources == ()
