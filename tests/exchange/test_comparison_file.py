"""The table of a comparison as a file."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest
from hatchbook.exchange.comparison_file import HEADER, write_comparison
from hatchbook.figures.comparison_results import GroupName, Question
from hatchbook.figures.comparison_rows import Grouping
from tests.desk.seasons.made_up import PENS, SEASONS, figures

NAMES = {group: group.name or group.key or "" for group in (*PENS, *SEASONS)}


def read(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8-sig", newline="") as file:
        return list(csv.DictReader(file))


def test_every_group_and_rate_is_a_line(tmp_path: Path) -> None:
    path = tmp_path / "seasons.csv"
    assert write_comparison(path, figures(), NAMES) == 6 * 3
    lines = read(path)
    assert tuple(lines[0]) == HEADER
    assert lines[0]["grouping"] == "all"
    brook = next(line for line in lines if line["group"] == "Brook" and line["rate"] == "hatch_of_fertile")
    assert brook == {
        "species": "hen",
        "seasons": "all",
        "grouping": "pen",
        "group": "Brook",
        "batches": "1",
        "eggs_set": "30",
        "rate": "hatch_of_fertile",
        "hits": "64",
        "of": "100",
        "percent": "64.0",
        "percent_low": "57.0",
        "percent_high": "71.0",
        "percent_drawn": "64.0",
        "against_others": "lower",
        "chance": "0.0004",
    }
    unknown = next(line for line in lines if line["group"] == "Yard" and line["rate"] == "hatch_of_set")
    assert (unknown["percent"], unknown["against_others"], unknown["chance"]) == ("", "not_compared", "")


def test_a_spreadsheet_that_writes_decimal_commas_can_read_it(tmp_path: Path) -> None:
    path = tmp_path / "seasons.csv"
    asked = figures(question=Question(None, seasons=(2024, 2025)))
    write_comparison(path, asked, {**NAMES, PENS[0]: "Brook; by the mill, below"}, decimal_point=",")
    with path.open(encoding="utf-8-sig", newline="") as file:
        lines = list(csv.DictReader(file, delimiter=";"))
    brook = next(line for line in lines if line["group"].startswith("Brook"))
    assert brook["group"] == "Brook; by the mill, below"
    assert (brook["species"], brook["seasons"]) == ("all", "2024-2025")
    assert (brook["percent"], brook["chance"], brook["hits"]) == ("84,0", "0,0004", "84")


def test_a_name_is_no_formula(tmp_path: Path) -> None:
    path = tmp_path / "seasons.csv"
    write_comparison(path, figures(), {**NAMES, PENS[0]: '=HYPERLINK("x")'})
    assert any(line["group"] == '\'=HYPERLINK("x")' for line in read(path))


def test_what_stood_there_stays_when_something_goes_wrong(tmp_path: Path) -> None:
    path = tmp_path / "seasons.csv"
    path.write_text("before")
    with pytest.raises(KeyError):
        write_comparison(path, figures(), {GroupName(Grouping.PEN, "x"): "x"})
    assert path.read_text() == "before"
    assert list(tmp_path.iterdir()) == [path]
    with pytest.raises(OSError, match="No such file"):
        write_comparison(tmp_path / "gone" / "seasons.csv", figures(), NAMES)
