"""A batch that is in no journal, as it would stand at the instant of setting: what a page of a batch looks like."""

from __future__ import annotations

from zoneinfo import ZoneInfo

import numpy as np

from hatchbook.figures.results import (
    Band,
    BatchFigures,
    BatchState,
    Curves,
    HatchTiming,
    PhaseFigures,
    PhaseState,
)
from hatchbook.journal import Batch, BatchPhase, plan_records
from hatchbook.statistics.rates import batch_rates
from hatchbook.trade.instants import DAY_S
from hatchbook.trade.plan import plan_batch
from hatchbook.trade.programme import Programme
from hatchbook.trade.stages import StageBounds


def sample_view(programme: Programme, set_at: int, zone: ZoneInfo) -> tuple[BatchFigures, Curves]:
    """Figures and curves of a batch without eggs and readings, set at ``set_at`` (UTC seconds) and seen then."""
    bounds = StageBounds.for_incubation(programme.incubation_days)
    batch = Batch(
        label="",
        species=str(programme.species),
        machine="",
        set_at=set_at,
        incubation_days=programme.incubation_days,
        programme=programme.to_json(),
        early_until_day=bounds.early_until_day,
        mid_until_day=bounds.mid_until_day,
    )
    plan = plan_batch(programme, set_at, zone)
    planned, duties = plan_records(batch, plan)
    phases = tuple(_phase(phase, set_at) for phase in planned)
    figures = BatchFigures(
        batch=batch,
        now=set_at,
        state=BatchState.RUNNING,
        day=0.0,
        lockdown_at=plan.lockdown_at_s,
        hatch_due_at=plan.hatch_due_at_s,
        lockdown_day=programme.lockdown_day,
        machine_name="",
        pen_names=(),
        probe_name="",
        last_reading=None,
        phases=phases,
        eggs=(),
        counts={},
        rates=batch_rates([]),
        timing=HatchTiming(None, None, None, (), programme.incubation_days),
        weight=None,
        candled_days=(),
        next_weighing_day=None,
    )
    nothing = np.empty(0)
    curves = Curves(
        batch=batch,
        now=set_at,
        start_at=set_at,
        end_at=plan.hatch_due_at_s,
        at=nothing.astype(np.int64),
        humidity=nothing,
        temperature_c=nothing,
        running_at=nothing.astype(np.int64),
        running_mean=nothing,
        unknown=np.empty((0, 2), np.int64),
        phases=phases,
        events=(),
        duties=tuple(duties),
    )
    return figures, curves


def _phase(phase: BatchPhase, set_at: int) -> PhaseFigures:
    start_at, end_at = (set_at + round(day * DAY_S) for day in (phase.from_day, phase.to_day))
    return PhaseFigures(
        kind=phase.kind,
        state=PhaseState.RUNNING if start_at == set_at else PhaseState.TO_COME,
        from_day=phase.from_day,
        to_day=phase.to_day,
        start_at=start_at,
        end_at=end_at,
        humidity_band=Band(phase.humidity_low, phase.humidity_aim, phase.humidity_high),
        temperature_band=Band(phase.temperature_low_c, phase.temperature_aim_c, phase.temperature_high_c),
        turns_per_day=phase.turns_per_day,
        elapsed_h=0.0,
        remaining_h=(end_at - start_at) / 3600,
        humidity=None,
        temperature=None,
        plus_minus=None,
        hold=None,
        turns_due=0,
        turns_done=0,
        machine_name="",
    )
