"""Machines, probes and pens by keyboard: stored at once, taken back, retired, deleted or refused."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from hatchbook.desk.dialogs.holding import HoldingDialog
from hatchbook.desk.dialogs.machine_form import AREA, MachineForm
from hatchbook.desk.dialogs.pen_form import PenForm
from hatchbook.desk.dialogs.probe_form import ProbeForm
from hatchbook.journal import DiskFullError, Machine, Pen
from hatchbook.trade.codes import MachineKind, ProbePlace
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot
from tests.desk.conftest import DAY, NOW, SET_AT, Clock, Desk
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
    dialog = HoldingDialog(desk.context, None)
    dialog.open()
    qtbot.waitExposed(dialog)
    dialog.activateWindow()
    qtbot.waitUntil(lambda: QApplication.focusWidget() is not None)
    return dialog


def listed(dialog: HoldingDialog) -> list[str]:
    return [item.text(0) for item in dialog._items()]


def machine_form(dialog: HoldingDialog) -> MachineForm:
    assert isinstance(dialog.form, MachineForm)
    return dialog.form


def probe_form(dialog: HoldingDialog) -> ProbeForm:
    assert isinstance(dialog.form, ProbeForm)
    return dialog.form


def pen_form(dialog: HoldingDialog) -> PenForm:
    assert isinstance(dialog.form, PenForm)
    return dialog.form


def choose(dialog: HoldingDialog, text: str) -> None:
    """Goes to an item of the list with the arrow keys."""
    dialog.list.setFocus()
    press(Qt.Key.Key_Home)
    for _ in range(20):
        item = dialog.list.currentItem()
        if item is not None and item.text(0) == text:
            return
        press(Qt.Key.Key_Down)
    raise AssertionError(f"{text!r} is not in the list")


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


# ---------------------------------------------------------------- probes


def test_a_probe_is_added_where_it_hangs(dialog: HoldingDialog, desk: Desk) -> None:
    choose(dialog, "New probe…")
    form = probe_form(dialog)
    press(ENTER, "H2", TAB, "3", TAB, "0.3", TAB)
    assert form.place.currentText() == "Dairy"
    form.add_button.click()
    probe = desk.journal.probes.by_name("H2")
    assert probe is not None
    assert (probe.accuracy_humidity, probe.accuracy_temperature_c) == (3.0, 0.3)
    assert desk.journal.probes.machine_of(probe.uid, NOW) == desk.batch.machine
    assert form.uid == probe.uid
    dialog.reject()


def test_a_probe_is_hung_elsewhere_from_an_instant_on(dialog: HoldingDialog, desk: Desk) -> None:
    choose(dialog, "Shelf logger")
    form = probe_form(dialog)
    form.place.setCurrentIndex(form.place.findText("the room"))
    form.at.set_instant(NOW - 3600)
    form.move_button.click()
    first, second = desk.journal.probes.placements(desk.probe.uid)
    assert (first.machine, first.until_at) == (desk.batch.machine, NOW - 3600)
    assert (second.place, second.from_at, second.until_at) == (ProbePlace.ROOM, NOW - 3600, None)
    assert form.stays.text().splitlines()[0].startswith("the room, since Thu 14 May 2026 13:00")
    dialog.take_back.click()
    assert len(desk.journal.probes.placements(desk.probe.uid)) == 1
    assert len(form.stays.text().splitlines()) == 1
    dialog.reject()


def test_hanging_a_probe_where_it_hangs_changes_nothing(dialog: HoldingDialog, desk: Desk) -> None:
    choose(dialog, "Shelf logger")
    form = probe_form(dialog)
    form.move_button.click()
    assert form.note.text() == "It hangs in Dairy then already."
    assert len(desk.journal.probes.placements(desk.probe.uid)) == 1
    dialog.reject()


@pytest.mark.parametrize(
    ("text", "stored", "said"),
    [
        ("2,5", 2.5, ""),
        ("± 2", None, "is not a number"),
        ("0", None, "More than nothing"),
        ("-1", None, "More than"),
    ],
)
def test_an_accuracy_is_a_plain_number(
    dialog: HoldingDialog, desk: Desk, text: str, stored: float | None, said: str
) -> None:
    choose(dialog, "Shelf logger")
    form = probe_form(dialog)
    form.humidity.set_text(text)
    form.humidity.field.editingFinished.emit()
    assert desk.journal.probes.get(desk.probe.uid).accuracy_humidity == stored
    assert said in form.humidity.trouble()
    dialog.reject()


def test_a_probe_with_readings_is_not_deleted(dialog: HoldingDialog, desk: Desk) -> None:
    choose(dialog, "Shelf logger")
    form = probe_form(dialog)
    form.delete_button.click()
    assert "reading(s); retire it instead." in form.note.text()
    form.retire_button.click()
    assert desk.journal.probes.get(desk.probe.uid).retired_on == "2026-05-14"
    dialog.reject()


def test_a_probe_without_readings_is_deleted(dialog: HoldingDialog, desk: Desk) -> None:
    desk.door.run(lambda journal: journal.probes.add_to("Room", machine=None, from_at=SET_AT))
    choose(dialog, "Room")
    probe_form(dialog).delete_button.click()
    assert desk.journal.probes.by_name("Room") is None
    dialog.reject()


# ---------------------------------------------------------------- pens


def test_a_pen_is_added_and_its_birds_are_typed_along(dialog: HoldingDialog, desk: Desk) -> None:
    choose(dialog, "New pen…")
    form = pen_form(dialog)
    press(ENTER, "Brook pen", TAB, "Du", TAB, "Aylesbury", TAB, "B", TAB, "10.1.", TAB)
    form.add_button.click()
    pen = desk.journal.pens.by_name("Brook pen")
    assert pen is not None
    assert (pen.species, pen.breed, pen.letter, pen.from_on) == ("duck", "Aylesbury", "B", "2026-01-10")
    tab_to(form.bird_table)
    press(
        "Barney", TAB, TAB, "Aylesbury", TAB, "B 1", TAB, TAB, TAB, "Bertha", TAB, "f", TAB, TAB, "B 2", TAB
    )
    members = desk.journal.pens.members(pen.uid)
    assert [(bird.name, bird.sex, bird.breed, bird.ring) for bird in members] == [
        ("Barney", "male", "Aylesbury", "B 1"),
        ("Bertha", "female", "", "B 2"),
    ]
    dialog.reject()


def test_a_bird_is_taken_away_by_del_and_comes_back(dialog: HoldingDialog, desk: Desk) -> None:
    from hatchbook.journal import PenMember

    pen = desk.journal.pens.by_name("Orchard")
    assert pen is not None
    desk.door.run(lambda journal: journal.pens.add_member(PenMember(pen.uid, "Anna", "female")))
    choose(dialog, "Orchard")
    form = pen_form(dialog)
    assert form.birds.texts()[0][:2] == ["Anna", "female"]
    tab_to(form.bird_table)
    press(Qt.Key.Key_Delete)
    assert desk.journal.pens.members(pen.uid) == []
    assert form.birds.texts() == []
    dialog.take_back.click()
    assert [row[0] for row in form.birds.texts()] == ["Anna"]
    dialog.reject()


def test_the_dam_of_eggs_stays(dialog: HoldingDialog, desk: Desk) -> None:
    from hatchbook.journal import PenMember

    pen = desk.journal.pens.by_name("Orchard")
    assert pen is not None
    bird = PenMember(pen.uid, "Anna", "female")
    desk.door.run(lambda journal: journal.pens.add_member(bird))
    desk.door.run(lambda journal: journal.eggs.replace(replace(desk.eggs[0], dam=bird.uid)))
    choose(dialog, "Orchard")
    form = pen_form(dialog)
    tab_to(form.bird_table)
    press(Qt.Key.Key_Delete)
    assert form.note.text().startswith("Anna is the dam of eggs")
    assert len(desk.journal.pens.members(pen.uid)) == 1
    dialog.reject()


@pytest.mark.parametrize(
    ("since", "until", "said"),
    [("soon", "", "is not a date"), ("", "31.4.", "There is no day"), ("10 May", "2 May", "before it began")],
)
def test_days_of_a_pen_that_cannot_be_are_said(
    dialog: HoldingDialog, desk: Desk, since: str, until: str, said: str
) -> None:
    choose(dialog, "Orchard")
    form = pen_form(dialog)
    form.since.setText(since)
    form.until.setText(until)
    form.until.editingFinished.emit()
    assert said in form.since_line.trouble() + form.until_line.trouble()
    pen = desk.journal.pens.by_name("Orchard")
    assert pen is not None
    assert (pen.from_on, pen.until_on) == (None, None)
    dialog.reject()


def test_a_pen_from_which_eggs_came_is_not_deleted(dialog: HoldingDialog, desk: Desk) -> None:
    choose(dialog, "Orchard")
    form = pen_form(dialog)
    form.delete_button.click()
    assert form.note.text() == "It is used by 1 batch(es); retire it instead."
    form.note.link_clicked.emit()
    pen = desk.journal.pens.by_name("Orchard")
    assert pen is not None
    assert pen.until_on == "2026-05-14"
    dialog.reject()


def test_an_unused_pen_is_deleted(dialog: HoldingDialog, desk: Desk) -> None:
    pen = Pen("Empty")
    desk.door.run(lambda journal: journal.pens.add(pen))
    choose(dialog, "Empty")
    pen_form(dialog).delete_button.click()
    assert desk.journal.pens.find(pen.uid) is None
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


def test_stays_are_listed_newest_first(dialog: HoldingDialog, desk: Desk) -> None:
    for day in (1, 2, 3, 4, 5):
        machine = desk.batch.machine if day % 2 == 0 else None
        desk.journal.probes.move(desk.probe, machine=machine, at=SET_AT + day * DAY)
    choose(dialog, "Shelf logger")
    lines = probe_form(dialog).stays.text().splitlines()
    assert lines[0] == "the room, since Fri 8 May 2026 09:00"
    assert lines[1] == "Dairy, Thu 7 May 2026 09:00 to Fri 8 May 2026 09:00"
    assert len(lines) == 4
    dialog.reject()
