"""History in the breeder's words: every field of every record, and what an operation of any kind did."""

from __future__ import annotations

import dataclasses
import inspect
import re
import typing
from collections.abc import Iterable, Iterator
from datetime import datetime
from enum import StrEnum
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import hatchbook.journal
import pytest
from hatchbook.desk.dialogs.batch_history import BatchHistoryDialog
from hatchbook.desk.words.record_fields import field_word, is_told
from hatchbook.desk.words.record_values import _CODES
from hatchbook.desk.words.records import step_lines
from hatchbook.exchange.demo import create_demo_journal
from hatchbook.figures.record_names import RecordNames
from hatchbook.journal import Candling, ChangeInfo, Hatching, Journal, OwnProgramme
from hatchbook.journal.settings import Setting
from hatchbook.trade.codes import FindingCode, HatchMark
from hatchbook.trade.programmes import programme_named
from PySide6.QtCore import QLocale
from pytestqt.qtbot import QtBot
from tests.desk.conftest import DAY, SET_AT, Desk
from tests.journal.conftest import (  # noqa: F401  # a journal with an entry of every kind
    clock,
    filled,
    filled_once,
    journal,
    path,
    readings_of,
)
from tests.journal.test_undo import OPERATIONS, of  # noqa: F401

RECORDS = [
    found
    for _name, found in inspect.getmembers(hatchbook.journal, inspect.isclass)
    if dataclasses.is_dataclass(found) and hasattr(found, "KIND")
] + [Setting]
FIELDS = [(found, field.name) for found in RECORDS for field in dataclasses.fields(found)]


@pytest.fixture(autouse=True)
def british() -> None:
    QLocale.setDefault(QLocale(QLocale.Language.English, QLocale.Country.UnitedKingdom))


# ---------------------------------------------------------------- every field


@pytest.mark.parametrize(("record", "field"), FIELDS, ids=lambda part: getattr(part, "KIND", part))
def test_every_field_has_a_word_or_is_never_shown(record: Any, field: str) -> None:
    known = field_word(record.KIND, field)
    if is_told(record.KIND, field) and field != "definition":
        assert known is not None
        assert "_" not in known
        assert known == known.lower()


def test_every_coded_field_is_shown_by_its_word() -> None:
    for record, field in FIELDS:
        hint = typing.get_type_hints(record)[field]
        if isinstance(hint, type) and issubclass(hint, StrEnum) and is_told(record.KIND, field):
            assert hint in _CODES[record.KIND, field], (record.KIND, field)


# ---------------------------------------------------------------- what a step did


def lines_of(of_journal: Journal, changes: Iterable[ChangeInfo]) -> list[str]:
    return step_lines(list(changes), of_journal.zone, RecordNames(of_journal))


def latest(of_journal: Journal) -> list[str]:
    """What the latest step did, in words."""
    (step,) = of_journal.history.steps(newest=1)
    return lines_of(of_journal, of_journal.history.changes(step.number))


def identifiers(changes: Iterable[ChangeInfo]) -> Iterator[str]:
    """Every uid that the rows carry, as keys and as references."""
    for change in changes:
        for row in (change.before or {}, change.after or {}):
            for field, value in row.items():
                if field in _REFERENCES and isinstance(value, str):
                    yield value


_REFERENCES = frozenset(
    {
        "uid",
        "batch",
        "egg",
        "candling",
        "weighing",
        "break_out",
        "machine",
        "pen",
        "dam",
    }
)


def assert_in_the_breeders_words(lines: list[str], changes: list[ChangeInfo]) -> None:
    uids = set(identifiers(changes))
    for line in lines:
        assert re.search(r"[a-z]_[a-z]", line) is None, line
        assert re.search(r"\b[0-9a-f]{16}\b", line) is None, line
        assert uids.isdisjoint(re.findall(r"\w+", line)), line
        assert not any(odd in line for odd in ("{", "}", "%n", "None", "  ", ": :", "“”", "()")), line
        assert not line.endswith((":", ",", " ")), line


@pytest.mark.parametrize("name", OPERATIONS)
def test_no_operation_shows_a_column_or_an_identifier(of: Any, name: str) -> None:  # noqa: F811
    operation, _code = OPERATIONS[name]
    change = operation(of)
    changes = of.journal.history.changes(change.step.number)
    lines = lines_of(of.journal, changes)
    assert lines
    assert_in_the_breeders_words(lines, changes)


def test_all_that_the_demo_holds_is_told_in_the_breeders_words(tmp_path: Path) -> None:
    zone = ZoneInfo("Europe/Lisbon")
    now = int(datetime(2026, 5, 14, 14, 10, tzinfo=zone).timestamp())
    with create_demo_journal(tmp_path / "demo.hatchbook", now=now, zone=zone) as demo:
        # The demo is written at once; what it holds comes into history when its batches are deleted.
        for batch in demo.batches.all():
            demo.batches.delete(batch)
        demo.undo()
        names = RecordNames(demo)
        told: set[str] = set()
        for step in demo.history.steps():
            changes = demo.history.changes(step.number)
            lines = step_lines(changes, zone, names)
            assert_in_the_breeders_words(lines, changes)
            told |= {change.kind for change in changes}
    of_batch = {"batch", "batch_phase", "duty", "candling", "weighing", "event"}
    of_egg = {"egg", "finding", "egg_mass", "hatching", "break_out", "break_out_mark", "removal"}
    assert of_batch | of_egg <= told


def test_an_egg_is_named_by_number_and_place_and_a_finding_by_its_word(desk: Desk) -> None:
    candling = Candling(desk.batch.uid, SET_AT + 7 * DAY)
    desk.journal.candlings.note_findings(
        candling, {desk.eggs[0].uid: FindingCode.EARLY_DEAD}, SET_AT + 7 * DAY
    )
    assert latest(desk.journal) == [
        "Candling of Sun 10 May 2026 09:00 added",
        "Egg 1 (A 1), finding: early dead (blood ring) (Sun 10 May 2026 09:00)",
    ]
    desk.journal.candlings.note_finding(candling, desk.eggs[0].uid, FindingCode.ALIVE, SET_AT + 8 * DAY)
    assert "Egg 1 (A 1), finding: early dead (blood ring) → alive" in latest(desk.journal)


def test_a_move_is_told_as_one_place_to_another(desk: Desk) -> None:
    desk.journal.eggs.move(desk.eggs[0], 1, 3, 4)
    lines = latest(desk.journal)
    assert "Egg 1 (C 4), place: A 1 → C 4" in lines


def test_setting_a_batch_counts_its_eggs_and_dates(desk: Desk) -> None:
    (step,) = [one for one in desk.journal.history.steps() if one.code == "batch_set"]
    lines = lines_of(desk.journal, desk.journal.history.changes(step.number))
    assert "12 egg(s) added" in lines
    assert any(re.fullmatch(r"\d+ date\(s\) planned", line) for line in lines)
    assert any(line.startswith("Phase “incubation” added: ") for line in lines)
    (batch,) = [line for line in lines if line.startswith("Batch 26-05 added: ")]
    assert "machine Dairy" in batch
    assert "programme Hen, common practice" in batch


def test_a_record_that_is_gone_is_still_named(desk: Desk) -> None:
    eggs = desk.eggs
    desk.journal.hatchings.note(desk.batch.uid, [Hatching(eggs[2].uid, SET_AT + 20 * DAY, HatchMark.HATCHED)])
    desk.journal.batches.delete(desk.journal.batches.get(desk.batch.uid))
    lines = latest(desk.journal)
    hatched = [line for line in lines if line.startswith("Egg 3 (A 3), hatching: hatched")]
    assert len(hatched) == 1
    assert hatched[0].endswith("taken away")
    assert "12 egg(s) taken away" in lines


def test_a_changed_programme_says_what_it_says_now(desk: Desk) -> None:
    hen = programme_named("hen")
    assert hen is not None
    first, last = hen.phases
    own = OwnProgramme("mine", "hen", "Mine", dataclasses.replace(hen, code="mine", title="Mine").to_json())
    desk.journal.programmes.add(own)
    assert latest(desk.journal) == ["Programme Mine added: species hen"]
    drier = dataclasses.replace(
        hen,
        code="mine",
        title="Mine",
        phases=(dataclasses.replace(first, humidity_aim=44.0), last),
        candle_days=(6.0, 18.0),
    )
    desk.journal.programmes.replace(dataclasses.replace(own, definition=drier.to_json()))
    lines = [line.replace("\u00a0", " ") for line in latest(desk.journal)]
    assert lines == [
        "Programme Mine, humidity in the programme: Incubation: 40–50 %, aim 45 %; Lockdown: 60–70 %, aim 65 % "
        "→ Incubation: 40–50 %, aim 44 %; Lockdown: 60–70 %, aim 65 %",
        "Programme Mine, candling in the programme: day 7, 14, 18 → day 6, 18",
    ]


def test_the_dialog_shows_a_steps_lines_when_it_is_opened(desk: Desk, qtbot: QtBot) -> None:
    desk.journal.batches.rename(desk.journal.batches.get(desk.batch.uid), "Late hens")
    dialog = BatchHistoryDialog(desk.context, desk.journal.batches.get(desk.batch.uid), None)
    qtbot.addWidget(dialog)
    first = dialog.tree.topLevelItem(0)
    assert first is not None
    assert first.childCount() == 0
    first.setExpanded(True)
    lines = [first.child(row).text(1) for row in range(first.childCount())]
    assert lines == ["Batch 26-05, name: Orchard hens → Late hens"]
