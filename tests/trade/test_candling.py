"""What a candling goes by."""

from __future__ import annotations

import pytest
from hatchbook.trade.candling import STILL_CANDLED, CandlingLook, first_useful_day, has_left, look_on
from hatchbook.trade.codes import Fate
from hatchbook.trade.fates import EggOutcome


@pytest.mark.parametrize(
    ("day", "incubation_days", "look"),
    [
        (4.9, 21.0, CandlingLook.TOO_EARLY),
        (5.0, 21.0, CandlingLook.VEINS),
        (15.9, 21.0, CandlingLook.VEINS),
        (18.0, 21.0, CandlingLook.FULL),
        # A goose's day 7 is a hen's day 4.9; a quail's is a hen's 8.4.
        (7.0, 30.0, CandlingLook.TOO_EARLY),
        (7.0, 17.5, CandlingLook.VEINS),
        (14.0, 17.5, CandlingLook.FULL),
    ],
)
def test_a_living_egg_looks_by_its_share_of_the_incubation(
    day: float, incubation_days: float, look: CandlingLook
) -> None:
    assert look_on(day, incubation_days) is look


def test_the_first_useful_day_is_where_it_is_no_longer_too_early() -> None:
    for days in (17.5, 21.0, 28.0, 42.0):
        first = first_useful_day(days)
        assert look_on(first + 1e-9, days) is CandlingLook.VEINS
        assert look_on(first - 1e-9, days) is CandlingLook.TOO_EARLY
    assert first_useful_day(21.0) == 5.0


def test_what_hatched_or_was_opened_or_taken_out_is_not_there_any_more() -> None:
    left = {fate for fate in Fate if has_left(EggOutcome(fate))}
    assert left == {Fate.HATCHED, Fate.HELPED, Fate.CULLED, Fate.PIPPED_DEAD, Fate.TAKEN_OUT}
    assert has_left(EggOutcome(Fate.ALIVE, opened=True))
    assert not left & STILL_CANDLED
