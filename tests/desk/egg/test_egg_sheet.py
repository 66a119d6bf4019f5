"""The sheet of an egg: its story is told, and every part of it is changed where it stands."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from hatchbook.desk.dialogs.egg_sheet import EggSheet
from hatchbook.desk.settings import MASS_UNIT
from hatchbook.figures.egg_story import StoryKind
from hatchbook.journal import BreakOut, Candling
from hatchbook.trade.codes import (
    BreakOutResult,
    FindingCode,
)
from hatchbook.trade.units import Unit
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot
from tests.desk.conftest import DAY, NOW, SET_AT, Desk
from tests.desk.egg.conftest import Sheet, pick

Make = Callable[..., Sheet]
ALT = Qt.KeyboardModifier.AltModifier


# ---------------------------------------------------------------- what is told


def test_the_whole_story_is_told(told: Desk, sheet: Make) -> None:
    one = sheet()
    assert one.said() == [
        "Laid",
        "Set, 60.0\u00a0g",
        "Candled: alive",
        "Weighed 57.0\u00a0g, 5.0\u00a0% lost",
        "Candled: unsure",
    ]
    assert one.dialog.windowTitle() == "Egg 1, A 1"
    assert one.dialog.head.fate.text() == "Unsure"
    assert one.dialog.fields.lost.text() == "5.0\u00a0% lost since it was set"


def test_records_that_contradict_each_other_are_told_with_what_counts(desk: Desk, sheet: Make) -> None:
    for day, code in ((7, FindingCode.DEAD), (10, FindingCode.ALIVE)):
        candling = Candling(desk.batch.uid, SET_AT + day * DAY)
        desk.journal.candlings.note_finding(candling, desk.eggs[0].uid, code, candling.at)
    assert sheet().dialog.notes.texts() == [
        "Called dead, but it was alive later: “alive” on day 10 counts, “dead” on day 7 does not."
    ]


def test_it_goes_from_egg_to_egg_without_closing(desk: Desk, sheet: Make, qtbot: QtBot) -> None:
    one = sheet(2)
    shown: list[str] = []
    one.dialog.egg_shown.connect(shown.append)
    QTest.keyClick(one.dialog.table, Qt.Key.Key_PageDown)
    QTest.keyClick(one.dialog.table, Qt.Key.Key_Right, ALT)
    assert one.dialog.windowTitle() == "Egg 4, A 4"
    QTest.keyClick(one.dialog.table, Qt.Key.Key_Left, ALT)
    for _ in range(5):
        QTest.keyClick(one.dialog.table, Qt.Key.Key_PageUp)
    assert one.dialog.windowTitle() == "Egg 1, A 1"
    assert not one.dialog.head.back.isEnabled()
    assert shown == [desk.eggs[n].uid for n in (2, 3, 2, 1, 0)]


def test_what_is_stored_elsewhere_shows_at_once(desk: Desk, sheet: Make) -> None:
    one = sheet()
    candling = Candling(desk.batch.uid, NOW)
    desk.door.run(
        lambda journal: journal.candlings.note_finding(candling, desk.eggs[0].uid, FindingCode.CLEAR, NOW)
    )
    assert one.said()[-1] == "Candled: clear"
    assert one.dialog.head.fate.text() == "Clear; whether it was fertile only opening can tell"


def test_the_sheet_of_an_egg_that_is_removed_closes(desk: Desk, sheet: Make) -> None:
    one = sheet(12)
    desk.door.run(lambda journal: journal.eggs.remove(desk.eggs[11]))
    assert not one.dialog.isVisible()


# ---------------------------------------------------------------- the egg itself


def test_each_field_is_stored_when_it_is_left(told: Desk, sheet: Make) -> None:
    one = sheet()
    one.type("Written on the shell", "O1b")
    one.type("The shell", "rough at the blunt end")
    one.type("Mass when laid", "61,5")
    one.type("Length", "57 mm")
    one.type("Breadth", "42")
    one.type("Laid on", "30 Apr")
    one.type("Remark", "largest")
    egg = one.egg(1)
    assert (egg.mark, egg.shell_note, egg.remark) == ("O1b", "rough at the blunt end", "largest")
    assert (egg.laid_mass_g, egg.set_mass_g, egg.length_mm, egg.breadth_mm) == (61.5, 60.0, 57.0, 42.0)
    assert egg.laid_on == "2026-04-30"
    assert one.last_step() == "egg 1 changed: remark"
    assert one.dialog.fields.age.text() == "3 day(s) old when set"


def test_length_and_breadth_give_an_estimate_that_says_so(desk: Desk, sheet: Make) -> None:
    one = sheet()
    assert not one.dialog.fields.estimate.isVisible()
    one.type("Length", "57")
    one.type("Breadth", "42")
    # 0.548 * 5.7 * 4.2^2 = 55.1 g
    assert one.dialog.fields.estimate.text() == (
        "about 55.1\u00a0g when fresh: an estimate by length and breadth (Hoyt 1979, from memory)"
    )


def test_pen_and_dam_are_chosen_and_the_dam_is_a_hen_of_the_pen(told: Desk, sheet: Make) -> None:
    one = sheet()
    fields = one.dialog.fields
    assert [fields.dam.itemText(row) for row in range(fields.dam.count())] == [
        "not known",
        "Sorrel",
        "Yarrow",
    ]
    pick(fields.dam, fields.dam.itemData(2))
    assert one.last_step() == "egg 1 changed: dam"
    pick(fields.pen, None)
    egg = one.egg(1)
    assert (egg.pen, egg.dam) == (None, None)
    assert not fields.dam.isEnabled()
    one.desk.door.undo()
    assert one.egg(1).dam is not None
    assert fields.dam.currentText() == "Yarrow"


def test_the_place_is_typed_and_two_eggs_swap(desk: Desk, sheet: Make) -> None:
    one = sheet()
    one.type("Place", "b3")
    assert (one.egg(1).place, one.egg(7).place) == ((1, 2, 3), (1, 1, 1))
    assert one.last_step() == "egg 1 moved from A 1 to B 3, egg 7 the other way"
    assert one.dialog.head.title.text() == "Egg 1, B 3"
    one.type("Place", "")
    assert one.egg(1).place is None


def test_marking_by_key(desk: Desk, sheet: Make, qtbot: QtBot) -> None:
    one = sheet(2)
    qtbot.keyClick(one.dialog.fields.marked, Qt.Key.Key_Space)
    assert one.egg(2).marked
    assert one.last_step() == "egg 2 marked for weighing"


@pytest.mark.parametrize(
    ("name", "typed", "trouble"),
    [
        ("Number", "2", "Another egg of this batch has the number 2."),
        ("Number", "first", "An egg's number is 1, 2, 3 …"),
        ("Number", "0", "An egg's number is 1, 2, 3 …"),
        ("Place", "Z 40", "There is no Z 40: the last place is C 4."),
        ("Place", "left", "“left” is no place. Write it like C 2."),
        ("Laid on", "31 Feb", "There is no day “31 Feb”."),
        ("Laid on", "4 May 2026", "An egg is laid before it is set."),
        ("Length", "long", "“long” is not a number."),
        ("Length", "0", "A length is more than nothing."),
        ("Breadth", "420", "No egg is as long as that. Lengths are in mm."),
        ("Mass when laid", "abc", "“abc” is not a number."),
        ("Mass when set", "-58", "A mass is more than nothing."),
        ("Mass when set", "58.4 °C", "“58.4 °C” is in another unit than is asked for here."),
        ("Mass when set", "58400", "No egg is as heavy as that. Check the number and its unit."),
    ],
)
def test_what_cannot_be_is_said_below_its_field_and_stays_as_typed(
    desk: Desk, sheet: Make, name: str, typed: str, trouble: str
) -> None:
    one = sheet()
    before = one.egg(1)
    line = one.type(name, typed)
    assert one.trouble(name) == trouble
    assert line.text() == typed
    assert one.egg(1) == before


def test_a_bad_field_does_not_keep_others_from_being_stored(desk: Desk, sheet: Make) -> None:
    one = sheet()
    one.type("Length", "long")
    one.type("Remark", "odd one")
    assert one.egg(1).remark == "odd one"
    assert one.line("Length").text() == "long"
    assert one.trouble("Length")


def test_what_could_not_be_stored_is_not_left_behind_silently(desk: Desk, sheet: Make, qtbot: QtBot) -> None:
    one = sheet()
    one.type("Length", "long")
    one.dialog.step(1)
    assert one.dialog.windowTitle() == "Egg 1, A 1"
    assert "could not be stored" in one.dialog.note.text()
    one.dialog.step(1)
    assert one.dialog.windowTitle() == "Egg 2, A 2"
    assert one.line("Length").text() == ""


def test_what_is_typed_when_the_sheet_closes_is_stored(desk: Desk, sheet: Make, qtbot: QtBot) -> None:
    one = sheet()
    line = one.line("Remark")
    line.setFocus()
    qtbot.keyClicks(line, "last word")
    qtbot.keyClick(line, Qt.Key.Key_Escape)
    assert not one.dialog.isVisible()
    assert one.egg(1).remark == "last word"


def test_ounces_are_typed_shown_and_stored_as_grams(told: Desk, sheet: Make) -> None:
    one = sheet()
    one.dialog.fields.units.segments()[1].click()
    assert one.line("Mass when set").text() == "2.116"  # 60 g / 28.349523125 g an ounce
    assert one.said()[1] == "Set, 2.12\u00a0oz"
    before = one.desk.door.next_undo()
    one.line("Mass when set").setFocus()
    one.dialog.table.setFocus()
    assert one.desk.door.next_undo() == before  # looking at rounded ounces changes nothing
    one.type("Mass when laid", "2.2")
    assert one.egg(1).laid_mass_g == pytest.approx(2.2 * 28.349523125)
    one.type("Mass when laid", "62 g")
    assert one.egg(1).laid_mass_g == 62.0
    assert one.desk.context.settings.get(MASS_UNIT) == Unit.OUNCE


def test_an_egg_that_was_heavier_when_set_is_pointed_out(told: Desk, sheet: Make) -> None:
    one = sheet()
    one.type("Mass when laid", "58")
    assert one.dialog.fields.lost.text() == "heavier when set than when laid: check both"


def test_undo_takes_the_last_change_back_and_names_it(desk: Desk, sheet: Make, qtbot: QtBot) -> None:
    one = sheet()
    one.type("The shell", "thin")
    assert one.dialog.stored.text() == "Egg 1 changed: note on the shell"
    one.dialog.table.setFocus()
    QTest.keyClick(one.dialog.table, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert one.egg(1).shell_note == ""
    assert one.line("The shell").text() == ""
    assert one.dialog.stored.text() == "Taken back: egg 1 changed: note on the shell"


# ---------------------------------------------------------------- closed


def test_a_closed_batch_can_be_read_but_only_notes_are_added(told: Desk, sheet: Make, qtbot: QtBot) -> None:
    told.journal.batches.close(told.batch, NOW)
    one = sheet()
    assert one.dialog.notes.texts()[0] == (
        "Batch 26-05 is closed: reopen it to change this egg. Notes can still be added."
    )
    assert one.line("Remark").isReadOnly()
    assert not one.dialog.fields.pen.isEnabled()
    one.dialog.table.choose_row(2)
    assert not one.combo("Seen").isEnabled()
    before = one.said()
    qtbot.keyClick(one.dialog.table, Qt.Key.Key_Delete)
    assert one.said() == before
    one.dialog.begin(StoryKind.NOTED)
    line = one.line("Note", one.dialog.panel.form)
    qtbot.keyClicks(line, "afterthought")
    qtbot.keyClick(line, Qt.Key.Key_Return)
    assert one.said()[-1] == "Note: afterthought"


def test_reopening_lets_everything_be_changed_again(told: Desk, sheet: Make) -> None:
    told.journal.batches.close(told.batch, NOW)
    one = sheet()
    told.door.run(lambda journal: journal.batches.reopen(journal.batches.get(told.batch.uid)))
    assert one.dialog.notes.texts() == []
    assert not one.line("Remark").isReadOnly()


def test_what_the_journal_refuses_stays_as_typed(
    desk: Desk, sheet: Make, monkeypatch: pytest.MonkeyPatch
) -> None:
    one = sheet()
    monkeypatch.setattr(desk.door, "run", lambda _operation: None)
    line = one.type("Remark", "kept")
    assert one.dialog.note.text() == "This was not stored; what you typed is still here."
    assert line.text() == "kept"


def test_it_fits_the_smallest_window(told: Desk, sheet: Make) -> None:
    told.journal.eggs.replace(replace(told.eggs[0], length_mm=57.0, breadth_mm=42.0, set_mass_g=60.0))
    told.journal.break_outs.keep(BreakOut(told.eggs[0].uid, NOW, BreakOutResult.LATE_DEAD))
    dialog: EggSheet = sheet().dialog
    assert dialog.panel.form is not None
    least = dialog.minimumSizeHint()
    assert least.width() <= 1100
    assert least.height() <= 700
