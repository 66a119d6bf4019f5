"""The Seasons page in a journal of 40 seasons with 1,000 batches and 40,000 eggs, against one pass over the eggs.

The pass reads every column of every egg by sqlite3 alone. The page's figures are everything it shows: what became
of each egg, the table, the findings, every batch with its limits. In the window the batch list has derived what
became of the eggs before, and keeps it; without that it takes longer, which is told beside it.
"""

from __future__ import annotations

import random
import sqlite3
import tempfile
from collections.abc import Callable, Sequence
from contextlib import closing
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from hatchbook.figures import overview
from hatchbook.figures.comparison import compare, compare_batches
from hatchbook.figures.comparison_results import Question
from hatchbook.figures.comparison_rows import Grouping, compared_batches
from hatchbook.journal import Journal, Machine, Pen, PenMember
from result import Result, best_of, seconds

DAY = 86_400
NOW = 1_777_917_600
SEASONS, BATCHES, EGGS = 40, 1000, 40
ROUNDS = 5
LIMIT = 20.0
PEN_NAMES = ("Orchard", "Brook", "Lower yard", "Barn")
DAMS = 6
COLUMNS = {
    "batch": "uid, label, species, machine, set_at, incubation_days, programme, early_until_day, mid_until_day, "
    "weigh_plan, source, closed_at, breed",
    "candling": "uid, batch, at",
    "egg": "uid, batch, number, pen, dam, laid_on, set_mass_g",
    "finding": "uid, candling, egg, at, code",
    "hatching": "uid, egg, at, mark",
    "break_out": "uid, egg, at, result, dead_day",
}


@dataclass
class Rows:
    """Rows to insert, by table."""

    by_table: dict[str, list[tuple[Any, ...]]] = field(default_factory=lambda: {name: [] for name in COLUMNS})

    def add(self, table: str, *values: Any) -> None:
        """Another row."""
        self.by_table[table].append(values)


def add_egg(
    rows: Rows, rng: random.Random, batch: str, set_at: int, number: int, chances: Sequence[float]
) -> None:
    """An egg's end, seen at instants of its own, as it is in life."""
    egg, fertile, hatches = f"{batch}e{number}", chances[0], chances[1]

    def find(candling: int, day: int, code: str) -> None:
        rows.add(
            "finding", f"{egg}f{candling}", f"{batch}c{candling}", egg, set_at + day * DAY + number * 7, code
        )

    if rng.random() > fertile:
        find(0, 7, "clear")
        rows.add("break_out", f"{egg}b", egg, set_at + 8 * DAY + number, "infertile", None)
    elif rng.random() < hatches:
        for candling, day in enumerate((7, 14, 18)):
            find(candling, day, "alive")
        rows.add("hatching", f"{egg}h", egg, set_at + 20 * DAY + number * 900, "hatched")
    elif rng.random() < 0.4:
        find(0, 7, "early_dead")
    else:
        for candling, day in enumerate((7, 14, 18)):
            find(candling, day, "alive")
        rows.add("break_out", f"{egg}b", egg, set_at + 22 * DAY + number, "late_dead", None)


def large_journal(path: Path) -> None:
    """40 seasons of hens from four pens with their dams, in two machines."""
    rng = random.Random(7)
    with Journal.create(path, time_zone="Europe/Lisbon") as journal:
        machines = [Machine("Blue one", 6, 7), Machine("Green one", 6, 7)]
        for machine in machines:
            journal.machines.add(machine)
        pens = [Pen(name, species="hen", breed="Marl Speckle") for name in PEN_NAMES]
        dams: dict[str, list[PenMember]] = {}
        for pen in pens:
            journal.pens.add(pen)
            dams[pen.uid] = [PenMember(pen.uid, f"{pen.name} {at}", "female") for at in range(DAMS)]
            for dam in dams[pen.uid]:
                journal.pens.add_member(dam)
        rows = Rows()
        between = round(SEASONS * 365.25 * DAY / BATCHES)
        for number in range(BATCHES):
            batch, set_at = f"b{number}", NOW - (BATCHES - number) * between
            machine = machines[rng.random() < 0.5]
            rows.add(
                "batch", batch, f"{number:04}", "hen", machine.uid, set_at, 21.0, '{"code": "hen"}', 7.0, 14.0,
                "none", "own", set_at + 23 * DAY, "Marl Speckle",
            )  # fmt: skip
            for candling, day in enumerate((7, 14, 18)):
                rows.add("candling", f"{batch}c{candling}", batch, set_at + day * DAY)
            chances = [min(0.97, max(0.4, rng.gauss(middle, 0.08))) for middle in (0.86, 0.78)]
            both = rng.sample(pens, 2)
            for egg in range(EGGS):
                pen = both[egg % 2]
                laid = datetime.fromtimestamp(set_at - rng.randint(0, 12) * DAY, UTC).date().isoformat()
                dam = rng.choice(dams[pen.uid])
                rows.add("egg", f"{batch}e{egg}", batch, egg + 1, pen.uid, dam.uid, laid, 60.0)
                add_egg(rows, rng, batch, set_at, egg, chances)
        store = journal._store
        with store.transaction():
            for table, values in rows.by_table.items():
                marks = ", ".join("?" * len(values[0]))
                store.write_many(f"INSERT INTO {table} ({COLUMNS[table]}) VALUES ({marks})", values)


def egg_pass(path: Path) -> float:
    """One pass over the eggs."""
    with closing(sqlite3.connect(path)) as connection:

        def read() -> None:
            assert len(connection.execute("SELECT * FROM egg").fetchall()) == BATCHES * EGGS

        return seconds(read)


def page(journal: Journal, question: Question) -> Callable[[], float]:
    """The figures of the page, whole."""

    def figured() -> None:
        figures = compare_batches(journal, question, NOW)
        assert figures.batches == BATCHES
        assert figures.points

    return lambda: seconds(figured)


def run() -> list[Result]:
    """The page after the batch list, without it, and another question about batches that were read."""
    usual = Question("hen")
    dams = Question("hen", groupings=(Grouping.DAM, Grouping.MACHINE))
    with tempfile.TemporaryDirectory() as name:
        path = Path(name) / "large.hatchbook"
        large_journal(path)
        with Journal.open(path, read_only=True) as journal:
            first = page(journal, usual)()
            overview(journal, NOW)
            reference, again, by_dam = best_of(
                ROUNDS, lambda: egg_pass(path), page(journal, usual), page(journal, dams)
            )
            batches = compared_batches(journal)
            (asked_anew,) = best_of(ROUNDS, lambda: seconds(lambda: compare(journal, batches, usual, NOW)))
    return [
        Result("Seasons page, 1,000 batches, 40,000 eggs / one pass over the eggs", again, reference, LIMIT),
        Result("the same by 24 dams and by machine", by_dam, reference, LIMIT),
        Result("the first time, what became of the eggs not yet derived", first, reference),
        Result("another question about the same batches", asked_anew, reference, LIMIT),
    ]
