"""Why a hatch is expected earlier or later: published figures, and nothing where there is none."""

from __future__ import annotations

import pytest
from hatchbook.trade.hatch_time import (
    HatchShiftCode,
    shift_by_cooling,
    shift_by_temperature,
    shifts_by_storage,
    storage_hours,
)
from hatchbook.trade.sources import SourceMark


@pytest.mark.parametrize(("days", "hours"), [(0.0, 486.0), (0.25, 492.0), (3.0, 492.0), (7.0, 498.0)])
def test_the_published_peaks_of_the_hatch_come_out(days: float, hours: float) -> None:
    """Turkish J. Vet. Anim. Sci., no. 5487: peak hatch at 486, 492, 492, 498 h after 0 h, 6 h, 3 d, 7 d."""
    assert 486.0 + storage_hours(days) == pytest.approx(hours)


def test_beyond_the_published_days_no_hours_are_made_up() -> None:
    assert storage_hours(30.0) == 12.0
    codes = {shift.code: shift for shift in shifts_by_storage("hen", 11.0)}
    assert codes[HatchShiftCode.STORED_LONG].hours is None
    assert codes[HatchShiftCode.STORED_LONG].mark is SourceMark.PUBLISHED


def test_the_rule_of_thumb_is_marked_as_from_memory_and_has_no_source() -> None:
    (rule,) = [shift for shift in shifts_by_storage("hen", 9.0) if shift.code is HatchShiftCode.STORED_RULE]
    assert rule.mark is SourceMark.FROM_MEMORY
    assert rule.source == ""
    assert rule.hours == 9.0


def test_within_the_published_days_the_rule_of_thumb_is_not_needed() -> None:
    assert [shift.code for shift in shifts_by_storage("bantam", 5.0)] == [HatchShiftCode.STORED]


def test_nothing_is_said_of_other_species_or_of_fresh_eggs() -> None:
    assert shifts_by_storage("duck", 9.0) == ()
    assert shifts_by_storage("hen", 0.5) == ()


def test_warmth_brings_the_hatch_forward_and_cold_delays_it_without_hours() -> None:
    warm, cool = shift_by_temperature(0.3), shift_by_temperature(-0.3)
    assert warm is not None
    assert cool is not None
    assert (warm.later, cool.later, warm.hours, cool.hours) == (False, True, None, None)
    assert shift_by_temperature(0.0) is None


def test_only_hours_of_cooling_delay() -> None:
    assert shift_by_cooling(0.25) is None
    cooled = shift_by_cooling(2.0)
    assert cooled is not None
    assert cooled.later


def test_an_egg_is_not_set_before_it_is_laid() -> None:
    with pytest.raises(ValueError, match="before it is laid"):
        storage_hours(-1.0)
