"""When things of the demo happen: seasons and days counted from the present, times on the wall clock."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from hatchbook.exchange.demo.scenario import CheckPlan, SetWhen
from hatchbook.trade.instants import DAY_S, from_local_shifted, season_of, to_local

_SPLIT_MONTH = 8
_CALENDAR_YEAR_MONTHS = range(5, 12)
"""In these months a calendar year has room behind it for the batches of the present season, and before it for the
planned one; in the others the demo's season begins in August."""


class DemoDates:
    """The demo's calendar at an instant in a zone."""

    def __init__(self, now: int, zone: ZoneInfo) -> None:
        self.now = now
        self.zone = zone
        self.today = to_local(now, zone).date()
        self.first_month = 1 if self.today.month in _CALENDAR_YEAR_MONTHS else _SPLIT_MONTH
        self.season = season_of(self.today, self.first_month)

    def season_on(self, on: date) -> int:
        """The season of a date."""
        return season_of(on, self.first_month)

    def local_date(self, at: int) -> date:
        """The date on the wall calendar at an instant."""
        return to_local(at, self.zone).date()

    def instant(self, on: date, at: time) -> int:
        """The instant of a wall time; one that the clocks skip is moved on."""
        return from_local_shifted(datetime.combine(on, at), self.zone)

    def in_season(self, back: int, month: int, day: int) -> date:
        """A date of the season that lies so many before the present one (``back`` is 0 or negative)."""
        year = self.season + back
        return date(year if month >= self.first_month else year + 1, month, day)

    def set_at(self, when: SetWhen) -> int:
        """The instant at which a batch is set."""
        if when.before_now_days is not None:
            before = when.before_now_days * DAY_S + when.before_now_hours * 3600
            return self.instant(self.local_date(self.now - before), when.at)
        if when.after_now_days is not None:
            return self.instant(self.today + timedelta(days=when.after_now_days), when.at)
        return self.instant(self.in_season(when.season, when.month, when.day), when.at)

    def of_batch(self, set_at: int, day: int, at: time) -> int:
        """The instant of a wall time on the date so many dates after that of setting."""
        return self.instant(self.local_date(set_at) + timedelta(days=day), at)

    def checked_at(self, check: CheckPlan) -> int:
        """The instant of a probe's check: in the morning."""
        if check.days_before_now is not None:
            on = self.today - timedelta(days=check.days_before_now)
        else:
            on = self.in_season(check.season, check.month, check.day)
        return self.instant(on, time(10, 30))
