"""What the figures are: frozen results that screens, reports and files all show. Values and codes, no words.

Instants are UTC seconds, humidity in % RH, temperature in °C, days since the batch was set.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from functools import cached_property
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from hatchbook.figures.weight_results import WeightForecast
from hatchbook.journal import Batch, Duty, Egg, Event
from hatchbook.statistics.averages import HoldFromNow
from hatchbook.statistics.drift import PhaseDrift
from hatchbook.statistics.rates import BatchRates
from hatchbook.statistics.same_value import SameValue
from hatchbook.trade.codes import DutyKind, Fate, PhaseKind
from hatchbook.trade.fates import EggOutcome

if TYPE_CHECKING:
    from hatchbook.figures.effects import EventEffect
    from hatchbook.figures.temperature import CutFigures


class BatchState(StrEnum):
    """Where a batch stands at an instant."""

    PLANNED = "planned"
    RUNNING = "running"
    CLOSED = "closed"


class PhaseState(StrEnum):
    """Where a phase stands at an instant."""

    TO_COME = "to_come"
    RUNNING = "running"
    OVER = "over"


@dataclass(frozen=True)
class Band:
    """A band and the aim inside it, % RH or °C."""

    low: float
    aim: float
    high: float


@dataclass(frozen=True)
class PhaseFigures:
    """A phase with what its readings say so far.

    ``humidity`` and ``temperature`` are the verdicts over the elapsed part, None before the phase begins or
    without any reading. ``plus_minus`` is the half-width by which the mean humidity may be off because of the
    hygrometer, None where nothing is known of it. ``hold`` is None unless the phase runs and has a mean.
    ``turns_due`` and ``turns_done`` are counted until now. ``probe_name``: whose readings count; "" where there
    are none.
    """

    kind: PhaseKind
    state: PhaseState
    from_day: float
    to_day: float
    start_at: int
    end_at: int
    humidity_band: Band
    temperature_band: Band
    turns_per_day: int
    elapsed_h: float
    remaining_h: float
    humidity: PhaseDrift | None
    temperature: PhaseDrift | None
    plus_minus: float | None
    hold: HoldFromNow | None
    turns_due: int
    turns_done: int
    machine_name: str
    probe_name: str = ""


@dataclass(frozen=True)
class EggFigures:
    """An egg with what became of it, and the day and code of each look at it.

    ``lost_percent``: by the latest weighing that tells, of its mass when set; None where none does.
    """

    egg: Egg
    pen_name: str
    outcome: EggOutcome
    seen: tuple[tuple[float, str], ...]
    lost_percent: float | None = None


@dataclass(frozen=True)
class HatchTiming:
    """When the chicks came, in days since set; None where nothing is recorded."""

    first_pip_day: float | None
    first_day: float | None
    last_day: float | None
    chick_days: tuple[float, ...]
    due_day: float

    @property
    def spread_h(self) -> float | None:
        """Hours from the first chick to the last."""
        if self.first_day is None or self.last_day is None:
            return None
        return (self.last_day - self.first_day) * 24

    def as_dict(self) -> dict[str, Any]:
        """The fields as plain JSON values, with the spread."""
        from hatchbook.figures.plain import plain_fields

        return plain_fields(self) | {"spread_h": self.spread_h}


@dataclass(frozen=True)
class WeightFigures:
    """The plain share of weight lost since setting, mean over the eggs weighed last, % of their mass then.

    ``standard_error``: of the mean over the eggs; None for one egg or a tray weighed as one. ``day``: of the
    weighing. ``since_day``: of the masses compared with; 0 where those are the masses when set.
    """

    mean_loss_percent: float
    standard_error: float | None
    eggs: int
    day: float
    since_day: float = 0.0


@dataclass(frozen=True)
class LastReading:
    """The latest reading of a batch's probe."""

    at: int
    temperature_c: float | None
    humidity: float | None
    probe_name: str


@dataclass(frozen=True)
class BatchFigures:
    """All figures of a batch at an instant.

    ``day``: days since it was set (negative while planned). ``candled_days``: when it was candled.
    ``probe_name``: whose readings count; "" where there are none.
    """

    batch: Batch
    now: int
    state: BatchState
    day: float
    lockdown_at: int
    hatch_due_at: int
    lockdown_day: float
    machine_name: str
    pen_names: tuple[str, ...]
    probe_name: str
    last_reading: LastReading | None
    phases: tuple[PhaseFigures, ...]
    eggs: tuple[EggFigures, ...]
    counts: dict[Fate, int]
    rates: BatchRates
    timing: HatchTiming
    weight: WeightFigures | None
    candled_days: tuple[float, ...]
    next_weighing_day: float | None
    #: How the machine's trays are laid out, for the picture of the tray.
    trays: int = 1
    tray_rows: int = 0
    tray_columns: int = 0
    #: What is estimated of the weight; None of a batch that is planned, or of which nothing can be said.
    forecast: WeightForecast | None = None

    @property
    def phase(self) -> PhaseFigures:
        """The phase that runs now; the first one before setting, the last one after the end."""
        for phase in self.phases:
            if phase.state is not PhaseState.OVER:
                return phase
        return self.phases[-1]

    def as_dict(self) -> dict[str, Any]:
        """The figures as plain JSON values, the batch's programme taken apart."""
        from hatchbook.figures.plain import plain_fields

        figures = plain_fields(self)
        figures["batch"]["programme"] = json.loads(self.batch.programme)
        return figures


@dataclass(frozen=True)
class Curves:
    """What the chart pane draws of a batch; arrays of equal length belong together.

    ``at``: instants of the probe's readings from setting to now (or the end). ``running_at``/``running_mean``:
    the phase's mean up to each reading, phases parted by a NaN. ``unknown``: (n, 2) stretches without readings
    longer than the bridge. Humidity and temperature are corrected by the checks of the probe;
    ``shown_humidity`` and ``shown_temperature_c`` are what it showed, None where nothing was corrected. ``still``:
    where it showed the same for longer than a sound probe does.
    """

    batch: Batch
    now: int
    start_at: int
    end_at: int
    at: NDArray[np.int64]
    humidity: NDArray[np.float64]
    temperature_c: NDArray[np.float64]
    running_at: NDArray[np.int64]
    running_mean: NDArray[np.float64]
    unknown: NDArray[np.int64]
    phases: tuple[PhaseFigures, ...]
    events: tuple[Event, ...]
    duties: tuple[Duty, ...]
    shown_humidity: NDArray[np.float64] | None = None
    shown_temperature_c: NDArray[np.float64] | None = None
    still: tuple[SameValue, ...] = ()

    @property
    def corrected(self) -> bool:
        """Whether any of the values is not as its probe showed it."""
        return self.shown_humidity is not None or self.shown_temperature_c is not None

    @cached_property
    def effects(self) -> dict[str, EventEffect]:
        """What water and vent did to the humidity, by the uid of the event; told once, by who asks first."""
        from hatchbook.figures.effects import event_effects

        return event_effects(self)

    @cached_property
    def cuts(self) -> tuple[CutFigures, ...]:
        """The power cuts, logged and found, in the order of time; looked for once."""
        from hatchbook.figures.temperature import batch_cuts

        return batch_cuts(self)


@dataclass(frozen=True)
class BatchSummary:
    """A batch as its line in the batch list shows it.

    ``day``: days since setting, until it was closed. ``hatched``: every chick out of the shell alive.
    ``found_by``: what else it is found by: its breed, its pens, its note. Of a batch of which only counts are
    known, ``set_at`` is the noon of its date, or the beginning of its season, and the days are 0.
    """

    uid: str
    label: str
    name: str
    species: str
    state: BatchState
    day: float
    incubation_days: float
    lockdown_day: float
    set_at: int
    eggs_set: int
    counts: dict[Fate, int]
    hatched: int
    counts_only: bool = False
    found_by: tuple[str, ...] = ()


@dataclass(frozen=True)
class SeasonGroup:
    """The batches of a season, newest first; ``season`` is the year in which it began."""

    season: int
    batches: tuple[BatchSummary, ...]

    @property
    def running(self) -> int:
        """How many of them run or are planned."""
        return sum(batch.state is not BatchState.CLOSED for batch in self.batches)


@dataclass(frozen=True)
class Overview:
    """The batch list: seasons, newest first."""

    seasons: tuple[SeasonGroup, ...]

    def as_dict(self) -> dict[str, Any]:
        """The figures as plain JSON values."""
        from hatchbook.figures.plain import plain_fields

        return plain_fields(self)


@dataclass(frozen=True)
class DutyLine:
    """A duty with the label of its batch ("" for a free one) and whether it is overdue."""

    duty: Duty
    batch_label: str
    overdue: bool


@dataclass(frozen=True)
class Span:
    """The stretch of days for which a batch lies in the machine, for the calendar."""

    batch: str
    label: str
    set_on: date
    lockdown_on: date
    hatch_on: date


@dataclass(frozen=True)
class CalendarFigures:
    """Duties by local date, and spans of the batches, within a stretch of dates.

    ``marks``: per date and batch uid (None: free duties) the kinds worth a mark; turning is in none of them.
    """

    duties: dict[date, tuple[DutyLine, ...]]
    marks: dict[date, tuple[tuple[str | None, DutyKind], ...]]
    spans: tuple[Span, ...]

    def as_dict(self) -> dict[str, Any]:
        """The figures as plain JSON values."""
        from hatchbook.figures.plain import plain_fields

        return plain_fields(self)


class LineKind(StrEnum):
    """What a line of the journal of a batch tells."""

    SET = "set"
    EVENT = "event"
    CANDLED = "candled"
    WEIGHED = "weighed"
    READING = "reading"
    IMPORTED = "imported"
    HATCHED = "hatched"
    OPENED = "opened"
    TAKEN_OUT = "taken_out"
    CLOSED = "closed"


@dataclass(frozen=True)
class JournalLine:
    """One line of a batch's journal: when, what, and the values from which its sentence is made.

    ``record``: kind and uid of the record that the line opens; None for lines that stand for many.
    ``values`` by kind: set {eggs, mean_mass_g}; event {kind, text, channels_filled, water_ml, vent, vent_before,
    seconds}, or {kind, text, count} for the turnings of a day, {kind, text, eggs: their numbers} for a note on
    eggs; candled {counts: finding → n};
    weighed {eggs, loss_percent}; reading {humidity, temperature_c}; imported {stored, file};
    hatched {counts: mark → n}; opened {counts: result → n}; taken_out {number, reason}; closed {}.
    """

    at: int
    kind: LineKind
    values: dict[str, Any]
    record: tuple[str, str] | None
