"""Instants as dates and times of the journal's home zone, as the breeder's locale writes them."""

from __future__ import annotations

from datetime import date, datetime
from zoneinfo import ZoneInfo

from PySide6.QtCore import QCoreApplication, QDate, QLocale, QTime

from hatchbook.desk.words.numbers import number


def _tr(text: str) -> str:
    return QCoreApplication.translate("Dates", text)


def local(at: int, zone: ZoneInfo) -> datetime:
    """An instant as wall time of a zone."""
    return datetime.fromtimestamp(at, zone)


def _qdate(day: date) -> QDate:
    return QDate(day.year, day.month, day.day)


def date_text(day: date, pattern: str) -> str:
    """A date by one of Qt's patterns."""
    return QLocale().toString(_qdate(day), pattern)


def day_month(at: int, zone: ZoneInfo) -> str:
    """14 May."""
    return date_text(local(at, zone).date(), _tr("d MMM"))


def weekday_date(at: int, zone: ZoneInfo) -> str:
    """Thu 14 May."""
    return weekday_of(local(at, zone).date())


def weekday_of(day: date) -> str:
    """Thu 14 May."""
    return date_text(day, _tr("ddd d MMM"))


def weekday_of_year(day: date) -> str:
    """Thu 14 May 2026."""
    return date_text(day, _tr("ddd d MMM yyyy"))


def long_weekday(day: date) -> str:
    """Thursday 14 May."""
    return date_text(day, _tr("dddd d MMMM"))


def month_year(day: date) -> str:
    """May 2026."""
    return date_text(day, _tr("MMMM yyyy"))


def short_month_year(day: date) -> str:
    """Sep 2026."""
    return date_text(day, _tr("MMM yyyy"))


def clock_time(at: int, zone: ZoneInfo) -> str:
    """14:02."""
    return time_of_day(local(at, zone))


def time_of_day(moment: datetime) -> str:
    """14:02, of a wall time."""
    return QLocale().toString(QTime(moment.hour, moment.minute), _tr("HH:mm"))


def date_time(at: int, zone: ZoneInfo) -> str:
    """Thu 14 May 14:10."""
    return f"{weekday_date(at, zone)} {clock_time(at, zone)}"


def date_time_of_year(at: int, zone: ZoneInfo) -> str:
    """Thu 14 May 2026 14:10."""
    return f"{weekday_of_year(local(at, zone).date())} {clock_time(at, zone)}"


def batch_day(day: float, decimals: int = 1) -> str:
    """The day of a batch: day 5.4."""
    return _tr("day {day}").format(day=number(day, decimals))


def season_word(season: int, first_month: int) -> str:
    """A season by its years: 2026; 2025/26 where it runs over the turn of the year."""
    if first_month == 1:
        return str(season)
    return f"{season}/{(season + 1) % 100:02d}"
