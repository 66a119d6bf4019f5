"""Journals of batches known by their counts, for tests of what is compared."""

from __future__ import annotations

from typing import Any

from hatchbook.figures.comparison_results import ComparisonFigures, FindingKind, GroupRow, Question
from hatchbook.figures.comparison_rows import Grouping
from hatchbook.journal import PastBatch, Pen

BY_PEN = Question("hen", groupings=(Grouping.PEN,))
BY_PEN_AND_MACHINE = Question("hen", groupings=(Grouping.PEN, Grouping.MACHINE))


class Paper:
    """Writes batches known by their counts into a journal."""

    def __init__(self, hatchery: Any) -> None:
        self.journal = hatchery.journal
        self.machines = {"blue": hatchery.machine.uid, "green": hatchery.add_machine("Green one").uid}
        self.pens: dict[str, str] = {}
        self.count = 0

    def pen(self, name: str) -> str:
        if name not in self.pens:
            pen = Pen(name, species="hen")
            self.journal.pens.add(pen)
            self.pens[name] = pen.uid
        return self.pens[name]

    def add(
        self, pen: str, hatched: int, fertile: int = 27, eggs: int = 30, season: int = 2024, **fields: Any
    ) -> PastBatch:
        """A batch of which so many hatched; the other fertile eggs died late."""
        self.count += 1
        machine = fields.pop("machine", "blue" if self.count % 2 else "green")
        given = {
            "clear": eggs - fertile,
            "early_dead": 0,
            "mid_dead": 0,
            "late_dead": fertile - hatched,
            "pipped_dead": 0,
            "hatched": hatched,
            "species": "hen",
        }
        batch = PastBatch(
            f"p{self.count:03}",
            season,
            eggs_set=eggs,
            pen=self.pen(pen),
            machine=None if machine is None else self.machines[machine],
            **{**given, **fields},
        )
        self.journal.past_batches.add(batch)
        return batch

    def several(self, pen: str, hatched: list[int], **fields: Any) -> None:
        """One batch for each number."""
        for number in hatched:
            self.add(pen, number, **fields)


def kinds(figures: ComparisonFigures) -> list[FindingKind]:
    return [finding.kind for finding in figures.findings]


def row(figures: ComparisonFigures, grouping: Grouping, key: str | None) -> GroupRow:
    section = next(one for one in figures.sections if one.grouping is grouping)
    return next(one for one in section.rows if one.group is not None and one.group.key == key)


GOOD, ALIKE, BAD = [23, 22, 24, 21, 23, 22], [22, 23, 21, 24, 22, 23], [15, 16, 13, 17, 15, 14]


def three_pens(paper: Paper) -> None:
    """Two pens alike, and one that hatches far fewer; seasons and machines mixed evenly."""
    for pen, hatched in (("Orchard", GOOD), ("Yard", ALIKE), ("Brook", BAD)):
        for at, number in enumerate(hatched):
            paper.add(pen, number, season=2022 + at % 3, machine="blue" if at % 2 else "green")
