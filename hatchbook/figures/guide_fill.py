"""When the channels that are filled fall dry."""

from __future__ import annotations

import math

from hatchbook.figures.guide_records import MachineHistory
from hatchbook.figures.guide_results import GuideCell, NextFill
from hatchbook.figures.weight_results import Estimate
from hatchbook.statistics.water_guide import NORMAL_95, WaterFit
from hatchbook.trade.codes import EventKind
from hatchbook.trade.instants import DAY_S

DRIED, MODEL, UNKNOWN = "dried", "model", "unknown"
_TOP_UPS_NEEDED = 3
_FILLED_SPREAD = 0.15
"""How evenly channels are filled to the brim: spread of the logarithm (our choice)."""


def next_fill(
    history: MachineHistory,
    fit: WaterFit,
    now: int,
    standing: GuideCell | None,
    water_ml_a_day: Estimate | None,
) -> NextFill | None:
    """When the filled channels fall dry; None with none filled, or where the setting is not known.

    Where channels fell dry before, what they held follows from how long that took; else it is their volume.
    """
    if standing is None or not standing.channels:
        return None
    filled_at = max(
        (event.at for event in history.events if event.kind is EventKind.WATER and event.at <= now),
        default=None,
    )
    held_ml, spread = _held_by_one(history, fit)
    if held_ml is None or water_ml_a_day is None or filled_at is None:
        return NextFill(None, None, filled_at, standing.channels, UNKNOWN)
    days = standing.channels * held_ml / water_ml_a_day.value
    measured = bool(history.fallen_dry)
    if not measured:
        # How fast water goes is itself uncertain; channels that fell dry at the model's own rate cancel that.
        spread = math.hypot(spread, math.log(water_ml_a_day.high / water_ml_a_day.low) / 2 / NORMAL_95)
    factor = math.exp(NORMAL_95 * spread)
    known = measured or len(history.top_ups) >= _TOP_UPS_NEEDED
    return NextFill(
        at=filled_at + round(days * DAY_S),
        days=Estimate(days, days / factor, days * factor),
        filled_at=filled_at,
        channels=standing.channels,
        origin=DRIED if known else MODEL,
    )


def _held_by_one(history: MachineHistory, fit: WaterFit) -> tuple[float | None, float]:
    """What one channel holds, ml, with the spread of its logarithm."""
    held = [
        dry.days * fit.evaporates(1.0, dry.humidity, dry.temperature_c)
        for dry in history.fallen_dry
        if not math.isnan(dry.humidity)
    ]
    held = [ml for ml in held if ml > 0]
    if held:
        logs = [math.log(ml) for ml in held]
        middle = sum(logs) / len(logs)
        square = sum((one - middle) ** 2 for one in logs) + 2 * _FILLED_SPREAD**2
        return math.exp(middle), math.sqrt(square / (len(held) + 1) * (1 + 1 / len(held)))
    volumes = [channel.volume_ml for channel in history.channels if channel.volume_ml]
    return (sum(volumes) / len(volumes) if volumes else None), _FILLED_SPREAD
