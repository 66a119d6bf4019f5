"""A check names everything that does not agree, and tells of a damaged file instead of stopping at it."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from hatchbook.journal import CheckReport, Egg, Journal, Problem, check_file
from hatchbook.journal.problems import _SENTENCES

DAY = 86_400
SET_AT = 1_776_708_000


def codes(report: CheckReport) -> list[str]:
    return [problem.code for problem in report.problems]


def test_a_sound_journal_has_no_problems_and_its_entries_are_counted(filled: SimpleNamespace) -> None:
    report = filled.journal.check()
    assert report.sound
    assert report.problems == report.remarks == ()
    assert (report.counts["egg"], report.counts["reading"], report.counts["batch"]) == (6, 41, 1)
    assert report.counts["history_step"] == len(filled.journal.history.steps())


def test_a_new_journal_is_sound(journal: Journal) -> None:
    report = journal.check()
    assert report.sound
    assert {kind for kind, count in report.counts.items() if count} == {"setting"}


#: What another program has done to the file, and what the check says of it.
TAMPERED: list[tuple[str, str, str]] = [
    (
        "time_zone",
        "UPDATE setting SET value = 'Mars/Olympus' WHERE key = 'time_zone'",
        "Mars/Olympus",
    ),
    (
        "history_order",
        "UPDATE history_step SET state = 'undone' WHERE number = 3",
        "taken back (3) stands before",
    ),
    (
        "run_count",
        "DELETE FROM reading WHERE at = 1776880800",
        "counts 40 readings, but 39 are there",
    ),
    (
        "run_missing",
        "UPDATE reading SET import_run = 8 WHERE import_run IS NULL",
        "1 readings belong to an import (8)",
    ),
    ("reject_count", "DELETE FROM import_reject WHERE line = 7", "counts 2 lines"),
    (
        "egg_outside",
        "UPDATE egg SET tray_row = 3 WHERE number = 4",
        "Egg 4 of batch 2026-03 lies outside the trays",
    ),
    ("phases_missing", "DELETE FROM batch_phase", "Batch 2026-03 has no phases"),
    (
        "phases_gap",
        "UPDATE batch_phase SET from_day = 18.5 WHERE from_day = 18",
        "Batch 2026-03 leave a gap or overlap at day 18".replace("Batch", "batch"),
    ),
    ("phases_gap", "UPDATE batch_phase SET from_day = 1 WHERE from_day = 0", "overlap at day 0"),
    (
        "hatching_before_set",
        f"UPDATE hatching SET at = {SET_AT - 1}",
        "Egg 1 of batch 2026-03 has a hatching record from before",
    ),
    ("break_out_before_set", f"UPDATE break_out SET at = {SET_AT - 1}", "Egg 2 of batch 2026-03"),
    (
        "probe_in_two_places",
        "INSERT INTO probe_placement SELECT 'x', probe, 'room', NULL, from_at + 60, NULL FROM probe_placement "
        "WHERE place = 'machine'",
        "Probe P1 hangs in two places",
    ),
    ("misfit", "UPDATE egg SET set_mass_g = -1 WHERE number = 1", "egg"),
    ("misfit", "UPDATE reading SET humidity = 130 WHERE import_run IS NULL", "reading"),
    (
        "reference",
        "DELETE FROM machine WHERE name = 'Old one'",
        "1 entries of channel refer to entries of machine",
    ),
    *[
        (code, change, "batch other")
        for code, change in [
            ("finding_elsewhere", "UPDATE finding SET egg = 'e' WHERE rowid = 1"),
            ("mass_elsewhere", "UPDATE egg_mass SET egg = 'e'"),
            ("event_elsewhere", "UPDATE event SET egg = 'e' WHERE batch IS NOT NULL"),
        ]
    ],
]
#: These have tests of their own, below.
OTHERS = {"cannot_open", "unreadable", "damaged", "overfull"}


def test_there_is_a_test_for_everything_a_check_can_say() -> None:
    assert {code for code, *_ in TAMPERED} | OTHERS == set(_SENTENCES)


@pytest.mark.parametrize(
    ("code", "statement", "words"),
    TAMPERED,
    ids=[f"{case[0]}-{n}" for n, case in enumerate(TAMPERED)],
)
def test_what_another_program_has_done_to_the_file_is_found(
    filled: SimpleNamespace, code: str, statement: str, words: str
) -> None:
    other = replace(filled.batch, uid="b", label="other", note="")
    filled.journal.batches.set_batch(
        other, [replace(phase, uid=f"p{n}", batch="b") for n, phase in enumerate(filled.phases)], [], []
    )
    filled.journal.eggs.add(Egg("b", 1, uid="e"))
    assert filled.journal.check().sound
    filled.journal.close()
    with closing(sqlite3.connect(filled.journal.path)) as program:
        program.execute("PRAGMA ignore_check_constraints = ON")
        assert program.execute(statement).rowcount > 0
        program.commit()
    report = check_file(filled.journal.path)
    assert set(codes(report)) == {code}
    assert any(words in str(problem) for problem in report.problems), [
        str(found) for found in report.problems
    ]
    assert report.remarks == ()
    assert not report.sound


def test_two_batches_of_different_times_do_not_fill_a_machine_twice(filled: SimpleNamespace) -> None:
    def batch(label: str, set_at: int, closed_at: int | None = None) -> None:
        record = replace(filled.batch, uid=label, label=label, set_at=set_at, closed_at=closed_at)
        phases = [replace(phase, uid=f"{label}{n}", batch=label) for n, phase in enumerate(filled.phases)]
        filled.journal.batches.set_batch(record, phases, [], [Egg(label, number) for number in range(1, 9)])

    batch("after", SET_AT + 21 * DAY)
    assert filled.journal.check().remarks == ()
    batch("closed early", SET_AT - 10 * DAY, SET_AT)
    assert filled.journal.check().remarks == ()
    batch("beside", SET_AT + 20 * DAY)
    (remark,) = filled.journal.check().remarks
    assert str(remark) == "In Blue one lie 16 eggs at one time, and it holds 8."
    assert filled.journal.check().sound


def test_eggs_that_go_to_another_machine_for_lockdown_may_lie_in_either(filled: SimpleNamespace) -> None:
    filled.journal.machines.replace(replace(filled.other_machine, tray_rows=5, tray_columns=5))
    phase = replace(filled.phases[1], machine=filled.other_machine.uid)
    filled.journal.batches.replan(filled.batch, [filled.phases[0], phase], [])
    filled.journal.eggs.move(filled.eggs[0], 1, 5, 5)
    assert filled.journal.check().sound


def test_readings_that_were_corrected_or_removed_agree_with_their_import(filled: SimpleNamespace) -> None:
    journal, number = filled.journal, filled.probe.number
    first, second, third = (journal.readings.at(number, filled.run.first_at + 60 * n) for n in range(3))
    journal.readings.remove(first)
    journal.readings.replace(replace(second, humidity=44.0))
    journal.readings.move(third, replace(third, at=third.at + 1))
    assert journal.check().sound
    journal.undo()
    journal.undo()
    journal.undo()
    assert journal.check().sound


# ------------------------------------------------------------------ damaged files


def damage(path: Path, table: str) -> None:
    """Overwrites the first page of a table."""
    with closing(sqlite3.connect(path)) as connection:
        (page,) = connection.execute("SELECT rootpage FROM sqlite_schema WHERE name = ?", (table,)).fetchone()
    content = bytearray(path.read_bytes())
    content[(page - 1) * 4096 : page * 4096] = b"\xa5" * 4096
    path.write_bytes(content)


def test_a_damaged_part_is_reported_and_the_rest_is_checked(filled: SimpleNamespace) -> None:
    path = filled.journal.path
    filled.journal.close()
    damage(path, "reading")
    before = path.read_bytes()
    report = check_file(path)
    assert not report.sound
    assert {"damaged", "unreadable"} <= set(codes(report))
    assert codes(report).count("unreadable") == 1
    assert report.counts["egg"] == 6
    assert "reading" not in report.counts
    assert any(str(problem).startswith("The file is damaged: ") for problem in report.problems)
    assert path.read_bytes() == before


def test_damage_that_is_met_while_the_journal_is_open_is_reported(
    path: Path, filled: SimpleNamespace, readings_of: Callable[..., Any]
) -> None:
    filled.journal.imports.bring_in(filled.probe, readings_of(SET_AT - 10**8, 400_000), SET_AT)
    filled.journal.close()
    damage(path, "reading")  # so large a table is not looked through when a journal is opened
    with Journal.open(path, clock=lambda: SET_AT + 11 * DAY) as journal:
        assert not journal.check().sound
        assert journal.eggs.of_batch(filled.batch.uid) == filled.eggs


@pytest.mark.parametrize("content", [b"", b"my notes"])
def test_a_file_that_cannot_be_opened_is_reported(path: Path, content: bytes) -> None:
    path.write_bytes(content)
    (problem,) = check_file(path).problems
    assert problem.code == "cannot_open"
    assert str(problem) == "My hens.hatchbook is not a Hatchbook journal. It has been left untouched."
    assert codes(check_file(path.with_name("none.hatchbook"))) == ["cannot_open"]


def test_a_journal_can_be_checked_while_it_is_open_elsewhere(filled: SimpleNamespace) -> None:
    assert check_file(filled.journal.path).sound
    filled.journal.machines.replace(replace(filled.machine, note="cellar"))


def test_another_thread_can_check_an_open_journal_to_the_ranges_of_its_values(
    filled: SimpleNamespace,
) -> None:
    connection = filled.journal._store.connection
    connection.execute("PRAGMA ignore_check_constraints = ON")
    connection.execute("UPDATE egg SET set_mass_g = -1 WHERE number = 1")
    connection.execute("PRAGMA ignore_check_constraints = OFF")
    with filled.journal.second() as second:
        assert codes(second.check()) == codes(filled.journal.check()) == ["misfit"]
        second._store.rows("SELECT 1")  # still open
    filled.journal.machines.replace(replace(filled.machine, note="cellar"))


def test_a_problem_is_told_in_a_sentence_of_its_fields() -> None:
    problem = Problem("phases_gap", {"batch": "2026-03", "day": 18.0})
    assert str(problem) == "The phases of batch 2026-03 leave a gap or overlap at day 18."
