"""Instants typed as wall time, also at the change of clocks."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from hatchbook.desk.entry.instant_edit import InstantEdit
from hatchbook.trade.instants import InstantError
from PySide6.QtCore import QDate, QDateTime, QTime, QTimeZone
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
