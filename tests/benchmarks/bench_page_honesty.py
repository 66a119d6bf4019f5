"""How often the Seasons page is wrong: it says more than chance where nothing differs, or misses what does.

Not a measurement of time: the columns hold how many of 100 pages, ours against what a plain chi-square of the same
eggs says (each egg a trial of its own, 1 in 100 for each grouping), or against what is promised. Whole pages are
asked, with all that they correct for. Fixed random numbers; a minute or two.
"""

from __future__ import annotations

import tempfile
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from hatchbook.figures.comparison import compare
from hatchbook.figures.comparison_results import ComparisonFigures, FindingKind, Question, Standing
from hatchbook.figures.comparison_rows import ComparedBatch, ComparedPart, Grouping
from hatchbook.journal import Journal, Machine, Pen
from hatchbook.statistics.comparison import LEVEL
from hatchbook.statistics.group_tests import chi_square
from hatchbook.statistics.tallies import RateKind, Tally, counts, summed
from result import Result

PAGES, PAGES_THAT_DIFFER = 200, 80
SMALLEST, LARGEST = 12, 40
NOW, DAY = 1_900_000_000, 86_400
FERTILE = 0.87
SAID = (FindingKind.GROUP, FindingKind.PAIR, FindingKind.AMONG, FindingKind.TREND)
PEN, MACHINE, MONTH, SEASON = Grouping.PEN, Grouping.MACHINE, Grouping.MONTH, Grouping.SEASON


@dataclass(frozen=True)
class Pages:
    """Journals of a kind, and what is asked of them.

    Attributes:
        means: the true hatch of fertile of each pen.
        batches: of each pen; in a mixed journal each batch has eggs of two pens, which share its luck.
        rho: the spread from batch to batch, in fertility and in hatch.
        most: of pages that differ, whether most are promised to say so.
    """

    name: str
    groupings: tuple[Grouping, ...]
    means: tuple[float, ...]
    batches: int
    seasons: int
    rho: float
    mixed: bool = False
    most: bool = False

    def draw(self, rng: np.random.Generator) -> list[ComparedBatch]:
        """The finished batches of one journal."""
        number = len(self.means) * self.batches
        return [self._batch(rng, at, at * self.seasons // number) for at in range(number)]

    def _batch(self, rng: np.random.Generator, at: int, season: int) -> ComparedBatch:
        pens = [at % len(self.means)]
        if self.mixed:
            pens.append((at + 1 + at // len(self.means)) % len(self.means))
        month = int(rng.integers(5))
        eggs = int(rng.integers(SMALLEST, LARGEST + 1))
        fertile, luck = _scattered(rng, FERTILE, self.rho), rng.random()
        parts = []
        for place, pen in enumerate(pens):
            own = eggs // len(pens) + (place < eggs % len(pens))
            parts += _parts(rng, f"pen{pen}", own, fertile, _at(luck, self.means[pen], self.rho))
        return ComparedBatch(
            uid=f"b{at}",
            label=f"{at:03}",
            name="",
            set_at=NOW - (1000 - at) * DAY,
            eggs_set=eggs,
            counts_only=False,
            keys={
                SEASON: str(2020 + season),
                MONTH: str(2 + month),
                Grouping.BREED: None,
                MACHINE: f"machine{rng.integers(2)}",
                Grouping.SPECIES: "hen",
                Grouping.PROGRAMME: None,
                Grouping.SOURCE: "own",
            },
            kinds=frozenset(RateKind),
            tally=summed((part.tally, part.eggs) for part in parts),
            parts=tuple(parts),
        )


def _scattered(rng: np.random.Generator, mean: float, rho: float) -> float:
    return float(rng.beta(mean * (1 / rho - 1), (1 - mean) * (1 / rho - 1)))


def _at(luck: float, mean: float, rho: float) -> float:
    """The true share of a batch by its luck, which all its eggs share, from whichever pen they are."""
    from scipy.special import betaincinv

    return float(betaincinv(mean * (1 / rho - 1), (1 - mean) * (1 / rho - 1), luck))


def _parts(
    rng: np.random.Generator, pen: str, eggs: int, fertile: float, hatching: float
) -> list[ComparedPart]:
    """The eggs of a pen in a batch: clear, hatched, dead late."""
    laid = int(rng.binomial(eggs, fertile))
    out = int(rng.binomial(laid, hatching))
    alike = (
        (eggs - laid, _tally()),
        (out, _tally(fertile=1, out=1)),
        (laid - out, _tally(fertile=1, late=1)),
    )
    return [ComparedPart(pen, None, None, tally, many) for many, tally in alike if many]


def _tally(*, fertile: int = 0, out: int = 0, late: int = 0) -> Tally:
    dead = dict.fromkeys(RateKind, (0, fertile))
    return tuple(
        {
            **dead,
            RateKind.FERTILITY: (fertile, 1),
            RateKind.HATCH_OF_FERTILE: (out, fertile),
            RateKind.HATCH_OF_SET: (out, 1),
            RateKind.LATE_DEAD: (late, fertile),
        }[kind]
        for kind in RateKind
    )


ALIKE = (
    Pages("pens, seasons, 24 batches, spread 0.05", (PEN, SEASON), (0.75,) * 3, 8, 5, 0.05),
    Pages("pens, machines, 32 batches, spread 0.1", (PEN, MACHINE), (0.75,) * 4, 8, 4, 0.1),
    Pages("months, machines, 16 batches, spread 0.1", (MONTH, MACHINE), (0.75,) * 2, 8, 4, 0.1),
    Pages("2 pens a batch, 24 batches, spread 0.1", (PEN, SEASON), (0.75,) * 3, 8, 5, 0.1, mixed=True),
)
APART = (
    Pages("2 pens alone, spread 0.03", (PEN,), (0.65, 0.85), 8, 4, 0.03, most=True),
    Pages("2 pens alone, spread 0.05", (PEN,), (0.65, 0.85), 8, 4, 0.05),
    Pages("2 pens and seasons, spread 0.03", (PEN, SEASON), (0.65, 0.85), 8, 4, 0.03),
    Pages("2 pens and seasons, spread 0.05", (PEN, SEASON), (0.65, 0.85), 8, 4, 0.05),
    Pages("1 pen of 3 and seasons, spread 0.05", (PEN, SEASON), (0.65, 0.85, 0.85), 8, 4, 0.05, most=True),
)
"""A difference of 20 points over 8 batches of each pen. With a spread of 0.05 two pens are 3 standard errors apart:
at 1 in 100 a test that knew the spread would find that in two of three, and one that has to find it from these 16
batches in about half; looking at the seasons as well costs a tenth of that."""


def plain_says(batches: Sequence[ComparedBatch], question: Question) -> bool:
    """Whether a chi-square of all eggs says more than chance of one of the groupings."""
    for grouping in question.groupings:
        parts: dict[str, list[tuple[Tally, int]]] = {}
        for batch in batches:
            for (key,), (_eggs, tally) in batch.split((grouping,)).items():
                parts.setdefault(key or "", []).append((tally, 1))
        counted = [counts(summed(own), question.outcome) for own in parts.values()]
        if chi_square([one[0] for one in counted], [one[1] for one in counted]).p < LEVEL:
            return True
    return False


def marks_any(figures: ComparisonFigures) -> bool:
    """Whether a group is marked in any of the three columns of the table."""
    return any(
        rate.standing in (Standing.LOWER, Standing.HIGHER)
        for section in figures.sections
        for row in section.rows
        for rate in row.rates.values()
    )


def play(journal: Journal, kind: Pages, pages: int, seed: int) -> Counter[str]:
    """Of 100 pages: how many say more than chance, first of pens, mark a group, and what a chi-square says."""
    rng, seen = np.random.default_rng(seed), Counter[str]()
    question = Question("hen", groupings=kind.groupings)
    for _ in range(pages):
        batches = kind.draw(rng)
        figures = compare(journal, batches, question, NOW)
        said = [finding for finding in figures.findings if finding.kind in SAID]
        seen["said"] += bool(said)
        seen["of pens"] += bool(said) and said[0].grouping is PEN
        seen["marked"] += marks_any(figures)
        seen["plain"] += plain_says(batches, question)
    return Counter({what: 100 * count / pages for what, count in seen.items()})  # type: ignore[misc]


def run() -> list[Result]:
    """False alarms, and what is found."""
    with (
        tempfile.TemporaryDirectory() as folder,
        Journal.create(Path(folder) / "names.hatchbook", time_zone="Europe/Lisbon") as journal,
    ):
        for number in range(4):
            journal.pens.add(Pen(f"Pen {number}", species="hen", uid=f"pen{number}"))
            journal.machines.add(Machine(f"Machine {number}", 6, 7, uid=f"machine{number}"))
        alike = [play(journal, kind, PAGES, 10 + seed) for seed, kind in enumerate(ALIKE)]
        apart = [play(journal, kind, PAGES_THAT_DIFFER, 50 + seed) for seed, kind in enumerate(APART)]
    results = [
        Result(f"of 100, ours / plain: {kind.name}", seen["said"], seen["plain"])
        for kind, seen in zip(ALIKE, alike, strict=True)
    ]
    said, marked = (float(np.mean([seen[what] for seen in alike])) for what in ("said", "marked"))
    results += [
        Result("of 100 alike, the story says more than chance", said, 1.0, 1.0),
        Result("of 100 alike, any of three columns marks a group", marked, 3.0, 1.0),
    ]
    for kind, seen in zip(APART, apart, strict=True):
        missed = 100 - seen["of pens"]
        results.append(Result(f"of 100 missed: {kind.name}", missed, 50.0, 1.0 if kind.most else None))
        results.append(Result("of 100 missed by plain, which also cries wolf", 100 - seen["plain"], 50.0))
    return results
