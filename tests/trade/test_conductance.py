"""What is taken of the shells of each species, and what a file may say of them."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hatchbook.statistics.weight_loss import forecast_loss
from hatchbook.trade.conductance import conductance_of_all_birds, read_conductance
from hatchbook.trade.entries import Entries
from hatchbook.trade.phases import ProgrammeError, ProgrammeFault
from hatchbook.trade.programmes import SourceMark, conductance_of, load_species

TABLE: dict[str, Any] = {
    "mean": 0.3,
    "batch_sd": 0.06,
    "egg_cv": 0.18,
    "published": [0.31, 0.4],
    "statement": "Layers.",
    "source": "Somebody 2008",
    "mark": "published",
}


@pytest.mark.parametrize("species", load_species(), ids=lambda one: one.code)
def test_every_species_has_one_that_says_what_it_rests_on(species: Any) -> None:
    conductance = species.conductance
    assert conductance.statement
    assert conductance.source
    assert conductance.mark is SourceMark.OURS  # no means of batches are published as such
    assert 0.05 < conductance.mean < 0.5
    assert conductance.batch_sd / conductance.mean >= 0.15


def test_the_range_of_hens_holds_all_that_is_printed() -> None:
    """Layers 0.31 to 0.40 (Meir & Ar); broiler breeders 11.00 mg/(day torr) at 54.4 g, 11.99 at 60.8 g (Şahan,
    Sabah & Sözcü 2020); and what the common practice and its target ask for."""
    hen = conductance_of("hen", 21)
    low, high = hen.mean - 1.96 * hen.batch_sd, hen.mean + 1.96 * hen.batch_sd
    asked = 0.3 * 12.5 / forecast_loss(0.3, 45, 18, air_c=37.7)
    for printed in (0.31, 0.40, 11.00 / 54.4, 11.99 / 60.8, asked):
        assert low < printed < high
    assert (hen.published_low, hen.published_high) == (0.31, 0.40)


def test_turkeys_are_as_measured() -> None:
    """18.70 ± 2.87 mg/(100 g day torr) (Meir, Nir & Ar 1984)."""
    turkey = conductance_of("turkey", 28)
    assert turkey.mean == pytest.approx(0.187, abs=0.005)
    assert turkey.egg_cv == pytest.approx(2.87 / 18.70, abs=0.001)


@pytest.mark.parametrize("species", load_species(), ids=lambda one: one.code)
def test_the_range_of_a_species_holds_what_its_programme_asks_for(species: Any) -> None:
    """The target of the first programme at its own humidity: else the page would contradict itself."""
    programme, conductance = species.programmes[0], species.conductance
    lost = 0.0
    for phase in programme.phases:
        days = min(phase.to_day, programme.loss_day) - phase.from_day
        if days > 0:
            lost += forecast_loss(1.0, phase.humidity_aim, days, air_c=phase.temperature_aim_c)
    asked = (programme.loss_low_percent + programme.loss_high_percent) / 2 / lost
    assert abs(asked - conductance.mean) < 1.96 * conductance.batch_sd


def test_a_species_of_the_breeders_own_is_taken_as_any_bird() -> None:
    """0.150 of the mass at 35 torr (Ar & Rahn 1980; Rahn & Ar 1974)."""
    crane = conductance_of("crane", 30)
    assert crane == conductance_of_all_birds(30)
    assert crane.mean == pytest.approx(150 / 35 / 30)
    assert crane.mark is SourceMark.OURS
    assert (crane.published_low, crane.published_high) == (None, None)


def test_a_table_is_read() -> None:
    read = read_conductance(Entries(TABLE))
    assert (read.mean, read.batch_sd, read.egg_cv, read.published_high) == (0.3, 0.06, 0.18, 0.4)
    fewer = {name: TABLE[name] for name in TABLE if name != "published"}
    nothing = {"published_low": None, "published_high": None, "least_published": None}
    assert read_conductance(Entries(fewer)) == replace(read, **nothing)


def test_other_kinds_of_the_species_may_be_published_lower() -> None:
    """Layers 0.31 to 0.40 (Meir & Ar 2008), broiler breeders 0.20 (Şahan et al. 2020)."""
    assert conductance_of("hen", 21).least_published == 0.20
    assert read_conductance(Entries({**TABLE, "least_published": 0.25})).least_published == 0.25
    with pytest.raises(ProgrammeError) as refused:
        read_conductance(Entries({**TABLE, "least_published": 0.35}))
    assert refused.value.field == "least_published"


@pytest.mark.parametrize(
    ("change", "fault", "field"),
    [
        ({"mean": 0}, ProgrammeFault.OUT_OF_RANGE, "mean"),
        ({"batch_sd": 3}, ProgrammeFault.OUT_OF_RANGE, "batch_sd"),
        ({"egg_cv": -0.1}, ProgrammeFault.OUT_OF_RANGE, "egg_cv"),
        ({"published": [0.4, 0.3]}, ProgrammeFault.NOT_ASCENDING, "published"),
        ({"published": [0.4]}, ProgrammeFault.WRONG_KIND, "published"),
        ({"source": ""}, ProgrammeFault.NO_SOURCE, "source"),
        ({"statement": ""}, ProgrammeFault.MISSING, "statement"),
        ({"guess": 1}, ProgrammeFault.UNKNOWN_ENTRY, "guess"),
    ],
)
def test_a_table_that_cannot_be_is_refused(change: dict[str, Any], fault: ProgrammeFault, field: str) -> None:
    with pytest.raises(ProgrammeError) as refused:
        read_conductance(Entries(TABLE | change))
    assert (refused.value.fault, refused.value.field) == (fault, field)
