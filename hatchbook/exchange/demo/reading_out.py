"""What the demo's probes show, by logger or read off by hand, and the imports by which it came in."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from dataclasses import asdict
from datetime import time, timedelta

import numpy as np
from numpy.typing import NDArray

from hatchbook.exchange.demo.batch_run import BatchRun
from hatchbook.exchange.demo.dates import DemoDates
from hatchbook.exchange.demo.holding import Holding, reads_high
from hatchbook.exchange.demo.room import Room
from hatchbook.exchange.demo.scenario import ProbePlan
from hatchbook.exchange.loggers.layout import ColumnRole, DecimalSign, Encoding, Layout, Separator
from hatchbook.exchange.typed_reading import TypedReading
from hatchbook.journal import ImportRun, Reading, ReadingSeries
from hatchbook.statistics.moisture import pressure_kpa, wet_bulb_c
from hatchbook.trade.codes import Wick
from hatchbook.trade.instants import DAY_S
from hatchbook.trade.units import Typed, Unit, fahrenheit_from_celsius

_BY_HAND_AT = (time(6, 50), time(18, 55))
_BROUGHT_IN_EVERY_DAYS = 7
_LAYOUT = Layout(
    encoding=Encoding.UTF_8,
    separator=Separator.SEMICOLON,
    decimal=DecimalSign.POINT,
    columns=(ColumnRole.DATE_TIME, ColumnRole.TEMPERATURE, ColumnRole.HUMIDITY),
    header_line=1,
    data_line=2,
)
_LAYOUT_JSON = json.dumps(asdict(_LAYOUT))

Floats = NDArray[np.float64]


def logged(run: BatchRun, plan: ProbePlan, dates: DemoDates, number: int, begun_at: int) -> ReadingSeries:
    """What the probe in a batch's machine has logged, without the silences of the logger."""
    keep = run.air.at <= run.until
    for silence in run.story.silences:
        begin = dates.of_batch(run.set_at, silence.day, silence.at)
        keep &= (run.air.at < begin) | (run.air.at >= begin + round(3600 * silence.hours))
    return shown_by(
        plan,
        number,
        run.air.at[keep],
        run.air.temperature_c[keep],
        run.air.humidity[keep],
        begun_at,
        run.rng,
    )


def logged_in_room(
    room: Room,
    plan: ProbePlan,
    number: int,
    at: NDArray[np.int64],
    begun_at: int,
    rng: np.random.Generator,
) -> ReadingSeries:
    """What the probe in the room has logged at instants."""
    air = room.air(at)
    return shown_by(plan, number, at, air.temperature_c, air.humidity, begun_at, rng)


def shown_by(
    plan: ProbePlan,
    number: int,
    at: NDArray[np.int64],
    temperature_c: Floats,
    humidity: Floats,
    begun_at: int,
    rng: np.random.Generator,
) -> ReadingSeries:
    bias = reads_high(plan, float(at[0]), begun_at) if at.size else 0.0
    read: Floats = humidity + bias + plan.noise * rng.standard_normal(at.size)
    warmth = temperature_c + plan.noise_c * rng.standard_normal(at.size)
    return ReadingSeries(number, at, warmth.round(2), read.clip(1.0, 99.0).round(1))


def brought_in(
    series: ReadingSeries,
    *,
    probe: str,
    file_name: str,
    by: int,
    uid: Iterator[str],
) -> Iterator[tuple[ImportRun, ReadingSeries]]:
    """The imports by which logged readings came in, week by week, the last one at ``by``; not yet numbered.

    Each file still holds what the earlier ones had. A demo has no files, so their digests are made up.
    """
    if not len(series):
        return
    begin = int(series.at[0])
    edges = [*range(begin + _BROUGHT_IN_EVERY_DAYS * DAY_S, by - DAY_S, _BROUGHT_IN_EVERY_DAYS * DAY_S), by]
    start = 0
    for edge in edges:
        stop = int(np.searchsorted(series.at, edge))
        part = ReadingSeries(
            series.probe,
            series.at[start:stop],
            series.temperature_c[start:stop],
            series.humidity[start:stop],
        )
        run = ImportRun(
            number=0,
            probe=probe,
            at=edge,
            file_name=file_name,
            digest="".join(next(uid) for _ in range(4)),
            layout=_LAYOUT_JSON,
            lines=stop + 1,
            stored=len(part),
            already=start,
            differing=0,
            rejected=0,
            first_at=int(part.at[0]) if len(part) else None,
            last_at=int(part.at[-1]) if len(part) else None,
            uid=next(uid),
        )
        yield run, part
        start = stop


def by_hand(run: BatchRun, plan: ProbePlan, dates: DemoDates, holding: Holding) -> list[Reading]:
    """What was read off twice a day and typed in, as it was typed."""
    instants = np.array(list(_hand_instants(run, dates)), dtype=np.int64)
    number = holding.probes[plan.key].number
    temperature_c = np.interp(instants, run.air.at, run.air.temperature_c)
    humidity = np.interp(instants, run.air.at, run.air.humidity)
    shown = shown_by(plan, number, instants, temperature_c, humidity, holding.begun_at, run.rng)
    altitude_m = run.machine.altitude_m
    typed = _typed(run.story.typed, shown.temperature_c, shown.humidity, altitude_m)
    return [one.to_record(number, at, altitude_m) for one, at in zip(typed, instants.tolist(), strict=True)]


def _hand_instants(run: BatchRun, dates: DemoDates) -> Iterator[int]:
    on = dates.local_date(run.set_at)
    while on <= dates.local_date(run.until):
        for at in _BY_HAND_AT:
            read_at = dates.instant(on, at) + 60 * int(run.rng.integers(0, 25))
            if run.set_at + 3600 < read_at < run.until and run.rng.random() > 0.02:
                yield read_at
        on += timedelta(days=1)


def _typed(how: str, temperature_c: Floats, humidity: Floats, altitude_m: float) -> Sequence[TypedReading]:
    """Readings as they were typed: °C and %, °F and %, or °F dry and wet bulb."""
    if how == "celsius":
        dry = [_value(value, Unit.CELSIUS, 1) for value in temperature_c.tolist()]
    else:
        dry = [_fahrenheit(value, 5) for value in temperature_c.tolist()]
    if how == "wet_bulb":
        wet_c = wet_bulb_c(temperature_c, humidity, float(pressure_kpa(altitude_m)), Wick.NATURAL)
        wet = [_fahrenheit(value, 2) for value in wet_c.tolist()]
        return [TypedReading(one, wet_bulb=two, wick=Wick.NATURAL) for one, two in zip(dry, wet, strict=True)]
    moist = [_value(value, Unit.PERCENT, 0) for value in humidity.tolist()]
    return [TypedReading(one, two) for one, two in zip(dry, moist, strict=True)]


def _fahrenheit(celsius: float, marks: int) -> Typed:
    """A temperature as read off a scale with so many marks to the degree Fahrenheit."""
    return _value(round(marks * fahrenheit_from_celsius(celsius)) / marks, Unit.FAHRENHEIT, 1)


def _value(value: float, unit: Unit, places: int) -> Typed:
    text = f"{value:.{places}f}"
    return Typed(float(text), unit, text)
