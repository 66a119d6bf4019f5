"""The batch on its hatch day: eight eggs alive, three clear, one dead."""

from __future__ import annotations

import pytest
from hatchbook.desk.hatching.hatch_day import HatchDayDialog
from hatchbook.journal import Candling, Hatching
from hatchbook.trade.codes import FindingCode
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot
from tests.desk.conftest import DAY, SET_AT, Desk

#: Day 20.9, in the quarter of an hour after 06:30 in Lisbon: 06:36 on 24 May.
NOW = SET_AT + 20 * DAY + 21 * 3600 + 36 * 60
QUARTER = NOW - 6 * 60


@pytest.fixture
def hatching(desk: Desk) -> Desk:
    """The desk's journal on day 20.9, candled on day 18."""
    desk.clock.at = NOW
    codes = dict.fromkeys((egg.uid for egg in desk.eggs[:8]), FindingCode.ALIVE)
    codes |= dict.fromkeys((egg.uid for egg in desk.eggs[8:11]), FindingCode.CLEAR)
    codes[desk.eggs[11].uid] = FindingCode.DEAD
    candling = Candling(desk.batch.uid, SET_AT + 18 * DAY)
    desk.journal.candlings.note_findings(candling, codes, candling.at)
    return desk


@pytest.fixture
def dialog(hatching: Desk, qtbot: QtBot) -> HatchDayDialog:
    """The dialog over it, shown and with the focus on the tray."""
    made = HatchDayDialog(hatching.context, hatching.batch, None)
    # The test looks at it after it has been left.
    made.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)
    qtbot.addWidget(made)
    made.show()
    qtbot.waitExposed(made)
    made.activateWindow()
    made.tray.setFocus()
    return made


def marks(desk: Desk) -> dict[int, list[str]]:
    """The marks by egg number."""
    numbers = {egg.uid: egg.number for egg in desk.eggs}
    found: dict[int, list[str]] = {}
    for record in records(desk):
        found.setdefault(numbers[record.egg], []).append(str(record.mark))
    return found


def records(desk: Desk) -> list[Hatching]:
    """The hatching records, oldest first."""
    return desk.journal.hatchings.of_batch(desk.batch.uid)


def spaced(text: str) -> str:
    """A text with plain blanks for those that keep a number and its unit together."""
    return text.replace("\u00a0", " ")
