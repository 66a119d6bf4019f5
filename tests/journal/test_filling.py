"""Filling a new journal at once: all of it or nothing, no line of history, and only while it is new."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from hatchbook.journal import (
    Journal,
    JournalError,
    Machine,
    Probe,
    ProbePlacement,
    Reading,
    ReadingSeries,
    RecordRefusedError,
)
from hatchbook.journal.filling import FilledReadings, fill
from hatchbook.trade.codes import ProbePlace

MACHINE = Machine("Dairy machine", 6, 7)
PROBE = Probe("Dairy probe", 1)
PLACEMENT = ProbePlacement(PROBE.uid, ProbePlace.MACHINE, MACHINE.uid, 0)


def series(count: int) -> ReadingSeries:
    at = np.arange(count, dtype=np.int64) * 600
    temperature_c = np.full(count, 37.6)
    temperature_c[::7] = np.nan
    return ReadingSeries(1, at, temperature_c, np.linspace(40.0, 50.0, count))


@pytest.fixture
def journal(tmp_path: Path) -> Journal:
    return Journal.create(tmp_path / "new.hatchbook")


@pytest.mark.parametrize("count", [0, 1, 99, 100, 1234])
def test_records_in_any_order_and_readings_come_in_whole(journal: Journal, count: int) -> None:
    with journal:
        fill(journal, [PLACEMENT, PROBE, MACHINE], [FilledReadings(series(count))])
        assert journal.machines.all() == [MACHINE]
        assert journal.probes.placements(PROBE.uid) == [PLACEMENT]
        stored = journal.readings.series(1, 0, 10**9)
        assert np.array_equal(stored.at, series(count).at)
        assert np.array_equal(stored.temperature_c, series(count).temperature_c, equal_nan=True)
        assert np.array_equal(stored.humidity, series(count).humidity)
        assert journal.check().sound


def test_nothing_of_it_is_in_history(journal: Journal) -> None:
    with journal:
        fill(journal, [MACHINE])
        assert journal.history.steps() == []
        assert journal.history.next_undo() is None


def test_steps_come_after_it_and_are_undone_alone(journal: Journal) -> None:
    with journal:
        fill(journal, [MACHINE])
        journal.machines.add(Machine("Pantry machine", 4, 6))
        journal.undo()
        assert journal.machines.all() == [MACHINE]


def test_a_journal_with_entries_is_not_filled(journal: Journal) -> None:
    with journal:
        journal.machines.add(Machine("Pantry machine", 4, 6))
        with pytest.raises(RuntimeError, match="nothing was entered"):
            fill(journal, [MACHINE])
        assert MACHINE not in journal.machines.all()


def test_a_record_that_refers_to_nothing_leaves_nothing_behind(journal: Journal) -> None:
    with journal:
        with pytest.raises(RecordRefusedError):
            fill(journal, [MACHINE, PLACEMENT])
        assert journal.machines.all() == []


def test_a_value_that_cannot_be_leaves_nothing_behind(journal: Journal) -> None:
    with journal:
        with pytest.raises(JournalError):
            fill(journal, [MACHINE, PROBE, Reading(1, 0, 37.6, 101.0)])
        assert journal.machines.all() == []
