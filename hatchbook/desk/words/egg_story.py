"""The story of an egg in words: every entry, what became of it, and records that contradict each other."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from zoneinfo import ZoneInfo

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.codes import (
    event_word,
    fate_word,
    in_sentence,
    malposition_word,
    sign_word,
    word,
)
from hatchbook.desk.words.dates import batch_day, date_time, weekday_of
from hatchbook.desk.words.noop import QT_TRANSLATE_NOOP
from hatchbook.desk.words.numbers import mass_in, number, percent
from hatchbook.figures.egg_story import EggStory, StoryEntry, StoryKind
from hatchbook.journal import BreakOut, EggMass, Event, Finding, Hatching, Removal
from hatchbook.trade.codes import EventKind, Fate
from hatchbook.trade.contradictions import Contradiction, ContradictionCode
from hatchbook.trade.instants import day_number
from hatchbook.trade.units import Unit

_CLASHES = {
    ContradictionCode.CLEAR_BUT_DEVELOPED: QT_TRANSLATE_NOOP(
        "EggStory", "Candled clear, but there was an embryo in it"
    ),
    ContradictionCode.CLEAR_BUT_HATCHED: QT_TRANSLATE_NOOP("EggStory", "Candled clear, but it hatched"),
    ContradictionCode.DEVELOPED_THEN_CLEAR: QT_TRANSLATE_NOOP(
        "EggStory", "Candled clear after an embryo had been seen in it"
    ),
    ContradictionCode.DEVELOPED_BUT_INFERTILE: QT_TRANSLATE_NOOP(
        "EggStory", "An embryo was seen in it, but it was opened as infertile"
    ),
    ContradictionCode.DEAD_THEN_ALIVE: QT_TRANSLATE_NOOP("EggStory", "Called dead, but it was alive later"),
    ContradictionCode.DEAD_BUT_HATCHED: QT_TRANSLATE_NOOP("EggStory", "Called dead, but it hatched"),
    ContradictionCode.ALIVE_AFTER_STAGE: QT_TRANSLATE_NOOP(
        "EggStory", "Seen alive after the days in which it is said to have died"
    ),
    ContradictionCode.DEAD_BEFORE_STAGE: QT_TRANSLATE_NOOP(
        "EggStory", "Seen dead before the days in which it is said to have died"
    ),
    ContradictionCode.DAY_OUTSIDE_STAGE: QT_TRANSLATE_NOOP(
        "EggStory", "The day of death does not belong to the stage that was noted"
    ),
    ContradictionCode.PIPPED_BUT_CALLED_EARLIER: QT_TRANSLATE_NOOP(
        "EggStory", "It pipped, but was later said never to have come that far"
    ),
    ContradictionCode.HATCHED_AND_DIED_IN_PIP: QT_TRANSLATE_NOOP(
        "EggStory", "Noted both as out of the shell and as dead in the pip"
    ),
    ContradictionCode.HATCHED_AND_BROKEN_OUT: QT_TRANSLATE_NOOP(
        "EggStory", "It hatched, but was also opened as unhatched"
    ),
    ContradictionCode.HATCHED_AND_REMOVED: QT_TRANSLATE_NOOP(
        "EggStory", "It hatched, but was also taken out as an egg"
    ),
    ContradictionCode.SEEN_AFTER_HATCH: QT_TRANSLATE_NOOP(
        "EggStory", "Candled as an egg after it had hatched"
    ),
    ContradictionCode.OPENED_THEN_SEEN: QT_TRANSLATE_NOOP("EggStory", "Candled after it had been opened"),
    ContradictionCode.BREAK_OUTS_DISAGREE: QT_TRANSLATE_NOOP(
        "EggStory", "Opened twice, with different results"
    ),
    ContradictionCode.REMOVED_THEN_SEEN: QT_TRANSLATE_NOOP(
        "EggStory", "Taken out, but seen in the machine afterwards"
    ),
    ContradictionCode.TAKEN_OUT_ALIVE_BUT_DEAD: QT_TRANSLATE_NOOP(
        "EggStory", "Taken out as alive, but it was dead or infertile"
    ),
}

#: A span of death shorter than this is a day.
_SAME_DAY = 0.5


def _tr(text: str) -> str:
    return QCoreApplication.translate("EggStory", text)


def _day(day: float) -> str:
    """Day 18, day 18.5."""
    return batch_day(day, 0 if day == int(day) else 1)


def contradiction_sentence(clash: Contradiction, set_at: int) -> str:
    """Which records can not both be true, and which of them counts."""
    what = _tr(_CLASHES[clash.code])
    if clash.code is ContradictionCode.DAY_OUTSIDE_STAGE:
        return _tr("{what}. The stage counts.").format(what=what)
    pattern = _tr("{what}: “{standing}” on {standing_day} counts, “{overruled}” on {overruled_day} does not.")
    return pattern.format(
        what=what,
        standing=in_sentence(word(clash.standing)),
        standing_day=batch_day(day_number(clash.standing_at_s, set_at), 0),
        overruled=in_sentence(word(clash.overruled)),
        overruled_day=batch_day(day_number(clash.overruled_at_s, set_at), 0),
    )


def fate_sentence(story: EggStory) -> str:
    """What became of the egg, and when."""
    outcome = story.outcome
    fate = fate_word(outcome.fate)
    if outcome.hatched_at_s is not None:
        day = batch_day(day_number(outcome.hatched_at_s, story.batch.set_at))
        if outcome.weak:
            return _tr("{fate} on {day}, a weak chick").format(fate=fate, day=day)
        return _tr("{fate} on {day}").format(fate=fate, day=day)
    since, until = outcome.dead_from_day, outcome.dead_until_day
    if since is not None and until is not None:
        if until - since < _SAME_DAY:
            return _tr("{fate}, on about {day}").format(fate=fate, day=_day(until))
        return _tr("{fate}, between day {since} and day {until}").format(
            fate=fate, since=number(since, 0), until=number(until, 0)
        )
    if outcome.fate is Fate.CLEAR and not outcome.opened:
        return _tr("Clear; whether it was fertile only opening can tell")
    return fate


def age_sentence(days: int | None) -> str:
    """How old the egg was when it was set."""
    if days is None:
        return ""
    if days == 0:
        return _tr("set on the day it was laid")
    return QCoreApplication.translate("EggStory", "%n day(s) old when set", "", days)


def estimate_sentence(grams: float | None, unit: Unit) -> str:
    """What the measures of the egg tell, said to be an estimate."""
    if grams is None:
        return ""
    return _tr("about {mass} when fresh: an estimate by length and breadth (Hoyt 1979, from memory)").format(
        mass=mass_in(grams, unit)
    )


def lost_sentence(story: EggStory) -> str:
    """What the egg has lost by its latest weighing."""
    if story.lost_percent is None:
        return ""
    loss = percent(story.lost_percent)
    if story.lost_since_day:
        return _tr("{loss} lost since {day}").format(loss=loss, day=batch_day(story.lost_since_day))
    return _tr("{loss} lost since it was set").format(loss=loss)


# ---------------------------------------------------------------- the entries


def entry_day(entry: StoryEntry) -> str:
    """The day of an entry: 7.0."""
    return number(entry.day, 0 if entry.at is None else 1)


def entry_when(entry: StoryEntry, story: EggStory, zone: ZoneInfo) -> str:
    """Sun 10 May 09:12, or the date alone."""
    if entry.at is not None:
        return date_time(entry.at, zone)
    return "" if story.egg.laid_on is None else weekday_of(date.fromisoformat(story.egg.laid_on))


def entry_sentence(entry: StoryEntry, story: EggStory, unit: Unit) -> str:
    """What an entry tells."""
    return _ENTRIES[entry.kind](entry, story, unit)


def _with_note(sentence: str, note: str) -> str:
    return _tr("{sentence}; {note}").format(sentence=sentence, note=note) if note else sentence


def _laid(_entry: StoryEntry, story: EggStory, unit: Unit) -> str:
    if story.egg.laid_mass_g is None:
        return _tr("Laid")
    return _tr("Laid, {mass}").format(mass=mass_in(story.egg.laid_mass_g, unit))


def _set(_entry: StoryEntry, story: EggStory, unit: Unit) -> str:
    if story.egg.set_mass_g is None:
        return _tr("Set")
    return _tr("Set, {mass}").format(mass=mass_in(story.egg.set_mass_g, unit))


def _weighed(entry: StoryEntry, _story: EggStory, unit: Unit) -> str:
    record, loss = entry.record, entry.loss
    assert isinstance(record, EggMass)
    weighed = mass_in(record.mass_g, unit)
    if loss is None or loss.loss_percent is None:
        sentence = _tr("Weighed {mass}").format(mass=weighed)
    elif loss.since_day:
        sentence = _tr("Weighed {mass}, {loss} lost since {day}").format(
            mass=weighed, loss=percent(loss.loss_percent), day=batch_day(loss.since_day)
        )
    else:
        sentence = _tr("Weighed {mass}, {loss} lost").format(mass=weighed, loss=percent(loss.loss_percent))
    return _with_note(sentence, _tr("kept though odd") if record.kept_though_odd else "")


def _candled(entry: StoryEntry, _story: EggStory, _unit: Unit) -> str:
    assert isinstance(entry.record, Finding)
    sentence = _tr("Candled: {finding}").format(finding=in_sentence(word(entry.record.code)))
    return _with_note(sentence, entry.record.note)


def _hatch(entry: StoryEntry, _story: EggStory, unit: Unit) -> str:
    record = entry.record
    assert isinstance(record, Hatching)
    parts = [word(record.mark)]
    if record.chick_mass_g is not None and entry.chick_percent is not None:
        parts.append(
            _tr("chick {mass}, {share} of the egg when set").format(
                mass=mass_in(record.chick_mass_g, unit), share=percent(entry.chick_percent, 0)
            )
        )
    elif record.chick_mass_g is not None:
        parts.append(_tr("chick {mass}").format(mass=mass_in(record.chick_mass_g, unit)))
    if record.ring:
        parts.append(_tr("ring or mark {ring}").format(ring=record.ring))
    return _with_note(_tr(", ").join(parts), record.note)


def _opened(entry: StoryEntry, _story: EggStory, _unit: Unit) -> str:
    record = entry.record
    assert isinstance(record, BreakOut)
    parts = [_tr("Opened: {result}").format(result=in_sentence(word(record.result)))]
    if record.dead_day is not None:
        parts.append(_tr("died on {day}").format(day=_day(record.dead_day)))
    parts += [malposition_word(code) for code in entry.malpositions]
    parts += [in_sentence(sign_word(code)) for code in entry.signs]
    if record.by_whom:
        parts.append(_tr("by {name}").format(name=record.by_whom))
    return _with_note(_tr("; ").join(parts), record.note)


def _taken_out(entry: StoryEntry, _story: EggStory, _unit: Unit) -> str:
    assert isinstance(entry.record, Removal)
    return _with_note(word(entry.record.reason), entry.record.note)


def _noted(entry: StoryEntry, _story: EggStory, _unit: Unit) -> str:
    record = entry.record
    assert isinstance(record, Event)
    if record.kind is EventKind.NOTE:
        return _tr("Note: {text}").format(text=record.text)
    return _with_note(event_word(record.kind), record.text)


_ENTRIES: dict[StoryKind, Callable[[StoryEntry, EggStory, Unit], str]] = {
    StoryKind.LAID: _laid,
    StoryKind.SET: _set,
    StoryKind.WEIGHED: _weighed,
    StoryKind.CANDLED: _candled,
    StoryKind.HATCH: _hatch,
    StoryKind.OPENED: _opened,
    StoryKind.TAKEN_OUT: _taken_out,
    StoryKind.NOTED: _noted,
}


def kind_word(kind: StoryKind) -> str:
    """What an entry is, as the heading of its form."""
    return _tr(_KINDS[kind])


_KINDS = {
    StoryKind.LAID: QT_TRANSLATE_NOOP("EggStory", "Laid"),
    StoryKind.SET: QT_TRANSLATE_NOOP("EggStory", "Set"),
    StoryKind.WEIGHED: QT_TRANSLATE_NOOP("EggStory", "Weighing"),
    StoryKind.CANDLED: QT_TRANSLATE_NOOP("EggStory", "Finding"),
    StoryKind.HATCH: QT_TRANSLATE_NOOP("EggStory", "Hatch"),
    StoryKind.OPENED: QT_TRANSLATE_NOOP("EggStory", "Opened egg"),
    StoryKind.TAKEN_OUT: QT_TRANSLATE_NOOP("EggStory", "Taken out"),
    StoryKind.NOTED: QT_TRANSLATE_NOOP("EggStory", "Note"),
}
