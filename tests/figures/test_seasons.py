"""The figures of a season, pooled, and those of a machine."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hatchbook.figures import BatchState, machine_figures, season_figures
from hatchbook.journal import PastBatch, ProbeCheck
from hatchbook.statistics.drift import DriftVerdict
from hatchbook.statistics.intervals import wilson
from hatchbook.trade.codes import CheckMethod, Fate, FindingCode, HatchMark, PhaseKind, Quantity

DAY = 86_400
SET_AT = 1_777_917_600


def finished(hatchery: Any, set_at: int, eggs: int, clear: int, hatched: int, **fields: Any) -> Any:
    """A closed batch with so many clear and so many hatched; the rest was alive at the candling."""
    batch = hatchery.add_batch(set_at, eggs=eggs, **fields)
    codes = {n: FindingCode.CLEAR if n <= clear else FindingCode.ALIVE for n in range(1, eggs + 1)}
    hatchery.candle(batch, 7, codes)
    uids = hatchery.eggs(batch)
    hatchery.journal.hatchings.note_marks(
        batch.uid,
        [uids[n] for n in range(clear + 1, clear + hatched + 1)],
        HatchMark.HATCHED,
        set_at + 21 * DAY,
    )
    hatchery.close(batch, 23)
    return batch


def test_a_season_pools_its_closed_batches(hatchery: Any, as_json: Any) -> None:
    one = finished(hatchery, SET_AT, 12, 2, 8)
    two = finished(hatchery, SET_AT + 30 * DAY, 10, 1, 5, species="duck")
    finished(hatchery, SET_AT - 365 * DAY, 6, 0, 6)
    running = hatchery.add_batch(SET_AT + 60 * DAY, eggs=9)
    hatchery.journal.past_batches.add(PastBatch("p", 2026, "hen", 20, clear=5, hatched=11, late_dead=4))
    figures = season_figures(hatchery.journal, 2026, SET_AT + 61 * DAY)
    assert [batch.uid for batch in figures.batches][:3] == [running.uid, two.uid, one.uid]
    assert [batch.state for batch in figures.batches] == [BatchState.RUNNING] + [BatchState.CLOSED] * 3
    overall = figures.overall
    assert (overall.batches, overall.eggs_set) == (3, 42)
    # What was alive and did not hatch is fertile, and nobody knows what became of it: 2 and 4 eggs.
    assert overall.counts == {Fate.CLEAR: 8, Fate.LATE_DEAD: 4, Fate.HATCHED: 24, Fate.UNKNOWN: 6}
    assert (overall.hatch_of_set.hits, overall.hatch_of_set.trials) == (8 + 5 + 11, 42)
    assert (overall.fertility.hits, overall.fertility.trials) == (10 + 9 + 15, 42)
    assert (overall.hatch_of_fertile.hits, overall.hatch_of_fertile.trials) == (24, 34)
    assert (overall.losses[Fate.LATE_DEAD].hits, overall.losses[Fate.LATE_DEAD].trials) == (4, 34)
    assert (overall.hatch_of_set.low, overall.hatch_of_set.high) == wilson(24, 42)
    assert overall.unopened_clears == 8
    assert overall.unknown == 6
    assert list(figures.by_species) == ["duck", "hen"]
    hens = figures.by_species["hen"]
    assert (hens.batches, hens.hatch_of_set.hits, hens.hatch_of_set.trials) == (2, 19, 32)
    plain = as_json(figures)
    assert plain["overall"]["spread_counted"] is False
    assert plain["by_species"]["duck"]["hatch_of_set"]["trials"] == 10


def test_a_rate_that_a_batch_does_not_know_is_pooled_without_it(hatchery: Any) -> None:
    finished(hatchery, SET_AT, 10, 2, 8)
    hatchery.journal.past_batches.add(PastBatch("p", 2026, "hen", 20, clear=5))  # the hatch was not counted
    overall = season_figures(hatchery.journal, 2026, SET_AT + 61 * DAY).overall
    assert (overall.hatch_of_set.hits, overall.hatch_of_set.trials) == (8, 10)
    assert overall.eggs_set == 30


def test_a_season_without_batches_has_rates_without_trials(hatchery: Any, as_json: Any) -> None:
    figures = season_figures(hatchery.journal, 1999, SET_AT)
    assert figures.batches == ()
    assert figures.overall.hatch_of_set.estimate is None
    assert figures.by_species == {}
    as_json(figures)


def test_a_machine_has_its_probes_and_the_phases_spent_in_it(hatchery: Any, as_json: Any) -> None:
    hatcher = hatchery.add_machine("Hatcher")
    hatchery.add_probe("H1", hatcher)
    check = ProbeCheck(hatchery.probe.uid, SET_AT, Quantity.HUMIDITY, CheckMethod.SALT, 75.3, 76.0)
    hatchery.journal.probes.add_check(check)
    old = hatchery.add_batch(SET_AT - 60 * DAY, lockdown={"machine": hatcher.uid})
    hatchery.add_batch(SET_AT, machine=hatcher.uid)
    hatchery.log(np.arange(SET_AT - 60 * DAY, SET_AT - 39 * DAY, 1200), 46.0, 37.5)
    hatchery.close(old, 22)
    machine = machine_figures(hatchery.journal, hatchery.machine.uid, SET_AT + 5 * DAY)
    assert machine.machine.name == "Blue one"
    assert [(found.probe.name, found.last_check) for found in machine.probes] == [("P1", check)]
    (batch,) = machine.batches
    assert batch.uid == old.uid
    assert [phase.kind for phase in batch.phases] == [PhaseKind.INCUBATION]
    assert batch.phases[0].humidity.mean == pytest.approx(46.0)
    assert batch.phases[0].humidity.verdict is DriftVerdict.ON_AIM
    assert (machine.reach.low, machine.reach.high, machine.reach.days) == (
        pytest.approx(46.0),
        pytest.approx(46.0),
        18,
    )
    other = machine_figures(hatchery.journal, hatcher.uid, SET_AT + 5 * DAY)
    assert [[phase.kind for phase in batch.phases] for batch in other.batches] == [
        [PhaseKind.INCUBATION, PhaseKind.LOCKDOWN],
        [PhaseKind.LOCKDOWN],
    ]
    assert other.reach.days == 0
    as_json(machine)
    as_json(other)


def test_a_day_with_a_single_reading_is_no_evidence_of_what_a_machine_holds(hatchery: Any) -> None:
    hatchery.add_batch()
    days = np.arange(6)
    by_hand = np.concatenate([SET_AT + days * DAY + 3600, SET_AT + days[:5] * DAY + 12 * 3600])
    values = np.concatenate([44.0 + days, 46.0 + days[:5]])
    order = np.argsort(by_hand)
    hatchery.log(by_hand[order], values[order])
    reach = machine_figures(hatchery.journal, hatchery.machine.uid, SET_AT + 6 * DAY).reach
    assert (reach.days, reach.low, reach.high) == (5, 45.0, 49.0)
