"""The Seasons page over a journal: it compares on the worker, follows changes, filters, opens and writes files."""

from __future__ import annotations

from pathlib import Path

import pytest
from hatchbook.desk import settings
from hatchbook.desk.actions import Actions
from hatchbook.desk.left.batch_pane import BatchPane
from hatchbook.desk.seasons.page import SeasonsPage
from hatchbook.figures.comparison_results import Standing
from hatchbook.figures.comparison_rows import Grouping
from hatchbook.journal import PastBatch
from hatchbook.statistics.tallies import RateKind
from hatchbook.trade.codes import HatchMark
from PySide6.QtCore import Qt
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot
from tests.desk.conftest import DAY, SET_AT, Desk
from tests.desk.seasons.pages import SlowWorker, fill, filter_by, row_of, shown


@pytest.fixture
def page(desk: Desk, qtbot: QtBot) -> SeasonsPage:
    fill(desk)
    return shown(desk, qtbot)


def test_it_says_what_it_found_and_marks_it_in_the_table(page: SeasonsPage) -> None:
    assert page.story.headline.text().startswith(
        "From Brook fewer of the fertile eggs hatch than from Orchard:"
    )
    assert page.story.odds.text().startswith("That is more than chance: ")
    figures = page.figures
    assert figures is not None
    assert figures.question.species == "hen"
    line = page.table.groups.line(row_of(page, "Brook"))
    assert line.row is not None
    assert line.row.rates[RateKind.HATCH_OF_FERTILE].standing is Standing.LOWER
    assert page.charts.has_charts
    assert page.header.facts.text().startswith("10 finished batch(es)")
    assert page.header.busy.text() == ""


def test_a_row_filters_charts_and_list_until_all_are_wanted_again(
    page: SeasonsPage, desk: Desk, qtbot: QtBot
) -> None:
    holder = QWidget()
    qtbot.addWidget(holder)
    pane = BatchPane(desk.context, Actions(holder))
    qtbot.addWidget(pane)
    pane.reload()
    pane.show()
    before = len(pane.list.batches.indices())

    def points() -> int:
        assert page.charts.points.material is not None
        return len(page.charts.points.material.points)

    filter_by(page, qtbot, "Brook")
    assert points() == 5
    assert page.filter_note.text() == "Charts and list show only Brook: 5 batch(es)."
    assert len(pane.list.batches.indices()) == 5
    assert pane.filter_note.isVisible()
    assert pane.filter_note.text() == "Only Brook"
    pane.filter_note.link_clicked.emit()
    assert points() == 10
    assert len(pane.list.batches.indices()) == before
    assert not pane.filter_note.isVisible()
    filter_by(page, qtbot, "2023")
    assert (points(), len(pane.list.batches.indices())) == (4, 4)
    page.filter_note.link_clicked.emit()
    assert (points(), len(pane.list.batches.indices())) == (10, before)


def test_the_list_shows_all_batches_beside_other_pages(page: SeasonsPage, desk: Desk, qtbot: QtBot) -> None:
    told: list[object] = []
    desk.context.batches_filtered.connect(lambda uids, _name: told.append(uids))
    filter_by(page, qtbot, "Brook")
    page.hide()
    assert told[-1] is None
    page.show()
    assert told[-1] is not None


def test_it_follows_changes_while_it_is_shown_and_later_when_it_is_not(
    page: SeasonsPage, desk: Desk, qtbot: QtBot
) -> None:
    def add(label: str) -> None:
        batch = PastBatch(label, 2025, "hen", 30, clear=3, hatched=22)
        desk.door.run(lambda journal: journal.past_batches.add(batch))

    add("x1")
    qtbot.waitUntil(lambda: page.figures is not None and page.figures.batches == 11)
    page.hide()
    add("x2")
    assert not page.work.is_busy
    page.show()
    page.show_page()
    qtbot.waitUntil(lambda: page.figures is not None and page.figures.batches == 12)
    asked: list[object] = []
    page.work.busy_changed.connect(asked.append)
    desk.door.run(lambda journal: journal.batches.rename(desk.batch, "Other"))
    qtbot.waitUntil(lambda: asked == [True, False])
    desk.door.run(
        lambda journal: journal.events.add(
            journal.events.all()[0].__class__(SET_AT, "note", batch=desk.batch.uid)
        )
    )
    assert len(asked) == 2  # an event changes no comparison


def test_a_batch_closed_meanwhile_comes_in(page: SeasonsPage, desk: Desk, qtbot: QtBot) -> None:
    assert page.figures is not None
    assert page.figures.running == 1
    eggs = [egg.uid for egg in desk.eggs]
    desk.door.run(
        lambda journal: journal.hatchings.note_marks(
            desk.batch.uid, eggs, HatchMark.HATCHED, SET_AT + 21 * DAY
        )
    )
    desk.door.run(lambda journal: journal.batches.close(desk.batch, SET_AT + 22 * DAY))
    qtbot.waitUntil(lambda: page.figures is not None and page.figures.batches == 11)
    assert page.figures.running == 0
    opened: list[str] = []
    page.batch_opened.connect(opened.append)
    qtbot.keyClick(page.charts.order, Qt.Key.Key_End)
    qtbot.keyClick(page.charts.order, Qt.Key.Key_Return)
    assert opened == [desk.batch.uid]


def test_another_question_is_answered_and_kept(page: SeasonsPage, desk: Desk, qtbot: QtBot) -> None:
    combo = page.header.second
    combo.setCurrentIndex(combo.findText("nothing else"))
    combo.activated.emit(combo.currentIndex())
    qtbot.waitUntil(lambda: page.figures is not None and len(page.figures.sections) == 1)
    assert page.figures is not None
    assert page.figures.question.groupings == (Grouping.PEN,)
    assert desk.context.settings.get(settings.SEASONS_QUESTION) == "hatch_of_fertile:pen"
    other = shown(desk, qtbot)
    assert other.header.question.groupings == (Grouping.PEN,)


def test_a_filter_stays_with_its_group_through_other_questions(page: SeasonsPage, qtbot: QtBot) -> None:
    filter_by(page, qtbot, "Brook")
    combo = page.header.outcome
    combo.setCurrentIndex(combo.findText("Dead late, of fertile"))
    combo.activated.emit(combo.currentIndex())
    qtbot.waitUntil(lambda: page.figures is not None and page.figures.question.outcome is RateKind.LATE_DEAD)
    assert page.charts.points.material is not None
    assert len(page.charts.points.material.points) == 5
    assert page.story.headline.text().startswith("From Brook more of the fertile eggs die late than")
    first = page.header.first
    first.setCurrentIndex(first.findText("Machine"))
    first.activated.emit(first.currentIndex())
    qtbot.waitUntil(
        lambda: page.figures is not None and page.figures.question.groupings[0] is Grouping.MACHINE
    )
    assert len(page.charts.points.material.points) == 10  # the pens are no longer told apart


def test_it_never_waits_and_only_the_latest_question_is_answered(desk: Desk, qtbot: QtBot) -> None:
    fill(desk)
    worker = SlowWorker()
    desk.context.worker = worker
    page = SeasonsPage(desk.context, Actions(worker))
    qtbot.addWidget(page)
    page.show()
    page.show_page()
    assert page.header.busy.text() == "comparing…"
    assert page.figures is None
    combo = page.header.outcome
    for text in ("Fertile, of set", "Hatched, of set"):
        combo.setCurrentIndex(combo.findText(text))
        combo.activated.emit(combo.currentIndex())
    assert len(worker.waiting) == 3
    assert [task.cancelled for task, _work in worker.waiting] == [True, True, False]
    worker.run_all()
    qtbot.waitUntil(lambda: page.figures is not None)
    assert page.figures is not None
    assert page.figures.question.outcome is RateKind.HATCH_OF_SET
    assert page.header.busy.text() == ""


def test_a_journal_without_a_finished_batch_says_so(desk: Desk, qtbot: QtBot) -> None:
    page = shown(desk, qtbot)
    assert page.story.headline.text() == "No batch is finished yet."
    assert page.story.rest.text().startswith("Batches stand here once they are closed.")
    assert not page.parts.isVisible()  # no empty table
    assert not page.header.export.isEnabled()


def test_with_one_finished_batch_the_table_stays(desk: Desk, qtbot: QtBot) -> None:
    desk.journal.past_batches.add(PastBatch("one", 2025, "hen", 30, clear=3, hatched=22))
    page = shown(desk, qtbot)
    assert page.table.groups.rowCount() > 3
    assert not page.charts.has_charts
    assert page.charts.too_few.text().endswith("you have 1.")


def test_table_and_picture_are_written_where_one_says(
    page: SeasonsPage, tmp_path: Path, qtbot: QtBot
) -> None:
    table, picture = tmp_path / "t.csv", tmp_path / "p.png"
    page.keeping.export_table_as(str(table))
    qtbot.waitUntil(table.exists)
    assert "Brook" in table.read_text(encoding="utf-8-sig")
    page.keeping.save_picture_as(str(picture))
    image = QImage(str(picture))
    assert image.width() > 1500
    page.keeping.save_picture_as(str(tmp_path / "gone" / "p.png"))
    assert page.trouble.isVisible()
    assert "could not be saved" in page.trouble.text()
    page.keeping.export_table_as(str(tmp_path / "gone" / "t.csv"))
    qtbot.waitUntil(lambda: "could not be written" in page.trouble.text())


def test_another_journal_is_compared_anew(
    page: SeasonsPage, desk: Desk, tmp_path: Path, qtbot: QtBot
) -> None:
    from hatchbook.journal import Journal

    filter_by(page, qtbot, "Brook")
    with Journal.create(tmp_path / "other.hatchbook") as other:
        for at in range(4):
            other.past_batches.add(PastBatch(f"d{at}", 2025, "duck", 20, clear=2, hatched=15))
    desk.door.take(Journal.open(tmp_path / "other.hatchbook"))
    qtbot.waitUntil(lambda: page.figures is not None and page.figures.question.species == "duck")
    assert page.figures is not None
    assert page.figures.batches == 4
    assert not page.filter_note.isVisible()


def test_the_batch_of_the_window_is_ringed_in_the_charts(page: SeasonsPage, desk: Desk) -> None:
    assert page.charts.points.chosen == desk.batch.uid
    desk.context.choose_batch("another")
    assert page.charts.points.chosen == "another"


def test_focus_goes_to_the_table_first(page: SeasonsPage, qtbot: QtBot) -> None:
    page.activateWindow()
    page.focus_first()
    qtbot.waitUntil(lambda: page.focusWidget() is page.table)
    assert page.table.currentIndex().isValid()
