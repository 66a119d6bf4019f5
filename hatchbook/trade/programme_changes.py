"""A programme with the breeder's own changes; what was changed is no longer said to be its source's."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from hatchbook.trade.phases import PhaseTargets
from hatchbook.trade.programme import LossBase, LossEnd, Programme
from hatchbook.trade.sources import About


@dataclass(frozen=True)
class LossTarget:
    """The corridor of weight loss, % of the weight when set, by a day."""

    low_percent: float
    high_percent: float
    day: float


def loss_target(programme: Programme) -> LossTarget | None:
    """The corridor that a programme names, or None."""
    low, high, day = programme.loss_low_percent, programme.loss_high_percent, programme.loss_day
    return None if low is None or high is None or day is None else LossTarget(low, high, day)


def with_changes(
    programme: Programme,
    *,
    phases: Sequence[PhaseTargets],
    candle_days: Sequence[float],
    weigh_days: Sequence[float],
    loss: LossTarget | None,
) -> Programme:
    """The programme with these values in place of its own; its incubation ends with the last phase.

    Sources stay only for what was not changed.

    Raises:
        ProgrammeError: the phases do not join, days lie outside the incubation or are not in order.
    """
    ends = phases[-1].to_day if phases else 0.0
    changed = replace(
        programme,
        incubation_days=ends,
        phases=tuple(phases),
        candle_days=tuple(candle_days),
        weigh_days=tuple(weigh_days),
        loss_low_percent=None if loss is None else loss.low_percent,
        loss_high_percent=None if loss is None else loss.high_percent,
        loss_day=None if loss is None else loss.day,
        loss_base=programme.loss_base if loss == loss_target(programme) else LossBase.SET,
        loss_end=programme.loss_end if loss == loss_target(programme) else LossEnd.DAY,
    )
    differs = changes_of(programme, changed)
    return replace(changed, sources=tuple(note for note in programme.sources if note.about not in differs))


def named_anew(programme: Programme, title: str, species: str) -> Programme:
    """The programme under another title; for another species it has no sources left, since they spoke of its own.

    Raises:
        ProgrammeError: a text is empty.
    """
    sources = programme.sources if species == programme.species else ()
    return replace(programme, title=title, species=species, sources=sources)


def split_phase(phases: Sequence[PhaseTargets], index: int) -> tuple[PhaseTargets, ...]:
    """The phases with one of them parted into two with the same targets, at half of its days or nearly so.

    Raises:
        ProgrammeError: it is too short to be parted.
    """
    phase = phases[index]
    middle = float(round((phase.from_day + phase.to_day) / 2))
    if not phase.from_day < middle < phase.to_day:
        middle = (phase.from_day + phase.to_day) / 2
    parted = (replace(phase, to_day=middle), replace(phase, from_day=middle))
    return (*phases[:index], *parted, *phases[index + 1 :])


def without_phase(phases: Sequence[PhaseTargets], index: int) -> tuple[PhaseTargets, ...] | None:
    """The phases without one, its days going to a neighbour of its kind; None where it is the only one of it."""
    phase = phases[index]
    before = phases[index - 1] if index else None
    after = phases[index + 1] if index + 1 < len(phases) else None
    if before is not None and before.kind is phase.kind:
        return (*phases[: index - 1], replace(before, to_day=phase.to_day), *phases[index + 1 :])
    if after is not None and after.kind is phase.kind:
        return (*phases[:index], replace(after, from_day=phase.from_day), *phases[index + 2 :])
    return None


def changes_of(before: Programme, after: Programme) -> frozenset[About]:
    """What two programmes of a species differ in."""
    pairs = {
        About.PERIOD: (before.incubation_days, after.incubation_days),
        About.HUMIDITY: (_humidities(before), _humidities(after)),
        About.TEMPERATURE: (_temperatures(before), _temperatures(after)),
        About.LOCKDOWN: (before.lockdown_day, after.lockdown_day),
        About.TURNING: (_turns(before), _turns(after)),
        About.CANDLING: (before.candle_days, after.candle_days),
        About.WEIGHING: (before.weigh_days, after.weigh_days),
        About.LOSS: (loss_target(before), loss_target(after)),
    }
    return frozenset(about for about, (one, other) in pairs.items() if one != other)


def _humidities(programme: Programme) -> list[tuple[float, float, float]]:
    return [(phase.humidity_low, phase.humidity_aim, phase.humidity_high) for phase in programme.phases]


def _temperatures(programme: Programme) -> list[tuple[float, float, float]]:
    # Made warmer for still air and cooler again, a temperature may differ in its last binary digit.
    return [
        (
            round(phase.temperature_low_c, 6),
            round(phase.temperature_aim_c, 6),
            round(phase.temperature_high_c, 6),
        )
        for phase in programme.phases
    ]


def _turns(programme: Programme) -> list[int]:
    return [phase.turns_per_day for phase in programme.phases]
