"""A batch among the breeder's other finished batches of its species: what they do, how likely its own rates are.

Never against industry numbers, and never against itself.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from hatchbook.figures.comparison_rows import ComparedBatch, compared_batches
from hatchbook.figures.plain import plain_fields
from hatchbook.journal import Journal
from hatchbook.statistics.comparison import BatchChance, batch_among
from hatchbook.statistics.tallies import RateKind, counts

FEWEST_OTHERS = 2
"""With fewer other batches nothing is said of chance: three are needed before any can be compared (ours)."""
KEY_RATES = (RateKind.FERTILITY, RateKind.HATCH_OF_FERTILE, RateKind.HATCH_OF_SET)
"""The rates that stand over the page of a batch."""
WORTH_A_WORD = 0.1
"""A rate as low, or as high, by less than this chance is said to be so (ours)."""
OUTSIDE = 0.025
"""A rate as low, or as high, by less than this chance lies outside of where 95 of 100 batches lie."""


@dataclass(frozen=True)
class RateAmong:
    """A rate of the other batches taken together, and how likely one as low or as high as the batch's own is.

    ``hits`` of ``trials``: those of ``batches`` others. ``chance``: None where the own rate is not known, or the
    others are too few to say.
    """

    hits: int
    trials: int
    batches: int
    chance: BatchChance | None

    @property
    def usual(self) -> float:
        """The others' share, 0 to 1."""
        return self.hits / self.trials

    @property
    def one_sided(self) -> float | None:
        """How likely a rate as far from the others' on the same side is; None where it is not told."""
        return None if self.chance is None else min(self.chance.low, self.chance.high)

    @property
    def is_low(self) -> bool:
        """Whether the batch's own rate is so low that it is worth a word."""
        return self.chance is not None and self.chance.low < WORTH_A_WORD

    @property
    def is_high(self) -> bool:
        """Whether the batch's own rate is so high that it is worth a word."""
        return self.chance is not None and self.chance.high < WORTH_A_WORD

    @property
    def is_outside(self) -> bool:
        """Whether it lies outside of where 95 of 100 batches lie."""
        return self.one_sided is not None and self.one_sided < OUTSIDE

    def as_dict(self) -> dict[str, Any]:
        """The figures as plain JSON values."""
        return plain_fields(self) | {"usual": self.usual}


RatesAmong = Mapping[RateKind, RateAmong]


class AmongOthers:
    """A batch and the others of its species that are over; what follows from them is worked out once."""

    def __init__(self, own: ComparedBatch | None, others: Iterable[ComparedBatch]) -> None:
        self.own, self.others = own, list(others)
        self.chance = cache(self._chance)

    @classmethod
    def of(cls, journal: Journal, uid: str) -> AmongOthers:
        """Those of a batch, kept or from paper; none at all where there is no such batch that is over."""
        every = compared_batches(journal)
        own = next((batch for batch in every if batch.uid == uid), None)
        if own is None:
            return cls(None, ())
        return cls(own, (one for one in every if one.species == own.species and one.uid != uid))

    def own_counts(self, kind: RateKind) -> tuple[int, int]:
        """Hits and trials of the batch itself; (0, 0) where they are not known."""
        return (0, 0) if self.own is None else counts(self.own.tally, kind)

    def speaking(self, kind: RateKind) -> list[tuple[int, int]]:
        """Hits and trials of every other batch that can speak of a rate."""
        return [rate for batch in self.others if (rate := counts(batch.tally, kind))[1]]

    def _chance(self, kind: RateKind) -> BatchChance | None:
        """How likely a rate like the batch's own is; None where it is not known or the others are too few."""
        hits, trials = self.own_counts(kind)
        among = self.speaking(kind)
        if not trials or len(among) < FEWEST_OTHERS:
            return None
        return batch_among(hits, trials, [rate[0] for rate in among], [rate[1] for rate in among])

    def rate(self, kind: RateKind) -> RateAmong | None:
        """What the others do, and the chance of the batch's own; None where no other can speak of it."""
        among = self.speaking(kind)
        if not among:
            return None
        hits, trials = (sum(each) for each in zip(*among, strict=True))
        return RateAmong(hits, trials, len(among), self.chance(kind))

    def key_rates(self) -> RatesAmong:
        """Those of the rates that stand over the page of a batch."""
        return {kind: rate for kind in KEY_RATES if (rate := self.rate(kind)) is not None}


def rates_among_others(journal: Journal, uid: str) -> RatesAmong:
    """The key rates of a finished batch, kept or from paper, among the others of its species."""
    return AmongOthers.of(journal, uid).key_rates()


def batch_against_others(
    journal: Journal, uid: str, outcome: RateKind = RateKind.HATCH_OF_FERTILE
) -> BatchChance | None:
    """How likely a batch like this is among the other finished batches of its species, their spread counted.

    None: the batch is not over, its rate is not known, or the others are too few to say.
    """
    return AmongOthers.of(journal, uid).chance(outcome)
