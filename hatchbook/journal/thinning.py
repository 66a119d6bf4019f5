"""Which backups to keep as they grow older."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import UTC, datetime

_DAY_S = 86_400

#: All are kept for so long, then the last of each day, then of each week, then of each month.
ALL_FOR_S = 2 * _DAY_S
DAILY_FOR_S = 14 * _DAY_S
WEEKLY_FOR_S = 91 * _DAY_S


@dataclass(frozen=True)
class Thinned:
    """Instants of backups to keep and to drop, each ascending; together they are all that were given."""

    keep: tuple[int, ...]
    drop: tuple[int, ...]


def thin(times: Iterable[int], now: int) -> Thinned:
    """Sorts backups by age: all of two days, then one a day for two weeks, one a week for 13, one a month.

    The last one of each day, week (from Monday) and month in UTC is kept, and the very last one of all; those
    of the future (a clock was put back) are kept too. Equal instants stay together.

    Args:
        times: instants of the backups, UTC seconds, in any order.
        now: the present instant, UTC seconds.
    """
    ascending = sorted(times)
    kept: set[int] = set(ascending[-1:])
    periods: dict[object, int] = {}
    for at in ascending:
        age = now - at
        if age <= ALL_FOR_S:
            kept.add(at)
        else:
            periods[_period(age)(_utc(at))] = at
    kept.update(periods.values())
    return Thinned(
        keep=tuple(at for at in ascending if at in kept), drop=tuple(at for at in ascending if at not in kept)
    )


def _utc(at: int) -> datetime:
    return datetime.fromtimestamp(at, UTC)


def _period(age: int) -> Callable[[datetime], object]:
    """What a backup of this age shares with those of which one is kept."""
    if age <= DAILY_FOR_S:
        return lambda moment: ("day", moment.date())
    if age <= WEEKLY_FOR_S:
        return lambda moment: ("week", moment.isocalendar()[:2])
    return lambda moment: ("month", moment.year, moment.month)
