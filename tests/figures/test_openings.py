"""Opening unhatched eggs: which are to be opened, and what the candlings already tell of each."""

from __future__ import annotations

from typing import Any

import pytest
from hatchbook.figures import batch_figures
from hatchbook.figures.openings import KnownBefore, OpeningEgg, Openings, OpeningState, openings
from hatchbook.journal import Batch, BreakOut, Hatching, Removal
from hatchbook.trade.codes import BreakOutResult, FindingCode, HatchMark, RemovalReason

DAY = 86_400
SET_AT = 1_777_917_600
ALIVE, CLEAR, DEAD = FindingCode.ALIVE, FindingCode.CLEAR, FindingCode.DEAD
EARLY, MID, LATE = BreakOutResult.EARLY_DEAD, BreakOutResult.MID_DEAD, BreakOutResult.LATE_DEAD
INFERTILE, IN_PIP = BreakOutResult.INFERTILE, BreakOutResult.PIPPED_DEAD


def at(day: float) -> int:
    return SET_AT + round(day * DAY)


def found(hatchery: Any, batch: Batch, day: float = 22.0) -> Openings:
    return openings(batch_figures(hatchery.journal, batch.uid, at(day)))


def only(hatchery: Any, looks: list[tuple[float, FindingCode]], day: float = 22.0) -> OpeningEgg:
    """The one egg of a batch that was candled so."""
    batch = hatchery.add_batch(eggs=1)
    for look_day, code in looks:
        hatchery.candle(batch, look_day, {1: code})
    return found(hatchery, batch, day).eggs[0]


@pytest.mark.parametrize(
    ("looks", "known", "span", "fitting"),
    [
        # Seen alive on days 7, 14 and 18, opened on day 22: died on day 18 to 21.
        ([(7, ALIVE), (14, ALIVE), (18, ALIVE)], KnownBefore.ALIVE, (18, 21), {LATE, IN_PIP}),
        ([(7, ALIVE), (14, DEAD)], KnownBefore.DEAD, (7, 14), {MID}),
        ([(5, ALIVE), (10, DEAD)], KnownBefore.DEAD, (5, 10), {EARLY, MID}),
        ([(7, ALIVE), (18, DEAD)], KnownBefore.DEAD, (7, 18), {MID, LATE}),
        ([(7, FindingCode.EARLY_DEAD)], KnownBefore.DEAD, (0, 7), {EARLY}),
        ([(7, CLEAR)], KnownBefore.CLEAR, (0, 7), {INFERTILE, EARLY}),
        ([(7, CLEAR), (14, CLEAR)], KnownBefore.CLEAR, (0, 7), {INFERTILE, EARLY}),
        ([(7, FindingCode.UNSURE)], KnownBefore.NOTHING, (0, 21), {INFERTILE, EARLY, MID, LATE, IN_PIP}),
        ([(7, FindingCode.CRACKED)], KnownBefore.NOTHING, (0, 21), {INFERTILE, EARLY, MID, LATE, IN_PIP}),
        ([], KnownBefore.NOTHING, (0, 21), {INFERTILE, EARLY, MID, LATE, IN_PIP}),
        ([(7, ALIVE), (14, FindingCode.UNSURE)], KnownBefore.ALIVE, (7, 21), {MID, LATE, IN_PIP}),
        ([(7, ALIVE), (14, FindingCode.ROTTEN)], KnownBefore.DEAD, (7, 14), {MID}),
        # The later and living look stands.
        ([(7, DEAD), (10, ALIVE)], KnownBefore.ALIVE, (10, 21), {MID, LATE, IN_PIP}),
        ([(7, CLEAR), (10, ALIVE), (14, DEAD)], KnownBefore.DEAD, (10, 14), {MID}),
    ],
)
def test_the_candlings_tell_between_which_days_it_died(
    hatchery: Any,
    looks: list[tuple[float, FindingCode]],
    known: KnownBefore,
    span: tuple[float, float],
    fitting: set[BreakOutResult],
) -> None:
    egg = only(hatchery, looks)
    assert egg.state is OpeningState.TO_OPEN
    assert (egg.known, (egg.from_day, egg.until_day), egg.fitting) == (known, span, fitting)
    assert list(egg.looks) == looks


def test_an_egg_seen_alive_after_the_hatch_was_due_may_have_died_until_now(hatchery: Any) -> None:
    egg = only(hatchery, [(18, ALIVE), (21.5, ALIVE)], day=23)
    assert (egg.from_day, egg.until_day) == (21.5, 21.5)


def test_a_pipped_egg_that_stayed_in_died_in_the_pip(hatchery: Any) -> None:
    batch = hatchery.add_batch(eggs=1)
    hatchery.candle(batch, 18, {1: ALIVE})
    egg = hatchery.eggs(batch)[1]
    hatchery.journal.hatchings.note(batch.uid, [Hatching(egg, at(20.5), HatchMark.EXTERNAL_PIP)])
    one = found(hatchery, batch).eggs[0]
    assert (one.known, one.pipped_day, one.fitting) == (KnownBefore.PIPPED, 20.5, {IN_PIP})
    assert one.from_day == 20.5


def test_eggs_that_may_live_are_not_opened_before_the_day_after_the_hatch(hatchery: Any) -> None:
    batch = hatchery.add_batch(eggs=4)
    hatchery.candle(batch, 7, {1: ALIVE, 2: CLEAR, 3: DEAD})
    before, after = found(hatchery, batch, 21.9), found(hatchery, batch, 22.0)
    not_yet, to_open = OpeningState.NOT_YET, OpeningState.TO_OPEN
    assert [one.state for one in before.eggs] == [not_yet, to_open, to_open, not_yet]
    assert {one.state for one in after.eggs} == {to_open}
    assert (before.may_feel_pain, found(hatchery, batch, 16.7).may_feel_pain) == (True, False)


def test_hatched_eggs_and_those_taken_out_are_not_opened(hatchery: Any) -> None:
    batch = hatchery.add_batch(eggs=6)
    eggs, journal = hatchery.eggs(batch), hatchery.journal
    hatchery.candle(batch, 7, {4: CLEAR, 5: CLEAR})
    marks = [(1, HatchMark.HATCHED), (2, HatchMark.CULLED), (6, HatchMark.DIED_IN_PIP)]
    journal.hatchings.note(batch.uid, [Hatching(eggs[n], at(21), mark) for n, mark in marks])
    for number, reason in ((3, RemovalReason.TAKEN_OUT_ALIVE), (4, RemovalReason.BROKEN)):
        journal.removals.note(batch.uid, [Removal(eggs[number], at(9), reason)])
    states = {one.egg.egg.number: one.state for one in found(hatchery, batch).eggs}
    gone = OpeningState.GONE
    assert states == {1: gone, 2: gone, 3: gone, 4: gone, 5: OpeningState.TO_OPEN, 6: OpeningState.TO_OPEN}


def test_clears_that_were_opened_are_told_apart_and_the_rest_is_counted(hatchery: Any, as_json: Any) -> None:
    batch = hatchery.add_batch(eggs=8)
    hatchery.candle(batch, 7, dict.fromkeys(range(1, 6), CLEAR) | {6: ALIVE, 7: ALIVE})
    eggs, journal = hatchery.eggs(batch), hatchery.journal
    results = [(1, INFERTILE), (2, INFERTILE), (3, EARLY), (6, LATE)]
    for number, result in results:
        journal.break_outs.keep(BreakOut(eggs[number], at(22), result))
    openings_ = found(hatchery, batch)
    assert (openings_.clears_opened, openings_.clears_infertile, openings_.clears_early_dead) == (3, 2, 1)
    # Two clears, the one alive on day 7 and the one never looked into.
    assert (openings_.left_clear, openings_.left_unknown, openings_.left_dead) == (2, 2, 0)
    assert (openings_.count(OpeningState.OPENED), openings_.count(OpeningState.TO_OPEN)) == (4, 4)
    assert as_json(openings_)["counts"] == {"to_open": 4, "opened": 4, "not_yet": 0, "gone": 0}


def test_an_opened_egg_is_shown_with_what_was_known_before(hatchery: Any) -> None:
    batch = hatchery.add_batch(eggs=1)
    hatchery.candle(batch, 14, {1: ALIVE})
    egg = hatchery.eggs(batch)[1]
    hatchery.journal.break_outs.keep(BreakOut(egg, at(22), LATE, dead_day=19.0))
    one = found(hatchery, batch, 25).eggs[0]
    assert (one.state, one.known, one.from_day, one.until_day) == (
        OpeningState.OPENED,
        KnownBefore.ALIVE,
        14,
        21,
    )


@pytest.mark.parametrize(
    ("result", "day", "fits"),
    [
        (EARLY, 7, True),
        (EARLY, 8, True),  # an age is read to about a day
        (EARLY, 9, False),
        (MID, 6, True),
        (MID, 5, False),
        (LATE, 20, True),
        (LATE, 10, False),
        (INFERTILE, 3, False),
        (IN_PIP, 20, True),
        (BreakOutResult.ROTTEN, 3, True),
    ],
)
def test_a_day_fits_a_stage_or_not(hatchery: Any, result: BreakOutResult, day: float, fits: bool) -> None:
    assert found(hatchery, hatchery.add_batch(eggs=1)).day_fits(result, day) is fits


@pytest.mark.parametrize(
    ("day", "stage"), [(0, EARLY), (7, EARLY), (7.1, MID), (14, MID), (20, LATE), (23, LATE)]
)
def test_a_day_gives_its_stage(hatchery: Any, day: float, stage: BreakOutResult) -> None:
    assert found(hatchery, hatchery.add_batch(eggs=1)).stage_of(day) is stage
