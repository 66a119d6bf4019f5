"""How easily the shells of a species let water through: what is taken of it before anything is weighed."""

from __future__ import annotations

from dataclasses import dataclass

from hatchbook.trade.entries import Entries
from hatchbook.trade.phases import ProgrammeError, ProgrammeFault
from hatchbook.trade.sources import SourceMark

FRACTION_LOST = 0.150
"""Of the mass when laid, by diffusion, over a whole incubation: 0.150 ± 0.025, 81 species (Ar & Rahn 1980, Amer.
Zool. 20:373-384, pages from memory)."""
PULL_IN_NESTS_TORR = 35.0
"""Mean difference of vapour pressure between egg and nest (Rahn & Ar 1974, Condor 76:147-152)."""
ALL_BIRDS_SD = 0.3
ALL_BIRDS_EGG_CV = 0.153
"""As of turkeys (Meir, Nir & Ar 1984, Poult. Sci. 63:1489-1496)."""


@dataclass(frozen=True)
class SpeciesConductance:
    """The conductance of a species' eggs per gram of the mass when set, mg/(day g torr), at sea level.

    ``mean``: of batches; ``batch_sd``: standard deviation of batches about it; ``egg_cv``: that of eggs about their
    batch's mean, in parts of it. ``published_low``, ``published_high``: what is printed of batches, None where
    nothing is; ``least_published``: less than that, of other kinds of the species (broilers beside layers).
    ``statement`` is English; ``source`` and ``mark`` say what it rests on.
    """

    mean: float
    batch_sd: float
    egg_cv: float
    statement: str
    source: str
    mark: SourceMark
    published_low: float | None = None
    published_high: float | None = None
    least_published: float | None = None


def conductance_of_all_birds(incubation_days: float) -> SpeciesConductance:
    """What is taken of a species of which nothing is known but its days: as much as loses 15 % in a nest."""
    mean = 1000.0 * FRACTION_LOST / (PULL_IN_NESTS_TORR * incubation_days)
    return SpeciesConductance(
        mean=mean,
        batch_sd=ALL_BIRDS_SD * mean,
        egg_cv=ALL_BIRDS_EGG_CV,
        statement="As much as loses 15 % over the whole incubation at the 35 torr of a nest.",
        source="Ar & Rahn 1980, Amer. Zool. 20:373-384 (pages from memory); Rahn & Ar 1974, Condor 76:147-152",
        mark=SourceMark.OURS,
    )


def read_conductance(entries: Entries) -> SpeciesConductance:
    """From the entries of the table ``[conductance]`` of a species.

    Raises:
        ProgrammeError: naming the entry that is not right; what is published must name its source.
    """
    low, high = entries.numbers("published", 2) if entries.has("published") else (None, None)
    read = SpeciesConductance(
        mean=entries.number("mean"),
        batch_sd=entries.number("batch_sd"),
        egg_cv=entries.number("egg_cv"),
        statement=entries.text("statement"),
        source=entries.text("source", may_be_empty=True) if entries.has("source") else "",
        mark=entries.code("mark", SourceMark),
        published_low=low,
        published_high=high,
        least_published=entries.number("least_published") if entries.has("least_published") else low,
    )
    entries.done()
    for field in ("mean", "batch_sd", "egg_cv"):
        if not 0.0 < getattr(read, field) < 2.0:
            raise ProgrammeError(ProgrammeFault.OUT_OF_RANGE, field, "The number must lie between 0 and 2.")
    if low is not None and high is not None and not 0.0 < low <= high:
        raise ProgrammeError(ProgrammeFault.NOT_ASCENDING, "published", "The lower value comes first.")
    if read.least_published is not None and (low is None or not 0.0 < read.least_published <= low):
        raise ProgrammeError(
            ProgrammeFault.NOT_ASCENDING, "least_published", "The least lies below what else is published."
        )
    if read.mark is SourceMark.PUBLISHED and not read.source:
        raise ProgrammeError(ProgrammeFault.NO_SOURCE, "source", "What is published has a source.")
    return read
