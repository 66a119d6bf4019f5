"""The eggs as a candling finds them, and one egg by all its records."""

from __future__ import annotations

from typing import Any

from hatchbook.figures import batch_figures, eggs_before, last_finding, outcome_of_egg
from hatchbook.journal import BreakOut, Candling, Hatching, Removal
from hatchbook.trade.codes import BreakOutResult, Fate, FindingCode, HatchMark, RemovalReason
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

DAY = 86_400


def test_the_findings_of_a_candling_are_left_out_of_what_was_known_before_it(hatchery: Any) -> None:
    batch = hatchery.add_batch(eggs=3)
    hatchery.candle(batch, 7, {1: FindingCode.ALIVE, 2: FindingCode.CLEAR})
    eggs = hatchery.eggs(batch)
    now = Candling(batch.uid, batch.set_at + 14 * DAY)
    hatchery.journal.candlings.note_findings(
        now, {eggs[1]: FindingCode.DEAD, eggs[3]: FindingCode.ALIVE}, now.at + 60
    )
    one, two, three = eggs_before(hatchery.journal, batch, now.uid)
    assert [egg.outcome.fate for egg in (one, two, three)] == [Fate.ALIVE, Fate.CLEAR, Fate.SET]
    assert last_finding(one) == (7.0, FindingCode.ALIVE)
    assert last_finding(three) is None
    after = eggs_before(hatchery.journal, batch, "no candling")
    assert after == batch_figures(hatchery.journal, batch.uid, now.at + DAY).eggs
    assert last_finding(after[0]) == (14.0 + 60 / DAY, FindingCode.DEAD)


def test_what_was_seen_last_at_a_candling_is_no_pip_and_no_opening(hatchery: Any) -> None:
    batch = hatchery.add_batch(eggs=1)
    hatchery.candle(batch, 18, {1: FindingCode.ALIVE})
    egg = hatchery.eggs(batch)[1]
    hatchery.journal.hatchings.note(
        batch.uid, [Hatching(egg, batch.set_at + 20 * DAY, HatchMark.INTERNAL_PIP)]
    )
    (seen,) = eggs_before(hatchery.journal, batch, "")
    assert last_finding(seen) == (18.0, FindingCode.ALIVE)


RECORDS = st.lists(
    st.one_of(st.sampled_from(FindingCode), st.sampled_from(HatchMark), st.sampled_from(RemovalReason)),
    max_size=5,
)


@given(first=RECORDS, second=RECORDS, result=st.sampled_from([None, *BreakOutResult]))
@settings(max_examples=30, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_one_egg_alone_has_the_outcome_that_it_has_among_all(
    hatchery: Any, first: list[Any], second: list[Any], result: BreakOutResult | None
) -> None:
    journal = hatchery.journal
    batch = hatchery.add_batch(eggs=2)
    eggs = hatchery.eggs(batch)
    for number, records in ((1, first), (2, second)):
        removed = False
        for day, code in enumerate(records, 7):
            at = batch.set_at + day * DAY
            if isinstance(code, FindingCode):
                journal.candlings.note_finding(Candling(batch.uid, at), eggs[number], code, at)
            elif isinstance(code, HatchMark):
                journal.hatchings.note_marks(batch.uid, [eggs[number]], code, at)
            elif not removed:
                journal.removals.note(batch.uid, [Removal(eggs[number], at, code)])
                removed = True
    if result is not None:
        opened = BreakOut(eggs[1], batch.set_at + 22 * DAY, result)
        journal.break_outs.keep_all(batch.uid, [opened], malpositions=[], signs=[])
    for egg in batch_figures(journal, batch.uid, batch.set_at + 23 * DAY).eggs:
        assert outcome_of_egg(journal, batch, egg.egg.uid) == egg.outcome
