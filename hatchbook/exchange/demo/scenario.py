"""The story of the demo as it stands in ``resources/demo/scenario.toml``; the entries are explained beside it."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass, fields
from datetime import time
from functools import cache
from typing import Any, TypeVar

from hatchbook.trade.codes import MachineKind
from hatchbook.trade.resources import resource_path
from hatchbook.trade.units import parse_vent

Part = TypeVar("Part")
Table = dict[str, Any]


@dataclass(frozen=True)
class RoomPlan:
    """The air round the machines: means and how far they swing, °C and kPa of water vapour."""

    temperature_c: float
    day_swing_c: float
    slow_swing_c: float
    vapour_kpa: float
    slow_swing_kpa: float
    day_swing_kpa: float


@dataclass(frozen=True)
class MachinePlan:
    """A machine, and how its air changes (m³ an hour), how its channels give off water (g an hour and kPa)."""

    key: str
    name: str
    kind: MachineKind
    rows: int
    columns: int
    altitude_m: float
    note: str
    channels: int
    channel_cm2: float
    channel_ml: float
    leak_m3_h: float
    vent_m3_h: float
    channel_g_h_kpa: float
    inside_m3: float
    turning_opens_lid_min: float


@dataclass(frozen=True)
class CheckPlan:
    """A test of a hygrometer over a salt: when, what it should have shown at how many °C."""

    salt: str
    value: float
    celsius: float
    season: int = 0
    month: int = 0
    day: int = 0
    days_before_now: int | None = None
    note: str = ""


@dataclass(frozen=True)
class ProbePlan:
    """A probe and its faults: % RH that it reads high and drifts a year, noise in % RH and °C."""

    key: str
    name: str
    place: str
    reads_high: float
    drifts_a_year: float
    noise: float
    noise_c: float
    checks: tuple[CheckPlan, ...]
    accuracy_humidity: float | None = None
    accuracy_temperature_c: float | None = None


@dataclass(frozen=True)
class MemberPlan:
    """A bird of a pen."""

    name: str
    sex: str
    ring: str


@dataclass(frozen=True)
class PenPlan:
    """Where eggs come from, and what they are like; one without a name is no pen: its eggs came from elsewhere.

    ``fertile``: share of 1. ``losses``: embryos dying, against the customary number. ``conductance``: mg of water
    a day, gram of egg and torr.
    """

    key: str
    species: str
    breed: str
    fertile: float
    losses: float
    mass_g: float
    conductance: float
    name: str = ""
    letter: str = ""
    note: str = ""
    members: tuple[MemberPlan, ...] = ()


@dataclass(frozen=True)
class SetWhen:
    """When a batch is set: on a date of a season counted back, or so long before or after now; at a wall time."""

    at: time
    season: int = 0
    month: int = 0
    day: int = 0
    before_now_days: int | None = None
    before_now_hours: int = 0
    after_now_days: int | None = None


@dataclass(frozen=True)
class Steering:
    """What the breeder does about water and vent from a day on: an aim, % RH, or what he sets it to."""

    day: float
    aim: float | None = None
    channels: int | None = None
    vent: float | None = None
    text: str = ""


@dataclass(frozen=True)
class Happening:
    """Something at a wall time of a day of the batch: a note, a power cut of minutes, a silence of hours.

    ``logged``: False for a cut that nobody noticed: only the curve tells of it.
    """

    day: int
    at: time
    text: str = ""
    minutes: float = 0.0
    hours: float = 0.0
    logged: bool = True


@dataclass(frozen=True)
class BatchStory:
    """A batch and what became of it; see ``resources/README.md``."""

    name: str
    set: SetWhen
    programme: str
    machine: str
    eggs: dict[str, int]
    every_min: int
    log: str
    weigh: str
    opens: float
    key: str = ""
    typed: str = "celsius"
    oldest_days: int = 8
    dams: bool = False
    measured: bool = False
    misted: bool = False
    sponge: bool = False
    channel_leaks_a_day: float = 0.0
    contradiction: str = ""
    broken_day: int | None = None
    taken_out_day: int | None = None
    steer: tuple[Steering, ...] = ()
    notes: tuple[Happening, ...] = ()
    power_cuts: tuple[Happening, ...] = ()
    silences: tuple[Happening, ...] = ()

    @property
    def count(self) -> int:
        """How many eggs are set."""
        return sum(self.eggs.values())


@dataclass(frozen=True)
class PastStory:
    """A batch known by its counts; ``counts`` has the fields of a past batch."""

    name: str
    season: int
    month: int
    day: int
    programme: str
    machine: str
    pen: str
    note: str
    counts: dict[str, int]


@dataclass(frozen=True)
class DutyStory:
    """A duty of the breeder's own, so many days from now."""

    days: int
    at: time
    text: str
    batch: str = ""
    done: bool = False


@dataclass(frozen=True)
class Scenario:
    """The whole story."""

    room: RoomPlan
    machines: tuple[MachinePlan, ...]
    probes: tuple[ProbePlan, ...]
    pens: tuple[PenPlan, ...]
    batches: tuple[BatchStory, ...]
    past_batches: tuple[PastStory, ...]
    duties: tuple[DutyStory, ...]


@cache
def load_scenario() -> Scenario:
    """The story of the demo.

    Raises:
        TypeError, KeyError, ValueError: an entry is misspelt, missing or cannot be.
    """
    with resource_path("demo", "scenario.toml").open("rb") as file:
        table = tomllib.load(file)
    return Scenario(
        room=RoomPlan(**table["room"]),
        machines=tuple(MachinePlan(**{**one, "kind": MachineKind(one["kind"])}) for one in table["machines"]),
        probes=tuple(
            ProbePlan(**{**one, "checks": _each(CheckPlan, one["checks"])}) for one in table["probes"]
        ),
        pens=tuple(
            PenPlan(**{**one, "members": _each(MemberPlan, one.get("members", []))}) for one in table["pens"]
        ),
        batches=tuple(_batch(one) for one in table["batches"]),
        past_batches=tuple(_past(one) for one in table["past_batches"]),
        duties=_each(DutyStory, table["duties"]),
    )


def _batch(table: Table) -> BatchStory:
    parts: Table = {
        "set": _timed(SetWhen, table["set"]),
        "steer": tuple(_steering(one) for one in table.get("steer", [])),
    }
    for name in ("notes", "power_cuts", "silences"):
        parts[name] = _each(Happening, table.get(name, []))
    return BatchStory(**{**table, **parts})


def _steering(table: Table) -> Steering:
    vent = table.get("vent")
    return Steering(**{**table, "vent": None if vent is None else parse_vent(vent)})


def _past(table: Table) -> PastStory:
    own = {field.name for field in fields(PastStory)} - {"counts"}
    told = {name: value for name, value in table.items() if name in own}
    return PastStory(**told, counts={name: value for name, value in table.items() if name not in own})


def _each(kind: type[Part], tables: list[Table]) -> tuple[Part, ...]:
    return tuple(_timed(kind, one) for one in tables)


def _timed(kind: type[Part], table: Table) -> Part:
    """A part whose ``at``, if it has one, is a time of day."""
    timed = {"at": time.fromisoformat(table["at"])} if "at" in table else {}
    return kind(**{**table, **timed})
