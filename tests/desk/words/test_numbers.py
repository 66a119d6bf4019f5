"""Numbers carry their units and are written as the locale writes them."""

from __future__ import annotations

import math

import pytest
from hatchbook.desk.words import numbers
from hatchbook.statistics.rates import Rate
from PySide6.QtCore import QLocale

NB = "\u00a0"


def test_a_number_that_rounds_to_nothing_has_no_sign() -> None:
    assert numbers.number(-0.04) == "0.0"
    assert numbers.number(-1.25, 1) == "\u22121.2"


@pytest.mark.parametrize("nothing", [None, math.nan])
def test_where_there_is_no_number_there_is_a_dash(nothing: float | None) -> None:
    assert numbers.number(nothing) == "–"
    assert numbers.temperature(nothing) == "–"


def test_units_stand_beside_the_value() -> None:
    assert numbers.percent(48.04) == f"48.0{NB}%"
    assert numbers.share(0.8611) == f"86{NB}%"
    assert numbers.temperature(37.5) == f"37.5{NB}°C"
    assert numbers.temperature(37.5, 1, "F") == f"99.5{NB}°F"
    assert numbers.mass(58.4) == f"58.4{NB}g"


def test_a_rate_stands_with_its_range() -> None:
    assert numbers.rate_text(Rate.of(31, 36)) == f"86{NB}% 71–94"
    assert numbers.rate_text(Rate.of(0, 0)) == "–"


@pytest.mark.parametrize(
    ("seconds", "text"),
    [
        (0, "0 min"),
        (20, "20 s"),
        (12 * 60, "12 min"),
        (110 * 60, "1 h 50 min"),
        (2 * 3600, "2 h"),
        (6 * 86400 + 19 * 3600, "6 d 19 h"),
        (86400, "1 d"),
    ],
)
def test_a_duration_is_told_in_its_two_largest_units(seconds: int, text: str) -> None:
    assert numbers.duration_text(seconds).replace(NB, " ") == text


@pytest.mark.parametrize(
    ("opening", "text"), [(0, "shut"), (1, "open"), (0.5, "1/2"), (0.25, "1/4"), (1 / 3, "1/3")]
)
def test_a_vent_is_told_as_it_is_set(opening: float, text: str) -> None:
    assert numbers.vent_text(opening) == text


def test_the_decimal_comma_of_the_locale_is_used() -> None:
    QLocale.setDefault(QLocale(QLocale.Language.German))
    assert numbers.percent(48.0) == f"48,0{NB}%"
