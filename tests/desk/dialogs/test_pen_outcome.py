"""The table of what came of a pen's eggs."""

from __future__ import annotations

from dataclasses import replace

from hatchbook.desk.dialogs.pen_outcome import PenOutcome
from hatchbook.journal import Candling, Pen, PenMember
from hatchbook.trade.codes import FindingCode
from pytestqt.qtbot import QtBot
from tests.desk.conftest import NOW, SET_AT, Desk


def shown(desk: Desk, qtbot: QtBot, pen: Pen) -> PenOutcome:
    made = PenOutcome(desk.context)
    qtbot.addWidget(made)
    made.show_pen(pen.uid)
    qtbot.wait(10)
    return made


def test_every_hen_has_a_row_with_counts_and_ranges(desk: Desk, qtbot: QtBot) -> None:
    pen = Pen("Brook")
    hen = PenMember(pen.uid, "Sedge", "female", ring="B1")
    desk.journal.pens.add(pen)
    desk.journal.pens.add_member(hen)
    desk.journal.eggs.change_many(
        [
            replace(egg, pen=pen.uid, dam=hen.uid if place < 4 else None)
            for place, egg in enumerate(desk.journal.eggs.of_batch(desk.batch.uid))
        ]
    )
    findings = {
        egg.uid: FindingCode.CLEAR if place == 0 else FindingCode.ALIVE
        for place, egg in enumerate(desk.journal.eggs.of_batch(desk.batch.uid))
    }
    desk.journal.candlings.note_findings(Candling(desk.batch.uid, SET_AT + 700_000), findings, NOW)
    desk.journal.batches.close(desk.journal.batches.get(desk.batch.uid), NOW)
    made = shown(desk, qtbot, pen)
    assert made.line.text().startswith("12 egg(s) in 1 batch(es) that are over. Fertile of set: 92\u00a0%")
    cells = [made.table.item(0, column) for column in range(3)]
    assert [cell.text() for cell in cells if cell] == ["Sedge, ring B1", "4", "75\u00a0% 30–95, 3 of 4"]
    second = made.table.item(1, 0)
    assert second is not None
    assert second.text() == "hen not noted"


def test_a_pen_without_eggs_shows_nothing(desk: Desk, qtbot: QtBot) -> None:
    pen = Pen("Brook")
    desk.journal.pens.add(pen)
    assert shown(desk, qtbot, pen).isHidden()
