"""What the file does not decide is asked in place; every guess can be changed; whose readings they are."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

from hatchbook.desk.dialogs.import_readings import ImportDialog
from hatchbook.exchange.logger_file import ColumnRole, Separator, TemperatureUnit, TimeMeaning
from hatchbook.exchange.reading_import import NewProbe
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

Yard = Any
Open = Callable[..., ImportDialog]
Write = Callable[..., Path]

PUBLISHED = Path(__file__).parents[2] / "published"


Press = Callable[[ImportDialog, Qt.Key], None]
Pick = Callable[[Any, object], None]
Plain = Callable[[Any], str]


# ------------------------------------------------------------------ questions and choices

UNDECIDED = "date;temp;rh\n03/04/2026 09:00;37,5;50,0\n03/04/2026 09:10;37,5;50,1\n"


def test_dates_that_can_be_read_in_two_ways_are_asked_in_place(
    open_dialog: Open, yard: Yard, write: Write, press: Press
) -> None:
    dialog = open_dialog(write(UNDECIDED))
    assert dialog.question.isVisible()
    assert dialog.question.note.text() == ("“03/04/2026” can be 3 April 2026 or 4 March 2026. Which is it?")
    assert not dialog.store.isEnabled()
    press(dialog, Qt.Key.Key_Return)
    assert yard.count() == 0
    second = dialog.question.buttons[1]
    assert second.text() == "4 March 2026"
    second.setFocus()
    press(dialog, Qt.Key.Key_Space)
    assert not dialog.question.isVisible()
    assert dialog.read_as.dates.currentText() == "month/day/year"
    assert dialog.read_as.dates.toolTip() == "You chose this."
    assert dialog.goes_to.sentence.text().startswith("covers 4 Mar 09:00")
    press(dialog, Qt.Key.Key_Return)
    assert yard.count() == 2


def test_the_box_of_dates_answers_as_well(open_dialog: Open, yard: Yard, write: Write, pick: Pick) -> None:
    dialog = open_dialog(write(UNDECIDED))
    pick(dialog.read_as.dates, dialog.read_as.dates.value())
    assert not dialog.question.isVisible()
    assert dialog.store.isEnabled()


def test_a_file_of_numbers_without_names_asks_what_they_are(
    open_dialog: Open, yard: Yard, write: Write, press: Press, pick: Pick
) -> None:
    dialog = open_dialog(write("2026-05-03 09:00,37.5,50,61\n2026-05-03 09:10,37.6,51,61\n"))
    assert "Are the boxes over the columns right?" in dialog.question.note.text()
    pick(dialog.preview.combos[2], ColumnRole.LEAVE_OUT)
    pick(dialog.preview.combos[3], ColumnRole.HUMIDITY)
    assert not dialog.question.isVisible()
    press(dialog, Qt.Key.Key_Return)
    series = yard.journal.readings.series(yard.probe.number, 0, 1 << 40)
    assert series.humidity.tolist() == [61.0, 61.0]


def test_a_column_is_held_by_one_box_only(open_dialog: Open, shelf_file: Path, pick: Pick) -> None:
    dialog = open_dialog(shelf_file)
    pick(dialog.preview.combos[2], ColumnRole.TEMPERATURE)
    assert [combo.value() for combo in dialog.preview.combos] == [
        ColumnRole.DATE_TIME,
        ColumnRole.LEAVE_OUT,
        ColumnRole.TEMPERATURE,
        ColumnRole.LEAVE_OUT,
    ]
    # What had been 52 % would be °F.
    assert dialog.preview.combos[2].currentText() == "Temperature, °F"


def test_unit_and_times_can_be_changed(
    open_dialog: Open, yard: Yard, write: Write, press: Press, pick: Pick
) -> None:
    dialog = open_dialog(write("time,temp,rh\n2026-05-03 09:00,50,52\n2026-05-03 09:10,50,52\n"))
    assert dialog.read_as.unit.value() is TemperatureUnit.FAHRENHEIT
    pick(dialog.read_as.unit, TemperatureUnit.CELSIUS)
    assert not dialog.read_as.offset.isVisible()
    pick(dialog.read_as.times, TimeMeaning.FIXED_OFFSET)
    assert dialog.read_as.offset.isVisible()
    # Lisbon in winter.
    assert dialog.read_as.offset.text() == "UTC+0:00"
    dialog.read_as.offset.setFocus()
    dialog.read_as.offset.selectAll()
    QTest.keyClicks(dialog.read_as.offset, "+2")
    press(dialog, Qt.Key.Key_Tab)
    assert dialog.read_as.offset.value() == 120
    assert dialog.goes_to.sentence.text().startswith("covers 3 May 08:00 to 3 May 08:10")
    dialog.store.click()
    QApplication.processEvents()
    assert yard.journal.readings.series(yard.probe.number, 0, 1 << 40).temperature_c.tolist() == [50.0, 50.0]


def test_further_boxes_come_with_more(open_dialog: Open, write: Write, press: Press) -> None:
    text = "exported today\ntime,temp,rh\n2026-05-03 09:00,37,52\n2026-05-03 09:10,37,52\n2026-05-03 09:20,37,52\n"
    dialog = open_dialog(write(text))
    assert not dialog.read_as.header_line.isVisible()
    dialog.read_as.more.setFocus()
    press(dialog, Qt.Key.Key_Space)
    assert dialog.read_as.header_line.isVisible()
    assert (dialog.read_as.header_line.value(), dialog.read_as.data_line.value()) == (2, 3)
    dialog.read_as.data_line.setValue(5)
    QApplication.processEvents()
    assert "Import" in dialog.store.text()
    assert "1 good" in dialog.foot.sum.text()


def test_another_separator_lets_the_columns_be_guessed_anew(
    open_dialog: Open, write: Write, pick: Pick
) -> None:
    dialog = open_dialog(write("time;temp;rh\n2026-05-03 09:00;37,5;52,0\n2026-05-03 09:10;37,5;52,1\n"))
    pick(dialog.read_as.separator, Separator.TAB)
    assert not dialog.store.isEnabled()
    pick(dialog.read_as.separator, Separator.SEMICOLON)
    assert [combo.value() for combo in dialog.preview.combos] == [
        ColumnRole.DATE_TIME,
        ColumnRole.TEMPERATURE,
        ColumnRole.HUMIDITY,
    ]
    assert dialog.store.isEnabled()


# ------------------------------------------------------------------ where it goes


def test_a_machine_without_a_probe_gets_one_in_the_same_step(
    open_dialog: Open, yard: Yard, shelf_file: Path
) -> None:
    yard.journal.probes.remove(yard.probe)
    dialog = open_dialog(shelf_file)
    assert dialog.goes_to.combo.currentText() == "New probe in Dairy machine"
    assert dialog.goes_to.name.text() == "Dairy machine logger"
    assert dialog.goes_to.sentence.text().endswith("all of it falls into 26-05 Orchard hens")
    dialog.goes_to.name.setText("")
    QTest.keyClicks(dialog.goes_to.name, "Grey one")
    dialog.store.click()
    QApplication.processEvents()
    probe = yard.journal.probes.by_name("Grey one")
    assert yard.journal.readings.count(probe.number, 0, 1 << 40) == 1518
    yard.context.door.undo()
    assert yard.journal.probes.all() == []


def test_a_new_probe_needs_a_name_of_its_own(
    open_dialog: Open, yard: Yard, shelf_file: Path, pick: Pick
) -> None:
    dialog = open_dialog(shelf_file)
    room = next(target for target in dialog.goes_to.choices() if target == NewProbe("Room logger", None))
    pick(dialog.goes_to.combo, room)
    assert dialog.goes_to.sentence.text().endswith("falls into no batch")
    for typed, trouble in (
        ("", "Give the new probe a name."),
        ("Shelf logger", "There is a probe of this name already."),
    ):
        dialog.goes_to.name.setText(typed)
        dialog.store.click()
        QApplication.processEvents()
        assert dialog.isVisible()
        assert dialog.goes_to.trouble.text() == trouble
        assert dialog.goes_to.name.hasFocus()
    assert yard.count() == 0


def test_names_of_new_probes_are_free_ones(open_dialog: Open, yard: Yard) -> None:
    yard.journal.probes.add_to("Room logger", machine=None, from_at=0)
    dialog = open_dialog()
    names = [target.name for target in dialog.goes_to.choices() if isinstance(target, NewProbe)]
    assert names == ["Dairy machine logger", "Room logger 2"]


def test_another_probe_is_planned_for_at_once(
    open_dialog: Open, yard: Yard, shelf_file: Path, press: Press, pick: Pick
) -> None:
    press(open_dialog(shelf_file), Qt.Key.Key_Return)
    yard.journal.probes.add_to("Second", machine=yard.machine.uid, from_at=yard.batch.set_at + 86_400)
    dialog = open_dialog(shelf_file)
    assert not dialog.store.isEnabled()
    pick(dialog.goes_to.combo, yard.journal.probes.by_name("Second"))
    assert dialog.store.isEnabled()
    assert "144 of no batch" in dialog.goes_to.sentence.text()
    assert dialog.remarks.text().startswith("This very file came in")


def test_a_retired_probe_is_not_offered(open_dialog: Open, yard: Yard) -> None:
    from dataclasses import replace

    yard.journal.probes.replace(replace(yard.probe, retired_on="2026-01-01"))
    dialog = open_dialog()
    assert yard.probe.name not in [getattr(target, "name", "") for target in dialog.goes_to.choices()]


def test_a_journal_that_can_only_be_read_says_so(
    open_dialog: Open, yard: Yard, shelf_file: Path, press: Press
) -> None:
    from hatchbook.journal import Journal

    path = yard.journal.path
    yard.context.door.take(None)
    yard.context.door.take(Journal.open(path, read_only=True))
    dialog = open_dialog(shelf_file)
    press(dialog, Qt.Key.Key_Return)
    assert dialog.isVisible()
    assert "cannot be written here. Nothing was stored." in dialog.note.text()
    assert dialog.store.isEnabled()
