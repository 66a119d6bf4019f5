"""One batch of the demo from setting to closing, or to the present: what really happens in machine and shell."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from hatchbook.exchange.demo.air import Handling, MachineAir, run_machine
from hatchbook.exchange.demo.chance import chance
from hatchbook.exchange.demo.dates import DemoDates
from hatchbook.exchange.demo.eggs import RawEggs, TrueEgg, raw_eggs, true_eggs
from hatchbook.exchange.demo.room import Room
from hatchbook.exchange.demo.rounds import Rounds, closing_at, rounds_of
from hatchbook.exchange.demo.scenario import BatchStory, MachinePlan, PenPlan
from hatchbook.exchange.demo.steering import Steersman, WaterCare
from hatchbook.trade.codes import MachineKind
from hatchbook.trade.instants import DAY_S
from hatchbook.trade.plan import BatchPlan, plan_batch
from hatchbook.trade.programme import Programme, for_still_air

Floats = NDArray[np.float64]

HAND_STEP_MIN = 60
"""Where no logger hung in the machine, its air is followed in steps of so many minutes."""
_FILLING_S = 150
_MIST_G_H = 9.0
_MIST_WET_S = 2400
_THERMOSTAT_DRIFTS_C = 0.025
_THERMOSTAT_CYCLES_C = 0.04
_CYCLE_S = 47 * 60
_DRIFT_S = 5.3 * DAY_S
_HATCHING_GIVES = 2.4
"""So much more water than before do hatching eggs give off, in parts of it."""


@dataclass(frozen=True)
class BatchRun:
    """A batch as it really went; ``until``: its closing, or the present if that comes first."""

    story: BatchStory
    machine: MachinePlan
    plan: BatchPlan
    until: int
    closed_at: int | None
    rounds: Rounds
    care: WaterCare
    air: MachineAir
    raw: RawEggs
    eggs: tuple[TrueEgg, ...]
    rng: np.random.Generator

    @property
    def set_at(self) -> int:
        """The instant of setting."""
        return self.plan.set_at_s

    @property
    def planned(self) -> bool:
        """Whether it is not yet set."""
        return self.until <= self.set_at

    @property
    def running(self) -> bool:
        """Whether it is in the machine at the present."""
        return not self.planned and self.closed_at is None

    def day(self, at: int) -> float:
        """Days since setting."""
        return (at - self.set_at) / DAY_S

    def pull(self, at: int) -> float:
        """How much the air has pulled at the eggs' water by an instant, torr times days."""
        return float(np.interp(at, self.air.at, self.air.pull))


def programme_of(story: BatchStory, machine: MachinePlan, programmes: dict[str, Programme]) -> Programme:
    """The programme that a batch is set with."""
    programme = programmes[story.programme]
    if machine.kind is MachineKind.STILL_AIR:
        programme = for_still_air(programme)
    return replace(programme, weigh_days=()) if story.weigh == "none" else programme


def run_batch(
    story: BatchStory,
    machine: MachinePlan,
    programme: Programme,
    pens: Sequence[PenPlan],
    room: Room,
    dates: DemoDates,
    seed: int,
    number: int,
) -> BatchRun:
    """Lets a batch run; its chance depends on ``seed`` and its ``number`` alone."""
    rng = chance(seed, number)
    plan = plan_batch(programme, dates.set_at(story.set), dates.zone)
    closed_at = closing_at(plan, dates)
    until = min(closed_at, dates.now)
    raw = raw_eggs(story, pens, rng)
    gives_off = raw.gives_off_g_h_kpa
    cooler_c = programme.still_air_rise_c if machine.kind is MachineKind.STILL_AIR else 0.0
    rounds = rounds_of(story, plan, dates, until, machine.turning_opens_lid_min, rng)
    care = Steersman(machine, story, plan, room, dates, gives_off, cooler_c).care(until, rng)
    step_s = 60 * (story.every_min or HAND_STEP_MIN)
    at = np.arange(plan.set_at_s, max(until, plan.set_at_s + step_s), step_s, dtype=np.int64)
    air = run_machine(
        machine,
        at,
        room.air(at),
        _handling(story, plan, rounds, care, dates, at, step_s),
        thermostat_c=_thermostat(plan, at, rng),
        egg_cooler_c=cooler_c,
        eggs_g_h_kpa=gives_off * _giving(plan, at),
    )
    pull = _pull_by(air, plan, programme.loss_day or programme.lockdown_day)
    return BatchRun(
        story=story,
        machine=machine,
        plan=plan,
        until=until,
        closed_at=closed_at if closed_at <= dates.now else None,
        rounds=rounds,
        care=care,
        air=air,
        raw=raw,
        eggs=tuple(true_eggs(raw, programme, pull)),
        rng=rng,
    )


def _handling(
    story: BatchStory,
    plan: BatchPlan,
    rounds: Rounds,
    care: WaterCare,
    dates: DemoDates,
    at: NDArray[np.int64],
    step_s: int,
) -> Handling:
    def shares(stretches: Iterable[tuple[int, int]]) -> Floats:
        return _shares_of_steps(at, step_s, stretches)

    filled = sorted({*care.fills, *(one.at for one in care.settings if one.moves_channels)})
    cuts = [
        (begin, begin + round(60 * cut.minutes))
        for cut in story.power_cuts
        for begin in [dates.of_batch(plan.set_at_s, cut.day, cut.at)]
    ]
    return Handling(
        channels=care.open_water(at, plan.set_at_s, story.channel_leaks_a_day),
        vent=care.vent(at),
        lid_open=shares([*rounds.lids, *((one, one + _FILLING_S) for one in filled)]),
        power_off=shares(cuts),
        misting=_MIST_G_H * shares((one, one + _MIST_WET_S) for one in rounds.mistings),
    )


def _shares_of_steps(at: NDArray[np.int64], step_s: int, stretches: Iterable[tuple[int, int]]) -> Floats:
    """Which share of each step lies in any of the stretches (begin, end)."""
    seconds = np.zeros(at.size)
    first = int(at[0])
    for begin, end in stretches:
        step = max(0, (begin - first) // step_s)
        while step < at.size and (start := first + step * step_s) < end:
            seconds[step] += min(end, start + step_s) - max(begin, start)
            step += 1
    return np.minimum(seconds / step_s, 1.0)


def _thermostat(plan: BatchPlan, at: NDArray[np.int64], rng: np.random.Generator) -> Floats:
    """What the machine holds, °C: its aim, a slow drift and the cycles of the heating."""
    since = (at - plan.set_at_s).astype(np.float64)
    drift, cycle = rng.uniform(0, 2 * np.pi, 2)
    aims = np.array([phase.targets.temperature_aim_c for phase in plan.phases])
    phase = np.searchsorted([one.start_s for one in plan.phases], at, side="right") - 1
    held: Floats = aims[np.clip(phase, 0, len(aims) - 1)]
    held = held + _THERMOSTAT_DRIFTS_C * np.sin(2 * np.pi * since / _DRIFT_S + drift)
    held += _THERMOSTAT_CYCLES_C * np.sin(2 * np.pi * since / _CYCLE_S + cycle)
    return held


def _giving(plan: BatchPlan, at: NDArray[np.int64]) -> Floats:
    """What the eggs give off against the time before the hatch; most while they hatch."""
    days_left = (plan.hatch_due_at_s - at) / DAY_S
    return np.interp(-days_left, [-1.0, -0.4, 0.1, 0.7], [1.0, 1 + _HATCHING_GIVES, 1 + _HATCHING_GIVES, 0.4])


def _pull_by(air: MachineAir, plan: BatchPlan, day: float) -> float:
    """The pull by a day, carried on at its mean so far where that day is yet to come."""
    wanted_at = plan.set_at_s + round(day * DAY_S)
    last_at = int(air.at[-1])
    if wanted_at <= last_at:
        return float(np.interp(wanted_at, air.at, air.pull))
    if last_at == plan.set_at_s:
        return 0.0
    return float(air.pull[-1]) * (wanted_at - plan.set_at_s) / (last_at - plan.set_at_s)
