"""From a planned batch to the records that the journal stores, and from a stored batch to what can be changed."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

from hatchbook.figures.egg_places import PlannedEgg
from hatchbook.figures.planning import BatchDraft, DraftPlan, PenRow
from hatchbook.journal import (
    Batch,
    BatchPhase,
    Change,
    Duty,
    Egg,
    EggChanges,
    Journal,
    NewHolding,
    Pen,
    change_batch,
    plan_records,
    set_batch_with_holding,
)
from hatchbook.trade.codes import DutyKind, PhaseKind
from hatchbook.trade.phases import PhaseTargets, ProgrammeError
from hatchbook.trade.programme import Programme
from hatchbook.trade.programmes import load_programmes, programmes_of
from hatchbook.trade.stages import StageBounds


@dataclass(frozen=True)
class PlannedRecords:
    """The records of a draft: the batch, what belongs to it, and what is new in the holding."""

    batch: Batch
    phases: tuple[BatchPhase, ...]
    duties: tuple[Duty, ...]
    eggs: EggChanges
    holding: NewHolding


def store_draft(journal: Journal, draft: BatchDraft, plan: DraftPlan, now: int) -> Change:
    """Sets the batch of a draft, or changes the one it is of; one step of history.

    Raises:
        JournalError: nothing is stored.
        ValueError: no machine is chosen.
    """
    made = records_of(journal, draft, plan, now)
    if draft.batch is None:
        return set_batch_with_holding(
            journal, made.batch, made.phases, made.duties, made.eggs.added, made.holding
        )
    return change_batch(journal, made.batch, made.phases, made.duties, made.eggs, made.holding)


def records_of(journal: Journal, draft: BatchDraft, plan: DraftPlan, now: int) -> PlannedRecords:
    """The records of a draft with its plan; see ``store_draft``."""
    machine = draft.machine
    if machine is None:
        raise ValueError("A batch is set in a machine.")
    programme = draft.programme
    bounds = StageBounds.for_incubation(programme.incubation_days)
    given = {
        "label": draft.label,
        "species": programme.species,
        "machine": machine.uid,
        "set_at": draft.set_at,
        "incubation_days": programme.incubation_days,
        "programme": programme.to_json(),
        "early_until_day": bounds.early_until_day,
        "mid_until_day": bounds.mid_until_day,
        "name": draft.name,
        "breed": draft.breed,
        "loss_low_percent": programme.loss_low_percent,
        "loss_high_percent": programme.loss_high_percent,
        "loss_day": programme.loss_day,
        "weigh_plan": draft.weigh_plan,
        "source": draft.source,
        "note": draft.note,
    }
    if draft.batch is not None:
        if programme.incubation_days == draft.batch.incubation_days:
            del given["early_until_day"], given["mid_until_day"]
        batch = replace(draft.batch, **given)  # type: ignore[arg-type]
    else:
        batch = Batch(uid=draft.uid, **given)  # type: ignore[arg-type]
    phases, duties = plan_records(batch, plan.plan)
    pens, new_pens, changed_pens = _pens(journal, draft)
    holding = NewHolding(
        machine=machine if draft.machine_is_new else None,
        channels=draft.channels if draft.machine_is_new else 0,
        probe_name=draft.probe_name if draft.machine_is_new else "",
        probe_from_at=min(now, draft.set_at),
        pens=tuple(new_pens),
        changed_pens=tuple(changed_pens),
    )
    return PlannedRecords(
        batch=batch,
        phases=tuple(_moved(journal, draft, phases)),
        duties=tuple(_set_already(duty, now) for duty in duties),
        eggs=_egg_changes(journal, draft, plan, batch, pens),
        holding=holding,
    )


def _set_already(duty: Duty, now: int) -> Duty:
    """Entering a batch whose eggs are in is the doing of its first duty."""
    if duty.kind is DutyKind.SET and duty.due_at <= now:
        return replace(duty, done_at=duty.due_at)
    return duty


def _moved(journal: Journal, draft: BatchDraft, phases: list[BatchPhase]) -> list[BatchPhase]:
    """Phases that were to be spent in another machine still are."""
    if draft.batch is None or draft.machine is None or draft.machine.uid != draft.batch.machine:
        return phases
    elsewhere = {phase.kind: phase.machine for phase in journal.batches.phases(draft.batch.uid)}
    return [replace(phase, machine=elsewhere.get(phase.kind)) for phase in phases]


def _pens(journal: Journal, draft: BatchDraft) -> tuple[dict[str, Pen], list[Pen], list[Pen]]:
    """Pens by their name in small letters, those that are new, and those that get their first letter."""
    pens = {pen.name.casefold(): pen for pen in journal.pens.all()}
    known = set(pens)
    changed: dict[str, Pen] = {}
    for row in draft.rows:
        key = row.pen_name.casefold()
        if not key or row.eggs <= 0:
            continue
        if key not in pens:
            pens[key] = Pen(row.pen_name, draft.programme.species, draft.breed, row.letter)
        elif row.letter and not pens[key].letter:
            pens[key] = replace(pens[key], letter=row.letter)
            if key in known:
                changed[key] = pens[key]
    return pens, [pen for key, pen in pens.items() if key not in known], list(changed.values())


def _egg_changes(
    journal: Journal, draft: BatchDraft, plan: DraftPlan, batch: Batch, pens: dict[str, Pen]
) -> EggChanges:
    added: list[Egg] = []
    replaced: list[Egg] = []
    for planned in plan.eggs:
        egg = _egg(planned, draft.rows[planned.row], batch, pens)
        if planned.known is None:
            added.append(egg)
        elif egg != planned.known:
            replaced.append(egg)
    if draft.batch is None:
        return EggChanges(tuple(added))
    stay = {planned.known.uid for planned in plan.eggs if planned.known is not None}
    removed = [egg for egg in journal.eggs.of_batch(batch.uid) if egg.uid not in stay]
    return EggChanges(tuple(added), tuple(replaced), tuple(removed))


def _egg(planned: PlannedEgg, row: PenRow, batch: Batch, pens: dict[str, Pen]) -> Egg:
    tray, tray_row, column = planned.place if planned.place is not None else (None, None, None)
    pen = pens[row.pen_name.casefold()].uid if row.pen_name else None
    laid_on = row.laid_on.isoformat() if row.laid_on is not None else None
    known = Egg(batch.uid, planned.number) if planned.known is None else planned.known
    # Where every egg carries a mark of its own the row shows none, and none is lost.
    keeps_mark = not row.letter and len({egg.mark for egg in row.known}) > 1
    return replace(
        known,
        tray=tray,
        tray_row=tray_row,
        tray_column=column,
        pen=pen,
        dam=known.dam if known.pen == pen else None,
        laid_on=laid_on,
        marked=planned.marked,
        mark=known.mark if keeps_mark else row.letter,
    )


def rows_of(journal: Journal, batch: str) -> tuple[PenRow, ...]:
    """The eggs of a batch as rows: one for each pen and laying date, in the order of their numbers."""
    names = {pen.uid: pen.name for pen in journal.pens.all()}
    groups: dict[tuple[str, str | None], list[Egg]] = {}
    for egg in journal.eggs.of_batch(batch):
        name = names[egg.pen] if egg.pen is not None else ""
        groups.setdefault((name, egg.laid_on), []).append(egg)
    rows = []
    for (name, laid_on), eggs in groups.items():
        marks = {egg.mark for egg in eggs}
        letter = marks.pop() if len(marks) == 1 else ""
        laid = date.fromisoformat(laid_on) if laid_on else None
        rows.append(PenRow(name, len(eggs), laid, letter, tuple(eggs)))
    return tuple(rows)


def programme_of(journal: Journal, batch: Batch) -> Programme:
    """The programme of a batch as it stands: its own copy, with the phases and the loss that the batch has.

    Where the copy cannot be read, the species' own programme lends what is missing. Where the phases themselves are
    such as no programme can have, the copy's or the lender's stand in for them; ``has_its_phases`` tells.
    """
    copy = _copy_of(journal, batch)
    targets = _targets_of(journal, batch)
    vents = {phase.kind: phase.vent_hint for phase in copy.phases}
    phases = tuple(replace(phase, vent_hint=vents.get(phase.kind)) for phase in targets) or copy.phases
    ends = phases[-1].to_day
    known = None not in (batch.loss_low_percent, batch.loss_high_percent, batch.loss_day)
    kept = known and 0.0 < (batch.loss_day or 0.0) <= ends
    try:
        return replace(
            copy,
            species=batch.species,
            incubation_days=ends,
            phases=phases,
            candle_days=tuple(day for day in copy.candle_days if day <= ends),
            weigh_days=tuple(day for day in copy.weigh_days if day <= ends),
            loss_low_percent=batch.loss_low_percent if kept else None,
            loss_high_percent=batch.loss_high_percent if kept else None,
            loss_day=batch.loss_day if kept else None,
        )
    except ProgrammeError:
        return replace(copy, species=batch.species)


def has_its_phases(journal: Journal, batch: Batch, programme: Programme) -> bool:
    """Whether the phases of a programme are those that a batch has stored."""
    stored = journal.batches.phases(batch.uid)
    plain = tuple(replace(phase, vent_hint=None) for phase in programme.phases)
    return len(stored) == len(plain) and plain == _targets_of(journal, batch)


def _copy_of(journal: Journal, batch: Batch) -> Programme:
    try:
        return Programme.from_json(batch.programme)
    except ProgrammeError:
        lender = next(iter(programmes_of(batch.species)), load_programmes()[0])
        days = {duty.day for duty in journal.duties.of_batch(batch.uid) if duty.kind is DutyKind.CANDLE}
        candled = tuple(sorted(day for day in days if day is not None and 0 <= day <= lender.incubation_days))
        return replace(lender, sources=(), candle_days=candled)


def _targets_of(journal: Journal, batch: Batch) -> tuple[PhaseTargets, ...]:
    """The phases of a batch; none where one of them is such as no programme can have."""
    try:
        return tuple(_targets(phase) for phase in journal.batches.phases(batch.uid))
    except ProgrammeError:
        return ()


def _targets(phase: BatchPhase) -> PhaseTargets:
    return PhaseTargets(
        kind=phase.kind,
        from_day=phase.from_day,
        to_day=phase.to_day,
        humidity_low=phase.humidity_low,
        humidity_aim=phase.humidity_aim,
        humidity_high=phase.humidity_high,
        temperature_low_c=phase.temperature_low_c,
        temperature_aim_c=phase.temperature_aim_c,
        temperature_high_c=phase.temperature_high_c,
        turns_per_day=0 if phase.kind is PhaseKind.LOCKDOWN else phase.turns_per_day,
    )
