"""The hour before setting in which a machine of the demo runs empty, warm and without water."""

from __future__ import annotations

import numpy as np

from hatchbook.exchange.demo.batch_run import BatchRun
from hatchbook.exchange.demo.chance import chance
from hatchbook.exchange.demo.reading_out import shown_by
from hatchbook.exchange.demo.room import Room
from hatchbook.exchange.demo.scenario import ProbePlan
from hatchbook.journal import ReadingSeries
from hatchbook.statistics.moisture import relative_humidity

DRY_RUN_BEFORE_S, DRY_RUN_S = 5400, 3600
_EVERY_S = 600
_WARMS_IN_S = 420.0
_COLDER_C = 6.0
_STREAM = 9002


def with_dry_run(
    run: BatchRun, plan: ProbePlan, room: Room, series: ReadingSeries, begun_at: int, seed: int
) -> ReadingSeries:
    """The readings of a batch's probe, with those of the dry run before it where one was logged.

    Warmth comes within some minutes; the air is the room's, since nothing in the machine gives off water.
    """
    if run.story.log == "little":
        return series
    begin = run.set_at - DRY_RUN_BEFORE_S
    at = np.arange(begin, begin + DRY_RUN_S + 1, _EVERY_S, dtype=np.int64)
    aim_c = run.plan.phases[0].targets.temperature_aim_c
    warm_c = aim_c - _COLDER_C * np.exp(-(at - begin) / _WARMS_IN_S)
    humidity = relative_humidity(warm_c, room.air(at).vapour_kpa)
    rng = chance(seed, _STREAM, abs(run.set_at))
    dry = shown_by(plan, series.probe, at, warm_c, humidity, begun_at, rng)
    return ReadingSeries(
        series.probe,
        np.concatenate((dry.at, series.at)),
        np.concatenate((dry.temperature_c, series.temperature_c)),
        np.concatenate((dry.humidity, series.humidity)),
    )
