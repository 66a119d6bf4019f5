"""Facts of the breeder's other batches of the species: what they lost, how they hatched, what their pens did.

A batch is compared with the breeder's own others, never with industry numbers, and never with itself.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from statistics import median

from hatchbook.figures.among_others import AmongOthers
from hatchbook.figures.cause_conditions import known_drift
from hatchbook.figures.cause_results import Fact, RecordRef
from hatchbook.figures.cause_signs import CHICKS_NEEDED
from hatchbook.figures.comparison_rows import ComparedBatch, Grouping
from hatchbook.figures.course import Course
from hatchbook.figures.outcomes import outcomes_by_batch
from hatchbook.figures.phases import phase_figures
from hatchbook.figures.results import BatchFigures, PhaseFigures
from hatchbook.journal import Journal
from hatchbook.statistics.comparison import compare_groups
from hatchbook.statistics.tallies import RateKind, counts
from hatchbook.trade.cause_codes import FactCode, FactKind
from hatchbook.trade.codes import PhaseKind
from hatchbook.trade.instants import DAY_S

FEWEST_BATCHES = 3
"""With fewer other batches nothing is said of when the middle chick usually comes (ours)."""
FEWEST_EGGS = 8
ALIKE_WITHIN = 2.5
"""Own batches whose mean humidity lies no further off than this, % RH, ran alike (ours)."""
MAIN_PEN_SHARE = 0.6
_MOST_RECORDS = 4
_HISTORY = FactKind.HISTORY
_LOSSES = (
    (FactCode.EARLY_LOSS_CHANCE, RateKind.EARLY_DEAD),
    (FactCode.MID_LOSS_CHANCE, RateKind.MID_DEAD),
    (FactCode.LATE_LOSS_CHANCE, RateKind.LATE_DEAD),
    (FactCode.PIPPED_LOSS_CHANCE, RateKind.PIPPED_DEAD),
)
_PENS = (
    (FactCode.PEN_HATCH, FactCode.PEN_HATCH_SURE, RateKind.HATCH_OF_FERTILE),
    (FactCode.PEN_FERTILITY, FactCode.PEN_FERTILITY_SURE, RateKind.FERTILITY),
)


@dataclass(frozen=True)
class PenRates:
    """A pen's other batches against those of other pens: hits and trials, and the difference in points.

    ``low`` and ``high``: its range with the spread from batch to batch; None where that can not be told.
    """

    hits: int
    trials: int
    other_hits: int
    other_trials: int
    batches: int
    low: float | None
    high: float | None

    @property
    def difference(self) -> float:
        """Points."""
        return 100 * (self.hits / self.trials - self.other_hits / self.other_trials)


class OwnHistory:
    """The other batches of a batch's species that are over."""

    def __init__(self, journal: Journal, figures: BatchFigures) -> None:
        self._journal, self._figures = journal, figures
        self.among = AmongOthers.of(journal, figures.batch.uid)
        self.others = self.among.others

    # ---------------------------------------------------------------- chance

    def facts(self) -> Iterator[Fact]:
        """Every fact of the other batches."""
        for code, kind in _LOSSES:
            yield self._loss_chance(code, kind)
        fertility = self.among.chance(RateKind.FERTILITY)
        hits, trials = self.among.own_counts(RateKind.FERTILITY)
        told = {"count": trials - hits, "of": trials} | self._usual(RateKind.FERTILITY, misses=True)
        value = None if fertility is None else fertility.low
        yield Fact(FactCode.INFERTILE_CHANCE, _HISTORY, value, told | {"chance": value})
        yield self._alike(FactCode.MOIST_BATCHES, moist=True)
        yield self._alike(FactCode.DRY_BATCHES, moist=False)
        for code, sure, kind in _PENS:
            yield from self._pen(code, sure, kind)
        yield self._elsewhere()
        yield self._late()

    def _loss_chance(self, code: FactCode, kind: RateKind) -> Fact:
        chance = self.among.chance(kind)
        hits, trials = self.among.own_counts(kind)
        value = None if chance is None else chance.high
        told = {"count": hits, "of": trials, "chance": value} | self._usual(kind)
        return Fact(code, _HISTORY, value, told)

    def _usual(self, kind: RateKind, *, misses: bool = False) -> dict[str, float | int]:
        """The rate of the other batches taken together, % of their eggs, and how many batches that are."""
        rate = self.among.rate(kind)
        if rate is None:
            return {"usual": 0.0, "batches": 0}
        return {"usual": 100 * (1 - rate.usual if misses else rate.usual), "batches": rate.batches}

    # ---------------------------------------------------------------- humidity

    @cached_property
    def _humidities(self) -> dict[str, float]:
        """Mean humidity before lockdown of the other batches of which it is known, % RH."""
        found = {}
        for batch in self.others:
            if not batch.counts_only:
                course = Course(self._journal, batch.uid, self._figures.now)
                mean = _mean_humidity(phase_figures(course))
                if mean is not None:
                    found[batch.uid] = mean
        return found

    def _alike(self, code: FactCode, *, moist: bool) -> Fact:
        """Own batches as moist (or dry) as this one against the rest; only where this one was outside its band."""
        phase = next((one for one in self._figures.phases if one.kind is PhaseKind.INCUBATION), None)
        mean = _mean_humidity(self._figures.phases)
        if phase is None or mean is None:
            return Fact(code, _HISTORY, None)
        band = phase.humidity_band
        if (mean <= band.high) if moist else (mean >= band.low):
            return Fact(code, _HISTORY, None, applies=False)

        def as_far_out(other: float) -> bool:
            if moist:
                return other > band.high and other >= mean - ALIKE_WITHIN
            return other < band.low and other <= mean + ALIKE_WITHIN

        alike = [batch for batch in self._with_humidity() if as_far_out(self._humidities[batch.uid])]
        inside = [
            batch for batch in self._with_humidity() if band.low <= self._humidities[batch.uid] <= band.high
        ]
        hits, trials = _summed(alike, RateKind.HATCH_OF_FERTILE)
        other_hits, other_trials = _summed(inside, RateKind.HATCH_OF_FERTILE)
        if min(trials, other_trials) < FEWEST_EGGS:
            return Fact(code, _HISTORY, None)
        difference = 100 * (hits / trials - other_hits / other_trials)
        told = {
            "labels": tuple(batch.label for batch in alike),
            "hits": hits,
            "trials": trials,
            "other_hits": other_hits,
            "other_trials": other_trials,
        }
        return Fact(code, _HISTORY, difference, told, self._refs(alike))

    def _with_humidity(self) -> list[ComparedBatch]:
        return [
            batch
            for batch in self.others
            if batch.uid in self._humidities and counts(batch.tally, RateKind.HATCH_OF_FERTILE)[1]
        ]

    def _refs(self, batches: Iterable[ComparedBatch]) -> tuple[RecordRef, ...]:
        newest = sorted(batches, key=lambda batch: -batch.set_at)[:_MOST_RECORDS]
        refs = []
        for batch in newest:
            hits, trials = counts(batch.tally, RateKind.HATCH_OF_FERTILE)
            values = {
                "label": batch.label,
                "name": batch.name,
                "hits": hits,
                "trials": trials,
                "humidity": None if batch.counts_only else self._humidities.get(batch.uid),
            }
            kind = "past_batch" if batch.counts_only else "batch"
            refs.append(RecordRef(kind, batch.uid, batch.set_at, values))
        return tuple(refs)

    # ---------------------------------------------------------------- pens

    @cached_property
    def main_pen(self) -> str | None:
        """The pen most of the eggs come from; None where no pen has so many."""
        pens = Counter(egg.egg.pen for egg in self._figures.eggs)
        pen, eggs = pens.most_common(1)[0] if pens else (None, 0)
        return pen if pen is not None and eggs >= MAIN_PEN_SHARE * len(self._figures.eggs) else None

    def _pen_name(self) -> str:
        return next((egg.pen_name for egg in self._figures.eggs if egg.egg.pen == self.main_pen), "")

    def _pen(self, code: FactCode, sure: FactCode, kind: RateKind) -> Iterator[Fact]:
        rates = None if self.main_pen is None else self.pen_rates(kind)
        if rates is None:
            told: dict[str, object] = {"pen": self._pen_name()}
            yield Fact(code, _HISTORY, None, told)
            yield Fact(sure, _HISTORY, None, told)
            return
        told = {
            "pen": self._pen_name(),
            "hits": rates.hits,
            "trials": rates.trials,
            "other_hits": rates.other_hits,
            "other_trials": rates.other_trials,
            "batches": rates.batches,
            "low": rates.low,
            "high": rates.high,
        }
        records = self._refs(batch for batch in self.others if self.main_pen in _by_pen(batch, kind))
        yield Fact(code, _HISTORY, rates.difference, told, records)
        nearest = None
        if rates.low is not None and rates.high is not None:
            nearest = rates.low if rates.low > 0 else min(rates.high, 0.0)
        yield Fact(sure, _HISTORY, nearest, told)

    def pen_rates(self, kind: RateKind) -> PenRates | None:
        """The pen's other batches against those of other pens; None where either gave too few eggs."""
        groups: dict[str, list[tuple[int, int]]] = {}
        for batch in self.others:
            for pen, rate in _by_pen(batch, kind).items():
                groups.setdefault(pen, []).append(rate)
        own = groups.get(self.main_pen or "", [])
        rest = [rate for pen, rates in groups.items() if pen != self.main_pen for rate in rates]
        hits, trials = _added(own)
        other_hits, other_trials = _added(rest)
        if min(trials, other_trials) < FEWEST_EGGS:
            return None
        compared = compare_groups(
            {
                pen == self.main_pen: ([rate[0] for rate in rates], [rate[1] for rate in rates])
                for pen, rates in ((self.main_pen, own), ("", rest))
            }
        )
        pair = compared.difference(True, False)
        low, high = (None, None) if pair is None else (100 * pair.low, 100 * pair.high)
        return PenRates(hits, trials, other_hits, other_trials, len(own), low, high)

    def _elsewhere(self) -> Fact:
        """The pen's batches in other machines against those in this one."""
        code, kind, machine = FactCode.PEN_ELSEWHERE, RateKind.HATCH_OF_FERTILE, self._figures.batch.machine
        here, there, batches = [], [], []
        for batch in self.others:
            rate = _by_pen(batch, kind).get(self.main_pen or "")
            if rate is None:
                continue
            if batch.keys[Grouping.MACHINE] == machine:
                here.append(rate)
            else:
                there.append(rate)
                batches.append(batch)
        hits, trials = _added(there)
        own_hits, own_trials = _added(here)
        if min(trials, own_trials) < FEWEST_EGGS:
            return Fact(code, _HISTORY, None, {"pen": self._pen_name()})
        told = {
            "pen": self._pen_name(),
            "hits": hits,
            "trials": trials,
            "other_hits": own_hits,
            "other_trials": own_trials,
            "batches": len(batches),
        }
        difference = 100 * (hits / trials - own_hits / own_trials)
        return Fact(code, _HISTORY, difference, told, self._refs(batches))

    # ---------------------------------------------------------------- timing

    def _late(self) -> Fact:
        """By how many hours the middle chick came after that of the other batches of as long an incubation."""
        days = self._figures.timing.chick_days
        if len(days) < CHICKS_NEEDED:
            return Fact(FactCode.HATCH_LATE, _HISTORY, None)
        kept = {batch.uid for batch in self.others if not batch.counts_only}
        lines = [
            line
            for line in self._journal.batches.lines()
            if line.uid in kept and math.isclose(line.incubation_days, self._figures.batch.incubation_days)
        ]
        middles = []
        for line, outcomes in zip(lines, outcomes_by_batch(self._journal, lines), strict=True):
            out = [
                (one.hatched_at_s - line.set_at) / DAY_S for one in outcomes if one.hatched_at_s is not None
            ]
            if len(out) >= CHICKS_NEEDED:
                middles.append(median(out))
        if len(middles) < FEWEST_BATCHES:
            return Fact(FactCode.HATCH_LATE, _HISTORY, None)
        usual = sum(middles) / len(middles)
        late = 24 * (median(days) - usual)
        told = {"hours": late, "day": median(days), "usual": usual, "batches": len(middles)}
        return Fact(FactCode.HATCH_LATE, _HISTORY, late, told)


def _mean_humidity(phases: Sequence[PhaseFigures]) -> float | None:
    phase = next((one for one in phases if one.kind is PhaseKind.INCUBATION), None)
    drift = None if phase is None else known_drift(phase.humidity)
    return None if drift is None else drift.mean


def _by_pen(batch: ComparedBatch, kind: RateKind) -> dict[str, tuple[int, int]]:
    """Hits and trials of a batch's eggs by pen; only of pens whose eggs tell."""
    return {
        keys[0]: rate
        for keys, (_eggs, tally) in batch.split([Grouping.PEN]).items()
        if keys[0] is not None and (rate := counts(tally, kind))[1]
    }


def _summed(batches: Iterable[ComparedBatch], kind: RateKind) -> tuple[int, int]:
    return _added(counts(batch.tally, kind) for batch in batches)


def _added(rates: Iterable[tuple[int, int]]) -> tuple[int, int]:
    each = list(rates)
    return sum(rate[0] for rate in each), sum(rate[1] for rate in each)
