"""A list of eggs as it is written on paper: numbers, places, and ranges of them, like "3, 7, C2, 10–14"."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from hatchbook.journal import Egg

_SEPARATORS = re.compile(r"[,;\n]")
_DASHES = re.compile(r"\s*[-‐‑‒–—−]\s*")
_ITEM = re.compile(r"#?(?P<number>\d+)|(?P<row>[A-Za-z]{1,2})\s*(?P<column>\d+)")
_ON_TRAY = re.compile(r"(?P<tray>\d+)\s*(?P<row>[A-Za-z]{1,2})\s*(?P<column>\d+)")


class EggListFault(StrEnum):
    """What is wrong with a typed list of eggs."""

    NOTHING = "nothing"
    NOT_AN_EGG = "not_an_egg"
    NO_SUCH_NUMBER = "no_such_number"
    NO_EGG_THERE = "no_egg_there"
    WHICH_TRAY = "which_tray"
    BACKWARDS = "backwards"
    NO_RANGE = "no_range"


class EggListError(ValueError):
    """A typed list that names no eggs; ``str(error)`` is a plain sentence.

    ``text``: the part of the list that is wrong. ``first`` and ``last``: the numbers that there are.
    """

    def __init__(
        self, fault: EggListFault, sentence: str, text: str = "", first: int = 0, last: int = 0
    ) -> None:
        super().__init__(sentence)
        self.fault = fault
        self.text = text
        self.first, self.last = first, last


@dataclass(frozen=True)
class _Item:
    """A number, or a place (tray, row, column); the tray is None where it was not written."""

    text: str
    number: int | None = None
    place: tuple[int | None, int, int] | None = None


class EggList:
    """Reads lists of the eggs of one batch.

    Args:
        eggs: the eggs of the batch.
    """

    def __init__(self, eggs: Iterable[Egg]) -> None:
        self._eggs = sorted(eggs, key=lambda egg: egg.number)
        self._numbers = {egg.number: egg for egg in self._eggs}
        self._places = {egg.place: egg for egg in self._eggs if egg.place is not None}
        self._trays = {tray for tray, _, _ in self._places}

    def read(self, text: str) -> tuple[str, ...]:
        """The uids of the eggs that a list names, each once, in its order.

        Raises:
            EggListError: it names none, or what is no egg of this batch.
        """
        found: list[str] = []
        for part in _SEPARATORS.split(text):
            if part.strip():
                found += self._part(part.strip())
        if not found:
            raise EggListError(EggListFault.NOTHING, "There is no egg in this list.")
        return tuple(dict.fromkeys(found))

    def _part(self, part: str) -> list[str]:
        ends = _DASHES.split(part)
        if len(ends) == 2 and all(ends):
            return self._range(part, ends[0], ends[1])
        if len(ends) > 1:
            raise _not_an_egg(part)
        return [self._egg(item).uid for item in self._items(part)]

    def _items(self, part: str) -> list[_Item]:
        """The numbers and places of a part without commas: "3 7 C2"; on several trays "2 C 2" is one place."""
        if len(self._trays) > 1 and (match := _ON_TRAY.fullmatch(part)):
            return [_place(part, match, int(match["tray"]))]
        items: list[_Item] = []
        at = 0
        for match in _ITEM.finditer(part):
            if part[at : match.start()].strip():
                raise _not_an_egg(part)
            at = match.end()
            number = match["number"]
            items.append(_Item(number, int(number)) if number else _place(match[0], match, None))
        if not items or part[at:].strip():
            raise _not_an_egg(part)
        return items

    def _range(self, part: str, low: str, high: str) -> list[str]:
        first, last = self._single(part, low), self._single(part, high)
        if first.number is not None and last.number is not None:
            self._egg(first)
            self._egg(last)
            between = range(first.number, last.number + 1)
            found = [egg.uid for egg in self._eggs if egg.number in between]
        else:
            found = self._along_row(part, first, last)
        if not found:
            raise EggListError(EggListFault.BACKWARDS, f"“{part}” runs backwards.", part)
        return found

    def _single(self, part: str, end: str) -> _Item:
        items = self._items(end)
        if len(items) != 1:
            raise _not_an_egg(part)
        return items[0]

    def _along_row(self, part: str, first: _Item, last: _Item) -> list[str]:
        """C2–C5 or C2–5: the eggs between two places of a row."""
        if first.place is None or (last.place is not None and last.place[:2] != first.place[:2]):
            raise EggListError(
                EggListFault.NO_RANGE,
                f"“{part}”: a range goes from number to number, or along one row.",
                part,
            )
        start = self._egg(first).place
        until = last.number if last.place is None else last.place[2]
        assert start is not None
        assert until is not None
        tray, row, column = start
        self._egg(_Item(re.sub(r"\d+$", str(until), first.text), place=(tray, row, until)))
        places = [(tray, row, at) for at in range(column, until + 1)]
        return [self._places[place].uid for place in places if place in self._places]

    def _egg(self, item: _Item) -> Egg:
        if item.number is not None:
            egg = self._numbers.get(item.number)
            if egg is None:
                raise self._no_such_number(item.text)
            return egg
        assert item.place is not None
        tray, row, column = item.place
        if tray is None:
            if len(self._trays) > 1:
                sentence = f"“{item.text}”: on which tray? Write its number before it."
                raise EggListError(EggListFault.WHICH_TRAY, sentence, item.text)
            tray = next(iter(self._trays), 1)
        egg = self._places.get((tray, row, column))
        if egg is None:
            sentence = f"No egg of this batch lies in {item.text}."
            raise EggListError(EggListFault.NO_EGG_THERE, sentence, item.text)
        return egg

    def _no_such_number(self, text: str) -> EggListError:
        first, last = (self._eggs[0].number, self._eggs[-1].number) if self._eggs else (0, 0)
        sentence = f"There is no egg {text}: the numbers go from {first} to {last}."
        return EggListError(EggListFault.NO_SUCH_NUMBER, sentence, text, first, last)


def _place(text: str, match: re.Match[str], tray: int | None) -> _Item:
    row = 0
    for letter in match["row"].upper():
        row = row * 26 + ord(letter) - ord("A") + 1
    return _Item(text, place=(tray, row, int(match["column"])))


def _not_an_egg(part: str) -> EggListError:
    sentence = f"“{part}” is neither the number nor the place of an egg."
    return EggListError(EggListFault.NOT_AN_EGG, sentence, part)
