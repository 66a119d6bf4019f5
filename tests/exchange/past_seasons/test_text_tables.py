"""Tables as text: letters, separators, quotes, headings, sums, and lines that stay out."""

from __future__ import annotations

from pathlib import Path

import pytest
from hatchbook.exchange.loggers.layout import Basis, DateOrder, Encoding, Separator
from hatchbook.exchange.past_seasons.fields import PastField as F
from hatchbook.exchange.past_seasons.grid import TableFileError, TableProblem
from hatchbook.exchange.past_seasons.reading import NoBatch
from hatchbook.trade.codes import EggSource
from tests.exchange.past_seasons.kit import BOOK, read, reasons, write


def test_every_line_of_a_plain_table_is_a_batch(tmp_path: Path) -> None:
    table = read(write(tmp_path, BOOK))
    assert [row.number for row in table.rows] == [2, 3, 4]
    first = table.rows[0]
    batch = first.batch
    assert (batch.label, batch.name, batch.season, batch.set_on) == ("21-01", "Spring", 2021, "2021-03-14")
    assert (batch.species, batch.breed, first.pen, first.machine) == ("hen", "Marans", "Orchard", "Dairy")
    assert (batch.eggs_set, batch.clear, batch.early_dead, batch.late_dead, batch.hatched) == (
        24,
        3,
        1,
        2,
        18,
    )
    assert (batch.mid_dead, batch.culled, batch.note) == (None, None, "first of all")
    assert table.rows[2].batch.species == "duck"
    assert table.refused == ()
    assert table.missing == ()


@pytest.mark.parametrize("sign", [";", "\t", "|", ","])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_separators_and_letters_are_told(tmp_path: Path, sign: str, encoding: str) -> None:
    text = BOOK.replace("Orchard", "Größe").replace(",", sign)
    table = read(write(tmp_path, text.replace("\n", "\r\n"), encoding=encoding))
    assert table.grid.separator == Separator(sign)
    assert [row.pen for row in table.rows] == ["Größe", "Größe", "Pond"]


def test_a_chosen_separator_and_letters_are_taken(tmp_path: Path) -> None:
    path = write(tmp_path, "Eggs;Year;Species\n12;2021;hen\n")
    table = read(path, separator=Separator.COMMA, encoding=Encoding.LATIN_1)
    assert (table.grid.separator, table.grid.encoding) == (Separator.COMMA, Encoding.LATIN_1)
    assert table.rows == ()


def test_a_first_line_that_names_the_separator_is_no_heading(tmp_path: Path) -> None:
    table = read(write(tmp_path, "sep=|\nEggs|Year|Species\n12|2021|hen\n"))
    assert (table.header, len(table.rows), table.refused) == (2, 1, ())


def test_a_note_in_quotes_may_run_over_lines_and_hold_separators(tmp_path: Path) -> None:
    text = 'Year,Species,Eggs,Note\n2021,hen,12,"cold, then\nwarm, ""again"""\n2021,hen,18,\n'
    table = read(write(tmp_path, text))
    assert [(row.number, row.batch.note) for row in table.rows] == [(2, 'cold, then warm, "again"'), (4, "")]
    assert table.rows[0].text == '2021,hen,12,"cold, then\nwarm, ""again"""'


def test_a_quote_without_an_end_takes_no_more_than_its_line(tmp_path: Path) -> None:
    text = 'Year,Species,Eggs,Note\n2021,hen,12,"tray of 12\n2021,hen,18,a 12" tray\n' + "2021,hen,9,\n" * 60
    table = read(write(tmp_path, text))
    assert len(table.rows) == 62
    assert table.rows[1].batch.note == 'a 12" tray'


def test_headings_titles_blank_lines_and_sums_are_no_batches_and_no_errors(tmp_path: Path) -> None:
    text = (
        "Hatch book of the yard\n\nNo,Date,Eggs,Hatched\n1,14.3.2021,24,18\n2,1.4.2021,12,9\n,,36,27\n\n"
        "No,Date,Eggs,Hatched\n3,2.4.2022,24,20\nTotal:,,60,47\nMean per batch,,20,15.7\nAll from own hens\n"
    )
    table = read(write(tmp_path, text), species="hen")
    assert [row.number for row in table.rows] == [4, 5, 9]
    assert table.refused == ()
    assert dict(table.no_batches) == {
        1: NoBatch.ABOVE, 2: NoBatch.BLANK, 3: NoBatch.HEADER, 6: NoBatch.TOTAL, 7: NoBatch.BLANK,
        8: NoBatch.HEADER, 10: NoBatch.TOTAL, 11: NoBatch.TOTAL, 12: NoBatch.TITLE,
    }  # fmt: skip


def test_lines_of_eggs_alone_are_no_sums_of_each_other(tmp_path: Path) -> None:
    table = read(write(tmp_path, "Eggs,Hatched\n12,9\n12,8\n24,20\n"), species="hen", season=2021)
    assert len(table.rows) == 3


def test_a_season_written_once_holds_for_the_lines_below_it(tmp_path: Path) -> None:
    text = "Year,Species,Eggs\n2020,hen,12\n,hen,18\nSeason 2021,,\n,hen,24\n,hen,6\n"
    table = read(write(tmp_path, text))
    assert [(row.batch.season, row.carried) for row in table.rows] == [
        (2020, False), (2020, True), (2021, True), (2021, True),
    ]  # fmt: skip


def test_what_the_file_does_not_say_can_be_given_for_all_of_it(tmp_path: Path) -> None:
    path = write(tmp_path, "Batch,Eggs,Hatched\nA,12,9\nB,18,10\n")
    table = read(path)
    assert table.missing == (F.SPECIES, F.SEASON)
    assert reasons(table) == {2: "no_season", 3: "no_season"}
    table = read(path, season=2019)
    assert reasons(table) == {2: "no_species", 3: "no_species"}
    table = read(path, season=2019, species="hen")
    assert [(row.batch.season, row.batch.species) for row in table.rows] == [(2019, "hen"), (2019, "hen")]
    assert table.missing == ()


def test_what_a_line_says_goes_before_what_holds_for_the_file(tmp_path: Path) -> None:
    path = write(tmp_path, "Batch,Year,Species,Eggs\nA,2020,duck,12\nB,,,18\n")
    rows = read(path, season=2011, species="hen").rows
    assert [(row.batch.season, row.batch.species) for row in rows] == [(2020, "duck"), (2020, "hen")]


LINE = "Year,Date,Species,Eggs,Fertile,Clear,Opened infertile,Late dead,Rotten,Hatched,Source,Programme\n"


@pytest.mark.parametrize(
    ("line", "reason", "column"),
    [
        ("2021,,hen,,,,,,,9,,", "no_eggs_set", 3),
        ("2021,,hen,0,,,,,,,,", "no_eggs_set", 3),
        ("2021,,hen,a dozen,,,,,,9,,", "not_a_count", 3),
        ("2021,,hen,12,,,,,,75 %,,", "percentage", 9),
        ("2021,,hen,12,,,,,,8.5,,", "not_whole", 9),
        ("2021,,hen,12,,,,,,-3,,", "negative", 9),
        ("2021,,hen,12,,,,,,inf,,", "not_a_count", 9),
        ("2021,,hen,99999999999999999999999999,,,,,,,,", "too_large", 3),
        ("2021,,hen,12,,2,,3,,9,,", "counts_exceed", 3),
        ("2021,,hen,12,,2,3,,,9,,", "opened_exceed", 6),
        ("2021,,hen,12,13,,,,,9,,", "fertile_exceed", 4),
        ("2021,,hen,12,9,2,,,,,,", "fertile_contradicts", 4),
        ("2021,,hen,12,8,,,,,9,,", "counts_exceed", 3),
        (",,hen,12,,,,,,9,,", "no_season", 0),
        ("spring,,hen,12,,,,,,9,,", "not_a_season", 0),
        (",14.3.,hen,12,,,,,,9,,", "date_without_year", 1),
        (",soon,hen,12,,,,,,9,,", "not_a_date", 1),
        (",31.2.2021,hen,12,,,,,,9,,", "no_such_day", 1),
        (",15.5.2026,hen,12,,,,,,9,,", "in_future", 1),
        ("2027,,hen,12,,,,,,9,,", "in_future", 0),
        ("2018,14.3.2021,hen,12,,,,,,9,,", "season_contradicts", 0),
        ("2021,,,12,,,,,,9,,", "no_species", 2),
        ("2021,,dodo,12,,,,,,9,,", "unknown_species", 2),
        ("2021,,hen,12,,,,,,9,perhaps,", "unknown_source", 10),
        ("2021,,hen,12,,,,,,9,,turbo", "unknown_programme", 11),
        ("2021,,hen,12,,,,,,9,,,x", "too_many_cells", 12),
        ("2021,,hen,12,,,,,,9,\x01own,", "not_text", None),
    ],
)
def test_a_line_that_cannot_be_is_refused_with_its_text_reason_and_column(
    tmp_path: Path, line: str, reason: str, column: int | None
) -> None:
    good = ",20.3.2021,hen,12,,,,,,9,own,hen\n"
    table = read(write(tmp_path, f"{LINE}{good}{line}\n"))
    (refused,) = table.refused
    assert (refused.number, refused.text, refused.why.reason, refused.column) == (3, line, reason, column)
    assert [row.number for row in table.rows] == [2]
    assert str(refused).startswith("line 3: ")


def test_clear_eggs_follow_from_the_fertile_ones(tmp_path: Path) -> None:
    path = write(tmp_path, "Year,Species,Eggs,Fertile,Hatched\n2021,hen,24,20,15\n2021,hen,24,,15\n")
    assert [row.batch.clear for row in read(path).rows] == [4, None]


def test_rotten_eggs_may_be_counted_with_neither_fertile_nor_clear_ones(tmp_path: Path) -> None:
    path = write(tmp_path, "Year,Species,Eggs,Fertile,Clear,Rotten\n2021,hen,24,18,4,2\n2021,hen,24,17,4,2\n")
    table = read(path)
    assert [row.batch.clear for row in table.rows] == [4]
    assert reasons(table) == {3: "fertile_contradicts"}


def test_a_dash_says_that_nothing_was_counted(tmp_path: Path) -> None:
    (row,) = read(write(tmp_path, "Year,Species,Eggs,Clear,Hatched\n2021,hen,24,–,n/a\n")).rows
    assert (row.batch.clear, row.batch.hatched, row.dashes) == (None, None, 2)


def test_a_date_without_a_year_takes_that_of_its_season(tmp_path: Path) -> None:
    table = read(
        write(tmp_path, "Season,Set,Species,Eggs\n2019,14.3.,hen,24\n2020,29 Feb,hen,24\n2021,29 Feb,hen,6\n")
    )
    assert [row.batch.set_on for row in table.rows] == ["2019-03-14", "2020-02-29"]
    assert reasons(table) == {4: "no_such_day"}


def test_a_date_without_a_day_gives_the_season_and_stays_in_the_note(tmp_path: Path) -> None:
    table = read(
        write(tmp_path, "Set,Species,Eggs,Note\nMarch 2019,hen,24,wet\n2020,hen,24,\n04/2021,hen,24,\n")
    )
    found = [(row.batch.season, row.batch.set_on, row.batch.note, row.without_day) for row in table.rows]
    assert found == [
        (2019, None, "March 2019; wet", True), (2020, None, "", False), (2021, None, "04/2021", True),
    ]  # fmt: skip


def test_an_order_of_dates_that_nothing_decides_is_marked_so_and_can_be_chosen(tmp_path: Path) -> None:
    path = write(tmp_path, "Set,Species,Eggs\n03/04/2021,hen,24\n05/06/2021,hen,24\n")
    table = read(path)
    assert table.order.basis is Basis.UNDECIDED
    assert [row.batch.set_on for row in table.rows] == ["2021-04-03", "2021-06-05"]
    table = read(path, date_order=DateOrder.MONTH_DAY_YEAR)
    assert [row.batch.set_on for row in table.rows] == ["2021-03-04", "2021-05-06"]


def test_columns_can_be_chosen_and_only_notes_stand_in_several(tmp_path: Path) -> None:
    path = write(tmp_path, "a,b,c,d,e\n2021,24,18,cold,thunder\n")
    table = read(path)
    assert table.missing == (F.EGGS_SET, F.SPECIES, F.SEASON)
    columns = (F.SEASON, F.EGGS_SET, F.HATCHED, F.NOTE, F.NOTE)
    (row,) = read(path, columns=columns, species="hen").rows
    assert (row.batch.eggs_set, row.batch.hatched, row.batch.note) == (24, 18, "cold; thunder")


def test_a_table_without_names_is_read_when_its_columns_are_chosen(tmp_path: Path) -> None:
    path = write(tmp_path, "2021,24,18\n2021,12,9\n")
    table = read(path, columns=(F.SEASON, F.EGGS_SET, F.HATCHED), species="hen")
    assert (table.header, len(table.rows)) == (0, 2)


def test_own_and_shipped_eggs_are_told_also_by_yes_and_no(tmp_path: Path) -> None:
    path = write(tmp_path, "Year,Species,Eggs,Shipped\n2021,hen,12,yes\n2021,hen,12,no\n2021,hen,12,\n")
    assert [row.batch.source for row in read(path).rows] == [EggSource.SHIPPED, EggSource.OWN, EggSource.OWN]
    path = write(tmp_path, "Year,Species,Eggs,Origin\n2021,hen,12,by post\n2021,hen,12,Own\n")
    assert [row.batch.source for row in read(path).rows] == [EggSource.SHIPPED, EggSource.OWN]


def test_a_word_for_a_species_can_be_explained(tmp_path: Path) -> None:
    path = write(tmp_path, "Year,Species,Eggs\n2021,Quail,12\n2021,hen,12\n")
    assert reasons(read(path)) == {2: "unknown_species"}
    assert [row.batch.species for row in read(path, meant={"quail": "coturnix"}).rows] == ["coturnix", "hen"]


@pytest.mark.parametrize(
    ("data", "problem"),
    [
        (b"", TableProblem.EMPTY),
        (b"\n \n", TableProblem.EMPTY),
        (b"\xef\xbb\xbf\r\n", TableProblem.EMPTY),
        (b";;\n;;\n", TableProblem.EMPTY),
        (bytes(range(256)) * 40, TableProblem.NOT_A_TABLE),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 600, TableProblem.OLD_OR_LOCKED),
        (b"PK\x03\x04 and no more", TableProblem.DAMAGED),
    ],
)
def test_a_file_that_is_no_table_is_refused_with_a_plain_reason(
    tmp_path: Path, data: bytes, problem: TableProblem
) -> None:
    path = tmp_path / "book.csv"
    path.write_bytes(data)
    with pytest.raises(TableFileError) as caught:
        read(path)
    assert caught.value.problem is problem
    assert str(caught.value).endswith(".")


def test_a_file_that_is_not_there_is_said_so(tmp_path: Path) -> None:
    with pytest.raises(TableFileError) as caught:
        read(tmp_path / "none.csv")
    assert caught.value.problem is TableProblem.CANNOT_BE_OPENED
