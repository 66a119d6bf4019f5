"""Every row of statistics.csv that intervals and rates answer (see SOURCES.md)."""

from __future__ import annotations

import csv
import re
from pathlib import Path

import pytest
from hatchbook.statistics.intervals import newcombe_difference, wilson
from hatchbook.statistics.rates import Rate, closure

Row = dict[str, str]

with (Path(__file__).parent / "statistics.csv").open(encoding="utf-8", newline="") as file:
    ROWS: list[Row] = list(csv.DictReader(file))


def rows(pattern: str) -> list[object]:
    """The rows whose name matches, as test parameters."""
    return [pytest.param(row, id=row["name"]) for row in ROWS if re.match(pattern, row["name"])]


def numbers(text: str) -> list[int]:
    return [int(number) for number in re.findall(r"\d+", text)]


def assert_as_published(value: float, row: Row) -> None:
    assert value == pytest.approx(float(row["published_value"]), abs=float(row["tolerance"]))


def test_rows_of_each_kind_are_there() -> None:
    kinds = (r"wilson95_", r"newcombe10_", r"closure_fertile_", r"ogunwande_\w+_of_67")
    assert [len(rows(kind)) for kind in kinds] == [10, 4, 6, 3]


@pytest.mark.parametrize("row", rows(r"wilson95_"))
def test_wilson_interval(row: Row) -> None:
    hits, trials = numbers(row["inputs"].split(";conf")[0])
    side = {"lo": 0, "hi": 1}[row["name"].rsplit(".", 1)[1]]
    assert_as_published(wilson(hits, trials)[side], row)


@pytest.mark.parametrize("row", rows(r"newcombe10_"))
def test_newcombe_difference(row: Row) -> None:
    side = {"lo": 1, "hi": 2}[row["name"].rsplit(".", 1)[1]]
    assert_as_published(newcombe_difference(*numbers(row["inputs"].split(";")[0]))[side], row)


def shares(row: Row) -> list[float]:
    return [float(share) for share in re.findall(r"\d+\.?\d*", row["inputs"].split("=")[-1].split("(")[0])]


@pytest.mark.parametrize("row", rows(r"closure_fertile_"))
def test_a_published_set_of_losses_closes(row: Row) -> None:
    # Poult. Sci. 100(4):101026, Table 2: hatch of fertile + early + mid + late + cull + contaminated
    assert len(shares(row)) == 6
    result = closure(shares(row))
    assert result.closes
    assert result.total == pytest.approx(float(row["our_value"]), abs=0.005)
    assert_as_published(result.total, row)


@pytest.mark.parametrize("row", rows(r"ogunwande_sum_NOT_CLOSING"))
def test_a_published_set_with_overlapping_classes_does_not_close(row: Row) -> None:
    # Ogunwande, Akinola & Lana 2015, Ife J. Science 17(1):219
    result = closure(shares(row))
    assert len(shares(row)) == 3
    assert_as_published(result.total, row)
    assert not result.closes


@pytest.mark.parametrize("row", rows(r"ogunwande_\w+_of_67"))
def test_shares_of_the_set_that_does_not_close(row: Row) -> None:
    estimate = Rate.of(*numbers(row["inputs"])).estimate
    assert estimate is not None
    assert_as_published(100 * estimate, row)
