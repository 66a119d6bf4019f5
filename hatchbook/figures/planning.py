"""A batch as it is being planned: what it will ask, where its eggs lie, what is in its way."""

from __future__ import annotations

import itertools
import re
from collections.abc import Collection, Sequence
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from zoneinfo import ZoneInfo

from hatchbook.figures.egg_places import PlannedEgg, RowOfEggs, lay_out
from hatchbook.figures.machine_room import LockdownClash, MachineRoom, lockdown_clashes, machine_room
from hatchbook.journal import Batch, Egg, Journal, Machine
from hatchbook.journal.table import new_uid
from hatchbook.trade.codes import DutyKind, EggSource, WeighPlan
from hatchbook.trade.instants import DAY_S, season_of, to_local
from hatchbook.trade.plan import BatchPlan, plan_batch
from hatchbook.trade.programme import Programme

LONG_KEPT_DAYS = 7
"""Kept longer, fewer eggs hatch (hens: Fasenko 2007, Poult. Sci. 86:1020-1024)."""
TOO_LONG_KEPT_DAYS = 10
"""From here on a note says so (our choice)."""
LONG_AGO_S = 2 * DAY_S
"""A batch set longer ago than this is entered afterwards, and the plan says so (our choice)."""


@dataclass(frozen=True)
class PenRow:
    """Eggs of one pen ("" where it is not known), the date the oldest was laid, the letter on their shells.

    ``known``: those of them that lie in the batch already, when one that was set is changed.
    """

    pen_name: str = ""
    eggs: int = 0
    laid_on: date | None = None
    letter: str = ""
    known: tuple[Egg, ...] = ()


@dataclass(frozen=True)
class BatchDraft:
    """What the breeder has entered so far. ``programme`` has the breeder's own changes and the machine's warmth.

    ``machine`` is a stored one or, with ``machine_is_new``, one to be added with ``channels`` channels and a probe
    of ``probe_name``. ``batch``: the one that is changed; None for a new one, which gets ``uid``.
    """

    programme: Programme
    set_at: int
    label: str = ""
    name: str = ""
    breed: str = ""
    machine: Machine | None = None
    machine_is_new: bool = False
    channels: int = 0
    probe_name: str = ""
    rows: tuple[PenRow, ...] = ()
    source: EggSource = EggSource.OWN
    weigh_plan: WeighPlan = WeighPlan.NONE
    marked: int = 0
    note: str = ""
    batch: Batch | None = None
    uid: str = field(default_factory=new_uid)

    @property
    def eggs(self) -> int:
        """How many eggs are to be set."""
        return sum(max(row.eggs, 0) for row in self.rows)


@dataclass(frozen=True)
class PlanStop:
    """What a date asks: its kinds of duty without turning, in their order, and the instant of the first."""

    at: int
    day: float
    kinds: tuple[DutyKind, ...]


class NoteCode(StrEnum):
    """What a breeder should know of a plan before setting."""

    MACHINE_FULL = "machine_full"
    LOCKDOWN_REACHES_US = "lockdown_reaches_us"
    OUR_LOCKDOWN_REACHES = "our_lockdown_reaches"
    SET_LONG_AGO = "set_long_ago"
    EGGS_OLD = "eggs_old"


@dataclass(frozen=True)
class PlanNote:
    """One of these with the values its sentence names: a batch's label, instants, eggs without a place, days."""

    code: NoteCode
    label: str = ""
    from_at: int = 0
    until_at: int = 0
    eggs: int = 0
    places: int = 0
    days: int = 0
    pen_name: str = ""


@dataclass(frozen=True)
class DraftPlan:
    """What follows from a draft.

    ``room`` is None while no machine is chosen. ``kept_days``: how many days the oldest egg of the youngest and of
    the oldest row has been kept when set; None where no date is known.
    """

    plan: BatchPlan
    stops: tuple[PlanStop, ...]
    room: MachineRoom | None
    eggs: tuple[PlannedEgg, ...]
    kept_days: tuple[int, int] | None
    notes: tuple[PlanNote, ...]


def plan_draft(journal: Journal, draft: BatchDraft, now: int) -> DraftPlan:
    """Everything that follows from what has been entered.

    Raises:
        InstantError: the instant of setting lies outside the years that can be reckoned with.
    """
    zone = journal.zone
    plan = plan_batch(draft.programme, draft.set_at, zone)
    without = draft.batch.uid if draft.batch is not None else draft.uid
    room = None
    clashes: tuple[LockdownClash, ...] = ()
    eggs: tuple[PlannedEgg, ...] = ()
    if draft.machine is not None:
        if draft.machine_is_new:
            room = MachineRoom(draft.machine.places, 0, frozenset(), ())
        else:
            end = plan.hatch_due_at_s
            room = machine_room(journal, draft.machine, draft.set_at, end, without=without)
            clashes = lockdown_clashes(journal, draft.machine.uid, plan, without=without)
        rows = [RowOfEggs(max(row.eggs, 0), row.known) for row in draft.rows]
        keep: Collection[str] = ()
        if draft.batch is not None:
            keep = journal.uses.eggs_with_records(draft.batch.uid)
        marked = draft.marked if draft.weigh_plan is WeighPlan.MARKED else 0
        eggs = lay_out(draft.machine, rows, room.taken, marked, keep)
    return DraftPlan(
        plan=plan,
        stops=_stops(plan, zone),
        room=room,
        eggs=eggs,
        kept_days=kept_days(draft.rows, to_local(draft.set_at, zone).date()),
        notes=_notes(draft, room, clashes, zone, now),
    )


def kept_days(rows: Sequence[PenRow], set_on: date) -> tuple[int, int] | None:
    """The age of each row's oldest egg when set, in days: of the youngest and of the oldest row."""
    ages = [(set_on - row.laid_on).days for row in rows if row.laid_on is not None and row.eggs > 0]
    return (min(ages), max(ages)) if ages else None


def next_label(journal: Journal, set_on: date) -> str:
    """A label that is free: the season's year and a running number, 26-05, or the next one of the breeder's own.

    An own scheme is one whose latest label has another form and ends in a number, which is counted on.
    """
    batches = journal.batches.lines()
    taken = {batch.label for batch in batches} | {past.label for past in journal.past_batches.all()}
    latest = batches[0].label if batches else ""
    own = re.fullmatch(r"(.*?)(\d+)", latest)
    if own is not None and re.fullmatch(r"\d\d-\d+", latest) is None:
        stem, digits = own.groups()
        start = int(digits) + 1
        width = len(digits)
    else:
        stem = f"{season_of(set_on, journal.settings.season_first_month) % 100:02d}-"
        width = 2
        running = [label[len(stem) :] for label in taken if label.startswith(stem)]
        start = max((int(number) for number in running if number.isdecimal()), default=0) + 1
    return next(
        label for number in itertools.count(start) if (label := f"{stem}{number:0{width}d}") not in taken
    )


def label_taken(journal: Journal, label: str, uid: str) -> bool:
    """Whether another batch has this label."""
    other = journal.batches.by_label(label)
    return other is not None and other.uid != uid


def _stops(plan: BatchPlan, zone: ZoneInfo) -> tuple[PlanStop, ...]:
    by_date: dict[date, list[tuple[int, float, DutyKind]]] = {}
    for duty in plan.duties:
        if duty.kind is not DutyKind.TURN:
            on = to_local(duty.at_s, zone).date()
            by_date.setdefault(on, []).append((duty.at_s, duty.day, duty.kind))
    order = tuple(DutyKind)
    return tuple(
        PlanStop(
            at=duties[0][0],
            day=duties[0][1],
            kinds=tuple(sorted({kind for _, _, kind in duties}, key=order.index)),
        )
        for _, duties in sorted(by_date.items())
    )


def _notes(
    draft: BatchDraft,
    room: MachineRoom | None,
    clashes: tuple[LockdownClash, ...],
    zone: ZoneInfo,
    now: int,
) -> tuple[PlanNote, ...]:
    notes: list[PlanNote] = []
    if room is not None and draft.eggs > room.free:
        over = draft.eggs - room.free
        others = ", ".join(room.labels)
        notes.append(PlanNote(NoteCode.MACHINE_FULL, label=others, eggs=over, places=room.free))
    for clash in clashes:
        code = NoteCode.OUR_LOCKDOWN_REACHES if clash.ours else NoteCode.LOCKDOWN_REACHES_US
        notes.append(PlanNote(code, label=clash.label, from_at=clash.from_at, until_at=clash.until_at))
    if draft.batch is None and now - draft.set_at > LONG_AGO_S:
        notes.append(PlanNote(NoteCode.SET_LONG_AGO, days=(now - draft.set_at) // DAY_S))
    set_on = to_local(draft.set_at, zone).date()
    for row in draft.rows:
        if row.laid_on is not None and row.eggs > 0:
            days = (set_on - row.laid_on).days
            if days > TOO_LONG_KEPT_DAYS:
                notes.append(PlanNote(NoteCode.EGGS_OLD, days=days, pen_name=row.pen_name))
    return tuple(notes)
