"""Machines, probes and pens by keyboard: stored at once, taken back, retired, deleted or refused."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from hatchbook.desk.dialogs.holding import HoldingDialog
from hatchbook.desk.dialogs.machine_form import AREA
from hatchbook.journal import DiskFullError, Machine
from hatchbook.trade.codes import MachineKind
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot
from tests.desk.conftest import NOW, Clock, Desk
from tests.desk.dialogs.holding_kit import choose, holding, listed, machine_form, pen_form, probe_form
from tests.desk.dialogs.new_batch_kit import (
    ENTER,
    TAB,
    contents,
    empty_context,
    focused,
    is_gone,
    press,
    tab_to,
)


@pytest.fixture
def dialog(qtbot: QtBot, desk: Desk) -> HoldingDialog:
    return holding(qtbot, desk.context)


# ---------------------------------------------------------------- the list


def test_three_sections_list_what_there_is_and_what_can_be_added(dialog: HoldingDialog) -> None:
    assert listed(dialog) == [
        "Dairy",
        "New machine…",
        "Shelf logger",
        "New probe…",
        "Orchard",
        "New pen…",
    ]
    assert focused() is dialog.list
    assert machine_form(dialog).title.text() == "Dairy"
    choose(dialog, "Shelf logger")
    assert probe_form(dialog).title.text() == "Shelf logger"
    choose(dialog, "Orchard")
    assert pen_form(dialog).title.text() == "Orchard"
    dialog.reject()


def test_enter_in_the_list_leads_into_the_form(dialog: HoldingDialog) -> None:
    choose(dialog, "Orchard")
    press(ENTER)
    assert focused() is pen_form(dialog).name
    dialog.reject()


# ---------------------------------------------------------------- machines


def test_a_machine_is_added_by_keyboard(dialog: HoldingDialog, desk: Desk) -> None:
    choose(dialog, "New machine…")
    press(
        ENTER, "Shelf machine", TAB, Qt.Key.Key_Down, TAB, "2", TAB, "10", TAB, "3", TAB, "1", TAB, "500", TAB
    )
    form = machine_form(dialog)
    tab_to(form.add_button)
    press(Qt.Key.Key_Space)
    added = next(one for one in desk.journal.machines.all() if one.name == "Shelf machine")
    assert added.kind is MachineKind.STILL_AIR
    assert (added.tray_rows, added.tray_columns, added.trays, added.altitude_m) == (2, 10, 3, 500.0)
    assert len(desk.journal.machines.channels(added.uid)) == 1
    # The new one is chosen, and its form goes on from there.
    assert form.uid == added.uid
    assert "Shelf machine" in listed(dialog)
    assert dialog.stored.text() == "Machine Shelf machine added"
    dialog.reject()


def test_a_second_new_machine_is_another(dialog: HoldingDialog, desk: Desk) -> None:
    for name in ("One", "Two"):
        choose(dialog, "New machine…")
        press(ENTER, name)
        machine_form(dialog).add_button.click()
    assert {one.name for one in desk.journal.machines.all()} == {"Dairy", "One", "Two"}
    dialog.reject()


@pytest.mark.parametrize(
    ("name", "said"), [("", "Give the machine a name."), ("dairy", "of that name already")]
)
def test_a_machine_without_a_free_name_is_not_added(
    dialog: HoldingDialog, desk: Desk, name: str, said: str
) -> None:
    choose(dialog, "New machine…")
    press(ENTER, name)
    machine_form(dialog).add_button.click()
    assert said in machine_form(dialog).fields.name_line.trouble()
    assert focused() is machine_form(dialog).fields.name
    assert len(desk.journal.machines.all()) == 1
    dialog.reject()


def test_what_is_changed_is_stored_when_its_field_is_left(dialog: HoldingDialog, desk: Desk) -> None:
    form = machine_form(dialog)
    tab_to(form.fields.name)
    press("Cellar machine")
    assert desk.journal.machines.get(desk.batch.machine).name == "Dairy"
    press(TAB)
    assert desk.journal.machines.get(desk.batch.machine).name == "Cellar machine"
    assert form.title.text() == "Cellar machine"
    assert listed(dialog)[0] == "Cellar machine"
    assert focused() is form.fields.kind
    tab_to(form.remark)
    press("bought second-hand", TAB)
    assert desk.journal.machines.get(desk.batch.machine).note == "bought second-hand"
    dialog.reject()


def test_leaving_a_field_untouched_stores_nothing(dialog: HoldingDialog, desk: Desk) -> None:
    before = desk.journal.history.next_undo()
    tab_to(dialog.buttons.buttons()[0])
    for name in ("Shelf logger", "Orchard", "Dairy"):
        choose(dialog, name)
        press(ENTER, TAB, TAB, TAB)
    assert desk.journal.history.next_undo() == before
    dialog.reject()


def test_what_was_stored_can_be_taken_back_in_the_dialog(dialog: HoldingDialog, desk: Desk) -> None:
    form = machine_form(dialog)
    tab_to(form.fields.name)
    press("Cellar machine", TAB)
    assert dialog.stored.text() == "Machine Cellar machine changed"
    assert dialog.take_back.isVisible()
    dialog.take_back.click()
    assert desk.journal.machines.get(desk.batch.machine).name == "Dairy"
    assert form.fields.name.text() == "Dairy"
    assert dialog.stored.text().startswith("Taken back")
    dialog.reject()


def test_channels_come_and_go_and_have_their_measures(dialog: HoldingDialog, desk: Desk) -> None:
    form = machine_form(dialog)
    assert form.channels.rowCount() == 4
    tab_to(form.fields.channels)
    press("2", TAB)
    assert len(desk.journal.machines.channels(desk.batch.machine)) == 2
    assert form.channels.rowCount() == 2
    tab_to(form.channel_table)
    press("long one", TAB, "80,5", TAB, "250", TAB)
    first, second = desk.journal.machines.channels(desk.batch.machine)
    assert (first.name, first.area_cm2, first.volume_ml) == ("long one", 80.5, 250.0)
    assert second.area_cm2 is None
    dialog.reject()


def test_a_measure_that_is_none_stays_typed_and_is_said(dialog: HoldingDialog, desk: Desk) -> None:
    form = machine_form(dialog)
    for text, said in (("wide", "is not a number"), ("-3", "more than nothing")):
        form.channels.setData(form.channels.index(0, AREA), text)
        assert said in form.channel_line.text()
        assert form.channels.texts()[0][AREA] == text
    assert desk.journal.machines.channels(desk.batch.machine)[0].area_cm2 is None
    dialog.reject()


def test_trays_do_not_shrink_under_the_eggs(dialog: HoldingDialog, desk: Desk) -> None:
    choose(dialog, "Dairy")
    form = machine_form(dialog)
    steps = len(desk.journal.history.steps())
    form.fields.rows.setValue(2)
    form.fields.settled.emit()
    assert form.note.isVisible()
    assert "4 egg(s) lie or lay on places that would go" in form.note.text()
    assert form.fields.rows.value() == 3
    assert len(desk.journal.history.steps()) == steps
    form.fields.rows.setValue(5)
    form.fields.settled.emit()
    machine = desk.journal.machines.find(desk.batch.machine)
    assert machine is not None
    assert machine.tray_rows == 5
    assert desk.journal.check().sound
    dialog.reject()


def test_a_used_machine_is_not_deleted_but_can_be_retired(dialog: HoldingDialog, desk: Desk) -> None:
    form = machine_form(dialog)
    form.delete_button.click()
    assert form.note.text() == "It is used by 1 batch(es), 3 event(s), 1 probe(s); retire it instead."
    assert desk.journal.machines.find(desk.batch.machine) is not None
    form.note.link_clicked.emit()
    assert desk.journal.machines.get(desk.batch.machine).retired_on == "2026-05-14"
    assert listed(dialog)[0] == "Dairy (retired)"
    assert form.retire_button.text() == "Take into use again"
    form.retire_button.click()
    assert desk.journal.machines.get(desk.batch.machine).retired_on is None
    dialog.reject()


def test_an_unused_machine_is_deleted_and_comes_back(dialog: HoldingDialog, desk: Desk) -> None:
    machine = Machine("Spare", 1, 3)
    desk.door.run(lambda journal: journal.machines.keep(machine, 2))
    before = contents(desk.journal)
    choose(dialog, "Spare")
    machine_form(dialog).delete_button.click()
    assert desk.journal.machines.find(machine.uid) is None
    assert "Spare" not in listed(dialog)
    dialog.take_back.click()
    assert contents(desk.journal) == before
    assert "Spare" in listed(dialog)
    dialog.reject()


def test_a_machine_whose_adding_is_taken_back_is_no_longer_shown(dialog: HoldingDialog, desk: Desk) -> None:
    choose(dialog, "New machine…")
    press(ENTER, "Spare")
    machine_form(dialog).add_button.click()
    dialog.take_back.click()
    assert "Spare" not in listed(dialog)
    assert machine_form(dialog).title.text() == "Dairy"
    dialog.reject()


def test_what_the_journal_refuses_stays_typed(
    dialog: HoldingDialog, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_arguments: object, **_named: object) -> None:
        raise DiskFullError("The disk is full.", path=desk.journal.path)

    form = machine_form(dialog)
    monkeypatch.setattr(desk.journal.machines, "keep", full)
    tab_to(form.fields.name)
    press("Cellar machine", TAB)
    assert "still here" in form.note.text()
    assert form.fields.name.text() == "Cellar machine"
    monkeypatch.undo()
    form.fields.settled.emit()
    assert desk.journal.machines.get(desk.batch.machine).name == "Cellar machine"
    dialog.reject()


def test_changes_made_elsewhere_are_shown(dialog: HoldingDialog, desk: Desk) -> None:
    machine = desk.journal.machines.get(desk.batch.machine)
    desk.door.run(lambda journal: journal.machines.replace(replace(machine, name="Barn")))
    assert machine_form(dialog).fields.name.text() == "Barn"
    assert listed(dialog)[0] == "Barn"
    dialog.reject()


def test_an_empty_journal_begins_with_a_new_machine_and_escape_leaves(qtbot: QtBot, tmp_path: Path) -> None:
    with empty_context(tmp_path, Clock(NOW)) as context:
        dialog = HoldingDialog(context, None)
        dialog.open()
        qtbot.waitExposed(dialog)
        dialog.activateWindow()
        qtbot.waitUntil(lambda: QApplication.focusWidget() is not None)
        assert listed(dialog) == ["New machine…", "New probe…", "New pen…"]
        press(ENTER, "First", ENTER)
        machine_form(dialog).add_button.click()
        choose(dialog, "New probe…")
        press(ENTER, "H1")
        assert probe_form(dialog).place.currentText() == "First"
        probe_form(dialog).add_button.click()
        press(Qt.Key.Key_Escape)
        assert is_gone(dialog)
        assert contents(context.door.journal)["probe_placement"] == 1
