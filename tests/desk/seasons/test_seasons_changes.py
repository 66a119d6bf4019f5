"""The Seasons page while the journal changes, is closed, or another is opened; and the room of its parts."""

from __future__ import annotations

from pathlib import Path

import pytest
from hatchbook.desk.actions import Actions
from hatchbook.desk.seasons.page import SeasonsPage
from hatchbook.desk.seasons.story_pane import StoryPane
from hatchbook.desk.words.seasons import Story
from hatchbook.figures.comparison_rows import Grouping
from hatchbook.journal import Journal, PastBatch
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot
from tests.desk.conftest import Desk
from tests.desk.seasons.pages import SlowWorker, fill, filter_by, shown


@pytest.fixture
def page(desk: Desk, qtbot: QtBot) -> SeasonsPage:
    fill(desk)
    return shown(desk, qtbot)


@pytest.fixture
def slow(desk: Desk, qtbot: QtBot) -> tuple[SeasonsPage, SlowWorker]:
    """A page whose work is not done before the test says so."""
    fill(desk)
    worker = SlowWorker()
    desk.context.worker = worker
    page = SeasonsPage(desk.context, Actions(worker))
    qtbot.addWidget(page)
    page.show()
    page.show_page()
    return page, worker


def shows_nothing(page: SeasonsPage) -> bool:
    texts = (page.story.headline, page.story.odds, page.story.rest, page.header.facts, page.header.busy)
    return (
        not any(label.text() for label in texts)
        and page.figures is None
        and page.table.groups.rowCount() == 0
        and not page.charts.has_charts
        and not page.parts.isVisible()
        and not page.header.export.isEnabled()
    )


def test_a_change_taken_back_is_taken_back_on_the_page(page: SeasonsPage, desk: Desk, qtbot: QtBot) -> None:
    before = page.story.accessibleDescription()
    batch = PastBatch("x1", 2025, "hen", 30, clear=3, hatched=2)
    desk.door.run(lambda journal: journal.past_batches.add(batch))
    qtbot.waitUntil(lambda: page.figures is not None and page.figures.batches == 11)
    desk.door.undo()
    qtbot.waitUntil(lambda: page.figures is not None and page.figures.batches == 10)
    assert page.story.accessibleDescription() == before
    desk.door.redo()
    qtbot.waitUntil(lambda: page.figures is not None and page.figures.batches == 11)


def test_a_closed_journal_leaves_nothing_behind(page: SeasonsPage, desk: Desk, qtbot: QtBot) -> None:
    filter_by(page, qtbot, "Brook")
    desk.door.take(None)
    assert shows_nothing(page)
    assert not page.filter_note.isVisible()
    assert page.charts.points.point is None


def test_a_journal_closed_while_it_is_compared_leaves_nothing_behind(
    slow: tuple[SeasonsPage, SlowWorker], desk: Desk, qtbot: QtBot
) -> None:
    page, worker = slow
    assert page.work.is_busy
    desk.door.take(None)
    worker.run_all()
    qtbot.wait(20)
    assert not page.work.is_busy
    assert shows_nothing(page)


def test_another_journal_opened_while_one_is_compared_is_the_one_that_is_told_of(
    slow: tuple[SeasonsPage, SlowWorker], desk: Desk, tmp_path: Path, qtbot: QtBot
) -> None:
    page, worker = slow
    with Journal.create(tmp_path / "other.hatchbook") as other:
        for at in range(4):
            other.past_batches.add(PastBatch(f"d{at}", 2025, "duck", 20, clear=2, hatched=15))
    desk.door.take(Journal.open(tmp_path / "other.hatchbook"))
    assert shows_nothing(page) or page.header.busy.text() == "comparing…"
    worker.run_all()
    qtbot.waitUntil(lambda: page.figures is not None)
    assert page.figures is not None
    assert (page.figures.batches, page.figures.question.species) == (4, "duck")


def test_another_question_before_the_first_answer_is_asked_of_the_usual_species(
    slow: tuple[SeasonsPage, SlowWorker], desk: Desk, qtbot: QtBot
) -> None:
    page, worker = slow
    desk.journal.past_batches.add(PastBatch("d1", 2025, "duck", 20, clear=2, hatched=15))
    page.header.first.setCurrentIndex(page.header.first.findData(Grouping.MACHINE))
    page.header.first.activated.emit(page.header.first.currentIndex())
    worker.run_all()
    qtbot.waitUntil(lambda: page.figures is not None)
    assert page.figures is not None
    assert (page.figures.question.species, page.figures.question.groupings[0]) == ("hen", Grouping.MACHINE)


# ---------------------------------------------------------------- room


def test_the_table_takes_what_its_rows_need_until_the_line_is_moved(page: SeasonsPage) -> None:
    assert page.parts.sizes()[0] == page.table.wanted_height()
    page.resize(page.width(), 420)
    assert page.parts.sizes()[0] < page.table.wanted_height()
    assert page.charts.isVisible()
    page.resize(page.width(), 760)
    page.parts.splitterMoved.emit(200, 1)
    kept = page.parts.sizes()
    page.table.sort_by(0)
    page.keeping.figures = page.figures
    page.show_page()
    assert page.parts.sizes() == kept


STORY = Story(
    "Strong.", "Its odds.", tuple(f"Sentence number {number} of what else there is." for number in range(6))
)


@pytest.fixture
def story(qtbot: QtBot) -> StoryPane:
    pane = StoryPane()
    qtbot.addWidget(pane)
    pane.resize(700, 120)
    pane.show_story(STORY)
    pane.show()
    return pane


def test_what_does_not_fit_three_lines_opens_by_keyboard(story: StoryPane, qtbot: QtBot) -> None:
    shown = story.rest.text()
    assert shown.startswith("Sentence number 0")
    assert "number 5" not in shown
    assert story.more.isVisible()
    assert "number 5" in story.more.accessibleDescription()
    assert story.accessibleDescription() == STORY.text
    story.more.setFocus()
    qtbot.keyClick(story.more, Qt.Key.Key_Return)
    assert "number 5" in story.rest.text()
    assert story.more.label() == "less"
    qtbot.keyClick(story.more, Qt.Key.Key_Space)
    assert story.rest.text() == shown


def test_a_wider_page_shows_more_of_the_story(story: StoryPane) -> None:
    story.resize(4000, 120)
    assert not story.more.isVisible()
    assert "number 5" in story.rest.text()
    story.resize(200, 300)
    assert story.rest.text() == STORY.rest[0]
    assert story.more.isVisible()


def test_another_story_is_folded_again(story: StoryPane) -> None:
    story.more.click()
    story.show_story(Story("Other.", "", STORY.rest))
    assert "number 5" not in story.rest.text()
    story.show_story(Story("All there is."))
    assert not story.rest.isVisible()
    assert not story.more.isVisible()
