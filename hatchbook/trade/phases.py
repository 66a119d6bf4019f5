"""One phase of a programme with its targets, and what is wrong with a programme that can not be used."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from hatchbook.trade.codes import PhaseKind

COLDEST_C, HOTTEST_C = 20.0, 45.0
"""No target outside these is stored."""
LONGEST_DAYS = 120.0
"""No programme is longer; kiwis take 70 to 90 days (Hand-Rearing Birds, 2nd ed., Table 4.1)."""
MOST_TURNS = 48


class ProgrammeFault(StrEnum):
    """What is wrong with a programme."""

    UNREADABLE = "unreadable"
    MISSING = "missing"
    UNKNOWN_ENTRY = "unknown_entry"
    WRONG_KIND = "wrong_kind"
    OUT_OF_RANGE = "out_of_range"
    NOT_ASCENDING = "not_ascending"
    NOT_JOINED = "not_joined"
    UNKNOWN_CODE = "unknown_code"
    GIVEN_TWICE = "given_twice"
    NO_SOURCE = "no_source"


class ProgrammeError(ValueError):
    """A programme that can not be used.

    Attributes:
        fault: the kind of mistake, from which the desk makes its own sentence.
        field: where it is, such as ``phases[1].humidity``; empty when it is the whole.
        sentence: what is wrong, in English.
        file: the file it stands in; empty when it comes from none.
    """

    def __init__(self, fault: ProgrammeFault, field: str, sentence: str, file: str = "") -> None:
        super().__init__(sentence)
        self.fault = fault
        self.field = field
        self.sentence = sentence
        self.file = file

    def __str__(self) -> str:
        place = ", ".join(part for part in (self.file, self.field) if part)
        return f"{place}: {self.sentence}" if place else self.sentence

    def within(self, prefix: str = "", file: str = "") -> ProgrammeError:
        """The same mistake, seen from the whole that holds it."""
        joined = ".".join(part for part in (prefix, self.field) if part)
        return ProgrammeError(self.fault, joined, self.sentence, file or self.file)


def check_between(field: str, value: float, low: float, high: float, unit: str = "") -> None:
    """Raise ProgrammeError unless low <= value <= high."""
    if not low <= value <= high:
        unit = f" {unit}" if unit else ""
        raise ProgrammeError(
            ProgrammeFault.OUT_OF_RANGE, field, f"{value:g}{unit} is not from {low:g} to {high:g}{unit}."
        )


def check_band(field: str, low: float, aim: float, high: float, unit: str) -> None:
    """Raise ProgrammeError unless low <= aim <= high."""
    if not low <= aim <= high:
        raise ProgrammeError(
            ProgrammeFault.NOT_ASCENDING,
            field,
            f"The aim of {aim:g} {unit} does not lie in a band from {low:g} to {high:g} {unit}.",
        )


@dataclass(frozen=True)
class PhaseTargets:
    """A phase with what is aimed at in it.

    Days of 24 hours since setting; % RH; °C where the eggs lie; `vent_hint` from 0 (shut) to 1 (fully open),
    None where nothing is advised.

    Raises:
        ProgrammeError: when a band is not in order, or a value can not be.
    """

    kind: PhaseKind
    from_day: float
    to_day: float
    humidity_low: float
    humidity_aim: float
    humidity_high: float
    temperature_low_c: float
    temperature_aim_c: float
    temperature_high_c: float
    turns_per_day: int = 0
    vent_hint: float | None = None

    def __post_init__(self) -> None:
        check_between("days", self.from_day, 0.0, LONGEST_DAYS)
        check_between("days", self.to_day, 0.0, LONGEST_DAYS)
        if not self.from_day < self.to_day:
            raise ProgrammeError(ProgrammeFault.NOT_ASCENDING, "days", "A phase ends after it begins.")
        for humidity in (self.humidity_low, self.humidity_aim, self.humidity_high):
            if not 0.0 < humidity < 100.0:
                sentence = f"A humidity lies between 0 and 100 %, not at {humidity:g} %."
                raise ProgrammeError(ProgrammeFault.OUT_OF_RANGE, "humidity", sentence)
        check_band("humidity", self.humidity_low, self.humidity_aim, self.humidity_high, "%")
        for temperature in (self.temperature_low_c, self.temperature_aim_c, self.temperature_high_c):
            check_between("temperature", temperature, COLDEST_C, HOTTEST_C, "°C")
        check_band(
            "temperature", self.temperature_low_c, self.temperature_aim_c, self.temperature_high_c, "°C"
        )
        check_between("turns_per_day", self.turns_per_day, 0, MOST_TURNS)
        if self.kind is PhaseKind.LOCKDOWN and self.turns_per_day:
            sentence = "Eggs are not turned in lockdown."
            raise ProgrammeError(ProgrammeFault.OUT_OF_RANGE, "turns_per_day", sentence)
        if self.vent_hint is not None:
            check_between("vent", self.vent_hint, 0.0, 1.0)

    @property
    def days(self) -> float:
        """How long the phase lasts, days."""
        return self.to_day - self.from_day

    def holds(self, day: float) -> bool:
        """Whether a day after setting lies in the phase; the end belongs to the next one."""
        return math.isfinite(day) and self.from_day <= day < self.to_day
