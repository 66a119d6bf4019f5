"""A logger's file is planned and brought in as one step, with every line accounted for."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Iterator
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from hatchbook.exchange.left_out import DUPLICATE, NO_HUMIDITY
from hatchbook.exchange.logger_file import Cancelled, DateOrder, LayoutHints, LoggerFileError
from hatchbook.exchange.reading_import import (
    NewProbe,
    ReadFile,
    Target,
    plan_import,
    read_readings,
    run_import,
    suggest_target,
)
from hatchbook.journal import (
    Batch,
    ImportCancelledError,
    Journal,
    Machine,
    Probe,
    Reading,
    RecordRefusedError,
    plan_records,
)
from hatchbook.journal.reject_codes import DIFFERS, read_reason
from hatchbook.trade.plan import plan_batch
from hatchbook.trade.programmes import programme_named

ZONE = ZoneInfo("Europe/Lisbon")
PUBLISHED = Path(__file__).parent.parent / "published"


def at(day: int, hour: int = 0, minute: int = 0, month: int = 5) -> int:
    return int(datetime(2026, month, day, hour, minute, tzinfo=ZONE).timestamp())


NOW = at(14, 14)

#: Eight good readings (of one the humidity is no number), two lines that are none, a double and a blank line.
SMALL = """time,temperature,humidity
2026-05-03 09:00,37.6,52.1
2026-05-03 09:10,37.7,52.4
2026-05-03 09:20,37.7,52.0
2026-05-03 09:30,--,--
2026-05-03 09:40,37.8,118.0

2026-05-03 09:50,37.8,err
2026-05-03 10:00,37.7,52.3
2026-05-03 10:00,37.7,52.3
2026-05-03 21:00,37.7,52.6
2026-05-03 21:10,37.7,52.5
2026-05-03 21:20,37.7,52.4
"""


@pytest.fixture
def journal(tmp_path: Path) -> Iterator[Journal]:
    with Journal.create(tmp_path / "yard.hatchbook", time_zone=ZONE.key, clock=lambda: NOW) as journal:
        yield journal


@pytest.fixture
def machine(journal: Journal) -> Machine:
    machine = Machine("Dairy machine", 6, 6)
    journal.machines.add(machine)
    return machine


@pytest.fixture
def probe(journal: Journal, machine: Machine) -> Probe:
    return add_probe(journal, "Shelf logger", machine)


def add_probe(journal: Journal, name: str, machine: Machine | None, from_at: int = at(1, month=4)) -> Probe:
    journal.probes.add_to(name, machine=machine.uid if machine else None, from_at=from_at)
    probe = journal.probes.by_name(name)
    assert probe is not None
    return probe


def add_batch(journal: Journal, machine: Machine, label: str, set_at: int, probe: str | None = None) -> Batch:
    programme = programme_named("hen")
    assert programme is not None
    text = programme.to_json()
    batch = Batch(label, "hen", machine.uid, set_at, 21.0, text, 7.0, 14.0, probe=probe)
    phases, duties = plan_records(batch, plan_batch(programme, set_at, ZONE))
    journal.batches.set_batch(batch, phases, duties, [])
    return batch


@pytest.fixture
def read(tmp_path: Path) -> Callable[..., ReadFile]:
    """Reads text as a file."""

    def read_it(text: str, name: str = "dairy.csv", hints: LayoutHints | None = None) -> ReadFile:
        path = tmp_path / name
        path.write_text(text, encoding="utf-8")
        return read_readings(path, ZONE, hints)

    return read_it


# ------------------------------------------------------------------ reading


def test_a_file_is_known_by_its_digest_and_by_how_it_was_read(read: Callable[..., ReadFile]) -> None:
    file = read(SMALL)
    assert file.digest == hashlib.sha256(SMALL.encode()).hexdigest()
    layout = json.loads(file.new_readings().layout)
    assert layout["zone"] == "Europe/Lisbon"
    assert (layout["separator"], layout["decimal"], layout["date_order"]) == (",", ".", "ymd")
    assert layout["columns"] == ["date_time", "temperature", "humidity"]


def test_progress_runs_to_the_end_and_reading_can_be_cancelled(tmp_path: Path) -> None:
    path = tmp_path / "small.csv"
    path.write_text(SMALL, encoding="utf-8")
    told: list[float] = []
    read_readings(path, ZONE, progress=told.append)
    assert told == sorted(told)
    assert told[-1] == 1.0
    with pytest.raises(Cancelled):
        read_readings(path, ZONE, cancelled=lambda: True)
    # Also while the digest is made.
    asked = iter([False] * 100)
    told.clear()
    with pytest.raises(Cancelled):
        read_readings(path, ZONE, progress=told.append, cancelled=lambda: told[-1:] == [0.9] or next(asked))


def test_the_text_of_a_line_is_found_again(read: Callable[..., ReadFile]) -> None:
    file = read(SMALL)
    assert file.line_text(3) == "2026-05-03 09:10,37.7,52.4"
    assert file.line_text(99) == ""


def test_the_text_of_a_line_of_a_file_that_is_gone_is_an_error(read: Callable[..., ReadFile]) -> None:
    file = read(SMALL)
    file.path.unlink()
    with pytest.raises(LoggerFileError, match="cannot be opened"):
        file.line_text(3)


def test_a_hint_decides_what_the_file_does_not(read: Callable[..., ReadFile]) -> None:
    text = "date,temp,rh\n03/04/2026 09:00,37.5,50\n04/04/2026 09:00,37.5,50\n"
    file = read(text, hints=LayoutHints(date_order=DateOrder.MONTH_DAY_YEAR))
    assert file.table.at[0] == at(4, 9, month=3)
    assert json.loads(file.new_readings().layout)["date_order"] == "mdy"


# ------------------------------------------------------------------ planning


def test_every_line_is_in_the_plan(
    journal: Journal, probe: Probe, machine: Machine, read: Callable[..., ReadFile]
) -> None:
    batch = add_batch(journal, machine, "26-05", at(3, 9))
    plan = plan_import(journal, probe, read(SMALL), NOW)
    assert (plan.lines, plan.readings, plan.new, plan.already, plan.differing) == (11, 8, 8, 0, 0)
    assert [(line.number, line.code) for line in plan.left_out.lines] == [
        (5, "no_number"),
        (6, "humidity_above_100"),
        (8, NO_HUMIDITY),
        (10, DUPLICATE),
    ]
    assert plan.lines == plan.readings + plan.left_out.dropped
    assert (plan.start_at, plan.end_at, plan.step_s) == (at(3, 9), at(3, 21, 20), 600.0)
    assert [(gap.start_s, gap.end_s) for gap in plan.gaps] == [(at(3, 10), at(3, 21))]
    assert [(share.batch, share.count) for share in plan.batches] == [(batch, 8)]
    assert (plan.outside, plan.future, plan.earlier) == (0, 0, ())


def test_planning_changes_nothing(journal: Journal, probe: Probe, read: Callable[..., ReadFile]) -> None:
    steps = journal.history.steps()
    plan_import(journal, probe, read(SMALL), NOW)
    plan_import(journal, NewProbe("other", None), read(SMALL), NOW)
    assert journal.history.steps() == steps
    assert journal.readings.all() == []


def test_readings_fall_into_the_batches_that_lay_where_the_probe_hung(
    journal: Journal, machine: Machine, probe: Probe, read: Callable[..., ReadFile]
) -> None:
    other = Machine("Barn machine", 6, 6)
    journal.machines.add(other)
    early = add_batch(journal, machine, "26-04", at(3, 9, 15) - 22 * 86_400)
    journal.batches.close(early, at(3, 9, 15))
    late = add_batch(journal, machine, "26-05", at(3, 21, 10))
    add_batch(journal, other, "26-06", at(3))
    plan = plan_import(journal, probe, read(SMALL), NOW)
    assert [(share.batch.label, share.count) for share in plan.batches] == [("26-04", 2), (late.label, 2)]
    assert plan.outside == 4
    # From 9:50 on the probe hung in the other machine.
    journal.probes.move(probe, machine=other.uid, at=at(3, 9, 50))
    plan = plan_import(journal, probe, read(SMALL), NOW)
    assert [(share.batch.label, share.count) for share in plan.batches] == [("26-04", 2), ("26-06", 5)]
    assert plan.outside == 1


def test_the_own_probe_of_a_batch_counts_wherever_it_is_not_known_to_hang_elsewhere(
    journal: Journal, machine: Machine, read: Callable[..., ReadFile]
) -> None:
    probe = add_probe(journal, "P1", None, from_at=at(3, 21))
    add_batch(journal, machine, "26-05", at(3, 9), probe=probe.uid)
    plan = plan_import(journal, probe, read(SMALL), NOW)
    assert [share.count for share in plan.batches] == [5]


def test_readings_later_than_now_are_counted(
    journal: Journal, probe: Probe, read: Callable[..., ReadFile]
) -> None:
    assert plan_import(journal, probe, read(SMALL), at(3, 21)).future == 2
    assert plan_import(journal, probe, read(SMALL)).future == 0


def test_an_earlier_import_of_the_same_file_is_named(
    journal: Journal, probe: Probe, read: Callable[..., ReadFile]
) -> None:
    run_import(journal, probe, read(SMALL), at(4))
    again = plan_import(journal, NewProbe("other", None), read(SMALL, "copy.csv"), NOW)
    assert [(earlier.at, earlier.probe) for earlier in again.earlier] == [(at(4), "Shelf logger")]
    assert plan_import(journal, probe, read(SMALL + "\n"), NOW).earlier == ()


# ------------------------------------------------------------------ storing


def test_a_file_comes_in_as_one_step_with_what_stayed_out(
    journal: Journal, probe: Probe, read: Callable[..., ReadFile]
) -> None:
    file = read(SMALL)
    steps = len(journal.history.steps())
    change = run_import(journal, probe, file, NOW)
    assert change.kinds == {"import_run", "reading"}
    assert len(journal.history.steps()) == steps + 1
    series = journal.readings.series(probe.number, 0, NOW)
    np.testing.assert_array_equal(series.at, file.table.at)
    np.testing.assert_array_equal(series.temperature_c, file.table.temperature_c)
    np.testing.assert_array_equal(series.humidity, file.table.humidity)
    (run,) = journal.imports.all()
    assert (run.file_name, run.digest, run.lines) == ("dairy.csv", file.digest, 13)
    assert (run.stored, run.already, run.differing, run.rejected) == (8, 0, 0, 3)
    assert [(reject.line, reject.text, reject.reason) for reject in journal.imports.rejects(run)] == [
        (5, "2026-05-03 09:30,--,--", "no_number"),
        (6, "2026-05-03 09:40,37.8,118.0", "humidity_above_100 value=118"),
        (8, "2026-05-03 09:50,37.8,err", "humidity_left_out"),
    ]
    assert journal.check().sound
    journal.undo()
    assert journal.readings.all() == []
    assert journal.imports.all() == []
    journal.redo()
    assert journal.readings.count(probe.number, 0, NOW) == 8


def test_the_same_file_again_adds_nothing(
    journal: Journal, probe: Probe, read: Callable[..., ReadFile]
) -> None:
    run_import(journal, probe, read(SMALL), NOW)
    plan = plan_import(journal, probe, read(SMALL), NOW)
    assert (plan.new, plan.already, plan.differing) == (0, 8, 0)
    before = journal.readings.all()
    run_import(journal, probe, read(SMALL), NOW)
    assert journal.readings.all() == before
    assert journal.imports.all()[0].already == 8


def test_what_the_journal_holds_otherwise_is_kept_and_named_with_its_line(
    journal: Journal, probe: Probe, read: Callable[..., ReadFile]
) -> None:
    kept = Reading(probe.number, at(3, 9, 10), 37.5, 52.1)
    journal.readings.add(kept)
    warm = Reading(probe.number, at(3, 9, 20), 37.7, None)
    journal.readings.add(warm)
    file = read(SMALL)
    plan = plan_import(journal, probe, file, NOW)
    assert (plan.new, plan.already, plan.differing) == (6, 0, 2)
    differing = [line for line in plan.left_out.lines if line.code == DIFFERS]
    assert [(line.number, line.text, line.fields) for line in differing] == [
        (3, "2026-05-03 09:10,37.7,52.4", {"temperature_c": 37.5, "humidity": 52.1}),
        (4, "2026-05-03 09:20,37.7,52.0", {"temperature_c": 37.7}),
    ]
    run_import(journal, probe, file, NOW)
    assert journal.readings.at(probe.number, kept.at) == kept
    assert journal.readings.at(probe.number, warm.at) == warm
    (run,) = journal.imports.all()
    stored = [reject for reject in journal.imports.rejects(run) if reject.reason.startswith(DIFFERS)]
    assert [(reject.line, reject.text, read_reason(reject.reason)) for reject in stored] == [
        (line.number, line.text, (DIFFERS, line.fields)) for line in differing
    ]
    assert journal.check().sound


@pytest.mark.parametrize("in_machine", [True, False])
def test_a_new_probe_comes_with_its_readings_in_one_step(
    journal: Journal, machine: Machine, read: Callable[..., ReadFile], in_machine: bool
) -> None:
    batch = add_batch(journal, machine, "26-05", at(3, 9))
    target = NewProbe("Dairy logger", machine.uid if in_machine else None)
    file = read(SMALL)
    plan = plan_import(journal, target, file, NOW)
    assert (plan.new, [share.batch for share in plan.batches]) == (8, [batch] if in_machine else [])
    change = run_import(journal, target, file, NOW)
    assert change.kinds == {"probe", "probe_placement", "import_run", "reading"}
    probe = journal.probes.by_name("Dairy logger")
    assert probe is not None
    (placement,) = journal.probes.placements(probe.uid)
    assert (placement.machine, placement.from_at, placement.until_at) == (target.machine, at(3, 9), None)
    assert journal.readings.count(probe.number, 0, NOW) == 8
    journal.undo()
    assert journal.probes.all() == []
    assert journal.readings.all() == []
    journal.redo()
    assert journal.probes.by_name("Dairy logger") == probe
    assert journal.check().sound


def test_a_probe_of_a_name_that_is_taken_is_refused_with_everything(
    journal: Journal, probe: Probe, read: Callable[..., ReadFile]
) -> None:
    with pytest.raises(RecordRefusedError):
        run_import(journal, NewProbe(probe.name, None), read(SMALL), NOW)
    assert journal.readings.all() == []
    assert journal.probes.all() == [probe]


def test_a_cancelled_import_leaves_nothing(
    journal: Journal, machine: Machine, read: Callable[..., ReadFile]
) -> None:
    steps = journal.history.steps()
    with pytest.raises(ImportCancelledError):
        run_import(journal, NewProbe("new", machine.uid), read(SMALL), NOW, cancelled=lambda: True)
    assert journal.history.steps() == steps
    assert (journal.readings.all(), journal.probes.all(), journal.imports.all()) == ([], [], [])


def test_a_file_nobody_here_wrote_comes_in_whole(journal: Journal, probe: Probe) -> None:
    """Candanedo & Feldheim, Energy and Buildings 112 (2016) 28–39: the header is one field short."""
    file = read_readings(PUBLISHED / "office_climate_2015.csv", ZONE)
    plan = plan_import(journal, probe, file, NOW)
    assert (plan.lines, plan.new, plan.left_out.lines, plan.step_s) == (2665, 2665, (), 60.0)
    run_import(journal, probe, file, NOW)
    first = journal.readings.at(probe.number, int(file.table.at[0]))
    assert first is not None
    assert (first.temperature_c, first.humidity) == (23.7, 26.272)
    assert plan_import(journal, probe, file, NOW).already == 2665


# ------------------------------------------------------------------ whose readings


def test_the_likeliest_target_is_the_one_whose_batch_the_readings_meet(
    journal: Journal, machine: Machine, read: Callable[..., ReadFile]
) -> None:
    other = Machine("Barn machine", 6, 6)
    journal.machines.add(other)
    room = add_probe(journal, "A room probe", None)
    shelf = add_probe(journal, "Shelf logger", machine)
    barn = NewProbe("Barn machine logger", other.uid)
    dairy = NewProbe("Dairy machine logger", machine.uid)
    targets: list[Target] = [room, shelf, dairy, barn]
    file = read(SMALL)
    assert suggest_target(journal, targets, file) == room
    batch = add_batch(journal, machine, "26-05", at(3, 9))
    # A probe that hangs there goes before a new one.
    assert suggest_target(journal, targets, file) == shelf
    new = add_batch(journal, other, "26-06", at(3, 9))
    assert suggest_target(journal, targets, file, batch.uid) == shelf
    assert suggest_target(journal, targets, file, new.uid) == barn
    # A file goes where it went before.
    run_import(journal, room, file, NOW)
    assert suggest_target(journal, targets, file, new.uid) == room


def test_of_two_probes_in_a_machine_the_one_is_likelier_that_had_such_a_file_before(
    journal: Journal, machine: Machine, read: Callable[..., ReadFile]
) -> None:
    first, second = add_probe(journal, "P1", machine), add_probe(journal, "P2", machine)
    add_batch(journal, machine, "26-05", at(3, 9))
    assert suggest_target(journal, [first, second], read(SMALL)) == first
    run_import(journal, second, read(SMALL, "p2.csv"), NOW)
    assert (
        suggest_target(journal, [first, second], read(SMALL + "2026-05-04 09:00,37,50\n", "p2.csv")) == second
    )
