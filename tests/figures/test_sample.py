"""The batch that is in no journal."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

from hatchbook.figures.results import PhaseState
from hatchbook.figures.sample import sample_view
from hatchbook.trade.codes import DutyKind
from hatchbook.trade.programmes import programme_named

ZONE = ZoneInfo("Europe/Lisbon")
SET_AT = int(datetime(2026, 5, 3, 9, 0, tzinfo=ZONE).timestamp())


def test_it_has_the_programmes_days_and_bands_and_nothing_else() -> None:
    programme = programme_named("hen")
    assert programme is not None
    figures, curves = sample_view(programme, SET_AT, ZONE)
    first, last = figures.phases
    assert (first.state, last.state) == (PhaseState.RUNNING, PhaseState.TO_COME)
    assert (first.from_day, last.to_day) == (0.0, programme.incubation_days)
    band = first.humidity_band
    targets = programme.phases[0]
    assert (band.low, band.aim, band.high) == (
        targets.humidity_low,
        targets.humidity_aim,
        targets.humidity_high,
    )
    assert figures.hatch_due_at == SET_AT + round(programme.incubation_days * 86_400) == curves.end_at
    assert figures.lockdown_at == last.start_at
    assert figures.eggs == ()
    assert curves.at.size == curves.unknown.size == 0
    assert {DutyKind.CANDLE, DutyKind.LOCKDOWN, DutyKind.HATCH} <= {duty.kind for duty in curves.duties}


def test_every_programme_can_be_shown() -> None:
    from hatchbook.trade.programmes import load_programmes

    for programme in load_programmes():
        figures, _ = sample_view(programme, SET_AT, ZONE)
        assert figures.phase.from_day == 0.0
