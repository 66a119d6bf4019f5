"""What the forms of an egg's story hold: records, alone or as they belong together, and how each is stored."""

from __future__ import annotations

from dataclasses import dataclass, replace

from hatchbook.figures.egg_story import EggStory, StoryEntry, StoryKind
from hatchbook.journal import (
    BreakOut,
    Candling,
    Change,
    EggMass,
    Event,
    Finding,
    Hatching,
    Journal,
    Removal,
    Weighing,
)
from hatchbook.trade.codes import (
    BreakOutResult,
    BreakOutSign,
    EventKind,
    FindingCode,
    HatchMark,
    Malposition,
    RemovalReason,
)


@dataclass(frozen=True)
class WeighedEgg:
    """The mass of an egg, and when it was weighed."""

    mass: EggMass
    at: int


@dataclass(frozen=True)
class OpenedEgg:
    """What an opened egg showed, with the malpositions and signs in it."""

    break_out: BreakOut
    malpositions: frozenset[Malposition] = frozenset()
    signs: frozenset[BreakOutSign] = frozenset()


EntryValue = Finding | WeighedEgg | Hatching | OpenedEgg | Removal | Event

#: What can be added to an egg's story, in the order of its life.
ADDED_KINDS = (
    StoryKind.WEIGHED,
    StoryKind.CANDLED,
    StoryKind.HATCH,
    StoryKind.OPENED,
    StoryKind.TAKEN_OUT,
    StoryKind.NOTED,
)
#: Of these an egg has one at most.
ONLY_ONCE = frozenset({StoryKind.OPENED, StoryKind.TAKEN_OUT})


def value_of(entry: StoryEntry) -> EntryValue | None:
    """What the form of an entry holds; None for those that are values of the egg itself."""
    record = entry.record
    if isinstance(record, EggMass):
        return WeighedEgg(record, entry.at or 0)
    if isinstance(record, BreakOut):
        return OpenedEgg(record, frozenset(entry.malpositions), frozenset(entry.signs))
    return record


def new_value(kind: StoryKind, story: EggStory, now: int, observer: str) -> EntryValue:
    """What is likely in a new entry of a kind; ``observer``: who opens eggs as a rule."""
    egg = story.egg.uid
    match kind:
        case StoryKind.WEIGHED:
            return WeighedEgg(EggMass("", egg, 0.0), now)
        case StoryKind.CANDLED:
            return Finding("", egg, now, FindingCode.ALIVE)
        case StoryKind.HATCH:
            return Hatching(egg, now, HatchMark.HATCHED)
        case StoryKind.OPENED:
            return OpenedEgg(BreakOut(egg, now, BreakOutResult.UNKNOWN, observer))
        case StoryKind.TAKEN_OUT:
            return Removal(egg, now, RemovalReason.TAKEN_OUT_ALIVE)
        case StoryKind.NOTED:
            return Event(now, EventKind.NOTE, batch=story.batch.uid, egg=egg)
    raise ValueError(f"{kind} is a value of the egg itself")


def add_value(journal: Journal, story: EggStory, value: EntryValue) -> Change:
    """Stores a new entry as one step."""
    batch = story.batch.uid
    match value:
        case Finding():
            candling = journal.candlings.going_on(batch, value.at) or Candling(batch, value.at)
            return journal.candlings.note_finding(candling, value.egg, value.code, value.at, value.note)
        case WeighedEgg():
            weighing = Weighing(batch, value.at)
            return journal.weighings.note_weighing(weighing, [replace(value.mass, weighing=weighing.uid)])
        case Hatching():
            return journal.hatchings.note(batch, [value])
        case OpenedEgg():
            return keep_value(journal, value)
        case Removal():
            return journal.removals.note(batch, [value])
    return journal.events.note_eggs(batch, [story.egg.uid], value.text, value.at)


def keep_value(journal: Journal, value: EntryValue) -> Change:
    """Stores what was changed of an entry, as one step."""
    match value:
        case Finding():
            return journal.candlings.replace_finding(value)
        case WeighedEgg():
            return journal.weighings.replace_mass(value.mass)
        case Hatching():
            return journal.hatchings.replace(value)
        case OpenedEgg():
            malpositions, signs = sorted(value.malpositions), sorted(value.signs)
            return journal.break_outs.keep(value.break_out, malpositions=malpositions, signs=signs)
        case Removal():
            return journal.removals.replace(value)
    return journal.events.replace(value)


def remove_value(journal: Journal, value: EntryValue) -> Change:
    """Takes an entry out of the egg's story, as one step."""
    match value:
        case Finding():
            return journal.candlings.remove_finding(value)
        case WeighedEgg():
            return journal.weighings.remove_mass(value.mass)
        case Hatching():
            return journal.hatchings.remove(value)
        case OpenedEgg():
            return journal.break_outs.remove_with_marks(value.break_out)
        case Removal():
            return journal.removals.remove(value)
    return journal.events.remove(value)


def uid_of(value: EntryValue) -> str:
    """The uid of the record that an entry is."""
    match value:
        case WeighedEgg():
            return value.mass.uid
        case OpenedEgg():
            return value.break_out.uid
    return value.uid
