"""A table of past seasons on its way into the journal: planned, and brought in as one step."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

from hatchbook.exchange.past_seasons.fields import PastField
from hatchbook.exchange.past_seasons.grid import bare_words
from hatchbook.exchange.past_seasons.labels import FreeLabels
from hatchbook.exchange.past_seasons.lines import PastRow
from hatchbook.exchange.past_seasons.reading import PastSeasonsTable
from hatchbook.exchange.past_seasons.refusals import PastReason, RefusedLine, Why
from hatchbook.figures.past_batches import COUNTS
from hatchbook.journal import Change, Journal, Machine, PastBatch, Pen


@dataclass(frozen=True)
class NewLabel:
    """A batch that gets another label than the file's ("": the file gives none): its line, before and after."""

    number: int
    before: str
    after: str


@dataclass(frozen=True)
class SeasonShare:
    """What of a table is of one season; ``hatched`` is None where no batch of it counted them."""

    season: int
    batches: int
    eggs_set: int
    hatched: int | None

    @classmethod
    def of(cls, season: int, batches: Iterable[PastBatch]) -> SeasonShare:
        """The share of the batches of a season."""
        own = [batch for batch in batches if batch.season == season]
        hatched = [batch.hatched for batch in own if batch.hatched is not None]
        return cls(season, len(own), sum(batch.eggs_set for batch in own), sum(hatched) if hatched else None)


@dataclass(frozen=True)
class PastPlan:
    """What an import would do.

    Attributes:
        batches: what comes in, with labels, pens and machines.
        already: numbers of the lines that the journal has already, to the last count.
        refused: every line that stays out with its reason, those that cannot be read and those that the journal
            or another line contradicts.
        taken: how many of them are refused for their label alone, and would come in with new ones.
        pens, machines: new ones, by the names in the file.
        labels: the labels that are given.
        seasons: what comes in of each season, the latest first.
    """

    batches: tuple[PastBatch, ...]
    already: tuple[int, ...]
    refused: tuple[RefusedLine, ...]
    taken: int
    pens: tuple[Pen, ...]
    machines: tuple[Machine, ...]
    labels: tuple[NewLabel, ...]
    seasons: tuple[SeasonShare, ...]


def plan_past_import(journal: Journal, table: PastSeasonsTable, *, new_labels: bool = False) -> PastPlan:
    """What bringing in a table would do; nothing is changed.

    Args:
        journal: where it would go.
        table: what was read.
        new_labels: whether batches whose label another has get a new one; else they are refused.
    """
    return _Planning(journal, table, new_labels).plan()


def import_past_batches(
    journal: Journal,
    table: PastSeasonsTable,
    *,
    new_labels: bool = False,
    progress: Callable[[float], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> Change:
    """Brings in a table as one step, with the pens and machines that it names.

    Args:
        journal: where it goes, open for writing.
        table: what was read.
        new_labels: as for the plan.
        progress: told the share done, 0 to 1.
        cancelled: asked between portions.

    Raises:
        ImportCancelledError: ``cancelled`` said so; nothing is stored.
        JournalError: as it says; nothing is stored.
    """
    plan = plan_past_import(journal, table, new_labels=new_labels)
    return journal.past_batches.bring_in(
        plan.batches,
        file=table.path.name,
        pens=plan.pens,
        machines=plan.machines,
        progress=progress,
        cancelled=cancelled,
    )


#: What makes two batches the same, beside their label.
_CONTENT = (
    *("season", "species", "name", "set_on", "breed", "pen", "machine", "programme_code", "source", "note"),
    *COUNTS,
)


def _content(batch: PastBatch) -> tuple[object, ...]:
    return tuple(getattr(batch, field) for field in _CONTENT)


class _Planning:
    """Goes through the batches of a table once; what they make goes to the journal's names and labels."""

    def __init__(self, journal: Journal, table: PastSeasonsTable, new_labels: bool) -> None:
        self._table = table
        self._new_labels = new_labels
        self._pens = _Places({pen.name: pen.uid for pen in journal.pens.all()})
        self._pens.add_short({pen.letter: pen.uid for pen in journal.pens.all() if pen.letter})
        self._machines = _Places({machine.name: machine.uid for machine in journal.machines.all()})
        past = journal.past_batches.all()
        self._there = {batch.label: _content(batch) for batch in past}
        self._kept = {line.label for line in journal.batches.lines()}
        self._unlabelled = Counter(map(_content, past))
        labels = (row.batch.label for row in table.rows)
        self._free = FreeLabels({*self._there, *self._kept, *labels})
        self._lines: dict[str, tuple[int, tuple[object, ...]]] = {}
        self._batches: list[PastBatch] = []
        self._already: list[int] = []
        self._refused: list[RefusedLine] = list(table.refused)
        self._taken = 0
        self._labels: list[NewLabel] = []

    def plan(self) -> PastPlan:
        """What would be done."""
        rows = [(row, self._placed(row)) for row in self._table.rows]
        # Labels that the file gives are settled before others are made up.
        for row, batch in rows:
            if batch.label:
                self._take_labelled(row, batch)
        for row, batch in sorted(rows, key=lambda one: (one[1].season, one[1].set_on or "")):
            if not batch.label:
                self._take_unlabelled(row, batch)
        pens, machines = self._places_of(self._batches)
        return PastPlan(
            batches=tuple(self._batches),
            already=tuple(sorted(self._already)),
            refused=tuple(sorted(self._refused, key=lambda line: line.number)),
            taken=self._taken,
            pens=pens,
            machines=machines,
            labels=tuple(sorted(self._labels, key=lambda one: one.number)),
            seasons=tuple(
                SeasonShare.of(season, self._batches)
                for season in sorted({batch.season for batch in self._batches}, reverse=True)
            ),
        )

    def _placed(self, row: PastRow) -> PastBatch:
        return replace(row.batch, pen=self._pens.uid_of(row.pen), machine=self._machines.uid_of(row.machine))

    def _take_labelled(self, row: PastRow, batch: PastBatch) -> None:
        label, content = batch.label, _content(batch)
        if self._there.get(label) == content:
            self._already.append(row.number)
            return
        earlier = self._lines.get(label)
        if earlier is not None and earlier[1] == content:
            self._refuse(row, Why(PastReason.SAID_AGAIN, label, count=earlier[0], field=PastField.LABEL))
            return
        if earlier is None:
            self._lines[label] = (row.number, content)
        if earlier is None and label not in self._there and label not in self._kept:
            self._batches.append(batch)
            return
        self._taken += 1
        if self._new_labels:
            if self._came_in_before(content):
                self._already.append(row.number)
            else:
                self._add(row, batch, self._free.like(label, batch.season))
        elif earlier is not None:
            self._refuse(row, Why(PastReason.LABEL_TWICE, label, count=earlier[0], field=PastField.LABEL))
        else:
            self._refuse(row, Why(PastReason.LABEL_TAKEN, label, field=PastField.LABEL))

    def _take_unlabelled(self, row: PastRow, batch: PastBatch) -> None:
        if self._came_in_before(_content(batch)):
            self._already.append(row.number)
        else:
            self._add(row, batch, self._free.next_of(batch.season))

    def _came_in_before(self, content: tuple[object, ...]) -> bool:
        """Whether the journal has a batch like this, by whatever label; each stands for one line."""
        if not self._unlabelled[content]:
            return False
        self._unlabelled[content] -= 1
        return True

    def _add(self, row: PastRow, batch: PastBatch, label: str) -> None:
        self._labels.append(NewLabel(row.number, batch.label, label))
        self._batches.append(replace(batch, label=label))

    def _refuse(self, row: PastRow, why: Why) -> None:
        column = self._table.columns.index(PastField.LABEL)
        self._refused.append(RefusedLine(row.number, row.text, why, column))

    def _places_of(self, batches: Sequence[PastBatch]) -> tuple[tuple[Pen, ...], tuple[Machine, ...]]:
        """The pens and machines that batches which come in need and the journal has not."""
        pens, machines = [], []
        for uid, name in self._pens.made.items():
            of_pen = [batch for batch in batches if batch.pen == uid]
            if of_pen:
                species, breed = _common(batch.species for batch in of_pen), _common(b.breed for b in of_pen)
                pens.append(Pen(name, species=species, breed=breed, uid=uid))
        for uid, name in self._machines.made.items():
            most = max((batch.eggs_set for batch in batches if batch.machine == uid), default=0)
            if most:
                rows = max(1, math.isqrt(most))
                machines.append(Machine(name, rows, math.ceil(most / rows), uid=uid))
        return tuple(pens), tuple(machines)


def _common(values: Iterable[str]) -> str:
    """What all of them are, or nothing."""
    found = {*values}
    return found.pop() if len(found) == 1 else ""


class _Places:
    """Pens or machines by the names in a file, whatever their capitals; what is not known gets a uid."""

    def __init__(self, known: dict[str, str]) -> None:
        self._uids = {bare_words(name): uid for name, uid in known.items()}
        self.made: dict[str, str] = {}

    def add_short(self, letters: dict[str, str]) -> None:
        """Other names for them; where two have the same it means neither."""
        counted = Counter(map(bare_words, letters))
        for letter, uid in letters.items():
            if counted[bare_words(letter)] == 1:
                self._uids.setdefault(bare_words(letter), uid)

    def uid_of(self, name: str) -> str | None:
        """The uid for a name; None for an empty one."""
        if not name:
            return None
        bare = bare_words(name) or name
        if bare not in self._uids:
            made = Pen(name).uid
            self._uids[bare] = made
            self.made[made] = name
        return self._uids[bare]
