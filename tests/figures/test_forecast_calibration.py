"""The 95 % ranges hold the truth in 93 to 97 of 100 batches that do not do what the model believes.

Chance comes out the same every time. Coverages of a few hundred batches are themselves only known to about a point.
"""

from __future__ import annotations

from collections import defaultdict
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hatchbook.figures.weight_results import AdviceBasis, Estimate
from hatchbook.journal import Journal
from tests.figures.conftest import SET_AT, Hatchery
from tests.figures.weighed_batches import DAY, Case, run

CASES = {
    "every egg, three times": Case(24, 24, (4, 7, 11), 0.1, 11.0),
    "twelve marked, set and once more": Case(36, 12, (7,), 0.1, 7.2),
    "twelve marked, whole grams": Case(36, 12, (4, 7), 1.0, 7.2),
    "gaps of days in the readings": Case(24, 12, (4, 7, 11), 0.1, 11.5, gaps=True),
    "eggs dying": Case(30, 12, (4, 7, 11, 14), 0.1, 14.5, deaths=True),
    "readings twice a day, whole grams": Case(12, 12, (7,), 1.0, 9.0, by_hand=True),
    "two days in": Case(12, 6, (2,), 0.1, 2.1),
    "the tray as one, eggs taken off": Case(24, 0, (0, 7, 11), 1.0, 11.2, tray=True, deaths=True),
    "nothing weighed": Case(24, 0, (), 0.1, 9.0),
}
BATCHES = 46
"""Of each case; two ranges of one batch are not independent, so only batches are counted."""


def inside(estimate: Estimate, true: float) -> bool:
    return estimate.low <= true <= estimate.high


@pytest.fixture(scope="module")
def outcomes(tmp_path_factory: pytest.TempPathFactory) -> dict[str, list[dict[str, Any]]]:
    """Per case and batch: whether each range held the truth, and the numbers of eggs outside."""
    found: dict[str, list[dict[str, Any]]] = defaultdict(list)
    for number, (name, case) in enumerate(CASES.items()):
        path: Path = tmp_path_factory.mktemp("calibration") / "batches.hatchbook"
        with Journal.create(path, time_zone="Europe/Lisbon") as journal:
            hatchery, rng = Hatchery(journal), np.random.default_rng([11, number])
            for place in range(BATCHES):
                forecast, truth = run(hatchery, case, rng, SET_AT - 300 * DAY + place * 25 * DAY)
                assert forecast.at_target is not None
                assert forecast.advice is not None
                assert forecast.advice.by_weight is not None
                found[name].append(
                    {
                        "target": inside(forecast.at_target, truth.at_target),
                        "now": inside(forecast.loss_now, truth.now),
                        "conductance": inside(forecast.conductance, truth.conductance),
                        "hold": inside(forecast.advice.by_weight, truth.hold),
                        "eggs": np.mean(
                            [inside(egg.at_target, truth.each[egg.number]) for egg in forecast.eggs]
                        ),
                        "expected": (forecast.too_little or 0.0) + (forecast.too_much or 0.0),
                        "outside": sum(not 8.75 <= loss <= 15 for loss in truth.each.values()),
                        "basis": forecast.advice.basis,
                    }
                )
    return found


def share(outcomes: dict[str, list[dict[str, Any]]], what: str) -> float:
    return float(np.mean([batch[what] for batches in outcomes.values() for batch in batches]))


@pytest.mark.parametrize("what", ["target", "eggs"])
def test_the_ranges_are_calibrated(outcomes: dict[str, list[dict[str, Any]]], what: str) -> None:
    assert 0.93 <= share(outcomes, what) <= 0.97


@pytest.mark.parametrize("what", ["now", "hold", "conductance"])
def test_no_range_promises_too_much(outcomes: dict[str, list[dict[str, Any]]], what: str) -> None:
    """These are a little wide, since they allow for what these batches do not do (a machine of still air, a probe
    that shows the wrong warmth): of 1,350 other batches they held 0.972,
    0.965 and 0.975."""
    assert 0.93 <= share(outcomes, what) <= 0.99


@pytest.mark.parametrize("case", list(CASES))
def test_no_case_is_left_out_of_it(outcomes: dict[str, list[dict[str, Any]]], case: str) -> None:
    """46 batches: 95 % of such shares lie between 0.87 and 1 when the coverage is 0.95."""
    assert np.mean([batch["target"] for batch in outcomes[case]]) >= 0.87


def test_as_many_eggs_end_outside_as_are_expected_to(outcomes: dict[str, list[dict[str, Any]]]) -> None:
    """Outside 8.75 to 15 %, by which single eggs are judged where the corridor is 12 to 13 %."""
    assert share(outcomes, "expected") == pytest.approx(share(outcomes, "outside"), rel=0.05)


def test_the_weight_decides_once_it_tells_more_than_the_species(
    outcomes: dict[str, list[dict[str, Any]]],
) -> None:
    told = {name: {batch["basis"] for batch in batches} for name, batches in outcomes.items()}
    assert told.pop("nothing weighed") == {AdviceBasis.BAND}
    assert told.pop("eggs dying") <= {
        AdviceBasis.BAND,
        AdviceBasis.WEIGHT,
    }  # towards its day it may be content
    assert all(AdviceBasis.WEIGHT in bases for bases in told.values())
