"""Instants and the clock on the wall.

An instant is a whole number of seconds since 1970-01-01 00:00 UTC. A wall time is a naive `datetime`, read in a
zone of the IANA database. In autumn an hour of the wall clock comes twice (`fold` 0 the first time, 1 the second,
as in PEP 495), in spring one is skipped.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

DAY_S = 86_400
"""A day of incubation: 24 hours, whatever the clocks do."""

EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
_SECOND = timedelta(seconds=1)
# A year inside what `datetime` can hold, so that no zone leads out of it.
_FIRST_S = int((datetime(2, 1, 1, tzinfo=UTC) - EPOCH).total_seconds())
_END_S = int((datetime(9999, 1, 1, tzinfo=UTC) - EPOCH).total_seconds())


class InstantError(ValueError):
    """A time, a date or a zone that can not be used; `str(error)` is a plain sentence."""


class UnknownZoneError(InstantError):
    """There is no time zone of that name."""

    def __init__(self, name: str) -> None:
        super().__init__(
            f'There is no time zone "{name}". Names look like Europe/Lisbon or America/New_York.'
        )
        self.name = name


class SkippedHourError(InstantError):
    """A wall time that the clock never showed, since it was put forward; `earlier` and `later` are what it
    would have been read as by the offsets before and after, each an instant in UTC seconds."""

    def __init__(self, wall: datetime, zone: ZoneInfo, earlier: int, later: int) -> None:
        super().__init__(
            f"There was no {wall:%H:%M} on {wall:%Y-%m-%d} in {zone.key}: the clocks were put forward over it."
        )
        self.wall = wall
        self.zone = zone
        self.earlier = earlier
        self.later = later


class YearOutOfRangeError(InstantError):
    """An instant outside the years 2 to 9998."""

    def __init__(self) -> None:
        super().__init__("The time lies outside the years 2 to 9998.")


SkippedHour = SkippedHourError


def zone_named(name: str) -> ZoneInfo:
    """The zone of an IANA name such as ``Europe/Lisbon``.

    Raises:
        UnknownZoneError: when there is none.
    """
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError) as error:
        raise UnknownZoneError(name) from error


def to_local(at_s: int, zone: ZoneInfo) -> datetime:
    """The wall time of an instant, aware of its zone, with `fold` set in the second of two repeated hours.

    Raises:
        YearOutOfRangeError: outside the years 2 to 9998.
    """
    if not _FIRST_S <= at_s < _END_S:
        raise YearOutOfRangeError
    return (EPOCH + at_s * _SECOND).astimezone(zone)


def from_local(naive: datetime, zone: ZoneInfo, fold: int = 0) -> int:
    """The instant of a wall time, UTC seconds; parts of a second are dropped.

    Args:
        naive: the wall time, without a zone of its own.
        zone: where the clock hangs.
        fold: which of two repeated hours, 0 the first, 1 the second; of no effect at other times.

    Raises:
        SkippedHourError: when the clock never showed this time.
        YearOutOfRangeError: outside the years 2 to 9998.
        ValueError: when `naive` has a zone of its own.
    """
    at_s, wall = _read(naive, zone, fold), naive.replace(microsecond=0, fold=0)
    if to_local(at_s, zone).replace(tzinfo=None, fold=0) != wall:
        first, second = _read(naive, zone, 0), _read(naive, zone, 1)
        raise SkippedHourError(wall, zone, min(first, second), max(first, second))
    return at_s


def from_local_shifted(naive: datetime, zone: ZoneInfo, fold: int = 0) -> int:
    """As `from_local`, but a skipped time is moved on by as much as the clock was: for plans, not for records.

    When 02:00 to 03:00 is skipped, 02:30 becomes 03:30.
    """
    try:
        return from_local(naive, zone, fold)
    except SkippedHourError as skipped:
        return skipped.later


def is_repeated(naive: datetime, zone: ZoneInfo) -> bool:
    """Whether the clock showed this wall time twice, so that `fold` decides."""
    first, second = _read(naive, zone, 0), _read(naive, zone, 1)
    # In a skipped hour the two readings are the other way round.
    return first < second


def day_number(at_s: int, set_at_s: int) -> float:
    """Days of 24 hours since setting: 1.5 at 36 hours after it, below 0 before it."""
    return (at_s - set_at_s) / DAY_S


def season_of(local_date: date, first_month: int) -> int:
    """The year in which the season of a date began.

    With `first_month` 1 a season is a calendar year. With 10, October 2025 to September 2026 is season 2025.

    Raises:
        ValueError: when `first_month` is not a month from 1 to 12.
    """
    if not 1 <= first_month <= 12:
        raise ValueError("A season begins in a month from 1 to 12.")
    return local_date.year if local_date.month >= first_month else local_date.year - 1


def _read(naive: datetime, zone: ZoneInfo, fold: int) -> int:
    """The instant that the offset for this fold gives, whether or not the clock ever showed it."""
    if naive.tzinfo is not None:
        raise ValueError("A wall time has no zone of its own.")
    if fold not in (0, 1):
        raise ValueError("fold is 0 or 1.")
    if not 1 < naive.year < 9999:
        raise YearOutOfRangeError
    return (naive.replace(microsecond=0, fold=fold, tzinfo=zone) - EPOCH) // _SECOND
