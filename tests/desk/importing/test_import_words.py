"""Reasons, questions and remarks in plain words."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from hatchbook.desk.importing.offset_spin import OffsetSpin
from hatchbook.desk.importing.questions import Question, questions_of
from hatchbook.desk.words.file_layout import offset_word, time_word, winter_offset_minutes
from hatchbook.desk.words.imports import (
    account_sentences,
    coverage_sentence,
    file_problem,
    reject_reason,
    remarks,
    step_text,
)
from hatchbook.exchange.date_example import date_example
from hatchbook.exchange.left_out import DUPLICATE, NO_HUMIDITY, NO_TEMPERATURE
from hatchbook.exchange.logger_file import (
    DateOrder,
    LayoutHints,
    LoggerFileError,
    LoggerFileProblem,
    RejectReason,
    RepeatedHour,
    TimeMeaning,
    read_logger_file,
)
from hatchbook.exchange.reading_import import NewProbe, plan_import, read_readings
from hatchbook.journal.reject_codes import DIFFERS
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

ZONE = ZoneInfo("Europe/Lisbon")
Write = Callable[..., Path]
Yard = Any


def plain(text: str) -> str:
    return text.replace("\u00a0", " ")


@pytest.mark.parametrize("code", [*RejectReason, DUPLICATE, NO_TEMPERATURE, NO_HUMIDITY, DIFFERS])
def test_every_reason_has_a_sentence(qapp: QApplication, code: str) -> None:
    sentence = reject_reason(code)
    assert sentence
    assert "_" not in sentence
    assert "{" not in sentence


@pytest.mark.parametrize(
    ("code", "fields", "sentence"),
    [
        ("time_runs_backwards", {"by_s": 3600.0}, "time runs backwards by 1 h"),
        ("time_jumps_ahead", {"by_s": 30.0}, "time jumps ahead by 30 s"),
        ("same_time_other_values", {"other_line": 12.0}, "same time as line 12, other values"),
        ("temperature_too_high", {"value": 99.0}, "temperature over 85 °C"),
        ("temperature_too_low", {"value": -50.0}, "temperature below −40 °C"),
        (DIFFERS, {"humidity": 52.1}, "differs from the journal: kept 52.1 %"),
        (DIFFERS, {}, "differs from the journal, which keeps its values"),
        ("of_another_version", {}, "of another version"),
    ],
)
def test_reasons_say_their_numbers(
    qapp: QApplication, code: str, fields: dict[str, float], sentence: str
) -> None:
    assert plain(reject_reason(code, fields)) == sentence


@pytest.mark.parametrize("problem", list(LoggerFileProblem))
def test_every_problem_of_a_file_has_a_sentence(qapp: QApplication, problem: LoggerFileProblem) -> None:
    assert file_problem(LoggerFileError(problem)).endswith(".")


@pytest.mark.parametrize(
    ("seconds", "text"), [(30, "30 s"), (60, "1 min"), (90, "90 s"), (600, "10 min"), (39_600, "11 h")]
)
def test_steps_are_told_to_the_second_where_they_are_short(
    qapp: QApplication, seconds: float, text: str
) -> None:
    assert plain(step_text(seconds)) == text


# ------------------------------------------------------------------ times


def test_times_are_named_by_the_zone_where_it_is_another_than_this_computers(qapp: QApplication) -> None:
    home = TimeMeaning.HOME_ZONE
    assert time_word(home, ZONE, ZONE) == "as on this computer"
    assert time_word(home, ZoneInfo("America/New_York"), ZONE) == "clock time in America/New York"


@pytest.mark.parametrize(
    ("zone", "minutes", "word"),
    [
        ("Europe/Lisbon", 0, "UTC+0:00"),
        ("America/St_Johns", -210, "UTC−3:30"),
        ("Australia/Sydney", 600, "UTC+10:00"),
    ],
)
def test_the_offset_of_winter_time(qapp: QApplication, zone: str, minutes: int, word: str) -> None:
    at = int(datetime(2026, 7, 1, tzinfo=ZoneInfo(zone)).timestamp())
    assert winter_offset_minutes(at, ZoneInfo(zone)) == minutes
    assert offset_word(minutes) == word


@pytest.mark.parametrize(
    ("typed", "minutes"), [("+1", 60), ("UTC-3:30", -210), ("−2", -120), ("10:45", 645), ("UTC+0:00", 0)]
)
def test_an_offset_is_read_as_it_is_written(qtbot: QtBot, typed: str, minutes: int) -> None:
    spin = OffsetSpin()
    qtbot.addWidget(spin)
    assert spin.validate(typed, 0)[0].name == "Acceptable"
    assert spin.valueFromText(typed) == minutes


def test_a_half_typed_offset_changes_nothing(qtbot: QtBot) -> None:
    spin = OffsetSpin()
    qtbot.addWidget(spin)
    spin.setValue(60)
    assert spin.validate("UTC+", 0)[0].name == "Intermediate"
    assert spin.valueFromText("UTC+") == 60


# ------------------------------------------------------------------ questions


def ask(path: Path, zone: ZoneInfo = ZONE) -> list[Question]:
    return questions_of(read_logger_file(path, zone=zone), zone)


def test_a_file_that_decides_everything_asks_nothing(qapp: QApplication, shelf_file: Path) -> None:
    assert ask(shelf_file) == []


def test_the_example_of_a_date_is_one_that_differs(qapp: QApplication, write: Write) -> None:
    path = write("date,temp,rh\n05/05/2026 09:00,37.5,50\n06/05/2026 09:00,37.5,50\n")
    (question,) = ask(path)
    assert question.text == "“06/05/2026” can be 6 May 2026 or 5 June 2026. Which is it?"
    assert question.answers == (
        ("6 May 2026", {"date_order": DateOrder.DAY_MONTH_YEAR}),
        ("5 June 2026", {"date_order": DateOrder.MONTH_DAY_YEAR}),
    )


def test_dates_of_which_none_differs_are_asked_by_their_names(qapp: QApplication, write: Write) -> None:
    table = read_logger_file(write("date,temp,rh\n05/05/2026 09:00,37.5,50\n05/05/2026 09:10,37.5,50\n"))
    assert date_example(table.preview_rows, table.layout, list(DateOrder)[1:]) is None
    (question,) = questions_of(table, ZONE)
    assert [answer for answer, _ in question.answers] == ["day.month.year", "month/day/year"]


def test_times_that_the_clock_never_showed_ask_for_the_loggers_clock(
    qapp: QApplication, write: Write
) -> None:
    # In Lisbon the clocks went from 1:00 to 2:00 on 29 March 2026.
    rows = "".join(f"2026-03-29 0{hour}:{minute}0,37.5,50\n" for hour in range(4) for minute in range(6))
    (question,) = ask(write("time,temp,rh\n" + rows))
    assert question.text.startswith("6 line")
    assert [hints for _, hints in question.answers] == [
        {"time_meaning": TimeMeaning.FIXED_OFFSET, "offset_minutes": 0},
        {"time_meaning": TimeMeaning.UTC},
        {"time_meaning": TimeMeaning.HOME_ZONE},
    ]


def test_an_hour_that_the_clock_showed_twice_is_asked_for(qapp: QApplication, write: Write) -> None:
    # In Lisbon the clocks went back from 2:00 to 1:00 on 25 October 2026.
    rows = "".join(f"2026-10-25 01:{minute}0,37.5,50\n" for minute in range(6))
    (question,) = ask(write("time,temp,rh\n" + rows))
    assert "autumn 2026" in question.text
    assert [hints["repeated_hour"] for _, hints in question.answers] == [
        RepeatedHour.FIRST,
        RepeatedHour.SECOND,
    ]


def test_days_as_spreadsheets_count_them_are_asked_with_an_example(qapp: QApplication, write: Write) -> None:
    # 46145 is 3 May 2026.
    (question,) = ask(write("time,temp,rh\n46145.375,37.5,50\n46145.416667,37.5,50\n"))
    assert question.text == (
        "“46145.375” counted in days as spreadsheets do is 3 May 2026 09:00. Is that right?"
    )


def test_columns_that_could_be_meant_as_well_are_named(qapp: QApplication, write: Write) -> None:
    (question,) = ask(
        write("time,temp_in,temp_out,rh\n2026-05-03 09:00,37.5,21.0,50\n2026-05-03 09:10,37.5,21.0,50\n")
    )
    assert question.text.startswith("temp_in, rh will be read; temp_out could be meant as well.")


# ------------------------------------------------------------------ what would come in


def test_coverage_of_two_batches_and_of_none(yard: Yard, write: Write) -> None:
    now = yard.context.now()
    rows = "".join(f"2026-05-0{day} 09:00,37.5,50\n" for day in range(1, 8))
    file = read_readings(write("time,temp,rh\n" + rows), ZONE)
    plan = plan_import(yard.journal, yard.probe, file, now)
    sentence = plain(coverage_sentence(plan, ZONE, now))
    assert sentence.startswith("covers 1 May 09:00 to 7 May 09:00, every 1 d: 5 reading")
    assert sentence.endswith("of 26-05 Orchard hens, 2 of no batch")
    outside = plan_import(yard.journal, NewProbe("x", None), file, now)
    assert coverage_sentence(outside, ZONE, now).endswith(": falls into no batch")


def test_one_reading_and_none(yard: Yard, write: Write) -> None:
    now = yard.context.now()
    one = read_readings(write("time,temp,rh\n2026-05-03 09:00,37.5,50\n"), ZONE)
    plan = plan_import(yard.journal, yard.probe, one, now)
    assert coverage_sentence(plan, ZONE, now) == (
        "one reading, 3 May 09:00: all of it falls into 26-05 Orchard hens"
    )
    none = read_readings(write("time,temp,rh\n2026-05-03 09:00,37.5,118\n"), ZONE)
    plan = plan_import(yard.journal, yard.probe, none, now)
    assert coverage_sentence(plan, ZONE, now) == "No line of it can be read as a reading."


def test_what_strikes_is_remarked_on(yard: Yard, write: Write) -> None:
    rows = "".join(f"2026-05-{14 - n // 24:02d} {23 - n % 24:02d}:00,37.5,50.0\n" for n in range(48))
    file = read_readings(write("time,temp,rh\n" + rows), ZONE)
    now = yard.context.now()
    said = remarks(plan_import(yard.journal, yard.probe, file, now), file.table, ZONE, now)
    assert said[0].startswith("9 reading")
    assert said[0].endswith("later than now: check how dates and times are read.")
    assert plain(said[1]) == "The temperature does not move from 37.5 °C for 1 d 23 h, from 13 May 00:00 on."
    assert plain(said[2]) == "The humidity does not move from 50.0 % for 1 d 23 h, from 13 May 00:00 on."
    assert said[3:] == ["The newest line stands first in the file."]


def test_the_account_names_every_kind_of_line(qapp: QApplication, write: Write) -> None:
    text = (
        "exported\ntime,temp,rh\n2026-05-03 09:00,37.5,\n2026-05-03 09:00,37.5,\n\n2026-05-03 09:10,37.5,500\n"
        "2026-05-03 09:20,37.5,50\n"
    )
    table = read_logger_file(write(text), hints=LayoutHints())
    said = account_sentences(table).splitlines()
    assert [line[:1] for line in said] == ["1", "1", "1", "2", "1", "1", "1"]
