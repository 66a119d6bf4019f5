"""The question asked last, as the settings keep it: rate and groupings; species and seasons are the journal's."""

from __future__ import annotations

from hatchbook.figures.comparison_results import Question
from hatchbook.figures.comparison_rows import Grouping
from hatchbook.statistics.tallies import RateKind


def question_text(question: Question) -> str:
    """hatch_of_fertile:season,pen."""
    return f"{question.outcome}:{','.join(question.groupings)}"


def kept_question(text: str) -> Question:
    """The question of such a text; the usual one where it can not be read."""
    outcome, _colon, groupings = text.partition(":")
    try:
        return Question(
            outcome=RateKind(outcome), groupings=tuple(Grouping(one) for one in groupings.split(","))
        )
    except ValueError:
        return Question()
