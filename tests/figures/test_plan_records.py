"""From a planned batch to its records, and from a stored batch back to what can be changed."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

import pytest
from hatchbook.figures.egg_places import place_of
from hatchbook.figures.plan_records import (
    has_its_phases,
    programme_of,
    records_of,
    rows_of,
    store_draft,
)
from hatchbook.figures.planning import BatchDraft, PenRow, plan_draft
from hatchbook.journal import Machine, Pen
from hatchbook.trade.codes import DutyKind, PhaseKind, WeighPlan
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


def test_phases_that_no_programme_can_have_are_told_of(hatchery: Hatchery) -> None:
    journal = hatchery.journal
    sound = hatchery.add_batch()
    assert has_its_phases(journal, sound, programme_of(journal, sound))
    odd = hatchery.add_batch(lockdown={"humidity_high": 100.0})
    programme = programme_of(journal, odd)
    assert programme.phases == hen().phases
    assert not has_its_phases(journal, odd, programme)


def test_a_batch_of_a_species_that_is_not_known_can_still_be_changed(hatchery: Hatchery) -> None:
    batch = hatchery.add_batch(
        species="guinea pig", loss_low_percent=11.0, loss_high_percent=13.0, loss_day=40.0
    )
    programme = programme_of(hatchery.journal, batch)
    assert programme.species == "guinea pig"
    assert programme.lockdown_day == 18.0
    # A day of the loss behind the hatch is none.
    assert programme.loss_day is None
