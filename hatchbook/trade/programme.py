"""A programme: how a species is incubated, with the source of what it says.

A batch keeps the JSON of the programme it was set with, a journal that of the breeder's own ones. The program's own
ones stand in TOML files; both forms have the same entries and are read by the same rules.
"""

from __future__ import annotations

import itertools
import json
from dataclasses import dataclass, replace
from enum import StrEnum

from hatchbook.trade.codes import MachineKind, PhaseKind
from hatchbook.trade.entries import Entries
from hatchbook.trade.phases import LONGEST_DAYS, PhaseTargets, ProgrammeError, ProgrammeFault, check_between
from hatchbook.trade.sources import About, SourceNote, read_source
from hatchbook.trade.units import NumberError, celsius_from_fahrenheit, parse_vent

FORMAT = 1
"""The form of the JSON; a number that is not known is refused."""

STILL_AIR_RISE_C = 2.0 * 5.0 / 9.0
"""Still air, measured at the height of the eggs' tops, against forced air: 102 °F against 100 °F (Mississippi State
University Extension, Important incubation factors)."""

HIGHEST_LOSS_PERCENT = 50.0


class LossBase(StrEnum):
    """The weight that a loss is a share of."""

    LAID = "laid"
    SET = "set"


class LossEnd(StrEnum):
    """What the day of a loss stands for: a day that the source names, or a step of the incubation."""

    DAY = "day"
    LOCKDOWN = "lockdown"
    PIP = "pip"
    HATCH = "hatch"


@dataclass(frozen=True)
class Programme:
    """How a species is incubated.

    Days are 24 hours each, counted from setting; fractions are allowed. Losses are % of the weight at `loss_base`
    by `loss_day`; all three are None where no target is known. `title` is English. Temperatures are for
    `machine_kind`; `still_air_rise_c` is what still air, measured at the eggs' tops, is warmer by.

    Raises:
        ProgrammeError: when the phases do not join, days are not in order, or a value can not be.
    """

    code: str
    species: str
    title: str
    incubation_days: float
    phases: tuple[PhaseTargets, ...]
    candle_days: tuple[float, ...] = ()
    weigh_days: tuple[float, ...] = ()
    loss_low_percent: float | None = None
    loss_high_percent: float | None = None
    loss_day: float | None = None
    loss_base: LossBase = LossBase.SET
    loss_end: LossEnd = LossEnd.DAY
    sources: tuple[SourceNote, ...] = ()
    machine_kind: MachineKind = MachineKind.FORCED_AIR
    still_air_rise_c: float = STILL_AIR_RISE_C

    def __post_init__(self) -> None:
        for field in ("code", "species", "title"):
            if not getattr(self, field).strip():
                raise ProgrammeError(ProgrammeFault.MISSING, field, "The text is empty.")
        if not 0.0 < self.incubation_days <= LONGEST_DAYS:
            sentence = f"An incubation lasts up to {LONGEST_DAYS:g} days, not {self.incubation_days:g}."
            raise ProgrammeError(ProgrammeFault.OUT_OF_RANGE, "incubation_days", sentence)
        self._check_phases()
        for field, days in (("candle_days", self.candle_days), ("weigh_days", self.weigh_days)):
            for day in days:
                check_between(field, day, 0.0, self.incubation_days)
            if not all(earlier < later for earlier, later in itertools.pairwise(days)):
                raise ProgrammeError(ProgrammeFault.NOT_ASCENDING, field, "The days must grow.")
        self._check_loss()
        check_between("still_air_rise_c", self.still_air_rise_c, 0.0, 5.0, "°C")

    def _check_phases(self) -> None:
        kinds = [phase.kind for phase in self.phases]
        if kinds != sorted(kinds) or set(kinds) != set(PhaseKind):  # "incubation" comes before "lockdown"
            sentence = "A programme has an incubation phase first and a lockdown phase last."
            raise ProgrammeError(ProgrammeFault.NOT_JOINED, "phases", sentence)
        edges = [0.0, *(phase.to_day for phase in self.phases)]
        for index, (phase, edge) in enumerate(zip(self.phases, edges, strict=False)):
            if phase.from_day != edge:
                sentence = f"The phase begins on day {phase.from_day:g}; it must begin on day {edge:g}."
                raise ProgrammeError(ProgrammeFault.NOT_JOINED, f"phases[{index}].days", sentence)
        if edges[-1] != self.incubation_days:
            sentence = (
                f"The last phase ends on day {edges[-1]:g}, the incubation on {self.incubation_days:g}."
            )
            raise ProgrammeError(ProgrammeFault.NOT_JOINED, f"phases[{len(kinds) - 1}].days", sentence)

    def _check_loss(self) -> None:
        low, high, day = self.loss_low_percent, self.loss_high_percent, self.loss_day
        if low is None and high is None and day is None:
            return
        if low is None or high is None or day is None:
            sentence = "A loss has a lower and an upper share and a day, or none of the three."
            raise ProgrammeError(ProgrammeFault.MISSING, "loss_percent", sentence)
        for share in (low, high):
            check_between("loss_percent", share, 0.0, HIGHEST_LOSS_PERCENT, "%")
        if low > high:
            raise ProgrammeError(ProgrammeFault.NOT_ASCENDING, "loss_percent", "The lower share comes first.")
        if not 0.0 < day <= self.incubation_days:
            sentence = f"The day must lie in the incubation of {self.incubation_days:g} days."
            raise ProgrammeError(ProgrammeFault.OUT_OF_RANGE, "loss_day", sentence)

    @property
    def lockdown_day(self) -> float:
        """The day on which lockdown begins."""
        return next(phase.from_day for phase in self.phases if phase.kind is PhaseKind.LOCKDOWN)

    def phase_at(self, day: float) -> PhaseTargets | None:
        """The phase of a day; the last one also after the end (late hatches), None before setting."""
        if not day >= 0.0:
            return None
        return next((phase for phase in self.phases if phase.holds(day)), self.phases[-1])

    def sources_of(self, about: About) -> tuple[SourceNote, ...]:
        """What is said about one thing."""
        return tuple(note for note in self.sources if note.about is about)

    def to_json(self) -> str:
        """The whole programme as JSON; `from_json` gives an equal one back."""
        table = {
            "format": FORMAT,
            "code": self.code,
            "species": self.species,
            "title": self.title,
            "incubation_days": self.incubation_days,
            "candle_days": self.candle_days,
            "weigh_days": self.weigh_days,
            "loss_percent": None
            if self.loss_low_percent is None
            else [self.loss_low_percent, self.loss_high_percent],
            "loss_day": self.loss_day,
            "loss_base": self.loss_base,
            "loss_end": self.loss_end,
            "machine_kind": self.machine_kind,
            "still_air_rise_c": self.still_air_rise_c,
            "phases": [_phase_table(phase) for phase in self.phases],
            "sources": [
                {"about": note.about, "statement": note.statement, "source": note.source, "mark": note.mark}
                for note in self.sources
            ],
        }
        return json.dumps(table, ensure_ascii=False)

    @classmethod
    def from_json(cls, text: str) -> Programme:
        """A programme from its JSON.

        Raises:
            ProgrammeError: when the text is not JSON, or not of a programme that can be used.
        """
        try:
            table = json.loads(text)
        except (ValueError, RecursionError) as error:
            raise ProgrammeError(ProgrammeFault.UNREADABLE, "", "This is not a programme.") from error
        entries = Entries(table)
        if entries.whole("format") != FORMAT:
            sentence = "The programme was written by a newer Hatchbook."
            raise ProgrammeError(ProgrammeFault.UNKNOWN_CODE, "format", sentence)
        return read_programme(entries, entries.text("species"))


def for_still_air(programme: Programme) -> Programme:
    """The programme with temperatures for still air, at the height of the eggs' tops; unchanged if it has them.

    Eggs in still air lie in layers of warmth, so the top is kept warmer (`STILL_AIR_RISE_C`).
    """
    if programme.machine_kind is MachineKind.STILL_AIR:
        return programme
    rise = programme.still_air_rise_c
    phases = tuple(
        replace(
            phase,
            temperature_low_c=phase.temperature_low_c + rise,
            temperature_aim_c=phase.temperature_aim_c + rise,
            temperature_high_c=phase.temperature_high_c + rise,
        )
        for phase in programme.phases
    )
    return replace(programme, phases=phases, machine_kind=MachineKind.STILL_AIR)


def read_programme(entries: Entries, species: str) -> Programme:
    """A programme from the entries of its TOML or JSON table.

    Raises:
        ProgrammeError: naming the entry that is not right.
    """
    loss = entries.numbers("loss_percent", 2) if entries.has("loss_percent") else (None, None)
    programme = Programme(
        code=entries.text("code"),
        species=species,
        title=entries.text("title"),
        incubation_days=entries.number("incubation_days"),
        phases=entries.each("phases", _read_phase),
        candle_days=entries.numbers("candle_days") if entries.has("candle_days") else (),
        weigh_days=entries.numbers("weigh_days") if entries.has("weigh_days") else (),
        loss_low_percent=loss[0],
        loss_high_percent=loss[1],
        loss_day=entries.number("loss_day") if entries.has("loss_day") else None,
        loss_base=entries.code("loss_base", LossBase) if entries.has("loss_base") else LossBase.SET,
        loss_end=entries.code("loss_end", LossEnd) if entries.has("loss_end") else LossEnd.DAY,
        sources=entries.each("sources", read_source),
        machine_kind=entries.code("machine_kind", MachineKind)
        if entries.has("machine_kind")
        else MachineKind.FORCED_AIR,
        still_air_rise_c=entries.number("still_air_rise_c")
        if entries.has("still_air_rise_c")
        else STILL_AIR_RISE_C,
    )
    entries.done()
    return programme


def _phase_table(phase: PhaseTargets) -> dict[str, object]:
    return {
        "kind": phase.kind,
        "days": [phase.from_day, phase.to_day],
        "humidity": [phase.humidity_low, phase.humidity_aim, phase.humidity_high],
        "temperature_c": [phase.temperature_low_c, phase.temperature_aim_c, phase.temperature_high_c],
        "turns_per_day": phase.turns_per_day,
        "vent": phase.vent_hint,
    }


def _read_phase(entries: Entries) -> PhaseTargets:
    kind = entries.code("kind", PhaseKind)
    from_day, to_day = entries.numbers("days", 2)
    humidity_low, humidity_aim, humidity_high = entries.numbers("humidity", 3)
    if entries.has("temperature_f"):
        low_c, aim_c, high_c = map(celsius_from_fahrenheit, entries.numbers("temperature_f", 3))
    else:
        low_c, aim_c, high_c = entries.numbers("temperature_c", 3)
    turns = entries.whole("turns_per_day") if entries.has("turns_per_day") else 0
    vent = _read_vent(entries) if entries.has("vent") else None
    entries.done()
    return PhaseTargets(
        kind,
        from_day,
        to_day,
        humidity_low,
        humidity_aim,
        humidity_high,
        low_c,
        aim_c,
        high_c,
        turns_per_day=turns,
        vent_hint=vent,
    )


def _read_vent(entries: Entries) -> float:
    value = entries.value("vent")
    if not isinstance(value, str):
        return entries.number("vent")
    try:
        return parse_vent(value)
    except NumberError as error:
        raise ProgrammeError(ProgrammeFault.OUT_OF_RANGE, "vent", str(error)) from error
