"""The journal of a batch, line by line."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hatchbook.figures import LineKind, journal_lines
from hatchbook.journal import BreakOut, Event, Hatching, Reading, Removal
from hatchbook.trade.codes import BreakOutResult, EventKind, FindingCode, HatchMark, RemovalReason

DAY, HOUR = 86_400, 3_600
#: 2026-05-04 18:00 UTC, 19:00 in Lisbon.
SET_AT = 1_777_917_600
NOW = SET_AT + 40 * DAY


def lines(hatchery: Any, batch: Any, kind: LineKind | None = None, now: int = NOW) -> list[Any]:
    found = journal_lines(hatchery.journal, batch.uid, now)
    return [line for line in found if kind is None or line.kind is kind]


def test_lines_are_told_newest_first(hatchery: Any) -> None:
    batch = hatchery.add_batch(each_egg=[{"set_mass_g": 60.0}, {"set_mass_g": 50.0}, {}])
    hatchery.candle(batch, 7, {1: FindingCode.ALIVE, 2: FindingCode.CLEAR, 3: FindingCode.ALIVE})
    hatchery.journal.events.add(Event(SET_AT + 3 * DAY, EventKind.NOTE, batch=batch.uid, text="smells well"))
    hatchery.close(batch, 22)
    told = lines(hatchery, batch)
    assert [line.kind for line in told] == [LineKind.CLOSED, LineKind.CANDLED, LineKind.EVENT, LineKind.SET]
    closed, candled, event, first = told
    assert first.values == {"eggs": 3, "mean_mass_g": 55.0}
    assert first.record == closed.record == ("batch", batch.uid)
    assert candled.values == {"counts": {"clear": 1, "alive": 2}}
    assert candled.record[0] == "candling"
    assert (event.values["kind"], event.values["text"]) == ("note", "smells well")
    assert closed.values == {}


def test_what_was_noted_later_of_one_instant_stands_above(hatchery: Any) -> None:
    batch = hatchery.add_batch()
    hatchery.journal.events.add(Event(SET_AT, EventKind.WATER, hatchery.machine.uid, channels_filled=2))
    assert [line.kind for line in lines(hatchery, batch)] == [LineKind.EVENT, LineKind.SET]


def test_a_planned_batch_has_not_been_set(hatchery: Any) -> None:
    batch = hatchery.add_batch()
    assert lines(hatchery, batch, now=SET_AT - DAY) == []


def test_a_vent_moved_is_told_with_how_it_stood(hatchery: Any) -> None:
    batch = hatchery.add_batch()
    events = hatchery.journal.events
    for day, vent in ((-3, 0.25), (2, 0.5), (4, 0.75)):
        events.add(Event(SET_AT + day * DAY, EventKind.VENT, hatchery.machine.uid, vent=vent))
    told = lines(hatchery, batch, LineKind.EVENT)
    assert [(line.values["vent_before"], line.values["vent"]) for line in told] == [(0.5, 0.75), (0.25, 0.5)]


def test_the_first_vent_ever_noted_has_nothing_before_it(hatchery: Any) -> None:
    batch = hatchery.add_batch()
    hatchery.journal.events.add(Event(SET_AT + DAY, EventKind.VENT, hatchery.machine.uid, vent=0.5))
    (told,) = lines(hatchery, batch, LineKind.EVENT)
    assert told.values["vent_before"] is None


def test_events_tell_how_long_they_lasted(hatchery: Any) -> None:
    batch = hatchery.add_batch()
    lid = Event(SET_AT + DAY, EventKind.LID, hatchery.machine.uid, ends_at=SET_AT + DAY + 360)
    water = Event(SET_AT + 2 * DAY, EventKind.WATER, hatchery.machine.uid, channels_filled=2, water_ml=300.0)
    for event in (lid, water):
        hatchery.journal.events.add(event)
    told = lines(hatchery, batch, LineKind.EVENT)
    assert told[1].values["seconds"] == 360
    assert (told[0].values["channels_filled"], told[0].values["water_ml"]) == (2, 300.0)
    assert told[0].values["seconds"] is None
    assert told[1].record == ("event", lid.uid)


def test_chicks_of_one_local_day_share_a_line(hatchery: Any) -> None:
    batch = hatchery.add_batch(eggs=5)
    eggs = hatchery.eggs(batch)
    # Midnight in Lisbon is 23:00 UTC: 5 h after the hour of setting.
    moments = {1: 20 * DAY + HOUR, 2: 20 * DAY + 4 * HOUR, 3: 20 * DAY + 6 * HOUR, 4: 21 * DAY + 4 * HOUR}
    hatchery.journal.hatchings.note(
        batch.uid, [Hatching(eggs[n], SET_AT + after, HatchMark.HATCHED) for n, after in moments.items()]
    )
    hatchery.journal.hatchings.note(
        batch.uid, [Hatching(eggs[5], SET_AT + 20 * DAY + 2 * HOUR, HatchMark.EXTERNAL_PIP)]
    )
    told = lines(hatchery, batch, LineKind.HATCHED)
    assert [(line.at - SET_AT, line.values["counts"], line.record) for line in told] == [
        (21 * DAY + 4 * HOUR, {"hatched": 2}, None),
        (20 * DAY + 4 * HOUR, {"external_pip": 1, "hatched": 2}, None),
    ]


def test_opened_eggs_share_a_line_and_one_alone_is_opened_by_it(hatchery: Any) -> None:
    batch = hatchery.add_batch(eggs=4)
    eggs = hatchery.eggs(batch)
    journal = hatchery.journal
    for number, result in ((1, BreakOutResult.LATE_DEAD), (2, BreakOutResult.INFERTILE)):
        journal.break_outs.keep(BreakOut(eggs[number], SET_AT + 22 * DAY + number, result))
    alone = BreakOut(eggs[3], SET_AT + 24 * DAY, BreakOutResult.ROTTEN)
    journal.break_outs.keep(alone)
    told = lines(hatchery, batch, LineKind.OPENED)
    assert [line.values["counts"] for line in told] == [{"rotten": 1}, {"infertile": 1, "late_dead": 1}]
    assert [line.record for line in told] == [("break_out", alone.uid), None]


def test_an_egg_taken_out_is_told_by_its_number(hatchery: Any) -> None:
    batch = hatchery.add_batch()
    removal = Removal(hatchery.eggs(batch)[3], SET_AT + 9 * DAY, RemovalReason.BROKEN)
    hatchery.journal.removals.add(removal)
    (told,) = lines(hatchery, batch, LineKind.TAKEN_OUT)
    assert told.values == {"number": 3, "reason": "broken"}
    assert told.record == ("removal", removal.uid)


def test_readings_typed_in_are_lines_and_a_logger_s_are_not(hatchery: Any) -> None:
    batch = hatchery.add_batch()
    number = hatchery.probe.number
    hatchery.log(np.arange(SET_AT, SET_AT + DAY, 600), 45.0)
    typed = '{"value": 99.7, "unit": "F"}'
    for after in (-DAY, 2 * DAY, 30 * DAY):
        hatchery.journal.readings.add(Reading(number, SET_AT + after, 37.6, 46.0, entered=typed))
    (told,) = lines(hatchery, batch, LineKind.READING)
    assert told.values == {"humidity": 46.0, "temperature_c": 37.6}
    assert told.record == ("reading", f"[{number}, {SET_AT + 2 * DAY}]")


def test_a_file_is_told_where_its_readings_reach_into_the_batch(hatchery: Any) -> None:
    second = hatchery.add_machine("Old one")
    elsewhere = hatchery.add_probe("A2", second)
    batch = hatchery.add_batch()
    for name, begin, probe in (
        ("before.csv", -3, None),
        ("begin.csv", -1, None),
        ("within.csv", 5, None),
        ("after.csv", 29, None),
        ("elsewhere.csv", 5, elsewhere),
    ):
        at = SET_AT + begin * DAY + np.arange(0, 2 * DAY, 3600)
        hatchery.log(at, 45.0, name=name, probe=probe, brought_in_at=SET_AT + (begin + 2) * DAY)
    told = lines(hatchery, batch, LineKind.IMPORTED)
    assert [(line.values["file"], line.values["stored"]) for line in told] == [
        ("within.csv", 48),
        ("begin.csv", 48),
    ]
    assert told[0].at == SET_AT + 7 * DAY
    assert told[0].record[0] == "import_run"


def test_weighings_are_told_with_their_loss(hatchery: Any) -> None:
    from hatchbook.journal import EggMass, Weighing

    batch = hatchery.add_batch(each_egg=[{"set_mass_g": 60.0}, {"set_mass_g": 50.0}])
    eggs = hatchery.eggs(batch)
    for day, masses in ((7, (57.0, 47.0)), (14, (54.0, 45.0))):
        weighing = Weighing(batch.uid, SET_AT + day * DAY)
        hatchery.journal.weighings.note_weighing(
            weighing, [EggMass(weighing.uid, eggs[n + 1], mass) for n, mass in enumerate(masses)]
        )
    told = lines(hatchery, batch, LineKind.WEIGHED)
    assert [line.values for line in told] == [
        {"eggs": 2, "loss_percent": pytest.approx(10.0)},
        {"eggs": 2, "loss_percent": pytest.approx(5.5)},
    ]


def test_the_same_note_on_several_eggs_is_one_line(hatchery: Any) -> None:
    batch = hatchery.add_batch(each_egg=[{}, {}, {}])
    eggs = [egg.uid for egg in hatchery.journal.eggs.of_batch(batch.uid)]
    events = hatchery.journal.events
    events.note_eggs(batch.uid, [eggs[2], eggs[0]], "thin shell", SET_AT + DAY)
    events.note_eggs(batch.uid, [eggs[1]], "thin shell", SET_AT + 2 * DAY)
    one, many = lines(hatchery, batch, LineKind.EVENT)
    assert (many.values["eggs"], many.record) == ([1, 3], None)
    assert one.values == {"kind": "note", "text": "thin shell", "eggs": [2]}
    assert one.record is not None
