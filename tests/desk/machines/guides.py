"""Guides of a machine made by hand, for the words and the widgets that show them."""

from __future__ import annotations

from dataclasses import replace
from typing import Any
from zoneinfo import ZoneInfo

from hatchbook.figures.guide_results import (
    GuideCell,
    MachineGuide,
    NextFill,
    RoomAir,
    RoomAirFrom,
    Wanted,
    WantedFrom,
)
from hatchbook.figures.weight_results import Estimate
from hatchbook.trade.codes import PhaseKind

ZONE = ZoneInfo("Europe/Lisbon")
DAY = 86_400
#: Thu 14 May 2026, 14:10 in Lisbon.
NOW = 1_778_764_200
VENTS = (0.0, 0.25, 0.5, 0.75, 1.0)
ROOM = RoomAir(17.5, 60.0, RoomAirFrom.READING, NOW - 600, "Room logger")
_INCUBATION, _LOCKDOWN = (40.0, 50.0), (60.0, 70.0)


def estimate(value: float, half: float = 2.0) -> Estimate:
    """A number with an even range."""
    return Estimate(value, value - half, value + half)


def cell(channels: int, vent: float, **given: Any) -> GuideCell:
    """A cell whose humidity rises with water and falls with the vent."""
    value = 18.0 + channels * (14.0 - 8.0 * vent)
    fits = tuple(
        kind
        for kind, (low, high) in ((PhaseKind.INCUBATION, _INCUBATION), (PhaseKind.LOCKDOWN, _LOCKDOWN))
        if low <= value <= high
    )
    made = GuideCell(channels, vent, estimate(value), 0.0, (), fits)
    return replace(made, **given)


def wanted(**given: Any) -> Wanted:
    """What a batch wants until Thu 21 May."""
    made = Wanted(
        humidity=40.1,
        low=34.0,
        high=46.0,
        origin=WantedFrom.HOLD,
        phase=PhaseKind.INCUBATION,
        batch="b1",
        batch_label="26-05",
        batch_name="Orchard hens",
        until_at=NOW + 7 * DAY,
    )
    return replace(made, **given)


def fill(**given: Any) -> NextFill:
    """Two channels filled yesterday evening."""
    filled_at = NOW - 20 * 3600 - 2400
    made = NextFill(filled_at + round(2.1 * DAY), Estimate(2.1, 1.6, 2.6), filled_at, 2, "dried")
    return replace(made, **given)


def guide(
    *,
    setting: tuple[int, float] | None = (2, 0.5),
    advised: tuple[int, float] | None = (2, 0.5),
    channels: int = 3,
    **given: Any,
) -> MachineGuide:
    """A guide of a machine with three channels that stands as it should."""
    cells = tuple(tuple(cell(row, vent) for vent in VENTS) for row in range(channels + 1))

    def find(one: tuple[int, float] | None) -> GuideCell | None:
        return None if one is None else cells[one[0]][VENTS.index(one[1])]

    made = MachineGuide(
        machine="m1",
        machine_name="Dairy",
        vents=VENTS,
        cells=cells,
        room=ROOM,
        machine_c=37.7,
        room_only=18.0,
        stretches=12,
        hours=640.0,
        enough=True,
        setting=setting,
        setting_since=NOW - 3 * DAY if setting is not None else None,
        now_cell=find(setting),
        wanted=wanted(),
        advised=find(advised),
        nearest_off=None,
        water_ml_a_day=Estimate(184.0, 152.0, 213.0),
        next_fill=fill(),
        weather=(),
        dry_runs=(),
        egg_share=2.0,
    )
    return replace(made, **given)
