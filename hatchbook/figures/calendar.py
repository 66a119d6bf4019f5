"""The calendar: the duties of a stretch of dates, and which batches lie in a machine meanwhile."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from hatchbook.figures.course import present
from hatchbook.figures.results import CalendarFigures, DutyLine, Span
from hatchbook.journal import BatchLine, Duty, Journal
from hatchbook.trade.codes import DutyKind
from hatchbook.trade.instants import from_local_shifted, to_local
from hatchbook.trade.plan import instant_of_day

GRACE_S = 3600
"""A duty is overdue once it has been due for so long (our choice)."""

_NEVER_LATE = frozenset({DutyKind.SET, DutyKind.HATCH})
"""What is no omission of the breeder's: a batch that runs has been set, and eggs hatch when they hatch."""

_ONE_DAY = timedelta(days=1)


def calendar_figures(journal: Journal, first: date, last: date, now: int | None = None) -> CalendarFigures:
    """The duties due, and the batches in a machine, from a date to another, both included, in the home zone."""
    at, zone = present(now), journal.zone
    # A day more on either side: where a clock skips midnight, dates are told from the instants alone.
    start_at = from_local_shifted(datetime.combine(first - _ONE_DAY, time()), zone)
    end_at = from_local_shifted(datetime.combine(last + 2 * _ONE_DAY, time()), zone)
    found = journal.duties.between(start_at, end_at)
    batches = {line.uid: line for line in journal.batches.lines()} if found else {}
    duties: dict[date, list[DutyLine]] = {}
    marks: dict[date, dict[tuple[str | None, DutyKind], None]] = {}
    for duty in found:
        on = to_local(duty.due_at, zone).date()
        if not first <= on <= last:
            continue
        batch = None if duty.batch is None else batches.get(duty.batch)
        if batch is not None and _fell_away(duty, batch):
            continue
        label = "" if batch is None else batch.label
        duties.setdefault(on, []).append(DutyLine(duty, label, is_overdue(duty, batch, at)))
        if duty.kind is not DutyKind.TURN:
            marks.setdefault(on, {})[duty.batch, duty.kind] = None
    spans = [_span(line, zone) for line in journal.batches.lines(start_at, end_at)]
    return CalendarFigures(
        duties={on: tuple(lines) for on, lines in duties.items()},
        marks={on: tuple(kinds) for on, kinds in marks.items()},
        spans=tuple(span for span in spans if span.set_on <= last and span.hatch_on >= first),
    )


def _fell_away(duty: Duty, batch: BatchLine) -> bool:
    """Whether a duty lies after the closing of its batch: there is nothing left to do it for."""
    return batch.closed_at is not None and duty.done_at is None and duty.due_at > batch.closed_at


def is_overdue(duty: Duty, batch: BatchLine | None, now: int) -> bool:
    """Whether a duty should have been done by now; one of a closed batch is nobody's any more."""
    if duty.done_at is not None or duty.kind in _NEVER_LATE:
        return False
    return (batch is None or batch.closed_at is None) and duty.due_at + GRACE_S < now


def _span(line: BatchLine, zone: ZoneInfo) -> Span:
    def date_of(day: float) -> date:
        return to_local(instant_of_day(line.set_at, day), zone).date()

    lockdown_day = line.incubation_days if line.lockdown_day is None else line.lockdown_day
    return Span(line.uid, line.label, date_of(0.0), date_of(lockdown_day), date_of(line.incubation_days))
