"""Every kind of record comes back as it went in, and each collection finds what is asked of it."""

from __future__ import annotations

import dataclasses
import typing
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest
from hatchbook.journal import (
    Egg,
    Journal,
    JournalError,
    Machine,
    RecordMissingError,
)

DAY = 86_400
SET_AT = 1_776_708_000


def test_the_filled_journal_has_every_kind_and_is_sound(
    filled: SimpleNamespace, every_kind: dict[str, type[Any]]
) -> None:
    report = filled.journal.check()
    assert report.problems == report.remarks == ()
    assert {kind for kind in every_kind if report.counts[kind] == 0} == set()


def test_every_table_has_its_record_class_with_the_same_columns(
    journal: Journal, every_kind: dict[str, type[Any]]
) -> None:
    store = journal._store
    tables = {name for (name,) in store.rows("SELECT name FROM sqlite_schema WHERE type = 'table'")}
    assert tables - {"history_step", "history_change"} == set(every_kind)
    for table, record_class in every_kind.items():
        columns = {row[1] for row in store.rows(f"PRAGMA table_info({table})")}
        assert columns == {field.name for field in dataclasses.fields(record_class)}, table


def test_every_table_is_strict_and_its_uids_are_unique(
    journal: Journal, every_kind: dict[str, type[Any]]
) -> None:
    strict = dict(journal._store.rows("SELECT name, strict FROM pragma_table_list WHERE type = 'table'"))
    assert {name for name, is_strict in strict.items() if not is_strict} <= {
        "sqlite_schema",
        "sqlite_temp_schema",
    }
    assert journal._store.one("PRAGMA foreign_keys") == (1,)


RECORDS = [
    "machine",
    "channel",
    "probe",
    "check",
    "pen",
    "member",
    "programme",
    "batch",
    "candling",
    "weighing",
]
RECORDS += ["mass", "event", "batch_event", "hatching", "removal", "break_out", "past_batch"]


@pytest.mark.parametrize("name", RECORDS)
def test_a_record_comes_back_equal_and_of_the_same_types(filled: SimpleNamespace, name: str) -> None:
    record = getattr(filled, name)
    (back,) = filled.journal._store.records(type(record), "uid = ?", (record.uid,))
    assert back == record
    for field in dataclasses.fields(record):
        stored, given = getattr(back, field.name), getattr(record, field.name)
        assert type(stored) is type(given), field.name


@pytest.mark.parametrize(
    "name", [name for name in RECORDS if name not in ("channel", "check", "member", "mass")]
)
def test_a_collection_gets_finds_and_lists_its_records(filled: SimpleNamespace, name: str) -> None:
    record = getattr(filled, name)
    collection = next(
        part for part in vars(filled.journal).values() if getattr(part, "record_class", None) is type(record)
    )
    assert collection.get(record.uid) == collection.find(record.uid) == record
    assert record in collection.all()
    assert collection.find("nowhere") is None
    with pytest.raises(RecordMissingError, match="no longer in the journal"):
        collection.get("nowhere")
    with pytest.raises(RecordMissingError):
        collection.replace(replace(record, uid="nowhere"))


def test_optional_values_may_be_missing(filled: SimpleNamespace) -> None:
    egg = Egg(filled.batch.uid, 7)
    filled.journal.eggs.add(egg)
    assert filled.journal.eggs.get(egg.uid) == egg
    assert {value for value in vars(egg).values() if value is None}


def test_uids_are_random_and_kept(filled: SimpleNamespace) -> None:
    uids = [Machine("M", 1, 1).uid for _ in range(1000)]
    assert len(set(uids)) == 1000
    assert all(len(uid) == 16 and int(uid, 16) >= 0 for uid in uids)
    assert filled.journal.machines.get(filled.machine.uid).uid == filled.machine.uid


# ------------------------------------------------------------------ machines, probes, pens


def test_a_machine_keeps_its_channels_and_gains_or_loses_the_last(filled: SimpleNamespace) -> None:
    machines = filled.journal.machines
    first = machines.channels(filled.machine.uid)
    assert [channel.position for channel in first] == [1, 2]
    machines.keep(replace(filled.machine, note="cellar"), channels=3)
    assert machines.channels(filled.machine.uid)[:2] == first
    machines.keep(machines.get(filled.machine.uid), channels=1)
    assert machines.channels(filled.machine.uid) == first[:1]
    machines.keep(machines.get(filled.machine.uid))
    assert machines.channels(filled.machine.uid) == first[:1]
    assert machines.get(filled.machine.uid).note == "cellar"
    assert filled.machine.places == 8


def test_a_machine_without_batches_goes_with_its_channels(filled: SimpleNamespace) -> None:
    filled.journal.machines.remove(filled.other_machine)
    assert filled.journal.machines.all() == [filled.machine]
    assert filled.journal.machines.channels(filled.other_machine.uid) == []


def test_a_probe_without_readings_goes_with_its_stays_and_checks(filled: SimpleNamespace) -> None:
    probes = filled.journal.probes
    probes.add_to("P2", machine=filled.machine.uid, from_at=SET_AT)
    probe = probes.by_name("P2")
    probes.add_check(replace(filled.check, probe=probe.uid, uid="c2"))
    probes.remove(probe)
    assert probes.by_name("P2") is None
    assert probes.placements(probe.uid) == probes.checks(probe.uid) == []


def test_a_pen_goes_with_its_birds_unless_eggs_came_from_it(filled: SimpleNamespace) -> None:
    pens = filled.journal.pens
    assert pens.by_name("North pen") == filled.pen
    assert pens.members(filled.pen.uid) == [filled.member]
    filled.journal.batches.delete(filled.batch)
    pens.remove(filled.pen)
    assert pens.all() == []


def stays(journal: Journal, probe: str) -> list[tuple[str | None, int, int | None]]:
    return [
        (placement.machine, placement.from_at - SET_AT, placement.until_at and placement.until_at - SET_AT)
        for placement in journal.probes.placements(probe)
    ]


def test_a_probe_hangs_in_one_place_at_a_time(filled: SimpleNamespace) -> None:
    journal, probe = filled.journal, filled.probe
    one, other = filled.machine.uid, filled.other_machine.uid
    journal.probes.move(probe, machine=other, at=SET_AT + 18 * DAY)
    assert stays(journal, probe.uid) == [(one, -DAY, 18 * DAY), (other, 18 * DAY, None)]
    journal.probes.move(probe, machine=None, at=SET_AT + 18 * DAY)  # the same move, corrected
    assert stays(journal, probe.uid) == [(one, -DAY, 18 * DAY), (None, 18 * DAY, None)]
    journal.probes.move(probe, machine=other, at=SET_AT + 5 * DAY)  # a move remembered later
    assert stays(journal, probe.uid) == [
        (one, -DAY, 5 * DAY),
        (other, 5 * DAY, 18 * DAY),
        (None, 18 * DAY, None),
    ]
    journal.probes.move(probe, machine=other, at=SET_AT - 3 * DAY)  # before it was known
    assert stays(journal, probe.uid)[0] == (other, -3 * DAY, -DAY)
    assert journal.check().sound


def test_where_a_probe_hung_and_which_hung_somewhere(filled: SimpleNamespace) -> None:
    journal, probe, machine = filled.journal, filled.probe, filled.machine.uid
    journal.probes.move(probe, machine=None, at=SET_AT + 10 * DAY)
    assert journal.probes.machine_of(probe.uid, SET_AT + 10 * DAY - 1) == machine
    assert journal.probes.machine_of(probe.uid, SET_AT + 10 * DAY) is None
    (stay,) = journal.probes.stays(machine, SET_AT, SET_AT + 21 * DAY)
    assert (stay.probe, stay.start_at, stay.end_at) == (probe, SET_AT, SET_AT + 10 * DAY)
    assert [found.name for found in journal.probes.present_in(None, SET_AT)] == ["Room"]
    assert {found.name for found in journal.probes.present_in(None, SET_AT + 10 * DAY)} == {"Room", "P1"}
    assert journal.probes.checks(probe.uid) == [filled.check]
    assert journal.probes.next_number() == 3


# ------------------------------------------------------------------ settings


def test_settings_of_the_journal(journal: Journal) -> None:
    assert (journal.settings.season_first_month, journal.settings.is_demo) == (1, False)
    journal.settings.set_season_first_month(11)
    journal.settings.set_zone("America/St_Johns")
    journal.settings.mark_as_demo()
    assert journal.settings.season_first_month == 11
    assert journal.zone.key == "America/St_Johns"
    assert journal.settings.is_demo
    with pytest.raises(ValueError, match="1 to 12"):
        journal.settings.set_season_first_month(13)


def test_a_time_zone_that_is_not_known_is_told(filled: SimpleNamespace) -> None:
    with pytest.raises(JournalError, match="no time zone Mars/Olympus"):
        filled.journal.settings.set_zone("Mars/Olympus")
    filled.journal._store.connection.execute(
        "UPDATE setting SET value = 'Mars/Olympus' WHERE key = 'time_zone'"
    )
    with pytest.raises(JournalError, match="no time zone Mars/Olympus on this computer"):
        filled.journal.zone  # noqa: B018


def test_every_mutating_method_says_what_it_returns(journal: Journal) -> None:
    for part in vars(journal).values():
        if hasattr(part, "record_class"):
            for name in ("add", "replace", "remove"):
                assert typing.get_type_hints(getattr(part, name))["return"].__name__ == "Change"
