"""Counts, seasons, dates and column names, one cell at a time; what no cell may do is held for any text."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest
from hatchbook.exchange.loggers.layout import Basis, DateOrder
from hatchbook.exchange.past_seasons.cells import full_year, parse_count, parse_season
from hatchbook.exchange.past_seasons.day_cells import Day, guess_order, in_order, written_day
from hatchbook.exchange.past_seasons.fields import PastField as F
from hatchbook.exchange.past_seasons.fields import with_field
from hatchbook.exchange.past_seasons.grid import GridRow, bare_words
from hatchbook.exchange.past_seasons.header import guess_columns
from hatchbook.exchange.past_seasons.header_words import SHARES, WORDS
from hatchbook.exchange.past_seasons.known_words import known_words
from hatchbook.exchange.past_seasons.labels import FreeLabels
from hatchbook.exchange.past_seasons.refusals import PastReason, Refusal
from hypothesis import given
from hypothesis import strategies as st

CELLS: st.SearchStrategy[Any] = (
    st.none()
    | st.booleans()
    | st.text(max_size=20)
    | st.integers()
    | st.floats()
    | st.dates()
    | st.from_regex(r"[-+]?\d{1,9}([.,/ -]\d{1,4}){0,2}", fullmatch=True)
)


@pytest.mark.parametrize(
    ("cell", "count"),
    [
        (24, 24), (24.0, 24), ("24", 24), (" 24 ", 24), ("24.0", 24), ("24,00", 24), ("+3", 3), ("0", 0),
        ("007", 7), (None, None), ("", None), ("-", None), ("—", None), ("N/A", None), ("?", None),
    ],
)  # fmt: skip
def test_counts_are_read_in_the_ways_in_which_they_are_written(cell: Any, count: int | None) -> None:
    assert parse_count(cell) == count


@pytest.mark.parametrize(
    ("cell", "reason"),
    [
        ("75 %", PastReason.PERCENTAGE), (0.75, PastReason.NOT_WHOLE), ("7,5", PastReason.NOT_WHOLE),
        ("1.200", PastReason.NOT_WHOLE), ("1 200", PastReason.NOT_WHOLE), (-2, PastReason.NEGATIVE),
        ("−2", PastReason.NEGATIVE), (float("nan"), PastReason.NOT_A_COUNT), (float("inf"), PastReason.NOT_A_COUNT),
        ("18/24", PastReason.NOT_A_COUNT), ("24 eggs", PastReason.NOT_A_COUNT), (True, PastReason.NOT_A_COUNT),
        (date(2021, 3, 4), PastReason.NOT_A_COUNT), ("9" * 40, PastReason.TOO_LARGE), (2e6, PastReason.TOO_LARGE),
    ],
)  # fmt: skip
def test_what_is_no_count_has_its_reason(cell: Any, reason: PastReason) -> None:
    with pytest.raises(Refusal) as caught:
        parse_count(cell)
    assert caught.value.reason is reason


@given(CELLS)
def test_any_cell_is_a_count_of_none_or_more_or_is_refused(cell: Any) -> None:
    try:
        count = parse_count(cell)
    except Refusal:
        pass
    else:
        assert count is None or 0 <= count <= 1_000_000


@given(CELLS)
def test_any_cell_is_a_season_of_years_there_can_be_or_is_refused(cell: Any) -> None:
    try:
        season = parse_season(cell, 2026)
    except Refusal:
        pass
    else:
        assert season is None or isinstance(season, date) or 1800 <= season <= 2199


@given(CELLS, st.sampled_from(DateOrder))
def test_any_cell_is_a_date_or_is_refused(cell: Any, order: DateOrder) -> None:
    try:
        written = written_day(cell, 2026)
    except Refusal:
        pass
    else:
        if written is not None:
            in_order(written, order, 2026).as_date()


@pytest.mark.parametrize(
    ("text", "season"),
    [
        ("2021", 2021), ("Season 2021", 2021), ("2020/21", 2020), ("2020-2021", 2020), ("'98", 1998), ("98", 1998),
        ("21", 2021), ("98/99", 1998), ("99/00", 1999),
    ],
)  # fmt: skip
def test_seasons_are_named_by_their_first_year(text: str, season: int) -> None:
    assert parse_season(text, 2026) == season


@pytest.mark.parametrize(
    "text", ["spring", "24-01", "2021/19", "3/2021, 24 eggs", "202", "1700", "2021 2022"]
)
def test_what_names_no_season_is_refused(text: str) -> None:
    with pytest.raises(Refusal):
        parse_season(text, 2026)


def test_two_figures_mean_the_latest_year_that_can_have_been() -> None:
    assert [full_year(short, 2026) for short in (0, 26, 27, 99)] == [2000, 2026, 1927, 1999]


MARCH_14 = Day(2021, 3, 14)


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("2021-03-14", MARCH_14), ("14.3.2021", MARCH_14), ("14/03/21", MARCH_14), ("14-3-21", MARCH_14),
        ("14 March 2021", MARCH_14), ("14. März 2021", MARCH_14), ("March 14, 2021", MARCH_14),
        ("Sun 14 Mar 2021", MARCH_14), ("20210314", MARCH_14), ("2021-03-14 09:30", MARCH_14),
        ("14 mars 21", MARCH_14), ("44269", MARCH_14), (44269, MARCH_14), (44269.4, MARCH_14),
        ("14.3.", Day(None, 3, 14)), ("14th March", Day(None, 3, 14)), ("March 14", Day(None, 3, 14)),
        ("March 2021", Day(2021, 3)), ("03/2021", Day(2021, 3)), ("2021-03", Day(2021, 3)),
        ("März '21", Day(2021, 3)), ("2021", Day(2021)), (2021, Day(2021)), ("14.3.98", Day(1998, 3, 14)),
        ("14.3.1964", Day(1964, 3, 14)), ("31.2.2021", Day(2021, 2, 31)),
    ],
)  # fmt: skip
def test_dates_are_read_in_the_ways_in_which_they_are_written(text: Any, day: Day) -> None:
    written = written_day(text, 2026)
    assert written is not None
    assert in_order(written, DateOrder.DAY_MONTH_YEAR, 2026) == day


@given(
    st.lists(st.dates(date(1950, 1, 1), date(2026, 5, 14)), min_size=1),
    st.sampled_from(DateOrder),
    st.booleans(),
)
def test_dates_of_one_order_are_read_right_or_their_order_is_undecided(
    days: list[date], order: DateOrder, month_first: bool
) -> None:
    pattern = {
        DateOrder.YEAR_MONTH_DAY: "%Y-%m-%d",
        DateOrder.DAY_MONTH_YEAR: "%d.%m.%Y",
        DateOrder.MONTH_DAY_YEAR: "%m/%d/%Y",
    }[order]
    cells = [written_day(day.strftime(pattern), 2026) for day in days]
    written = [cell for cell in cells if cell is not None]
    guess = guess_order([(cell, None) for cell in written], date(2026, 5, 14), month_first_usual=month_first)
    read = [in_order(cell, guess.order, 2026).as_date() for cell in written]
    assert read == days or guess.basis is Basis.UNDECIDED
    if any(day.day > 12 for day in days):
        assert read == days


def test_a_season_beside_the_dates_decides_their_order() -> None:
    texts = [("03.04.05", 2005), ("04.05.05", 2005), ("06.07.04", 2004)]
    written = [(written_day(text, 2026), season) for text, season in texts]
    days = [(day, season) for day, season in written if day is not None]
    assert guess_order(days, date(2026, 5, 14), month_first_usual=False).order is DateOrder.DAY_MONTH_YEAR


def test_dates_that_were_not_yet_decide_their_order() -> None:
    last = date(2026, 5, 14)
    written = written_day("02/06/2026", 2026)
    assert written is not None
    assert last + timedelta(days=18) > last
    guess = guess_order([(written, None)], last, month_first_usual=False)
    assert (guess.order, guess.basis) == (DateOrder.MONTH_DAY_YEAR, Basis.VALUES)


# ------------------------------------------------------------------ names of columns


def columns_of(names: list[str], *rows: list[Any]) -> list[str]:
    return [
        str(one) for one in guess_columns(names, [GridRow(n, tuple(row), "") for n, row in enumerate(rows)])
    ]


@pytest.mark.parametrize(
    ("names", "fields"),
    [
        (
            ["Brut-Nr.", "Eingelegt am", "Rasse", "Stamm", "Eier", "unbefruchtet", "geschlüpft", "Bemerkungen"],
            ["label", "set_on", "breed", "pen", "eggs_set", "clear", "hatched", "note"],
        ),
        (
            ["N°", "Année", "Espèce", "Race", "Couveuse", "Nombre d'œufs", "Clairs", "Morts tardifs", "Éclos"],
            ["label", "season", "species", "breed", "machine", "eggs_set", "clear", "late_dead", "hatched"],
        ),
        (["Año", "Especie", "Huevos", "Fértiles", "Nacidos"],
         ["season", "species", "eggs_set", "fertile", "hatched"]),
        (["Säsong", "Ras", "Antal ägg", "Obefruktade", "Kläckta"],
         ["season", "breed", "eggs_set", "clear", "hatched"]),
        (["Seizoen", "Soort", "Aantal eieren", "Bevrucht", "Uitgekomen"],
         ["season", "species", "eggs_set", "fertile", "hatched"]),
        (["Early", "Mid", "Late", "Pipped", "Culls", "Rotten", "Broken", "Opened & infertile"],
         ["early_dead", "mid_dead", "late_dead", "pipped_dead", "culled", "rotten", "taken_out",
          "infertile_opened"]),
        (["BATCH #", "no. of eggs set", "Chicks hatched"], ["label", "eggs_set", "hatched"]),
        (["Fertility %", "Hatch rate", "Hatched of set (%)", "Hatch date", "Egg weight"], ["leave_out"] * 5),
        (["Note 1", "Note 2", "Eggs", "Eggs set"], ["note", "note", "leave_out", "eggs_set"]),
    ],
)  # fmt: skip
def test_columns_are_known_by_their_names_in_several_languages(names: list[str], fields: list[str]) -> None:
    assert columns_of(names) == fields


def test_a_name_with_two_meanings_is_told_by_what_stands_below_it() -> None:
    assert columns_of(["Set", "Hatch"], ["14.3.2021", "4.4.2021"]) == ["set_on", "leave_out"]
    assert columns_of(["Set", "Hatch"], [24, 18]) == ["eggs_set", "hatched"]
    assert columns_of(["Eingelegt", "Eingelegt"], ["14.3.2021", 24]) == ["set_on", "eggs_set"]


def test_a_column_of_shares_is_no_column_of_counts() -> None:
    assert columns_of(["Year", "Hatched", "Chicks"], [2021, "75 %", 18]) == ["season", "leave_out", "hatched"]


def test_the_lists_of_words_are_written_as_words_are_compared() -> None:
    for words in WORDS.values():
        for word in words:
            assert bare_words(word) == word
            assert not SHARES.search(word), word


def test_choosing_a_field_takes_it_from_the_column_that_had_it() -> None:
    columns = (F.EGGS_SET, F.NOTE, F.LEAVE_OUT)
    assert with_field(columns, 2, F.EGGS_SET) == (F.LEAVE_OUT, F.NOTE, F.EGGS_SET)
    assert with_field(columns, 2, F.NOTE) == (F.EGGS_SET, F.NOTE, F.NOTE)


# ------------------------------------------------------------------ species and labels


@pytest.mark.parametrize(
    ("word", "code"),
    [
        ("Hens", "hen"), ("Hühner", "hen"), ("poules", "hen"), ("Ducks", "duck"), ("Puten", "turkey"),
        ("Coturnix quail", "coturnix"), ("Japanese quails", "coturnix"), ("Perlhühner", "guinea_fowl"),
        ("guinea fowl", "guinea_fowl"), ("GEESE", "goose"), ("quail", None), ("dodo", None), ("", None),
    ],
)  # fmt: skip
def test_species_are_known_by_their_words(word: str, code: str | None) -> None:
    assert known_words().species_of(word) == code


def test_words_of_the_breeders_language_go_before_others() -> None:
    assert known_words(spoken={"Quail": "coturnix"}).species_of("quails") == "coturnix"


def test_labels_are_given_once_and_go_on_from_those_there_are() -> None:
    free = FreeLabels({"21-01", "21-07", "5", "B4"})
    assert [free.next_of(2021), free.next_of(2021), free.next_of(1998)] == ["21-08", "21-09", "98-01"]
    assert [free.like("5", 2021), free.like("5", 2021), free.like("B4", 2020), free.like("B4", 2020)] == [
        "21-05", "5 2021", "B4 2020", "B4 2020-2",
    ]  # fmt: skip
