"""What a table does not decide, as a question with its answers."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.importing.questions import Hints, Question
from hatchbook.desk.words.dates import date_text
from hatchbook.exchange.date_example import DateExample


def _tr(text: str) -> str:
    return QCoreApplication.translate("PastQuestions", text)


def order_question(example: DateExample | None) -> Question | None:
    """Which day a date that can be read in more than one way means."""
    if example is None:
        return None
    text = _tr("“{date}” can be read in two ways. Which day is meant?").format(date=example.text)
    answers: list[tuple[str, Hints]] = [
        (date_text(day, _tr("d MMMM")), {"date_order": order}) for order, day in example.days.items()
    ]
    return Question(text, tuple(answers))
