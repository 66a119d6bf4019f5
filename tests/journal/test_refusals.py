"""Nonsense is refused by the tables themselves, and nothing of its step is stored."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from hatchbook.journal import Egg, Event, Machine, Reading, RecordRefusedError
from hatchbook.trade.codes import EventKind

SET_AT = 1_776_708_000

#: What is changed in a record of the filled journal, and the rule that stops it.
NONSENSE: list[tuple[str, dict[str, Any], str]] = [
    ("machine", {"name": ""}, "check"),
    ("machine", {"name": "Old one"}, "unique"),
    ("machine", {"kind": "oven"}, "check"),
    ("machine", {"altitude_m": 9000.0}, "check"),
    ("machine", {"altitude_m": float("nan")}, "not_null"),
    ("machine", {"tray_rows": 0}, "check"),
    ("machine", {"trays": 21}, "check"),
    ("machine", {"tray_columns": "six"}, "type"),
    ("machine", {"retired_on": "2026-02-30"}, "check"),
    ("machine", {"retired_on": "30.4.2026"}, "check"),
    ("channel", {"area_cm2": 0.0}, "check"),
    ("channel", {"volume_ml": -1.0}, "check"),
    ("channel", {"position": 0}, "check"),
    ("channel", {"machine": "nowhere"}, "foreign_key"),
    ("probe", {"name": "Room"}, "unique"),
    ("probe", {"accuracy_humidity": 0.0}, "check"),
    ("check", {"reference_value": 101.0}, "check"),
    ("check", {"shown_value": -1.0}, "check"),
    ("check", {"quantity": "wind"}, "check"),
    ("check", {"method": "guess"}, "check"),
    ("check", {"at": 1.5}, "type"),
    ("pen", {"name": ""}, "check"),
    ("pen", {"from_on": "yesterday"}, "check"),
    ("member", {"sex": "unknown"}, "check"),
    ("member", {"pen": "nowhere"}, "foreign_key"),
    ("programme", {"definition": "21 days"}, "check"),
    ("batch", {"label": ""}, "check"),
    ("batch", {"machine": "nowhere"}, "foreign_key"),
    ("batch", {"incubation_days": 0.0}, "check"),
    ("batch", {"incubation_days": float("inf")}, "check"),
    ("batch", {"mid_until_day": 7.0}, "check"),
    ("batch", {"loss_low_percent": 13.0, "loss_high_percent": 12.0}, "check"),
    ("batch", {"closed_at": SET_AT - 1}, "check"),
    ("batch", {"programme": "{"}, "check"),
    ("batch", {"weigh_plan": "some"}, "check"),
    ("batch", {"source": "found"}, "check"),
    ("phase", {"humidity_aim": 51.0}, "check"),
    ("phase", {"humidity_high": 100.5}, "check"),
    ("phase", {"to_day": 0.0}, "check"),
    ("phase", {"temperature_aim_c": 99.5}, "check"),
    ("phase", {"turns_per_day": 49}, "check"),
    ("duty", {"ordinal": 3}, "check"),
    ("duty", {"kind": ""}, "check"),
    ("egg", {"number": 2}, "unique"),
    ("egg", {"number": 0}, "check"),
    ("egg", {"tray_column": 2}, "unique"),
    ("egg", {"tray_row": None}, "check"),
    ("egg", {"set_mass_g": 0.0}, "check"),
    ("egg", {"set_mass_g": float("inf")}, "check"),
    ("egg", {"set_mass_g": "61,2"}, "type"),
    ("egg", {"laid_on": "2026-13-01"}, "check"),
    ("egg", {"marked": 2}, "check"),
    ("egg", {"pen": "nowhere"}, "foreign_key"),
    ("candling", {"ended_at": 0}, "check"),
    ("weighing", {"tray_mass_g": 0.0}, "check"),
    ("weighing", {"tare_g": -0.1}, "check"),
    ("weighing", {"eggs_on_tray": 0}, "check"),
    ("mass", {"mass_g": -58.4}, "check"),
    ("mass", {"mass_g": None}, "not_null"),
    ("mass", {"entered": "2.06 oz"}, "check"),
    ("event", {"vent": 1.2}, "check"),
    ("event", {"channels_filled": -1}, "check"),
    ("event", {"machine": None, "batch": None}, "check"),
    ("event", {"ends_at": 0}, "check"),
    ("hatching", {"mark": "flew"}, "check"),
    ("hatching", {"chick_mass_g": 0.0}, "check"),
    ("removal", {"reason": "eaten"}, "check"),
    ("break_out", {"result": "fine"}, "check"),
    ("break_out", {"dead_day": -1.0}, "check"),
    ("reading", {"humidity": 100.1}, "check"),
    ("reading", {"humidity": -0.1}, "check"),
    ("reading", {"temperature_c": 101.0}, "check"),
    ("reading", {"temperature_c": None, "humidity": None}, "check"),
    ("reading", {"temperature_c": float("nan"), "humidity": float("nan")}, "check"),
    ("past_batch", {"eggs_set": 0}, "check"),
    ("past_batch", {"hatched": 22}, "check"),
    ("past_batch", {"infertile_opened": 4}, "check"),
    ("past_batch", {"season": 26}, "check"),
]


@pytest.mark.parametrize(
    ("name", "values", "rule"), NONSENSE, ids=[f"{name}-{values}" for name, values, _ in NONSENSE]
)
def test_a_record_with_nonsense_is_refused_and_nothing_is_stored(
    filled: SimpleNamespace, contents: Callable[..., Any], name: str, values: dict[str, Any], rule: str
) -> None:
    filled.phase, filled.duty, filled.egg = filled.phases[0], filled.duties[0], filled.eggs[0]
    before = contents(filled.journal), filled.journal.history.steps()

    def enter() -> None:
        with filled.journal.step("nonsense") as step:
            step.add(Machine("stored with it", 1, 1))
            step.replace(replace(getattr(filled, name), **values))

    with pytest.raises(RecordRefusedError) as refused:
        enter()
    assert refused.value.fields["rule"] == rule
    assert "constraint" not in str(refused.value)
    assert (contents(filled.journal), filled.journal.history.steps()) == before


def test_what_stands_already_is_named(filled: SimpleNamespace) -> None:
    again = replace(filled.batch, uid="another")
    with pytest.raises(RecordRefusedError, match=r"holds such an entry already \(batch\.label\)") as refused:
        filled.journal.batches.set_batch(again, [], [], [])
    assert refused.value.fields["where"] == "batch.label"
    assert refused.value.code == "refused"


def test_what_others_refer_to_is_not_removed(filled: SimpleNamespace) -> None:
    journal = filled.journal
    for collection, record in [
        (journal.machines, filled.machine),
        (journal.probes, filled.probe),
        (journal.pens, filled.pen),
        (journal.eggs, filled.eggs[0]),
        (journal.candlings, filled.candling),
        (journal.batches, filled.batch),
    ]:
        with pytest.raises(RecordRefusedError) as refused:
            collection.remove(record)
        assert refused.value.fields["rule"] == "foreign_key"
    with pytest.raises(RecordRefusedError):
        journal.pens.remove_member(filled.member)


def test_a_refusal_caught_within_a_step_leaves_the_rest_of_the_step(filled: SimpleNamespace) -> None:
    journal = filled.journal
    with journal.step("two machines") as step:
        with pytest.raises(RecordRefusedError):
            step.add(Machine("Old one", 1, 1))
        step.add(Machine("Third", 1, 1))
    assert "Third" in [machine.name for machine in journal.machines.all()]
    assert [change.kind for change in journal.history.changes(step.done.step.number)] == ["machine"]


def test_numbers_of_numpy_are_stored_as_numbers(filled: SimpleNamespace) -> None:
    event = Event(
        np.int64(SET_AT),
        EventKind.WATER,
        filled.machine.uid,
        channels_filled=np.int32(1),
        vent=np.float32(0.5),
    )
    filled.journal.events.add(event)
    stored = filled.journal.events.find(event.uid)
    assert stored == event
    assert (type(stored.at), type(stored.channels_filled), type(stored.vent)) == (int, int, float)


def test_another_program_cannot_store_nonsense_either(filled: SimpleNamespace) -> None:
    filled.journal.close()
    with closing(sqlite3.connect(filled.journal.path)) as other:
        for statement in (
            "UPDATE reading SET humidity = 130",
            "UPDATE egg SET set_mass_g = 'heavy'",
            "UPDATE egg SET set_mass_g = -1",
            "UPDATE egg SET set_mass_g = 9e999",
            "UPDATE egg_mass SET mass_g = 9e999",
            "INSERT INTO history_step VALUES (99, 'x', 0, 'c', NULL, '{}', 'perhaps')",
        ):
            with pytest.raises(sqlite3.IntegrityError):
                other.execute(statement)


@pytest.mark.parametrize("text", ["Hühnerei № 7 🥚", "'; DROP TABLE egg; --", "a\nb\tc", "nul\0inside", ""])
def test_text_comes_back_as_it_was_typed(filled: SimpleNamespace, text: str) -> None:
    egg = replace(filled.eggs[0], remark=text)
    filled.journal.eggs.replace(egg)
    assert filled.journal.eggs.get(egg.uid).remark == text
    filled.journal.undo()
    filled.journal.redo()
    assert filled.journal.eggs.get(egg.uid).remark == text


@pytest.mark.parametrize("values", [{"remark": "half a \ud83e sign"}, {"number": 2**63}])
def test_what_cannot_be_kept_at_all_is_refused(
    filled: SimpleNamespace, contents: Callable[..., Any], values: dict[str, Any]
) -> None:
    before = contents(filled.journal)
    with pytest.raises(RecordRefusedError) as refused:
        filled.journal.eggs.replace(replace(filled.eggs[0], **values))
    assert refused.value.fields["rule"] == "type"
    assert contents(filled.journal) == before


def test_a_reading_twice_at_one_instant_is_refused(filled: SimpleNamespace) -> None:
    with pytest.raises(RecordRefusedError, match="already") as refused:
        filled.journal.readings.add(Reading(filled.probe.number, filled.reading.at, 37.0, 50.0))
    assert refused.value.fields["rule"] == "unique"
    assert filled.journal.readings.at(filled.probe.number, filled.reading.at) == filled.reading


def test_an_egg_of_an_unknown_batch_is_refused(filled: SimpleNamespace) -> None:
    with pytest.raises(RecordRefusedError, match="refer"):
        filled.journal.eggs.add(Egg("nowhere", 1))
