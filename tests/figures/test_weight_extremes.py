"""Inputs at the edge of what happens: the figures say something sensible, and no more than is known."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hatchbook.figures import batch_figures
from hatchbook.figures.hold_advice import DRIEST, MOISTEST
from hatchbook.figures.weight_results import AdviceBasis, AdviceReason, WeightBasis, WeightForecast
from hatchbook.journal import Batch, BatchPhase, Egg, EggMass, Weighing
from hatchbook.statistics.moisture import pressure_kpa
from hatchbook.statistics.weight_loss import forecast_loss
from hatchbook.trade.codes import MachineKind, PhaseKind
from hatchbook.trade.programmes import load_species, programmes_of
from tests.figures.conftest import SET_AT, Hatchery
from tests.figures.weighed_batches import wandering

DAY, HOUR = 86_400, 3_600
SPECIES = [one.code for one in load_species()]


_numbers = itertools.count(1)


class Incubation:
    """A batch by a species' own programme, in air as it wants it."""

    def __init__(
        self, hatchery: Hatchery, species: str, eggs: Sequence[dict[str, Any]], **fields: Any
    ) -> None:
        self.hatchery, self.journal = hatchery, hatchery.journal
        self.programme = programme = programmes_of(species)[0]
        target = {
            "loss_low_percent": programme.loss_low_percent,
            "loss_high_percent": programme.loss_high_percent,
            "loss_day": programme.loss_day,
        }
        hatcher = fields.pop("hatcher", None)
        given = {"set_at": SET_AT, "machine": hatchery.machine.uid, **target, **fields}
        self.batch = Batch(
            label=f"{species} {next(_numbers)}",
            species=species,
            incubation_days=programme.incubation_days,
            programme=programme.to_json(),
            early_until_day=5.0,
            mid_until_day=10.0,
            **given,
        )
        names = ("humidity_low", "humidity_aim", "humidity_high")
        names += ("temperature_low_c", "temperature_aim_c", "temperature_high_c")
        phases = [
            BatchPhase(
                self.batch.uid,
                phase.kind,
                phase.from_day,
                phase.to_day,
                *(getattr(phase, name) for name in names),
                machine=hatcher if phase.kind is PhaseKind.LOCKDOWN else None,
            )
            for phase in programme.phases
        ]
        self.first = programme.phases[0]
        self.journal.batches.set_batch(
            self.batch, phases, [], [Egg(self.batch.uid, n + 1, **egg) for n, egg in enumerate(eggs)]
        )

    def log(self, until_day: float, humidity: Any = None, warm: Any = None, *, every_s: int = HOUR) -> None:
        at = self.batch.set_at + np.arange(0, round(until_day * DAY) + 1, every_s)
        self.hatchery.log(
            at,
            self.first.humidity_aim if humidity is None else humidity,
            self.first.temperature_aim_c if warm is None else warm,
            name=f"{until_day}",
        )

    def weigh(self, day: float, masses: Sequence[float], step_g: float | None = None) -> None:
        weighing, eggs = (
            Weighing(self.batch.uid, self.batch.set_at + round(day * DAY), step_g),
            self.hatchery.eggs(self.batch),
        )
        self.journal.weighings.note_weighing(
            weighing, [EggMass(weighing.uid, eggs[n + 1], mass) for n, mass in enumerate(masses)]
        )

    def lost(self, conductance: float, day: float, altitude_m: float = 0.0) -> float:
        """In the air of its first phase, %."""
        air = {"air_c": self.first.temperature_aim_c, "pressure_kpa": pressure_kpa(altitude_m)}
        return forecast_loss(conductance, self.first.humidity_aim, day, **air)

    def forecast(self, day: float, as_json: Callable[[Any], Any]) -> WeightForecast:
        figures = batch_figures(self.journal, self.batch.uid, self.batch.set_at + max(round(day * DAY), 1))
        as_json(figures)  # fails on anything that is no number
        assert figures.forecast is not None
        sensible(figures.forecast)
        return figures.forecast


def sensible(forecast: WeightForecast) -> None:
    """What holds of every forecast."""
    estimates = [forecast.loss_now, forecast.conductance, forecast.prior]
    estimates += [egg.at_target for egg in forecast.eggs] + [egg.conductance for egg in forecast.eggs]
    estimates += [] if forecast.at_target is None else [forecast.at_target]
    for one in estimates:
        assert 0.0 <= one.low <= one.value <= one.high < 60.0
    for path in (forecast.path_so_far, forecast.path_ahead, forecast.path_held):
        if path is not None:
            assert np.all((path.low >= 0) & (path.low <= path.mean) & (path.mean <= path.high))
            assert np.all(np.diff(path.mean) >= -1e-9)
    advice = forecast.advice
    if advice is not None:
        assert min(DRIEST, 15.0) <= advice.low <= advice.humidity <= advice.high <= MOISTEST
        assert (advice.basis is AdviceBasis.WEIGHT) == (
            advice.reason in {AdviceReason.WEIGHT, AdviceReason.OUT_OF_REACH}
        )


@pytest.mark.parametrize("species", SPECIES)
def test_every_species_at_every_time(hatchery: Hatchery, as_json: Callable[[Any], Any], species: str) -> None:
    """From a second after setting to an hour before the target and after it, weighed and not."""
    batch = Incubation(hatchery, species, [{"set_mass_g": 60.0 + n / 10} for n in range(6)])
    day, last = batch.programme.loss_day or 18.0, batch.programme.incubation_days
    batch.log(last)
    assert batch.forecast(0.0, as_json).basis is WeightBasis.PRIOR
    batch.weigh(7.0, [round((60.0 + n / 10) * (1 - batch.lost(0.2, 7) / 100), 1) for n in range(6)], 0.1)
    for at in (7.1, last / 2, day - 1 / 24, day, day + 1 / 24, last - 0.1, last + 2):
        forecast = batch.forecast(at, as_json)
        assert forecast.basis is WeightBasis.EGGS
        if forecast.advice is not None and day - 1 < at:
            assert forecast.advice.basis is AdviceBasis.BAND


@pytest.mark.parametrize(
    ("mass_g", "step_g", "species", "day"),
    [
        (8.0, 0.01, "coturnix", 7.0),
        (8.0, 1.0, "coturnix", 7.0),
        (10.0, 5.0, "coturnix", 7.0),
        (58.0, 5.0, "hen", 7.0),
        (1400.0, 5.0, "ostrich", 14.0),
        (1400.0, 0.1, "ostrich", 14.0),
    ],
)
def test_from_quail_to_ostrich_on_any_scale(
    hatchery: Hatchery, as_json: Callable[[Any], Any], mass_g: float, step_g: float, species: str, day: float
) -> None:
    """The true conductance is that of the species; the coarser the scale, the nearer to what was known before."""
    rng = np.random.default_rng(3)
    masses = mass_g * (1 + 0.06 * rng.standard_normal(12))

    def shown(true: np.ndarray) -> list[float]:
        return (np.round(true / step_g) * step_g).round(3).tolist()

    batch = Incubation(hatchery, species, [{"set_mass_g": one} for one in shown(masses)])
    batch.log(day + 1)
    prior = batch.forecast(1.0, as_json)
    true = prior.prior.value
    batch.weigh(day, shown(masses * (1 - batch.lost(true, day) / 100)), step_g)
    forecast = batch.forecast(day + 0.5, as_json)
    assert forecast.conductance.low <= true <= forecast.conductance.high
    assert forecast.conductance.half_width <= 1.02 * prior.conductance.half_width
    if step_g / mass_g < 0.005:
        assert forecast.conductance.half_width < 0.7 * prior.conductance.half_width
    if step_g / mass_g > 0.1:
        assert forecast.advice is not None
        assert forecast.advice.reason is AdviceReason.UNSURE


def test_two_weighings_of_one_egg_an_hour_apart_tell_nothing(
    hatchery: Hatchery, as_json: Callable[[Any], Any]
) -> None:
    batch = Incubation(hatchery, "hen", [{}])
    batch.log(9)
    before = batch.forecast(5.5, as_json)
    for day, mass_g in ((5.0, 60.12), (5.0 + 1 / 24, 60.06)):
        batch.weigh(day, [mass_g], 0.01)
    after = batch.forecast(5.5, as_json)
    assert after.conductance.value == pytest.approx(before.conductance.value, abs=0.02)
    assert after.conductance.half_width == pytest.approx(before.conductance.half_width, rel=0.06)
    assert after.advice is not None
    assert after.advice.basis is AdviceBasis.BAND


def test_weighed_on_day_0_only_nothing_is_known_but_the_species(
    hatchery: Hatchery, as_json: Callable[[Any], Any]
) -> None:
    batch = Incubation(hatchery, "hen", [{}] * 12)
    batch.log(9)
    batch.weigh(0.0, [60.0] * 12, 0.1)
    assert batch.forecast(9, as_json).basis is WeightBasis.PRIOR


def test_shipped_eggs_of_which_only_the_mass_when_laid_is_known(
    hatchery: Hatchery, as_json: Callable[[Any], Any]
) -> None:
    batch = Incubation(hatchery, "hen", [{"laid_mass_g": 60.7, "laid_on": "2026-04-28"}] * 12)
    batch.log(12)
    assert batch.forecast(7, as_json).basis is WeightBasis.PRIOR
    batch.weigh(7, [round(60.7 * 0.988 * (1 - batch.lost(0.26, 7) / 100), 1)] * 12, 0.1)
    forecast = batch.forecast(7.1, as_json)
    assert forecast.conductance.low < 0.26 < forecast.conductance.high
    # What was lost in storage is the same guess for all twelve: they do not make it surer.
    assert forecast.conductance.half_width > 0.035


def test_a_tray_first_weighed_late_loses_a_share_of_what_it_weighed_when_set(
    hatchery: Hatchery, as_json: Callable[[Any], Any]
) -> None:
    batch = Incubation(hatchery, "hen", [{}] * 24)
    batch.log(14)
    for day in (9, 11, 14):
        mass_g = 200 + 24 * 60 * (1 - batch.lost(0.26, day) / 100)
        at = SET_AT + day * DAY
        batch.journal.weighings.note_weighing(
            Weighing(batch.batch.uid, at, 0.1, tray_mass_g=mass_g, tare_g=200.0, eggs_on_tray=24)
        )
    forecast = batch.forecast(14, as_json)
    assert forecast.basis is WeightBasis.TRAY
    assert forecast.loss_now.value == pytest.approx(batch.lost(0.26, 14), abs=0.2)


@pytest.mark.parametrize("stuck", [0.0, 100.0])
def test_a_hygrometer_stuck_at_its_end_counts_as_none(
    hatchery: Hatchery, as_json: Callable[[Any], Any], stuck: float
) -> None:
    batch = Incubation(hatchery, "hen", [{"set_mass_g": 60.1}] * 12)
    batch.log(12, stuck)
    batch.weigh(7, [round(60.1 * (1 - batch.lost(0.26, 7) / 100), 1)] * 12, 0.1)
    forecast = batch.forecast(8, as_json)
    assert forecast.exposure_known == 0.0
    assert forecast.loss_now.value == pytest.approx(batch.lost(0.26, 8), abs=0.1)
    assert forecast.assumed_from == "aim"


def test_a_few_readings_of_a_wet_probe_are_left_out(
    hatchery: Hatchery, as_json: Callable[[Any], Any]
) -> None:
    batch = Incubation(hatchery, "hen", [{"set_mass_g": 60.1}] * 12)
    humidity = np.full(8 * 24 + 1, 45.0)
    humidity[60:66] = 100.0
    batch.log(8, humidity)
    forecast = batch.forecast(8, as_json)
    assert forecast.loss_now.value == pytest.approx(batch.lost(0.30, 8), abs=0.1)
    assert forecast.exposure_known == pytest.approx(1 - 5 / 192, abs=0.02)


@pytest.mark.parametrize("missing", ["humidity", "temperature", "both"])
def test_what_is_not_measured_is_taken_at_its_aim(
    hatchery: Hatchery, as_json: Callable[[Any], Any], missing: str
) -> None:
    batch = Incubation(hatchery, "hen", [{"set_mass_g": 60.1}] * 12)
    if missing != "both":
        batch.log(
            9,
            math.nan if missing == "humidity" else None,
            math.nan if missing == "temperature" else None,
        )
    batch.weigh(7, [round(60.1 * (1 - batch.lost(0.26, 7) / 100), 1)] * 12, 0.1)
    forecast = batch.forecast(8, as_json)
    assert forecast.loss_now.value == pytest.approx(batch.lost(0.26, 8), abs=0.1)
    assert forecast.exposure_known == (1.0 if missing == "temperature" else 0.0)


@pytest.mark.parametrize("every_s", [12 * HOUR, 20])
def test_readings_twice_a_day_and_every_few_seconds_tell_the_same(
    hatchery: Hatchery, as_json: Callable[[Any], Any], every_s: int
) -> None:
    batch = Incubation(hatchery, "hen", [{"set_mass_g": 60.1}] * 12)
    batch.log(8, every_s=every_s)
    batch.weigh(7, [round(60.1 * (1 - batch.lost(0.26, 7) / 100), 1)] * 12, 0.1)
    forecast = batch.forecast(8, as_json)
    assert forecast.exposure_known == pytest.approx(1.0, abs=0.01)
    assert forecast.loss_now.value == pytest.approx(batch.lost(0.26, 8), abs=0.1)


def test_at_3000_metres(hatchery: Hatchery, as_json: Callable[[Any], Any]) -> None:
    hatchery.journal.machines.keep(replace(hatchery.machine, altitude_m=3000.0))
    batch = Incubation(hatchery, "hen", [{"set_mass_g": 60.1}] * 12)
    batch.log(12)
    batch.weigh(7, [round(60.1 * (1 - batch.lost(0.26, 7, 3000.0) / 100), 1)] * 12, 0.1)
    forecast = batch.forecast(7.1, as_json)
    assert forecast.conductance.low < 0.26 < forecast.conductance.high
    assert forecast.advice is not None
    assert forecast.advice.humidity > 65  # the air is thin: 45 % would take 18 %


def test_a_hatcher_high_above_counts_for_its_days_only(
    hatchery: Hatchery, as_json: Callable[[Any], Any]
) -> None:
    """A turkey's target lies at the end of lockdown, which is spent elsewhere."""
    hatcher = hatchery.add_machine("Up there")
    eggs = [{"set_mass_g": 85.1}] * 12
    here = Incubation(hatchery, "turkey", eggs).forecast(20, as_json)
    hatchery.journal.machines.keep(replace(hatcher, altitude_m=3000.0))
    there = Incubation(hatchery, "turkey", eggs, set_at=SET_AT + DAY, hatcher=hatcher.uid)
    forecast = there.forecast(20, as_json)
    assert forecast.loss_now.value == pytest.approx(here.loss_now.value)
    assert forecast.at_target is not None
    assert here.at_target is not None
    in_lockdown = forecast.at_target.value - there.forecast(24.999, as_json).loss_now.value
    assert forecast.at_target.value > here.at_target.value + 0.2 * in_lockdown


def test_across_a_change_of_clocks(hatchery: Hatchery, as_json: Callable[[Any], Any]) -> None:
    """Set on 20 March 2026: on the 29th the day has 23 hours on the wall, and 24 for the eggs."""
    batch = Incubation(hatchery, "hen", [{"set_mass_g": 60.1}] * 12, set_at=SET_AT - 45 * DAY)
    batch.log(12)
    batch.weigh(11, [round(60.1 * (1 - batch.lost(0.26, 11) / 100), 1)] * 12, 0.1)
    assert batch.forecast(11, as_json).loss_now.value == pytest.approx(batch.lost(0.26, 11), abs=0.05)


@pytest.mark.parametrize(
    ("low", "high", "day"), [(12.0, 12.0, 18.0), (1.0, 2.0, 18.0), (40.0, 50.0, 18.0), (12.0, 13.0, 30.0)]
)
def test_any_corridor_is_answered(
    hatchery: Hatchery, as_json: Callable[[Any], Any], low: float, high: float, day: float
) -> None:
    """One without width, ones that no egg can meet, one that lies behind the hatch."""
    target = {"loss_low_percent": low, "loss_high_percent": high, "loss_day": day}
    batch = Incubation(hatchery, "hen", [{"set_mass_g": 60.1}] * 12, **target)
    batch.log(12)
    batch.weigh(7, [round(60.1 * (1 - batch.lost(0.26, 7) / 100), 1)] * 12, 0.1)
    forecast = batch.forecast(8, as_json)
    assert forecast.too_little is not None
    assert forecast.too_much is not None
    assert forecast.too_little + forecast.too_much <= 12
    if low == high:  # single eggs still have room
        assert forecast.too_little + forecast.too_much < 3


def test_eggs_that_gained_weight_have_no_loss_below_nothing(
    hatchery: Hatchery, as_json: Callable[[Any], Any]
) -> None:
    batch = Incubation(hatchery, "hen", [{"set_mass_g": 60.1}] * 5)
    batch.log(12)
    batch.weigh(7, [60.3] * 5, 0.1)
    forecast = batch.forecast(8, as_json)
    assert forecast.loss_now.low == 0.0
    assert "conductance_below_published" in forecast.published_apart


def test_in_still_air_more_is_in_doubt(hatchery: Hatchery, as_json: Callable[[Any], Any]) -> None:
    ranges = []
    for kind in (MachineKind.FORCED_AIR, MachineKind.STILL_AIR):
        hatchery.journal.machines.keep(replace(hatchery.machine, kind=kind))
        batch = Incubation(hatchery, "hen", [{"set_mass_g": 60.1}] * 12)
        batch.log(8)
        batch.weigh(7, [57.1] * 12, 0.1)
        ranges.append(batch.forecast(8, as_json).conductance.half_width)
        hatchery.journal.batches.close(batch.batch, SET_AT + 8 * DAY)
    assert ranges[1] > 1.1 * ranges[0]


def test_a_target_from_memory_is_told_and_not_steered_for(
    hatchery: Hatchery, as_json: Callable[[Any], Any]
) -> None:
    """Eggs of quail as published, 0.25 mg: 12 % by day 15 takes air of 20 %; the breeder's own target counts."""
    for own in (False, True):
        target = {"loss_low_percent": 12.0, "loss_high_percent": 14.0, "loss_day": 15.0} if own else {}
        batch = Incubation(hatchery, "coturnix", [{"set_mass_g": 10.03}] * 12, **target)
        batch.log(8)
        batch.weigh(7, [round(10.03 * (1 - batch.lost(0.25, 7) / 100), 2)] * 12, 0.01)
        advice = batch.forecast(7.1, as_json).advice
        assert advice is not None
        assert advice.by_weight is not None
        if own:
            assert advice.basis is AdviceBasis.WEIGHT
        else:
            assert (advice.basis, advice.reason) == (AdviceBasis.BAND, AdviceReason.UNVERIFIED)
            assert advice.humidity == pytest.approx(55.0, abs=1.0)
        hatchery.journal.batches.close(batch.batch, SET_AT + 8 * DAY)


@pytest.mark.parametrize("chance", [3, 4])
@pytest.mark.parametrize("corridor", [(12.0, 13.0), (11.0, 14.5)])
def test_which_aim_decides_does_not_change_to_and_fro_with_the_readings(
    hatchery: Hatchery, as_json: Callable[[Any], Any], chance: int, corridor: tuple[float, float]
) -> None:
    rng = np.random.default_rng(chance)
    target = {"loss_low_percent": corridor[0], "loss_high_percent": corridor[1], "loss_day": 18.0}
    batch = Incubation(hatchery, "hen", [{"set_mass_g": 60.1}] * 12, **target)
    batch.log(18, wandering(rng, 18 * 24 + 1))
    for day in (4, 7, 11, 14):
        batch.weigh(
            day, (60.1 * (1 - batch.lost(0.25, day) / 100) + rng.normal(0, 0.1, 12)).round(1).tolist(), 0.1
        )
    days = np.arange(4.1, 17.95, 0.25)
    advices = [batch.forecast(day, as_json).advice for day in days.tolist()]
    basis = [one.basis for one in advices if one is not None]
    at = [float(days[n]) for n in range(1, days.size) if basis[n] is not basis[n - 1]]
    assert len(at) <= 3
    assert all(later - earlier > 1.0 for earlier, later in itertools.pairwise(at))
