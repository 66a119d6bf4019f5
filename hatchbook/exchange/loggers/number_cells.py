"""Numbers in cells: sign, decimals, and a unit written behind them."""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import IntEnum
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from hatchbook.exchange.loggers.cell_shapes import SPACE, Bytes, Rows, shape_groups, shape_of
from hatchbook.exchange.loggers.layout import DecimalSign

_EXACT_DIGITS = 15  # up to here whole number / power of ten is the correctly rounded value


class CellState(IntEnum):
    """What a value cell holds."""

    EMPTY = 0
    NUMBER = 1
    NO_NUMBER = 2


class CellUnit(IntEnum):
    """A unit written in the cell itself."""

    NONE = 0
    CELSIUS = 1
    FAHRENHEIT = 2
    PERCENT = 3


_MINUS = "\u2212".encode()
_SHAPE = re.compile(
    (
        rb"\s*(?P<sign>[+-]|"
        + _MINUS
        + rb")?(?P<whole>0*)(?:(?P<point>[.,])(?P<part>0*))?(?P<exponent>[eE][+-]?0+)?"
        rb"\s*(?P<unit>"
        + "°|º|deg".encode()
        + rb"(?:rees)?)?\s*(?P<letter>[CcFf]|"
        + "℃|℉|%".encode()
        + rb")?"
        rb"\s*(?P<tail>[rR]\.?\s?[hHfF]\.?)?\s*"
    ).replace(rb"\s", SPACE)
)
_LETTERS = {
    b"C": CellUnit.CELSIUS,
    b"c": CellUnit.CELSIUS,
    "℃".encode(): CellUnit.CELSIUS,
    b"F": CellUnit.FAHRENHEIT,
    b"f": CellUnit.FAHRENHEIT,
    "℉".encode(): CellUnit.FAHRENHEIT,
    b"%": CellUnit.PERCENT,
}


@dataclass(frozen=True, slots=True)
class NumberPlan:
    """Where the digits of a number of one shape stand."""

    whole: tuple[int, int]
    part: tuple[int, int]
    negative: bool
    point: bytes
    exponent: tuple[int, int]
    unit: CellUnit

    @property
    def exact(self) -> bool:
        """Whether the digits can be taken as one whole number."""
        digits = self.whole[1] - self.whole[0] + self.part[1] - self.part[0]
        return digits <= _EXACT_DIGITS and self.exponent[0] == self.exponent[1]


@lru_cache(maxsize=4096)
def number_plan(shape: bytes) -> NumberPlan | None:
    """What a shape says as a number with either decimal sign, or None."""
    match = _SHAPE.fullmatch(shape)
    if match is None or not (match["whole"] or match["part"]):
        return None
    letter = match["letter"]
    unit = _LETTERS[letter] if letter else CellUnit.NONE
    if match["tail"]:
        if unit not in (CellUnit.NONE, CellUnit.PERCENT) or match["unit"]:
            return None
        unit = CellUnit.PERCENT
    if match["unit"] and unit not in (CellUnit.CELSIUS, CellUnit.FAHRENHEIT):
        return None
    return NumberPlan(
        whole=match.span("whole"),
        part=match.span("part") if match["part"] else (0, 0),
        negative=match["sign"] in (b"-", _MINUS),
        point=match["point"] or b"",
        exponent=match.span("exponent") if match["exponent"] else (0, 0),
        unit=unit,
    )


def _slowly(cell: bytes, plan: NumberPlan) -> float:
    text = cell[plan.whole[0] : plan.whole[1]] + b"." + cell[plan.part[0] : plan.part[1]]
    text += cell[plan.exponent[0] : plan.exponent[1]]
    number = float(text.replace(b"E", b"e"))
    return -number if plan.negative else number


def read_number(text: str) -> tuple[float, NumberPlan] | None:
    """One cell on its own, whichever decimal sign it has."""
    cell = text.encode()
    plan = number_plan(shape_of(cell))
    return None if plan is None else (_slowly(cell, plan), plan)


@dataclass(frozen=True, slots=True)
class NumberColumn:
    """The cells of one column over the whole file: values (nan where there is none), states, units."""

    values: NDArray[np.float64]
    states: NDArray[np.uint8]
    units: NDArray[np.uint8]

    @classmethod
    def empty(cls, rows: int) -> NumberColumn:
        """A column in which nothing has been read yet."""
        return cls(np.full(rows, np.nan), np.zeros(rows, dtype=np.uint8), np.zeros(rows, dtype=np.uint8))

    def block(self, start: int, stop: int) -> NumberColumn:
        """The rows from start to stop, sharing memory."""
        return NumberColumn(self.values[start:stop], self.states[start:stop], self.units[start:stop])

    def read(
        self,
        buffer: Bytes,
        start: Rows,
        end: Rows,
        decimal: DecimalSign,
        allowed: tuple[CellUnit, ...] = (CellUnit.NONE,),
    ) -> None:
        """Fills the column from cells; a number with a unit that is not allowed counts as no number."""
        wrong_point = b"," if decimal is DecimalSign.POINT else b"."
        self.states[:] = np.where(end > start, CellState.NO_NUMBER, CellState.EMPTY)
        for group in shape_groups(buffer, start, end):
            if not group.shape.strip():
                self.states[group.rows] = CellState.EMPTY
                continue
            plan = number_plan(group.shape)
            if plan is None or plan.point == wrong_point or plan.unit not in allowed:
                continue
            if plan.exact:
                number = group.digits(*plan.whole)
                for position in range(*plan.part):
                    number = number * 10 + (group.letters[position] - 48)
                value = number / float(10 ** (plan.part[1] - plan.part[0]))
                self.values[group.rows] = -value if plan.negative else value
            else:
                self.values[group.rows] = [_slowly(cell, plan) for cell in group.texts()]
            self.states[group.rows] = CellState.NUMBER
            if plan.unit is not CellUnit.NONE:
                self.units[group.rows] = plan.unit
        # An exponent can run out of what a float holds.
        endless = np.isinf(self.values)
        if endless.any():
            self.values[endless] = np.nan
            self.states[endless] = CellState.NO_NUMBER
