"""What came of a pen's eggs: its rates over the batches that are over, and the same for each dam that is known."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from hatchbook.figures.comparison_rows import ComparedBatch, ComparedPart, compared_batches
from hatchbook.figures.plain import plain_fields
from hatchbook.journal import Journal
from hatchbook.statistics.rates import Rate
from hatchbook.statistics.tallies import RateKind, Tally, counts, only, summed


@dataclass(frozen=True)
class EggsOf:
    """The eggs of a bird, or of a whole pen, in batches that are over.

    ``dam``: the uid of the bird; None for eggs whose dam was not noted, and for the whole pen. The ranges of the
    rates are Wilson's: how much batches differ among each other is not counted in them; a comparison counts it.
    """

    dam: str | None
    name: str
    ring: str
    batches: int
    eggs: int
    fertility: Rate
    hatch_of_fertile: Rate
    hatch_of_set: Rate


@dataclass(frozen=True)
class PenFigures:
    """A pen's eggs taken together, and by dam: those with the most eggs first, the unknown ones last."""

    pen: str
    name: str
    whole: EggsOf
    dams: tuple[EggsOf, ...]

    def as_dict(self) -> dict[str, Any]:
        """The figures as plain JSON values."""
        return plain_fields(self)


_Piece = tuple[str | None, int, Tally]
"""A dam, so many eggs, and what they count together."""


def pen_figures(journal: Journal, pen: str) -> PenFigures:
    """The figures of a pen; of a batch from paper only the whole of it counts.

    Raises:
        RecordMissingError: there is no such pen.
    """
    record = journal.pens.get(pen)
    birds = {member.uid: member for member in journal.pens.members(pen)}
    by_batch = [pieces for batch in compared_batches(journal) if (pieces := _pieces(batch, pen))]
    found = {dam for pieces in by_batch for dam, _eggs, _tally in pieces}
    dams = []
    for dam in found:
        bird = birds.get(dam or "")
        name, ring = (bird.name, bird.ring) if bird is not None else ("", "")
        dams.append(_eggs_of(dam, name, ring, by_batch))
    known = sorted((one for one in dams if one.dam is not None), key=lambda one: (-one.eggs, one.name))
    unknown = [one for one in dams if one.dam is None]
    whole = _eggs_of(None, record.name, "", [[(None, *piece[1:]) for piece in one] for one in by_batch])
    return PenFigures(pen, record.name, whole, (*known, *unknown) if known else ())


def _pieces(batch: ComparedBatch, pen: str) -> list[_Piece]:
    """What a batch has of a pen's eggs."""
    if not batch.parts:
        return [(None, batch.eggs_set, batch.tally)] if batch.pen == pen else []
    return [
        (part.dam, part.eggs, only(_together(part), batch.kinds)) for part in batch.parts if part.pen == pen
    ]


def _together(part: ComparedPart) -> Tally:
    return summed([(part.tally, part.eggs)])


def _eggs_of(dam: str | None, name: str, ring: str, by_batch: Iterable[list[_Piece]]) -> EggsOf:
    mine = [[piece for piece in pieces if piece[0] == dam] for pieces in by_batch]
    mine = [pieces for pieces in mine if pieces]
    tally = summed((tally, 1) for pieces in mine for _dam, _eggs, tally in pieces)
    return EggsOf(
        dam=dam,
        name=name,
        ring=ring,
        batches=len(mine),
        eggs=sum(eggs for pieces in mine for _dam, eggs, _tally in pieces),
        fertility=Rate.of(*counts(tally, RateKind.FERTILITY)),
        hatch_of_fertile=Rate.of(*counts(tally, RateKind.HATCH_OF_FERTILE)),
        hatch_of_set=Rate.of(*counts(tally, RateKind.HATCH_OF_SET)),
    )
