"""What the figures of a phase say, word for word."""

from __future__ import annotations

import pytest
from hatchbook.desk.words.verdicts import (
    band_text,
    hold_foot,
    hold_for,
    is_flagged,
    is_out_of_reach,
    mean_foot,
    verdict_sentence,
)
from hatchbook.figures import batch_figures
from hatchbook.figures.results import Band
from tests.desk.conftest import NOW, Desk

NB = "\u00a0"
BAND = Band(40.0, 45.0, 50.0)


def test_a_phase_near_its_aim(desk: Desk) -> None:
    phase = batch_figures(desk.journal, desk.batch.uid, NOW).phase
    assert phase.humidity is not None
    assert not is_flagged(phase.humidity)
    assert mean_foot(phase) == "in the band, 1.0 above the aim"
    assert hold_for(phase).replace(NB, " ") == "for 7 d 19 h"
    assert hold_foot(phase) == "never so dry here: 46 % at the least"
    assert not is_out_of_reach(phase)


def test_nothing_is_said_of_readings_that_are_not_there() -> None:
    assert verdict_sentence(None, BAND) == "no readings"


def test_a_band_is_told_without_its_unit() -> None:
    assert band_text(BAND) == "40–50"


@pytest.mark.parametrize(("shift", "words"), [(9.0, "over the band"), (-12.0, "under the band")])
def test_a_phase_outside_its_band_says_by_how_much(desk: Desk, shift: float, words: str) -> None:
    from dataclasses import replace

    import numpy as np
    from hatchbook.statistics.averages import Trace
    from hatchbook.statistics.drift import phase_verdict

    at = np.arange(0, 5 * 86_400, 1800)
    drift = phase_verdict(Trace(at, np.full(at.shape, 45.0 + shift)), 0, 5 * 86_400, 40.0, 45.0, 50.0)
    assert is_flagged(drift)
    phase = replace(batch_figures(desk.journal, desk.batch.uid, NOW).phase, humidity=drift)
    assert words in mean_foot(phase)


def test_of_a_phase_that_is_known_in_part_the_share_comes_first(desk: Desk) -> None:
    from dataclasses import replace

    phase = batch_figures(desk.journal, desk.batch.uid, NOW).phase
    assert phase.humidity is not None
    part = replace(phase.humidity, average=replace(phase.humidity.average, known_share=0.67))
    assert mean_foot(replace(phase, humidity=part)) == f"67{NB}% of the time known; in the band"


def test_an_aim_that_is_out_of_reach_is_explained_without_an_impossible_humidity(desk: Desk) -> None:
    from dataclasses import replace

    from hatchbook.desk.words.explanations import explanation
    from hatchbook.statistics.averages import hold_range

    figures = batch_figures(desk.journal, desk.batch.uid, NOW)
    phase = figures.phases[0]
    lost = replace(phase, hold=hold_range(60.0, 18.5 * 24, 0.5 * 24, 40.0, 45.0, 50.0))
    _, told = explanation("hold", replace(figures, phases=(lost, *figures.phases[1:])))
    assert any(f"cannot be reached any more; holding 0{NB}% ends on 58.4{NB}%." in text for text in told)
    assert not any("−" in text for text in told)
    _, told = explanation("hold", figures)
    assert any("still ends inside the band" in text for text in told)
