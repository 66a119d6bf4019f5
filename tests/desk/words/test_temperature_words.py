"""Warmth, cuts and the hatch to expect, word for word."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hatchbook.desk.words.temperature import (
    cuts_sentence,
    cuts_short,
    cuts_value,
    expectation_short,
    outside_text,
    running_sentences,
    shift_sentence,
)
from hatchbook.figures.temperature import CutFigures, PhaseTemperature, TemperatureFigures
from hatchbook.trade.codes import PhaseKind
from hatchbook.trade.hatch_time import shift_by_cooling, shift_by_temperature, shifts_by_storage

NB = "\u00a0"
LOGGED = CutFigures(0, 6600, 31.5, sure=True, event="e")
FOUND = CutFigures(90_000, 93_600, 33.0, sure=True)


def warmth(*cuts: CutFigures, searched: bool = True, expectation: Any = ()) -> TemperatureFigures:
    return TemperatureFigures((), cuts, searched, tuple(expectation))


@pytest.mark.parametrize(
    ("figures", "sentence"),
    [
        (warmth(), "no cut, logged or found"),
        (warmth(searched=False), "no cut is logged"),
        (warmth(LOGGED), f"1 cut(s), down to 31.5{NB}°C"),
        (warmth(FOUND), f"1 cut(s), down to 33.0{NB}°C: found in the curve, not logged"),
        (warmth(LOGGED, FOUND), f"2 cut(s), down to 31.5{NB}°C; 1 found in the curve, not logged"),
        (
            warmth(replace(FOUND, sure=False)),
            f"1 cut(s), down to 33.0{NB}°C: found in the curve, or the lid was open",
        ),
    ],
)
def test_what_there_is_to_say_of_the_power(figures: TemperatureFigures, sentence: str, qapp: Any) -> None:
    assert cuts_sentence(figures) == sentence


@pytest.mark.parametrize(
    ("figures", "sentence"),
    [
        (warmth(), "no cut, logged or found"),
        (warmth(LOGGED), f"down to 31.5{NB}°C"),
        (warmth(FOUND), f"to 33.0{NB}°C, not logged"),
        (warmth(replace(FOUND, sure=False)), f"to 33.0{NB}°C, or the lid open"),
        (warmth(LOGGED, FOUND), "2 cut(s)"),
        (warmth(replace(LOGGED, lowest_c=None)), "1 cut(s)"),
    ],
)
def test_the_power_in_a_few_words(figures: TemperatureFigures, sentence: str, qapp: Any) -> None:
    assert cuts_short(figures) == sentence


def test_how_long_the_power_was_off(qapp: Any) -> None:
    assert cuts_value((LOGGED,)) == f"1{NB}h{NB}50{NB}min"
    assert cuts_value(()) == ""


def test_time_outside_the_band_is_told_from_an_hour_on(qapp: Any) -> None:
    assert outside_text(PhaseTemperature(PhaseKind.INCUBATION, 400, 6.2, 0.4)) == f"below it 6{NB}h"
    assert outside_text(PhaseTemperature(PhaseKind.INCUBATION, 400, 0.0, 0.4)) == ""


def test_a_figure_from_memory_says_so_and_a_published_one_too(qapp: Any) -> None:
    sentences = [shift_sentence(shift) for shift in shifts_by_storage("hen", 9.0)]
    assert "(published)" in sentences[0]
    assert "not published" in sentences[1]
    assert "from memory" in sentences[2]


def test_the_hatch_to_expect_in_short(qapp: Any) -> None:
    stored = shifts_by_storage("hen", 7.0)
    cooled, warm, cool = shift_by_cooling(2.0), shift_by_temperature(0.4), shift_by_temperature(-0.4)
    assert expectation_short(warmth(expectation=stored)) == "about 12 h later than of fresh eggs"
    assert expectation_short(warmth(expectation=[cooled])) == "later than usual"
    assert expectation_short(warmth(expectation=[warm])) == "earlier than usual"
    assert expectation_short(warmth(expectation=[cool, *stored])) == "about 12 h later than of fresh eggs"
    assert expectation_short(warmth(expectation=[warm, *stored])) == ""
    assert expectation_short(warmth()) == ""


def test_a_running_batch_tells_of_cuts_that_nobody_logged(qapp: Any) -> None:
    assert running_sentences(warmth(LOGGED)) == []
    assert running_sentences(warmth(FOUND)) == [f"1 power cut(s) found in the curve, not logged: 1{NB}h"]
