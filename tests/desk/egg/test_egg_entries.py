"""The entries of an egg's story are corrected, added and taken away."""

from __future__ import annotations

from collections.abc import Callable

from hatchbook.figures.egg_story import StoryKind
from hatchbook.journal import BreakOut
from hatchbook.trade.codes import (
    BreakOutResult,
    BreakOutSign,
    Fate,
    FindingCode,
    HatchMark,
    Malposition,
    RemovalReason,
)
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot
from tests.desk.conftest import DAY, NOW, SET_AT, Desk
from tests.desk.egg.conftest import Sheet, pick

Make = Callable[..., Sheet]
ALT = Qt.KeyboardModifier.AltModifier


def test_a_finding_is_corrected_by_keys(told: Desk, sheet: Make, qtbot: QtBot) -> None:
    one = sheet()
    one.dialog.table.choose_row(2)
    qtbot.keyClick(one.dialog.table, Qt.Key.Key_Return)
    combo = one.combo("Seen")
    assert combo.hasFocus()
    before = one.desk.door.next_undo()
    for _ in range(3):
        qtbot.keyClick(combo, Qt.Key.Key_Down)
    assert one.desk.door.next_undo() == before  # nothing is stored on the way
    one.dialog.table.setFocus()
    assert one.said()[2] == "Candled: dead"
    assert one.last_step() == "egg 1 corrected: dead"
    assert one.dialog.panel.form is not None
    one.desk.door.undo()
    assert one.said()[2] == "Candled: alive"
    assert one.combo("Seen").currentData() == FindingCode.ALIVE


def test_a_finding_gets_a_note_and_another_time(told: Desk, sheet: Make) -> None:
    one = sheet()
    one.dialog.table.choose_row(2)
    form = one.dialog.panel.form
    one.type("Note", "veins at the side", form)
    assert one.said()[2] == "Candled: alive; veins at the side"


def test_del_removes_an_entry_and_undo_brings_it_back(told: Desk, sheet: Make, qtbot: QtBot) -> None:
    one = sheet()
    one.dialog.table.choose_row(2)
    qtbot.keyClick(one.dialog.table, Qt.Key.Key_Delete)
    assert "Candled: alive" not in one.said()
    assert one.last_step() == "finding of egg 1 removed: alive"
    one.dialog.take_back.click()
    assert one.said()[2] == "Candled: alive"


def test_a_weighing_is_corrected_and_comes_back_as_typed(told: Desk, sheet: Make) -> None:
    one = sheet()
    one.dialog.table.choose_row(3)
    form = one.dialog.panel.form
    one.type("Mass", "57,30", form)
    (mass,) = one.desk.journal.weighings.masses_of_egg(one.desk.eggs[0].uid)
    assert mass.mass_g == 57.3
    assert one.line("Mass", form).text() == "57,30"
    assert one.said()[3] == "Weighed 57.3\u00a0g, 4.5\u00a0% lost"
    one.type("Mass", "", form)
    assert one.trouble("Mass", form).startswith("Type the mass")


def test_laying_and_setting_are_fields_of_the_egg(told: Desk, sheet: Make, qtbot: QtBot) -> None:
    one = sheet()
    one.dialog.table.choose_row(0)
    assert one.dialog.panel.form is None
    before = one.said()
    qtbot.keyClick(one.dialog.table, Qt.Key.Key_Delete)
    assert one.said() == before


def test_a_note_is_added_by_keys(desk: Desk, sheet: Make, qtbot: QtBot) -> None:
    one = sheet()
    one.dialog.begin(StoryKind.NOTED)
    form = one.dialog.panel.form
    line = one.line("Note", form)
    assert line.hasFocus()
    qtbot.keyClick(line, Qt.Key.Key_Return)
    assert one.trouble("Note", form) == "Write the note first."
    qtbot.keyClicks(line, "hairline crack")
    qtbot.keyClick(line, Qt.Key.Key_Return)
    assert one.said()[-1] == "Note: hairline crack"
    (event,) = desk.journal.events.of_egg(desk.eggs[0].uid)
    assert (event.batch, event.at) == (desk.batch.uid, NOW)
    assert one.last_step() == "note on egg 1"


def test_a_new_entry_that_was_typed_is_not_lost_silently(desk: Desk, sheet: Make, qtbot: QtBot) -> None:
    one = sheet()
    one.dialog.begin(StoryKind.NOTED)
    qtbot.keyClicks(one.line("Note", one.dialog.panel.form), "hairline crack")
    one.dialog.step(1)
    assert one.dialog.windowTitle() == "Egg 1, A 1"
    assert "not added yet" in one.dialog.note.text()
    one.dialog.panel.add_button.click()
    assert one.said()[-1] == "Note: hairline crack"


def test_a_new_entry_can_be_given_up(desk: Desk, sheet: Make) -> None:
    one = sheet()
    before = one.said()
    one.dialog.begin(StoryKind.CANDLED)
    one.dialog.panel.give_up_button.click()
    assert not one.dialog.panel.is_new
    assert one.said() == before


def test_a_weighing_is_added(told: Desk, sheet: Make, qtbot: QtBot) -> None:
    one = sheet()
    one.dialog.begin(StoryKind.WEIGHED)
    form = one.dialog.panel.form
    line = one.line("Mass", form)
    qtbot.keyClicks(line, "54 g")
    qtbot.keyClick(line, Qt.Key.Key_Return)
    assert one.said()[-1] == "Weighed 54.0\u00a0g, 10.0\u00a0% lost"


def test_a_chick_with_mass_and_ring_is_added_and_changed(told: Desk, sheet: Make, qtbot: QtBot) -> None:
    one = sheet()
    told.clock.at = SET_AT + 21 * DAY
    one.dialog.begin(StoryKind.HATCH)
    form = one.dialog.panel.form
    qtbot.keyClicks(one.line("Chick mass", form), "42")
    qtbot.keyClicks(one.line("Ring or mark", form), "blue 7")
    one.dialog.panel.add_button.click()
    assert one.said()[-1] == "Hatched, chick 42.0\u00a0g, 70\u00a0% of the egg when set, ring or mark blue 7"
    assert one.dialog.story.outcome.fate is Fate.HATCHED
    pick(one.combo("Seen"), HatchMark.HELPED)
    assert one.dialog.story.outcome.fate is Fate.HELPED


def test_an_opened_egg_is_added_and_its_signs_are_ticked(desk: Desk, sheet: Make, qtbot: QtBot) -> None:
    desk.clock.at = SET_AT + 22 * DAY
    one = sheet()
    one.dialog.begin(StoryKind.OPENED)
    pick(one.combo("Found"), BreakOutResult.LATE_DEAD)
    qtbot.mouseClick(one.box("II: head in the small end"), Qt.MouseButton.LeftButton)
    one.dialog.panel.add_button.click()
    (opening,) = desk.journal.break_outs.of_batch(desk.batch.uid)
    assert opening.result is BreakOutResult.LATE_DEAD
    qtbot.keyClick(one.box("Wet"), Qt.Key.Key_Space)
    form = one.dialog.panel.form
    one.type("Day on which it died", "19", form)
    one.type("Opened by", "Ada", form)
    assert one.said()[-1] == "Opened: dead late; died on day 19; II: head in the small end; wet; by Ada"
    entry = one.dialog.story.entries[-1]
    assert (entry.malpositions, entry.signs) == ((Malposition.II_HEAD_IN_SMALL_END,), (BreakOutSign.WET,))
    one.type("Day on which it died", "300", form)
    assert one.trouble("Day on which it died", form) == "That day is outside of this incubation."
    assert len(desk.journal.break_outs.of_batch(desk.batch.uid)) == 1


def test_an_egg_is_opened_and_taken_out_only_once(desk: Desk, sheet: Make) -> None:
    desk.journal.break_outs.keep(BreakOut(desk.eggs[0].uid, NOW, BreakOutResult.INFERTILE))
    one = sheet()
    menu = one.dialog.add.menu()
    menu.aboutToShow.emit()
    offered = {action.data(): action.isEnabled() for action in menu.actions()}
    assert not offered[StoryKind.OPENED]
    assert offered[StoryKind.TAKEN_OUT]
    one.dialog.begin(StoryKind.TAKEN_OUT)
    pick(one.combo("Why"), RemovalReason.BROKEN)
    one.dialog.panel.add_button.click()
    assert [removal.reason for removal in desk.journal.removals.all()] == [RemovalReason.BROKEN]
