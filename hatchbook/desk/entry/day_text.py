"""Dates as breeders type them: 17, 17.5., 17 May, 2026-05-17."""

from __future__ import annotations

import re
from datetime import date

from PySide6.QtCore import QCoreApplication, QLocale

from hatchbook.desk.words.dates import date_text

_CONTEXT = "Days"


class DayError(ValueError):
    """A text that is no date; ``str(error)`` says so to the breeder."""


def day_text(day: date, near: date) -> str:
    """A date as it is shown and can be typed again: 17 May, with its year where that is another than ``near``'s."""
    return date_text(day, "d MMM" if day.year == near.year else "d MMM yyyy")


def parse_day(text: str, near: date) -> date:
    """The date that was typed; what is left out is such that it lies nearest to ``near``, a lone day not after it.

    Day and month stand in the order of the breeder's locale; a month may be named.

    Raises:
        DayError: it is no date, or one that there is not.
    """
    bare = text.strip()
    iso = re.fullmatch(r"(\d{4})-(\d{1,2})-(\d{1,2})", bare)
    if iso is not None:
        year, month, day = (int(part) for part in iso.groups())
        return _made(text, year, month, day)
    numbers: list[int] = []
    named: int | None = None
    for part in re.split(r"[\s./,\-]+", bare):
        if re.fullmatch(r"\d{1,4}", part):
            numbers.append(int(part))
        elif part and (month_of := _month_named(part)) is not None and named is None:
            named = month_of
        elif part:
            raise _no_day(text)
    return _completed(text, numbers, named, near)


def _completed(text: str, numbers: list[int], named: int | None, near: date) -> date:
    if named is None and len(numbers) == 1:
        return _lone_day(text, numbers[0], near)
    if named is None and len(numbers) in (2, 3):
        first, second = numbers[:2]
        day, month = (first, second) if _day_comes_first() else (second, first)
        years = numbers[2:]
    elif named is not None and len(numbers) in (1, 2):
        day, month, years = numbers[0], named, numbers[1:]
    else:
        raise _no_day(text)
    if years:
        return _made(text, years[0] + 2000 if years[0] < 100 else years[0], month, day)
    candidates = []
    for year in (near.year - 1, near.year, near.year + 1):
        try:
            candidates.append(date(year, month, day))
        except ValueError:
            continue  # 29 February comes in some years only
    if not candidates:
        raise _no_such_day(text)
    return min(candidates, key=lambda candidate: abs(candidate - near))


def _lone_day(text: str, day: int, near: date) -> date:
    year, month = near.year, near.month
    for _ in range(12):
        try:
            found = date(year, month, day)
        except ValueError:
            found = None
        if found is not None and found <= near:
            return found
        year, month = (year, month - 1) if month > 1 else (year - 1, 12)
    raise _no_such_day(text)


def _month_named(part: str) -> int | None:
    """The month whose name, in the breeder's language, begins like this."""
    locale, wanted = QLocale(), part.casefold().rstrip(".")
    found = {
        month
        for month in range(1, 13)
        for form in (QLocale.FormatType.ShortFormat, QLocale.FormatType.LongFormat)
        for name in (locale.monthName(month, form), locale.standaloneMonthName(month, form))
        if name.casefold().rstrip(".").startswith(wanted)
    }
    return found.pop() if len(found) == 1 and len(wanted) >= 3 else None


def _day_comes_first() -> bool:
    pattern = QLocale().dateFormat(QLocale.FormatType.ShortFormat)
    return "M" not in pattern or "d" not in pattern or pattern.index("d") < pattern.index("M")


def _made(text: str, year: int, month: int, day: int) -> date:
    try:
        return date(year, month, day)
    except ValueError as error:
        raise _no_such_day(text) from error


def _no_day(text: str) -> DayError:
    sentence = QCoreApplication.translate(_CONTEXT, "“{text}” is not a date. Write it like {example}.")
    return DayError(sentence.format(text=text.strip(), example=date_text(date(2026, 5, 17), "d MMM yyyy")))


def _no_such_day(text: str) -> DayError:
    sentence = QCoreApplication.translate(_CONTEXT, "There is no day “{text}”.")
    return DayError(sentence.format(text=text.strip()))
