"""What the figures of a phase say, word for word."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hatchbook.desk.words.verdicts import (
    band_text,
    hold_foot,
    hold_for,
    is_flagged,
    mean_foot,
    verdict_sentence,
)
from hatchbook.figures import batch_figures
from hatchbook.figures.guide_results import WantedFrom
from hatchbook.figures.results import Band
from hatchbook.figures.to_hold import to_hold
from tests.desk.conftest import NOW, Desk

NB = "\u00a0"
BAND = Band(40.0, 45.0, 50.0)


def test_a_phase_near_its_aim(desk: Desk) -> None:
    figures = batch_figures(desk.journal, desk.batch.uid, NOW)
    phase = figures.phase
    assert phase.humidity is not None
    assert not is_flagged(phase.humidity)
    assert mean_foot(phase) == "in the band, 1.0 above the aim"
    assert hold_for(phase).replace(NB, " ") == "for 7 d 19 h"
    held = to_hold(figures.phases, None)
    assert held is not None
    assert hold_foot(phase, held) == "never so dry here: 46 % at the least"
    assert hold_foot(phase, None) == "needs readings to be reckoned"


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"origin": WantedFrom.BAND}, "little left to steer: the band is enough"),
        ({"aim_takes": 11.0, "ends_on": 46.61}, f"aim out of reach; ends on 46.6{NB}%"),
        ({"origin": WantedFrom.LOCKDOWN, "ends_on": 63.0}, f"its aim; the mean ends on 63.0{NB}%"),
    ],
)
def test_what_is_held_though_it_does_not_end_on_the_aim_is_said_to_be_so(
    desk: Desk, change: dict[str, Any], words: str
) -> None:
    figures = batch_figures(desk.journal, desk.batch.uid, NOW)
    held = to_hold(figures.phases, None)
    assert held is not None
    assert hold_foot(figures.phase, replace(held, **change)) == words


def test_nothing_is_said_of_readings_that_are_not_there() -> None:
    assert verdict_sentence(None, BAND) == "no readings"


def test_a_band_is_told_without_its_unit() -> None:
    assert band_text(BAND) == "40–50"


@pytest.mark.parametrize(("shift", "words"), [(9.0, "over the band"), (-12.0, "under the band")])
def test_a_phase_outside_its_band_says_by_how_much(desk: Desk, shift: float, words: str) -> None:
    import numpy as np
    from hatchbook.statistics.averages import Trace
    from hatchbook.statistics.drift import phase_verdict

    at = np.arange(0, 5 * 86_400, 1800)
    drift = phase_verdict(Trace(at, np.full(at.shape, 45.0 + shift)), 0, 5 * 86_400, 40.0, 45.0, 50.0)
    assert is_flagged(drift)
    phase = replace(batch_figures(desk.journal, desk.batch.uid, NOW).phase, humidity=drift)
    assert words in mean_foot(phase)


def test_of_a_phase_that_is_known_in_part_the_share_comes_first(desk: Desk) -> None:
    phase = batch_figures(desk.journal, desk.batch.uid, NOW).phase
    assert phase.humidity is not None
    part = replace(phase.humidity, average=replace(phase.humidity.average, known_share=0.67))
    assert mean_foot(replace(phase, humidity=part)) == f"67{NB}% of the time known; in the band"


def test_an_aim_that_is_out_of_reach_is_explained_without_an_impossible_humidity(desk: Desk) -> None:
    from hatchbook.desk.words.explanations import explanation
    from hatchbook.statistics.averages import hold_range

    figures = batch_figures(desk.journal, desk.batch.uid, NOW)
    phase = figures.phases[0]
    over = hold_range(60.0, 18.0 * 24, 24.0, 40.0, 45.0, 50.0)
    lost = replace(phase, hold=over, elapsed_h=18.0 * 24, remaining_h=24.0)
    _, told = explanation("hold", replace(figures, phases=(lost, *figures.phases[1:])))
    assert any(f"cannot be reached any more; holding 0{NB}% ends on 43." in text for text in told)
    assert not any("−" in text for text in told)
    _, told = explanation("hold", figures)
    assert any("still ends inside the band" in text for text in told)
    late = replace(phase, remaining_h=6.0)
    _, told = explanation("hold", replace(figures, phases=(late, *figures.phases[1:])))
    assert any("anything in the band is enough" in text for text in told)
