"""The day-by-day signs of an embryo's age against the published tables; see SOURCES.md."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest
from hatchbook.trade.embryo import load_embryo_stages, pain_possible_from_day
from hatchbook.trade.sources import SourceMark

SIGNS = Path(__file__).parent / "embryo_signs.csv"
SOURCES = {
    "illinois": "University of Illinois Extension, The Timing of Major Embryonic Developments",
    "msu": "Mississippi State University Extension, Stages in chick embryo development",
}


def published() -> set[tuple[str, float, str]]:
    with SIGNS.open(encoding="utf-8", newline="") as file:
        return {(SOURCES[row["source"]], float(row["day"]), row["sign"]) for row in csv.DictReader(file)}


def test_every_published_sign_stands_on_its_day_under_its_source_and_no_other_does() -> None:
    stages = load_embryo_stages()
    ours = {
        (table.source, day, str(sign))
        for table in stages.tables
        for day, signs in table.days
        for sign in signs
    }
    assert len(ours) == 39
    assert ours == published()
    assert stages.incubation_days == 21
    assert {table.mark for table in stages.tables} == {SourceMark.PUBLISHED}


@pytest.mark.parametrize(
    ("incubation_days", "from_day"),
    # 80 % of the incubation: 16.8 of 21, 22.4 of 28, 13.6 of 17 days (AVMA 2020, as quoted by university
    # animal care committees).
    [(21, 16.8), (28, 22.4), (17, 13.6)],
)
def test_an_embryo_may_feel_pain_from_four_fifths_of_its_incubation(
    incubation_days: float, from_day: float
) -> None:
    assert pain_possible_from_day(incubation_days) == pytest.approx(from_day)
