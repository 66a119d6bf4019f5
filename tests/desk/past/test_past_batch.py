"""A past batch is entered by its counts, changed, shown and deleted."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hatchbook.desk.actions import Actions
from hatchbook.desk.dialogs.explain import ExplanationDialog
from hatchbook.desk.dialogs.past_batch import PastBatchDialog
from hatchbook.desk.pages.batch_pages import BatchPages
from hatchbook.journal import PastBatch
from hatchbook.trade.codes import EggSource
from PySide6.QtCore import QObject, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit
from pytestqt.qtbot import QtBot
from tests.desk.conftest import Desk
from tests.desk.past.conftest import OpenPast

PAST = PastBatch(
    "19-03",
    2019,
    "hen",
    24,
    name="Spring",
    clear=4,
    infertile_opened=1,
    late_dead=2,
    hatched=14,
    note="Cold.",
)


def type_into(field: QLineEdit, text: str) -> None:
    field.setFocus()
    field.selectAll()
    QTest.keyClicks(field, text) if text else QTest.keyClick(field, Qt.Key.Key_Delete)
    QApplication.processEvents()


def fill(dialog: PastBatchDialog, **counts: str) -> None:
    for name, text in counts.items():
        type_into(dialog.counts.fields[name], text)


# ------------------------------------------------------------------ entering


def test_a_batch_is_entered_by_keyboard_with_its_rates_alongside(open_past: OpenPast, desk: Desk) -> None:
    dialog = open_past()
    type_into(dialog.identity.set_on, "14 Mar 2019")
    assert dialog.identity.season.text() == "2019"
    assert dialog.identity.label.text() == "19-01"
    fill(dialog, eggs_set="24", clear="3", late_dead="2", hatched="15")
    fertile = dialog.live.rates.fertile.figure()
    assert (fertile.value, fertile.spread, fertile.aside) == ("88", "69–96", "21 of 24")
    assert dialog.live.rates.of_fertile.figure().aside == "15 of 21"
    assert dialog.live.rates.of_set.figure().aside == "15 of 24"
    assert dialog.live.left.text() == "4 eggs more: their end is not known."
    QTest.keyClick(dialog.counts.fields["hatched"], Qt.Key.Key_Return)
    assert not dialog.isVisible()
    (batch,) = desk.journal.past_batches.all()
    assert (batch.label, batch.season, batch.set_on, batch.species) == ("19-01", 2019, "2019-03-14", "hen")
    assert (batch.eggs_set, batch.clear, batch.late_dead, batch.hatched, batch.rotten) == (24, 3, 2, 15, None)
    assert batch.source is EggSource.OWN
    assert desk.context.batch == batch.uid
    desk.door.undo()
    assert desk.journal.past_batches.all() == []


def test_counts_that_cannot_be_are_said_beside_them_and_kept_from_the_journal(
    open_past: OpenPast, desk: Desk
) -> None:
    dialog = open_past()
    dialog.store.click()
    assert dialog.counts._lines["eggs_set"].trouble() == "Enter how many eggs were set."
    fill(dialog, eggs_set="12", clear="4", hatched="9")
    sentence = "The counts add up to 13, but 12 eggs were set."
    assert dialog.counts._lines["eggs_set"].trouble() == sentence
    assert dialog.live.rates.fertile.figure().value == "–"
    dialog.store.click()
    assert dialog.isVisible()
    assert dialog.focusWidget() is dialog.counts.fields["eggs_set"]
    fill(dialog, hatched="some")
    assert dialog.counts._lines["hatched"].trouble() == "“some” is no number of eggs."
    fill(dialog, hatched="8", infertile_opened="5")
    sentence = "5 were opened and infertile, but only 4 were clear."
    assert dialog.counts._lines["infertile_opened"].trouble() == sentence
    fill(dialog, infertile_opened="")
    assert dialog.counts.first_trouble() is None
    assert desk.journal.past_batches.all() == []
    dialog.store.click()
    assert len(desk.journal.past_batches.all()) == 1


@pytest.mark.parametrize(
    ("field", "text", "line", "sentence"),
    [
        ("season", "spring", "season_line", "“spring” is no year."),
        ("season", "2031", "season_line", "This season has not come yet."),
        ("season", "", "season_line", "Enter the year of the season."),
        ("set_on", "31 Feb 2019", "set_on_line", "There is no day “31 Feb 2019”."),
        ("set_on", "1 Dec 2026", "set_on_line", "This day has not come yet."),
        ("label", "26-05", "label_line", "Another batch has this number."),
        ("label", "", "label_line", "Give the batch a number."),
    ],
)
def test_what_a_batch_was_is_checked_where_it_is_typed(
    open_past: OpenPast, desk: Desk, field: str, text: str, line: str, sentence: str
) -> None:
    dialog = open_past()
    fill(dialog, eggs_set="12")
    type_into(getattr(dialog.identity, field), text)
    dialog.store.click()
    assert dialog.isVisible()
    assert getattr(dialog.identity, line).trouble() == sentence
    assert dialog.focusWidget() is getattr(dialog.identity, field)


def test_a_day_of_another_season_is_said(open_past: OpenPast) -> None:
    dialog = open_past()
    type_into(dialog.identity.season, "2014")
    type_into(dialog.identity.set_on, "14 Mar 2019")
    fill(dialog, eggs_set="12")
    dialog.store.click()
    assert dialog.identity.season_line.trouble() == "The day on which it was set is not of this season."


def test_several_are_entered_one_after_the_other(open_past: OpenPast, desk: Desk) -> None:
    dialog = open_past()
    type_into(dialog.identity.season, "2018")
    type_into(dialog.identity.breed, "Marans")
    dialog.identity.pen.show_value(desk.journal.pens.all()[0].uid)
    fill(dialog, eggs_set="12", hatched="9")
    dialog.another.click()
    assert dialog.isVisible()
    assert dialog.note.text() == "Batch 18-01 is added."
    assert dialog.counts.fields["eggs_set"].text() == ""
    assert (dialog.identity.label.text(), dialog.identity.breed.text()) == ("18-02", "Marans")
    fill(dialog, eggs_set="18", hatched="11")
    dialog.store.click()
    batches = desk.journal.past_batches.all()
    assert [(one.label, one.eggs_set, one.breed) for one in batches] == [
        ("18-02", 18, "Marans"), ("18-01", 12, "Marans"),
    ]  # fmt: skip
    assert len({one.uid for one in batches}) == 2


def test_a_batch_is_changed_and_keeps_what_the_dialog_does_not_show(open_past: OpenPast, desk: Desk) -> None:
    desk.journal.past_batches.add(PAST)
    dialog = open_past(PAST)
    assert dialog.store.text() == "Keep the change"
    assert dialog.counts.fields["mid_dead"].text() == ""
    fill(dialog, hatched="15", mid_dead="1")
    dialog.store.click()
    assert desk.journal.past_batches.get(PAST.uid) == replace(PAST, hatched=15, mid_dead=1)
    desk.door.undo()
    assert desk.journal.past_batches.get(PAST.uid) == PAST


# ------------------------------------------------------------------ the page


@pytest.fixture
def pages(qtbot: QtBot, desk: Desk) -> BatchPages:
    """The pages of batches, with the actions of a window."""
    owner = QObject(desk.context)
    pages = BatchPages(desk.context, Actions(owner))
    qtbot.addWidget(pages)
    pages.resize(900, 640)
    return pages


def test_a_past_batch_has_a_page_that_follows_its_changes(pages: BatchPages, desk: Desk) -> None:
    desk.journal.past_batches.add(PAST)
    pages.show_batch(PAST.uid)
    assert pages.has_batch
    page = pages.past_page
    assert pages.currentWidget() is page
    assert page.header.accessibleName() == "19-03 Spring. Season 2019, counts only.  24 hen eggs."
    assert (page.rates.rates.fertile.figure().aside, page.rates.rates.of_set.figure().aside) == (
        "20 of 24",
        "14 of 24",
    )
    assert page.left.text() == "4 eggs more: their end is not known."
    assert page.remark.text() == "Cold."
    assert page.losses.accessibleName().startswith("Losses of the fertile eggs: Dead late 2 of 20")
    desk.door.run(lambda journal: journal.past_batches.replace(replace(PAST, hatched=18, note="")))
    assert page.rates.rates.of_set.figure().aside == "18 of 24"
    assert page.left.text() == "Every egg is accounted for."
    assert not page._note.isVisibleTo(page)


def test_the_rates_of_a_past_batch_are_explained(pages: BatchPages, desk: Desk, qtbot: QtBot) -> None:
    desk.journal.past_batches.add(PAST)
    pages.show_batch(PAST.uid)
    pages.past_page.rates.rates.fertile.activated.emit()
    (dialog,) = pages.past_page.findChildren(ExplanationDialog)
    assert "Wilson" in dialog.accessibleDescription()
    dialog.reject()


def test_counts_that_were_not_taken_give_no_rate_and_a_reason(pages: BatchPages, desk: Desk) -> None:
    bare = PastBatch("18-01", 2018, "hen", 24, hatched=14)
    unknown = PastBatch("18-02", 2018, "hen", 24, clear=4)
    for batch in (bare, unknown):
        desk.journal.past_batches.add(batch)
    pages.show_batch(bare.uid)
    rates = pages.past_page.rates
    assert rates.rates.of_set.figure().aside == "14 of 24"
    assert rates.rates.fertile.foot() == "neither clear nor fertile eggs were counted"
    assert rates.rates.of_fertile.foot() == "how many were fertile is not known"
    pages.show_batch(unknown.uid)
    assert rates.rates.of_set.foot() == "the chicks were not counted"
    assert rates.rates.of_fertile.foot() == "the chicks were not counted"


def test_the_page_gives_way_when_its_batch_is_gone(pages: BatchPages, desk: Desk) -> None:
    desk.journal.past_batches.add(PAST)
    pages.show_batch(PAST.uid)
    desk.door.run(lambda journal: journal.past_batches.remove(PAST))
    assert not pages.has_batch
