"""Hatch day by the keyboard alone: marks, quarter hours, counts, take-backs."""

from __future__ import annotations

import pytest
from hatchbook.desk.hatching.hatch_day import HatchDayDialog
from hatchbook.figures import batch_figures
from hatchbook.trade.codes import Fate, HatchMark
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from tests.desk.conftest import Desk
from tests.desk.hatching.conftest import NOW, QUARTER, marks, records, spaced

Key = Qt.Key


def press(dialog: HatchDayDialog, keys: str) -> None:
    for key in keys:
        QTest.keyClicks(dialog.tray, key)


@pytest.mark.parametrize(
    ("key", "mark", "fate"),
    [
        ("J", HatchMark.EXTERNAL_PIP, Fate.EXTERNAL_PIP),
        ("K", HatchMark.HATCHED, Fate.HATCHED),
        ("L", HatchMark.INTERNAL_PIP, Fate.INTERNAL_PIP),
        ("U", HatchMark.HELPED, Fate.HELPED),
        ("I", HatchMark.DIED_IN_PIP, Fate.PIPPED_DEAD),
        ("O", HatchMark.CULLED, Fate.CULLED),
        ("P", HatchMark.WEAK, Fate.HATCHED),
    ],
)
def test_each_key_gives_its_mark_now(
    dialog: HatchDayDialog, hatching: Desk, key: str, mark: HatchMark, fate: Fate
) -> None:
    press(dialog, key.lower())
    (record,) = records(hatching)
    assert (record.egg, record.mark, record.at) == (hatching.eggs[0].uid, mark, NOW)
    figures = batch_figures(hatching.journal, hatching.batch.uid, NOW)
    assert figures.eggs[0].outcome.fate is fate
    assert dialog.key_of(mark).accessibleName().endswith(", 1")


def test_the_next_egg_that_may_hatch_follows(dialog: HatchDayDialog, hatching: Desk) -> None:
    press(dialog, "KKKKKKKK")
    assert marks(hatching) == {number: ["hatched"] for number in range(1, 9)}
    assert dialog.progress.text() == "8 hatched, 0 pipped, 0 to come"


@pytest.mark.parametrize("earlier", ["-", ","])
def test_the_time_goes_back_by_quarter_hours(dialog: HatchDayDialog, hatching: Desk, earlier: str) -> None:
    press(dialog, earlier)
    assert dialog.time.clock.text() == "06:30"
    press(dialog, earlier * 2)
    press(dialog, "K")
    assert records(hatching)[0].at == QUARTER - 2 * 900
    assert dialog.time.clock.text() == "06:00"
    assert "36 min ago" in spaced(dialog.time.when.text())


@pytest.mark.parametrize("later", ["+", ".", "="])
def test_and_forth_again_but_never_past_now(dialog: HatchDayDialog, hatching: Desk, later: str) -> None:
    press(dialog, ",,")
    press(dialog, later)
    assert dialog.time.clock.text() == "06:30"
    press(dialog, later)
    assert dialog.time.follows_clock
    hatching.clock.at = NOW + 60
    press(dialog, "K")
    assert records(hatching)[0].at == NOW + 60


def test_zero_is_now_again(dialog: HatchDayDialog, hatching: Desk) -> None:
    press(dialog, ",,0K")
    assert records(hatching)[0].at == NOW


def test_the_chosen_time_stays_for_the_next_marks(dialog: HatchDayDialog, hatching: Desk) -> None:
    press(dialog, ",KK")
    assert [record.at for record in records(hatching)] == [QUARTER, QUARTER]


def test_a_typed_time_counts_and_one_to_come_is_refused(dialog: HatchDayDialog, hatching: Desk) -> None:
    press(dialog, "W")
    assert dialog.at.field.hasFocus()
    dialog.at.set_instant(NOW + 7200)
    dialog.at.edited.emit()
    QTest.keyClick(dialog.at.field, Key.Key_Return)
    assert dialog.tray.hasFocus()
    press(dialog, "K")
    assert dialog.note.text() == "That time is still to come."
    dialog.at.set_instant(hatching.batch.set_at - 60)
    dialog.at.edited.emit()
    press(dialog, "K")
    assert dialog.note.text() == "The batch was not set yet at that time."
    assert records(hatching) == []


def test_several_eggs_are_marked_at_once_and_taken_back_as_one_step(
    dialog: HatchDayDialog, hatching: Desk
) -> None:
    for _ in range(2):
        QTest.keyClick(dialog.tray, Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    press(dialog, "K")
    assert marks(hatching) == {1: ["hatched"], 2: ["hatched"], 3: ["hatched"]}
    assert dialog.last.text() == "3 egg(s): hatched"  # plurals come with the translation, not loaded here
    QTest.keyClick(dialog.tray, Key.Key_Backspace)
    assert marks(hatching) == {}


def test_eggs_that_have_the_mark_keep_their_time_when_more_are_chosen(
    dialog: HatchDayDialog, hatching: Desk
) -> None:
    press(dialog, ",,K")
    dialog.tray.choose(hatching.eggs[0].uid)
    QTest.keyClick(dialog.tray, Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    press(dialog, "0K")
    first, second = hatching.eggs[0].uid, hatching.eggs[1].uid
    assert {record.egg: record.at for record in records(hatching)} == {first: QUARTER - 900, second: NOW}


def test_a_count_takes_the_eggs_that_pipped_longest(dialog: HatchDayDialog, hatching: Desk) -> None:
    dialog.tray.choose(hatching.eggs[4].uid)
    press(dialog, ",,J0")
    dialog.tray.choose(hatching.eggs[2].uid)
    press(dialog, "J3")
    assert [egg.egg.number for egg in dialog.tray.chosen()] == [1, 3, 5]
    assert dialog.title.text() == "3 chick(s)"
    assert dialog.story.text() == "Taken for A 1, A 3, B 1: pipped longest first, then by number."
    press(dialog, "K")
    hatched = [number for number, found in marks(hatching).items() if "hatched" in found]
    assert sorted(hatched) == [1, 3, 5]


def test_a_count_is_for_chicks_only(dialog: HatchDayDialog, hatching: Desk) -> None:
    press(dialog, "3J")
    assert dialog.note.text() == "A count is for chicks. Choose the eggs that pipped on the tray."
    assert records(hatching) == []


def test_a_count_of_more_than_there_are_is_said_and_backspace_mends_it(
    dialog: HatchDayDialog, hatching: Desk
) -> None:
    press(dialog, "28")
    assert "may still hatch" in dialog.note.text()
    QTest.keyClick(dialog.tray, Key.Key_Backspace)
    assert not dialog.note.isVisible()
    press(dialog, "K")
    assert len(records(hatching)) == 2


def test_a_number_and_enter_go_to_that_egg(dialog: HatchDayDialog, hatching: Desk) -> None:
    press(dialog, "12")
    QTest.keyClick(dialog.tray, Key.Key_Return)
    egg = dialog.current()
    assert egg is not None
    assert egg.egg.number == 12
    press(dialog, "99")
    QTest.keyClick(dialog.tray, Key.Key_Return)
    assert dialog.note.text() == "There is no egg 99 in this batch."


def test_escape_takes_a_count_away_before_it_leaves(dialog: HatchDayDialog, hatching: Desk) -> None:
    press(dialog, "3")
    QTest.keyClick(dialog.tray, Key.Key_Escape)
    assert dialog.isVisible()
    assert len(dialog.tray.chosen()) == 1
    QTest.keyClick(dialog.tray, Key.Key_Escape)
    assert not dialog.isVisible()


def test_space_gives_the_last_mark_again_and_enter_skips(dialog: HatchDayDialog, hatching: Desk) -> None:
    press(dialog, "J")
    QTest.keyClick(dialog.tray, Key.Key_Return)
    QTest.keyClick(dialog.tray, Key.Key_Space)
    assert marks(hatching) == {1: ["external_pip"], 3: ["external_pip"]}


def test_a_mark_given_twice_asks_before_its_time_changes(dialog: HatchDayDialog, hatching: Desk) -> None:
    press(dialog, ",K0")
    dialog.tray.choose(hatching.eggs[0].uid)
    press(dialog, "K")
    assert dialog.note.text().startswith("A 1 is noted as hatched at Sun 24 May 06:30 already")
    assert records(hatching)[0].at == QUARTER
    press(dialog, "K")
    assert [record.at for record in records(hatching)] == [NOW]


def test_backspace_takes_back_step_by_step_and_goes_to_the_egg(
    dialog: HatchDayDialog, hatching: Desk
) -> None:
    press(dialog, "JKL")
    for number in (3, 2, 1):
        QTest.keyClick(dialog.tray, Key.Key_Backspace)
        egg = dialog.current()
        assert egg is not None
        assert egg.egg.number == number
    assert records(hatching) == []
    assert dialog.last.text() == "Taken back: egg 1: external pip"


def test_backspace_never_takes_back_what_another_screen_did(dialog: HatchDayDialog, hatching: Desk) -> None:
    hatching.door.run(lambda journal: journal.batches.rename(hatching.batch, "Hens"))
    steps = len(hatching.journal.history.steps())
    QTest.keyClick(dialog.tray, Key.Key_Backspace)
    assert dialog.note.text() == "There is nothing of these eggs left to take back here."
    assert len(hatching.journal.history.steps()) == steps
    assert hatching.journal.batches.get(hatching.batch.uid).name == "Hens"


def test_ctrl_z_and_ctrl_shift_z_go_back_and_forth(dialog: HatchDayDialog, hatching: Desk) -> None:
    press(dialog, "J")
    QTest.keyClick(dialog.tray, Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert records(hatching) == []
    control_shift = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier
    QTest.keyClick(dialog.tray, Key.Key_Z, control_shift)
    assert marks(hatching) == {1: ["external_pip"]}


def test_a_clear_egg_that_hatched_is_stored_and_the_contradiction_is_said(
    dialog: HatchDayDialog, hatching: Desk
) -> None:
    dialog.tray.choose(hatching.eggs[8].uid)
    press(dialog, "K")
    assert marks(hatching) == {9: ["hatched"]}
    assert dialog.note.text() == "C 1: Candled clear, but it hatched."


def test_what_is_noted_is_undone_in_the_breeders_words(dialog: HatchDayDialog, hatching: Desk) -> None:
    press(dialog, "J")
    assert dialog.last.text() == "Egg 1: external pip"


def test_the_dialog_says_how_the_hatch_stands_against_the_due_time(
    dialog: HatchDayDialog, hatching: Desk
) -> None:
    assert spaced(dialog.facts.text()) == "26-05 Orchard hens, day 20.9, due Sun 24 May 09:00, in 2 h 24 min"
    press(dialog, "J")
    assert spaced(dialog.pane.first_pip.text()) == "day 20.9, 2 h before due"
    assert dialog.pane.chicks.text() == "0 of 8 eggs"
    press(dialog, ",,,,KK")
    assert dialog.pane.chicks.text() == "2 of 8 eggs"
    assert spaced(dialog.pane.spread.text()) == "0 min, first to last"


def test_cautions_stand_where_they_belong(dialog: HatchDayDialog) -> None:
    from hatchbook.desk.widgets.labels import Label

    texts = " ".join(label.text() for label in dialog.findChildren(Label))
    assert "Sick or weak chicks: ask a veterinarian." in texts
    assert "Never shut the vent" in texts
