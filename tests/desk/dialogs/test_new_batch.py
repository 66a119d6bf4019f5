"""A new batch by keyboard alone, from an empty journal on; leaving, coming back, undoing."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.new_batch import NewBatchDialog
from hatchbook.figures.egg_places import place_of
from hatchbook.journal import Journal, OwnProgramme
from hatchbook.trade.codes import DutyKind, EggSource, MachineKind, WeighPlan
from hatchbook.trade.programme import STILL_AIR_RISE_C
from hatchbook.trade.programmes import programme_named
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot
from tests.desk.conftest import Clock, Desk
from tests.desk.dialogs.new_batch_kit import (
    ENTER,
    ESCAPE,
    TAB,
    ZONE,
    alt,
    contents,
    empty_context,
    focused,
    is_gone,
    opened,
    press,
    tab_to,
)

#: Thu 14 May 2026, 14:02 in Lisbon.
NOW = int(datetime(2026, 5, 14, 14, 2, tzinfo=ZoneInfo(ZONE)).timestamp())
SET_AT = int(datetime(2026, 5, 14, 14, 0, tzinfo=ZoneInfo(ZONE)).timestamp())
DAY = 86_400


@pytest.fixture
def context(qtbot: QtBot, tmp_path: Path) -> Iterator[DeskContext]:
    with empty_context(tmp_path, Clock(NOW)) as context:
        yield context


@pytest.fixture
def journal(context: DeskContext) -> Journal:
    return context.door.journal


def enter_machine(dialog: NewBatchDialog) -> None:
    """A machine of 3 rows of 5, with three channels and a hygrometer."""
    fields = dialog.entry.form.machine_fields
    tab_to(fields.name)
    press("Kitchen machine", TAB, TAB, "3", TAB, "5", TAB, TAB, "3", TAB, "240", TAB, "H1")


def enter_eggs(dialog: NewBatchDialog) -> None:
    """Eight eggs of one new pen and four of another."""
    tab_to(dialog.entry.pen_table)
    press("Brook pen", TAB, "8", TAB, "8 May", TAB, TAB, "Lower yard", TAB, "4", TAB, "10", TAB, TAB)


def test_the_keyboard_alone_sets_a_whole_batch_in_an_empty_journal(
    qtbot: QtBot, context: DeskContext, journal: Journal
) -> None:
    dialog = opened(qtbot, context)
    assert focused() is dialog.entry.form.species
    tab_to(dialog.entry.form.name)
    press("First hens", TAB, "Sulmtaler")
    enter_machine(dialog)
    enter_eggs(dialog)
    press(TAB)  # out of the row that asks for one more pen
    tab_to(dialog.entry.targets.marked)
    press("4", TAB)
    press(ENTER)
    assert is_gone(dialog)

    (batch,) = journal.batches.all()
    assert (batch.label, batch.name, batch.breed, batch.species) == (
        "26-01",
        "First hens",
        "Sulmtaler",
        "hen",
    )
    assert batch.set_at == SET_AT
    assert (batch.weigh_plan, batch.source) == (WeighPlan.MARKED, EggSource.OWN)
    assert (batch.loss_low_percent, batch.loss_high_percent, batch.loss_day) == (12.0, 13.0, 18.0)
    assert context.batch == batch.uid

    machine = journal.machines.get(batch.machine)
    assert (machine.name, machine.tray_rows, machine.tray_columns) == ("Kitchen machine", 3, 5)
    assert (machine.trays, machine.altitude_m, machine.kind) == (1, 240.0, MachineKind.FORCED_AIR)
    assert len(journal.machines.channels(machine.uid)) == 3
    assert [probe.name for probe in journal.probes.present_in(machine.uid, NOW)] == ["H1"]

    pens = {pen.uid: (pen.name, pen.letter, pen.species) for pen in journal.pens.all()}
    assert sorted(pens.values()) == [("Brook pen", "B", "hen"), ("Lower yard", "L", "hen")]
    eggs = journal.eggs.of_batch(batch.uid)
    assert [pens[egg.pen or ""][1] for egg in eggs] == ["B"] * 8 + ["L"] * 4
    assert [egg.mark for egg in eggs] == ["B"] * 8 + ["L"] * 4
    assert {egg.laid_on for egg in eggs} == {"2026-05-08", "2026-05-10"}
    assert [place_of(egg) for egg in eggs] == [(1, 1 + n // 5, 1 + n % 5) for n in range(12)]
    assert [egg.number for egg in eggs if egg.marked] == [2, 5, 8, 11]

    lockdown = journal.batches.phases(batch.uid)[1]
    assert (lockdown.from_day, lockdown.humidity_aim) == (19.0, 65.0)
    kinds = [duty.kind for duty in journal.duties.of_batch(batch.uid) if duty.kind is not DutyKind.TURN]
    assert kinds.count(DutyKind.CANDLE) == 3
    assert kinds.count(DutyKind.HATCH) == 1


def test_undo_takes_all_of_it_back_in_one_step(qtbot: QtBot, context: DeskContext, journal: Journal) -> None:
    before = contents(journal)
    dialog = opened(qtbot, context)
    enter_machine(dialog)
    enter_eggs(dialog)
    press(TAB)
    dialog.set.click()
    after = contents(journal)
    assert after["egg"] == 12
    assert after["machine"] == after["probe"] == after["probe_placement"] == after["batch"] == 1
    context.door.undo()
    assert contents(journal) == before
    context.door.redo()
    assert contents(journal) == after


def test_leaving_stores_nothing_asks_nothing_and_loses_nothing(
    qtbot: QtBot, context: DeskContext, journal: Journal
) -> None:
    before = contents(journal)
    dialog = opened(qtbot, context)
    tab_to(dialog.entry.form.name)
    press("First hens")
    enter_machine(dialog)
    enter_eggs(dialog)
    press(ESCAPE)
    press(ESCAPE)
    assert is_gone(dialog)
    assert contents(journal) == before

    again = opened(qtbot, context)
    assert again.entry.form.name.text() == "First hens"
    assert again.entry.form.machine_fields.name.text() == "Kitchen machine"
    assert again.entry.form.machine_fields.columns.value() == 5
    assert [row[:2] for row in again.entry.pens.texts()] == [["Brook pen", "8"], ["Lower yard", "4"]]
    assert any("here again" in text for text in again.entry.notes.texts())
    again.set.click()
    assert contents(journal)["egg"] == 12

    # What was set is not offered a second time.
    third = opened(qtbot, context)
    assert third.entry.form.name.text() == ""
    assert third.entry.form.label.text() == "26-02"
    third.reject()


def test_a_dialog_left_as_it_was_opened_keeps_nothing(qtbot: QtBot, context: DeskContext) -> None:
    opened(qtbot, context).reject()
    again = opened(qtbot, context)
    assert again.entry.notes.texts() == []
    again.reject()


@pytest.mark.parametrize(
    ("letter", "field"),
    [("s", "species"), ("p", "programme"), ("m", "label"), ("n", "name"), ("b", "breed"), ("c", "machine")],
)
def test_labels_lead_to_their_fields(qtbot: QtBot, context: DeskContext, letter: str, field: str) -> None:
    dialog = opened(qtbot, context)
    tab_to(dialog.entry.pen_table)
    alt(letter)
    assert focused() is getattr(dialog.entry.form, field)
    dialog.reject()


def test_no_two_labels_share_a_letter(qtbot: QtBot, context: DeskContext) -> None:
    from PySide6.QtWidgets import QLabel

    dialog = opened(qtbot, context)
    texts = [label.text() for label in dialog.findChildren(QLabel) if label.buddy() is not None]
    letters = [text[text.index("&") + 1].lower() for text in texts if "&" in text]
    assert len(letters) == len(texts) >= 14
    assert len(letters) == len(set(letters))
    dialog.reject()


# ---------------------------------------------------------------- what follows from what


def test_the_plan_follows_the_day_of_setting(qtbot: QtBot, context: DeskContext) -> None:
    dialog = opened(qtbot, context)
    lines = dialog.panel.plan.plan.lines()
    assert [line.date for line in lines][-1] == "Thu 4 Jun"
    dialog.entry.form.timing.at.set_instant(SET_AT + 2 * DAY)
    dialog.entry.form.timing.at.edited.emit()
    lines = dialog.panel.plan.plan.lines()
    assert [line.date for line in lines][-1] == "Sat 6 Jun"
    assert dialog.entry.form.timing.other.text().startswith("Sat 6 Jun 2026")
    dialog.reject()


def test_planned_back_the_hatch_stays_and_the_setting_moves_with_the_species(
    qtbot: QtBot, context: DeskContext
) -> None:
    dialog = opened(qtbot, context)
    form = dialog.entry.form
    tab_to(form.timing.way.segments()[0])
    press(Qt.Key.Key_Right)
    assert form.timing.plans_back
    assert form.timing.set_at() == SET_AT
    form.species.setCurrentIndex(form.species.findData("duck"))
    assert form.timing.at.instant() == SET_AT + 21 * DAY
    assert form.timing.set_at() == SET_AT - 7 * DAY
    assert form.timing.other.text().startswith("Thu 7 May 2026")
    press(Qt.Key.Key_Left)
    assert form.timing.at.instant() == SET_AT - 7 * DAY
    dialog.reject()


def test_everything_follows_the_species(qtbot: QtBot, context: DeskContext) -> None:
    dialog = opened(qtbot, context)
    form, targets = dialog.entry.form, dialog.entry.targets
    form.species.setFocus()
    press("Du")
    assert form.species.currentData() == "duck"
    duck = programme_named("duck")
    assert duck is not None
    assert targets.phases.phases() == duck.phases
    assert targets.candle.text() == ", ".join(f"{day:g}" for day in duck.candle_days)
    assert targets.loss_high.field.text() == "15"
    assert dialog.panel.plan.plan.lines()[-1].stop.day == 28.0
    dialog.reject()


def test_programmes_of_a_species_stand_side_by_side_with_the_breeders_own(
    qtbot: QtBot, context: DeskContext, journal: Journal
) -> None:
    from dataclasses import replace

    hen = programme_named("hen")
    assert hen is not None
    mine = replace(hen, code="mine", title="As my aunt does it", sources=())
    journal.programmes.add(OwnProgramme("mine", "hen", mine.title, mine.to_json()))
    journal.programmes.add(OwnProgramme("lost", "hen", "Torn page", '{"no": "programme"}'))
    dialog = opened(qtbot, context)
    programme = dialog.entry.form.programme
    texts = [programme.itemText(row) for row in range(programme.count())]
    assert [text.split(",")[0] for text in texts] == [
        "Hen",
        "Hen",
        "As my aunt does it",
        "Torn page: cannot be read",
    ]
    programme.setCurrentIndex(1)
    assert dialog.entry.targets.phases.phases()[0].humidity_aim == 59.0
    assert not programme.model().flags(programme.model().index(3, 0)) & Qt.ItemFlag.ItemIsEnabled
    dialog.reject()


def test_where_a_programme_comes_from_can_be_read(qtbot: QtBot, context: DeskContext) -> None:
    from hatchbook.desk.dialogs.programme_sources import ProgrammeSourcesDialog
    from hatchbook.desk.widgets.labels import Label

    dialog = opened(qtbot, context)
    dialog.entry.targets.sources.click()
    sources = dialog.entry.findChild(ProgrammeSourcesDialog)
    assert sources is not None
    texts = [label.text() for label in sources.findChildren(Label)]
    assert any("Mississippi State University" in text for text in texts)
    assert "common practice, no source" in texts
    sources.reject()
    dialog.reject()


def test_still_air_is_kept_warmer_and_the_breeders_changes_stay(qtbot: QtBot, context: DeskContext) -> None:
    dialog = opened(qtbot, context)
    fields, phases = dialog.entry.form.machine_fields, dialog.entry.targets.phases
    before = phases.phases()
    phases.setData(phases.index(0, 3), "47")
    fields.kind.setCurrentIndex(fields.kind.findData(MachineKind.STILL_AIR))
    after = phases.phases()
    assert after[0].temperature_aim_c == pytest.approx(before[0].temperature_aim_c + STILL_AIR_RISE_C)
    assert after[0].humidity_aim == 47.0
    assert dialog.entry.targets.changed_line.text() == "changed by you: humidity"
    fields.kind.setCurrentIndex(fields.kind.findData(MachineKind.FORCED_AIR))
    phases.setData(phases.index(0, 3), "45")
    assert dialog.entry.targets.changed_line.text().startswith("as in Hen, common practice")
    dialog.reject()


def test_a_changed_programme_is_stored_with_the_batch(
    qtbot: QtBot, context: DeskContext, journal: Journal
) -> None:
    dialog = opened(qtbot, context)
    enter_machine(dialog)
    enter_eggs(dialog)
    press(TAB)
    tab_to(dialog.entry.targets.phase_table)
    press(Qt.Key.Key_Right, Qt.Key.Key_F2, "18", TAB, "42", TAB, "46", TAB, TAB, TAB, TAB, TAB)
    dialog.set.click()
    (batch,) = journal.batches.all()
    first, last = journal.batches.phases(batch.uid)
    assert (first.to_day, first.humidity_low, first.humidity_aim, first.humidity_high) == (
        18.0,
        42.0,
        46.0,
        50.0,
    )
    assert (last.from_day, last.to_day) == (18.0, 21.0)
    assert '"humidity": [42.0, 46.0, 50.0]' in batch.programme


@pytest.mark.parametrize(
    ("plan", "weighs", "marked"),
    [(WeighPlan.NONE, False, 0), (WeighPlan.EVERY_EGG, True, 0), (WeighPlan.MARKED, True, 12)],
)
def test_weighing_is_planned_as_it_was_chosen(
    qtbot: QtBot, context: DeskContext, journal: Journal, plan: WeighPlan, weighs: bool, marked: int
) -> None:
    dialog = opened(qtbot, context)
    enter_machine(dialog)
    enter_eggs(dialog)
    press(TAB)
    segments = dialog.entry.targets.weigh.segments()
    segments[list(WeighPlan).index(plan)].click()
    dialog.set.click()
    (batch,) = journal.batches.all()
    duties = [duty for duty in journal.duties.of_batch(batch.uid) if duty.kind is DutyKind.WEIGH]
    assert bool(duties) is weighs
    assert sum(egg.marked for egg in journal.eggs.of_batch(batch.uid)) == marked


def test_a_machine_that_is_there_needs_no_fields(qtbot: QtBot, desk: Desk) -> None:
    dialog = opened(qtbot, desk.context)
    form = dialog.entry.form
    assert form.chosen_machine.name == "Dairy"
    assert form.new_machine.isHidden()
    assert dialog.entry.places.text().startswith("0 of 0")
    form.machine.setCurrentIndex(form.machine.count() - 1)
    assert form.new_machine.isVisible()
    assert dialog.entry.places.text().startswith("0 of 24")
    dialog.reject()


def test_set_date_of_eggs_is_kept_for_the_row(qtbot: QtBot, context: DeskContext) -> None:
    dialog = opened(qtbot, context)
    enter_eggs(dialog)
    assert dialog.entry.form.kept.text().startswith("4 to 6 day")
    rows = dialog.entry.pens.rows()
    assert [row.laid_on for row in rows] == [date(2026, 5, 8), date(2026, 5, 10)]
    press(ESCAPE)
    dialog.reject()


def test_the_dialog_fits_the_least_window_and_nothing_of_it_is_cut_off(
    qtbot: QtBot, context: DeskContext
) -> None:
    dialog = opened(qtbot, context)
    assert dialog.width() <= 1100
    assert dialog.height() <= 700
    assert dialog.area.horizontalScrollBar().maximum() == 0
    dialog.reject()
