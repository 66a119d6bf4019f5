"""Fertility, hatch and losses of a batch, never without their counts.

Definitions: fertility and hatch of set (ICAR/TNAU course "Fertility and hatchability"), fertility after break-out
(Mauldin, Univ. Georgia, "Breakout Analyses Guide for Hatcheries"), losses, culled chicks and contaminated eggs as
shares of the fertile eggs (Poult. Sci. 100(4):101026, Table 2).

Choices, where published practice differs or says nothing:

- Hatch of set and hatch of fertile count every chick that left the shell alive, culled ones too; the saleable rates
  leave the culled out. Saleable + culled + losses = fertile.
- Eggs taken out (alive, or broken by accident) are left out of everything but hatch of set, and named.
- A clear that was not opened counts as not fertile, and is named: the true fertility may be higher.
- A rotten egg counts as fertile, as in the table above, unless it had been candled clear; how many were never seen
  with an embryo is named.
- Eggs of which nobody knows whether they were fertile (a cracked one never candled, one lost track of) are left out
  of fertility and of all rates of fertile, and named. When they are more than half of what did not hatch, those
  rates are not given at all: hatching shows which eggs were fertile, so what is left would flatter the batch.
- A batch of whose eggs nothing was ever recorded has no hatch rates: nobody knows that no chick came out.
- While a batch runs, fertility and losses are those known so far; hatch rates have no trials until a chick is out.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from hatchbook.statistics.intervals import wilson
from hatchbook.trade.codes import Fate
from hatchbook.trade.fates import CAME_OUT, PENDING, EggOutcome

LOSSES = (
    Fate.EARLY_DEAD,
    Fate.MID_DEAD,
    Fate.LATE_DEAD,
    Fate.PIPPED_DEAD,
    Fate.CULLED,
    Fate.ROTTEN,
    Fate.CRACKED,
    Fate.UNKNOWN,
)
"""How a fertile egg is lost, in the order of time; `Fate.UNKNOWN` is what was lost track of."""


@dataclass(frozen=True)
class Rate:
    """A share with its counts and its Wilson range, all as shares of 1; no estimate without trials."""

    hits: int
    trials: int
    estimate: float | None
    low: float
    high: float

    @classmethod
    def of(cls, hits: int, trials: int, confidence: float = 0.95) -> Rate:
        """The rate of these counts.

        Raises:
            ValueError: as `wilson`.
        """
        low, high = wilson(hits, trials, confidence)
        return cls(hits, trials, hits / trials if trials else None, low, high)

    def as_dict(self) -> dict[str, int | float | None]:
        """The fields as JSON-ready values."""
        return {
            "hits": self.hits,
            "trials": self.trials,
            "estimate": self.estimate,
            "low": self.low,
            "high": self.high,
        }


NOT_KNOWN = Rate.of(0, 0)
"""The rate of which nothing is known."""


@dataclass(frozen=True)
class FateCounts:
    """How many eggs were set, and how many of them met each fate (only fates that occur)."""

    eggs_set: int
    by_fate: dict[Fate, int]

    def __getitem__(self, fate: Fate) -> int:
        return self.by_fate.get(fate, 0)

    def as_dict(self) -> dict[str, object]:
        """The fields as JSON-ready values."""
        by_fate = {fate.value: count for fate, count in self.by_fate.items()}
        return {"eggs_set": self.eggs_set, "by_fate": by_fate}


@dataclass(frozen=True)
class BatchRates:
    """The rates of a batch; see the module for what counts where.

    Attributes:
        counts: eggs by fate.
        candled_fertility: not clear, of the eggs that a candling judged; every clear counts as infertile.
        fertility: with an embryo, after break-out: early dead found in opened clears count as fertile.
        hatch_of_set, hatch_of_fertile: every chick out of the shell alive.
        saleable_of_set, saleable_of_fertile: without the culled.
        losses: each of `LOSSES` as a rate of the fertile eggs.
        fertile: the eggs counted as fertile, the denominator of the above.
        taken_out: eggs taken out alive or broken by accident.
        unopened_clears: candled clear and not settled by opening.
        fertility_unknown: left out, since nobody knows whether they were fertile.
        rotten_taken_as_fertile: rotten eggs counted as fertile without an embryo having been seen.
        unknown: eggs whose fate is unknown though the batch is over (or whose stage of death is).
        pending: eggs that are still expected to do something.
        closes: saleable, culled and losses at a known stage add up to all fertile eggs, with nothing unknown.
    """

    counts: FateCounts
    candled_fertility: Rate
    fertility: Rate
    hatch_of_set: Rate
    hatch_of_fertile: Rate
    saleable_of_set: Rate
    saleable_of_fertile: Rate
    losses: dict[Fate, Rate]
    fertile: int
    taken_out: int
    unopened_clears: int
    fertility_unknown: int
    rotten_taken_as_fertile: int
    unknown: int
    pending: int
    closes: bool

    @property
    def chicks(self) -> int:
        """Hatched and helped chicks, without the culled."""
        return self.counts[Fate.HATCHED] + self.counts[Fate.HELPED]

    @property
    def came_out(self) -> int:
        """Every chick out of the shell alive, the culled too."""
        return self.chicks + self.counts[Fate.CULLED]

    @property
    def shares_of_fertile(self) -> dict[str, float]:
        """Saleable chicks and losses of known kind, % of the fertile eggs, for `closure`; empty when not known."""
        if not self.saleable_of_fertile.trials:
            return {}
        known = {"saleable": self.saleable_of_fertile.hits}
        known |= {fate.value: rate.hits for fate, rate in self.losses.items() if fate is not Fate.UNKNOWN}
        return {name: 100.0 * hits / self.fertile for name, hits in known.items()}

    def as_dict(self) -> dict[str, object]:
        """The fields as JSON-ready values."""
        plain: dict[str, object] = {name: getattr(self, name) for name in self.__dataclass_fields__}
        for name, value in plain.items():
            if isinstance(value, Rate | FateCounts):
                plain[name] = value.as_dict()
        plain["losses"] = {fate.value: rate.as_dict() for fate, rate in self.losses.items()}
        return plain | {"chicks": self.chicks, "came_out": self.came_out}


def batch_rates(outcomes: Sequence[EggOutcome]) -> BatchRates:
    """The rates of a batch from the outcome of each of its eggs, running or closed."""
    stayed = [outcome for outcome in outcomes if outcome.fate is not Fate.TAKEN_OUT]
    recorded = not stayed or any(
        outcome.candled or outcome.opened or outcome.fate is not Fate.UNKNOWN for outcome in stayed
    )
    return _rates([(outcome, 1) for outcome in outcomes], candling_known=True, hatch_known=recorded)


def rates_from_counts(
    *,
    eggs_set: int,
    hatched: int | None = None,
    clear: int | None = None,
    infertile_opened: int | None = None,
    early_in_clears: int | None = None,
    early: int | None = None,
    mid: int | None = None,
    late: int | None = None,
    pipped: int | None = None,
    culled: int | None = None,
    rotten: int | None = None,
    taken_out: int | None = None,
) -> BatchRates:
    """The rates of a past batch of which only counts are known; None means not counted.

    Args:
        hatched: chicks that lived, helped ones included; the culled are counted apart.
        clear: candled clear, without those that opening showed to be early dead.
        infertile_opened: how many of `clear` were opened and found infertile.
        early_in_clears: how many of `early` had been candled clear. Without it, and when clears were opened, the
            candled fertility is not known.
        early, mid, late, pipped: dead embryos by stage.

    Eggs left over have an unknown fate; where clears were counted they were not clear, so they count as fertile.

    Raises:
        ValueError: when a count is below 0 or they add up to more than the eggs set.
    """
    given = {
        Fate.HATCHED: hatched,
        Fate.CULLED: culled,
        Fate.CLEAR: clear,
        Fate.EARLY_DEAD: early,
        Fate.MID_DEAD: mid,
        Fate.LATE_DEAD: late,
        Fate.PIPPED_DEAD: pipped,
        Fate.ROTTEN: rotten,
        Fate.TAKEN_OUT: taken_out,
    }
    counts = {fate: count or 0 for fate, count in given.items()}
    opened, hidden = infertile_opened or 0, early_in_clears or 0
    if min(eggs_set, opened, hidden, *counts.values()) < 0:
        raise ValueError("A count of eggs can not be below 0.")
    left = eggs_set - sum(counts.values())
    if left < 0:
        raise ValueError(f"The counts add up to {eggs_set - left} eggs, but only {eggs_set} were set.")
    if opened > counts[Fate.CLEAR]:
        raise ValueError(
            f"{opened} clears were opened as infertile, but only {counts[Fate.CLEAR]} were clear."
        )
    if hidden > counts[Fate.EARLY_DEAD]:
        raise ValueError(
            f"{hidden} early dead were found among the clears, but only {counts[Fate.EARLY_DEAD]} were early dead."
        )

    candled = clear is not None
    unopened = counts.pop(Fate.CLEAR) - opened
    counts[Fate.EARLY_DEAD] -= hidden
    eggs = [
        (EggOutcome(Fate.EARLY_DEAD, candled=True, candled_clear=True, opened=True, fertile=True), hidden),
        (EggOutcome(Fate.INFERTILE, candled=True, candled_clear=True, opened=True, fertile=False), opened),
        (EggOutcome(Fate.CLEAR, candled=True, candled_clear=True), unopened),
        (EggOutcome(Fate.UNKNOWN, candled=candled, fertile=True if candled else None), left),
    ]
    for fate, count in counts.items():
        embryo = None if fate in (Fate.ROTTEN, Fate.TAKEN_OUT) else True
        eggs.append((EggOutcome(fate, candled=candled, fertile=embryo), count))
    told_apart = early_in_clears is not None or not opened
    return _rates(eggs, candling_known=candled and told_apart, hatch_known=hatched is not None)


@dataclass(frozen=True)
class Closure:
    """Whether shares that should be all of a whole are: `total` and `tolerance` in percent."""

    total: float
    closes: bool
    tolerance: float

    def as_dict(self) -> dict[str, float | bool]:
        """The fields as JSON-ready values."""
        return {"total": self.total, "closes": self.closes, "tolerance": self.tolerance}


def closure(shares: Sequence[float], tolerance: float | None = None) -> Closure:
    """Whether shares in percent add up to 100.

    By default each share may be off by 0.05, that is rounded to one decimal: a published set that misses by more
    has classes that overlap or are missing.

    Raises:
        ValueError: when a share is not a number of 0 or more.
    """
    if not all(share >= 0.0 for share in shares):
        raise ValueError("A share must be a number of 0 % or more.")
    allowed = 0.05 * len(shares) if tolerance is None else tolerance
    total = float(sum(shares))
    return Closure(total, abs(total - 100.0) <= allowed + 1e-9, allowed)


def _rates(eggs: Sequence[tuple[EggOutcome, int]], *, candling_known: bool, hatch_known: bool) -> BatchRates:
    """Count once, for eggs and for counts: outcomes with how many eggs had them.

    The flags say whether candling and hatch were counted at all.
    """

    def count(holds: Callable[[EggOutcome], bool]) -> int:
        return sum(number for outcome, number in eggs if holds(outcome))

    counted: Counter[Fate] = Counter()
    fertile_by_fate: Counter[Fate] = Counter()
    for outcome, number in eggs:
        counted[outcome.fate] += number
        fertile_by_fate[outcome.fate] += number if counts_as_fertile(outcome) else 0
    eggs_set, fertile = counted.total(), fertile_by_fate.total()
    counts = FateCounts(eggs_set, {fate: counted[fate] for fate in Fate if counted[fate]})
    taken_out = counts[Fate.TAKEN_OUT]
    came_out = sum(counts[fate] for fate in CAME_OUT)
    saleable = came_out - counts[Fate.CULLED]
    pending = sum(counts[fate] for fate in PENDING)
    unknown = counts[Fate.UNKNOWN] + counts[Fate.DEAD]
    hatch_known = hatch_known and (came_out > 0 or pending == 0)

    lost = {fate: fertile_by_fate[fate] for fate in LOSSES}
    lost[Fate.UNKNOWN] += fertile_by_fate[Fate.DEAD]
    at_known_stage = sum(lost.values()) - lost[Fate.UNKNOWN]

    left_out = count(nobody_knows)
    cracked = count(lambda egg: nobody_knows(egg) and egg.fate is Fate.CRACKED)
    unhatched = eggs_set - taken_out - came_out - cracked
    fertility_known = 2 * (left_out - cracked) <= unhatched

    def of_fertile(hits: int, known: bool = True) -> Rate:
        return Rate.of(hits, fertile) if known and fertility_known else NOT_KNOWN

    def of_set(hits: int) -> Rate:
        return Rate.of(hits, eggs_set) if hatch_known else NOT_KNOWN

    judged = count(lambda egg: egg.candled and egg.fate is not Fate.TAKEN_OUT) if candling_known else 0
    clear = count(lambda egg: egg.candled_clear and egg.fate is not Fate.TAKEN_OUT) if candling_known else 0
    return BatchRates(
        counts=counts,
        candled_fertility=Rate.of(judged - clear, judged),
        fertility=Rate.of(fertile, eggs_set - taken_out - left_out) if fertility_known else NOT_KNOWN,
        hatch_of_set=of_set(came_out),
        hatch_of_fertile=of_fertile(came_out, hatch_known),
        saleable_of_set=of_set(saleable),
        saleable_of_fertile=of_fertile(saleable, hatch_known),
        losses={fate: of_fertile(hits) for fate, hits in lost.items()},
        fertile=fertile,
        taken_out=taken_out,
        unopened_clears=count(unsettled_clear),
        fertility_unknown=left_out,
        rotten_taken_as_fertile=count(rotten_alone),
        unknown=unknown,
        pending=pending,
        closes=hatch_known
        and fertility_known
        and pending == unknown == 0
        and saleable + at_known_stage == fertile,
    )


def rotten_alone(outcome: EggOutcome) -> bool:
    """Rotten, and no embryo was seen in it; not candled clear either."""
    return outcome.fate is Fate.ROTTEN and outcome.fertile is None and not outcome.candled_clear


def counts_as_fertile(outcome: EggOutcome) -> bool:
    """Counted among the fertile eggs: an embryo was there, or it is taken to have been; see the module."""
    return outcome.fate is not Fate.TAKEN_OUT and (outcome.fertile is True or rotten_alone(outcome))


def unsettled_clear(outcome: EggOutcome) -> bool:
    """Candled clear, and nothing since has shown whether it was fertile."""
    return outcome.candled_clear and outcome.fertile is None and outcome.fate is not Fate.TAKEN_OUT


def nobody_knows(outcome: EggOutcome) -> bool:
    """Whether it was fertile is open, and no clear speaks against it."""
    known = outcome.fertile is not None or outcome.candled_clear
    return not known and outcome.fate not in (Fate.TAKEN_OUT, Fate.ROTTEN)
