"""Dates and times in cells: which digits are what. The order of day and month is left to the whole file."""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import IntEnum
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from hatchbook.exchange.loggers.cell_shapes import SPACE, Bytes, Rows, ShapeGroup, shape_groups
from hatchbook.exchange.loggers.month_names import MONTHS, WEEKDAYS

NO_TIME = -1
IMPOSSIBLE_TIME = -2
NO_OFFSET = -32768


class DateKind(IntEnum):
    """How the three parts of a date can be read."""

    NONE = 0
    YEAR_FIRST = 1  # four-digit year first, or the month by name: already year, month, day
    YEAR_LAST = 2  # four-digit year last
    SHORT = 3  # two-digit year, in any place


class HalfDay(IntEnum):
    """An AM or PM mark."""

    NONE = 0
    AM = 1
    PM = 2


_NAME = rb"[A-Za-z\xc3-\xc5\x80-\xbf]{3,12}"
_DAY = (
    rb"(?P<a>0{4}|00?)(?P<s>[-./ ])(?P<b>00?)(?P=s)(?P<c>0{4}|00?)"
    rb"|(?P<day>00?)[-./ ]*(?P<name>" + _NAME + rb")[-./, ]*(?P<year>0{4}|00)"
    rb"|(?P<name2>" + _NAME + rb")[-./ ]*(?P<day2>00?)[-., /]+(?P<year2>0{4})"
    rb"|(?P<year3>0{4})[-./ ]*(?P<name3>" + _NAME + rb")[-./ ]*(?P<day3>00?)"
    rb"|(?P<run>0{8})"
)
_CLOCK = rb"(?P<h>00?)(?P<t>[:.])(?P<m>00?)(?:(?P=t)(?P<sec>00?)(?:[.,:]0*)?)?"
_HALF = rb"(?:\s*(?P<half>[aApP])\.?\s?[mM]\.?)?"
_OFFSET = (
    rb"(?:\s*(?P<zulu>[zZ]|UTC|GMT)|\s*(?:UTC|GMT)?(?P<sign>[+-]|\xe2\x88\x92)(?P<oh>00?)(?::?(?P<om>00))?)?"
)
_WEEKDAY = rb"(?:(?:" + b"|".join(WEEKDAYS) + rb")[.,]*\s+)?"
_JOIN = rb"(?:[tT]|(?:\s|[_,])+|\s*-\s*)"
_RUN_CLOCK = rb"[tT _-]?(?P<h>00)(?P<m>00)(?P<sec>00)?(?:[.,]0+)?"
_SHAPES = tuple(
    re.compile((rb"\s*(?:" + body + rb")\s*").replace(rb"\s", SPACE))
    for body in (
        _WEEKDAY + rb"(?:" + _DAY + rb")(?:" + _JOIN + _CLOCK + _HALF + _OFFSET + rb")?",
        rb"(?P<run>0{8})" + _RUN_CLOCK + _OFFSET,
        _CLOCK + _HALF + rb"(?:" + _JOIN + rb"(?:" + _DAY + rb"))?",
        _CLOCK + _HALF + _OFFSET,
        rb"(?P<h>00)(?P<m>00)(?P<sec>00)?",
    )
)


@dataclass(frozen=True, slots=True)
class DatePlan:
    """Where the parts of a date or a time of one shape stand (start, stop); None: not there."""

    kind: DateKind
    parts: tuple[tuple[int, int], tuple[int, int], tuple[int, int]] | None
    month: int  # by name; 0: in digits
    hour: tuple[int, int] | None
    minute: tuple[int, int] | None
    second: tuple[int, int] | None
    half: HalfDay
    offset_sign: int  # 0: no offset
    offset_hour: tuple[int, int] | None
    offset_minute: tuple[int, int] | None
    colon: bool  # the time is written with colons

    @property
    def has_date(self) -> bool:
        """Whether the shape holds a date."""
        return self.kind is not DateKind.NONE

    @property
    def has_time(self) -> bool:
        """Whether the shape holds a time of day."""
        return self.hour is not None


@lru_cache(maxsize=4096)
def date_plan(shape: bytes) -> DatePlan | None:
    """What a shape says as a date, a time or both, or None."""
    for pattern in _SHAPES:
        match = pattern.fullmatch(shape)
        if match is not None:
            plan = _plan(match)
            if plan is not None:
                return plan
    return None


def _span(match: re.Match[bytes], name: str) -> tuple[int, int] | None:
    return match.span(name) if match.groupdict().get(name) is not None else None


def _plan(match: re.Match[bytes]) -> DatePlan | None:
    found = match.groupdict()
    kind, parts, month = DateKind.NONE, None, 0
    if found.get("run") is not None:
        at = match.start("run")
        kind, parts = DateKind.YEAR_FIRST, ((at, at + 4), (at + 4, at + 6), (at + 6, at + 8))
    elif found.get("a") is not None:
        first, last = len(found["a"]), len(found["c"])
        if first == 4 and last == 4:
            return None
        kind = DateKind.YEAR_FIRST if first == 4 else DateKind.YEAR_LAST if last == 4 else DateKind.SHORT
        parts = (match.span("a"), match.span("b"), match.span("c"))
    else:
        for suffix in ("", "2", "3"):
            name = found.get("name" + suffix)
            if name is not None:
                month = MONTHS.get(name.decode(errors="replace").lower().rstrip("."), 0)
                if not month:
                    return None
                year, day = match.span("year" + suffix), match.span("day" + suffix)
                kind, parts = DateKind.YEAR_FIRST, (year, (0, 0), day)
    half = HalfDay.NONE
    if found.get("half"):
        half = HalfDay.AM if found["half"] in b"aA" else HalfDay.PM
    sign = 0
    if found.get("zulu"):
        sign = 1
    elif found.get("sign"):
        sign = 1 if found["sign"] == b"+" else -1
    return DatePlan(
        kind=kind,
        parts=parts,
        month=month,
        hour=_span(match, "h"),
        minute=_span(match, "m"),
        second=_span(match, "sec"),
        half=half,
        offset_sign=sign,
        offset_hour=_span(match, "oh"),
        offset_minute=_span(match, "om"),
        colon=found.get("t") == b":",
    )


@dataclass(frozen=True, slots=True)
class DateParts:
    """The parts of the dates of a file, one row a line, in the order in which they stand in the cell.

    `a`, `b`, `c`: the three numbers; `kind`: DateKind; `time_s`: seconds of the day as written, NO_TIME or
    IMPOSSIBLE_TIME; `half`: HalfDay; `offset`: minutes east of Greenwich or NO_OFFSET.
    """

    a: NDArray[np.int16]
    b: NDArray[np.int16]
    c: NDArray[np.int16]
    kind: NDArray[np.uint8]
    time_s: NDArray[np.int32]
    half: NDArray[np.uint8]
    offset: NDArray[np.int16]

    @classmethod
    def empty(cls, rows: int) -> DateParts:
        """Nothing read yet."""
        return cls(
            a=np.zeros(rows, dtype=np.int16),
            b=np.zeros(rows, dtype=np.int16),
            c=np.zeros(rows, dtype=np.int16),
            kind=np.zeros(rows, dtype=np.uint8),
            time_s=np.full(rows, NO_TIME, dtype=np.int32),
            half=np.zeros(rows, dtype=np.uint8),
            offset=np.full(rows, NO_OFFSET, dtype=np.int16),
        )

    def block(self, start: int, stop: int) -> DateParts:
        """The rows from start to stop, sharing memory."""
        cut = slice(start, stop)
        return DateParts(
            self.a[cut],
            self.b[cut],
            self.c[cut],
            self.kind[cut],
            self.time_s[cut],
            self.half[cut],
            self.offset[cut],
        )

    def rows(self, mask: NDArray[np.bool_] | Rows) -> DateParts:
        """The chosen rows, copied."""
        return DateParts(
            self.a[mask],
            self.b[mask],
            self.c[mask],
            self.kind[mask],
            self.time_s[mask],
            self.half[mask],
            self.offset[mask],
        )

    def read(self, buffer: Bytes, start: Rows, end: Rows, *, date: bool = True, time: bool = True) -> None:
        """Fills in the dates, the times of day, or both, from cells; what cannot be read stays unset."""
        for group in shape_groups(buffer, start, end):
            plan = date_plan(group.shape)
            if plan is None:
                continue
            if date and plan.parts is not None:
                self._fill_date(group, plan)
            if time and plan.hour is not None:
                self._fill_time(group, plan)

    def _fill_date(self, group: ShapeGroup, plan: DatePlan) -> None:
        assert plan.parts is not None
        rows = group.rows
        self.a[rows] = group.small(*plan.parts[0])
        if plan.month:
            self.b[rows] = plan.month
            if plan.parts[0][1] - plan.parts[0][0] == 2:
                self.a[rows] += 2000
        else:
            self.b[rows] = group.small(*plan.parts[1])
        self.c[rows] = group.small(*plan.parts[2])
        self.kind[rows] = plan.kind

    def _fill_time(self, group: ShapeGroup, plan: DatePlan) -> None:
        assert plan.hour is not None
        assert plan.minute is not None
        hour = group.small(*plan.hour)
        minute = group.small(*plan.minute)
        seconds = hour.astype(np.int32) * 3600 + minute.astype(np.int32) * 60
        good = (hour < 24) & (minute < 60)
        if plan.second is not None:
            second = group.small(*plan.second)
            seconds += second
            good &= second < 60
        good |= (hour == 24) & (seconds == 86_400)  # ISO 8601 writes midnight at the end of a day as 24:00
        self.time_s[group.rows] = np.where(good, seconds, IMPOSSIBLE_TIME)
        if plan.half is not HalfDay.NONE:
            self.half[group.rows] = plan.half
        if plan.offset_sign:
            offset = np.zeros(group.letters.shape[1], dtype=np.int16)
            if plan.offset_hour is not None:
                offset += group.small(*plan.offset_hour) * 60
            if plan.offset_minute is not None:
                offset += group.small(*plan.offset_minute)
            self.offset[group.rows] = offset * plan.offset_sign
