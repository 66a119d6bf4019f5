"""Days and losses of a programme as they are typed."""

from __future__ import annotations

import re

from hatchbook.desk.words.planning import programme_sentence
from hatchbook.desk.words.typing import number_sentence
from hatchbook.trade.phases import ProgrammeError, ProgrammeFault
from hatchbook.trade.programme_changes import LossTarget
from hatchbook.trade.units import NumberError, parse_number


def typed_days(text: str, field: str) -> tuple[float, ...]:
    """Days in a row: 7, 14, 18. A comma parts the days and is no decimal mark; half days are written 7.5.

    Raises:
        ProgrammeError: with this field and the sentence for the breeder, where one is no number.
    """
    try:
        return tuple(parse_number(part, below=1000.0) for part in re.split(r"[,;\s]+", text) if part)
    except NumberError as error:
        raise ProgrammeError(ProgrammeFault.WRONG_KIND, field, number_sentence(error)) from error


def typed_loss(low: str, high: str, day: str) -> LossTarget | None:
    """The corridor of weight loss; None where nothing is typed.

    Raises:
        ProgrammeError: one of the three is missing, or no number.
    """
    texts = (low, high, day)
    if not any(text.strip() for text in texts):
        return None
    if not all(text.strip() for text in texts):
        raise ProgrammeError(ProgrammeFault.MISSING, "loss_percent", "")
    try:
        numbers = [parse_number(text.strip().rstrip("%"), below=1000.0) for text in texts]
    except NumberError as error:
        raise ProgrammeError(ProgrammeFault.WRONG_KIND, "loss_percent", number_sentence(error)) from error
    return LossTarget(*numbers)


def typing_sentence(error: ProgrammeError) -> str:
    """What the mistake is; where a number cannot be read, what is wrong with it."""
    return error.sentence if error.fault is ProgrammeFault.WRONG_KIND else programme_sentence(error)
