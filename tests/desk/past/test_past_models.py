"""The models and words of past seasons."""

from __future__ import annotations

from pathlib import Path

import pytest
from hatchbook.desk.past.comes_in import SeasonsModel
from hatchbook.desk.past.refused_model import RefusedModel
from hatchbook.desk.words.past_seasons import field_word, named, refusal_sentence, run_sentence, table_problem
from hatchbook.exchange.past_seasons.bringing_in import SeasonShare
from hatchbook.exchange.past_seasons.fields import PastField
from hatchbook.exchange.past_seasons.grid import TableFileError, TableProblem
from hatchbook.exchange.past_seasons.refusals import PastReason, RefusedLine, RefusedRun, Why
from PySide6.QtCore import Qt
from PySide6.QtTest import QAbstractItemModelTester
from pytestqt.qtbot import QtBot

FATAL = QAbstractItemModelTester.FailureReportingMode.Fatal


def test_neighbouring_lines_of_one_reason_are_one_row(qtbot: QtBot) -> None:
    model = RefusedModel()
    QAbstractItemModelTester(model, FATAL)
    lines = [
        RefusedLine(3, "a", Why(PastReason.NOT_A_COUNT, "x", field=PastField.HATCHED)),
        RefusedLine(4, "b\tc", Why(PastReason.NOT_A_COUNT, "y", field=PastField.HATCHED)),
        RefusedLine(5, "d", Why(PastReason.NOT_A_COUNT, "x", field=PastField.CLEAR)),
        RefusedLine(9, "e", Why(PastReason.NO_SPECIES)),
        RefusedLine(10, "f", Why(PastReason.NO_SPECIES)),
    ]
    model.show_lines(lines)
    shown = [[model.index(row, column).data() for column in range(3)] for row in range(model.rowCount())]
    assert shown == [
        ["3–4", "Hatched: no count", "2 lines"],
        ["5", "Clear: “x” is no count", "d"],
        ["9–10", "no species", "2 lines"],
    ]  # fmt: skip
    assert model.as_text().splitlines()[2] == "4\tHatched: “y” is no count\tb\tc"
    spoken = model.index(1, 0).data(Qt.ItemDataRole.AccessibleTextRole)
    assert spoken == "line 5: Clear: “x” is no count: d"
    model.show_lines(())
    assert model.rowCount() == 0


def test_what_comes_in_is_told_by_season(qtbot: QtBot) -> None:
    model = SeasonsModel()
    QAbstractItemModelTester(model, FATAL)
    model.show_shares((SeasonShare(2021, 3, 60, None), SeasonShare(2020, 1, 1200, 900)))
    shown = [[model.index(row, column).data() for column in range(4)] for row in range(2)]
    assert shown == [["2021", "3", "60", "not counted"], ["2020", "1", "1200", "900"]]
    spoken = model.index(0, 0).data(Qt.ItemDataRole.AccessibleTextRole)
    assert spoken == "season 2021; batches: 3; eggs set: 60; hatched: not counted"


@pytest.mark.parametrize("reason", PastReason)
def test_every_reason_has_words_for_one_line_and_for_several(qtbot: QtBot, reason: PastReason) -> None:
    why = Why(reason, "x", 13, 12, PastField.EGGS_SET)
    other = Why(reason, "y", 14, 12, PastField.EGGS_SET)
    several = RefusedRun((RefusedLine(1, "", why), RefusedLine(2, "", other)))
    for sentence in (refusal_sentence(why), run_sentence(several)):
        assert sentence
        assert not set(sentence) & set("{}%")


@pytest.mark.parametrize("field", PastField)
def test_every_field_has_a_word(qtbot: QtBot, field: PastField) -> None:
    assert field_word(field)[0].isupper()


@pytest.mark.parametrize("problem", TableProblem)
def test_every_problem_of_a_file_has_the_sentence_of_its_error(qtbot: QtBot, problem: TableProblem) -> None:
    error = TableFileError(problem, "detail")
    assert table_problem(error) == str(error)


def test_many_names_are_cut_short(qtbot: QtBot) -> None:
    assert named(["a", "b"]) == "a, b"
    assert named([*"abcdefg"]) == "a, b, c, d and 3 more"


def test_no_text_of_the_reasons_is_left_over() -> None:
    source = Path(refusal_sentence.__code__.co_filename).read_text(encoding="utf-8")
    assert all(f"PastReason.{reason.name}:" in source for reason in PastReason)
