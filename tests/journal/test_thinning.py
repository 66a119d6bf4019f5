"""Which backups are kept as they grow older."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from hatchbook.journal.thinning import thin
from hypothesis import given
from hypothesis import strategies as st

DAY = 86_400


def at(text: str) -> int:
    return int(datetime.fromisoformat(text).replace(tzinfo=UTC).timestamp())


def text(instant: int) -> str:
    return datetime.fromtimestamp(instant, UTC).strftime("%Y-%m-%d %H:%M")


#: 14 May 2026 is a Thursday.
NOW = "2026-05-14 14:02"


@pytest.mark.parametrize(
    ("given_times", "kept"),
    [
        pytest.param([], [], id="none"),
        pytest.param(["2019-01-01 08:00"], ["2019-01-01 08:00"], id="the only one, however old"),
        pytest.param(
            ["2026-05-14 14:00", "2026-05-14 13:30", "2026-05-13 09:00", "2026-05-12 14:02"],
            ["2026-05-12 14:02", "2026-05-13 09:00", "2026-05-14 13:30", "2026-05-14 14:00"],
            id="all of two days",
        ),
        pytest.param(
            [
                "2026-05-12 14:01",
                "2026-05-12 08:00",
                "2026-05-11 23:59",
                "2026-05-11 00:00",
                "2026-05-14 14:00",
            ],
            ["2026-05-11 23:59", "2026-05-12 14:01", "2026-05-14 14:00"],
            id="the last of a day after two",
        ),
        pytest.param(
            [
                "2026-04-27 10:00",
                "2026-04-29 10:00",
                "2026-04-30 10:00",
                "2026-05-01 10:00",
                "2026-05-14 14:00",
            ],
            ["2026-04-30 10:00", "2026-05-01 10:00", "2026-05-14 14:00"],
            id="the last of a week after two weeks, and of each day before",
        ),
        pytest.param(
            [
                "2026-04-12 23:00",
                "2026-04-13 01:00",
                "2026-04-19 22:00",
                "2026-04-20 01:00",
                "2026-05-14 14:00",
            ],
            ["2026-04-12 23:00", "2026-04-19 22:00", "2026-04-20 01:00", "2026-05-14 14:00"],
            id="weeks begin on Monday",
        ),
        pytest.param(
            [
                "2025-12-29 10:00",
                "2026-01-01 10:00",
                "2026-01-31 10:00",
                "2025-01-31 10:00",
                "2026-05-14 14:00",
            ],
            ["2025-01-31 10:00", "2025-12-29 10:00", "2026-01-31 10:00", "2026-05-14 14:00"],
            id="the last of a month after 13 weeks",
        ),
        pytest.param(
            ["2026-05-14 14:00", "2031-01-01 00:00", "2031-01-01 00:01"],
            ["2026-05-14 14:00", "2031-01-01 00:00", "2031-01-01 00:01"],
            id="those of a clock that was put back",
        ),
        pytest.param(
            ["2026-05-01 10:00", "2026-05-01 10:00", "2026-05-01 09:00"],
            ["2026-05-01 10:00", "2026-05-01 10:00"],
            id="equal instants stay together",
        ),
    ],
)
def test_thinning(given_times: list[str], kept: list[str]) -> None:
    thinned = thin([at(time) for time in given_times], at(NOW))
    assert [text(instant) for instant in thinned.keep] == kept
    assert sorted([*thinned.keep, *thinned.drop]) == sorted(at(time) for time in given_times)


def test_a_year_of_daily_work_leaves_a_handful() -> None:
    """A backup every half hour from 8 to 20, thinned each time, as the program does it."""
    kept: tuple[int, ...] = ()
    start = at("2025-05-14 08:00")
    for day in range(365):
        for half_hour in range(24):
            now = start + day * DAY + half_hour * 1800
            kept = thin([*kept, now], now).keep
    ages = sorted((now - instant) / DAY for instant in kept)
    assert sum(age <= 2 for age in ages) == 49
    assert sum(2 < age <= 14 for age in ages) in (12, 13)
    assert sum(14 < age <= 91 for age in ages) in (11, 12)
    assert sum(age > 91 for age in ages) in (9, 10)
    assert max(ages) > 330


@given(st.lists(st.integers(-10 * DAY, 3000 * DAY), max_size=60), st.integers(0, 3000 * DAY))
def test_the_newest_is_kept_and_thinning_again_changes_nothing(times: list[int], now: int) -> None:
    thinned = thin(times, now)
    assert sorted([*thinned.keep, *thinned.drop]) == sorted(times)
    assert not set(thinned.keep) & set(thinned.drop)
    if times:
        assert max(times) in thinned.keep
    assert thin(thinned.keep, now) == type(thinned)(thinned.keep, ())
    assert all(now - instant > 2 * DAY for instant in thinned.drop)


@given(st.lists(st.integers(0, 400 * DAY), min_size=1, max_size=60))
def test_no_gap_opens_between_backups_wider_than_their_age_allows(times: list[int]) -> None:
    now = 400 * DAY
    kept = thin(times, now).keep
    for dropped in thin(times, now).drop:
        age = now - dropped
        allowed = DAY if age <= 14 * DAY else 7 * DAY if age <= 91 * DAY else 31 * DAY
        assert any(dropped < instant <= dropped + allowed for instant in kept)
