"""Survival of a batch's fertile eggs: followed by hand, and against the rates that stand beside it."""

from __future__ import annotations

from typing import Any

import pytest
from hatchbook.figures import batch_figures
from hatchbook.figures.survival import BatchSurvival, FollowEnd, batch_survival
from hatchbook.journal import BreakOut, Hatching, Removal
from hatchbook.statistics.intervals import wilson
from hatchbook.trade.codes import BreakOutResult, FindingCode, HatchMark, RemovalReason

DAY = 86_400
SET_AT = 1_777_917_600
LATER = SET_AT + 60 * DAY
ALIVE, CLEAR, DEAD, UNSURE = FindingCode.ALIVE, FindingCode.CLEAR, FindingCode.DEAD, FindingCode.UNSURE


def at(day: float) -> int:
    return SET_AT + round(day * DAY)


def hatch(hatchery: Any, batch: Any, numbers: Any, day: float, mark: HatchMark = HatchMark.HATCHED) -> None:
    eggs = hatchery.eggs(batch)
    hatchery.journal.hatchings.note(batch.uid, [Hatching(eggs[n], at(day), mark) for n in numbers])


def open_egg(
    hatchery: Any, egg: str, day: float, result: BreakOutResult, dead_day: float | None = None
) -> None:
    hatchery.journal.break_outs.keep(BreakOut(egg, at(day), result, dead_day=dead_day))


def survival(hatchery: Any, batch: Any, now: int = LATER) -> BatchSurvival:
    return batch_survival(batch_figures(hatchery.journal, batch.uid, now))


def ends(found: BatchSurvival) -> dict[int, tuple[FollowEnd, float, float]]:
    return {egg.number: (egg.end, round(egg.from_day, 3), round(egg.until_day, 3)) for egg in found.eggs}


def finished(hatchery: Any) -> Any:
    """Twelve eggs: of the ten fertile ones seven hatch, two die, one goes under a hen on day 12."""
    batch = hatchery.add_batch(eggs=12)
    eggs = hatchery.eggs(batch)
    hatchery.candle(batch, 7, dict.fromkeys(range(1, 11), ALIVE) | {11: CLEAR, 12: CLEAR})
    hatchery.candle(batch, 14, dict.fromkeys((1, 2, 3, 4, 5, 6, 7, 9), ALIVE) | {8: DEAD})
    hatchery.journal.removals.add(Removal(eggs[10], at(12), RemovalReason.TAKEN_OUT_ALIVE))
    hatch(hatchery, batch, range(1, 8), 20.5)
    open_egg(hatchery, eggs[9], 23, BreakOutResult.LATE_DEAD)
    open_egg(hatchery, eggs[12], 23, BreakOutResult.INFERTILE)
    hatchery.close(batch, 23.5)
    return batch


def test_each_egg_is_followed_until_it_died_left_or_came_out(hatchery: Any) -> None:
    found = survival(hatchery, finished(hatchery))
    assert ends(found) == {
        **dict.fromkeys(range(1, 8), (FollowEnd.CAME_OUT, 23.5, 23.5)),
        8: (FollowEnd.DIED, 7.0, 14.0),
        9: (FollowEnd.DIED, 14.0, 23.0),
        10: (FollowEnd.TAKEN_OUT, 12.0, 12.0),
    }
    assert (found.infertile, found.unopened_clears, found.fertility_unknown) == (1, 1, 0)
    assert [found.count(end) for end in FollowEnd] == [2, 7, 1, 0, 0]


def test_the_curve_by_hand(hatchery: Any) -> None:
    found = survival(hatchery, finished(hatchery))
    # Egg 8 half way from day 7 to 14, before egg 10 left on day 12; egg 9 half way from 14 to 23.
    middle = found.band.middle
    assert middle.days.tolist() == pytest.approx([10.5, 18.5])
    assert middle.at_risk.tolist() == [10, 8]
    assert middle.survival.tolist() == pytest.approx([9 / 10, 9 / 10 * 7 / 8])
    # On its first day egg 8 died on day 7, on its last on 14, when egg 10 had left.
    assert found.band.earliest.survival.tolist() == pytest.approx([9 / 10, 9 / 10 * 7 / 8])
    assert found.band.latest.survival.tolist() == pytest.approx([8 / 9, 7 / 9])


def test_alive_at_lockdown_counts_who_can_have_been_alive(hatchery: Any) -> None:
    found = survival(hatchery, finished(hatchery))
    at_lockdown = found.at_lockdown
    assert at_lockdown is not None
    assert (at_lockdown.day, at_lockdown.alive, at_lockdown.dead, at_lockdown.left) == (18.0, 8, 1, 1)
    assert at_lockdown.estimate == pytest.approx(0.9)
    # Egg 9 died between day 14 and day 23, so it can have been dead before lockdown.
    assert (found.alive_least, found.alive_most) == (7, 8)


def test_without_eggs_taken_out_the_curve_ends_at_the_hatch_of_fertile(hatchery: Any) -> None:
    batch = hatchery.add_batch(eggs=36)
    eggs = hatchery.eggs(batch)
    hatchery.candle(batch, 7, dict.fromkeys(range(1, 34), ALIVE) | dict.fromkeys(range(34, 37), CLEAR))
    hatchery.candle(batch, 17.5, dict.fromkeys(range(1, 29), ALIVE) | dict.fromkeys(range(29, 34), DEAD))
    hatch(hatchery, batch, range(1, 26), 20.25)
    hatch(hatchery, batch, [1], 20.6, HatchMark.CULLED)
    for number in (26, 27, 28):
        open_egg(hatchery, eggs[number], 22.5, BreakOutResult.LATE_DEAD)
    for number in range(34, 37):
        open_egg(hatchery, eggs[number], 22.5, BreakOutResult.INFERTILE)
    hatchery.close(batch, 23)
    figures = batch_figures(hatchery.journal, batch.uid, LATER)
    found = batch_survival(figures)
    rate = figures.rates.hatch_of_fertile
    assert (rate.hits, rate.trials) == (25, 33)
    for curve in (found.band.earliest, found.band.middle, found.band.latest):
        last = curve.at(found.end_day)
        assert last.estimate == pytest.approx(25 / 33)
        assert (last.low, last.high) == pytest.approx(wilson(25, 33))
    # 28 of 33 alive at lockdown, as a plain proportion
    at_lockdown = found.at_lockdown
    assert at_lockdown is not None
    assert (at_lockdown.alive, at_lockdown.low, at_lockdown.high) == pytest.approx((28, *wilson(28, 33)))
    assert (found.alive_least, found.alive_most) == (25, 28)


def test_a_death_told_to_the_day_has_no_span(hatchery: Any) -> None:
    batch = hatchery.add_batch(eggs=2)
    eggs = hatchery.eggs(batch)
    hatchery.candle(batch, 7, {1: ALIVE, 2: ALIVE})
    open_egg(hatchery, eggs[1], 22, BreakOutResult.MID_DEAD, dead_day=11.0)
    hatch(hatchery, batch, [2], 21)
    hatchery.close(batch, 22.5)
    assert ends(survival(hatchery, batch))[1] == (FollowEnd.DIED, 11.0, 11.0)


def test_lost_rotten_and_cracked_eggs(hatchery: Any) -> None:
    batch = hatchery.add_batch(eggs=6)
    eggs = hatchery.eggs(batch)
    hatchery.candle(batch, 7, {1: ALIVE, 2: ALIVE, 3: ALIVE})
    hatchery.candle(batch, 14, {1: ALIVE, 2: FindingCode.CRACKED, 4: FindingCode.ROTTEN})
    open_egg(hatchery, eggs[3], 22, BreakOutResult.ROTTEN)
    hatchery.close(batch, 23)
    figures = batch_figures(hatchery.journal, batch.uid, LATER)
    found = batch_survival(figures)
    assert ends(found) == {
        1: (FollowEnd.NOT_KNOWN, 14.0, 14.0),  # alive on day 14, and nobody noted what came of it
        2: (FollowEnd.DIED, 7.0, 14.0),
        3: (FollowEnd.DIED, 7.0, 22.0),
        4: (FollowEnd.DIED, 0.0, 14.0),
    }
    assert found.fertility_unknown == 2
    assert len(found.eggs) == figures.rates.fertile


def test_a_running_batch_is_followed_to_the_last_sign_of_life(hatchery: Any) -> None:
    batch = hatchery.add_batch(eggs=5)
    hatchery.candle(batch, 7, {1: ALIVE, 2: ALIVE, 3: CLEAR, 4: UNSURE})
    hatchery.candle(batch, 10, {1: ALIVE, 2: UNSURE})
    found = survival(hatchery, batch, at(11))
    assert ends(found) == {
        1: (FollowEnd.UNDER_WAY, 10.0, 10.0),
        2: (FollowEnd.UNDER_WAY, 7.0, 7.0),
    }
    assert (found.unopened_clears, found.fertility_unknown, found.infertile) == (1, 2, 0)
    assert found.at_lockdown is None
    assert found.band.middle.share_after(25.0) == 1.0


def test_a_batch_of_which_nothing_is_known_has_no_curve(hatchery: Any, as_json: Any) -> None:
    batch = hatchery.add_batch(eggs=3)
    hatchery.close(batch, 22)
    found = survival(hatchery, batch)
    assert found.eggs == ()
    assert found.fertility_unknown == 3
    assert found.at_lockdown is None
    assert as_json(found)["band"]["middle"]["subjects"] == 0


def test_a_batch_without_eggs(hatchery: Any) -> None:
    found = survival(hatchery, hatchery.add_batch(eggs=0))
    assert (found.eggs, found.at_lockdown) == ((), None)


def test_the_result_is_plain_json(hatchery: Any, as_json: Any) -> None:
    plain = as_json(survival(hatchery, finished(hatchery)))
    assert plain["ends"] == {"died": 2, "came_out": 7, "taken_out": 1, "under_way": 0, "not_known": 0}
    assert plain["at_lockdown"]["alive"] == 8
    assert plain["band"]["latest"]["left_days"][0] == 12.0
    assert plain["eggs"][7] == {"number": 8, "end": "died", "from_day": 7.0, "until_day": 14.0}
