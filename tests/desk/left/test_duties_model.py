"""The duties of a day as a list model, without a window; and what they are called."""

from __future__ import annotations

from dataclasses import replace
from zoneinfo import ZoneInfo

import pytest
from hatchbook.desk.left.duties_model import DONE_ROLE, LINE_ROLE, SORT_ROLE, DutiesModel
from hatchbook.desk.words.duties import duties_of_day, duty_line_sentence, duty_sentence
from hatchbook.figures.results import DutyLine
from hatchbook.journal import Duty
from hatchbook.trade.codes import DutyKind
from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtTest import QAbstractItemModelTester
from pytestqt.qtbot import QtBot

LISBON = ZoneInfo("Europe/Lisbon")
# 2026-05-14 09:00 in Lisbon.
NINE = 1_778_745_600
CHECK = Qt.ItemDataRole.CheckStateRole
ACCESSIBLE = Qt.ItemDataRole.AccessibleTextRole

TURN = DutyLine(Duty(DutyKind.TURN, NINE - 5400, "a", ordinal=1, of=3, done_at=NINE), "26-05", overdue=False)
WEIGH = DutyLine(Duty(DutyKind.WEIGH, NINE, "a"), "26-05", overdue=True)
OWN = DutyLine(Duty(DutyKind.OTHER, NINE + 36_000, text="Buy salt"), "", overdue=False)
LINES = (TURN, WEIGH, OWN)


@pytest.fixture
def asked() -> list[tuple[DutyLine, bool]]:
    return []


@pytest.fixture
def model(qtbot: QtBot, asked: list[tuple[DutyLine, bool]]) -> DutiesModel:
    def ticker(line: DutyLine, done: bool) -> bool:
        asked.append((line, done))
        return True

    model = DutiesModel(ticker)
    QAbstractItemModelTester(model, QAbstractItemModelTester.FailureReportingMode.Fatal, model)
    model.show_lines(LINES, LISBON)
    return model


def test_a_duty_is_told_in_words(model: DutiesModel) -> None:
    assert [model.index(row).data() for row in range(3)] == ["Turn, 1 of 3", "Weigh", "Buy salt"]
    assert model.index(0).data(ACCESSIBLE) == "07:30, Turn, 1 of 3, batch 26-05, done Thu 14 May 09:00"
    assert model.index(1).data(ACCESSIBLE) == "09:00, Weigh, batch 26-05, overdue"
    assert model.index(2).data(ACCESSIBLE) == "19:00, Buy salt"


def test_roles_are_native(model: DutiesModel) -> None:
    first = model.index(0)
    assert first.data(SORT_ROLE) == NINE - 5400
    assert first.data(DONE_ROLE) is True
    assert first.data(LINE_ROLE) is TURN
    assert first.data(CHECK) == Qt.CheckState.Checked
    assert model.index(1).data(CHECK) == Qt.CheckState.Unchecked


def test_checking_asks_to_tick(model: DutiesModel, asked: list[tuple[DutyLine, bool]]) -> None:
    assert model.setData(model.index(1), Qt.CheckState.Checked, CHECK)
    assert model.setData(model.index(0), Qt.CheckState.Unchecked, CHECK)
    assert asked == [(WEIGH, True), (TURN, False)]


def test_nothing_else_is_changed(model: DutiesModel, asked: list[tuple[DutyLine, bool]]) -> None:
    assert not model.setData(model.index(1), "Candle", Qt.ItemDataRole.EditRole)
    model.show_lines(LINES, LISBON, can_tick=False)
    assert not model.setData(model.index(1), Qt.CheckState.Checked, CHECK)
    assert asked == []


def test_what_is_open_and_done_is_counted(model: DutiesModel) -> None:
    assert model.done == 1
    assert model.first_open() == model.index(1)
    done = [DutyLine(replace(line.duty, done_at=NINE), line.batch_label, overdue=False) for line in LINES]
    model.show_lines(done, LISBON)
    assert model.done == 3
    assert model.first_open() == QModelIndex()


def test_rows_that_stay_are_only_updated(model: DutiesModel, qtbot: QtBot) -> None:
    resets: list[bool] = []
    model.modelReset.connect(lambda: resets.append(True))
    ticked = DutyLine(replace(WEIGH.duty, done_at=NINE), "26-05", overdue=False)
    with qtbot.waitSignal(model.dataChanged):
        model.show_lines((TURN, ticked, OWN), LISBON)
    assert model.index(1).data(DONE_ROLE) is True
    assert resets == []
    model.show_lines((TURN,), LISBON)
    assert resets == [True]


def test_times_are_those_of_the_journals_zone(model: DutiesModel) -> None:
    model.show_lines(LINES, ZoneInfo("America/Sao_Paulo"))
    assert str(model.index(1).data(ACCESSIBLE)).startswith("05:00")


@pytest.mark.parametrize(
    ("duty", "sentence"),
    [
        (Duty(DutyKind.CANDLE, NINE), "Candle"),
        (Duty(DutyKind.CANDLE, NINE, ordinal=2, of=3), "Candle, 2 of 3"),
        (Duty(DutyKind.OTHER, NINE, text="Buy salt"), "Buy salt"),
        (Duty(DutyKind.HATCH, NINE), "Hatch due"),
    ],
)
def test_what_a_duty_is_called(duty: Duty, sentence: str) -> None:
    assert duty_sentence(duty) == sentence


def test_every_kind_of_duty_has_a_sentence() -> None:
    for kind in DutyKind:
        assert duty_line_sentence(DutyLine(Duty(kind, NINE), "", overdue=False), LISBON)


def test_turnings_of_a_batch_share_a_line() -> None:
    from datetime import date

    turnings = tuple(
        DutyLine(Duty(DutyKind.TURN, NINE, "a", ordinal=n, of=3), "26-05", False) for n in (1, 2)
    )
    assert duties_of_day(date(2026, 5, 14), (*turnings, OWN), LISBON) == [
        "Thursday 14 May",
        "19:00, Buy salt",
        "Turn 2 time(s), batch 26-05",
    ]
