"""Eggs taken out alive or broken: stored, put back, taken back."""

from __future__ import annotations

import pytest
from hatchbook.desk.opening.take_out import TakeOutDialog
from hatchbook.figures import batch_figures
from hatchbook.journal import Hatching, Removal
from hatchbook.trade.codes import Fate, HatchMark, RemovalReason
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot
from tests.desk.conftest import NOW, Desk

Key = Qt.Key


@pytest.fixture
def dialog(desk: Desk, qtbot: QtBot) -> TakeOutDialog:
    made = TakeOutDialog(desk.context, desk.batch, None)
    qtbot.addWidget(made)
    made.show()
    qtbot.waitExposed(made)
    made.activateWindow()
    made.tray.setFocus()
    return made


def press(dialog: TakeOutDialog, keys: str) -> None:
    for key in keys:
        QTest.keyClicks(dialog.tray, key)


def removals(desk: Desk) -> list[Removal]:
    return desk.journal.removals.of_batch(desk.batch.uid)


@pytest.mark.parametrize(
    ("key", "reason"), [("J", RemovalReason.TAKEN_OUT_ALIVE), ("K", RemovalReason.BROKEN)]
)
def test_a_key_takes_the_egg_out_and_the_cursor_stays(
    dialog: TakeOutDialog, desk: Desk, key: str, reason: RemovalReason
) -> None:
    dialog.tray.choose(desk.eggs[4].uid)
    press(dialog, key)
    (record,) = removals(desk)
    assert (record.egg, record.reason, record.at) == (desk.eggs[4].uid, reason, NOW)
    assert dialog.current().egg.number == 5  # type: ignore[union-attr]
    assert dialog.state.text().endswith(", Thu 14 May 14:00")
    assert dialog.progress.text() == "1 egg(s) taken out"
    counts = batch_figures(desk.journal, desk.batch.uid, NOW).counts
    assert counts[Fate.TAKEN_OUT] == 1


def test_a_note_goes_along_and_several_are_one_step(dialog: TakeOutDialog, desk: Desk) -> None:
    dialog.tray.choose(desk.eggs[0].uid)
    QTest.keyClick(dialog.tray, Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    press(dialog, "N")
    field = dialog.focusWidget()
    assert isinstance(field, QLineEdit)
    QTest.keyClicks(field, "under a hen")
    QTest.keyClick(field, Key.Key_Return)
    press(dialog, "J")
    assert [record.note for record in removals(desk)] == ["under a hen", "under a hen"]
    assert dialog.last.text() == "2 egg(s): taken out alive"
    assert dialog.note_field.text() == ""
    QTest.keyClick(dialog.tray, Key.Key_Backspace)
    assert removals(desk) == []


def test_del_puts_an_egg_back(dialog: TakeOutDialog, desk: Desk) -> None:
    press(dialog, "K")
    QTest.keyClick(dialog.tray, Key.Key_Delete)
    assert removals(desk) == []
    assert dialog.last.text() == "Egg 1 put back (broken by accident removed)"
    assert dialog.state.isHidden()
    QTest.keyClick(dialog.tray, Key.Key_Delete)
    assert dialog.note.text() == "None of the chosen eggs is taken out."


def test_another_reason_for_the_same_egg_is_asked_about_and_replaces_the_first(
    dialog: TakeOutDialog, desk: Desk
) -> None:
    press(dialog, "J")
    press(dialog, "K")
    assert dialog.note.text().startswith("A 1 is noted already: taken out alive, Thu 14 May 14:00.")
    press(dialog, "K")
    assert [record.reason for record in removals(desk)] == [RemovalReason.BROKEN]


def test_a_chick_is_not_taken_out_as_an_egg_without_being_asked(dialog: TakeOutDialog, desk: Desk) -> None:
    chick = Hatching(desk.eggs[2].uid, NOW - 60, HatchMark.HATCHED)
    desk.door.run(lambda journal: journal.hatchings.note(desk.batch.uid, [chick]))
    dialog.tray.choose(desk.eggs[2].uid)
    press(dialog, "J")
    assert dialog.note.text().startswith("A 3 has hatched.")
    assert removals(desk) == []
    press(dialog, "J")
    assert dialog.note.text() == "A 3: It hatched, but was also taken out as an egg."
