"""The species the program knows, with their programmes: read from `resources/species/*.toml`.

Where publications differ, the file keeps what each says side by side; `Species` hands it on, so that the breeder
sees it. The first programme of a file is the one chosen for its species, and says why.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from hatchbook.trade.codes import MachineKind, PhaseKind
from hatchbook.trade.conductance import SpeciesConductance, conductance_of_all_birds, read_conductance
from hatchbook.trade.entries import Entries
from hatchbook.trade.phases import PhaseTargets, ProgrammeError, ProgrammeFault
from hatchbook.trade.programme import LossBase, LossEnd, Programme, for_still_air, read_programme
from hatchbook.trade.resources import resource_path
from hatchbook.trade.sources import About, SourceMark, SourceNote, read_source

__all__ = [
    "About",
    "LossBase",
    "LossEnd",
    "MachineKind",
    "PeriodNote",
    "PhaseKind",
    "PhaseTargets",
    "Programme",
    "ProgrammeError",
    "ProgrammeFault",
    "SourceMark",
    "SourceNote",
    "Species",
    "SpeciesConductance",
    "conductance_of",
    "for_still_air",
    "load_programmes",
    "load_species",
    "programme_named",
    "programmes_of",
    "read_species",
]

NEEDS_SOURCE = frozenset(About) - {About.VENT}
"""What every programme of the program's own gives a source for; a vent only where one is advised."""


@dataclass(frozen=True)
class PeriodNote:
    """How long one source says the incubation lasts, days; both are the same where it gives one number."""

    low_days: float
    high_days: float
    source: str
    mark: SourceMark


@dataclass(frozen=True)
class Species:
    """A species: what the sources say, side by side, and its programmes, the chosen one first.

    `title` is English; `position` orders the list of species; `chosen_because` says why the first programme, its
    days and its settings were chosen; `conductance` is that of its eggs.
    """

    code: str
    title: str
    position: int
    chosen_because: str
    periods: tuple[PeriodNote, ...]
    alternatives: tuple[SourceNote, ...]
    programmes: tuple[Programme, ...]
    conductance: SpeciesConductance


@cache
def load_species() -> tuple[Species, ...]:
    """All species the program knows, in their order.

    Raises:
        ProgrammeError: naming the file and the entry that is not right.
        ResourcesMissingError: when the program's own files are not there.
    """
    folder = resource_path("species")
    species = sorted((read_species(path) for path in folder.glob("*.toml")), key=lambda one: one.position)
    if not species:
        raise ProgrammeError(ProgrammeFault.MISSING, "", "There are no species.", str(folder))
    codes = [programme.code for one in species for programme in one.programmes]
    for code in codes:
        if codes.count(code) > 1:
            sentence = f'Two programmes have the code "{code}".'
            raise ProgrammeError(ProgrammeFault.GIVEN_TWICE, "programmes", sentence, str(folder))
    return tuple(species)


def load_programmes() -> tuple[Programme, ...]:
    """All programmes the program knows, by species, the chosen one of each first. Errors as `load_species`."""
    return tuple(programme for species in load_species() for programme in species.programmes)


def programmes_of(species: str) -> tuple[Programme, ...]:
    """The programmes of a species, the chosen one first; empty for one the program does not know."""
    return tuple(programme for programme in load_programmes() if programme.species == species)


def programme_named(code: str) -> Programme | None:
    """The program's own programme of this code, or None."""
    return next((programme for programme in load_programmes() if programme.code == code), None)


def conductance_of(species: str, incubation_days: float) -> SpeciesConductance:
    """What is taken of the eggs of a species; of one the program does not know, of all birds by its days."""
    found = next((one.conductance for one in load_species() if one.code == species), None)
    return conductance_of_all_birds(incubation_days) if found is None else found


def read_species(path: Path) -> Species:
    """One species from its TOML file; its code is the file's name.

    Raises:
        ProgrammeError: naming the file and the entry that is not right.
    """
    try:
        try:
            table = tomllib.loads(path.read_text(encoding="utf-8"))
        except ValueError as error:  # not TOML, or not UTF-8
            raise ProgrammeError(ProgrammeFault.UNREADABLE, "", f"This is not TOML: {error}.") from error
        return _species(path.stem, Entries(table))
    except ProgrammeError as error:
        raise error.within(file=path.name) from error.__cause__


def _species(code: str, entries: Entries) -> Species:
    species = Species(
        code=code,
        title=entries.text("title"),
        position=entries.whole("position"),
        chosen_because=entries.text("chosen_because"),
        periods=entries.each("periods", _read_period),
        alternatives=entries.each("alternatives", read_source),
        programmes=entries.each("programmes", lambda inner: _sourced(read_programme(inner, code))),
        conductance=_conductance(entries),
    )
    entries.done()
    if not species.programmes:
        raise ProgrammeError(ProgrammeFault.MISSING, "programmes", "There is no programme.")
    return species


def _sourced(programme: Programme) -> Programme:
    """The programme, if it says where its values come from."""
    needed = set(NEEDS_SOURCE)
    if any(phase.vent_hint is not None for phase in programme.phases):
        needed.add(About.VENT)
    missing = needed - {note.about for note in programme.sources}
    if missing:
        sentence = f"There is no source for {', '.join(sorted(missing))}."
        raise ProgrammeError(ProgrammeFault.NO_SOURCE, "sources", sentence)
    return programme


def _conductance(entries: Entries) -> SpeciesConductance:
    try:
        return read_conductance(Entries(entries.value("conductance")))
    except ProgrammeError as error:
        raise error.within("conductance") from None


def _read_period(entries: Entries) -> PeriodNote:
    low, high = entries.numbers("days", 2)
    note = PeriodNote(low, high, entries.text("source"), entries.code("mark", SourceMark))
    entries.done()
    if not 0 < low <= high:
        raise ProgrammeError(ProgrammeFault.NOT_ASCENDING, "days", "The days must grow.")
    return note
