"""Instants typed as wall time, also at the change of clocks."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from hatchbook.desk.entry.instant_edit import InstantEdit
from hatchbook.trade.instants import InstantError
from PySide6.QtCore import QDate, QDateTime, Qt, QTime, QTimeZone
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QDateTimeEdit
from pytestqt.qtbot import QtBot
from tests.desk.conftest import ZONE


def at(*parts: int) -> int:
    return int(datetime(*parts, tzinfo=UTC).timestamp())


def typed(edit: InstantEdit, *parts: int) -> None:
    year, month, day, hour, minute = parts
    edit.field.setDateTime(
        QDateTime(QDate(year, month, day), QTime(hour, minute), QTimeZone(QTimeZone.Initialization.UTC))
    )


def test_an_instant_comes_back_to_the_second(qtbot: QtBot) -> None:
    edit = InstantEdit(ZONE, at(2026, 5, 14, 13, 10, 7))
    qtbot.addWidget(edit)
    assert edit.instant() == at(2026, 5, 14, 13, 10, 7)
    assert edit.field.time().hour() == 14


def test_the_hour_that_comes_twice_in_autumn_is_asked_for(qtbot: QtBot) -> None:
    edit = InstantEdit(ZONE, at(2026, 5, 14, 13, 0))
    qtbot.addWidget(edit)
    assert edit.which.isHidden()
    typed(edit, 2026, 10, 25, 1, 30)
    assert not edit.which.isHidden()
    assert edit.instant() == at(2026, 10, 25, 0, 30)
    edit.which.setCurrentIndex(1)
    assert edit.instant() == at(2026, 10, 25, 1, 30)


def test_an_hour_that_never_was_is_refused(qtbot: QtBot) -> None:
    edit = InstantEdit(ZONE, at(2026, 5, 14, 13, 0))
    qtbot.addWidget(edit)
    typed(edit, 2026, 3, 29, 1, 30)
    with pytest.raises(InstantError):
        edit.instant()


def test_the_keyboard_begins_at_the_day_and_steps_over_the_ends_of_months(qtbot: QtBot) -> None:
    edit = InstantEdit(ZONE, at(2026, 12, 1, 13, 10))
    qtbot.addWidget(edit)
    edit.show()
    qtbot.waitExposed(edit)
    edit.setFocus(Qt.FocusReason.ShortcutFocusReason)
    qtbot.waitUntil(edit.field.hasFocus)
    assert edit.field.currentSection() is QDateTimeEdit.Section.DaySection
    for _ in range(3):
        QTest.keyClick(edit.field, Qt.Key.Key_Down)
    assert edit.instant() == at(2026, 11, 28, 13, 10)
    edit.field.setSelectedSection(QDateTimeEdit.Section.HourSection)
    for _ in range(11):
        QTest.keyClick(edit.field, Qt.Key.Key_Up)
    assert edit.instant() == at(2026, 11, 29, 0, 10)


def test_a_step_from_the_weekday_is_a_day(qtbot: QtBot) -> None:
    # A Monday: within its week there is no day before.
    edit = InstantEdit(ZONE, at(2026, 11, 23, 13, 10))
    qtbot.addWidget(edit)
    edit.field.setCurrentSectionIndex(0)
    edit.field.stepBy(-1)
    assert edit.instant() == at(2026, 11, 22, 13, 10)
