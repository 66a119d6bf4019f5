"""Ring, mass and note of chicks, and the marks of one egg: moved, changed, removed."""

from __future__ import annotations

import pytest
from hatchbook.desk import settings
from hatchbook.desk.hatching.hatch_day import HatchDayDialog
from hatchbook.journal import Hatching
from hatchbook.trade.codes import HatchMark
from hatchbook.trade.units import GRAMS_PER_OUNCE, Unit
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit
from tests.desk.conftest import Desk
from tests.desk.hatching.conftest import NOW, QUARTER, records, spaced

Key = Qt.Key


def press(dialog: HatchDayDialog, keys: str) -> None:
    for key in keys:
        QTest.keyClicks(dialog.tray, key)


def type_into(dialog: HatchDayDialog, letter: str, text: str) -> None:
    """Goes to a field by its letter, types, and comes back with Enter."""
    press(dialog, letter)
    field = dialog.focusWidget()
    assert isinstance(field, QLineEdit)
    QTest.keyClicks(field, text)
    QTest.keyClick(field, Key.Key_Return)
    assert dialog.tray.hasFocus()


def test_ring_mass_and_note_go_with_the_chick_and_the_ring_counts_on(
    dialog: HatchDayDialog, hatching: Desk
) -> None:
    type_into(dialog, "R", "B09")
    type_into(dialog, "M", "41.5")
    type_into(dialog, "N", "lively")
    press(dialog, "KK")
    by_egg = {record.egg: record for record in records(hatching)}
    first, second = (by_egg[egg.uid] for egg in hatching.eggs[:2])
    assert (first.ring, first.chick_mass_g, first.note) == ("B09", 41.5, "lively")
    assert (second.ring, second.chick_mass_g, second.note) == ("B10", None, "")
    assert dialog.fields.ring.text() == "B11"


def test_ounces_are_stored_as_grams_and_kept_as_the_unit(dialog: HatchDayDialog, hatching: Desk) -> None:
    dialog.fields.unit.segments()[1].click()
    assert hatching.context.settings.get(settings.MASS_UNIT) == Unit.OUNCE
    type_into(dialog, "M", "1,5")
    press(dialog, "K")
    assert records(hatching)[0].chick_mass_g == pytest.approx(1.5 * GRAMS_PER_OUNCE)


def test_a_mass_that_is_none_holds_the_chick_up_and_stays_typed(
    dialog: HatchDayDialog, hatching: Desk
) -> None:
    for text, trouble in (("heavy", "“heavy” is not a number."), ("0", "A mass is more than nothing.")):
        type_into(dialog, "M", text)
        press(dialog, "K")
        assert dialog.note.text() == "Mend the mass of the chick, or take it away."
        assert dialog.fields.mass.trouble() == trouble
        assert dialog.fields.mass.field.text() == text
    assert records(hatching) == []


def test_a_mass_is_one_chicks_but_rings_run_on_over_several(dialog: HatchDayDialog, hatching: Desk) -> None:
    type_into(dialog, "R", "B1")
    type_into(dialog, "M", "40")
    press(dialog, "3K")
    assert dialog.note.text() == "A mass is one chick's: choose one egg, or take the mass away."
    dialog.fields.mass.set_text("")
    press(dialog, "K")
    assert sorted(record.ring for record in records(hatching)) == ["B1", "B2", "B3"]
    assert dialog.fields.ring.text() == "B4"


def test_pips_take_no_ring(dialog: HatchDayDialog, hatching: Desk) -> None:
    type_into(dialog, "R", "B1")
    press(dialog, "J")
    assert records(hatching)[0].ring == ""
    assert dialog.fields.ring.text() == "B1"


def test_a_chick_heavier_than_its_egg_and_a_ring_worn_twice_are_asked_about(
    dialog: HatchDayDialog, hatching: Desk
) -> None:
    from dataclasses import replace

    hatching.journal.eggs.replace(replace(hatching.eggs[0], set_mass_g=58.0))
    dialog.refresh()
    type_into(dialog, "R", "B7")
    type_into(dialog, "M", "61")
    press(dialog, "K")
    assert spaced(dialog.note.text()).startswith(
        "A chick of 61.0 g would be heavier than its egg was when set, 58.0 g."
    )
    assert records(hatching) == []
    press(dialog, "K")
    assert records(hatching)[0].chick_mass_g == 61.0
    dialog.fields.ring.setText("B7")
    press(dialog, "K")
    assert dialog.note.text().startswith("The chick of A 1 wears ring B7 already.")
    assert len(records(hatching)) == 1


def test_marks_of_an_egg_are_listed_and_removed_by_del(dialog: HatchDayDialog, hatching: Desk) -> None:
    press(dialog, "J")
    dialog.tray.choose(hatching.eggs[0].uid)
    press(dialog, "K")
    dialog.tray.choose(hatching.eggs[0].uid)
    view = dialog.marks.view
    texts = [view.marks.index(row).data() for row in range(view.marks.rowCount())]
    assert texts == ["External pip, Sun 24 May 06:36", "Hatched, Sun 24 May 06:36"]
    view.setFocus()
    QTest.keyClick(view, Key.Key_Delete)
    assert [record.mark for record in records(hatching)] == [HatchMark.EXTERNAL_PIP]
    assert dialog.last.text() == "Egg 1: hatched removed"
    QTest.keyClick(view, Key.Key_Delete)
    assert records(hatching) == []
    assert dialog.tray.hasFocus()
    QTest.keyClick(dialog.tray, Key.Key_Backspace)
    assert [record.mark for record in records(hatching)] == [HatchMark.EXTERNAL_PIP]


def test_a_mark_moves_by_quarter_hours_in_the_list(dialog: HatchDayDialog, hatching: Desk) -> None:
    press(dialog, "K")
    dialog.tray.choose(hatching.eggs[0].uid)
    view = dialog.marks.view
    view.setFocus()
    QTest.keyClicks(view, ",,")
    assert records(hatching)[0].at == QUARTER - 900
    assert dialog.time.follows_clock
    QTest.keyClicks(view, "+")
    assert records(hatching)[0].at == QUARTER
    QTest.keyClicks(view, "+")
    assert records(hatching)[0].at == QUARTER
    assert dialog.note.text() == "That time is still to come."
    assert dialog.last.text() == "Egg 1: hatched, changed"


def test_ring_and_mass_of_a_mark_are_changed_in_the_fields(dialog: HatchDayDialog, hatching: Desk) -> None:
    chick = Hatching(hatching.eggs[0].uid, QUARTER, HatchMark.HATCHED, 41.2345678, "B1", "small")
    hatching.door.run(lambda journal: journal.hatchings.note(hatching.batch.uid, [chick]))
    dialog.tray.choose(hatching.eggs[0].uid)
    dialog.marks.view.setFocus()
    QTest.keyClick(dialog.marks.view, Key.Key_Return)
    assert dialog.fields.ring.hasFocus()
    assert (dialog.fields.ring.text(), dialog.fields.mass.field.text()) == ("B1", "41.235")
    QTest.keyClicks(dialog.fields.ring, "B2")
    QTest.keyClick(dialog.fields.ring, Key.Key_Return)
    (record,) = records(hatching)
    # What was not touched is not rounded.
    assert record == Hatching(
        chick.egg, QUARTER, HatchMark.HATCHED, 41.2345678, "B2", "small", uid=record.uid
    )
    assert dialog.fields.ring.text() == ""
    assert dialog.tray.hasFocus()


def test_a_change_is_left_by_escape_and_verdicts_wait_for_it(dialog: HatchDayDialog, hatching: Desk) -> None:
    press(dialog, "K")
    dialog.tray.choose(hatching.eggs[0].uid)
    dialog.marks.view.setFocus()
    QTest.keyClick(dialog.marks.view, Key.Key_F2)
    QTest.keyClicks(dialog.fields.ring, "B2")
    dialog.key_of(HatchMark.HELPED).click()
    assert dialog.note.text() == "A mark is being changed: keep the change first, or leave it with Esc."
    QTest.keyClick(dialog.fields.ring, Key.Key_Escape)
    assert dialog.isVisible()
    assert [(record.ring, record.at) for record in records(hatching)] == [("", NOW)]
    assert not dialog.marks.is_changing


def test_a_waited_for_egg_is_reached_from_the_list(dialog: HatchDayDialog, hatching: Desk) -> None:
    dialog.tray.choose(hatching.eggs[5].uid)
    press(dialog, ",,J")
    waiting = dialog.pane.waiting
    text = spaced(str(waiting.eggs.index(0).data()))
    assert text == "B 2: external pip for 21 min, since 06:15"
    waiting.setFocus()
    waiting.setCurrentIndex(waiting.eggs.index(0))
    QTest.keyClick(waiting, Key.Key_Return)
    egg = dialog.current()
    assert egg is not None
    assert egg.egg.number == 6
    assert dialog.tray.hasFocus()
