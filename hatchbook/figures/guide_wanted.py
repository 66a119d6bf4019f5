"""Which humidity a batch in a machine wants now, and why."""

from __future__ import annotations

from hatchbook.figures.guide_results import Wanted
from hatchbook.figures.results import BatchFigures
from hatchbook.figures.to_hold import to_hold
from hatchbook.trade.plan import instant_of_day


def wanted_humidity(figures: BatchFigures) -> Wanted | None:
    """What `to_hold` says of a batch, within what air can be; None for a batch that is over."""
    held = to_hold(figures.phases, figures.forecast.advice if figures.forecast is not None else None)
    if held is None:
        return None
    middle = min(max(held.humidity, 0.0), 100.0)
    phase = held.phase
    return Wanted(
        humidity=middle,
        low=min(max(held.low, 0.0), middle),
        high=max(min(held.high, 100.0), middle),
        origin=held.origin,
        phase=phase.kind,
        batch=figures.batch.uid,
        batch_label=figures.batch.label,
        batch_name=figures.batch.name,
        until_at=instant_of_day(figures.batch.set_at, held.until_day) if held.by_weight else phase.end_at,
    )
