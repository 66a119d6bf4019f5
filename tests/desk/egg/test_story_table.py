"""The story of an egg as a table that speaks."""

from __future__ import annotations

from hatchbook.desk.egg.story_table import DAY, ENTRY_ROLE, WHAT, WHEN, StoryModel, StoryTable
from hatchbook.figures import StoryKind, story_of_egg
from hatchbook.trade.units import Unit
from PySide6.QtCore import Qt
from PySide6.QtTest import QAbstractItemModelTester
from pytestqt.qtbot import QtBot
from tests.desk.conftest import NOW, ZONE, Desk


def shown(desk: Desk) -> StoryModel:
    model = StoryModel(ZONE)
    QAbstractItemModelTester(model, QAbstractItemModelTester.FailureReportingMode.Fatal)
    model.show_story(story_of_egg(desk.journal, desk.eggs[0].uid, NOW), Unit.GRAM)
    return model


def test_day_instant_and_words_of_each_entry_stand_in_their_columns(told: Desk) -> None:
    model = shown(told)
    assert [model.headerData(column, Qt.Orientation.Horizontal) for column in (DAY, WHEN, WHAT)] == [
        "Day",
        "When",
        "What",
    ]
    laid = [model.index(0, column).data() for column in (DAY, WHEN, WHAT)]
    assert laid == ["\u22124", "Wed 29 Apr", "Laid"]
    weighed = [model.index(3, column).data() for column in (DAY, WHEN, WHAT)]
    assert weighed == ["8.0", "Mon 11 May 09:00", "Weighed 57.0\u00a0g, 5.0\u00a0% lost"]
    assert model.index(3, 0).data(ENTRY_ROLE).kind is StoryKind.WEIGHED


def test_an_entry_speaks_as_one_sentence(told: Desk) -> None:
    model = shown(told)
    spoken = model.index(2, 0).data(Qt.ItemDataRole.AccessibleTextRole)
    assert spoken == "day 7.0, Sun 10 May 09:00: Candled: alive"


def test_long_sentences_wrap_and_are_not_cut(told: Desk, qtbot: QtBot) -> None:
    text = "a long note that goes on and on about the shell, the air cell, the veins and what the lamp showed"
    told.journal.events.note_eggs(told.batch.uid, [told.eggs[0].uid], text, NOW)
    table = StoryTable(ZONE)
    qtbot.addWidget(table)
    table.resize(420, 300)
    table.show()
    table.story.show_story(story_of_egg(told.journal, told.eggs[0].uid, NOW), Unit.GRAM)
    last = table.story.rowCount() - 1
    assert table.rowHeight(last) > 1.5 * table.rowHeight(0)


def test_keys_ask_for_the_form_and_for_removal(told: Desk, qtbot: QtBot) -> None:
    table = StoryTable(ZONE)
    qtbot.addWidget(table)
    table.story.show_story(story_of_egg(told.journal, told.eggs[0].uid, NOW), Unit.GRAM)
    table.choose_row(2)
    for key in (Qt.Key.Key_Return, Qt.Key.Key_F2):
        with qtbot.waitSignal(table.opening_wanted):
            qtbot.keyClick(table, key)
    with qtbot.waitSignal(table.removal_wanted):
        qtbot.keyClick(table, Qt.Key.Key_Delete)
