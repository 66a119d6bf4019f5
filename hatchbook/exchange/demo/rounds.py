"""When the breeder of the demo goes to his eggs: turning, candling, weighing, misting, looking at hatch day."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import time, timedelta

import numpy as np

from hatchbook.exchange.demo.dates import DemoDates
from hatchbook.exchange.demo.scenario import BatchStory
from hatchbook.trade.codes import DutyKind
from hatchbook.trade.instants import DAY_S
from hatchbook.trade.plan import BatchPlan, PlannedDuty

CANDLING_S_AN_EGG = 25
WEIGHING_S_AN_EGG = 40
_MISTED_FROM_DAY = 10
_LOOKED_FROM_DAYS_BEFORE = 1.4
_LOOKING_HOURS = {"all": (7, 10, 13, 16, 19, 22), "some": (7, 12, 17, 22), "little": (8, 20)}
_MISSED_TURNS = {"all": 0.025, "some": 0.05, "little": 0.09}
_CLOSED_AT = time(11, 30)


@dataclass(frozen=True)
class Round:
    """A candling or a weighing, from an instant until another, and the duty that it does."""

    duty: PlannedDuty
    at: int
    ends_at: int


@dataclass(frozen=True)
class Rounds:
    """What was done of a batch's plan up to the present; all in the order of time.

    ``done``: when a duty was done. ``lids``: for how long the lid stood open, also where nothing was written down.
    """

    candlings: tuple[Round, ...]
    weighings: tuple[Round, ...]
    done: dict[PlannedDuty, int]
    mistings: tuple[int, ...]
    looks: tuple[int, ...]
    lids: tuple[tuple[int, int], ...]


def closing_at(plan: BatchPlan, dates: DemoDates) -> int:
    """When the batch is closed: late in the morning after the hatch was due."""
    return dates.instant(dates.local_date(plan.hatch_due_at_s) + timedelta(days=1), _CLOSED_AT)


def rounds_of(
    story: BatchStory,
    plan: BatchPlan,
    dates: DemoDates,
    until: int,
    turning_opens_lid_min: float,
    rng: np.random.Generator,
) -> Rounds:
    """What the breeder does from setting until an instant.

    Args:
        turning_opens_lid_min: minutes for which the lid is open at each turning.
    """
    done: dict[PlannedDuty, int] = {}
    rounds: dict[DutyKind, list[Round]] = {DutyKind.CANDLE: [], DutyKind.WEIGH: []}
    lids: list[tuple[int, int]] = []
    weighed = story.count if story.weigh == "every_egg" else -(-story.count // 3)
    lengths = {
        DutyKind.CANDLE: story.count * CANDLING_S_AN_EGG,
        DutyKind.WEIGH: 180 if story.weigh == "whole_tray" else weighed * WEIGHING_S_AN_EGG,
    }
    late = np.clip(rng.normal(6, 11, len(plan.duties)), -12, 50).round().astype(int).tolist()
    missed = (rng.random(len(plan.duties)) < _MISSED_TURNS[story.log]).tolist()
    for duty, minutes, is_missed in zip(plan.duties, late, missed, strict=True):
        begun = duty.at_s if duty.kind is DutyKind.SET else duty.at_s + 60 * minutes
        ended = begun + lengths.get(duty.kind, 0)
        if ended > until or (duty.kind is DutyKind.TURN and is_missed):
            continue
        done[duty] = ended
        if duty.kind in rounds and duty.at_s > plan.set_at_s:
            rounds[duty.kind].append(Round(duty, begun, ended))
            lids.append((begun, ended))
        elif duty.kind is DutyKind.TURN and turning_opens_lid_min:
            lids.append((begun, begun + round(60 * turning_opens_lid_min)))
    mistings = tuple(_mistings(story, plan, dates, until, rng))
    lids += [(at, at + 720) for at in mistings]
    looks = tuple(_looks(story, plan, dates, until, rng))
    lids += [(at, at + 300) for at in looks if at > plan.hatch_due_at_s - DAY_S // 4][:2]
    return Rounds(
        tuple(rounds[DutyKind.CANDLE]),
        tuple(rounds[DutyKind.WEIGH]),
        done,
        mistings,
        looks,
        tuple(sorted(lids)),
    )


def _mistings(
    story: BatchStory, plan: BatchPlan, dates: DemoDates, until: int, rng: np.random.Generator
) -> Iterator[int]:
    if not story.misted:
        return
    for day in range(_MISTED_FROM_DAY, int(plan.programme.lockdown_day)):
        at = dates.of_batch(plan.set_at_s, day, time(14, 5)) + 60 * int(rng.integers(0, 40))
        if at < until:
            yield at


def _looks(
    story: BatchStory, plan: BatchPlan, dates: DemoDates, until: int, rng: np.random.Generator
) -> Iterator[int]:
    """When the breeder looks in through the window as the hatch goes on."""
    begin = plan.hatch_due_at_s - round(_LOOKED_FROM_DAYS_BEFORE * DAY_S)
    end = min(closing_at(plan, dates) - 2 * 3600, until)
    on = dates.local_date(begin)
    while on <= dates.local_date(max(begin, end)):
        for hour in _LOOKING_HOURS[story.log]:
            at = dates.instant(on, time(hour)) + 60 * int(rng.integers(0, 45))
            if begin <= at < end:
                yield at
        on += timedelta(days=1)
