"""Figures of batches filled at random: they never fail, never hold what is no number, and add up."""

from __future__ import annotations

from datetime import date
from typing import Any

import numpy as np
import pytest
from hatchbook.figures import (
    batch_view,
    calendar_figures,
    journal_lines,
    machine_figures,
    overview,
    season_figures,
)
from hatchbook.journal import BreakOut, Duty, EggMass, Event, Hatching, Removal, Weighing
from hatchbook.trade.codes import (
    BreakOutResult,
    DutyKind,
    EventKind,
    FindingCode,
    HatchMark,
    RemovalReason,
)

DAY = 86_400
SET_AT = 1_777_917_600


def some(random: np.random.Generator, uids: dict[int, str], share: float) -> list[str]:
    return [uid for uid in uids.values() if random.random() < share]


def fill(hatchery: Any, random: np.random.Generator) -> Any:
    """A batch with whatever comes; records contradict each other as they like."""
    pick = random.choice
    journal = hatchery.journal
    duties = [
        Duty(pick(list(DutyKind)), SET_AT + int(random.integers(0, 22 * DAY)))
        for _ in range(random.integers(8))
    ]
    masses = [
        {"set_mass_g": float(random.uniform(40, 70))} if random.random() < 0.7 else {} for _ in range(9)
    ]
    batch = hatchery.add_batch(duties=duties, each_egg=masses[: int(random.integers(1, 9))])
    eggs = hatchery.eggs(batch)
    for day in random.uniform(0, 22, random.integers(4)):
        hatchery.candle(batch, day, {n: pick(list(FindingCode)) for n in eggs if random.random() < 0.8})
    for egg in some(random, eggs, 0.4):
        mark = Hatching(egg, SET_AT + int(random.uniform(19, 23) * DAY), pick(list(HatchMark)))
        journal.hatchings.note(batch.uid, [mark])
    for egg in some(random, eggs, 0.2):
        day = float(random.uniform(0, 21)) if random.random() < 0.5 else None
        journal.break_outs.keep(BreakOut(egg, SET_AT + 22 * DAY, pick(list(BreakOutResult)), dead_day=day))
    for egg in some(random, eggs, 0.1):
        at = SET_AT + int(random.integers(0, 21 * DAY))
        journal.removals.add(Removal(egg, at, pick(list(RemovalReason))))
    for day in random.uniform(-0.1, 20, random.integers(3)):
        weighing = Weighing(batch.uid, SET_AT + int(day * DAY), tray_mass_g=700.0, eggs_on_tray=8)
        journal.weighings.note_weighing(
            weighing,
            [EggMass(weighing.uid, egg, float(random.uniform(40, 65))) for egg in some(random, eggs, 0.6)],
        )
    for day in random.uniform(-2, 25, random.integers(6)):
        machine = hatchery.machine.uid
        journal.events.add(Event(SET_AT + int(day * DAY), pick(list(EventKind)), machine, vent=0.5))
    at = np.unique(random.integers(SET_AT - 2 * DAY, SET_AT + 26 * DAY, random.integers(300)))
    humidity, temperature_c = random.uniform(0, 100, at.size), random.uniform(20, 45, at.size)
    humidity[random.random(at.size) < random.random()] = np.nan
    temperature_c[random.random(at.size) < 0.3] = np.nan
    known = ~(np.isnan(humidity) & np.isnan(temperature_c))
    if known.any():
        hatchery.log(at[known], humidity[known], temperature_c[known])
    if random.random() < 0.4:
        hatchery.hang(hatchery.probe, None, SET_AT + int(random.integers(0, 20 * DAY)))
    if random.random() < 0.5:
        hatchery.close(batch, float(random.uniform(0, 30)))
    return batch


@pytest.mark.parametrize("seed", range(24))
def test_figures_hold_together(hatchery: Any, as_json: Any, seed: int) -> None:
    random = np.random.default_rng(seed)
    batch = fill(hatchery, random)
    journal, now = hatchery.journal, SET_AT + int(random.uniform(-3, 40) * DAY)
    figures, curves = batch_view(journal, batch.uid, now)
    as_json(figures)
    assert sum(figures.counts.values()) == len(figures.eggs) == figures.rates.counts.eggs_set
    for phase in figures.phases:
        assert phase.elapsed_h >= 0
        assert phase.remaining_h >= 0
        if phase.humidity is not None:
            assert 0 <= phase.humidity.mean <= 100
            assert 0 <= phase.humidity.known_share <= 1
        if phase.hold is not None:
            assert phase.hold.low <= phase.hold.aim <= phase.hold.high
    assert curves.at.size == curves.humidity.size == curves.temperature_c.size
    assert curves.running_at.size == curves.running_mean.size
    assert np.all(np.diff(curves.at) > 0)
    assert np.all((curves.at >= SET_AT) & (curves.at <= now))
    assert np.all(curves.unknown[:, 0] < curves.unknown[:, 1])
    (group,) = overview(journal, now).seasons
    assert group.batches[0].counts == figures.counts
    assert group.batches[0].state is figures.state
    assert group.batches[0].day == figures.day
    as_json(season_figures(journal, group.season, now))
    as_json(machine_figures(journal, hatchery.machine.uid, now))
    as_json(calendar_figures(journal, date(2026, 5, 1), date(2026, 5, 31), now))
    lines = journal_lines(journal, batch.uid, now)
    assert [line.at for line in lines] == sorted((line.at for line in lines), reverse=True)
