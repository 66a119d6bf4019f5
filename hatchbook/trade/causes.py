"""What a failed hatch shows, what may have caused it, and by what that is weighed: read from `resources/causes/`.

`signs.toml` has the published table: sign, causes, source. `evidence.toml` has, for each cause, the facts of the
journal that are asked, with the bounds from which on they speak for it or against it. Nobody has published such
bounds; they are a beginning, and stand in the file to be changed.
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TypeVar

from hatchbook.trade.cause_codes import CauseCode, CauseSign, FactCode, NotRecorded
from hatchbook.trade.entries import Entries
from hatchbook.trade.phases import ProgrammeError, ProgrammeFault
from hatchbook.trade.resources import resource_path
from hatchbook.trade.sources import SourceMark

_BOUNDS = ("above", "below", "at_least", "at_most")
_MOST_POINTS = 3
_Part = TypeVar("_Part")


@dataclass(frozen=True)
class CauseLink:
    """That a sign may come of some causes: what is said, by whom, and how good that is."""

    causes: tuple[CauseCode, ...]
    statement: str
    source: str
    mark: SourceMark


@dataclass(frozen=True)
class SignEntry:
    """A sign with its links; ``species``: the ones it is said of, empty for all."""

    code: CauseSign
    species: tuple[str, ...]
    links: tuple[CauseLink, ...]


@dataclass(frozen=True)
class Step:
    """From which value on a fact counts so many points; all bounds given must hold."""

    points: int
    above: float | None = None
    below: float | None = None
    at_least: float | None = None
    at_most: float | None = None

    def holds(self, value: float) -> bool:
        """Whether a value lies within the bounds."""
        return (
            (self.above is None or value > self.above)
            and (self.below is None or value < self.below)
            and (self.at_least is None or value >= self.at_least)
            and (self.at_most is None or value <= self.at_most)
        )


@dataclass(frozen=True)
class EvidenceRule:
    """What one fact says of a cause: the first step that holds counts.

    ``fewest``: so many eggs must show it to speak for the cause; ``fewest_of``: so many must have been looked at
    for their silence to speak against it. ``supports``: it speaks for the cause only where another fact does, since
    it would speak for others as well. Without any step it only tells what is not known.
    """

    fact: FactCode
    speaks_for: tuple[Step, ...]
    speaks_against: tuple[Step, ...]
    fewest: int
    fewest_of: int
    supports: bool
    source: str
    mark: SourceMark


@dataclass(frozen=True)
class CauseEntry:
    """A cause with its rules; it is not considered unless the fact it ``needs`` is above 0."""

    code: CauseCode
    rules: tuple[EvidenceRule, ...]
    not_recorded: tuple[NotRecorded, ...]
    needs: FactCode | None


@dataclass(frozen=True)
class Rank:
    """The least points for, the least net points and the fewest kinds of evidence for a strength."""

    points_for: int
    net: int
    kinds: int


@dataclass(frozen=True)
class CauseTable:
    """Signs and causes; ``ranks`` from the strongest down: strong, some, weak."""

    signs: tuple[SignEntry, ...]
    causes: tuple[CauseEntry, ...]
    ranks: tuple[Rank, Rank, Rank]

    def links_of(self, sign: CauseSign, cause: CauseCode, species: str) -> tuple[CauseLink, ...]:
        """What is said of a sign and a cause in a species."""
        return tuple(
            link
            for entry in self.signs
            if entry.code is sign and (not entry.species or species in entry.species)
            for link in entry.links
            if cause in link.causes
        )


@cache
def load_causes() -> CauseTable:
    """The table that the program knows.

    Raises:
        ProgrammeError: naming the file and the entry that is not right.
        ResourcesMissingError: when the program's own files are not there.
    """
    return read_causes(resource_path("causes", "signs.toml"), resource_path("causes", "evidence.toml"))


def read_causes(signs: Path, evidence: Path) -> CauseTable:
    """The table in two TOML files.

    Raises:
        ProgrammeError: naming the file and the entry that is not right.
    """
    entries = _read(signs, lambda inner: inner.each("signs", _read_sign))
    causes, ranks = _read(evidence, _read_evidence)
    _none_twice(signs, [entry.code for entry in entries])
    _none_twice(evidence, [cause.code for cause in causes])
    return CauseTable(entries, causes, ranks)


def _read(path: Path, read: Callable[[Entries], _Part]) -> _Part:
    try:
        try:
            entries = Entries(tomllib.loads(path.read_text(encoding="utf-8")))
        except ValueError as error:  # not TOML, or not UTF-8
            raise ProgrammeError(ProgrammeFault.UNREADABLE, "", f"This is not TOML: {error}.") from error
        found = read(entries)
        entries.done()
        return found
    except ProgrammeError as error:
        raise error.within(file=path.name) from error.__cause__


def _none_twice(path: Path, codes: list[CauseSign] | list[CauseCode]) -> None:
    for code in codes:
        if codes.count(code) > 1:  # type: ignore[arg-type]
            raise ProgrammeError(ProgrammeFault.GIVEN_TWICE, code.value, "It stands here twice.", path.name)


def _read_sign(entries: Entries) -> SignEntry:
    code = entries.code("code", CauseSign)
    species = entries.value("species") if entries.has("species") else []
    if not isinstance(species, list) or not all(isinstance(one, str) for one in species):
        raise ProgrammeError(ProgrammeFault.WRONG_KIND, "species", "A list of species belongs here.")
    links = entries.each("links", _read_link)
    entries.done()
    if not links:
        raise ProgrammeError(ProgrammeFault.MISSING, "links", "A sign without causes says nothing.")
    return SignEntry(code, tuple(species), links)


def _read_link(entries: Entries) -> CauseLink:
    source, mark = _read_mark(entries)
    link = CauseLink(entries.codes("causes", CauseCode), entries.text("statement"), source, mark)
    entries.done()
    return link


def _read_mark(entries: Entries) -> tuple[str, SourceMark]:
    source = entries.text("source") if entries.has("source") else ""
    mark = entries.code("mark", SourceMark)
    if mark is SourceMark.PUBLISHED and not source:
        raise ProgrammeError(ProgrammeFault.NO_SOURCE, "source", "What is published has a source.")
    return source, mark


def _read_evidence(entries: Entries) -> tuple[tuple[CauseEntry, ...], tuple[Rank, Rank, Rank]]:
    ranks = Entries(entries.value("ranks"))
    try:
        strong, some, weak = (_read_rank(Entries(ranks.value(name))) for name in ("strong", "some", "weak"))
        ranks.done()
    except ProgrammeError as error:
        raise error.within("ranks") from None
    if not strong.net >= some.net >= weak.net:
        raise ProgrammeError(ProgrammeFault.NOT_ASCENDING, "ranks", "A stronger rank needs more points.")
    return entries.each("causes", _read_cause), (strong, some, weak)


def _read_rank(entries: Entries) -> Rank:
    rank = Rank(entries.whole("points_for"), entries.whole("net"), entries.whole("kinds"))
    entries.done()
    return rank


def _read_cause(entries: Entries) -> CauseEntry:
    cause = CauseEntry(
        code=entries.code("code", CauseCode),
        rules=entries.each("rules", _read_rule),
        not_recorded=entries.codes("not_recorded", NotRecorded) if entries.has("not_recorded") else (),
        needs=entries.code("needs", FactCode) if entries.has("needs") else None,
    )
    entries.done()
    return cause


def _read_rule(entries: Entries) -> EvidenceRule:
    source, mark = _read_mark(entries)
    rule = EvidenceRule(
        fact=entries.code("fact", FactCode),
        speaks_for=entries.each("for", _read_step),
        speaks_against=entries.each("against", _read_step),
        fewest=entries.whole("fewest") if entries.has("fewest") else 1,
        fewest_of=entries.whole("fewest_of") if entries.has("fewest_of") else 1,
        supports=entries.has("supports") and entries.value("supports") is True,
        source=source,
        mark=mark,
    )
    entries.done()
    return rule


def _read_step(entries: Entries) -> Step:
    bounds = {name: entries.number(name) for name in _BOUNDS if entries.has(name)}
    points = entries.whole("points")
    entries.done()
    if not bounds:
        raise ProgrammeError(ProgrammeFault.MISSING, "", "A step needs a bound.")
    if not 1 <= points <= _MOST_POINTS:
        sentence = f"A step counts 1 to {_MOST_POINTS} points."
        raise ProgrammeError(ProgrammeFault.OUT_OF_RANGE, "points", sentence)
    return Step(points, **bounds)
