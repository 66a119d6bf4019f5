"""A programme with the breeder's own changes."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hatchbook.trade.programme import LossEnd, Programme
from hatchbook.trade.programme_changes import (
    LossTarget,
    changes_of,
    loss_target,
    named_anew,
    split_phase,
    with_changes,
    without_phase,
)
from hatchbook.trade.programmes import ProgrammeError, load_programmes, programme_named
from hatchbook.trade.sources import About


def named(code: str) -> Programme:
    programme = programme_named(code)
    assert programme is not None
    return programme


def unchanged(programme: Programme) -> Programme:
    return with_changes(
        programme,
        phases=programme.phases,
        candle_days=programme.candle_days,
        weigh_days=programme.weigh_days,
        loss=loss_target(programme),
    )


@pytest.mark.parametrize("programme", load_programmes(), ids=lambda programme: programme.code)
def test_nothing_changed_is_the_same_programme(programme: Programme) -> None:
    assert unchanged(programme) == programme


def test_what_was_changed_loses_its_source_and_the_rest_keeps_it() -> None:
    hen = named("hen")
    first, last = hen.phases
    changed = with_changes(
        hen,
        phases=[replace(first, humidity_aim=47.0), last],
        candle_days=(8.0, 18.0),
        weigh_days=hen.weigh_days,
        loss=loss_target(hen),
    )
    assert changed.phases[0].humidity_aim == 47.0
    assert changed.sources_of(About.HUMIDITY) == changed.sources_of(About.CANDLING) == ()
    assert changed.sources_of(About.TEMPERATURE) == hen.sources_of(About.TEMPERATURE) != ()
    assert changes_of(hen, changed) == {About.HUMIDITY, About.CANDLING}


def test_a_later_lockdown_moves_the_incubation_that_ends_there() -> None:
    hen = named("hen")
    first, last = hen.phases
    phases = [replace(first, to_day=18.5), replace(last, from_day=18.5, to_day=22.0)]
    changed = with_changes(
        hen, phases=phases, candle_days=(7.0,), weigh_days=(0.0, 18.0), loss=LossTarget(11.0, 13.0, 18.0)
    )
    assert (changed.lockdown_day, changed.incubation_days) == (18.5, 22.0)
    assert {About.LOCKDOWN, About.PERIOD, About.LOSS} <= changes_of(hen, changed)


def test_another_loss_is_by_the_day_and_of_the_weight_when_set() -> None:
    coturnix = named("coturnix")
    assert coturnix.loss_end is LossEnd.LOCKDOWN
    changed = with_changes(
        coturnix,
        phases=coturnix.phases,
        candle_days=(),
        weigh_days=(),
        loss=LossTarget(10.0, 12.0, 14.0),
    )
    assert changed.loss_end is LossEnd.DAY
    assert (changed.loss_low_percent, changed.loss_high_percent, changed.loss_day) == (10.0, 12.0, 14.0)


def test_no_loss_is_no_corridor() -> None:
    hen = named("hen")
    changed = with_changes(hen, phases=hen.phases, candle_days=(), weigh_days=(), loss=None)
    assert loss_target(changed) is None


@pytest.mark.parametrize("days", [(14.0, 7.0), (7.0, 25.0)])
def test_days_out_of_order_or_outside_are_refused(days: tuple[float, ...]) -> None:
    hen = named("hen")
    with pytest.raises(ProgrammeError) as error:
        with_changes(hen, phases=hen.phases, candle_days=days, weigh_days=(), loss=None)
    assert error.value.field == "candle_days"


def test_another_title_keeps_the_sources_another_species_does_not() -> None:
    hen = named("hen")
    renamed = named_anew(hen, "As my aunt does it", "hen")
    assert (renamed.title, renamed.sources) == ("As my aunt does it", hen.sources)
    other = named_anew(hen, "Red junglefowl", "red_junglefowl")
    assert (other.species, other.sources, other.phases) == ("red_junglefowl", (), hen.phases)
    with pytest.raises(ProgrammeError):
        named_anew(hen, "", "hen")
    with pytest.raises(ProgrammeError):
        named_anew(hen, "Hen", " ")


def days(phases: object) -> list[tuple[float, float]]:
    return [(phase.from_day, phase.to_day) for phase in phases]  # type: ignore[attr-defined]


def test_a_phase_is_parted_in_two_with_the_same_targets() -> None:
    hen = named("hen")
    parted = split_phase(hen.phases, 0)
    assert days(parted) == [(0, 10), (10, 19), (19, 21)]
    assert parted[0].humidity_aim == parted[1].humidity_aim == hen.phases[0].humidity_aim
    assert replace(hen, phases=parted).lockdown_day == 19
    short = (replace(hen.phases[0], to_day=1.0), replace(hen.phases[1], from_day=1.0, to_day=2.0))
    assert days(split_phase(short, 0)) == [(0, 0.5), (0.5, 1), (1, 2)]
    assert replace(hen, phases=split_phase(hen.phases, 1)).lockdown_day == 19


def test_a_phase_that_is_taken_away_leaves_its_days_to_its_like() -> None:
    hen = named("hen")
    three = split_phase(hen.phases, 0)
    assert without_phase(three, 1) == hen.phases
    assert days(without_phase(three, 0)) == [(0, 19), (19, 21)]
    assert without_phase(three, 2) is None
    assert without_phase(hen.phases, 0) is None
    assert without_phase(hen.phases, 1) is None
