"""Probes and pens by keyboard: where a probe hangs, the birds of a pen; stored at once and taken back."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hatchbook.desk.dialogs.holding import HoldingDialog
from hatchbook.journal import Pen
from hatchbook.trade.codes import ProbePlace
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot
from tests.desk.conftest import DAY, NOW, SET_AT, Desk
from tests.desk.dialogs.holding_kit import choose, holding, pen_form, probe_form
from tests.desk.dialogs.new_batch_kit import (
    ENTER,
    TAB,
    press,
    tab_to,
)


@pytest.fixture
def dialog(qtbot: QtBot, desk: Desk) -> HoldingDialog:
    return holding(qtbot, desk.context)


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
