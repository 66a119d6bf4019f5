"""Changing a batch that was planned or set, and starting a new one from an old one."""

from __future__ import annotations

import pytest
from hatchbook.desk.dialogs.pen_rows import EGGS, LAID, LETTER, PEN
from hatchbook.desk.dialogs.phase_rows import AIM
from hatchbook.journal import Candling
from hatchbook.trade.codes import DutyKind, FindingCode, WeighPlan
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot
from tests.desk.conftest import DAY, NOW, SET_AT, Desk, set_batch
from tests.desk.dialogs.new_batch_kit import is_gone, opened, press, tab_to


def test_a_batch_opens_as_it_was_set(qtbot: QtBot, desk: Desk) -> None:
    dialog = opened(qtbot, desk.context, desk.batch)
    form = dialog.entry.form
    assert dialog.windowTitle() == "Change batch 26-05"
    assert dialog.set.text() == "Keep the changes"
    assert (form.label.text(), form.name.text()) == ("26-05", "Orchard hens")
    assert form.timing.set_at() == SET_AT
    assert form.chosen_machine.name == "Dairy"
    assert dialog.entry.pens.texts() == [["Orchard", "12", "29 Apr", ""]]
    assert dialog.entry.targets.loss_low.field.text() == "11"
    assert any("The eggs are in" in text for text in dialog.entry.notes.texts())
    dialog.reject()


def test_keeping_without_a_change_changes_nothing(qtbot: QtBot, desk: Desk) -> None:
    journal = desk.journal
    eggs = journal.eggs.of_batch(desk.batch.uid)
    phases = [vars(phase) | {"uid": ""} for phase in journal.batches.phases(desk.batch.uid)]
    duties = sorted((duty.due_at, str(duty.kind)) for duty in journal.duties.of_batch(desk.batch.uid))
    dialog = opened(qtbot, desk.context, desk.batch)
    dialog.set.click()
    assert is_gone(dialog)
    assert [vars(phase) | {"uid": ""} for phase in journal.batches.phases(desk.batch.uid)] == phases
    after = journal.duties.of_batch(desk.batch.uid)
    # It was set without a plan for weighing, and keeps none.
    assert sorted((duty.due_at, str(duty.kind)) for duty in after) == [
        duty for duty in duties if duty[1] != "weigh"
    ]
    assert [egg.uid for egg in journal.eggs.of_batch(desk.batch.uid)] == [egg.uid for egg in eggs]
    assert desk.context.batch == desk.batch.uid


def test_targets_and_dates_of_a_running_batch_can_be_changed_and_taken_back(qtbot: QtBot, desk: Desk) -> None:
    journal = desk.journal
    due = journal.duties.turn_due(desk.batch.uid, NOW)
    assert due is not None
    journal.duties.tick(due, NOW)
    dialog = opened(qtbot, desk.context, desk.batch)
    phases = dialog.entry.targets.phases
    phases.setData(phases.index(0, AIM), "47")
    dialog.entry.form.timing.at.set_instant(SET_AT + 3600)
    dialog.entry.form.timing.at.edited.emit()
    dialog.set.click()
    assert journal.batches.get(desk.batch.uid).set_at == SET_AT + 3600
    assert journal.batches.phases(desk.batch.uid)[0].humidity_aim == 47.0
    assert journal.duties.get(due.uid).done_at == NOW
    lockdown = [duty for duty in journal.duties.of_batch(desk.batch.uid) if duty.kind is DutyKind.LOCKDOWN]
    assert [duty.due_at for duty in lockdown] == [SET_AT + 3600 + 19 * DAY]
    desk.door.undo()
    assert journal.batches.get(desk.batch.uid) == desk.batch
    assert journal.batches.phases(desk.batch.uid)[0].humidity_aim == 45.0


def test_eggs_come_and_go_while_nothing_is_recorded_of_them(qtbot: QtBot, desk: Desk) -> None:
    dialog = opened(qtbot, desk.context, desk.batch)
    pens = dialog.entry.pens
    pens.setData(pens.index(0, EGGS), "10")
    pens.setData(pens.index(1, PEN), "Late pen")
    pens.setData(pens.index(1, EGGS), "2")
    dialog.set.click()
    eggs = desk.journal.eggs.of_batch(desk.batch.uid)
    assert [egg.number for egg in eggs] == [*range(1, 11), 13, 14]
    assert [egg.uid for egg in eggs[:10]] == [egg.uid for egg in desk.eggs[:10]]
    late = desk.journal.pens.by_name("Late pen")
    assert late is not None
    assert [egg.pen for egg in eggs[10:]] == [late.uid] * 2
    # The places that became free.
    assert {(egg.tray_row, egg.tray_column) for egg in eggs[10:]} == {(3, 3), (3, 4)}


def test_eggs_with_records_stay(qtbot: QtBot, desk: Desk) -> None:
    candling = Candling(desk.batch.uid, NOW)
    seen = {egg.uid: FindingCode.ALIVE for egg in desk.eggs[6:]}
    desk.journal.candlings.note_findings(candling, seen, NOW)
    dialog = opened(qtbot, desk.context, desk.batch)
    pens = dialog.entry.pens
    pens.setData(pens.index(0, EGGS), "5")
    assert "something is recorded" in dialog.entry.pen_line.text()
    dialog.set.click()
    assert not is_gone(dialog)
    pens.setData(pens.index(0, EGGS), "6")
    dialog.set.click()
    assert is_gone(dialog)
    assert [egg.uid for egg in desk.journal.eggs.of_batch(desk.batch.uid)] == [
        egg.uid for egg in desk.eggs[6:]
    ]


def test_a_row_with_records_is_not_taken_away_by_del(qtbot: QtBot, desk: Desk) -> None:
    candling = Candling(desk.batch.uid, NOW)
    desk.journal.candlings.note_findings(candling, {desk.eggs[0].uid: FindingCode.CLEAR}, NOW)
    dialog = opened(qtbot, desk.context, desk.batch)
    tab_to(dialog.entry.pen_table)
    press(Qt.Key.Key_Delete)
    assert len(dialog.entry.pens.texts()) == 1
    dialog.reject()


def test_pens_dates_and_letters_of_eggs_can_be_put_right(qtbot: QtBot, desk: Desk) -> None:
    dialog = opened(qtbot, desk.context, desk.batch)
    pens = dialog.entry.pens
    pens.setData(pens.index(0, PEN), "Brook pen")
    pens.setData(pens.index(0, LAID), "28 April")
    pens.setData(pens.index(0, LETTER), "X")
    dialog.set.click()
    eggs = desk.journal.eggs.of_batch(desk.batch.uid)
    pen = desk.journal.pens.by_name("Brook pen")
    assert pen is not None
    assert {(egg.pen, egg.laid_on, egg.mark) for egg in eggs} == {(pen.uid, "2026-04-28", "X")}
    assert [egg.uid for egg in eggs] == [egg.uid for egg in desk.eggs]


def test_a_batch_without_weighing_can_get_it(qtbot: QtBot, desk: Desk) -> None:
    dialog = opened(qtbot, desk.context, desk.batch)
    segments = dialog.entry.targets.weigh.segments()
    segments[list(WeighPlan).index(WeighPlan.EVERY_EGG)].click()
    dialog.set.click()
    duties = desk.journal.duties.of_batch(desk.batch.uid)
    assert [duty.day for duty in duties if duty.kind is DutyKind.WEIGH] == [0.0, 4.0, 7.0, 11.0, 14.0, 18.0]


def test_leaving_a_change_keeps_no_draft_for_a_new_batch(qtbot: QtBot, desk: Desk) -> None:
    dialog = opened(qtbot, desk.context, desk.batch)
    dialog.entry.form.name.setText("Something else")
    dialog.reject()
    again = opened(qtbot, desk.context)
    assert again.entry.form.name.text() == ""
    again.reject()


def test_a_copy_starts_from_the_old_batch_with_eggs_to_be_counted(qtbot: QtBot, desk: Desk) -> None:
    dialog = opened(qtbot, desk.context, copy_of=desk.batch)
    form = dialog.entry.form
    assert dialog.windowTitle() == "New batch"
    assert form.label.text() == "26-06"
    assert form.name.text() == "Orchard hens"
    assert dialog.entry.targets.loss_low.field.text() == "11"
    (row,) = dialog.entry.pens.texts()
    assert (row[PEN], row[EGGS], row[LAID]) == ("Orchard", "", "")
    dialog.entry.pens.setData(dialog.entry.pens.index(0, EGGS), "3")
    form.timing.at.set_instant(SET_AT + 30 * DAY)
    form.timing.at.edited.emit()
    dialog.set.click()
    new = desk.journal.batches.by_label("26-06")
    assert new is not None
    assert new.uid != desk.batch.uid
    assert desk.context.batch == new.uid
    assert len(desk.journal.eggs.of_batch(new.uid)) == 3
    assert len(desk.journal.eggs.of_batch(desk.batch.uid)) == 12


def test_a_retired_machine_is_still_that_of_its_batches(qtbot: QtBot, desk: Desk) -> None:
    from dataclasses import replace

    machine = desk.journal.machines.get(desk.batch.machine)
    desk.journal.machines.replace(replace(machine, retired_on="2026-05-01"))
    dialog = opened(qtbot, desk.context, desk.batch)
    assert dialog.entry.form.chosen_machine.name == "Dairy"
    dialog.reject()
    fresh = opened(qtbot, desk.context)
    assert fresh.entry.form.machine_is_new
    fresh.reject()


@pytest.mark.parametrize("days", [-40, 40])
def test_another_batch_of_the_machine_takes_no_part_at_other_times(
    qtbot: QtBot, desk: Desk, days: int
) -> None:
    machine = desk.journal.machines.get(desk.batch.machine)
    set_batch(desk.journal, machine, "26-09", SET_AT + days * DAY)
    dialog = opened(qtbot, desk.context, desk.batch)
    assert dialog.entry.places.text() == "12 of 12 place(s)"
    dialog.reject()
