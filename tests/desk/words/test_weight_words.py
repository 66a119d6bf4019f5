"""What is said of the eggs' weight, word for word."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hatchbook.desk.words.weights import (
    advice_sentence,
    asked_text,
    by_weight_foot,
    corridor_text,
    estimate_text,
    hold_caption,
    weight_explanation,
    weight_foot,
    weight_heading,
)
from hatchbook.figures.weight_results import (
    AdviceBasis,
    AdviceReason,
    Estimate,
    HoldAdvice,
    LossTarget,
    MassBase,
    WeightBasis,
)
from PySide6.QtWidgets import QApplication
from tests.desk.charts.weights import forecast

NB = "\u00a0"
APART = HoldAdvice(
    AdviceBasis.WEIGHT, 36.0, 33.0, 39.0, 42.1, Estimate(36.0, 33.0, 39.0), (31.0, 41.0), True, True, 18.0
)


@pytest.fixture(autouse=True)
def _locale(qapp: QApplication) -> None:
    """Numbers are written by the application's locale."""


def test_numbers_stand_with_their_range() -> None:
    assert estimate_text(Estimate(11.52, 10.9, 12.1)) == f"11.5 ±{NB}0.6"
    assert corridor_text(LossTarget(11.0, 12.0, 13.0, 18.0)) == "11–13"
    assert corridor_text(LossTarget(12.5, 15.0, 17.5, 28.0)) == "12.5–17.5"


def test_the_foot_says_where_it_is_heading_and_flags_what_misses_the_corridor() -> None:
    given = forecast(0)
    assert weight_foot(given) == (f"heading for 11.5 ±{NB}0.6 % on day 18", False)
    low = replace(given, at_target=Estimate(9.3, 8.9, 9.7))
    assert weight_foot(low) == (f"too little: 9.3 ±{NB}0.4, not 11–13 %", True)
    assert weight_heading(low) == f"Heading for 9.3 ±{NB}0.4 % on day 18; wanted are 11–13 %."
    high = replace(given, at_target=Estimate(15.0, 14.5, 15.5))
    assert weight_foot(high) == (f"too much: 15.0 ±{NB}0.5, not 11–13 %", True)
    over = replace(given, path_ahead=None)
    assert weight_foot(over) == (f"11.5 ±{NB}0.6 % by day 18", False)
    assert weight_heading(over) == f"It had lost 11.5 ±{NB}0.6 % by day 18; wanted were 11–13 %."
    # A range that reaches into the corridor is no alarm.
    wide = replace(given, at_target=Estimate(10.5, 9.5, 11.5))
    assert weight_foot(wide)[1] is False


def test_without_weighings_the_foot_says_what_it_rests_on() -> None:
    unweighed = forecast(0, weighed=False)
    assert weight_foot(unweighed) == (f"not weighed; by species 11.5 ±{NB}0.6 %", False)
    assert weight_heading(unweighed).startswith("Not weighed: by what is known of the species alone")
    assert weight_heading(replace(unweighed, target=None)) == ""
    assert weight_foot(replace(unweighed, target=None)) == ("not weighed: by the species alone", False)
    assert weight_foot(replace(forecast(0), target=None))[0] == "12 egg(s) weighed; no target is set"


def test_two_aims_that_part_become_one_advice() -> None:
    assert advice_sentence(APART) == (
        f"The humidity band asks for 42{NB}%, the eggs’ weight for 36{NB}% (33–39). Go by the weight: hold "
        f"36{NB}% until day 18."
    )
    beyond = replace(APART, by_weight=Estimate(-4.0, -9.0, 1.0), humidity=20.0, reachable=False)
    assert advice_sentence(beyond) == (
        f"The humidity band asks for 42{NB}%, the eggs’ weight for less than 0{NB}%, which no machine can hold. Go "
        f"by the weight as far as it goes: hold 20{NB}% until day 18."
    )
    by_band = replace(APART, basis=AdviceBasis.BAND, humidity=42.1)
    assert advice_sentence(by_band).endswith("so go by the band. Weighing some eggs decides it.")
    from_memory = replace(by_band, reason=AdviceReason.UNVERIFIED)
    assert advice_sentence(from_memory).endswith("from memory, nobody has published it: go by the band.")


def test_a_humidity_that_is_none_is_not_written_as_one() -> None:
    assert asked_text(Estimate(36.0, 33.0, 39.0)) == f"36{NB}% (33–39)"
    assert asked_text(Estimate(95.0, 85.0, 109.0)) == f"95{NB}% (85–100)"
    assert asked_text(Estimate(124.0, 115.0, 135.0)) == f"more than 100{NB}%"
    assert asked_text(Estimate(-170.0, -240.0, -90.0)) == f"less than 0{NB}%"


def test_when_little_is_left_nothing_is_asked_for() -> None:
    given = forecast(0)
    assert given.advice is not None
    late = replace(given, advice=replace(given.advice, by_weight=None, reason=AdviceReason.LITTLE_LEFT))
    assert weight_explanation(late)[-1].startswith("Until day 18 no humidity changes much")
    never = replace(given, advice=replace(given.advice, by_weight=Estimate(-170.0, -240.0, -90.0)))
    assert weight_explanation(never)[-1] == f"No humidity brings it to 12.0{NB}% by day 18 any more."


def test_aims_that_agree_need_no_sentence() -> None:
    assert advice_sentence(replace(APART, disagree=False, by_band=38.0)) == ""
    assert advice_sentence(replace(APART, by_band=None)) == ""
    assert advice_sentence(replace(APART, by_weight=None)) == ""


def test_the_figure_to_hold_is_named_by_what_it_goes_by() -> None:
    assert hold_caption(by_weight=False) == "Hold from now on"
    assert hold_caption(by_weight=True) == "Hold from now on, by the weight"
    assert by_weight_foot(APART) == f"the band alone would ask for 42{NB}%"
    assert by_weight_foot(replace(APART, reachable=False)).startswith("as far as it goes")


def test_the_explanation_has_the_numbers_the_base_and_the_straight_line() -> None:
    said = " ".join(weight_explanation(forecast(0)))
    assert "share of each egg’s weight when set" in said
    assert f"A straight line through the weights, as handbooks draw it, ends on 11.5{NB}%." in said
    assert (
        f"Of 36 eggs about 3 will lose less than 8.8{NB}% and 1 more than 15.0{NB}%. So much a single egg bears; "
        "the corridor is for their mean."
    ) in said
    reached = " ".join(weight_explanation(replace(forecast(0), path_ahead=None)))
    assert f"Of 36 eggs about 3 lost less than 8.8{NB}%" in reached
    assert "0.250 mg a day, gram and torr at sea level (0.230–0.270)" in said
    assert f"For 12.0{NB}% by day 18 hold 41{NB}% (38–44) from now on." in said


def test_the_explanation_tells_of_estimated_weights_gaps_and_publications_that_disagree() -> None:
    given = replace(
        forecast(0, weighed=False),
        base=MassBase.ESTIMATED,
        exposure_known=0.6,
        published_apart=("conductance_below_published", "band_and_target_disagree"),
    )
    assert given.basis is WeightBasis.PRIOR
    said = " ".join(weight_explanation(given))
    assert "length and breadth (Hoyt)" in said
    assert f"60{NB}% of the time is known" in said
    assert "No egg was weighed" in said
    assert "These eggs let less water through" in said
    assert "Publications differ" in said
