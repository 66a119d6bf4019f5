"""The page of a finished batch: what is weighed beside it follows every change, and never another batch."""

from __future__ import annotations

from collections.abc import Sequence

import pytest
from hatchbook.desk.actions import Actions
from hatchbook.desk.causes.causes_model import CAUSE_ROLE, Column
from hatchbook.desk.pages.batch_pages import BatchPages
from hatchbook.desk.pages.finished_page import FinishedPage
from hatchbook.figures.cause_results import RecordRef
from hatchbook.journal import Batch, BreakOut, Hatching, PastBatch
from hatchbook.trade.cause_codes import CauseCode
from hatchbook.trade.codes import BreakOutResult, BreakOutSign, HatchMark
from PySide6.QtCore import QObject
from pytestqt.qtbot import QtBot
from tests.desk.conftest import DAY, NOW, SET_AT, Desk, set_batch


def finish(desk: Desk, batch: Batch, signs: Sequence[BreakOutSign]) -> None:
    """Seven of twelve hatch, five die late and show signs."""
    journal, eggs = desk.journal, desk.journal.eggs.of_batch(batch.uid)
    out = [Hatching(eggs[n].uid, batch.set_at + 21 * DAY + n, HatchMark.HATCHED) for n in range(7)]
    journal.hatchings.note(batch.uid, out)
    late = [BreakOut(eggs[n].uid, batch.set_at + 22 * DAY, BreakOutResult.LATE_DEAD) for n in range(7, 12)]
    journal.break_outs.keep_all(batch.uid, late, signs=signs)
    journal.batches.close(journal.batches.get(batch.uid), batch.set_at + 23 * DAY)


@pytest.fixture
def pages(desk: Desk, qtbot: QtBot) -> BatchPages:
    """The pages, with the desk's batch finished: five died late and were wet."""
    desk.clock.at = SET_AT + 24 * DAY
    finish(desk, desk.batch, [BreakOutSign.WET])
    pages = BatchPages(desk.context, Actions(QObject(desk.context)))
    qtbot.addWidget(pages)
    pages.resize(1080, 760)
    pages.show()
    return pages


def weighed(page: FinishedPage) -> bool:
    return page.causes.state.text().startswith("weighed")


def shown(pages: BatchPages, uid: str, qtbot: QtBot) -> FinishedPage:
    pages.show_batch(uid)
    qtbot.waitUntil(lambda: weighed(pages.finished_page))
    return pages.finished_page


def speaks_for(page: FinishedPage, code: CauseCode) -> str:
    """What the table says for a cause; "" where it does not stand there."""
    model = page.causes.table.causes
    for row in range(model.rowCount()):
        if model.index(row, 0).data(CAUSE_ROLE).code is code:
            return str(model.index(row, Column.FOR).data())
    return ""


def test_the_evidence_follows_an_edit_and_its_undo(pages: BatchPages, desk: Desk, qtbot: QtBot) -> None:
    page = shown(pages, desk.batch.uid, qtbot)
    assert "5 of 5 opened late ones wet." in speaks_for(page, CauseCode.TOO_HUMID)
    first = desk.journal.break_outs.of_batch(desk.batch.uid)[0]
    desk.door.run(lambda journal: journal.break_outs.remove_with_marks(first))
    qtbot.waitUntil(lambda: weighed(page) and "4 of 4" in speaks_for(page, CauseCode.TOO_HUMID))
    desk.door.undo()
    qtbot.waitUntil(lambda: weighed(page) and "5 of 5" in speaks_for(page, CauseCode.TOO_HUMID))


def test_of_two_batches_shown_fast_only_the_later_one_is_told_of(
    pages: BatchPages, desk: Desk, qtbot: QtBot
) -> None:
    (machine,) = desk.journal.machines.all()
    other = set_batch(desk.journal, machine, "26-02", SET_AT - 60 * DAY)
    finish(desk, other, [BreakOutSign.DRY_AND_STUCK])
    pages.show_batch(desk.batch.uid)
    page = pages.finished_page
    pages.show_batch(other.uid)
    assert not page.causes.table.isVisible()
    told: list[str] = []
    page.causes.weighed.connect(lambda causes: told.append(causes.batch))
    qtbot.waitUntil(lambda: weighed(page))
    pages.show_batch(desk.batch.uid)
    assert not page.causes.table.isVisible()
    pages.show_batch(other.uid)
    qtbot.waitUntil(lambda: weighed(page))
    assert set(told) == {other.uid}
    assert speaks_for(page, CauseCode.TOO_HUMID) == ""
    assert "5 of 5 opened late ones dry and stuck." in speaks_for(page, CauseCode.TOO_DRY)


def test_batches_from_paper_count_among_the_others_at_once(
    pages: BatchPages, desk: Desk, qtbot: QtBot
) -> None:
    page = shown(pages, desk.batch.uid, qtbot)
    assert "others" not in page.rates.rates.of_set.foot()
    paper = PastBatch("19-01", 2019, "hen", 20, clear=2, late_dead=3, hatched=15)
    desk.door.run(lambda journal: journal.past_batches.add(paper))
    qtbot.waitUntil(lambda: weighed(page) and "others" in page.rates.rates.of_set.foot())
    assert page.rates.rates.of_set.foot().startswith("others 75")


def test_an_instant_is_shown_in_the_chart_below(pages: BatchPages, desk: Desk, qtbot: QtBot) -> None:
    page = shown(pages, desk.batch.uid, qtbot)
    bar = page._area.verticalScrollBar()
    qtbot.waitUntil(lambda: bar.maximum() > 0)
    bar.setValue(0)
    page.causes.table.record_opened.emit(RecordRef("instant", "", SET_AT + 4 * DAY))
    assert page.chart.chart.graph.cursor_of_days.at == SET_AT + 4 * DAY
    qtbot.waitUntil(lambda: bar.value() > 0)


def test_how_causes_are_weighed_is_explained(pages: BatchPages, desk: Desk, qtbot: QtBot) -> None:
    from hatchbook.desk.dialogs.explain import ExplanationDialog

    page = shown(pages, desk.batch.uid, qtbot)
    page.causes.how.click()
    (dialog,) = page.window().findChildren(ExplanationDialog)
    said = dialog.accessibleDescription()
    assert "4 points or more" in said
    assert "veterinarian" in said
    dialog.reject()


def test_a_batch_that_runs_is_not_weighed(desk: Desk, qtbot: QtBot) -> None:
    pages = BatchPages(desk.context, Actions(QObject(desk.context)))
    qtbot.addWidget(pages)
    assert desk.clock.at == NOW
    pages.show_batch(desk.batch.uid)
    assert pages.currentWidget() is pages.journal_page
