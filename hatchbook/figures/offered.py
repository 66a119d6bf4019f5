"""What a new batch can be: the species and programmes of the program and the breeder's own."""

from __future__ import annotations

from dataclasses import dataclass

from hatchbook.journal import Journal
from hatchbook.trade.phases import ProgrammeError
from hatchbook.trade.programme import Programme
from hatchbook.trade.programmes import load_species


@dataclass(frozen=True)
class OfferedSpecies:
    """A species with its programmes, the chosen one first, then the breeder's own.

    ``unreadable``: titles of own programmes that cannot be read.
    """

    code: str
    programmes: tuple[Programme, ...]
    unreadable: tuple[str, ...] = ()


def offered_species(journal: Journal) -> tuple[OfferedSpecies, ...]:
    """The species of the program in their order, then those that only the breeder has."""
    programmes = {one.code: list(one.programmes) for one in load_species()}
    unreadable: dict[str, list[str]] = {}
    for own in journal.programmes.all():
        try:
            programme = Programme.from_json(own.definition)
        except ProgrammeError:
            unreadable.setdefault(own.species, []).append(own.title)
        else:
            programmes.setdefault(programme.species, []).append(programme)
    return tuple(
        OfferedSpecies(code, tuple(found), tuple(unreadable.get(code, ())))
        for code, found in programmes.items()
    )


def likely_species(journal: Journal) -> str:
    """The species of the newest batch; the first one where there is none."""
    lines = journal.batches.lines()
    return lines[0].species if lines else load_species()[0].code


def only_species(journal: Journal) -> str | None:
    """The species of all batches, kept and past; None where there are several, or none yet."""
    found = {line.species for line in journal.batches.lines()}
    found |= {past.species for past in journal.past_batches.all()}
    return found.pop() if len(found) == 1 else None
