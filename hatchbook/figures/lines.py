"""The journal of a batch, one line for each thing that happened, newest first."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from enum import StrEnum
from typing import TypeVar

from hatchbook.figures.course import Course
from hatchbook.figures.results import JournalLine, LineKind
from hatchbook.figures.weights import BatchWeights
from hatchbook.journal import BreakOut, Event, Hatching, Journal
from hatchbook.journal.table import Record, key_of, key_text
from hatchbook.trade.codes import BreakOutResult, EventKind, FindingCode, HatchMark
from hatchbook.trade.instants import to_local


def journal_lines(journal: Journal, uid: str, now: int | None = None) -> tuple[JournalLine, ...]:
    """All that is noted of a batch, newest first; chicks and opened eggs of one day share a line.

    Raises:
        RecordMissingError: there is no such batch.
    """
    course = Course(journal, uid, now)
    lines = [
        *_set_and_closed(course),
        *_events(course),
        *_candlings(course),
        *_weighings(course),
        *_readings(course),
        *_imports(course),
        *_hatchings(course),
        *_break_outs(course),
        *_removals(course),
    ]
    # What was noted later of one instant stands above.
    lines.reverse()
    return tuple(sorted(lines, key=lambda line: line.at, reverse=True))


def _of(record: Record) -> tuple[str, str]:
    return record.KIND, key_text(key_of(record))


def _set_and_closed(course: Course) -> Iterator[JournalLine]:
    batch = course.batch
    if batch.set_at <= course.now:
        eggs = course.journal.eggs.of_batch(batch.uid)
        masses = [egg.set_mass_g for egg in eggs if egg.set_mass_g is not None]
        mean_mass_g = sum(masses) / len(masses) if masses else None
        values = {"eggs": len(eggs), "mean_mass_g": mean_mass_g}
        yield JournalLine(batch.set_at, LineKind.SET, values, _of(batch))
    if batch.closed_at is not None:
        yield JournalLine(batch.closed_at, LineKind.CLOSED, {}, _of(batch))


def _events(course: Course) -> Iterator[JournalLine]:
    vents: dict[str, float | None] = {}
    turnings: dict[date, list[Event]] = {}
    notes: dict[tuple[int, str], list[Event]] = {}
    for event in course.events:
        if event.egg is not None and event.kind is EventKind.NOTE:
            notes.setdefault((event.at, event.text), []).append(event)
            continue
        if event.kind is EventKind.TURNED and not event.text:
            turnings.setdefault(to_local(event.at, course.journal.zone).date(), []).append(event)
            continue
        values = {
            "kind": str(event.kind),
            "text": event.text,
            "channels_filled": event.channels_filled,
            "water_ml": event.water_ml,
            "vent": event.vent,
            "vent_before": None,
            "seconds": None if event.ends_at is None else event.ends_at - event.at,
        }
        if event.kind is EventKind.VENT:
            machine = event.machine or course.machine_at(event.at)
            values["vent_before"] = (
                vents[machine] if machine in vents else _vent_before(course.journal, machine, event)
            )
            vents[machine] = event.vent
        yield JournalLine(event.at, LineKind.EVENT, values, _of(event))
    for turned in turnings.values():
        # Three lines a day would drown the rest.
        record = _of(turned[0]) if len(turned) == 1 else None
        values = {"kind": str(EventKind.TURNED), "text": "", "count": len(turned)}
        yield JournalLine(turned[-1].at, LineKind.EVENT, values, record)

    yield from _egg_notes(course, notes.values())


def _egg_notes(course: Course, notes: Iterable[list[Event]]) -> Iterator[JournalLine]:
    """The same note on several eggs is one line."""
    numbers = {egg.uid: egg.number for egg in course.journal.eggs.of_batch(course.batch.uid)}
    for events in notes:
        eggs = sorted(numbers[event.egg] for event in events if event.egg in numbers)
        values = {"kind": str(EventKind.NOTE), "text": events[0].text, "eggs": eggs}
        record = _of(events[0]) if len(events) == 1 else None
        yield JournalLine(events[0].at, LineKind.EVENT, values, record)


def _vent_before(journal: Journal, machine: str, event: Event) -> float | None:
    before = journal.events.last_before(machine, EventKind.VENT, event.at)
    return None if before is None else before.vent


def _candlings(course: Course) -> Iterator[JournalLine]:
    seen: dict[str, Counter[FindingCode]] = {}
    for finding in course.journal.candlings.findings(course.batch.uid):
        seen.setdefault(finding.candling, Counter())[finding.code] += 1
    for candling in course.journal.candlings.of_batch(course.batch.uid):
        counts = _in_order(seen.get(candling.uid, Counter()), FindingCode)
        yield JournalLine(candling.at, LineKind.CANDLED, {"counts": counts}, _of(candling))


def _weighings(course: Course) -> Iterator[JournalLine]:
    weights = BatchWeights(course)
    for weighing in weights.weighings:
        loss = weights.loss(weighing)
        values = {
            "eggs": weights.eggs_weighed(weighing),
            "loss_percent": None if loss is None else loss.mean_loss_percent,
        }
        yield JournalLine(weighing.at, LineKind.WEIGHED, values, _of(weighing))


def _stays(course: Course) -> Iterator[tuple[int, str, int, int]]:
    """Number and uid of each probe that hung with the eggs, and from when until when."""
    for stretch in course.stretches:
        until = course.followed_until if stretch is course.stretches[-1] else stretch.end_at
        until = min(until, course.followed_until)
        if stretch.start_at < until:
            machine = course.machine_of(stretch.phase)
            for stay in course.journal.probes.stays(machine, stretch.start_at, until):
                yield stay.probe.number, stay.probe.uid, stay.start_at, stay.end_at


def _readings(course: Course) -> Iterator[JournalLine]:
    """What was typed in of the probes that hung with the eggs."""
    shown = set()
    for number, _, start_at, end_at in _stays(course):
        for reading in course.journal.readings.by_hand(number, start_at, end_at):
            record = _of(reading)
            if record not in shown:
                shown.add(record)
                values = {"humidity": reading.humidity, "temperature_c": reading.temperature_c}
                yield JournalLine(reading.at, LineKind.READING, values, record)


def _imports(course: Course) -> Iterator[JournalLine]:
    """The files whose readings reach into the time of the batch, of the probes that hung with the eggs."""
    stays = list(_stays(course))
    for run in course.journal.imports.all():
        if run.first_at is None or run.last_at is None:
            continue
        first_at, last_at = run.first_at, run.last_at
        if any(run.probe == probe and first_at < end and last_at >= start for _, probe, start, end in stays):
            values = {"stored": run.stored, "file": run.file_name}
            yield JournalLine(run.at, LineKind.IMPORTED, values, _of(run))


_Dated = TypeVar("_Dated", Hatching, BreakOut)
_Code = TypeVar("_Code", bound=StrEnum)


def _hatchings(course: Course) -> Iterator[JournalLine]:
    for records in _by_date(course, course.journal.hatchings.of_batch(course.batch.uid)):
        counts = _in_order(Counter(record.mark for record in records), HatchMark)
        yield _shared(LineKind.HATCHED, records, counts)


def _break_outs(course: Course) -> Iterator[JournalLine]:
    for records in _by_date(course, course.journal.break_outs.of_batch(course.batch.uid)):
        counts = _in_order(Counter(record.result for record in records), BreakOutResult)
        yield _shared(LineKind.OPENED, records, counts)


def _by_date(course: Course, records: Iterable[_Dated]) -> Iterable[list[_Dated]]:
    """Records by the local date of their instants."""
    zone = course.journal.zone
    dated: dict[object, list[_Dated]] = {}
    for record in records:
        dated.setdefault(to_local(record.at, zone).date(), []).append(record)
    return dated.values()


def _shared(kind: LineKind, records: Sequence[Hatching | BreakOut], counts: dict[str, int]) -> JournalLine:
    """A line for several records, at the latest of them; it opens the one where it is alone."""
    alone = _of(records[0]) if len(records) == 1 else None
    return JournalLine(max(record.at for record in records), kind, {"counts": counts}, alone)


def _in_order(counts: Counter[_Code], codes: type[_Code]) -> dict[str, int]:
    """Counts in the order of the codes; only what occurs."""
    return {str(code): counts[code] for code in codes if counts[code]}


def _removals(course: Course) -> Iterator[JournalLine]:
    numbers = {egg.uid: egg.number for egg in course.journal.eggs.of_batch(course.batch.uid)}
    for removal in course.journal.removals.of_batch(course.batch.uid):
        values = {"number": numbers[removal.egg], "reason": str(removal.reason)}
        yield JournalLine(removal.at, LineKind.TAKEN_OUT, values, _of(removal))
