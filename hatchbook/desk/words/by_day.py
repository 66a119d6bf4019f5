"""Eggs by the day on which they were lost or hatched, in words."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.codes import fate_word, in_sentence
from hatchbook.desk.words.dates import batch_day
from hatchbook.desk.words.lines import listed
from hatchbook.desk.words.numbers import number
from hatchbook.figures.by_day import DayStack


def _tr(text: str) -> str:
    return QCoreApplication.translate("DayStacks", text)


def stack_text(stack: DayStack) -> str:
    """day 21.5: 5 hatched; day 18.6 to 22: 3 died in pip."""
    counts = listed(
        [
            _tr("{count} {fate}").format(count=number(count, 0), fate=in_sentence(fate_word(fate)))
            for fate, count in stack.counts
        ]
    )
    if stack.is_span:
        days = _tr("{from_day} to {to_day}").format(
            from_day=batch_day(stack.from_day), to_day=number(stack.to_day)
        )
    else:
        days = batch_day(stack.shown_day)
    return _tr("{days}: {counts}").format(days=days, counts=counts)
