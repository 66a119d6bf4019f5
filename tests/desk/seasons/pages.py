"""A Seasons page over a small journal, for its tests."""

from __future__ import annotations

from hatchbook.desk.actions import Actions
from hatchbook.desk.seasons.page import SeasonsPage
from hatchbook.desk.tasks import Task, Work
from hatchbook.journal import PastBatch, Pen
from PySide6.QtCore import QObject, Qt
from pytestqt.qtbot import QtBot
from tests.desk.conftest import Desk


def fill(desk: Desk) -> None:
    """Two pens, of which one hatches far fewer, in batches known by their counts."""
    brook = Pen("Brook", species="hen")
    desk.journal.pens.add(brook)
    orchard = desk.journal.pens.by_name("Orchard")
    assert orchard is not None
    for pen, hatches in ((orchard, (23, 22, 24, 21, 23)), (brook, (14, 15, 12, 16, 14))):
        for at, hatched in enumerate(hatches):
            desk.journal.past_batches.add(
                PastBatch(
                    f"{pen.name[0]}{at}",
                    2022 + at % 3,
                    "hen",
                    30,
                    pen=pen.uid,
                    clear=3,
                    late_dead=27 - hatched,
                    hatched=hatched,
                )
            )


def shown(desk: Desk, qtbot: QtBot) -> SeasonsPage:
    holder = QObject()
    page = SeasonsPage(desk.context, Actions(holder))
    page.holder = holder  # type: ignore[attr-defined]
    qtbot.addWidget(page)
    page.resize(1084, 760)
    page.show()
    page.show_page()
    qtbot.waitUntil(lambda: not page.work.is_busy)
    return page


def row_of(page: SeasonsPage, name: str) -> int:
    model = page.table.groups
    return next(row for row in range(model.rowCount()) if model.index(row, 0).data() == name)


def filter_by(page: SeasonsPage, qtbot: QtBot, name: str) -> None:
    page.table.setCurrentIndex(page.table.groups.index(row_of(page, name), 0))
    qtbot.keyClick(page.table, Qt.Key.Key_Return)


class SlowWorker(QObject):
    """Runs what it was given only when the test says so."""

    def __init__(self) -> None:
        super().__init__()
        self.waiting: list[tuple[Task, Work]] = []

    def start(self, work: Work) -> Task:
        task = Task()
        self.waiting.append((task, work))
        return task

    def stop(self) -> None:
        self.waiting.clear()

    def run_all(self) -> None:
        for task, work in self.waiting:
            task.run(work)
