"""Results as plain JSON values."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date
from typing import Any

import numpy as np
import pytest
from hatchbook.figures.plain import plain
from hatchbook.trade.codes import Fate


@dataclass(frozen=True)
class Inner:
    fate: Fate
    mean: float


@dataclass(frozen=True)
class Outer:
    inner: Inner
    values: np.ndarray
    on: date | None = None

    def as_dict(self) -> dict[str, Any]:
        return {"inner": self.inner, "mean": np.float64(self.values.mean())}


def test_values_become_what_json_knows() -> None:
    assert plain(Inner(Fate.ALIVE, math.nan)) == {"fate": "alive", "mean": None}
    assert plain([1, 1.5, True, None, "a", math.inf, -math.inf]) == [1, 1.5, True, None, "a", None, None]
    assert plain((np.int64(3), np.float64("nan"), np.bool_(True))) == [3, None, True]
    assert plain(np.array([[1.0, np.nan], [2.0, 3.0]])) == [[1.0, None], [2.0, 3.0]]
    assert plain({Fate.SET: 1, None: 2, date(2026, 5, 4): date(2026, 5, 5), 3: 4}) == {
        "set": 1,
        "": 2,
        "2026-05-04": "2026-05-05",
        "3": 4,
    }
    assert type(plain(Fate.SET)) is str


def test_a_form_of_its_own_is_taken() -> None:
    outer = Outer(Inner(Fate.CLEAR, 1.0), np.array([1.0, 3.0]))
    assert plain([outer]) == [{"inner": {"fate": "clear", "mean": 1.0}, "mean": 2.0}]


def test_what_has_no_plain_form_is_refused() -> None:
    with pytest.raises(TypeError, match="object has no plain form"):
        plain([object()])
