"""What holds for the fate of an egg whatever its records are."""

from __future__ import annotations

import itertools
import json
import random

import pytest
from hatchbook.trade.codes import BreakOutResult, Fate, FindingCode, HatchMark, RemovalReason
from hatchbook.trade.contradictions import ContradictionCode
from hatchbook.trade.fates import (
    CAME_OUT,
    DIED,
    PENDING,
    SeenBreakOut,
    SeenFinding,
    SeenHatch,
    SeenRemoval,
    derive_fate,
)
from hatchbook.trade.stages import StageBounds
from hypothesis import given, settings
from hypothesis import strategies as st

SET_AT_S = 1_700_000_000
BOUNDS = StageBounds.for_incubation(21)


def at(day: float) -> int:
    return SET_AT_S + round(day * 86_400)


FIRST = [None, *FindingCode]
MARKS = [(), *[(mark,) for mark in HatchMark], (HatchMark.EXTERNAL_PIP, HatchMark.HATCHED)]
FINAL = {
    HatchMark.HATCHED: Fate.HATCHED,
    HatchMark.WEAK: Fate.HATCHED,
    HatchMark.HELPED: Fate.HELPED,
    HatchMark.CULLED: Fate.CULLED,
    HatchMark.DIED_IN_PIP: Fate.PIPPED_DEAD,
}
COMBINATIONS = list(itertools.product(FIRST, FIRST, MARKS, [None, *BreakOutResult], [None, *RemovalReason]))


@pytest.mark.parametrize("closed", [False, True])
def test_order_of_strength_holds_over_every_combination(closed: bool) -> None:
    for first, second, marks, result, reason in COMBINATIONS:
        outcome = derive_fate(
            [SeenFinding(at(day), code) for code, day in ((first, 7), (second, 14)) if code],
            [SeenHatch(at(20 + number), mark) for number, mark in enumerate(marks)],
            [SeenBreakOut(at(23), result)] if result else [],
            [SeenRemoval(at(16), reason)] if reason else [],
            set_at_s=SET_AT_S,
            bounds=BOUNDS,
            closed=closed,
        )
        said = (first, second, marks, result, reason, outcome)
        if marks and marks[-1] in FINAL:
            assert outcome.fate is FINAL[marks[-1]], said
        elif marks and result:
            assert outcome.fate is Fate.PIPPED_DEAD, said
        elif not marks and result not in (None, BreakOutResult.UNKNOWN):
            assert outcome.fate.value == result, said
        if outcome.fate is Fate.INFERTILE:
            assert result is BreakOutResult.INFERTILE, said
        if reason is RemovalReason.TAKEN_OUT_ALIVE and not marks and result in (None, BreakOutResult.UNKNOWN):
            assert outcome.fate is Fate.TAKEN_OUT, said
        assert not (closed and outcome.fate in PENDING), said
        assert (outcome.fertile is False) == (outcome.fate is Fate.INFERTILE), said
        assert (outcome.dead_from_day is not None) or outcome.fate not in DIED, said
        assert (outcome.hatched_at_s is not None) == (outcome.fate in CAME_OUT), said
        if {first, second} & {FindingCode.CLEAR} and outcome.candled_clear and outcome.fate in CAME_OUT:
            assert ContradictionCode.CLEAR_BUT_HATCHED in {clash.code for clash in outcome.contradictions}, (
                said
            )


records_of_an_egg = st.tuples(
    st.lists(st.builds(SeenFinding, st.integers(0, 25).map(at), st.sampled_from(FindingCode)), max_size=4),
    st.lists(st.builds(SeenHatch, st.integers(18, 25).map(at), st.sampled_from(HatchMark)), max_size=3),
    st.lists(
        st.builds(
            SeenBreakOut,
            st.integers(5, 25).map(at),
            st.sampled_from(BreakOutResult),
            st.none() | st.floats(0, 25),
        ),
        max_size=2,
    ),
    st.lists(st.builds(SeenRemoval, st.integers(0, 25).map(at), st.sampled_from(RemovalReason)), max_size=2),
)


@settings(max_examples=400)
@given(records=records_of_an_egg, closed=st.booleans())
def test_any_records_give_a_fate_that_holds_together(
    records: tuple[list[SeenFinding], list[SeenHatch], list[SeenBreakOut], list[SeenRemoval]], closed: bool
) -> None:
    outcome = derive_fate(*records, set_at_s=SET_AT_S, bounds=BOUNDS, closed=closed)
    if closed:
        assert outcome.fate not in PENDING
    if outcome.fate is Fate.INFERTILE:
        assert any(opening.result is BreakOutResult.INFERTILE for opening in records[2])
    if outcome.dead_from_day is not None and outcome.dead_until_day is not None:
        assert 0 <= outcome.dead_from_day <= outcome.dead_until_day
    assert not outcome.candled_clear or outcome.candled
    json.dumps(outcome.as_dict(), allow_nan=False)


@given(data=st.data(), closed=st.booleans())
def test_the_order_in_which_records_are_handed_over_does_not_matter(
    data: st.DataObject, closed: bool
) -> None:
    days = data.draw(st.lists(st.integers(0, 25), unique=True, max_size=5))
    findings = [SeenFinding(at(day), data.draw(st.sampled_from(FindingCode))) for day in days]
    mixed = findings[:]
    random.Random(1).shuffle(mixed)
    first, second = (
        derive_fate(given, [], [], [], set_at_s=SET_AT_S, bounds=BOUNDS, closed=closed)
        for given in (findings, mixed)
    )
    assert first == second
