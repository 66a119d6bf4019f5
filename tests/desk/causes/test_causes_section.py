"""Causes on the page: weighed beside the window, and what the lines open."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from hatchbook.desk.causes.open_record import open_record
from hatchbook.desk.causes.section import CausesSection
from hatchbook.desk.dialogs.egg_sheet import EggSheet
from hatchbook.desk.dialogs.log_event import LogEventDialog
from hatchbook.figures import batch_view
from hatchbook.figures.cause_results import RecordRef
from hatchbook.journal import BreakOut, Hatching, PastBatch
from hatchbook.trade.codes import BreakOutResult, BreakOutSign, EventKind, HatchMark
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot
from tests.desk.conftest import DAY, SET_AT, Desk


@pytest.fixture
def finished(desk: Desk) -> Desk:
    """Seven of twelve hatch, five die late and are wet."""
    journal, batch, eggs = desk.journal, desk.batch, desk.eggs
    desk.clock.at = SET_AT + 24 * DAY
    journal.hatchings.note(
        batch.uid, [Hatching(eggs[n].uid, SET_AT + 21 * DAY + n, HatchMark.HATCHED) for n in range(7)]
    )
    journal.break_outs.keep_all(
        batch.uid,
        [BreakOut(eggs[n].uid, SET_AT + 22 * DAY, BreakOutResult.LATE_DEAD) for n in range(7, 12)],
        signs=[BreakOutSign.WET],
    )
    journal.batches.close(journal.batches.get(batch.uid), SET_AT + 23 * DAY)
    return desk


@pytest.fixture
def section(finished: Desk, qtbot: QtBot) -> Iterator[CausesSection]:
    section = CausesSection(finished.context)
    qtbot.addWidget(section)
    section.resize(760, 300)
    section.show()
    yield section
    section.show_view(None, None)


def show(section: CausesSection, desk: Desk, qtbot: QtBot) -> None:
    section.show_view(*batch_view(desk.journal, desk.batch.uid, desk.context.now()))
    qtbot.waitUntil(lambda: section.state.text().startswith("weighed"))


def test_the_page_is_there_before_the_causes_are(section: CausesSection, finished: Desk) -> None:
    section.show_view(*batch_view(finished.journal, finished.batch.uid, finished.context.now()))
    assert section.state.text() == "weighing the causes…"
    assert not section.table.isVisible()
    assert not section.summary.isVisible()


def test_the_causes_are_shown_when_they_are_weighed(
    section: CausesSection, finished: Desk, qtbot: QtBot
) -> None:
    show(section, finished, qtbot)
    assert section.state.text() == "weighed from this journal; a guide, not a verdict"
    assert section.table.isVisible()
    assert section.table.causes.rowCount() > 3


def test_causes_that_nothing_speaks_for_come_on_demand(
    section: CausesSection, finished: Desk, qtbot: QtBot
) -> None:
    show(section, finished, qtbot)
    hidden = section.table.without_case
    assert hidden > 0
    assert section.more.label() == f"Show {hidden} cause(s) more that nothing speaks for"
    section.more.click()
    assert section.more.label() == "Hide the causes that nothing speaks for"


def test_another_batch_shows_nothing_of_the_first(
    section: CausesSection, finished: Desk, qtbot: QtBot
) -> None:
    show(section, finished, qtbot)
    section.show_view(None, None)
    assert not section.table.isVisible()
    assert section.state.text() == ""


def test_a_batch_deleted_meanwhile_is_no_error(section: CausesSection, finished: Desk, qtbot: QtBot) -> None:
    section.show_view(*batch_view(finished.journal, finished.batch.uid, finished.context.now()))
    finished.journal.batches.delete(finished.journal.batches.get(finished.batch.uid))
    qtbot.wait(120)
    assert not section.table.isVisible()


# -------------------------------------------------------------------- records


def dialogs(parent: QWidget, kind: type[Any]) -> list[Any]:
    return parent.findChildren(kind)


def test_an_opened_egg_opens_its_sheet(finished: Desk, qtbot: QtBot) -> None:
    window = QWidget()
    qtbot.addWidget(window)
    (first, *_rest) = finished.journal.break_outs.of_batch(finished.batch.uid)
    open_record(finished.context, RecordRef("break_out", first.uid, first.at), window)
    (sheet,) = dialogs(window, EggSheet)
    sheet.close()


def test_an_event_opens_its_form(finished: Desk, qtbot: QtBot) -> None:
    window = QWidget()
    qtbot.addWidget(window)
    vent = next(one for one in finished.journal.events.all() if one.kind is EventKind.VENT)
    open_record(finished.context, RecordRef("event", vent.uid, vent.at), window)
    (form,) = dialogs(window, LogEventDialog)
    form.close()


def test_another_batch_is_chosen_and_an_instant_is_shown(finished: Desk, qtbot: QtBot) -> None:
    window = QWidget()
    qtbot.addWidget(window)
    context = finished.context
    with qtbot.waitSignal(context.instant_shown) as shown:
        open_record(context, RecordRef("instant", "", SET_AT + 5), window)
    assert shown.args == [SET_AT + 5]
    context.choose_batch(None)
    open_record(context, RecordRef("batch", finished.batch.uid, SET_AT), window)
    assert context.batch == finished.batch.uid


def test_a_batch_from_paper_is_chosen_too(finished: Desk, qtbot: QtBot) -> None:
    window = QWidget()
    qtbot.addWidget(window)
    paper = PastBatch("19-01", 2019, "hen", 20, hatched=15)
    finished.journal.past_batches.add(paper)
    open_record(finished.context, RecordRef("past_batch", paper.uid, SET_AT), window)
    assert finished.context.batch == paper.uid


def test_a_record_that_is_gone_opens_nothing(finished: Desk, qtbot: QtBot) -> None:
    window = QWidget()
    qtbot.addWidget(window)
    for kind in ("break_out", "egg", "batch", "past_batch", "event"):
        open_record(finished.context, RecordRef(kind, "gone", SET_AT), window)
    assert window.findChildren(QWidget) == []
    assert finished.context.batch == finished.batch.uid
