"""The sentences of the water and vent guide, word for word."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import pytest
from hatchbook.desk.words.guide import (
    advice_headline,
    advice_reason,
    ask_for_room,
    cautions,
    evidence_sentence,
    expected_text,
    impossible_sentence,
    move_sentence,
    room_origin,
    room_sentence,
    same_setting,
    standing_sentence,
    weather_sentence,
)
from hatchbook.figures.guide_results import RoomAir, RoomAirFrom, WantedFrom, WeatherEffect
from hatchbook.figures.results import Band
from hatchbook.figures.weight_results import Estimate
from hatchbook.trade.codes import PhaseKind
from tests.desk.english import english_plurals
from tests.desk.machines.guides import ZONE, estimate, guide, wanted


@pytest.fixture(autouse=True)
def english(qapp: object) -> Iterator[None]:
    with english_plurals():
        yield


def plain(text: str) -> str:
    return text.replace("\u00a0", " ")


@pytest.mark.parametrize(
    ("before", "after", "said"),
    [
        ((2, 0.5), (2, 0.5), "Keep 2 channels and the vent at 1/2"),
        ((1, 1.0), (1, 1.0), "Keep 1 channel and the vent open"),
        ((1, 0.0), (1, 0.0), "Keep 1 channel and the vent shut"),
        ((0, 0.5), (0, 0.5), "Keep the channels empty and the vent at 1/2"),
        ((2, 0.5), (1, 0.5), "Take out 1 channel"),
        ((2, 0.5), (3, 0.5), "Fill 1 more channel"),
        ((0, 0.5), (2, 0.5), "Fill 2 more channels"),
        ((2, 0.5), (2, 0.75), "Open the vent to 3/4"),
        ((2, 0.5), (2, 1.0), "Open the vent fully"),
        ((2, 0.5), (2, 0.25), "Close the vent to 1/4"),
        ((2, 0.5), (2, 0.0), "Shut the vent"),
        ((2, 0.5), (3, 0.75), "Fill 1 more channel and open the vent to 3/4"),
        ((2, 0.5), (3, 0.25), "Fill 1 more channel and close the vent to 1/4"),
        ((2, 0.5), (3, 1.0), "Fill 1 more channel and open the vent fully"),
        ((2, 0.5), (4, 0.0), "Fill 2 more channels and shut the vent"),
        ((2, 0.5), (1, 0.75), "Take out 1 channel and open the vent to 3/4"),
        ((2, 0.5), (1, 0.25), "Take out 1 channel and close the vent to 1/4"),
        ((2, 0.5), (0, 1.0), "Take out 2 channels and open the vent fully"),
        ((2, 0.5), (1, 0.0), "Take out 1 channel and shut the vent"),
        (None, (2, 0.5), "Try 2 channels and the vent at 1/2"),
        (None, (0, 0.25), "Try it without water, the vent at 1/4"),
    ],
)
def test_every_move_is_said_as_one_does_it(
    before: tuple[int, float] | None, after: tuple[int, float], said: str
) -> None:
    assert move_sentence(before, after) == said


def test_a_third_is_the_same_however_it_was_stored() -> None:
    assert move_sentence((2, 1 / 3), (2, 1 / 3 + 1e-10)) == "Keep 2 channels and the vent at 1/3"


@pytest.mark.parametrize(
    ("origin", "said"),
    [
        (
            WantedFrom.HOLD,
            "That should hold 38 ± 2 %; 26-05 wants 40.1 % until Thu 21 May, by the humidity band.",
        ),
        (
            WantedFrom.WEIGHT,
            "That should hold 38 ± 2 %; 26-05 wants 40.1 % until Thu 21 May, by the eggs' weight.",
        ),
        (WantedFrom.LOCKDOWN, "That should hold 38 ± 2 %; 26-05 wants 40.1 % in lockdown, until Thu 21 May."),
        (
            WantedFrom.AIM,
            "That should hold 38 ± 2 %; 26-05 has no reading yet; the aim until Thu 21 May is 40.1 %.",
        ),
    ],
)
def test_the_reason_names_who_wants_what_until_when_and_by_what(origin: WantedFrom, said: str) -> None:
    assert plain(advice_reason(guide(wanted=wanted(origin=origin)), ZONE)) == said


def test_an_advice_that_is_far_from_what_is_wanted_says_so() -> None:
    moist = plain(advice_reason(guide(wanted=wanted(humidity=30.0)), ZONE))
    assert moist.endswith("No setting comes nearer: this is 8 % too humid.")
    dry = plain(advice_reason(guide(wanted=wanted(humidity=44.0)), ZONE))
    assert dry.endswith("No setting comes nearer: this is 6 % too dry.")
    assert "nearer" not in advice_reason(guide(wanted=wanted(humidity=40.9)), ZONE)


def test_where_nothing_comes_near_that_is_the_headline() -> None:
    none = guide(advised=None, wanted=wanted(humidity=88.0))
    assert plain(advice_headline(none)) == "No setting comes near 88.0 %"
    assert plain(advice_reason(none, ZONE)) == (
        "26-05 wants 88.0 % until Thu 21 May, by the humidity band. None of the settings in the table gives that "
        "with this room air."
    )


def test_what_is_out_of_reach_falls_back_to_the_band() -> None:
    dry = guide(advised=None, wanted=wanted(humidity=0.0, origin=WantedFrom.WEIGHT))
    assert advice_headline(dry) == "No air is as dry as 26-05 would need"
    assert plain(advice_reason(dry, ZONE, Band(40, 45, 50))) == (
        "26-05 wants 0.0 % until Thu 21 May, by the eggs' weight: that cannot be reached any more. Hold the band "
        "of its phase, 40–50 %."
    )
    assert plain(advice_reason(dry, ZONE)).endswith("that cannot be reached any more.")
    moist = guide(advised=None, wanted=wanted(humidity=100.0))
    assert advice_headline(moist) == "No air is as moist as 26-05 would need"


def test_a_machine_without_a_batch_says_so() -> None:
    empty = guide(advised=None, wanted=None)
    assert advice_headline(empty) == "Nothing to hold in this machine now"
    assert advice_reason(empty, ZONE) == (
        "No batch lies in it. The table shows what each setting would give with the room air below."
    )


def test_how_it_stands_is_said_where_something_else_is_advised() -> None:
    assert standing_sentence(guide(), ZONE) == ""
    assert plain(standing_sentence(guide(advised=(1, 0.25)), ZONE)) == (
        "As it stands since 11 May, with 2 channels, vent 1/2, it should hold 38 ± 2 %."
    )
    assert standing_sentence(guide(setting=None), ZONE) == "How it stands now is not noted: log the setting."
    unlisted = replace(guide(advised=(1, 0.25)), now_cell=None, setting=(2, 0.4), setting_since=None)
    assert standing_sentence(unlisted, ZONE) == "As it stands: 2 channels, vent 2/5."


def test_a_range_is_never_narrower_than_one() -> None:
    assert plain(expected_text(estimate(41.2, 0.3))) == "41 ± 1 %"
    assert plain(expected_text(Estimate(41.2, 38.0, 45.0))) == "41 ± 4 %"


def test_the_evidence_is_counted_and_little_of_it_is_said() -> None:
    assert evidence_sentence(guide(stretches=1)) == (
        "From 1 stretch of its own history in which water and vent stood still, 640 h in all."
    )
    little = evidence_sentence(guide(enough=False, stretches=2, hours=30.0))
    assert little == (
        "From 2 stretches of its own history in which water and vent stood still, 30 h in all. That is little yet: "
        "the ranges are mostly those of such machines in general."
    )
    assert evidence_sentence(guide(enough=False, stretches=0, hours=0.0)).startswith(
        "Nothing of this machine is known yet: the numbers are those of such machines in general"
    )


def test_the_room_air_says_where_it_comes_from() -> None:
    assert room_origin(guide().room, ZONE) == "Room logger, 14 May 14:00"
    assert room_origin(RoomAir(20, 50, RoomAirFrom.TYPED), ZONE) == "as typed"
    assumed = guide(room=RoomAir(20, 45, RoomAirFrom.ASSUMED))
    assert room_origin(assumed.room, ZONE) == "assumed, not measured"
    assert room_origin(assumed.room, ZONE, learned=True) == "reckoned, not measured"
    assert ask_for_room(assumed).startswith("Type what a hygrometer shows in the room")
    assert ask_for_room(guide()) == ""
    assert plain(room_sentence(guide())) == "Warmed to 37.7 °C this air alone reads 18 %."


def test_other_weather_says_what_would_then_be_to_do() -> None:
    air = RoomAir(22, 75, RoomAirFrom.READING)
    damp = WeatherEffect(air, "damp", 29.0, estimate(52.0), 1, 0.5)
    assert plain(weather_sentence(damp, guide())) == (
        "On a damp day (22 °C, 75 %) this would give 52 ± 2 %: then take out 1 channel."
    )
    dry = replace(
        damp, code="dry", room=RoomAir(14, 40, RoomAirFrom.READING), humidity=estimate(36), channels=2
    )
    assert plain(weather_sentence(dry, guide())) == (
        "On a dry day (14 °C, 40 %) this would give 36 ± 2 %: nothing to change."
    )


def test_in_lockdown_the_vent_is_warned_of() -> None:
    unplug = "Unplug the machine before you work with water near its mains parts."
    assert cautions(guide()) == (unplug,)
    assert cautions(guide(wanted=wanted(phase=PhaseKind.LOCKDOWN))) == (
        unplug,
        "At lockdown never shut the vent: hatching chicks need air.",
    )


def test_with_little_left_the_band_is_said_to_be_enough() -> None:
    late = wanted(origin=WantedFrom.BAND, humidity=40.0, low=40.0, high=50.0)
    told = plain(advice_reason(guide(wanted=late, setting=(2, 0.25), advised=(2, 0.25)), ZONE))
    assert told == (
        "That should hold 42 ± 2 %; "
        "little is left to steer until Thu 21 May: the band of 26-05, 40–50 %, is enough."
    )


def test_openings_that_no_hand_tells_apart_are_one_setting() -> None:
    assert same_setting((2, 0.49), (2, 0.5))
    assert not same_setting((2, 0.45), (2, 0.5))
    assert move_sentence((2, 0.49), (3, 0.5)) == "Fill 1 more channel"


def test_fillings_that_cannot_have_been_are_told() -> None:
    assert impossible_sentence(guide()) == ""
    assert impossible_sentence(guide(impossible_fillings=1)) == (
        "1 filling of more channels than it has (3 channels) left out: correct the journal, or how many channels "
        "it has."
    )
