"""Changing the days of early, mid and late by keyboard, and what happens to bad input."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hatchbook.desk.dialogs.stage_bounds import StageBoundsDialog
from hatchbook.figures import batch_figures
from hatchbook.journal import BreakOut
from hatchbook.trade.codes import BreakOutResult, Fate
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot
from shiboken6 import isValid
from tests.desk.conftest import DAY, SET_AT, Desk


def opened(desk: Desk, qtbot: QtBot) -> StageBoundsDialog:
    dialog = StageBoundsDialog(desk.context, desk.journal.batches.get(desk.batch.uid), None)
    dialog.open()
    qtbot.waitExposed(dialog)
    return dialog


def type_into(field: QLineEdit, text: str) -> None:
    field.setFocus()
    field.selectAll()
    QTest.keyClicks(field, text)


def stored(desk: Desk) -> tuple[float, float]:
    batch = desk.journal.batches.get(desk.batch.uid)
    return batch.early_until_day, batch.mid_until_day


def test_other_days_are_typed_and_stored_by_keyboard(desk: Desk, qtbot: QtBot) -> None:
    dialog = opened(desk, qtbot)
    assert (dialog.early.text(), dialog.mid.text()) == ("7", "14")
    type_into(dialog.early, "6")
    type_into(dialog.mid, "17")
    assert dialog.follows.text() == "Early: days 1–6, mid: 7–17, late: 18–21"
    QTest.keyClick(dialog.mid, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: not isValid(dialog) or not dialog.isVisible())
    assert stored(desk) == (6.0, 17.0)
    desk.door.undo()
    assert stored(desk) == (7.0, 14.0)


def test_losses_are_sorted_anew(desk: Desk, qtbot: QtBot) -> None:
    egg = desk.eggs[0]
    at = SET_AT + 10 * DAY
    desk.journal.candlings.note_findings(*_dead(desk, egg.uid, at))
    desk.journal.break_outs.keep(BreakOut(desk.eggs[1].uid, at, BreakOutResult.UNKNOWN))
    assert fate(desk) is Fate.MID_DEAD
    dialog = opened(desk, qtbot)
    type_into(dialog.early, "11")
    type_into(dialog.mid, "17")
    QTest.keyClick(dialog.mid, Qt.Key.Key_Return)
    assert fate(desk) is Fate.EARLY_DEAD


def _dead(desk: Desk, egg: str, at: int):  # type: ignore[no-untyped-def]
    from hatchbook.journal import Candling
    from hatchbook.trade.codes import FindingCode

    return Candling(desk.batch.uid, at), {egg: FindingCode.DEAD}, at


def fate(desk: Desk) -> Fate:
    figures = batch_figures(desk.journal, desk.batch.uid, desk.context.now())
    return next(egg.outcome.fate for egg in figures.eggs if egg.egg.uid == desk.eggs[0].uid)


@pytest.mark.parametrize(
    ("early", "mid", "said_early", "said_mid"),
    [
        ("0", "14", "after setting and before day 21", ""),
        ("30", "14", "after setting and before day 21", ""),
        ("7", "7", "", "after day 7 and before day 21"),
        ("7", "21", "", "after day 7 and before day 21"),
        ("a week", "14", "is not a number", ""),
        ("", "14", "There is no number here", ""),
    ],
)
def test_days_that_cannot_be_are_said_in_their_place(
    desk: Desk, qtbot: QtBot, early: str, mid: str, said_early: str, said_mid: str
) -> None:
    dialog = opened(desk, qtbot)
    dialog.early.setText(early)
    dialog.mid.setText(mid)
    QTest.keyClick(dialog.mid, Qt.Key.Key_Return)
    assert dialog.isVisible()
    assert said_early in dialog.early.accessibleDescription()
    assert said_mid in dialog.mid.accessibleDescription()
    assert bool(dialog.early.styleSheet()) == bool(said_early)
    assert bool(dialog.mid.styleSheet()) == bool(said_mid)
    assert dialog.follows.text() == (
        dialog.early.accessibleDescription() or dialog.mid.accessibleDescription()
    )
    assert dialog.early.text() == early
    assert stored(desk) == (7.0, 14.0)
    dialog.reject()


def test_the_customary_days_scale_with_the_incubation(desk: Desk, qtbot: QtBot) -> None:
    batch = replace(desk.journal.batches.get(desk.batch.uid), incubation_days=28.0)
    dialog = StageBoundsDialog(desk.context, batch, None)
    assert dialog.customary.label() == "Customary: day 9.3 and day 18.7"
    dialog.customary.click()
    assert (dialog.early.text(), dialog.mid.text()) == ("9.33", "18.67")
    assert dialog.follows.text().startswith("Early: up to day 9.3")
    dialog.open()
    QTest.keyClick(dialog.mid, Qt.Key.Key_Return)
    assert stored(desk) == pytest.approx((28 / 3, 56 / 3), abs=1e-12)


def test_a_batch_that_has_gone_meanwhile_is_told(desk: Desk, qtbot: QtBot) -> None:
    dialog = opened(desk, qtbot)
    desk.journal.batches.delete(desk.journal.batches.get(desk.batch.uid))
    type_into(dialog.mid, "15")
    QTest.keyClick(dialog.mid, Qt.Key.Key_Return)
    assert dialog.isVisible()
    assert "not stored" in dialog.note.text()
    assert dialog.mid.text() == "15"
    dialog.reject()


def test_escape_leaves_everything_as_it_was(desk: Desk, qtbot: QtBot) -> None:
    dialog = opened(desk, qtbot)
    type_into(dialog.early, "5")
    QTest.keyClick(dialog, Qt.Key.Key_Escape)
    qtbot.waitUntil(lambda: not isValid(dialog) or not dialog.isVisible())
    assert stored(desk) == (7.0, 14.0)
