"""How the panes of the page lie, and how the machines are switched, in more or less room."""

from __future__ import annotations

import pytest
from hatchbook.desk.machines.body import MachineBody, Way
from hatchbook.desk.machines.header import MachineHeader
from hatchbook.desk.widgets.segmented import Segmented
from hatchbook.journal import Machine
from PySide6.QtWidgets import QComboBox, QWidget
from pytestqt.qtbot import QtBot


@pytest.fixture
def body(qtbot: QtBot) -> MachineBody:
    made = MachineBody(QWidget(), QWidget(), QWidget(), QWidget())
    qtbot.addWidget(made)
    made.show()
    return made


def test_what_has_no_room_beside_goes_below(body: MachineBody, qtbot: QtBot) -> None:
    line = body.fontMetrics().height()
    ways = {}
    for lines in (80, 45, 30):
        body.resize(lines * line, 600)
        ways[lines] = body.way
    assert ways == {80: Way.SIDE_BY_SIDE, 45: Way.CARE_BELOW, 30: Way.ONE_COLUMN}


def test_larger_text_takes_the_room_away(body: MachineBody, qtbot: QtBot) -> None:
    body.resize(70 * body.fontMetrics().height(), 600)
    assert body.way is Way.SIDE_BY_SIDE
    font = body.font()
    font.setPixelSize(2 * body.fontInfo().pixelSize())
    body.setFont(font)
    qtbot.waitUntil(lambda: body.way is not Way.SIDE_BY_SIDE)


def test_machines_that_have_no_room_side_by_side_go_into_a_list(qtbot: QtBot) -> None:
    header = MachineHeader()
    qtbot.addWidget(header)
    machines = [Machine("The machine in the dairy", 3, 4), Machine("The machine in the pantry", 3, 4)]
    header.resize(1600, 80)
    header.show()
    header.show_machines(machines, machines[1].uid)
    assert isinstance(header.switch, Segmented)
    assert header.switch.current() == machines[1].uid
    header.resize(700, 80)
    assert isinstance(header.switch, QComboBox)
    assert header.switch.currentData() == machines[1].uid
    with qtbot.waitSignal(header.machine_chosen) as told:
        header.switch.setCurrentIndex(0)
    assert told.args == [machines[0].uid]
