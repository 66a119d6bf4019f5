"""What a file does not decide, as questions with their answers."""

from __future__ import annotations

from dataclasses import dataclass
from zoneinfo import ZoneInfo

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words import file_layout as words
from hatchbook.desk.words.dates import date_text, local
from hatchbook.desk.words.imports import moment
from hatchbook.exchange.date_example import date_example
from hatchbook.exchange.logger_file import (
    ColumnRole,
    DateOrder,
    LayoutField,
    LoggerTable,
    RejectReason,
    RepeatedHour,
    TimeMeaning,
)

Hints = dict[str, object]
"""Fields of ``LayoutHints``."""


@dataclass(frozen=True)
class Question:
    """What is asked, and for each answer its words and the hints that it means."""

    text: str
    answers: tuple[tuple[str, Hints], ...]


def _tr(text: str, n: int = -1) -> str:
    return QCoreApplication.translate("Questions", text, "", n)


def questions_of(table: LoggerTable, zone: ZoneInfo) -> list[Question]:
    """The questions that a file leaves open, the first to ask first."""
    asked = {
        LayoutField.COLUMNS: lambda: _columns(table),
        LayoutField.DATE_FORM: lambda: _date_form(table, zone),
        LayoutField.DATE_ORDER: lambda: _date_order(table),
        LayoutField.TIME_MEANING: lambda: _time_meaning(table, zone),
        LayoutField.REPEATED_HOUR: lambda: _repeated_hour(table, zone),
    }
    undecided = table.undecided
    return [ask() for field, ask in asked.items() if field in undecided]


def _columns(table: LoggerTable) -> Question:
    layout = table.layout
    taken = [
        words.column_word(table.column_names[place], place)
        for place, role in enumerate(layout.columns)
        if role in (ColumnRole.TEMPERATURE, ColumnRole.HUMIDITY)
    ]
    others = [
        words.column_word(table.column_names[int(place)], int(place))
        for place in table.guess(LayoutField.COLUMNS).others
    ]
    if others:
        text = _tr(
            "{taken} will be read; {others} could be meant as well. Are the boxes over the columns right?"
        )
    else:
        text = _tr("Nothing in the file tells what {taken} holds. Are the boxes over the columns right?")
    answer: Hints = {"columns": layout.columns}
    return Question(
        text.format(taken=", ".join(taken), others=", ".join(others)), ((_tr("They are right"), answer),)
    )


def _date_form(table: LoggerTable, zone: ZoneInfo) -> Question:
    layout = table.layout
    place = layout.first(ColumnRole.DATE_TIME) or 0
    row = next((row for row in table.preview_rows if row.reason is None and place < len(row.cells)), None)
    answer: Hints = {"date_form": layout.date_form}
    answers = ((_tr("They are dates"), answer),)
    if row is None or not table.stored:
        return Question(_tr("Are these numbers days as spreadsheets count them?"), answers)
    first = moment(int(table.at[table.line_numbers.tolist().index(row.number)]), zone, 0)
    text = _tr("“{text}” counted in days as spreadsheets do is {date}. Is that right?")
    return Question(text.format(text=row.cells[place], date=first), answers)


def _date_order(table: LoggerTable) -> Question:
    guess, layout = table.guess(LayoutField.DATE_ORDER), table.layout
    orders = [layout.date_order, *map(DateOrder, guess.others)]
    example = date_example(table.preview_rows, layout, orders)
    if example is None:
        answers = tuple(
            (words.date_word(layout.date_form, order), Hints(date_order=order)) for order in orders
        )
        return Question(_tr("How are the dates written? The file does not tell."), answers)
    days = [date_text(example.days[order], _tr("d MMMM yyyy")) for order in orders]
    text = _tr("“{text}” can be {first} or {second}. Which is it?")
    if len(days) > 2:
        text = _tr("“{text}” can be {first}, {second} or {third}. Which is it?")
    third = days[2] if len(days) > 2 else ""
    return Question(
        text.format(text=example.text, first=days[0], second=days[1], third=third),
        tuple((day, Hints(date_order=order)) for day, order in zip(days, orders, strict=True)),
    )


def _time_meaning(table: LoggerTable, zone: ZoneInfo) -> Question:
    skipped = [line for line in table.rejected if line.reason is RejectReason.SKIPPED_HOUR]
    at = int(table.at[0]) if table.stored else 0
    winter: Hints = {
        "time_meaning": TimeMeaning.FIXED_OFFSET,
        "offset_minutes": words.winter_offset_minutes(at, zone),
    }
    text = _tr(
        "%Ln line(s) in the hour that the clocks here skip in spring. Which clock does the logger keep?",
        len(skipped),
    )
    return Question(
        text,
        (
            (_tr("Winter time all year"), winter),
            (_tr("UTC"), {"time_meaning": TimeMeaning.UTC}),
            (_tr("The clock here: leave them out"), {"time_meaning": TimeMeaning.HOME_ZONE}),
        ),
    )


def _repeated_hour(table: LoggerTable, zone: ZoneInfo) -> Question:
    year = local(int(table.at[-1]), zone).year if table.stored else 0
    text = _tr(
        "Some times of autumn {year} stand in the hour that the clock showed twice, but only once in the file. "
        "Which round is it?"
    )
    return Question(
        text.format(year=str(year)),
        (
            (_tr("First, summer time"), {"repeated_hour": RepeatedHour.FIRST}),
            (_tr("Second, winter time"), {"repeated_hour": RepeatedHour.SECOND}),
        ),
    )
