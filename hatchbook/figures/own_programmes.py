"""The breeder's own programmes: begun as a copy of another, changed as records of the journal."""

from __future__ import annotations

import itertools
from dataclasses import dataclass, replace

from hatchbook.journal import Journal, OwnProgramme, UseCount
from hatchbook.trade.phases import ProgrammeError
from hatchbook.trade.programme import Programme
from hatchbook.trade.programmes import load_programmes, load_species


@dataclass(frozen=True)
class KeptProgramme:
    """A programme of the breeder's own as it is stored; ``programme`` is None where it cannot be read."""

    record: OwnProgramme
    programme: Programme | None


def kept_programmes(journal: Journal) -> tuple[KeptProgramme, ...]:
    """The breeder's own programmes, by species and title."""
    return tuple(KeptProgramme(own, _read(own)) for own in journal.programmes.all())


def kept_programme(journal: Journal, uid: str) -> KeptProgramme | None:
    """One of them; None where there is no such record."""
    own = journal.programmes.find(uid)
    return None if own is None else KeptProgramme(own, _read(own))


def uses_of(journal: Journal, own: OwnProgramme) -> UseCount:
    """How many batches were set by it; they keep what they were set with."""
    return journal.uses.of_programme(own.code)


def copy_of(journal: Journal, programme: Programme, title: str) -> OwnProgramme:
    """A new programme of the breeder's own, the same as another but for its code and its title.

    A title that is taken gets a number.
    """
    taken = {own.title.casefold() for own in journal.programmes.all()}
    free = next(
        name
        for number in itertools.count(1)
        if (name := title if number == 1 else f"{title} {number}").casefold() not in taken
    )
    blank = OwnProgramme(_free_code(journal, programme.code), programme.species, free, "")
    return record_of(blank, replace(programme, title=free))


def record_of(own: OwnProgramme, programme: Programme) -> OwnProgramme:
    """The record with this programme in it; its code stays."""
    definition = replace(programme, code=own.code).to_json()
    return replace(own, species=programme.species, title=programme.title, definition=definition)


def title_taken(journal: Journal, title: str, uid: str) -> bool:
    """Whether another programme, of the trade or of the breeder's own, has this title."""
    wanted = title.strip().casefold()
    others = {own.title.casefold() for own in journal.programmes.all() if own.uid != uid}
    return wanted in others or wanted in {programme.title.casefold() for programme in load_programmes()}


def known_species(journal: Journal) -> tuple[str, ...]:
    """The species of the trade in their order, then those that only the breeder has."""
    codes = [species.code for species in load_species()]
    return tuple(dict.fromkeys([*codes, *(own.species for own in journal.programmes.all())]))


def _free_code(journal: Journal, stem: str) -> str:
    """A code that no other programme has: hen-own-1."""
    taken = {own.code for own in journal.programmes.all()}
    stem = stem.partition("-own-")[0]
    return next(code for number in itertools.count(1) if (code := f"{stem}-own-{number}") not in taken)


def _read(own: OwnProgramme) -> Programme | None:
    try:
        return Programme.from_json(own.definition)
    except ProgrammeError:
        return None
