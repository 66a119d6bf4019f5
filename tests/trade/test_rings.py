"""Rings count on."""

from __future__ import annotations

import pytest
from hatchbook.trade.rings import next_ring, rings_from


@pytest.mark.parametrize(
    ("ring", "following"),
    [
        ("B17", "B18"),
        ("17", "18"),
        ("B09", "B10"),
        ("B099", "B100"),
        ("B99", "B100"),
        ("26-005", "26-006"),
        ("left inner toe", "left inner toe"),
        ("blue", "blue"),
        ("B17a", "B17a"),
        ("B²", "B²"),
        ("", ""),
    ],
)
def test_a_number_at_the_end_counts_on_and_keeps_its_zeros(ring: str, following: str) -> None:
    assert next_ring(ring) == following


def test_several_chicks_wear_rings_in_a_row() -> None:
    assert rings_from("B08", 4) == ["B08", "B09", "B10", "B11"]
    assert rings_from("blue", 2) == ["blue", "blue"]
    assert rings_from("B1", 0) == []
