"""Typed entries of a plain table, as TOML and JSON give them, with a clear error for each that is not right."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from enum import StrEnum
from typing import TypeVar

from hatchbook.trade.phases import ProgrammeError, ProgrammeFault

Code = TypeVar("Code", bound=StrEnum)
Part = TypeVar("Part")


class Entries:
    """Reads a table entry by entry; `done` at the end refuses what nobody asked for (a misspelt name).

    Raises (every method):
        ProgrammeError: naming the entry, when it is missing or of another kind than asked for.
    """

    def __init__(self, table: object) -> None:
        if not isinstance(table, Mapping) or not all(isinstance(name, str) for name in table):
            raise ProgrammeError(ProgrammeFault.WRONG_KIND, "", "A table with named entries belongs here.")
        self._table: dict[str, object] = dict(table)
        self._read: set[str] = set()

    def has(self, name: str) -> bool:
        """Whether the entry is there and not null."""
        self._read.add(name)
        return self._table.get(name) is not None

    def value(self, name: str) -> object:
        """The entry as it is."""
        if not self.has(name):
            raise ProgrammeError(ProgrammeFault.MISSING, name, "This entry is missing.")
        return self._table[name]

    def text(self, name: str, *, may_be_empty: bool = False) -> str:
        """A text."""
        value = self.value(name)
        if not isinstance(value, str):
            raise ProgrammeError(ProgrammeFault.WRONG_KIND, name, "A text belongs here.")
        if not value.strip() and not may_be_empty:
            raise ProgrammeError(ProgrammeFault.MISSING, name, "The text is empty.")
        return value

    def number(self, name: str) -> float:
        """A finite number."""
        return _number(name, self.value(name))

    def whole(self, name: str) -> int:
        """A whole number."""
        number = self.number(name)
        if number != int(number):
            raise ProgrammeError(ProgrammeFault.WRONG_KIND, name, f"{number:g} is not a whole number.")
        return int(number)

    def numbers(self, name: str, count: int | None = None) -> tuple[float, ...]:
        """A list of numbers, of this length where one is given."""
        numbers = tuple(_number(name, value) for value in self._list(name))
        if count is not None and len(numbers) != count:
            sentence = f"{count} numbers belong here, not {len(numbers)}."
            raise ProgrammeError(ProgrammeFault.WRONG_KIND, name, sentence)
        return numbers

    def code(self, name: str, kind: type[Code]) -> Code:
        """One of a closed set of codes."""
        return _code(name, self.text(name), kind)

    def codes(self, name: str, kind: type[Code]) -> tuple[Code, ...]:
        """A list of codes of a closed set, none of them twice."""
        found = tuple(_code(name, text, kind) for text in self._list(name))
        if len(set(found)) < len(found):
            raise ProgrammeError(ProgrammeFault.GIVEN_TWICE, name, "One of the codes stands here twice.")
        return found

    def each(self, name: str, read: Callable[[Entries], Part]) -> tuple[Part, ...]:
        """A list of tables, each read; empty when there is none. An error names the table it is in."""
        if not self.has(name):
            return ()
        parts = []
        for index, table in enumerate(self._list(name)):
            try:
                parts.append(read(Entries(table)))
            except ProgrammeError as error:
                raise error.within(f"{name}[{index}]") from None
        return tuple(parts)

    def done(self) -> None:
        """Refuse entries that were not asked for."""
        for name in self._table:
            if name not in self._read:
                known = ", ".join(sorted(self._read))
                sentence = f"There is no such entry; those known here are {known}."
                raise ProgrammeError(ProgrammeFault.UNKNOWN_ENTRY, name, sentence)

    def _list(self, name: str) -> list[object]:
        value = self.value(name)
        if not isinstance(value, list):
            raise ProgrammeError(ProgrammeFault.WRONG_KIND, name, "A list belongs here.")
        return value


def _code(name: str, value: object, kind: type[Code]) -> Code:
    try:
        return kind(str(value))
    except ValueError:
        known = ", ".join(kind)
        sentence = f'"{value}" is none of {known}.'
        raise ProgrammeError(ProgrammeFault.UNKNOWN_CODE, name, sentence) from None


def _number(name: str, value: object) -> float:
    # True and False are numbers to Python, but not to a breeder.
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise ProgrammeError(ProgrammeFault.WRONG_KIND, name, "A number belongs here.")
    try:
        number = float(value)
    except OverflowError:
        number = math.inf
    if not math.isfinite(number):
        raise ProgrammeError(ProgrammeFault.OUT_OF_RANGE, name, "The number is too large, or none at all.")
    return number
