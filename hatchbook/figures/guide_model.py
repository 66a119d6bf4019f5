"""A fitted machine and what it says for a room's air and a batch: the quick part of the guide."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hatchbook.figures.guide_advice import SAME_VENT, advised_cell, is_allowed
from hatchbook.figures.guide_fill import next_fill
from hatchbook.figures.guide_records import MachineHistory
from hatchbook.figures.guide_results import (
    DryRun,
    GuideCell,
    MachineGuide,
    RoomAir,
    RoomAirFrom,
    Wanted,
    WeatherEffect,
)
from hatchbook.figures.guide_room import RoomKnowledge, room_kpa
from hatchbook.figures.results import BatchFigures
from hatchbook.figures.weight_results import Estimate
from hatchbook.statistics.moisture import humidity_when_warmed
from hatchbook.statistics.water_guide import NORMAL_95, Expected, WaterFit
from hatchbook.statistics.water_model import Standing
from hatchbook.trade.codes import PhaseKind

ENOUGH_STRETCHES, ENOUGH_HOURS = 4, 96.0
"""With fewer of either the ranges are mostly what is believed beforehand (our choice)."""
_ROOM_READ_SPREAD = 0.02


@dataclass(frozen=True)
class Aim:
    """A batch that the guide can serve: what it wants, its eggs, its phase."""

    figures: BatchFigures
    wanted: Wanted | None
    eggs_g_h_kpa: float
    place: int | None


@dataclass(frozen=True)
class GuideModel:
    """A machine's history, fitted; asks nothing of the journal any more."""

    now: int
    history: MachineHistory
    fit: WaterFit
    knowledge: RoomKnowledge
    aims: tuple[Aim, ...]
    machine_c: float
    vents: tuple[float, ...]

    @property
    def batches(self) -> tuple[str, ...]:
        """The uids of the batches that a guide can be asked for, those that lie in the machine first."""
        return tuple(aim.figures.batch.uid for aim in self.aims)

    def guide(self, room: RoomAir | None = None, batch: str | None = None) -> MachineGuide:
        """What each setting gives with a room's air, and what is advised for a batch.

        Args:
            room: None takes the room's last reading, or what is assumed where there is none.
            batch: the uid of one of ``batches``; None takes the first of them.
        """
        return Reckoning(self, self.knowledge.now if room is None else room, batch).guide()

    def aim_of(self, batch: str | None) -> Aim | None:
        """The batch asked for, or the first."""
        if batch is None:
            return self.aims[0] if self.aims else None
        return next((aim for aim in self.aims if aim.figures.batch.uid == batch), None)


class Reckoning:
    """One guide: the model, a room's air and a batch."""

    def __init__(self, model: GuideModel, room: RoomAir, batch: str | None) -> None:
        self._model, self._room = model, room
        self._aim = model.aim_of(batch)
        history = model.history
        standing = history.line.at(model.now)
        self._setting: tuple[int, float] | None = None
        if standing is not None and standing.channels is not None and standing.vent is not None:
            self._setting = standing.channels, standing.vent
        self._lockdown = (
            self._aim is not None
            and self._aim.wanted is not None
            and (self._aim.wanted.phase is PhaseKind.LOCKDOWN)
        )
        self._shape = history.channel_count + 1, len(model.vents)

    def guide(self) -> MachineGuide:
        model, history, aim = self._model, self._model.history, self._aim
        wanted = None if aim is None else aim.wanted
        expected = self._expect(self._room)
        cells = self._cells(expected)
        now_cell = self._now_cell(cells)
        advised = advised_cell(cells, wanted, self._setting, lockdown=self._lockdown)
        shown = advised if advised is not None else now_cell
        position = self._position(now_cell)
        settled_h = sum(day.known_h for day in history.with_eggs)
        stretches = len({day.stretch for day in history.with_eggs})
        return MachineGuide(
            machine=history.machine.uid,
            machine_name=history.machine.name,
            vents=model.vents,
            cells=cells,
            room=self._room,
            machine_c=model.machine_c,
            room_only=_room_only(self._room, model.machine_c),
            stretches=stretches,
            hours=settled_h,
            enough=stretches >= ENOUGH_STRETCHES and settled_h >= ENOUGH_HOURS,
            setting=self._setting,
            setting_since=history.line.since(model.now) if self._setting is not None else None,
            now_cell=now_cell,
            wanted=wanted,
            advised=advised,
            nearest_off=None
            if advised is None or wanted is None
            else abs(advised.humidity.value - wanted.humidity),
            water_ml_a_day=_water(expected, position) if now_cell is not None and now_cell.channels else None,
            next_fill=next_fill(history, model.fit, model.now, now_cell, _water(expected, position)),
            weather=self._weather(shown) if shown is not None else (),
            dry_runs=_dry_runs(history, model),
            impossible_fillings=history.line.impossible,
            egg_share=float(expected.egg_share[self._position(shown) or 0]) if shown is not None else 0.0,
        )

    def _expect(self, room: RoomAir) -> Expected:
        model, aim = self._model, self._aim
        rows, columns = self._shape
        channels, vents = np.meshgrid(np.arange(float(rows)), np.array(model.vents), indexing="ij")
        same = np.ones(rows * columns)
        eggs = aim.eggs_g_h_kpa if aim is not None else _usual_load(model.history)
        cases = Standing(
            channels=channels.ravel(),
            vent=vents.ravel(),
            room_kpa=room_kpa(room) * same,
            temperature_c=model.machine_c * same,
            eggs_g_h_kpa=eggs * same,
            hatching=float(self._lockdown) * same,
        )
        spread = (
            model.knowledge.assumed_spread_kpa
            if room.origin is RoomAirFrom.ASSUMED
            else _ROOM_READ_SPREAD * room_kpa(room)
        )
        place = aim.place if aim is not None else None
        return model.fit.expect(
            cases, batch=place, stretch=self._running_stretch(place), room_spread_kpa=spread
        )

    def _running_stretch(self, place: int | None) -> int | None:
        """The stretch that still goes on, if the last settled day stood as the machine stands now."""
        days = [day for day in self._model.history.with_eggs if day.batch == place]
        if not days or self._setting is None or place is None:
            return None
        last = days[-1]
        same = (last.channels, round(last.vent, 2)) == (self._setting[0], round(self._setting[1], 2))
        return last.stretch if same else None

    def _cells(self, expected: Expected) -> tuple[tuple[GuideCell, ...], ...]:
        rows, columns = self._shape
        found = [
            self._cell(row, vent, expected, row * columns + column)
            for row in range(rows)
            for column, vent in enumerate(self._model.vents)
        ]
        return tuple(tuple(found[row * columns : (row + 1) * columns]) for row in range(rows))

    def _cell(self, channels: int, vent: float, expected: Expected, position: int) -> GuideCell:
        humidity = _range(expected.humidity[position], expected.spread[position])
        tried = [
            found
            for (filled, opening), found in self._model.history.evidence.items()
            if filled == channels and abs(opening - vent) <= SAME_VENT
        ]
        phases = self._aim.figures.phases if self._aim is not None else ()
        fits = tuple(
            phase.kind
            for phase in phases
            if phase.humidity_band.low <= humidity.value <= phase.humidity_band.high
        )
        return GuideCell(
            channels=channels,
            vent=vent,
            humidity=humidity,
            hours=sum((hours for hours, _ in tried), 0.0),
            batches=tuple(dict.fromkeys(label for _, labels in tried for label in labels)),
            fits=fits,
            allowed=is_allowed(vent, lockdown=self._lockdown),
        )

    def _now_cell(self, cells: tuple[tuple[GuideCell, ...], ...]) -> GuideCell | None:
        if self._setting is None or self._setting[0] >= len(cells):
            return None
        row = cells[self._setting[0]]
        cell = min(row, key=lambda one: abs(one.vent - self._setting[1]) if self._setting else 0.0)
        return cell if abs(cell.vent - self._setting[1]) <= SAME_VENT else None

    def _position(self, cell: GuideCell | None) -> int | None:
        return None if cell is None else cell.channels * self._shape[1] + self._model.vents.index(cell.vent)

    def _weather(self, shown: GuideCell) -> tuple[WeatherEffect, ...]:
        position = self._position(shown) or 0
        wanted = self._aim.wanted if self._aim is not None else None
        effects = []
        for code, room in self._model.knowledge.weather:
            expected = self._expect(room)
            cells = self._cells(expected)
            best = advised_cell(cells, wanted, (shown.channels, shown.vent), lockdown=self._lockdown) or shown
            effects.append(
                WeatherEffect(
                    room=room,
                    code=code,
                    room_only=_room_only(room, self._model.machine_c),
                    humidity=_range(expected.humidity[position], expected.spread[position]),
                    channels=best.channels,
                    vent=best.vent,
                )
            )
        return tuple(effects)


def _range(value: float, spread: float) -> Estimate:
    middle = float(np.clip(value, 0.0, 100.0))
    half = NORMAL_95 * float(spread)
    return Estimate(middle, max(middle - half, 0.0), min(middle + half, 100.0))


def _water(expected: Expected, position: int | None) -> Estimate | None:
    """Water that evaporates in a day, ml; its range is even on the logarithm, since it cannot fall below 0."""
    if position is None or not expected.water_ml_day[position] > 0:
        return None
    value = float(expected.water_ml_day[position])
    factor = float(np.exp(NORMAL_95 * expected.water_spread[position] / value))
    return Estimate(value, value / factor, value * factor)


def _room_only(room: RoomAir, machine_c: float) -> float:
    return float(humidity_when_warmed(room.temperature_c, room.humidity, machine_c))


def _usual_load(history: MachineHistory) -> float:
    """The eggs of the machine's days on average; 0 without any."""
    loads = [day.eggs_g_h_kpa for day in history.with_eggs]
    return sum(loads) / len(loads) if loads else 0.0


def _dry_runs(history: MachineHistory, model: GuideModel) -> tuple[DryRun, ...]:
    """What the machine showed when it ran dry and empty, newest first; only where the room's air is known."""
    found = []
    for event, humidity, temperature_c in reversed(history.dry_runs):
        room = model.knowledge.at(event.at)
        if room is not None:
            expected = _room_only(room, temperature_c)
            found.append(DryRun(event.at, humidity, expected, room))
    return tuple(found)
