"""Duties in words: what is to do, when, for which batch."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from zoneinfo import ZoneInfo

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.codes import duty_word
from hatchbook.desk.words.dates import clock_time, date_time, long_weekday
from hatchbook.figures.results import DutyLine
from hatchbook.journal import Duty
from hatchbook.trade.codes import DutyKind

_CONTEXT = "Duties"


def duty_sentence(duty: Duty) -> str:
    """What is to do: Candle; Turn, 2 of 3; or the breeder's own text."""
    what = duty.text or duty_word(duty.kind)
    if duty.of > 1:
        return QCoreApplication.translate(_CONTEXT, "{duty}, {ordinal} of {of}").format(
            duty=what, ordinal=duty.ordinal, of=duty.of
        )
    return what


def duty_line_sentence(line: DutyLine, zone: ZoneInfo) -> str:
    """A duty as it is read aloud: 14:00, Turn, 2 of 3, batch 26-05, overdue."""
    parts = [clock_time(line.duty.due_at, zone), duty_sentence(line.duty)]
    if line.batch_label:
        parts.append(QCoreApplication.translate(_CONTEXT, "batch {label}").format(label=line.batch_label))
    if line.duty.done_at is not None:
        done = QCoreApplication.translate(_CONTEXT, "done {when}")
        parts.append(done.format(when=date_time(line.duty.done_at, zone)))
    elif line.overdue:
        parts.append(QCoreApplication.translate(_CONTEXT, "overdue"))
    return ", ".join(parts)


def duties_of_day(day: date, lines: Sequence[DutyLine], zone: ZoneInfo) -> list[str]:
    """The day, then its duties, a line each; the turnings of a batch share one line."""
    sentences = [long_weekday(day)]
    turnings: dict[str, int] = {}
    for line in lines:
        if line.duty.kind is DutyKind.TURN:
            turnings[line.batch_label] = turnings.get(line.batch_label, 0) + 1
        else:
            sentences.append(duty_line_sentence(line, zone))
    for label, times in turnings.items():
        turn = QCoreApplication.translate(_CONTEXT, "Turn %n time(s), batch {label}", "", times)
        sentences.append(turn.format(label=label))
    if len(sentences) == 1:
        sentences.append(QCoreApplication.translate(_CONTEXT, "Nothing to do"))
    return sentences
