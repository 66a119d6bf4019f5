"""The program's own programmes.

Published values stand with their source. Those marked "from memory" were not seen in any text.
"""

from __future__ import annotations

import pytest
from hatchbook.trade.codes import MachineKind, PhaseKind
from hatchbook.trade.programme import STILL_AIR_RISE_C
from hatchbook.trade.programmes import (
    About,
    LossEnd,
    Programme,
    SourceMark,
    for_still_air,
    load_programmes,
    load_species,
    programme_named,
    programmes_of,
)
from hatchbook.trade.resources import resource_path
from hatchbook.trade.units import fahrenheit_from_celsius

ALL = load_programmes()
CODES = [programme.code for programme in ALL]
SPECIES = {species.code: species for species in load_species()}


def named(code: str) -> Programme:
    programme = programme_named(code)
    assert programme is not None
    return programme


def phases(code: str) -> list[tuple[float, ...]]:
    """From day, to day, humidity low, aim, high of each phase."""
    return [
        (phase.from_day, phase.to_day, phase.humidity_low, phase.humidity_aim, phase.humidity_high)
        for phase in named(code).phases
    ]


def test_every_species_of_the_trade_is_there_hens_first() -> None:
    assert list(SPECIES) == [
        "hen",
        "bantam",
        "turkey",
        "duck",
        "muscovy",
        "goose",
        "guinea_fowl",
        "coturnix",
        "bobwhite",
        "pheasant",
        "chukar",
        "peafowl",
        "pigeon",
        "ostrich",
        "emu",
        "rhea",
        "parrot",
    ]


def test_the_first_programme_of_a_species_has_its_code() -> None:
    assert all(species.programmes[0].code == code for code, species in SPECIES.items())
    assert len(set(CODES)) == len(CODES)


def test_hens_have_the_common_practice_first_and_the_published_one_beside_it() -> None:
    assert [programme.code for programme in programmes_of("hen")] == ["hen", "hen_extension"]
    # Common practice, no source: 45 % (40-50) to day 19, then 65 % (60-70) for the last two days.
    assert phases("hen") == [(0, 19, 40, 45, 50), (19, 21, 60, 65, 70)]
    # Mississippi State and Virginia Tech extension: 58-60 %, then 65-70 % for the last three days.
    assert phases("hen_extension") == [(0, 18, 58, 59, 60), (18, 21, 65, 67.5, 70)]
    assert named("hen").incubation_days == named("hen_extension").incubation_days == 21


def test_common_practice_is_never_called_published() -> None:
    for about in (About.HUMIDITY, About.LOCKDOWN, About.VENT, About.TURNING):
        marks = {note.mark for note in named("hen").sources_of(about)}
        assert marks == {SourceMark.COMMON_PRACTICE}, about
    assert {note.mark for note in named("hen_extension").sources_of(About.LOCKDOWN)} == {SourceMark.PUBLISHED}


def test_hens_vent_stands_half_open_then_at_most_a_third() -> None:
    """Common practice, no source."""
    assert [phase.vent_hint for phase in named("hen").phases] == [0.5, 1 / 3]


def test_hens_are_kept_at_100_fahrenheit_by_the_extension() -> None:
    """100 °F forced air, half a degree either side (Mississippi State University Extension)."""
    phase = named("hen_extension").phases[0]
    fahrenheit = [
        fahrenheit_from_celsius(value)
        for value in (phase.temperature_low_c, phase.temperature_aim_c, phase.temperature_high_c)
    ]
    assert fahrenheit == pytest.approx([99.5, 100.0, 100.5], abs=1e-12)


@pytest.mark.parametrize(
    ("code", "days"),
    [
        # Mississippi State University Extension, Incubation duration periods
        ("hen", 21),
        ("turkey", 28),
        ("duck", 28),
        ("coturnix", 17),
        ("bobwhite", 23),
        ("guinea_fowl", 28),  # Moreki & Mothei
        ("peafowl", 28),  # an extension leaflet, seen in a copy
        ("ostrich", 42),  # Hand-Rearing Birds, 2nd ed., Table 4.1
    ],
)
def test_incubation_takes_as_long_as_published(code: str, days: float) -> None:
    assert named(code).incubation_days == days


@pytest.mark.parametrize("code", list(SPECIES))
def test_the_chosen_days_lie_in_what_a_source_says(code: str) -> None:
    species = SPECIES[code]
    chosen = species.programmes[0].incubation_days
    assert species.chosen_because
    assert any(period.low_days <= chosen <= period.high_days for period in species.periods)


@pytest.mark.parametrize(
    ("code", "spans"),
    [
        # The disagreements the breeder is to see, each source read in print or in a copy of it.
        ("muscovy", {(33, 35), (35, 37)}),
        ("goose", {(28, 28), (33, 33), (29, 31), (34, 35)}),
        ("pheasant", {(23, 24), (23, 28), (24, 24), (25, 25)}),
        ("pigeon", {(16, 17), (18, 18)}),
        ("ostrich", {(42, 42), (40, 42), (45, 45)}),
        ("chukar", {(22, 23), (23.2, 23.45)}),
    ],
)
def test_publications_that_differ_stand_side_by_side(code: str, spans: set[tuple[float, float]]) -> None:
    printed = [note for note in SPECIES[code].periods if note.mark is SourceMark.PUBLISHED]
    assert spans <= {(note.low_days, note.high_days) for note in printed}


@pytest.mark.parametrize(
    ("code", "target"),
    [
        ("hen", (12, 13, 18)),  # Meir & Ar, layer hens with flock age and moulting
        ("hen_extension", (12, 13, 18)),
        ("turkey", (11, 13, 28)),  # 12 ± 1 %: Meir, Nir & Ar 1984, Poult. Sci. 63:1489-1496
        ("duck", (13, 15, 25)),  # about 14 % by day 25: a university's page, seen in a copy
        ("goose", (11, 13, 30)),  # 12 %: Meir & Ar 1991, Br. Poult. Sci. 32:723-732
        ("emu", (10, 15, 52)),  # Hand-Rearing Birds, 2nd ed., Table 4.1
        ("parrot", (13, 17, 25)),  # Hand-Rearing Birds, 2nd ed., Fig. 3.1: an amazon's, to the pip
    ],
)
def test_eggs_lose_what_is_published(code: str, target: tuple[float, float, float]) -> None:
    programme = named(code)
    assert (programme.loss_low_percent, programme.loss_high_percent, programme.loss_day) == target
    assert {note.mark for note in programme.sources_of(About.LOSS)} == {SourceMark.PUBLISHED}


@pytest.mark.parametrize(
    "code", ["muscovy", "guinea_fowl", "coturnix", "bobwhite", "pheasant", "chukar", "peafowl", "pigeon"]
)
def test_a_loss_that_nobody_verified_is_marked_as_from_memory(code: str) -> None:
    programme = named(code)
    assert (programme.loss_low_percent, programme.loss_high_percent) == (12, 15)
    assert (programme.loss_day, programme.loss_end) == (programme.lockdown_day, LossEnd.LOCKDOWN)
    assert [note.mark for note in programme.sources_of(About.LOSS)] == [SourceMark.FROM_MEMORY]


def test_parrots_are_kept_as_the_husbandry_manual_has_it() -> None:
    """37.2 ± 0.2 °C, 55 %, 75 % from three days before the hatch (Superb parrot husbandry manual, TAFE 2005).

    How long a parrot takes nobody says for parrots in general: the days are put together here, and marked so.
    """
    parrot = named("parrot")
    assert phases("parrot") == [(0, 24, 50, 55, 60), (24, 27, 70, 75, 80)]
    assert {(p.temperature_low_c, p.temperature_aim_c, p.temperature_high_c) for p in parrot.phases} == {
        (37.0, 37.2, 37.4)
    }
    assert parrot.loss_end is LossEnd.PIP
    assert [note.mark for note in parrot.sources_of(About.PERIOD)] == [SourceMark.OURS]


@pytest.mark.parametrize("programme", ALL, ids=CODES)
def test_candling_comes_at_the_hens_share_of_the_incubation(programme: Programme) -> None:
    """Days 7, 14 and 18 of a hen's 21, scaled: our rule, to whole days."""
    scale = programme.incubation_days / 21
    assert programme.candle_days == pytest.approx([7 * scale, 14 * scale, 18 * scale], abs=0.5)
    assert programme.candle_days[-1] <= programme.lockdown_day
    assert programme.weigh_days[0] == 0
    assert programme.weigh_days[-1] <= programme.lockdown_day


@pytest.mark.parametrize("programme", ALL, ids=CODES)
def test_eggs_are_turned_three_times_a_day_until_lockdown(programme: Programme) -> None:
    """Common practice, no source."""
    assert [phase.turns_per_day for phase in programme.phases] == [3, 0]


@pytest.mark.parametrize("programme", ALL, ids=CODES)
def test_every_value_says_where_it_comes_from(programme: Programme) -> None:
    told = {note.about for note in programme.sources}
    assert set(About) - {About.VENT} <= told
    for note in programme.sources:
        assert note.source or note.mark is not SourceMark.PUBLISHED


@pytest.mark.parametrize("programme", ALL, ids=CODES)
def test_a_programme_comes_back_from_its_json(programme: Programme) -> None:
    assert Programme.from_json(programme.to_json()) == programme
    still = for_still_air(programme)
    assert Programme.from_json(still.to_json()) == still


def test_still_air_is_two_fahrenheit_degrees_warmer_at_the_eggs_tops() -> None:
    """102 °F against 100 °F (Mississippi State University Extension)."""
    still = for_still_air(named("hen_extension"))
    assert still.machine_kind is MachineKind.STILL_AIR
    assert fahrenheit_from_celsius(still.phases[0].temperature_aim_c) == pytest.approx(102.0, abs=1e-12)
    assert still.phases[0].humidity_aim == 59
    assert for_still_air(still) is still


def test_geese_have_their_own_still_air() -> None:
    """38.4 °C above the eggs against 37.2 °C in forced air (a waterfowl author in a magazine)."""
    assert for_still_air(named("goose")).phases[0].temperature_aim_c == pytest.approx(38.4, abs=1e-12)
    assert named("duck").still_air_rise_c == STILL_AIR_RISE_C


def test_a_day_lies_in_its_phase_and_a_late_hatch_in_the_last() -> None:
    hen = named("hen")
    kinds = [hen.phase_at(day) for day in (0.0, 18.999, 19.0, 21.0, 23.5)]
    assert [phase and phase.kind for phase in kinds] == [
        PhaseKind.INCUBATION,
        PhaseKind.INCUBATION,
        PhaseKind.LOCKDOWN,
        PhaseKind.LOCKDOWN,
        PhaseKind.LOCKDOWN,
    ]
    assert hen.phase_at(-0.1) is None
    assert hen.phase_at(float("nan")) is None
    assert hen.lockdown_day == 19


def test_a_programme_that_is_not_known_is_none() -> None:
    assert programme_named("dodo") is None
    assert programmes_of("dodo") == ()


def test_every_file_is_explained() -> None:
    """Each entry that a species file uses is named beside the files."""
    explained = resource_path("README.md").read_text(encoding="utf-8")
    for path in resource_path("species").glob("*.toml"):
        for line in path.read_text(encoding="utf-8").splitlines():
            name = line.split(" = ")[0]
            if name.isidentifier() and line != name:
                assert f"`{name}`" in explained, f"{path.name}: {name}"
