"""The water and vent guide of a machine: what each setting is expected to give, and which one is advised.

`machine_guide_model` reads the history and fits it: slow, for the worker. `GuideModel.guide` reckons with any room
air and any batch: quick enough for a spin box.
"""

from __future__ import annotations

from hatchbook.figures.batch import batch_figures
from hatchbook.figures.course import Course, present
from hatchbook.figures.guide_advice import SAME_VENT
from hatchbook.figures.guide_history import Progress, egg_load, machine_history
from hatchbook.figures.guide_model import Aim, GuideModel
from hatchbook.figures.guide_records import USUAL_MACHINE_C, MachineHistory
from hatchbook.figures.guide_results import GuideCell, MachineGuide, RoomAir
from hatchbook.figures.guide_room import room_knowledge
from hatchbook.figures.guide_wanted import wanted_humidity
from hatchbook.figures.results import BatchState
from hatchbook.journal import Journal
from hatchbook.statistics.water_guide import fit_water
from hatchbook.statistics.water_model import Channels

__all__ = ["GuideModel", "advised_setting", "machine_guide", "machine_guide_model"]

VENTS = (0.0, 0.25, 0.5, 0.75, 1.0)
MOST_VENTS = 7
_HOURS_WORTH_A_COLUMN = 24.0
_KEPT_S = 600
"""So long a fitted machine is good for, as long as nothing in the journal changes."""
_kept: dict[tuple[str, str, str], GuideModel] = {}
_MOST_KEPT = 4


def machine_guide(
    journal: Journal, uid: str, now: int | None = None, room: RoomAir | None = None, batch: str | None = None
) -> MachineGuide:
    """The guide of a machine at an instant; see `GuideModel.guide`.

    Raises:
        RecordMissingError: there is no such machine.
    """
    return machine_guide_model(journal, uid, now).guide(room, batch)


def machine_guide_model(
    journal: Journal, uid: str, now: int | None = None, progress: Progress | None = None
) -> GuideModel:
    """Reads a machine's history and fits it; the last few are kept until the journal changes, or some minutes.

    Args:
        progress: is told the share done, 0 to 1, between batches; it may raise to end the work.

    Raises:
        RecordMissingError: there is no such machine.
    """
    at = present(now)
    state = _state(journal, uid)
    kept = _kept.get(state) if state is not None else None
    if kept is not None and 0 <= at - kept.now < _KEPT_S:
        return kept
    model = _fitted(journal, uid, at, progress)
    if state is not None:
        _kept[state] = model
        while len(_kept) > _MOST_KEPT:
            _kept.pop(next(iter(_kept)), None)
    return model


def _state(journal: Journal, uid: str) -> tuple[str, str, str] | None:
    """What a machine's model depends on beside the time; None where no change is known to go by."""
    last = journal.history.next_undo()
    return None if last is None else (str(journal.path), uid, last.uid)


def _fitted(journal: Journal, uid: str, at: int, progress: Progress | None) -> GuideModel:
    history = machine_history(
        journal, uid, at, None if progress is None else lambda share: progress(0.7 * share)
    )
    aims = tuple(_aims(journal, history, at))
    knowledge = room_knowledge(journal, history, at)
    belief = knowledge.belief
    fit = fit_water(history.settled(), history.top_ups, _channels(history), belief)
    if progress is not None:
        progress(1.0)
    return GuideModel(
        now=at,
        history=history,
        fit=fit,
        knowledge=knowledge.with_fit(fit, aims[0].place if aims else None),
        aims=aims,
        machine_c=_machine_c(history, aims),
        vents=_vents(history, at),
    )


def advised_setting(journal: Journal, batch: str, now: int | None = None) -> GuideCell | None:
    """The setting that is advised for a batch at an instant, for the machine in which it lies or will lie.

    None where nothing is wanted, or nothing comes near.

    Raises:
        RecordMissingError: there is no such batch.
    """
    at = present(now)
    course = Course(journal, batch, at)
    return machine_guide(journal, course.machine_at(at), at, batch=batch).advised


def _channels(history: MachineHistory) -> Channels:
    areas = [channel.area_cm2 for channel in history.channels if channel.area_cm2]
    return Channels(history.channel_count, sum(areas) / len(areas) if areas else None)


def _aims(journal: Journal, history: MachineHistory, now: int) -> list[Aim]:
    """The batches that lie in the machine, the newest first, then those that are planned for it, the next first."""
    uid = history.machine.uid
    running: list[Aim] = []
    planned: list[Aim] = []
    for batch in journal.batches.with_phase_in(uid):
        if batch.closed_at is not None:
            continue
        figures = batch_figures(journal, batch.uid, now)
        machines = {
            phase.from_day: phase.machine or batch.machine for phase in journal.batches.phases(batch.uid)
        }
        if machines.get(figures.phase.from_day, batch.machine) != uid:
            continue
        wanted = wanted_humidity(figures)
        if wanted is None:
            continue
        load = egg_load(journal, batch, history.machine.altitude_m)
        aim = Aim(figures, wanted, load, history.place_of(batch.uid))
        (planned if figures.state is BatchState.PLANNED else running).append(aim)
    running.sort(key=lambda aim: -aim.figures.batch.set_at)
    planned.sort(key=lambda aim: aim.figures.batch.set_at)
    return [*running, *planned]


def _machine_c(history: MachineHistory, aims: tuple[Aim, ...]) -> float:
    """How warm the machine is: by its last settled days with eggs, else by the programme."""
    latest = [day.temperature_c for day in history.days if day.eggs_g_h_kpa > 0][-3:]
    if latest:
        return sum(latest) / len(latest)
    return aims[0].figures.phase.temperature_band.aim if aims else USUAL_MACHINE_C


def _vents(history: MachineHistory, now: int) -> tuple[float, ...]:
    """The quarters, the vent as it stands, and openings that were used for long, most used first."""
    hours: dict[float, float] = {}
    for day in history.days:
        hours[day.vent] = hours.get(day.vent, 0.0) + day.known_h * bool(day.channels)
    standing = history.line.at(now)
    used = sorted(
        (vent for vent in hours if hours[vent] >= _HOURS_WORTH_A_COLUMN), key=lambda vent: -hours[vent]
    )
    if standing is not None and standing.vent is not None:
        used.insert(0, standing.vent)
    vents = list(VENTS)
    for vent in used:
        if len(vents) < MOST_VENTS and all(abs(vent - one) > SAME_VENT for one in vents):
            vents.append(vent)
    return tuple(sorted(vents))
