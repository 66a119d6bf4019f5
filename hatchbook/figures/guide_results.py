"""What the water and vent guide of a machine says. Values and codes, no words.

Humidity in % RH at the machine's temperature, vents 0 shut to 1 open, instants UTC seconds, water in millilitres.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from hatchbook.figures.weight_results import Estimate
from hatchbook.trade.codes import PhaseKind


class RoomAirFrom(StrEnum):
    """Where the room air that the guide reckons with comes from."""

    READING = "reading"  #: a probe that hangs in the room
    TYPED = "typed"
    ASSUMED = "assumed"  #: nothing known: an ordinary heated room, said so


@dataclass(frozen=True)
class RoomAir:
    """The air of the room: °C, % RH; ``at`` None where it was typed or assumed."""

    temperature_c: float
    humidity: float
    origin: RoomAirFrom
    at: int | None = None
    probe_name: str = ""


@dataclass(frozen=True)
class GuideCell:
    """What one setting is expected to give.

    ``humidity``: the mean over a day with its 95 % range. ``hours``: of settled readings at that very setting;
    0: never tried. ``batches``: labels of the batches in which it was tried. ``fits``: the phases of the chosen
    batch into whose band the expected mean falls. ``allowed``: False for a shut vent in lockdown.
    """

    channels: int
    vent: float
    humidity: Estimate
    hours: float
    batches: tuple[str, ...]
    fits: tuple[PhaseKind, ...]
    allowed: bool = True


class WantedFrom(StrEnum):
    """Why a humidity is wanted."""

    HOLD = "hold"  #: so that the phase ends on its aim
    WEIGHT = "weight"  #: so that the eggs end on their weight
    AIM = "aim"  #: the phase's aim, no reading yet
    LOCKDOWN = "lockdown"
    BAND = "band"  #: little of the phase is left to steer: anything in its band is enough


@dataclass(frozen=True)
class Wanted:
    """The humidity that a batch in the machine wants now, until when, and why."""

    humidity: float
    low: float
    high: float
    origin: WantedFrom
    phase: PhaseKind
    batch: str
    batch_label: str
    batch_name: str
    until_at: int


@dataclass(frozen=True)
class NextFill:
    """When the channels that are filled fall dry: in days from the filling, with its range; ``at`` the instant.

    ``origin`` codes what it rests on: "dried" (how fast they dried before), "model" (evaporation by the model and
    the channels' volume), "unknown" (no volume is known).
    """

    at: int | None
    days: Estimate | None
    filled_at: int | None
    channels: int
    origin: str


@dataclass(frozen=True)
class DryRun:
    """The machine run warm without water or eggs: what it showed, and what the room air alone should give."""

    at: int
    measured: float
    expected: float
    room: RoomAir


@dataclass(frozen=True)
class WeatherEffect:
    """What the advised setting would give with other room air: a dry or a damp day of this journal's own room."""

    room: RoomAir
    code: str  #: "dry" or "damp"
    room_only: float
    humidity: Estimate
    channels: int  #: what would be advised then
    vent: float


@dataclass(frozen=True)
class MachineGuide:
    """The guide of a machine at an instant.

    Attributes:
        cells: rows by number of filled channels from 0 on, columns by ``vents``.
        room_only: what the room air alone gives when warmed, % RH.
        stretches, hours: of history that the fit rests on; without any all rests on the priors.
        setting: the channels and the vent as they stand, as far as the journal knows.
        now_cell, advised: the cells; advised None where nothing is wanted, or nothing comes near.
        nearest_off: how far the advised cell's mean is from what is wanted, % RH.
        water_ml_a_day: how much the present setting evaporates; None with none filled.
        enough: False where too little was seen: the ranges are then mostly the prior's.
    """

    machine: str
    machine_name: str
    vents: tuple[float, ...]
    cells: tuple[tuple[GuideCell, ...], ...]
    room: RoomAir
    machine_c: float
    room_only: float
    stretches: int
    hours: float
    enough: bool
    setting: tuple[int, float] | None
    setting_since: int | None
    now_cell: GuideCell | None
    wanted: Wanted | None
    advised: GuideCell | None
    nearest_off: float | None
    water_ml_a_day: Estimate | None
    next_fill: NextFill | None
    weather: tuple[WeatherEffect, ...]
    dry_runs: tuple[DryRun, ...]
    egg_share: float = 0.0  #: how much of the expected humidity the eggs themselves add, % RH
    impossible_fillings: int = 0  #: fillings noted of more channels than there are: they tell nothing

    def as_dict(self) -> dict[str, Any]:
        """The figures as plain JSON values."""
        from hatchbook.figures.plain import plain_fields

        return plain_fields(self)
