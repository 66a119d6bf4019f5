"""When the channels that are filled fall dry."""

from __future__ import annotations

import math

from hatchbook.figures.guide_history import MachineHistory
from hatchbook.figures.guide_results import GuideCell, NextFill
from hatchbook.figures.weight_results import Estimate
from hatchbook.trade.codes import EventKind
from hatchbook.trade.instants import DAY_S

DRIED, MODEL, UNKNOWN = "dried", "model", "unknown"
_TOP_UPS_NEEDED = 3
_FILLED_SPREAD = 0.15
"""How evenly channels are filled to the brim: spread of the logarithm (our choice)."""


def next_fill(
    history: MachineHistory, now: int, standing: GuideCell | None, water_ml_a_day: Estimate | None
) -> NextFill | None:
    """When the filled channels fall dry; None with none filled, or where that is not known."""
    if standing is None or not standing.channels:
        return None
    filled_at = max(
        (event.at for event in history.events if event.kind is EventKind.WATER and event.at <= now),
        default=None,
    )
    volumes = [channel.volume_ml for channel in history.channels if channel.volume_ml]
    if not volumes or water_ml_a_day is None or filled_at is None:
        return NextFill(None, None, filled_at, standing.channels, UNKNOWN)
    held_ml = standing.channels * sum(volumes) / len(volumes)
    days = held_ml / water_ml_a_day.value
    spread = math.log(water_ml_a_day.high / water_ml_a_day.low) / 2
    factor = math.exp(math.hypot(spread, 1.96 * _FILLED_SPREAD))
    origin = DRIED if len(history.top_ups) >= _TOP_UPS_NEEDED else MODEL
    return NextFill(
        at=filled_at + round(days * DAY_S),
        days=Estimate(days, days / factor, days * factor),
        filled_at=filled_at,
        channels=standing.channels,
        origin=origin,
    )
