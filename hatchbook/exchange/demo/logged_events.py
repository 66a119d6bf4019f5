"""Events in the demo's journal: water, vent, power cuts, turnings, mistings, notes. Not all is written down."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from hatchbook.exchange.demo.diary import Diary
from hatchbook.exchange.demo.dry_run import DRY_RUN_BEFORE_S, DRY_RUN_S
from hatchbook.exchange.demo.room import Room
from hatchbook.exchange.demo.steering import WaterSetting
from hatchbook.journal import Event
from hatchbook.statistics.moisture import humidity_when_warmed
from hatchbook.trade.codes import DutyKind, EventKind

_FILLS_LOGGED = {"all": 0.97, "some": 0.5, "little": 0.12}
_AMOUNT_LOGGED = {"all": 0.6, "some": 0.2, "little": 0.0}
_MOST_FILLED = 1.5  # channels hold no more, whatever has evaporated since


def write_events(diary: Diary, room: Room) -> list[Event]:
    """Everything but the fillings, which are handed on, oldest first, not yet written."""
    run, story = diary.run, diary.run.story
    _write_dry_run(diary, room)
    for setting in run.care.settings:
        if setting.moves_vent:
            diary.add_event(
                setting.at, EventKind.VENT, machine=diary.machine, vent=setting.vent, text=setting.text
            )
    for cut in story.power_cuts:
        at = diary.dates.of_batch(diary.batch.set_at, cut.day, cut.at)
        ends_at = at + round(60 * cut.minutes)
        if cut.logged and ends_at < run.until:
            diary.add_event(at, EventKind.POWER_CUT, machine=diary.machine, ends_at=ends_at, text=cut.text)
    for silence in story.silences:
        at = diary.dates.of_batch(diary.batch.set_at, silence.day, silence.at)
        diary.note(at + round(3600 * silence.hours), silence.text)
    for note in story.notes:
        diary.note(diary.dates.of_batch(diary.batch.set_at, note.day, note.at), note.text)
    for misted_at in run.rounds.mistings:
        diary.add_event(misted_at, EventKind.MISTED, batch=diary.batch.uid)
    if story.log != "little":
        for duty in diary.duties:
            if duty.kind is DutyKind.TURN and duty.done_at is not None:
                diary.add_event(duty.done_at, EventKind.TURNED, batch=diary.batch.uid)
    if run.closed_at is not None and story.log == "all":
        # A day later another batch may lie in the machine, whose journal it would be.
        diary.add_event(run.closed_at - 600, EventKind.CLEANED, machine=diary.machine)
    return list(_fillings(diary))


def _write_dry_run(diary: Diary, room: Room) -> None:
    if diary.run.planned or diary.run.story.log == "little":
        return
    at = diary.batch.set_at - DRY_RUN_BEFORE_S
    targets = diary.run.plan.phases[0].targets
    air = room.air(np.array([at]))
    warmed = humidity_when_warmed(air.temperature_c, air.humidity, np.array([targets.temperature_aim_c]))
    alone = float(warmed[0])
    diary.add_event(
        at,
        EventKind.DRY_RUN,
        machine=diary.machine,
        batch=diary.batch.uid,
        ends_at=at + DRY_RUN_S,
        text=f"empty and dry, {alone:.0f} % from the room's air alone",
    )


def _fillings(diary: Diary) -> Iterator[Event]:
    run, log = diary.run, diary.run.story.log
    settings = {one.at: one for one in run.care.settings if one.moves_channels}
    last_at, standing = diary.batch.set_at, 0
    for at in sorted({*settings, *run.care.fills}):
        setting = settings.get(at)
        evaporated_ml = float(np.interp([last_at, at], run.air.at, run.air.evaporated_g) @ [-1.0, 1.0])
        last_at = at
        standing = standing if setting is None else setting.channels
        logged, measured = diary.rng.random(2).tolist()
        if setting is None and logged > _FILLS_LOGGED[log]:
            continue
        most_ml = _MOST_FILLED * run.machine.channel_ml * max(standing, 1)
        amount_ml = round(min(evaporated_ml, most_ml) / 10) * 10.0
        knows = setting is None and measured < _AMOUNT_LOGGED[log] and amount_ml > 0
        yield Event(
            at,
            EventKind.WATER,
            machine=diary.machine,
            channels_filled=standing,
            water_ml=amount_ml if knows else None,
            text=_text(setting),
            uid=next(diary.uid),
        )


def _text(setting: WaterSetting | None) -> str:
    return "and a wet sponge" if setting is not None and setting.sponge else ""
