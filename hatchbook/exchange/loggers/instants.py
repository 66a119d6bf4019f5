"""From what the lines say to UTC instants: order of dates, clock, zone, and the questions these leave open."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import tzinfo

import numpy as np
from numpy.typing import NDArray

from hatchbook.exchange.loggers.column_guess import stated_clock
from hatchbook.exchange.loggers.date_cells import NO_OFFSET, DateParts, HalfDay
from hatchbook.exchange.loggers.date_order import (
    FIRST_YEAR,
    LAST_YEAR,
    guess_clock,
    guess_order,
    written_seconds,
)
from hatchbook.exchange.loggers.layout import (
    Basis,
    DateForm,
    Guess,
    Layout,
    LayoutField,
    LayoutHints,
    RepeatedHour,
    TimeMeaning,
)
from hatchbook.exchange.loggers.layout_guess import Draft
from hatchbook.exchange.loggers.line_reading import ReadLines
from hatchbook.exchange.loggers.local_time import UTC_ZONE, fixed_zone, to_utc
from hatchbook.exchange.loggers.rejects import LineFate
from hatchbook.exchange.loggers.time_order import runs_newest_first

_EARLIEST_S = float((np.datetime64(f"{FIRST_YEAR}-01-01") - np.datetime64("1970-01-01")).astype(int)) * 86_400
_LATEST_S = (
    float((np.datetime64(f"{LAST_YEAR + 1}-01-01") - np.datetime64("1970-01-01")).astype(int)) * 86_400
)
_SPREADSHEET_ZERO_DAY = 25_569  # 1970-01-01 counted as spreadsheets count, from 1899-12-30


@dataclass(frozen=True, slots=True)
class Instants:
    """The lines that have an instant, oldest first: `rows` (index of the line) and `utc_s`."""

    rows: NDArray[np.intp]
    utc_s: NDArray[np.int64]
    newest_first: bool
    layout: Layout
    guesses: tuple[Guess, ...]


def find_instants(read: ReadLines, draft: Draft, hints: LayoutHints, home_zone: tzinfo) -> Instants:
    """Gives every readable line its instant; marks the fate of those that have none."""
    layout, guesses = draft.layout, list(draft.guesses)
    rows = np.flatnonzero(read.fates == LineFate.STORED)
    everything = rows.size == read.fates.size
    if layout.date_form is DateForm.CALENDAR:
        parts = read.dates if everything else read.dates.rows(rows)
        layout, found = _decide(parts, layout, hints)
        guesses += found
        written, fates = written_seconds(parts, layout.date_order, layout.hour_clock)
        offsets = parts.offset
    else:
        layout = replace(
            layout,
            date_order=hints.date_order or layout.date_order,
            hour_clock=hints.hour_clock or layout.hour_clock,
        )
        written, fates = _counted_seconds(read.counted.values[rows], layout.date_form)
        offsets = np.full(rows.size, NO_OFFSET, dtype=np.int16)
    meaning, minutes, basis = _guess_meaning(offsets, draft, hints)
    layout = replace(
        layout,
        time_meaning=meaning,
        offset_minutes=minutes,
        repeated_hour=hints.repeated_hour or RepeatedHour.BY_NEIGHBOURS,
    )
    if meaning is TimeMeaning.IN_FILE:
        fates[(offsets == NO_OFFSET) & (fates == 0)] = LineFate.NO_OFFSET
    if fates.any():
        read.fates[rows] = fates
        good = fates == 0
        rows, written, offsets = rows[good], written[good], offsets[good]
    if meaning is TimeMeaning.IN_FILE:
        written = written - offsets.astype(np.int64) * 60
    newest_first = runs_newest_first(written)
    if newest_first:
        rows, written = rows[::-1], written[::-1]
    zone = {
        TimeMeaning.HOME_ZONE: home_zone,
        TimeMeaning.FIXED_OFFSET: fixed_zone(minutes),
    }.get(meaning, UTC_ZONE)
    zoned = to_utc(written, zone, layout.repeated_hour)
    guesses.append(Guess(LayoutField.OFFSET_MINUTES, basis))
    others: tuple[str, ...] = ()
    if zoned.skipped.any():
        read.fates[rows[zoned.skipped]] = LineFate.SKIPPED_HOUR
        if basis is not Basis.GIVEN:
            # Times that the home clock never showed: the logger may keep winter time or UTC all year.
            basis, others = Basis.UNDECIDED, (TimeMeaning.FIXED_OFFSET.value, TimeMeaning.UTC.value)
    guesses.append(Guess(LayoutField.TIME_MEANING, basis, others))
    guesses.append(_repeated_guess(zoned.undecided, hints))
    shown = ~zoned.skipped
    return Instants(rows[shown], zoned.utc_s[shown], newest_first, layout, tuple(guesses))


def _decide(parts: DateParts, layout: Layout, hints: LayoutHints) -> tuple[Layout, list[Guess]]:
    clock, clock_basis = guess_clock(parts)
    order = guess_order(parts, month_first_usual=bool((parts.half != HalfDay.NONE).any()))
    layout = replace(
        layout,
        date_order=hints.date_order or order.order,
        hour_clock=hints.hour_clock or clock,
    )
    others = () if hints.date_order else tuple(other.value for other in order.others)
    return layout, [
        Guess(LayoutField.DATE_ORDER, Basis.GIVEN if hints.date_order else order.basis, others),
        Guess(LayoutField.HOUR_CLOCK, Basis.GIVEN if hints.hour_clock else clock_basis),
    ]


def _guess_meaning(
    offsets: NDArray[np.int16], draft: Draft, hints: LayoutHints
) -> tuple[TimeMeaning, int, Basis]:
    if hints.time_meaning is not None:
        return hints.time_meaning, hints.offset_minutes or 0, Basis.GIVEN
    if draft.layout.date_form in (DateForm.EPOCH_SECONDS, DateForm.EPOCH_MILLISECONDS):
        return TimeMeaning.UTC, 0, Basis.STATED
    if 2 * int((offsets != NO_OFFSET).sum()) > offsets.size:
        return TimeMeaning.IN_FILE, 0, Basis.STATED
    stated = stated_clock(draft.date_names)
    if stated is not None:
        return (*stated, Basis.STATED)
    return TimeMeaning.HOME_ZONE, 0, Basis.USUAL


def _repeated_guess(undecided: int, hints: LayoutHints) -> Guess:
    if hints.repeated_hour is not None:
        return Guess(LayoutField.REPEATED_HOUR, Basis.GIVEN)
    if undecided:
        others = (RepeatedHour.FIRST.value, RepeatedHour.SECOND.value)
        return Guess(LayoutField.REPEATED_HOUR, Basis.UNDECIDED, others)
    return Guess(LayoutField.REPEATED_HOUR, Basis.VALUES)


def _counted_seconds(
    values: NDArray[np.float64], form: DateForm
) -> tuple[NDArray[np.int64], NDArray[np.uint8]]:
    """Seconds from a running count; a spreadsheet's days are rounded to the second they were made from."""
    if form is DateForm.EPOCH_SECONDS:
        seconds = np.floor(values)
    elif form is DateForm.EPOCH_MILLISECONDS:
        seconds = np.floor(values / 1000)
    else:
        seconds = np.round((values - _SPREADSHEET_ZERO_DAY) * 86_400)
    possible = (seconds >= _EARLIEST_S) & (seconds < _LATEST_S)
    fates = np.where(possible, LineFate.STORED, LineFate.IMPOSSIBLE_DATE).astype(np.uint8)
    return np.where(possible, seconds, 0).astype(np.int64), fates
