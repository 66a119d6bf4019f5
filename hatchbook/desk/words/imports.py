"""What an import would do and did, and why lines stay out, as plain sentences."""

from __future__ import annotations

from collections.abc import Mapping
from zoneinfo import ZoneInfo

from PySide6.QtCore import QCoreApplication, QLocale

from hatchbook.desk.words.dates import clock_time, date_text, local
from hatchbook.desk.words.errors import error_sentence
from hatchbook.desk.words.noop import QT_TRANSLATE_NOOP
from hatchbook.desk.words.numbers import duration_text, percent, temperature
from hatchbook.exchange.left_out import DUPLICATE, NO_HUMIDITY, NO_TEMPERATURE
from hatchbook.exchange.logger_file import (
    LoggerFileError,
    LoggerFileProblem,
    LoggerTable,
    Quantity,
    RejectReason,
    StuckStretch,
)
from hatchbook.exchange.loggers.table_making import HIGHEST_C, LOWEST_C
from hatchbook.exchange.reading_import import ImportPlan
from hatchbook.journal import Batch
from hatchbook.journal.reject_codes import DIFFERS

_REASONS: dict[str, str] = {
    RejectReason.NOT_TEXT: QT_TRANSLATE_NOOP("Imports", "holds bytes that are not text"),
    RejectReason.CUT_SHORT: QT_TRANSLATE_NOOP("Imports", "line cut short"),
    RejectReason.TOO_MANY_CELLS: QT_TRANSLATE_NOOP("Imports", "more columns than the other lines"),
    RejectReason.NO_DATE: QT_TRANSLATE_NOOP("Imports", "no date in it"),
    RejectReason.NO_TIME: QT_TRANSLATE_NOOP("Imports", "no time of day in it"),
    RejectReason.IMPOSSIBLE_DATE: QT_TRANSLATE_NOOP("Imports", "no such day in the calendar"),
    RejectReason.IMPOSSIBLE_TIME: QT_TRANSLATE_NOOP("Imports", "no such time of day"),
    RejectReason.NO_OFFSET: QT_TRANSLATE_NOOP("Imports", "no offset from UTC in it"),
    RejectReason.SKIPPED_HOUR: QT_TRANSLATE_NOOP("Imports", "in the hour that the clocks skip in spring"),
    RejectReason.NO_NUMBER: QT_TRANSLATE_NOOP("Imports", "no number in it"),
    RejectReason.HUMIDITY_BELOW_0: QT_TRANSLATE_NOOP("Imports", "humidity below 0 %"),
    RejectReason.HUMIDITY_ABOVE_100: QT_TRANSLATE_NOOP("Imports", "humidity over 100 %"),
    RejectReason.SAME_TIME_OTHER_VALUES: QT_TRANSLATE_NOOP(
        "Imports", "same time as an earlier line, other values"
    ),
    RejectReason.TIME_RUNS_BACKWARDS: QT_TRANSLATE_NOOP("Imports", "time runs backwards"),
    RejectReason.TIME_JUMPS_AHEAD: QT_TRANSLATE_NOOP("Imports", "time jumps ahead"),
    DUPLICATE: QT_TRANSLATE_NOOP("Imports", "says again what an earlier line says"),
    NO_TEMPERATURE: QT_TRANSLATE_NOOP("Imports", "temperature is no number; the humidity comes in"),
    NO_HUMIDITY: QT_TRANSLATE_NOOP("Imports", "humidity is no number; the temperature comes in"),
    DIFFERS: QT_TRANSLATE_NOOP("Imports", "differs from the journal, which keeps its values"),
}
_PROBLEMS = {
    LoggerFileProblem.NOT_TEXT_OR_EMPTY: QT_TRANSLATE_NOOP("Imports", "This file is not text, or is empty."),
    LoggerFileProblem.WORKBOOK: QT_TRANSLATE_NOOP(
        "Imports",
        "This file is a spreadsheet, not text. Save it as CSV in the spreadsheet program, and import that.",
    ),
    LoggerFileProblem.CANNOT_BE_OPENED: QT_TRANSLATE_NOOP("Imports", "This file cannot be opened."),
    LoggerFileProblem.TOO_LARGE: QT_TRANSLATE_NOOP(
        "Imports", "This file is larger than 1 GB. Split it and import the parts."
    ),
    LoggerFileProblem.NO_DATE_COLUMN: QT_TRANSLATE_NOOP(
        "Imports", "Choose which column holds the date and time."
    ),
    LoggerFileProblem.NO_VALUE_COLUMN: QT_TRANSLATE_NOOP(
        "Imports", "Choose which column holds the temperature or the humidity."
    ),
}

_MOST_STUCK = 2


def _tr(text: str, n: int = -1) -> str:
    return QCoreApplication.translate("Imports", text, "", n)


def _count(number: int) -> str:
    return QLocale().toString(number)


def reject_reason(code: str, fields: Mapping[str, float] | None = None) -> str:
    """Why a line stays out: the sentence for a code and its numbers (see ``exchange.left_out``)."""
    known = fields or {}
    if code == RejectReason.TEMPERATURE_TOO_LOW:
        return _tr("temperature below {limit}").format(limit=temperature(LOWEST_C, 0))
    if code == RejectReason.TEMPERATURE_TOO_HIGH:
        return _tr("temperature over {limit}").format(limit=temperature(HIGHEST_C, 0))
    if code == RejectReason.SAME_TIME_OTHER_VALUES and "other_line" in known:
        return _tr("same time as line {line}, other values").format(line=_count(int(known["other_line"])))
    if code == RejectReason.TIME_RUNS_BACKWARDS and "by_s" in known:
        return _tr("time runs backwards by {span}").format(span=step_text(known["by_s"]))
    if code == RejectReason.TIME_JUMPS_AHEAD and "by_s" in known:
        return _tr("time jumps ahead by {span}").format(span=step_text(known["by_s"]))
    if code == DIFFERS and known:
        return _tr("differs from the journal: kept {values}").format(values=_kept(known))
    sentence = _REASONS.get(code)
    return code.replace("_", " ") if sentence is None else _tr(sentence)


def _kept(fields: Mapping[str, float]) -> str:
    values = []
    if "temperature_c" in fields:
        values.append(temperature(fields["temperature_c"]))
    if "humidity" in fields:
        values.append(percent(fields["humidity"]))
    return ", ".join(values)


def file_problem(error: BaseException) -> str:
    """Why a file cannot be read, or what has to be chosen first; other errors by their own sentence."""
    if not isinstance(error, LoggerFileError):
        return error_sentence(error)
    sentence = _tr(_PROBLEMS[error.problem])
    return f"{sentence} ({error.detail})" if error.detail else sentence


def step_text(seconds: float) -> str:
    """A step or a span, to the second where it is short: 30 s, 10 min, 11 h."""
    if seconds < 120 and seconds % 60:
        return _tr("{n} s").format(n=_count(round(seconds))).replace(" ", "\u00a0")
    return duration_text(seconds)


def batch_text(batch: Batch) -> str:
    """A batch by number and name: 26-05 Orchard hens."""
    return f"{batch.label} {batch.name}".rstrip()


# ------------------------------------------------------------------ what an import would do


def moment(at: int, zone: ZoneInfo, year: int) -> str:
    """14 May 13:50; with the year where it is another than the given one."""
    day = local(at, zone).date()
    pattern = _tr("d MMM") if day.year == year else _tr("d MMM yyyy")
    return f"{date_text(day, pattern)} {clock_time(at, zone)}"


def coverage_sentence(plan: ImportPlan, zone: ZoneInfo, now: int) -> str:
    """From when to when the readings run, how close they lie, and into which batches they fall."""
    if plan.start_at is None or plan.end_at is None:
        return _tr("No line of it can be read as a reading.")
    year = local(now, zone).year
    span = {
        "start": moment(plan.start_at, zone, year),
        "end": moment(plan.end_at, zone, year),
        "where": _where(plan),
    }
    if plan.step_s is None:
        return _tr("one reading, {start}: {where}").format(**span)
    return _tr("covers {start} to {end}, every {step}: {where}").format(step=step_text(plan.step_s), **span)


def _where(plan: ImportPlan) -> str:
    names = [batch_text(share.batch) for share in plan.batches]
    if not names:
        return _tr("falls into no batch")
    if len(names) > 1:
        batches = _tr("{others} and {last}").format(others=", ".join(names[:-1]), last=names[-1])
    else:
        (batches,) = names
    if not plan.outside:
        return _tr("all of it falls into {batches}").format(batches=batches)
    inside = plan.readings - plan.outside
    return _tr("%Ln reading(s) of {batches}, {outside} of no batch", inside).format(
        batches=batches, outside=_count(plan.outside)
    )


def sum_sentences(plan: ImportPlan) -> str:
    """The sum at the foot: lines, good ones, left out, what the journal has already, gaps."""
    good = plan.readings - plan.differing
    counts = {"good": _count(good), "out": _count(plan.left_out.dropped), "already": _count(plan.already)}
    if good and plan.already == good:
        first = _tr(
            "%Ln line(s): {good} good, {out} left out, all good ones already in the journal.", plan.lines
        )
    elif plan.already:
        first = _tr("%Ln line(s): {good} good, {out} left out, {already} already in the journal.", plan.lines)
    else:
        first = _tr("%Ln line(s): {good} good, {out} left out, none already in the journal.", plan.lines)
    return " ".join([first.format(**counts), *_gaps(plan)])


def _gaps(plan: ImportPlan) -> list[str]:
    if not plan.gaps:
        return []
    longest = step_text(max(gap.seconds for gap in plan.gaps))
    if len(plan.gaps) == 1:
        return [_tr("1 gap of {span}.").format(span=longest)]
    return [_tr("%n gap(s), the longest {span}.", len(plan.gaps)).format(span=longest)]


def account_sentences(table: LoggerTable) -> str:
    """What became of every line of the file, one kind a line."""
    kinds = (
        (table.header, _tr("%Ln line(s) of column names", table.header)),
        (table.preamble, _tr("%Ln line(s) before the readings", table.preamble)),
        (table.blank, _tr("%Ln blank line(s)", table.blank)),
        (table.stored, _tr("%Ln reading(s)", table.stored)),
        (len(table.rejected), _tr("%Ln line(s) that cannot be read", len(table.rejected))),
        (table.duplicates, _tr("%Ln repeated line(s)", table.duplicates)),
        (table.empty_temperature, _tr("%Ln reading(s) without temperature", table.empty_temperature)),
        (table.empty_humidity, _tr("%Ln reading(s) without humidity", table.empty_humidity)),
        (table.out_of_order, _tr("%Ln reading(s) sorted in from elsewhere in the file", table.out_of_order)),
    )
    lines = [text for count, text in kinds if count]
    if table.newest_first:
        lines.append(_tr("The newest line stands first; the readings are turned round."))
    return "\n".join(lines)


def remarks(plan: ImportPlan, table: LoggerTable, zone: ZoneInfo, now: int) -> list[str]:
    """What strikes about a file, the gravest first."""
    year = local(now, zone).year
    found = []
    if plan.future:
        text = _tr("%Ln reading(s) later than now: check how dates and times are read.", plan.future)
        found.append(text)
    if plan.earlier:
        earlier = plan.earlier[0]
        text = _tr("This very file came in on {when}, as readings of {probe}.")
        found.append(text.format(when=moment(earlier.at, zone, year), probe=earlier.probe))
    found += [_stuck(stretch, zone, year) for stretch in table.stuck[:_MOST_STUCK]]
    if len(table.stuck) > _MOST_STUCK:
        found.append(_tr("%n more such stretch(es).", len(table.stuck) - _MOST_STUCK))
    if table.out_of_order:
        found.append(_tr("%Ln reading(s) sorted in from elsewhere in the file.", table.out_of_order))
    if table.newest_first:
        found.append(_tr("The newest line stands first in the file."))
    return found


def _stuck(stretch: StuckStretch, zone: ZoneInfo, year: int) -> str:
    span, since = duration_text(stretch.end_s - stretch.start_s), moment(stretch.start_s, zone, year)
    if stretch.quantity is Quantity.TEMPERATURE:
        text = _tr("The temperature does not move from {value} for {span}, from {since} on.")
        return text.format(value=temperature(stretch.value), span=span, since=since)
    text = _tr("The humidity does not move from {value} for {span}, from {since} on.")
    return text.format(value=percent(stretch.value), span=span, since=since)
