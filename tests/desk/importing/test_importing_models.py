"""The tables of the dialog, without a window."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from hatchbook.desk.importing.left_out_model import RUN_ROLE, SORT_ROLE, LeftOutModel
from hatchbook.desk.importing.preview_model import ROW_ROLE, PreviewLines, PreviewModel
from hatchbook.desk.importing.preview_table import with_role
from hatchbook.desk.theme.theme import Theme
from hatchbook.exchange.left_out import LeftOut, LeftOutLine, left_out_of
from hatchbook.exchange.logger_file import ColumnRole, LoggerTable, NoDateColumn, read_logger_file
from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtTest import QAbstractItemModelTester
from pytestqt.qtbot import QtBot

FAIL = QAbstractItemModelTester.FailureReportingMode.Fatal
SPOKEN = Qt.ItemDataRole.AccessibleTextRole


@pytest.fixture
def table(shelf_file: Path) -> LoggerTable:
    return read_logger_file(shelf_file, zone=ZoneInfo("Europe/Lisbon"))


# ------------------------------------------------------------------ preview


@pytest.fixture
def preview(qtbot: QtBot, theme: Theme, table: LoggerTable) -> PreviewModel:
    model = PreviewModel(theme.scheme)
    QAbstractItemModelTester(model, FAIL, model)
    model.show_lines(PreviewLines.of_table(table))
    return model


def row_of(model: Any, number: int) -> int:
    rows = [model.index(row, 0).data(ROW_ROLE).number for row in range(model.rowCount())]
    return int(rows.index(number))


def test_the_preview_has_the_first_lines_every_kind_of_bad_line_once_and_the_last(
    preview: PreviewModel,
) -> None:
    reasons = [preview.index(row, 0).data(ROW_ROLE).reason for row in range(preview.rowCount())]
    assert [str(reason) for reason in reasons if reason] == [
        "no_number",
        "humidity_above_100",
        "time_runs_backwards",
        "cut_short",
    ]
    assert [preview.index(row, 0).data() for row in range(3)] == ["2", "3", "4"]
    assert preview.index(preview.rowCount() - 1, 0).data() == "1532"
    assert [preview.headerData(section, Qt.Orientation.Horizontal) for section in range(5)] == [
        "line",
        "when",
        "t_in",
        "rh_in",
        "state",
    ]


def test_a_line_that_stays_out_carries_a_flag_words_and_bold_cells(
    preview: PreviewModel, theme: Theme
) -> None:
    row = row_of(preview, 955)
    number, humidity = preview.index(row, 0), preview.index(row, 3)
    assert not number.data(Qt.ItemDataRole.DecorationRole).isNull()
    assert number.data(Qt.ItemDataRole.ToolTipRole) == "humidity over 100 %"
    assert number.data(SPOKEN) == "line 955, left out: humidity over 100 %"
    assert humidity.data(SPOKEN) == "rh_in: 118,0"
    assert humidity.data(Qt.ItemDataRole.FontRole).bold()
    assert humidity.data(Qt.ItemDataRole.ForegroundRole).color() == theme.scheme.bad
    good = preview.index(0, 0)
    assert good.data(Qt.ItemDataRole.DecorationRole) is None
    assert good.data(SPOKEN) == "line 2"


def test_another_scheme_is_told_to_the_view(preview: PreviewModel, qtbot: QtBot, theme: Theme) -> None:
    with qtbot.waitSignal(preview.dataChanged):
        preview.set_scheme(theme.scheme)
    empty = PreviewModel(theme.scheme)
    empty.set_scheme(theme.scheme)
    assert (empty.rowCount(), empty.columnCount()) == (0, 1)


def test_lines_of_a_file_without_dates_are_shown_to_choose_from(
    qtbot: QtBot, theme: Theme, write: Callable[..., Path]
) -> None:
    with pytest.raises(NoDateColumn) as error:
        read_logger_file(write("temp,rh\n37.5,52\n37.6,52,9\n37.6,53\n"))
    model = PreviewModel(theme.scheme)
    QAbstractItemModelTester(model, FAIL, model)
    model.show_lines(PreviewLines.of_error(error.value))
    assert (model.rowCount(), model.columnCount()) == (3, 3)
    assert model.column_name(0) == "temp"


def test_columns_without_names_have_numbers(qtbot: QtBot, theme: Theme, write: Callable[..., Path]) -> None:
    model = PreviewModel(theme.scheme)
    model.show_lines(
        PreviewLines.of_table(read_logger_file(write("2026-05-03 09:00,37.5,52\n2026-05-03 09:10,37.5,52\n")))
    )
    assert model.column_name(1) == "column 2"


def test_a_role_goes_from_the_column_that_had_it() -> None:
    out, whole, date, time = (
        ColumnRole.LEAVE_OUT,
        ColumnRole.DATE_TIME,
        ColumnRole.DATE,
        ColumnRole.TIME,
    )
    warm, moist = ColumnRole.TEMPERATURE, ColumnRole.HUMIDITY
    assert with_role((whole, warm, moist, out), 3, moist) == (whole, warm, out, moist)
    assert with_role((date, time, warm, out), 3, whole) == (out, out, warm, whole)
    assert with_role((whole, out, warm, moist), 1, date) == (out, date, warm, moist)
    assert with_role((out, date, warm, moist), 0, time) == (time, date, warm, moist)
    assert with_role((whole, warm, moist, out), 1, out) == (whole, out, moist, out)


# ------------------------------------------------------------------ lines left out


@pytest.fixture
def left_out(qtbot: QtBot, table: LoggerTable) -> LeftOutModel:
    model = LeftOutModel()
    QAbstractItemModelTester(model, FAIL, model)
    model.show_lines(left_out_of(table))
    return model


def test_neighbours_of_one_reason_are_one_row(left_out: LeftOutModel) -> None:
    rows = [[left_out.index(row, column).data() for column in range(3)] for row in range(left_out.rowCount())]
    assert [row[0] for row in rows] == ["378–382", "955", "1302–1307", "1532"]
    assert rows[0][1].startswith("5 line")
    assert rows[1][1] == "10.05.2026 10:40;37,7;118,0;ok"
    assert [row[2].replace("\u00a0", " ") for row in rows] == [
        "no number in it",
        "humidity over 100 %",
        "time runs backwards by 1 h 10 min",
        "line cut short",
    ]
    second = left_out.index(1, 0)
    assert second.data(SPOKEN) == "line 955: 10.05.2026 10:40;37,7;118,0;ok: humidity over 100 %"
    assert second.data(SORT_ROLE) == 955
    assert second.data(RUN_ROLE).count == 1
    assert left_out.data(QModelIndex()) is None


def test_the_copied_list_has_every_line(left_out: LeftOutModel) -> None:
    lines = left_out.as_text().splitlines()
    assert lines[0] == "Line\tWhat it says\tWhy"
    assert [line.split("\t")[0] for line in lines[1:7]] == ["378", "379", "380", "381", "382", "955"]


def test_a_double_has_no_text_of_its_own(qtbot: QtBot) -> None:
    model = LeftOutModel()
    model.show_lines(LeftOut.of([LeftOutLine(7, "", "duplicate")]))
    assert model.index(0, 1).data().startswith("1 line")
    assert model.index(0, 2).data() == "says again what an earlier line says"
