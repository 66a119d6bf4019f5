"""Which setting is advised, and how good the advice is on machines that do not follow the model."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from hatchbook.figures.guide_advice import NOTHING_NEAR, advised_cell, is_allowed
from hatchbook.figures.guide_results import GuideCell, Wanted, WantedFrom
from hatchbook.figures.weight_results import Estimate
from hatchbook.statistics.water_guide import fit_water, setting_keys
from hatchbook.statistics.water_model import Standing
from hatchbook.trade.codes import PhaseKind
from tests.statistics.simulated_histories import histories
from tests.statistics.simulated_machines import Machines, day_at, egg_rates

Cells = tuple[tuple[GuideCell, ...], ...]
OPENINGS = (0.0, 0.25, 0.5, 0.75, 1.0)


def wanted(humidity: float) -> Wanted:
    return Wanted(
        humidity, humidity - 5, humidity + 5, WantedFrom.HOLD, PhaseKind.INCUBATION, "b", "26-01", "", 0
    )


def grid(
    value: Callable[[int, float], float],
    *,
    channels: int = 4,
    vents: tuple[float, ...] = OPENINGS,
    tried: frozenset[tuple[int, float]] = frozenset(),
    lockdown: bool = False,
) -> Cells:
    return tuple(
        tuple(
            GuideCell(
                row,
                vent,
                Estimate(value(row, vent), value(row, vent) - 3, value(row, vent) + 3),
                50.0 * ((row, vent) in tried),
                (),
                (),
                is_allowed(vent, lockdown=lockdown),
            )
            for vent in vents
        )
        for row in range(channels + 1)
    )


def place(cell: GuideCell | None) -> tuple[int, float] | None:
    return None if cell is None else (cell.channels, cell.vent)


def linear(channels: int, vent: float) -> float:
    return 30 + 8 * channels - 16 * vent


def test_the_nearest_to_what_is_wanted_is_advised() -> None:
    cells = grid(lambda channels, vent: 20 + 15 * channels + 2 * vent)
    assert place(advised_cell(cells, wanted(51.0), None, lockdown=False)) == (2, 0.5)


def test_nothing_is_advised_where_nothing_is_wanted_or_comes_near() -> None:
    cells = grid(linear)
    assert advised_cell(cells, None, None, lockdown=False) is None
    assert advised_cell(cells, wanted(62.0 + NOTHING_NEAR + 1), None, lockdown=False) is None


def test_the_setting_that_stands_is_kept_where_another_is_hardly_nearer() -> None:
    cells = grid(linear)
    assert place(advised_cell(cells, wanted(38.5), (2, 0.5), lockdown=False)) == (2, 0.5)
    assert place(advised_cell(cells, wanted(37.8), (3, 1.0), lockdown=False)) == (3, 1.0)


def test_a_setting_that_was_tried_goes_before_one_that_was_not() -> None:
    tried = frozenset({(3, 0.75)})
    cells = grid(lambda channels, _vent: 40 + channels * 0.01, tried=tried)
    assert place(advised_cell(cells, wanted(40.0), None, lockdown=False)) == (3, 0.75)


def test_in_lockdown_the_vent_is_never_shut_even_where_that_is_nearest() -> None:
    cells = grid(lambda _channels, vent: 65.0 if vent == 0 else 55.0, lockdown=True)
    chosen = advised_cell(cells, wanted(65.0), (4, 0.0), lockdown=True)
    assert chosen is not None
    assert chosen.vent > 0


def test_before_lockdown_a_shut_vent_must_be_much_nearer() -> None:
    near = grid(lambda _channels, vent: 45.0 if vent == 0 else 42.0)
    far = grid(lambda _channels, vent: 45.0 if vent == 0 else 36.0)
    assert place(advised_cell(near, wanted(45.0), None, lockdown=False)) == (1, 0.5)
    chosen = advised_cell(far, wanted(45.0), None, lockdown=False)
    assert chosen is not None
    assert chosen.vent == 0


def test_in_lockdown_a_vent_at_most_a_third_open_is_liked() -> None:
    cells = grid(lambda _channels, _vent: 65.0, lockdown=True)
    chosen = advised_cell(cells, wanted(65.0), None, lockdown=True)
    assert chosen is not None
    assert chosen.vent == 0.25


def test_one_starts_with_water_where_dry_and_filled_are_nearly_equal() -> None:
    cells = grid(lambda channels, _vent: 45.0 + 0.3 * channels)
    assert place(advised_cell(cells, wanted(45.0), None, lockdown=False)) == (1, 0.5)


@pytest.mark.parametrize(("batches", "seed"), [(2, 102), (4, 104), (8, 108)])
def test_advice_lies_within_3_percent_of_the_best_setting_in_9_of_10(batches: int, seed: int) -> None:
    """On 40 simulated machines and three wishes each; the truth is a day's mean by the machine's own probe."""
    rng = np.random.default_rng(seed)
    machines = Machines.made_up(40, rng)
    made, probe, clogged = histories(machines, batches, rng, room_known=True)
    filled, vent = (one.ravel() for one in np.meshgrid(np.arange(6.0), OPENINGS, indexing="ij"))
    cells = filled.size
    shown, room = day_at(
        machines.repeated(cells),
        np.tile(filled, 40),
        np.tile(vent, 40),
        rng,
        np.repeat(probe, cells),
        np.repeat(clogged, cells),
    )
    worse = []
    for machine, history in enumerate(made):
        there = filled <= machines.channels[machine]
        same = np.ones(int(there.sum()))
        cases = Standing(
            filled[there],
            vent[there],
            room.reshape(-1, cells)[machine][there],
            37.6 * same,
            egg_rates(machines)[machine] * same,
            0 * same,
        )
        expected = fit_water(history.days, history.top_ups, history.channels).expect(
            cases, batch=history.batch, stretch=history.stretch
        )
        seen = set(setting_keys(history.days.channels, history.days.vent))
        row = tuple(
            GuideCell(key[0], float(opening), Estimate(float(value), 0, 100), float(key in seen), (), ())
            for key, opening, value in zip(
                setting_keys(cases.channels, cases.vent), cases.vent, expected.humidity, strict=True
            )
        )
        truth = shown.reshape(-1, cells)[machine][there]
        standing = history.setting
        assert standing is not None
        for humidity in (38.0, 45.0, 55.0):
            best = float(np.abs(truth - humidity).min())
            if best > 5:
                continue
            chosen = advised_cell((row,), wanted(humidity), (int(standing[0]), standing[1]), lockdown=False)
            off = 99.0 if chosen is None else abs(float(truth[row.index(chosen)]) - humidity)
            worse.append(off - best)
    assert len(worse) > 100
    assert np.mean(np.array(worse) <= 3) >= 0.9


def test_where_the_band_is_enough_a_setting_that_gives_it_is_kept() -> None:
    cells = grid(linear)
    enough = Wanted(40.0, 40.0, 50.0, WantedFrom.BAND, PhaseKind.INCUBATION, "b", "26-01", "", 0)
    assert place(advised_cell(cells, enough, (3, 0.5), lockdown=False)) == (3, 0.5), "46 %, in the band"
    assert place(advised_cell(cells, enough, (4, 0.0), lockdown=False)) != (4, 0.0), "62 %, outside it"
    assert place(advised_cell(cells, enough, None, lockdown=False)) == (2, 0.5)
