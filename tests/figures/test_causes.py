"""The causes of batches whose story is known."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hatchbook.figures.cause_results import BatchCauses, CauseFigures, Caution, Strength
from hatchbook.figures.causes import batch_causes
from hatchbook.journal import BreakOut, Event, Hatching, PastBatch, Pen
from hatchbook.trade.cause_codes import CauseCode, CauseSign, FactCode
from hatchbook.trade.codes import (
    BreakOutResult,
    BreakOutSign,
    EggSource,
    EventKind,
    FindingCode,
    HatchMark,
    Malposition,
)

DAY, HOUR = 86_400, 3_600
SET_AT = 1_777_917_600
CLOSED = 23.0


def hatch(hatchery: Any, batch: Any, numbers: Sequence[int], day: float = 20.8, apart_h: float = 1.0) -> None:
    eggs = hatchery.eggs(batch)
    hatchery.journal.hatchings.note(
        batch.uid,
        [
            Hatching(eggs[number], batch.set_at + round(day * DAY + at * apart_h * HOUR), HatchMark.HATCHED)
            for at, number in enumerate(numbers)
        ],
    )


def opened(
    hatchery: Any,
    batch: Any,
    numbers: Sequence[int],
    result: BreakOutResult,
    signs: Sequence[BreakOutSign] = (),
    lies: Sequence[Malposition] = (),
) -> None:
    eggs = hatchery.eggs(batch)
    at = batch.set_at + round(22 * DAY)
    records = [BreakOut(eggs[number], at, result) for number in numbers]
    hatchery.journal.break_outs.keep_all(batch.uid, records, signs=signs, malpositions=lies)


def readings(hatchery: Any, humidity: float, degrees: float = 37.5, lockdown: float = 65.0) -> None:
    at = np.arange(SET_AT, SET_AT + 21 * DAY, 600)
    values = np.where(at < SET_AT + 18 * DAY, humidity, lockdown)
    noise = 0.05 * np.random.default_rng(1).standard_normal(at.size)
    hatchery.log(at, values, degrees + noise)


def causes(hatchery: Any, batch: Any) -> BatchCauses:
    hatchery.close(batch, CLOSED)
    return batch_causes(hatchery.journal, batch.uid, SET_AT + 40 * DAY)


def one(found: BatchCauses, code: CauseCode) -> CauseFigures:
    return next(cause for cause in found.causes if cause.code is code)


@pytest.fixture
def drowned(hatchery: Any) -> BatchCauses:
    """12 eggs kept at 56 %, 7 hatched, 4 dead late and wet, one infertile; the vent was closed on day 2."""
    batch = hatchery.add_batch(eggs=12, loss_low_percent=11.0, loss_high_percent=13.0, loss_day=18.0)
    at = np.arange(SET_AT, SET_AT + 21 * DAY, 600)
    wet = np.where(at < SET_AT + 2 * DAY, 45.0, np.where(at < SET_AT + 18 * DAY, 58.0, 65.0))
    hatchery.log(at, wet, 37.5)
    vent = Event(SET_AT + 2 * DAY, EventKind.VENT, machine=hatchery.machine.uid, vent=0.25, uid="closed-vent")
    hatchery.journal.events.add(vent)
    hatch(hatchery, batch, range(1, 8))
    wet_signs = (BreakOutSign.WET, BreakOutSign.SMALL_AIR_CELL)
    opened(hatchery, batch, range(8, 12), BreakOutResult.LATE_DEAD, wet_signs)
    opened(hatchery, batch, [12], BreakOutResult.INFERTILE)
    return causes(hatchery, batch)


def test_a_batch_that_was_kept_too_humid_says_so_strongly(drowned: BatchCauses) -> None:
    humid = drowned.causes[0]
    assert (humid.code, humid.strength) == (CauseCode.TOO_HUMID, Strength.STRONG)
    item = humid.for_[0]
    assert item.code is FactCode.HUMIDITY_BEFORE_LOCKDOWN
    assert item.values["mean"] == pytest.approx(56.6, abs=0.2)
    assert "closed-vent" in {record.uid for record in item.records}
    assert (drowned.lost, drowned.fertile) == (4, 11)
    assert drowned.stands_out


def test_each_wet_egg_is_a_record_to_open(drowned: BatchCauses) -> None:
    (wet,) = [item for item in drowned.causes[0].for_ if item.code is FactCode.WET]
    assert (wet.values["count"], wet.values["of"]) == (4, 4)
    assert [record.values["number"] for record in wet.records] == [8, 9, 10, 11]
    assert {record.kind for record in wet.records} == {"break_out"}


def test_what_contradicts_it_is_unlikely(drowned: BatchCauses) -> None:
    assert one(drowned, CauseCode.TOO_DRY).strength is Strength.UNLIKELY
    assert one(drowned, CauseCode.TOO_WARM).strength is Strength.UNLIKELY
    assert one(drowned, CauseCode.CHILLED).strength is Strength.UNLIKELY


def test_signs_are_counted_of_the_eggs_they_are_of(drowned: BatchCauses) -> None:
    seen = {sign.code: (sign.count, sign.of) for sign in drowned.signs}
    assert seen == {
        CauseSign.INFERTILE: (1, 12),
        CauseSign.LATE_DEATHS: (4, 12),
        CauseSign.WET: (4, 4),
        CauseSign.SMALL_AIR_CELL: (4, 4),
    }


def test_without_readings_and_weighings_what_would_tell_is_unknown(hatchery: Any) -> None:
    batch = hatchery.add_batch(eggs=8)
    hatch(hatchery, batch, range(1, 6))
    opened(hatchery, batch, range(6, 9), BreakOutResult.LATE_DEAD)
    found = causes(hatchery, batch)
    humid = one(found, CauseCode.TOO_HUMID)
    asked = {item.code for item in humid.unknown}
    assert {FactCode.HUMIDITY_BEFORE_LOCKDOWN, FactCode.WEIGHT_LOSS, FactCode.HYGROMETER_CHECKED} <= asked
    assert one(found, CauseCode.CHILLED).strength is Strength.NOT_KNOWN
    assert not found.stands_out


def test_no_turning_logged_is_not_known_rather_than_missed(hatchery: Any) -> None:
    batch = hatchery.add_batch(eggs=8)
    hatch(hatchery, batch, range(1, 6))
    opened(hatchery, batch, range(6, 9), BreakOutResult.LATE_DEAD)
    turning = one(causes(hatchery, batch), CauseCode.TURNING)
    assert FactCode.TURNS_MISSED in {item.code for item in turning.unknown}


def test_a_hot_incubation_speaks_for_too_warm(hatchery: Any) -> None:
    batch = hatchery.add_batch(eggs=8)
    readings(hatchery, 45.0, 38.4)
    hatch(hatchery, batch, range(1, 6))
    opened(hatchery, batch, range(6, 9), BreakOutResult.EARLY_DEAD)
    found = causes(hatchery, batch)
    warm = one(found, CauseCode.TOO_WARM)
    assert {item.code for item in warm.for_} >= {
        FactCode.TEMPERATURE_EARLY,
        FactCode.TEMPERATURE_BEFORE_LOCKDOWN,
    }
    # All of one kind: some evidence, not a strong case.
    assert warm.strength is Strength.SOME
    assert one(found, CauseCode.TOO_COOL).strength is Strength.UNLIKELY


def test_old_eggs_speak_for_storage(hatchery: Any) -> None:
    eggs = [{"laid_on": "2026-04-20"}] * 8
    batch = hatchery.add_batch(each_egg=eggs)
    readings(hatchery, 45.0)
    hatch(hatchery, batch, range(1, 6), apart_h=10)
    opened(hatchery, batch, range(6, 9), BreakOutResult.EARLY_DEAD)
    found = causes(hatchery, batch)
    storage = one(found, CauseCode.STORAGE)
    assert {item.code for item in storage.for_} == {
        FactCode.AGE_MEAN,
        FactCode.AGE_OLDEST,
        FactCode.SPREAD,
    }
    assert storage.strength is Strength.STRONG
    assert CauseSign.DRAWN_OUT in {sign.code for sign in found.signs}


def test_lies_of_eggs_that_were_not_turned_are_seen(hatchery: Any) -> None:
    batch = hatchery.add_batch(eggs=8)
    hatch(hatchery, batch, range(1, 5))
    lies = (Malposition.IV_BEAK_AWAY_FROM_AIR_CELL,)
    opened(hatchery, batch, [5, 6], BreakOutResult.LATE_DEAD, lies=lies)
    opened(hatchery, batch, [7, 8], BreakOutResult.LATE_DEAD)
    turning = one(causes(hatchery, batch), CauseCode.TURNING)
    assert [item.code for item in turning.for_] == [FactCode.UNTURNED_LIES]


def test_shipping_is_considered_for_shipped_eggs_only(hatchery: Any) -> None:
    codes = []
    for source in (EggSource.OWN, EggSource.SHIPPED):
        batch = hatchery.add_batch(eggs=8, source=source)
        hatch(hatchery, batch, range(1, 6))
        opened(hatchery, batch, [6, 7, 8], BreakOutResult.LATE_DEAD, (BreakOutSign.MALFORMED,))
        codes.append({cause.code for cause in causes(hatchery, batch).causes})
    assert CauseCode.SHIPPING not in codes[0]
    assert CauseCode.SHIPPING in codes[1]


def test_a_vent_shut_in_lockdown_speaks_for_stale_air(hatchery: Any) -> None:
    batch = hatchery.add_batch(eggs=8)
    machine = hatchery.machine.uid
    hatchery.journal.events.add(Event(SET_AT, EventKind.VENT, machine=machine, vent=0.5))
    hatchery.journal.events.add(Event(SET_AT + 19 * DAY, EventKind.VENT, machine=machine, vent=0.0))
    hatch(hatchery, batch, range(1, 6))
    opened(hatchery, batch, [6, 7, 8], BreakOutResult.PIPPED_DEAD)
    (item,) = one(causes(hatchery, batch), CauseCode.VENTILATION).for_
    assert (item.code, item.values["hours"]) == (FactCode.VENT_SHUT_IN_LOCKDOWN, 48.0)


def test_rotten_eggs_alone_stay_weak_and_bring_a_caution(hatchery: Any) -> None:
    batch = hatchery.add_batch(eggs=8)
    hatchery.candle(batch, 14.0, {6: FindingCode.ROTTEN, 7: FindingCode.ROTTEN, 8: FindingCode.ROTTEN})
    hatch(hatchery, batch, range(1, 6))
    found = causes(hatchery, batch)
    dirt = one(found, CauseCode.DIRT)
    assert (dirt.strength, dirt.memory_alone) == (Strength.WEAK, True)
    assert Caution.ROTTEN_EGGS in found.cautions


def test_unopened_clears_are_not_taken_for_infertile(hatchery: Any) -> None:
    batch = hatchery.add_batch(eggs=8)
    hatchery.candle(batch, 7.0, {6: FindingCode.CLEAR, 7: FindingCode.CLEAR, 8: FindingCode.CLEAR})
    hatch(hatchery, batch, range(1, 6))
    infertility = one(causes(hatchery, batch), CauseCode.INFERTILITY)
    assert FactCode.INFERTILE in {item.code for item in infertility.unknown}


def test_a_batch_that_lost_nothing_has_no_causes(hatchery: Any) -> None:
    batch = hatchery.add_batch(eggs=6)
    hatch(hatchery, batch, range(1, 7))
    found = causes(hatchery, batch)
    assert (found.lost, found.causes, found.signs) == (0, (), ())


# -------------------------------------------------------------------- the breeder's other batches


def past(hatchery: Any, label: str, pen: Pen | None, late: int, hatched: int, clear: int = 2) -> None:
    hatchery.journal.past_batches.add(
        PastBatch(
            label,
            2025,
            "hen",
            late + hatched + clear,
            pen=None if pen is None else pen.uid,
            machine=hatchery.machine.uid,
            clear=clear,
            early_dead=0,
            mid_dead=0,
            late_dead=late,
            pipped_dead=0,
            hatched=hatched,
        )
    )


@pytest.fixture
def pens(hatchery: Any) -> tuple[Pen, Pen]:
    brook, orchard = Pen("Brook", species="hen"), Pen("Orchard", species="hen")
    hatchery.journal.pens.add(brook)
    hatchery.journal.pens.add(orchard)
    for number in range(5):
        past(hatchery, f"25-0{number}", orchard, 2 + number % 2, 28)
        past(hatchery, f"25-1{number}", brook, 11 + number % 2, 19)
    return brook, orchard


def lost_late(hatchery: Any, pen: Pen, late: int, hatched: int) -> BatchCauses:
    batch = hatchery.add_batch(each_egg=[{"pen": pen.uid}] * (late + hatched))
    hatch(hatchery, batch, range(1, hatched + 1), apart_h=0.5)
    if late:
        opened(hatchery, batch, range(hatched + 1, hatched + late + 1), BreakOutResult.LATE_DEAD)
    return causes(hatchery, batch)


def test_a_pen_that_hatches_worse_than_the_others_speaks_for_its_stock(
    hatchery: Any, pens: tuple[Pen, Pen]
) -> None:
    stock = one(lost_late(hatchery, pens[0], 8, 12), CauseCode.STOCK)
    by_code = {item.code: item for item in stock.for_}
    assert set(by_code) == {FactCode.PEN_HATCH, FactCode.PEN_HATCH_SURE}
    values = by_code[FactCode.PEN_HATCH].values
    assert (values["pen"], values["batches"], values["hits"]) == ("Brook", 5, 95)
    # 95 of 152 against 140 of 152: this batch's own losses do not count.
    assert values["value"] == pytest.approx(100 * (95 / 152 - 140 / 152))
    assert stock.strength is Strength.SOME


def test_a_pen_that_hatches_as_well_as_the_others_speaks_against_it(
    hatchery: Any, pens: tuple[Pen, Pen]
) -> None:
    found = lost_late(hatchery, pens[1], 8, 12)
    assert one(found, CauseCode.STOCK).strength is Strength.UNLIKELY


def test_the_chance_of_such_losses_is_that_among_the_own_batches(
    hatchery: Any, pens: tuple[Pen, Pen]
) -> None:
    usual, many = lost_late(hatchery, pens[0], 5, 15), lost_late(hatchery, pens[0], 16, 4)
    assert usual.chance is not None
    assert many.chance is not None
    assert many.chance < 0.05 < usual.chance <= 1.0
    assert usual.other_batches == 10


def test_with_few_other_batches_no_chance_is_told(hatchery: Any) -> None:
    pen = Pen("Brook", species="hen")
    hatchery.journal.pens.add(pen)
    past(hatchery, "25-01", pen, 3, 20)
    found = lost_late(hatchery, pen, 6, 14)
    assert (found.chance, found.other_batches) == (None, 1)


def test_other_species_do_not_count(hatchery: Any, pens: tuple[Pen, Pen]) -> None:
    batch = hatchery.add_batch(eggs=8, species="duck")
    hatch(hatchery, batch, range(1, 6))
    opened(hatchery, batch, [6, 7, 8], BreakOutResult.LATE_DEAD)
    found = causes(hatchery, batch)
    assert (found.chance, found.other_batches) == (None, 0)


def test_a_late_hatch_is_late_against_the_own_batches(hatchery: Any) -> None:
    for number in range(3):
        earlier = hatchery.add_batch(SET_AT - (number + 1) * 60 * DAY, eggs=6)
        hatch(hatchery, earlier, range(1, 7), day=20.5)
        hatchery.close(earlier, CLOSED)
    batch = hatchery.add_batch(eggs=8)
    hatch(hatchery, batch, range(1, 7), day=21.5)
    opened(hatchery, batch, [7, 8], BreakOutResult.LATE_DEAD)
    found = causes(hatchery, batch)
    assert CauseSign.LATE_HATCH in {sign.code for sign in found.signs}
    (item,) = [item for item in one(found, CauseCode.TOO_COOL).for_ if item.code is FactCode.HATCH_LATE]
    assert item.values["hours"] == pytest.approx(24.0)


def test_the_causes_read_as_json(drowned: BatchCauses, as_json: Callable[[Any], Any]) -> None:
    plain = as_json(drowned)
    assert plain["causes"][0]["code"] == "too_humid"
    assert plain["stands_out"] is True
    assert as_json(replace(drowned, chance=None))["chance"] is None
