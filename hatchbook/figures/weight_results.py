"""What the figures say of the eggs' weight: losses, forecast, what to hold for them. Values and codes, no words.

Losses are % of the mass when set, humidity % RH, days since set, conductance mg/(day torr) at sea level pressure.
Ranges hold 95 of 100.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Any

import numpy as np
from numpy.typing import NDArray


@dataclass(frozen=True)
class Estimate:
    """A number that was estimated, with its 95 % range."""

    value: float
    low: float
    high: float

    @property
    def half_width(self) -> float:
        """Half the width of the range: what stands after the plus-minus sign."""
        return (self.high - self.low) / 2


class WeightBasis(StrEnum):
    """What a forecast rests on."""

    PRIOR = "prior"  #: nothing weighed yet: what is published of the species alone
    TRAY = "tray"  #: the tray weighed as one
    EGGS = "eggs"  #: eggs weighed one by one


class MassBase(StrEnum):
    """What the loss is a share of."""

    SET = "set"  #: the mass when set
    LAID = "laid"  #: the mass when laid (loss in storage then counts in)
    FIRST_WEIGHING = "first_weighing"
    ESTIMATED = "estimated"  #: from length and breadth (Hoyt)


EGG_TOO_LITTLE, EGG_TOO_MUCH = 0.70, 1.20
"""What share of the aim is too little and too much for a single egg. Of turkey eggs those with dead in the shell
gathered round conductances of 13.0 and 22.5 where the mean was 18.7 (Meir, Nir & Ar 1984, Poult. Sci.
63:1489-1496): 0.70 and 1.20 of it. That it holds of other species is ours; of hens' eggs it is 8.8 and 15.0 %, and
of those that lost about 6 % 71 % hatched against 89 % of those that lost 12 % (Davis, Shen & Ackerman 1988, J. Exp.
Zool. 245:144-156)."""


@dataclass(frozen=True)
class LossTarget:
    """The share of weight that the eggs should have lost by a day, %: the corridor and its middle.

    The corridor is for the mean of the batch. Single eggs differ by more than it is wide, and are judged by
    ``egg_low`` and ``egg_high``. ``source`` and ``mark`` are those of the programme ("" where the breeder set it).
    """

    low: float
    aim: float
    high: float
    day: float
    source: str = ""
    mark: str = ""

    @property
    def egg_low(self) -> float:
        """Less than this is too little for a single egg, %."""
        return min(self.low, EGG_TOO_LITTLE * self.aim)

    @property
    def egg_high(self) -> float:
        """More than this is too much for a single egg, %."""
        return max(self.high, EGG_TOO_MUCH * self.aim)


@dataclass(frozen=True)
class EggForecast:
    """One egg: its conductance, and what it will have lost by the day of the target as things go.

    ``weighings``: how many count. ``outside``: -1 it will lose too little for a single egg, 1 too much, else 0
    (`LossTarget.egg_low`, `LossTarget.egg_high`).
    ``points``: (day, loss %) of its weighings; ``base``: what its loss is a share of.
    """

    egg: str
    number: int
    conductance: Estimate
    at_target: Estimate
    outside: int
    weighings: int
    base: MassBase
    points: tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class LossPath:
    """The batch's mean loss by day with its range; arrays of one length. From setting to the day of the target."""

    day: NDArray[np.float64]
    mean: NDArray[np.float64]
    low: NDArray[np.float64]
    high: NDArray[np.float64]


@dataclass(frozen=True)
class WeighedPoint:
    """The mean loss by one weighing, with its standard error (None: one egg, or a tray weighed as one)."""

    day: float
    at: int
    mean: float
    standard_error: float | None
    eggs: int
    odd: bool = False


class AdviceBasis(StrEnum):
    """By what the humidity to hold is advised."""

    BAND = "band"  #: the humidity band of the phase
    WEIGHT = "weight"  #: the weight target


class AdviceReason(StrEnum):
    """Why the band decides, or the weight."""

    NO_TARGET = "no_target"  #: band: the batch has no weight target, or its day is over
    LOCKDOWN = "lockdown"  #: band: lockdown's humidity is its own
    LITTLE_LEFT = "little_left"  #: band: until the target's day no humidity moves the loss by what matters
    UNSURE = "unsure"  #: band: the weighings tell less than what is known of the species
    UNVERIFIED = "unverified"  #: band: nobody has published the target, it is given from memory
    CONTENT = "content"  #: band: whatever it asks for, the loss ends in its corridor
    WEIGHT = "weight"  #: weight: the band would not do
    OUT_OF_REACH = "out_of_reach"  #: weight: nothing a machine can be asked to hold brings the loss there


@dataclass(frozen=True)
class HoldAdvice:
    """The two aims, and the one humidity that is advised; that is always one that a machine can be asked to hold.

    ``by_band``: hold for the phase to end on its aim, as far as it can be asked for; None outside a running phase
    with readings. ``by_weight``: hold until the target's day for the batch to end on its aim, whatever that takes;
    None when that day is over, or little is left to steer. ``weight_edges``: for the high and the low edge of the
    loss corridor (low humidity first). ``disagree``: the band's humidity lies outside what the weight allows by
    more than its range. ``reachable``: False where the advised humidity falls short of the aim of the phase, or of
    the corridor. ``reason``: why the one or the other decides.
    """

    basis: AdviceBasis
    humidity: float
    low: float
    high: float
    by_band: float | None
    by_weight: Estimate | None
    weight_edges: tuple[float, float] | None
    disagree: bool
    reachable: bool
    until_day: float
    reason: AdviceReason = AdviceReason.NO_TARGET


@dataclass(frozen=True)
class WeightForecast:
    """All that is estimated of a batch's weight at an instant.

    Attributes:
        target: the corridor; None where the batch has none.
        loss_now: lost until now (the model's, not only the last weighing's).
        at_target: lost by the target's day if the humidity stays at ``assumed_humidity``.
        assumed_humidity: what is taken for the time to come, % RH; ``assumed_from`` codes where from: "recent"
            (the mean of the last two days), "phase" (the phase's mean), "aim" (the programme's).
        straight_line: the same by a straight line through the weights, as handbooks draw it; None without two.
        conductance: of the mean egg, per gram of set mass: mg/(day g torr), sea level; ``prior``: what the species
            was given before any weighing, with ``prior_source`` and ``prior_mark``.
        too_little, too_much: how many of ``egg_count`` eggs lose less than ``egg_corridor`` or more, as things go;
            ``too_little_held``, ``too_much_held``: if the advised humidity is held.
        egg_corridor: the least and the most that a single egg should lose, %; None without a target.
        exposure_known: share of the time until now of which readings tell, 0 to 1; the rest is carried by the mean.
        path_so_far: until now; path_ahead: from now on as things go; path_held: if the advised is held.
        published_apart: codes of published statements that contradict each other, or what this batch shows, and
            change the advice: "conductance_below_published", "conductance_above_published",
            "band_and_target_disagree" (`hatchbook.figures.published_apart`).
        published_low, published_high: what is printed of the species' conductance; None where nothing is.
        egg_above_air_c: by how much eggs are taken to be warmer than the thermometer shows; below 0 in still air.

    Of a batch that is over ``at_target`` is what it had reached by then, None if it was closed before, and there is
    no advice. ``eggs`` and the means are those of the eggs alive now, or on the target's day where that is over.
    """

    basis: WeightBasis
    base: MassBase
    target: LossTarget | None
    loss_now: Estimate
    at_target: Estimate | None
    assumed_humidity: float
    assumed_from: str
    straight_line: float | None
    conductance: Estimate
    prior: Estimate
    prior_source: str
    prior_mark: str
    egg_count: int
    weighed_eggs: int
    too_little: float | None
    too_much: float | None
    too_little_held: float | None
    too_much_held: float | None
    exposure_known: float
    pressure_kpa: float
    weighings: tuple[WeighedPoint, ...]
    eggs: tuple[EggForecast, ...]
    path_so_far: LossPath
    path_ahead: LossPath | None
    path_held: LossPath | None
    advice: HoldAdvice | None
    published_apart: tuple[str, ...] = ()
    published_low: float | None = None
    published_high: float | None = None
    egg_above_air_c: float = 0.0
    egg_corridor: tuple[float, float] | None = None

    def as_dict(self) -> dict[str, Any]:
        """The figures as plain JSON values."""
        from hatchbook.figures.plain import plain_fields

        return plain_fields(self)
