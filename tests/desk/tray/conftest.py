"""Trays over a small journal."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from hatchbook.desk.pages.side_pane import SidePane
from hatchbook.desk.tray.arranging_tray import ArrangingTray
from hatchbook.figures import batch_figures
from pytestqt.qtbot import QtBot
from tests.desk.conftest import NOW, Desk

Places = dict[int, tuple[int, int, int] | None]


def places_of(desk: Desk) -> Places:
    """Number → place of the eggs as they are stored."""
    return {egg.number: egg.place for egg in desk.journal.eggs.of_batch(desk.batch.uid)}


def lay_loose(desk: Desk, *numbers: int) -> None:
    """Takes eggs off the tray."""
    uids = {egg.uid: None for egg in desk.eggs if egg.number in numbers}
    desk.journal.eggs.move_many(desk.batch.uid, uids)


@pytest.fixture
def tray(desk: Desk, qtbot: QtBot) -> ArrangingTray:
    """A tray by itself, on the screen, with the twelve eggs in three rows of four."""
    view = ArrangingTray()
    qtbot.addWidget(view)
    view.resize(300, 240)
    view.tray.show_view(batch_figures(desk.journal, desk.batch.uid, NOW))
    view.show()
    view.setFocus()
    return view


@pytest.fixture
def pane(desk: Desk, qtbot: QtBot) -> Callable[[], SidePane]:
    """Makes the pane beside the chart, which follows what is stored."""

    def make() -> SidePane:
        pane = SidePane(desk.context)
        qtbot.addWidget(pane)
        pane.resize(236, 600)
        pane.fit(1000)

        def show() -> None:
            pane.show_figures(batch_figures(desk.journal, desk.batch.uid, desk.context.now()))

        desk.door.changed.connect(lambda _change: show())
        show()
        with qtbot.waitActive(pane):
            pane.show()
            pane.activateWindow()
        pane.tray.setFocus()
        return pane

    return make


def with_trays(desk: Desk, trays: int) -> None:
    """Gives the batch's machine several trays."""
    machine = desk.journal.machines.get(desk.batch.machine)
    desk.journal.machines.replace(replace(machine, trays=trays))
