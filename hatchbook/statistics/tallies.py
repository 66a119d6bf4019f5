"""What one egg counts in each rate, so that the eggs of a batch can be added up by pen, dam or age.

The definitions are those of `hatchbook.statistics.rates`: the parts of a batch add up to its `BatchRates`. Whether
a rate is known at all is asked of the whole batch, not of its parts: an egg of which nothing was noted did not
hatch in a batch of which others did.
"""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum
from functools import lru_cache

from hatchbook.statistics.rates import BatchRates, Rate, counts_as_fertile, nobody_knows
from hatchbook.trade.codes import Fate
from hatchbook.trade.fates import CAME_OUT, EggOutcome


class RateKind(StrEnum):
    """The rates by which batches are compared."""

    FERTILITY = "fertility"
    HATCH_OF_FERTILE = "hatch_of_fertile"
    HATCH_OF_SET = "hatch_of_set"
    EARLY_DEAD = "early_dead"
    MID_DEAD = "mid_dead"
    LATE_DEAD = "late_dead"
    PIPPED_DEAD = "pipped_dead"

    @property
    def is_loss(self) -> bool:
        """Whether less of it is better."""
        return self in LOSS_FATES


LOSS_FATES = {
    RateKind.EARLY_DEAD: Fate.EARLY_DEAD,
    RateKind.MID_DEAD: Fate.MID_DEAD,
    RateKind.LATE_DEAD: Fate.LATE_DEAD,
    RateKind.PIPPED_DEAD: Fate.PIPPED_DEAD,
}
"""The losses among the kinds of rate, each a share of the fertile eggs."""

Tally = tuple[tuple[int, int], ...]
"""Hits and trials of each `RateKind`, in its order."""

_PLACES = {kind: place for place, kind in enumerate(RateKind)}


@lru_cache(512)
def egg_tally(outcome: EggOutcome) -> Tally:
    """What an egg counts in each rate."""
    fertile, out = counts_as_fertile(outcome), outcome.fate in CAME_OUT
    judged = outcome.fate is not Fate.TAKEN_OUT and not nobody_knows(outcome)
    counted = {
        RateKind.FERTILITY: (int(fertile), int(judged)),
        RateKind.HATCH_OF_FERTILE: (int(fertile and out), int(fertile)),
        RateKind.HATCH_OF_SET: (int(out), 1),
    }
    for kind, fate in LOSS_FATES.items():
        counted[kind] = (int(fertile and outcome.fate is fate), int(fertile))
    return tuple(counted[kind] for kind in RateKind)


def summed(parts: Iterable[tuple[Tally, int]]) -> Tally:
    """Tallies added up, each as often as is said."""
    hits, trials = [0] * len(RateKind), [0] * len(RateKind)
    for tally, times in parts:
        for position, (one_hits, one_trials) in enumerate(tally):
            hits[position] += one_hits * times
            trials[position] += one_trials * times
    return tuple(zip(hits, trials, strict=True))


def batch_tally(rates: BatchRates) -> Tally:
    """The tally of a whole batch."""
    return tuple((rate.hits, rate.trials) for rate in (_rate(rates, kind) for kind in RateKind))


def known_kinds(rates: BatchRates) -> frozenset[RateKind]:
    """The rates that a batch can speak of.

    The stages of death are not known where more than half of the losses happened at a stage nobody knows: what is
    left would flatter every stage.
    """
    known = {kind for kind in RateKind if _rate(rates, kind).trials}
    losses = rates.losses
    lost = sum(rate.hits for fate, rate in losses.items() if fate is not Fate.CULLED)
    if 2 * losses[Fate.UNKNOWN].hits > lost:
        known -= set(LOSS_FATES)
    return frozenset(known)


def counts(tally: Tally, kind: RateKind) -> tuple[int, int]:
    """Hits and trials of one rate."""
    return tally[_PLACES[kind]]


def only(tally: Tally, kinds: frozenset[RateKind]) -> Tally:
    """A tally without the rates that are not known."""
    return tuple(one if kind in kinds else (0, 0) for kind, one in zip(RateKind, tally, strict=True))


def _rate(rates: BatchRates, kind: RateKind) -> Rate:
    match kind:
        case RateKind.FERTILITY:
            return rates.fertility
        case RateKind.HATCH_OF_FERTILE:
            return rates.hatch_of_fertile
        case RateKind.HATCH_OF_SET:
            return rates.hatch_of_set
    return rates.losses[LOSS_FATES[kind]]
