"""A batch as it is being planned: labels, dates and notes."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from hatchbook.figures.plan_records import (
    rows_of,
)
from hatchbook.figures.planning import (
    BatchDraft,
    NoteCode,
    PenRow,
    kept_days,
    label_taken,
    next_label,
    plan_draft,
)
from hatchbook.journal import PastBatch, Removal
from hatchbook.trade.codes import FindingCode, RemovalReason
from hatchbook.trade.programme import Programme
from hatchbook.trade.programmes import programme_named

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
