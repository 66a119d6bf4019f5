"""Tables as XLSX, made as spreadsheet programs make them."""

from __future__ import annotations

import zipfile
from datetime import date, datetime, time
from pathlib import Path
from typing import Any

import pytest
from hatchbook.exchange.loggers.errors import Cancelled
from hatchbook.exchange.past_seasons.grid import TableFileError, TableProblem
from hatchbook.exchange.past_seasons.reading import NoBatch, read_past_seasons
from hatchbook.exchange.past_seasons.workbook import read_workbook
from openpyxl import Workbook
from tests.exchange.past_seasons.kit import TODAY, book, read, reasons

HEAD = ["Batch", "Date set", "Species", "Pen", "Eggs set", "Clear", "Hatched", "Hatch %", "Note"]


def put_into(path: Path, part: str, before: str, after: str) -> None:
    """Changes a part of a workbook's archive, as another program would have written it."""
    with zipfile.ZipFile(path) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    assert before.encode() in parts[part]
    parts[part] = parts[part].replace(before.encode(), after.encode())
    with zipfile.ZipFile(path, "w") as archive:
        for name, data in parts.items():
            archive.writestr(name, data)


def test_real_dates_numbers_and_texts_are_read_as_they_are_meant(tmp_path: Path) -> None:
    path = book(
        tmp_path,
        [
            HEAD,
            ["21-01", datetime(2021, 3, 14, 9, 30), "hen", "Orchard", 24, 3, 18.0, 0.75, "fine"],  # noqa: DTZ001
            ["21-02", date(2021, 4, 2), "hen", "Orchard", "24", "5", " 14 ", 0.58, None],
            [21.03, "2.5.2021", "hen", None, 12, "-", 9, None, time(7, 30)],
        ],
    )
    table = read(path)
    found = [
        (r.batch.label, r.batch.set_on, r.batch.eggs_set, r.batch.clear, r.batch.hatched) for r in table.rows
    ]
    assert found == [
        ("21-01", "2021-03-14", 24, 3, 18), ("21-02", "2021-04-02", 24, 5, 14),
        ("21.03", "2021-05-02", 12, None, 9),
    ]  # fmt: skip
    assert table.rows[2].batch.note == "07:30:00"
    assert table.grid.is_workbook
    assert (table.header, table.refused) == (1, ())


def test_the_sheet_with_a_table_of_batches_is_found_and_another_can_be_chosen(tmp_path: Path) -> None:
    made = Workbook()
    assert made.active is not None
    made.active.title = "Feed"
    made.active.append(["Month", "Sacks"])
    hatches = made.create_sheet("Hatches 2021")
    for row in (HEAD, ["1", date(2021, 3, 14), "hen", None, 24, 3, 18]):
        hatches.append(row)
    hidden = made.create_sheet("Lists")
    hidden.sheet_state = "hidden"
    path = tmp_path / "book.xlsx"
    made.save(path)
    table = read(path)
    assert (table.grid.sheet, table.grid.sheets) == ("Hatches 2021", ("Feed", "Hatches 2021"))
    assert len(table.rows) == 1
    assert read(path, sheet="Feed").grid.sheet == "Feed"
    with pytest.raises(TableFileError) as caught:
        read(path, sheet="Ducks")
    assert caught.value.problem is TableProblem.NO_SUCH_SHEET


def test_what_is_merged_down_holds_for_every_row_and_a_merged_title_is_no_batch(tmp_path: Path) -> None:
    made = Workbook()
    sheet = made.active
    assert sheet is not None
    sheet.append(["Hatch book"])
    sheet.merge_cells("A1:D1")
    sheet.append(["Year", "Pen", "Species", "Eggs"])
    sheet.append([2021, "Orchard", "hen", 12])
    sheet.append([None, None, "hen", 18])
    sheet.append([None, None, None, None])
    sheet.append([2022, "Brook", "hen", 6])
    sheet.merge_cells("A3:A5")
    sheet.merge_cells("B3:B5")
    path = tmp_path / "book.xlsx"
    made.save(path)
    table = read(path)
    found = [(row.number, row.batch.season, row.pen, row.carried) for row in table.rows]
    assert found == [(3, 2021, "Orchard", False), (4, 2021, "Orchard", False), (6, 2022, "Brook", False)]
    assert dict(table.no_batches) == {1: NoBatch.ABOVE, 2: NoBatch.HEADER, 5: NoBatch.BLANK}


def test_formulas_count_by_the_results_that_were_stored_and_without_them_not_as_nothing(
    tmp_path: Path,
) -> None:
    path = book(
        tmp_path,
        [
            HEAD,
            ["1", date(2021, 3, 14), "hen", None, 24, "=1+2", 18],
            ["2", date(2021, 4, 1), "hen", None, 12, 2, 9],
        ],
    )
    table = read(path)
    assert [(line.number, line.why.reason, line.why.cell, line.column) for line in table.refused] == [
        (2, "not_computed", "=1+2", 5)
    ]
    put_into(path, "xl/worksheets/sheet1.xml", "<f>1+2</f><v />", "<f>1+2</f><v>3</v>")
    assert [row.batch.clear for row in read(path).rows] == [3, 2]


def test_an_empty_text_is_a_result_too(tmp_path: Path) -> None:
    path = book(tmp_path, [["Year", "Species", "Eggs", "Note"], [2021, "hen", 24, '=IF(C2>30,"many","")']])
    assert list(reasons(read(path))) == [2]
    put_into(path, "xl/worksheets/sheet1.xml", '<c r="D2">', '<c r="D2" t="str">')
    assert [row.batch.note for row in read(path).rows] == [""]


def test_rows_that_hold_only_formulas_without_results_are_blank(tmp_path: Path) -> None:
    line = ["1", date(2021, 3, 14), "hen", None, 24, 3, 18, "=G2/E2"]
    table = read(book(tmp_path, [HEAD, line, [*[None] * 7, "=G3/E3"]]))
    assert (len(table.rows), table.refused) == (1, ())
    assert table.count(NoBatch.BLANK) == 1


def test_a_whole_percentage_is_no_count(tmp_path: Path) -> None:
    path = tmp_path / "book.xlsx"
    made = Workbook()
    sheet = made.active
    assert sheet is not None
    for row in (["Year", "Species", "Eggs", "Hatched"], [2021, "hen", 12, 9], [2021, "hen", 12, 1]):
        sheet.append(row)
    sheet["D3"].number_format = "0%"
    made.save(path)
    assert [(line.number, line.why.cell) for line in read(path).refused] == [(3, "100 %")]
    assert reasons(read(path)) == {3: "percentage"}


@pytest.mark.parametrize("value", [True, "#DIV/0!", float("1e300")])
def test_what_is_no_number_of_eggs_is_refused(tmp_path: Path, value: Any) -> None:
    path = book(tmp_path, [["Year", "Species", "Eggs"], [2021, "hen", 12], [2021, "hen", value]])
    assert list(reasons(read(path))) == [3]


def test_a_size_that_is_noted_too_small_hides_no_row(tmp_path: Path) -> None:
    path = book(tmp_path, [["Year", "Species", "Eggs"], [2021, "hen", 12], [2021, "hen", 18]])
    put_into(path, "xl/worksheets/sheet1.xml", 'ref="A1:C3"', 'ref="A1"')
    assert len(read(path).rows) == 2


def test_blank_rows_between_keep_the_numbers_of_the_rows_right(tmp_path: Path) -> None:
    path = book(tmp_path, [["Year", "Species", "Eggs"], [], [2021, "hen", 12], [], [], [2021, "hen", "x"]])
    table = read(path)
    assert [row.number for row in table.rows] == [3]
    assert reasons(table) == {6: "not_a_count"}
    assert table.refused[0].text == "2021\then\tx"


def test_a_remark_beside_the_table_refuses_no_row(tmp_path: Path) -> None:
    path = book(
        tmp_path, [["Year", "Species", "Eggs"], [2021, "hen", 12, None, "checked"], [2021, "hen", 18]]
    )
    assert len(read(path).rows) == 2


def test_a_workbook_by_another_ending_is_still_one(tmp_path: Path) -> None:
    path = book(tmp_path, [["Year", "Species", "Eggs"], [2021, "hen", 12]])
    renamed = path.rename(tmp_path / "book.dat")
    assert len(read(renamed).rows) == 1


def test_another_kind_of_archive_and_a_broken_workbook_are_told_apart(tmp_path: Path) -> None:
    other = tmp_path / "book.ods"
    with zipfile.ZipFile(other, "w") as archive:
        archive.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
    broken = book(tmp_path, [["Year", "Eggs"], [2021, 12]])
    put_into(broken, "xl/worksheets/sheet1.xml", "</sheetData>", "</sheet")
    for path, problem in ((other, TableProblem.OTHER_WORKBOOK), (broken, TableProblem.DAMAGED)):
        with pytest.raises(TableFileError) as caught:
            read(path)
        assert caught.value.problem is problem


def test_an_empty_workbook_is_said_to_be_empty(tmp_path: Path) -> None:
    with pytest.raises(TableFileError) as caught:
        read(book(tmp_path, []))
    assert caught.value.problem is TableProblem.EMPTY


def test_a_large_table_tells_how_far_it_is_and_can_be_stopped(tmp_path: Path) -> None:
    rows = [["Year", "Species", "Eggs", "Hatched"], *([2021, "hen", 12 + n % 9, n % 12] for n in range(3000))]
    path = book(tmp_path, rows)
    shares: list[float] = []
    table = read_past_seasons(path, TODAY, progress=shares.append)
    assert len(table.rows) == 3000
    assert shares == sorted(shares)
    assert len({round(share, 1) for share in shares}) > 5
    assert shares[-1] == 1.0
    asked = iter([False, False, True])
    with pytest.raises(Cancelled):
        read_workbook(path, cancelled=lambda: next(asked))
