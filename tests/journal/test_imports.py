"""A logger's file comes in as one step, adds nothing the second time, and goes out again."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from hatchbook.journal import (
    ImportCancelledError,
    Journal,
    JournalDamagedError,
    NewReadings,
    Probe,
    Reading,
    RecordMissingError,
    RecordRefusedError,
)

START = 1_776_900_000
Contents = Callable[[Journal], dict[str, list[tuple[Any, ...]]]]


@pytest.fixture
def probe(journal: Journal) -> Probe:
    journal.probes.add_to("P1", machine=None, from_at=0)
    found = journal.probes.by_name("P1")
    assert found is not None
    return found


def readings(at: list[int], humidity: list[float], temperature_c: list[float] | None = None) -> NewReadings:
    temperatures = temperature_c or [float("nan")] * len(at)
    return NewReadings(
        "a.csv", "d", "{}", len(at), np.array(at), np.array(temperatures, dtype=float), np.array(humidity)
    )


def test_readings_come_in_as_they_are(
    journal: Journal, probe: Probe, readings_of: Callable[..., Any]
) -> None:
    file = readings_of(START, 100)
    change = journal.imports.bring_in(probe, file, START + 9)
    assert change.kinds == {"import_run", "reading"}
    series = journal.readings.series(probe.number, 0, START * 2)
    np.testing.assert_array_equal(series.at, file.at)
    np.testing.assert_array_equal(series.humidity, file.humidity)
    np.testing.assert_array_equal(series.temperature_c, file.temperature_c)
    (run,) = journal.imports.all()
    assert (run.number, run.probe, run.at, run.file_name, run.digest) == (
        1,
        probe.uid,
        START + 9,
        "logger.csv",
        "digest of logger.csv",
    )
    assert (run.lines, run.stored, run.already, run.differing, run.rejected) == (102, 100, 0, 0, 2)
    assert (run.first_at, run.last_at) == (START, START + 99 * 60)
    assert [(reject.line, reject.text, reject.reason) for reject in journal.imports.rejects(run)] == [
        (7, "25.04.2026 07:00;;", "no value"),
        (9, "25.04.2026 07:", "cut off"),
    ]


def test_the_same_file_again_adds_nothing(
    journal: Journal, probe: Probe, contents: Contents, readings_of: Callable[..., Any]
) -> None:
    file = readings_of(START, 100)
    journal.imports.bring_in(probe, file, START)
    before = contents(journal)["reading"]
    journal.imports.bring_in(probe, file, START + 60)
    assert contents(journal)["reading"] == before
    run = journal.imports.all()[0]
    assert (run.stored, run.already, run.differing, run.first_at) == (0, 100, 0, None)
    assert journal.check().sound
    journal.undo()
    assert contents(journal)["reading"] == before


def test_a_longer_file_adds_what_is_new(
    journal: Journal, probe: Probe, readings_of: Callable[..., Any]
) -> None:
    journal.imports.bring_in(probe, readings_of(START, 50), START)
    journal.imports.bring_in(probe, readings_of(START, 80), START)
    run = journal.imports.all()[0]
    assert (run.stored, run.already, run.differing) == (30, 50, 0)
    assert run.first_at == START + 50 * 60


def test_values_that_differ_from_the_journal_are_named_and_not_overwritten(
    journal: Journal, probe: Probe
) -> None:
    by_hand = Reading(probe.number, START + 60, humidity=47.0)
    journal.readings.add(by_hand)
    journal.imports.bring_in(probe, readings([START, START + 60, START + 120], [45.0, 45.5, 46.0]), START)
    assert journal.readings.at(probe.number, START + 60) == by_hand
    (run,) = journal.imports.all()
    assert (run.stored, run.already, run.differing, run.rejected) == (2, 0, 1, 0)
    (reject,) = journal.imports.rejects(run)
    assert (reject.line, reject.text, reject.reason) == (
        -1,
        str(START + 60),
        "differs_from_journal humidity=47",
    )
    assert journal.check().sound


def test_a_missing_value_differs_from_one_that_is_there_and_not_from_a_missing_one(
    journal: Journal, probe: Probe
) -> None:
    nan = float("nan")
    at = [START, START + 60, START + 120, START + 180]
    journal.imports.bring_in(probe, readings(at[:3], [45.0, 45.0, nan], [nan, 37.5, 37.5]), START)
    again = readings(at, [45.0, 45.0, 44.0, 44.0], [nan, nan, 37.5, 37.5])
    overlap = journal.imports.overlap(probe, again)
    assert overlap.same.tolist() == [True, False, False, False]
    assert overlap.differing.tolist() == [False, True, True, False]
    assert overlap.new.tolist() == [False, False, False, True]


def test_readings_of_another_probe_do_not_stand_in_the_way(
    journal: Journal, probe: Probe, readings_of: Callable[..., Any]
) -> None:
    journal.probes.add_to("P2", machine=None, from_at=0)
    other = journal.probes.by_name("P2")
    assert other is not None
    for one in (probe, other):
        journal.imports.bring_in(one, readings_of(START, 30), START)
    assert [run.stored for run in journal.imports.all()] == [30, 30]
    assert journal.readings.count(probe.number, 0, START * 2) == 30


def test_a_file_without_a_single_reading_is_noted_with_its_rejects(journal: Journal, probe: Probe) -> None:
    file = replace(readings([], []), lines=1, rejects=[(1, "nothing here", "no date")])
    journal.imports.bring_in(probe, file, START)
    (run,) = journal.imports.all()
    assert (run.stored, run.rejected, run.first_at) == (0, 1, None)
    journal.undo()
    journal.redo()
    assert len(journal.imports.rejects(run)) == 1
    assert journal.check().sound


@pytest.mark.parametrize("at", [[START, START], [START + 60, START]])
def test_readings_that_do_not_run_forward_are_a_fault_of_the_program(
    journal: Journal, probe: Probe, at: list[int]
) -> None:
    with pytest.raises(ValueError, match="ascend"):
        journal.imports.bring_in(probe, readings(at, [45.0, 45.0]), START)
    assert journal.imports.all() == []


def test_a_value_out_of_range_stops_the_whole_import(
    journal: Journal, probe: Probe, contents: Contents
) -> None:
    before = contents(journal)
    file = readings([START + 60 * n for n in range(100)], [45.0] * 99 + [120.0])
    with pytest.raises(RecordRefusedError):
        journal.imports.bring_in(probe, file, START)
    assert contents(journal) == before


def test_progress_is_told_and_a_cancelled_import_leaves_nothing(
    journal: Journal, probe: Probe, contents: Contents, readings_of: Callable[..., Any]
) -> None:
    file, told = readings_of(START, 120_000), [-1.0]
    before = contents(journal), journal.history.steps()
    with pytest.raises(ImportCancelledError):
        journal.imports.bring_in(probe, file, START, progress=told.append, cancelled=lambda: told[-1] > 0.5)
    assert 0.5 < told[-1] < 1
    assert (contents(journal), journal.history.steps()) == before
    # Also when it is stopped after the last portion.
    with pytest.raises(ImportCancelledError):
        journal.imports.bring_in(probe, file, START, progress=told.append, cancelled=lambda: told[-1] == 1)
    assert (contents(journal), journal.history.steps()) == before
    told.clear()
    journal.imports.bring_in(probe, file, START, progress=told.append, cancelled=lambda: False)
    assert told == sorted(told)
    assert told[-1] == 1


# ------------------------------------------------------------------ taking an import back


def test_an_import_is_taken_back_after_other_steps_with_what_was_corrected_since(
    filled: SimpleNamespace, contents: Contents
) -> None:
    journal, run = filled.journal, filled.run
    number, first = filled.probe.number, run.first_at
    journal.readings.replace(replace(journal.readings.at(number, first), humidity=50.0))
    moved = journal.readings.at(number, first + 60)
    journal.readings.move(moved, replace(moved, at=first - 86_400))  # out of the file's time
    other = journal.readings.at(number, first + 120)
    journal.readings.move(other, replace(other, probe=filled.room_probe.number))
    journal.readings.remove(journal.readings.at(number, first + 180))
    assert journal.check().sound
    before = contents(journal)

    change = journal.imports.take_back(run)
    assert (change.step.code, change.step.details) == ("import_taken_back", {"file": "logger.csv"})
    assert journal.readings.all() == [filled.reading]
    assert journal.imports.all() == journal.imports.rejects(run) == []
    assert journal.check().sound
    after = contents(journal)
    journal.undo()
    assert contents(journal) == before
    journal.redo()
    assert contents(journal) == after
    with pytest.raises(RecordMissingError):
        journal.imports.take_back(run)


def test_what_was_typed_comes_back_with_an_import(filled: SimpleNamespace) -> None:
    journal, number = filled.journal, filled.probe.number
    reading = journal.readings.at(number, filled.run.first_at)
    typed = replace(reading, temperature_c=37.8, entered='{"value": 100, "unit": "F"}')
    journal.readings.replace(typed)
    journal.imports.take_back(filled.run)
    journal.undo()
    assert journal.readings.at(number, typed.at) == typed


def test_a_number_of_an_import_is_never_given_twice(
    journal: Journal, probe: Probe, readings_of: Callable[..., Any]
) -> None:
    journal.imports.bring_in(probe, readings_of(START, 5, name="a"), START)
    journal.undo()
    journal.imports.bring_in(probe, readings_of(START, 5, name="b"), START)
    assert [(run.number, run.file_name) for run in journal.imports.all()] == [(2, "b")]
    journal.imports.take_back(journal.imports.all()[0])
    journal.imports.bring_in(probe, readings_of(START, 5, name="c"), START)
    assert [(run.number, run.file_name) for run in journal.imports.all()] == [(3, "c")]


def test_damage_in_what_was_kept_aside_is_told(filled: SimpleNamespace) -> None:
    journal = filled.journal
    journal.imports.take_back(filled.run)
    journal._store.connection.execute(
        "UPDATE history_change SET payload = substr(payload, 1, 60) WHERE payload IS NOT NULL"
    )
    with pytest.raises(JournalDamagedError, match="cannot be read"):
        journal.undo()
    assert journal.imports.all() == []
