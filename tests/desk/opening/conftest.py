"""The batch on the day after its hatch: five hatched, three alive until day 18, three clear, one dead on day 14."""

from __future__ import annotations

import pytest
from hatchbook.desk.opening.open_unhatched import OpenUnhatchedDialog
from hatchbook.journal import BreakOut, Candling, Hatching
from hatchbook.trade.codes import FindingCode, HatchMark
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot
from tests.desk.conftest import DAY, SET_AT, Desk

NOW = SET_AT + 22 * DAY
LOOKS = (7, 14, 18)


@pytest.fixture
def opening(desk: Desk) -> Desk:
    """Eggs 1 to 5 hatched; 6, 7 and 8 did not; 9 to 11 were clear; 12 was dead on day 14."""
    desk.clock.at = NOW
    eggs = [egg.uid for egg in desk.eggs]
    for day in LOOKS:
        codes = dict.fromkeys(eggs[:8], FindingCode.ALIVE)
        if day == 7:
            codes |= dict.fromkeys(eggs[8:11], FindingCode.CLEAR) | {eggs[11]: FindingCode.ALIVE}
        if day == 14:
            codes[eggs[11]] = FindingCode.DEAD
        candling = Candling(desk.batch.uid, SET_AT + day * DAY)
        desk.journal.candlings.note_findings(candling, codes, candling.at)
    chicks = [Hatching(egg, SET_AT + 21 * DAY, HatchMark.HATCHED) for egg in eggs[:5]]
    desk.journal.hatchings.note(desk.batch.uid, chicks)
    return desk


@pytest.fixture
def dialog(opening: Desk, qtbot: QtBot) -> OpenUnhatchedDialog:
    """The dialog over it, shown and with the focus on the tray."""
    made = OpenUnhatchedDialog(opening.context, opening.batch, None)
    # The test looks at it after it has been left.
    made.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)
    qtbot.addWidget(made)
    made.show()
    qtbot.waitExposed(made)
    made.activateWindow()
    made.tray.setFocus()
    return made


def opened(desk: Desk) -> dict[int, BreakOut]:
    """What was stored of the opened eggs, by egg number."""
    numbers = {egg.uid: egg.number for egg in desk.eggs}
    return {numbers[one.egg]: one for one in desk.journal.break_outs.of_batch(desk.batch.uid)}


def codes_of(desk: Desk, number: int) -> set[str]:
    """The signs and malpositions stored of an opened egg."""
    return {mark.code for mark in desk.journal.break_outs.marks(opened(desk)[number].uid)}
