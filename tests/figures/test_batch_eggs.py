"""The eggs of a batch in its figures: fates, rates, timing, pens; against counts done by hand."""

from __future__ import annotations

import dataclasses
from typing import Any

import pytest
from hatchbook.figures import batch_figures
from hatchbook.journal import BreakOut, Duty, Hatching, Pen, Removal
from hatchbook.trade.codes import BreakOutResult, DutyKind, Fate, FindingCode, HatchMark, RemovalReason

DAY, HOUR = 86_400, 3_600
SET_AT = 1_777_917_600
ALIVE, CLEAR, DEAD = FindingCode.ALIVE, FindingCode.CLEAR, FindingCode.DEAD


def hatch(hatchery: Any, batch: Any, marks: dict[int, tuple[float, HatchMark]]) -> None:
    """Marks by egg number, with the day."""
    eggs = hatchery.eggs(batch)
    hatchery.journal.hatchings.note(
        batch.uid,
        [Hatching(eggs[n], SET_AT + round(day * DAY), mark) for n, (day, mark) in marks.items()],
    )


def test_a_finished_batch_has_its_fates_and_rates(hatchery: Any, as_json: Any) -> None:
    batch = hatchery.add_batch(eggs=12)
    journal, eggs = hatchery.journal, hatchery.eggs(batch)
    hatchery.candle(batch, 7, dict.fromkeys(range(1, 11), ALIVE) | {11: CLEAR, 12: CLEAR})
    hatchery.candle(batch, 14, dict.fromkeys(range(1, 9), ALIVE) | {9: DEAD, 10: ALIVE})
    hatch(hatchery, batch, {n: (21.0 + n / 48, HatchMark.HATCHED) for n in range(1, 7)})
    hatch(hatchery, batch, {1: (20.5, HatchMark.EXTERNAL_PIP), 7: (20.75, HatchMark.EXTERNAL_PIP)})
    journal.break_outs.keep(BreakOut(eggs[8], SET_AT + 22 * DAY, BreakOutResult.LATE_DEAD))
    journal.break_outs.keep(BreakOut(eggs[12], SET_AT + 22 * DAY, BreakOutResult.EARLY_DEAD))
    journal.removals.add(Removal(eggs[10], SET_AT + 15 * DAY, RemovalReason.BROKEN))
    hatchery.close(batch, 22.5)
    figures = batch_figures(journal, batch.uid, SET_AT + 40 * DAY)
    assert figures.counts == {
        Fate.HATCHED: 6,
        Fate.UNKNOWN: 1,  # egg 7 pipped, and nobody noted what came of it
        Fate.LATE_DEAD: 1,
        Fate.MID_DEAD: 1,
        Fate.CLEAR: 1,
        Fate.EARLY_DEAD: 1,
        Fate.TAKEN_OUT: 1,
    }
    rates = figures.rates
    assert (rates.hatch_of_set.hits, rates.hatch_of_set.trials) == (6, 12)
    # 10 fertile: 6 hatched, the pipped one, one late, one mid, one early; 11 without the one taken out.
    assert (rates.fertility.hits, rates.fertility.trials) == (10, 11)
    assert (rates.hatch_of_fertile.hits, rates.hatch_of_fertile.trials) == (6, 10)
    assert not rates.closes
    timing = figures.timing
    assert timing.first_pip_day == 20.5
    assert timing.chick_days == pytest.approx([21 + n / 48 for n in range(1, 7)], abs=1e-5)
    assert timing.spread_h == pytest.approx(2.5, abs=0.001)
    assert timing.due_day == 21.0
    plain = as_json(figures)
    assert plain["timing"]["spread_h"] == pytest.approx(2.5, abs=0.001)
    assert plain["rates"]["hatch_of_set"]["hits"] == 6
    assert plain["counts"]["hatched"] == 6
    assert plain["batch"]["programme"] == {"code": "hen"}
    assert plain["eggs"][7]["outcome"]["fate"] == "late_dead"


def test_what_was_seen_of_an_egg_is_told_in_its_order(hatchery: Any) -> None:
    batch = hatchery.add_batch(eggs=2)
    eggs = hatchery.eggs(batch)
    hatchery.candle(batch, 14, {1: DEAD})
    hatchery.candle(batch, 7, {1: ALIVE, 2: CLEAR})
    hatchery.journal.removals.add(Removal(eggs[2], SET_AT + 8 * DAY, RemovalReason.BROKEN))
    hatchery.journal.break_outs.keep(BreakOut(eggs[1], SET_AT + 15 * DAY, BreakOutResult.MID_DEAD))
    figures = batch_figures(hatchery.journal, batch.uid, SET_AT + 20 * DAY)
    assert figures.eggs[0].seen == ((7.0, "alive"), (14.0, "dead"), (15.0, "opened:mid_dead"))
    assert figures.eggs[1].seen == ((7.0, "clear"), (8.0, "broken"))
    assert figures.candled_days == (7.0, 14.0)


def test_when_nothing_was_candled_no_rate_is_made_up(hatchery: Any, as_json: Any) -> None:
    batch = hatchery.add_batch(eggs=10)
    running = batch_figures(hatchery.journal, batch.uid, SET_AT + 9 * DAY)
    assert running.counts == {Fate.SET: 10}
    assert running.candled_days == ()
    assert all(
        rate.estimate is None
        for rate in (running.rates.fertility, running.rates.hatch_of_set, running.rates.candled_fertility)
    )
    hatchery.close(batch, 22)
    closed = batch_figures(hatchery.journal, batch.uid, SET_AT + 30 * DAY)
    assert closed.counts == {Fate.UNKNOWN: 10}
    assert closed.rates.unknown == 10
    assert closed.rates.fertility.estimate is None
    assert closed.rates.hatch_of_set.hits == 0
    as_json(running)
    as_json(closed)


def test_when_all_are_clear_the_hatch_of_fertile_has_no_trials(hatchery: Any, as_json: Any) -> None:
    batch = hatchery.add_batch(eggs=8)
    hatchery.candle(batch, 7, dict.fromkeys(range(1, 9), CLEAR))
    hatchery.close(batch, 8)
    figures = batch_figures(hatchery.journal, batch.uid, SET_AT + 9 * DAY)
    assert figures.counts == {Fate.CLEAR: 8}
    assert (figures.rates.candled_fertility.hits, figures.rates.candled_fertility.trials) == (0, 8)
    assert figures.rates.hatch_of_fertile.estimate is None
    assert (figures.rates.hatch_of_set.hits, figures.rates.hatch_of_set.trials) == (0, 8)
    assert as_json(figures)["rates"]["hatch_of_fertile"]["estimate"] is None


def test_pens_are_named_in_the_order_of_the_eggs(hatchery: Any) -> None:
    pens = [Pen("Yard"), Pen("Brook")]
    for pen in pens:
        hatchery.journal.pens.add(pen)
    yard, brook = (pen.uid for pen in pens)
    batch = hatchery.add_batch(each_egg=[{"pen": yard}, {}, {"pen": brook}, {"pen": yard}])
    figures = batch_figures(hatchery.journal, batch.uid, SET_AT)
    assert figures.pen_names == ("Yard", "Brook")
    assert [egg.pen_name for egg in figures.eggs] == ["Yard", "", "Brook", "Yard"]
    assert (figures.trays, figures.tray_rows, figures.tray_columns) == (1, 3, 4)


def test_bounds_that_do_not_fit_a_shortened_batch_give_way_to_the_customary_ones(hatchery: Any) -> None:
    batch = hatchery.add_batch(eggs=1)
    batch = dataclasses.replace(batch, incubation_days=12.0)
    hatchery.journal.batches.replace(batch)
    hatchery.candle(batch, 5, {1: ALIVE})
    hatchery.candle(batch, 7, {1: DEAD})
    figures = batch_figures(hatchery.journal, batch.uid, SET_AT + 8 * DAY)
    # 7 and 14 of 21 days are 4 and 8 of 12.
    assert figures.eggs[0].outcome.fate is Fate.MID_DEAD


def test_the_next_weighing_is_the_next_to_do(hatchery: Any) -> None:
    days = (7, 14, 18)
    batch = hatchery.add_batch(duties=[Duty(DutyKind.WEIGH, SET_AT + day * DAY) for day in days])
    journal = hatchery.journal
    assert batch_figures(journal, batch.uid, SET_AT + 2 * DAY).next_weighing_day == 7.0
    assert batch_figures(journal, batch.uid, SET_AT + 8 * DAY).next_weighing_day == 14.0
    journal.duties.tick(journal.duties.of_batch(batch.uid)[1], SET_AT + 8 * DAY)
    assert batch_figures(journal, batch.uid, SET_AT + 8 * DAY).next_weighing_day == 18.0
    hatchery.close(batch, 9)
    assert batch_figures(journal, batch.uid, SET_AT + 9 * DAY).next_weighing_day is None
