"""A batch that is being planned, in words: what its dates ask, what is in its way, what its programme rests on."""

from __future__ import annotations

from collections.abc import Sequence
from zoneinfo import ZoneInfo

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.codes import duty_word, in_sentence, word
from hatchbook.desk.words.dates import weekday_date
from hatchbook.desk.words.noop import QT_TRANSLATE_NOOP
from hatchbook.desk.words.numbers import number, percent, range_text, temperature
from hatchbook.figures.planning import (
    LONG_KEPT_DAYS,
    TOO_LONG_KEPT_DAYS,
    BatchDraft,
    NoteCode,
    PlanNote,
    PlanStop,
)
from hatchbook.trade.codes import DutyKind, WeighPlan
from hatchbook.trade.phases import PhaseTargets, ProgrammeError, ProgrammeFault
from hatchbook.trade.programme import Programme
from hatchbook.trade.sources import About, SourceMark, SourceNote


def _tr(text: str, n: int = -1) -> str:
    return QCoreApplication.translate("Planning", text, "", n)


# ---------------------------------------------------------------- the plan


def stop_sentence(stop: PlanStop, weighed: str) -> str:
    """What a date asks: Candle, weigh 12.

    Args:
        weighed: what is weighed, "12" or "every egg"; "" where it goes without saying.
    """
    parts: list[str] = []
    for kind in stop.kinds:
        text = duty_word(kind)
        if kind is DutyKind.WEIGH and weighed:
            text = _tr("Weigh {what}").format(what=weighed)
        parts.append(in_sentence(text) if parts else text)
    return ", ".join(parts)


def weighed_text(plan: WeighPlan, marked: int) -> str:
    """What is weighed, behind the word weigh."""
    if plan is WeighPlan.MARKED:
        return number(marked, 0)
    if plan is WeighPlan.NONE:
        return ""
    return word(plan)


def targets_lines(targets: PhaseTargets, unit: str = "C") -> tuple[str, ...]:
    """What is aimed at in a phase: mean humidity 40–50 %, aim 45 %, at 37.7 °C; turned 3 times a day."""
    air = _tr("mean humidity {band} %, aim {aim}, at {warmth}").format(
        band=range_text(
            targets.humidity_low,
            targets.humidity_high,
            max(_decimals(targets.humidity_low), _decimals(targets.humidity_high)),
        ),
        aim=percent(targets.humidity_aim, _decimals(targets.humidity_aim)),
        warmth=temperature(targets.temperature_aim_c, 1, unit),
    )
    if targets.turns_per_day > 0:
        return air, _tr("turned %n time(s) a day", targets.turns_per_day)
    return air, _tr("not turned")


def _decimals(value: float) -> int:
    return 0 if value == round(value) else 1


def kept_sentence(days: tuple[int, int] | None) -> str:
    """How long the eggs have been kept when they are set."""
    if days is None:
        return _tr("no laying date yet")
    youngest, oldest = days
    if youngest == oldest:
        text = _tr("up to %n day(s) when set", oldest)
    else:
        text = _tr("{youngest} to %n day(s) when set", oldest).format(youngest=number(youngest, 0))
    # Older ones have a note of their own.
    if LONG_KEPT_DAYS < oldest <= TOO_LONG_KEPT_DAYS:
        return _tr("{kept}; fewer hatch after {limit}").format(kept=text, limit=LONG_KEPT_DAYS)
    return text


def places_sentence(eggs: int, free: int, places: int) -> str:
    """How many of a machine's free places are used: 36 of 42 places; 12 of 30 free places, of 42."""
    if free == places:
        return _tr("{eggs} of %n place(s)", places).format(eggs=number(eggs, 0))
    return _tr("{eggs} of %n free place(s), {all} in all", free).format(
        eggs=number(eggs, 0), all=number(places, 0)
    )


# ---------------------------------------------------------------- what is in the way


def note_sentence(note: PlanNote, machine: str, zone: ZoneInfo) -> str:
    """What the breeder should know, with the way out where there is one."""
    match note.code:
        case NoteCode.MACHINE_FULL:
            if note.label:
                return _tr(
                    "The {machine} has %n free place(s) beside {batches}; eggs without a place: {over}.",
                    note.places,
                ).format(machine=machine, batches=note.label, over=number(note.eggs, 0))
            return _tr("The {machine} has %n place(s); eggs without a place: {over}.", note.places).format(
                machine=machine, over=number(note.eggs, 0)
            )
        case NoteCode.LOCKDOWN_REACHES_US:
            return _tr(
                "{batch} is in lockdown in the {machine} until {until}: its raised humidity would reach these eggs."
            ).format(batch=note.label, machine=machine, until=weekday_date(note.until_at, zone))
        case NoteCode.OUR_LOCKDOWN_REACHES:
            return _tr(
                "The lockdown of these eggs, {start} to {until}, would raise the humidity for {batch} "
                "in the {machine}."
            ).format(
                batch=note.label,
                machine=machine,
                start=weekday_date(note.from_at, zone),
                until=weekday_date(note.until_at, zone),
            )
        case NoteCode.SET_LONG_AGO:
            return _tr(
                "Set %n day(s) ago: the batch is entered afterwards, and its past duties are open until ticked.",
                note.days,
            )
        case NoteCode.EGGS_OLD:
            days = _tr("%n day(s)", note.days)
            limit = number(LONG_KEPT_DAYS, 0)
            if note.pen_name:
                return _tr(
                    "The oldest eggs of {pen} will have been kept {days}. Of hens' eggs kept longer than "
                    "{limit} days fewer hatch (Fasenko 2007)."
                ).format(pen=note.pen_name, days=days, limit=limit)
            return _tr(
                "The oldest eggs will have been kept {days}. Of hens' eggs kept longer than {limit} days "
                "fewer hatch (Fasenko 2007)."
            ).format(days=days, limit=limit)


# ---------------------------------------------------------------- programmes

_ABOUTS = {
    About.PERIOD: QT_TRANSLATE_NOOP("Planning", "Length"),
    About.HUMIDITY: QT_TRANSLATE_NOOP("Planning", "Humidity"),
    About.TEMPERATURE: QT_TRANSLATE_NOOP("Planning", "Temperature"),
    About.LOCKDOWN: QT_TRANSLATE_NOOP("Planning", "Lockdown"),
    About.TURNING: QT_TRANSLATE_NOOP("Planning", "Turning"),
    About.CANDLING: QT_TRANSLATE_NOOP("Planning", "Candling"),
    About.WEIGHING: QT_TRANSLATE_NOOP("Planning", "Weighing"),
    About.LOSS: QT_TRANSLATE_NOOP("Planning", "Weight lost"),
    About.VENT: QT_TRANSLATE_NOOP("Planning", "Vent"),
    About.STILL_AIR: QT_TRANSLATE_NOOP("Planning", "Still air"),
}
_MARKS = {
    SourceMark.PUBLISHED: QT_TRANSLATE_NOOP("Planning", "published"),
    SourceMark.COMMON_PRACTICE: QT_TRANSLATE_NOOP("Planning", "common practice, no source"),
    SourceMark.FROM_MEMORY: QT_TRANSLATE_NOOP("Planning", "from memory, not checked"),
    SourceMark.OURS: QT_TRANSLATE_NOOP("Planning", "Hatchbook's own choice"),
}


def about_word(about: About) -> str:
    """What a source speaks of."""
    return _tr(_ABOUTS[about])


def mark_word(mark: SourceMark) -> str:
    """How good a source is."""
    return _tr(_MARKS[mark])


def source_line(note: SourceNote) -> str:
    """Who says so, and how good that is."""
    if note.source and note.mark is SourceMark.PUBLISHED:
        return note.source
    if note.source:
        return _tr("{source} ({mark})").format(source=note.source, mark=mark_word(note.mark))
    return mark_word(note.mark)


def changed_sentence(changed: Sequence[About], title: str) -> str:
    """From which programme the targets are, and what the breeder has changed in it."""
    if not changed:
        return _tr("as in {programme}").format(programme=title)
    listed = ", ".join(in_sentence(about_word(about)) for about in changed)
    return _tr("changed by you: {what}").format(what=listed)


def programme_title(programme: Programme) -> str:
    """A programme's name with its length."""
    return _tr("{programme}, %n day(s)", round(programme.incubation_days)).format(programme=programme.title)


_FAULTS = {
    ("humidity", ProgrammeFault.NOT_ASCENDING): QT_TRANSLATE_NOOP(
        "Planning", "The aim must lie inside the humidity band."
    ),
    ("humidity", ProgrammeFault.OUT_OF_RANGE): QT_TRANSLATE_NOOP(
        "Planning", "A humidity lies between 0 and 100 %."
    ),
    ("temperature", ProgrammeFault.OUT_OF_RANGE): QT_TRANSLATE_NOOP(
        "Planning", "A temperature for eggs lies between 20 and 45 °C."
    ),
    ("turns_per_day", ProgrammeFault.OUT_OF_RANGE): QT_TRANSLATE_NOOP(
        "Planning", "Eggs are turned up to 48 times a day, and not at all in lockdown."
    ),
    ("turns_per_day", ProgrammeFault.WRONG_KIND): QT_TRANSLATE_NOOP(
        "Planning", "Eggs are turned a whole number of times a day."
    ),
    ("days", ProgrammeFault.NOT_ASCENDING): QT_TRANSLATE_NOOP(
        "Planning", "A phase ends after it begins: the days must grow."
    ),
    ("days", ProgrammeFault.OUT_OF_RANGE): QT_TRANSLATE_NOOP(
        "Planning", "An incubation lasts up to 120 days."
    ),
    ("candle_days", ProgrammeFault.NOT_ASCENDING): QT_TRANSLATE_NOOP(
        "Planning", "The days must grow: 7, 14, 18."
    ),
    ("candle_days", ProgrammeFault.OUT_OF_RANGE): QT_TRANSLATE_NOOP(
        "Planning", "A candling day lies outside the incubation."
    ),
    ("weigh_days", ProgrammeFault.NOT_ASCENDING): QT_TRANSLATE_NOOP(
        "Planning", "The days must grow: 0, 7, 14."
    ),
    ("weigh_days", ProgrammeFault.OUT_OF_RANGE): QT_TRANSLATE_NOOP(
        "Planning", "A weighing day lies outside the incubation."
    ),
    ("loss_percent", ProgrammeFault.NOT_ASCENDING): QT_TRANSLATE_NOOP(
        "Planning", "The lower share comes first."
    ),
    ("loss_percent", ProgrammeFault.OUT_OF_RANGE): QT_TRANSLATE_NOOP(
        "Planning", "A loss lies between 0 and 50 % of the weight."
    ),
    ("loss_percent", ProgrammeFault.MISSING): QT_TRANSLATE_NOOP(
        "Planning", "Give both shares and the day, or none of the three."
    ),
    ("loss_day", ProgrammeFault.OUT_OF_RANGE): QT_TRANSLATE_NOOP(
        "Planning", "The day of the loss lies outside the incubation."
    ),
}


def programme_sentence(error: ProgrammeError) -> str:
    """What is wrong with a programme, or with one entry of it."""
    field = error.field.rpartition(".")[2]
    known = _FAULTS.get((field, error.fault))
    return _tr(known) if known is not None else str(error)


# ---------------------------------------------------------------- the tray


def placed_sentence(draft: BatchDraft, placeless: int, marked: int | None, others: Sequence[str]) -> str:
    """Whose eggs lie on the tray: B Brook pen 24, L Lower yard 12; 12 marked for weighing; faint: 26-05."""
    faint = _tr("faint: {batches}").format(batches=", ".join(others))
    if not draft.eggs:
        empty = _tr("no eggs yet")
        sentence = "; ".join((empty, faint)) if others else empty
        return f"{sentence[:1].upper()}{sentence[1:]}."
    sums: dict[tuple[str, str], int] = {}
    for row in draft.rows:
        if row.eggs > 0:
            key = (row.letter, row.pen_name)
            sums[key] = sums.get(key, 0) + row.eggs
    parts = []
    for (letter, pen_name), eggs in sums.items():
        name = " ".join(part for part in (letter, pen_name) if part) or _tr("pen not known")
        parts.append(_tr("{pen} {eggs}").format(pen=name, eggs=number(eggs, 0)))
    sentences = [", ".join(parts)]
    if marked is not None:
        sentences.append(_tr("%n marked for weighing", marked))
    if placeless:
        sentences.append(_tr("%n egg(s) without a place", placeless))
    if others:
        sentences.append(faint)
    return "; ".join(sentences) + "."
