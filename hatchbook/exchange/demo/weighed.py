"""Weighings in the demo: of marked eggs, of every egg, or of the tray as one."""

from __future__ import annotations

from hatchbook.exchange.demo.diary import Diary
from hatchbook.exchange.demo.rounds import Round
from hatchbook.journal import EggMass, Weighing
from hatchbook.journal.table import Record
from hatchbook.trade.codes import EventKind

_RESOLUTION_G = 0.1
_TRAY_RESOLUTION_G = 1.0
_TARE_G = 214.0
_SCALE_NOISE_G = 0.04


def write_weighings(diary: Diary) -> list[list[Record]]:
    """The weighings so far, each with its masses, oldest first; the records are handed on, not yet written."""
    weighings = []
    if diary.run.story.weigh == "whole_tray" and not diary.run.planned:
        weighings.append(_tray(diary, diary.batch.set_at))
    for round_ in diary.run.rounds.weighings:
        tray = diary.run.story.weigh == "whole_tray"
        weighings.append(_tray(diary, round_.at) if tray else _eggs(diary, round_))
        diary.add_event(round_.at, EventKind.LID, machine=diary.machine, ends_at=round_.ends_at)
    return weighings


def _tray(diary: Diary, at: int) -> list[Record]:
    there = diary.in_tray(at)
    masses = _masses_g(diary, at)
    total = round(_TARE_G + sum(masses[egg] for egg in there))
    return [
        Weighing(
            diary.batch.uid,
            at,
            _TRAY_RESOLUTION_G,
            tray_mass_g=float(total),
            tare_g=_TARE_G,
            eggs_on_tray=len(there),
            uid=next(diary.uid),
        )
    ]


def _eggs(diary: Diary, round_: Round) -> list[Record]:
    weighing = Weighing(diary.batch.uid, round_.at, _RESOLUTION_G, uid=next(diary.uid))
    masses = _masses_g(diary, round_.at)
    noise = (_SCALE_NOISE_G * diary.rng.standard_normal(len(masses))).tolist()
    weighed: list[Record] = [
        EggMass(weighing.uid, diary.eggs[egg].uid, round(masses[egg] + noise[egg], 1), uid=next(diary.uid))
        for egg in diary.in_tray(round_.at)
        if diary.eggs[egg].set_mass_g is not None
    ]
    return [weighing, *weighed]


def _masses_g(diary: Diary, at: int) -> list[float]:
    """What each egg really weighs at an instant, g."""
    raw = diary.run.raw
    masses: list[float] = (raw.mass_g * (1 - raw.lost_share(diary.run.pull(at)))).tolist()
    return masses
