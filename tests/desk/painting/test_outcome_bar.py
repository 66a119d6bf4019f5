"""The outcome bar."""

from __future__ import annotations

import itertools
from collections.abc import Callable
from functools import partial
from typing import Any

import numpy as np
import pytest
from hatchbook.desk.painting.outcome_bar import OUTCOME_ORDER, paint_outcome, piece_widths
from hatchbook.desk.theme.tokens import Scheme, load_scheme
from hatchbook.trade.codes import Fate
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter

Pixels = np.ndarray[Any, np.dtype[np.uint8]]
Columns = np.ndarray[Any, np.dtype[np.intp]]
Draw = Callable[[QPainter, QRectF], None]
Picture = Callable[..., Pixels]
Spilled = Callable[..., int]


LIGHT = load_scheme("light")


def bar(counts: dict[Fate, int], scheme: Scheme = LIGHT) -> Draw:
    return partial(paint_outcome, counts=counts, scheme=scheme)


def columns_of(pixels: Pixels, role: str) -> Columns:
    """The columns in which a role's colour appears in the middle row's neighbourhood."""
    colour = LIGHT.colour(role)
    match = (pixels[:, :, :3] == (colour.blue(), colour.green(), colour.red())).all(axis=2)
    return np.flatnonzero(match.any(axis=0))


def test_every_fate_has_its_place() -> None:
    assert sorted(OUTCOME_ORDER) == sorted(Fate)


def test_the_dead_stand_between_hatched_and_clear_the_latest_first() -> None:
    order = [
        Fate.HATCHED,
        Fate.HELPED,
        Fate.PIPPED_DEAD,
        Fate.LATE_DEAD,
        Fate.MID_DEAD,
        Fate.EARLY_DEAD,
        Fate.CRACKED,
    ]
    places = [OUTCOME_ORDER.index(fate) for fate in [*order, Fate.CLEAR]]
    assert places == sorted(places)


def test_pieces_follow_the_counts(picture: Picture) -> None:
    pixels = picture(bar({Fate.HATCHED: 50, Fate.LATE_DEAD: 25, Fate.MID_DEAD: 25}), 200, 10)
    assert [len(columns_of(pixels, role)) for role in ("live", "dead3", "dead2")] == pytest.approx(
        [100, 50, 50], abs=2
    )
    assert columns_of(pixels, "live").max() < columns_of(pixels, "dead3").min()
    assert columns_of(pixels, "dead3").max() < columns_of(pixels, "dead2").min()


def test_the_bar_fills_its_place_and_nothing_else(picture: Picture, spilled: Spilled) -> None:
    everything = dict.fromkeys(Fate, 3)
    for width, height in ((300, 12), (80, 7), (20, 5), (301, 10)):
        assert spilled(bar(everything), width, height) == 0
        touched = picture(bar(everything), width, height)[:, :, 3].any(axis=0)
        assert touched[0]
        assert touched[-2:].any()


def test_one_egg_among_hundreds_is_seen(picture: Picture) -> None:
    pixels = picture(bar({Fate.HATCHED: 900, Fate.PIPPED_DEAD: 1}), 200, 10)
    assert len(columns_of(pixels, "dead4")) >= 2


def test_no_eggs_leave_an_empty_frame(picture: Picture) -> None:
    pixels = picture(bar({}), 60, 10)
    assert pixels[0, :, 3].all()
    assert not pixels[5, 5:-5, 3].any()


def test_no_two_fates_look_alike(picture: Picture) -> None:
    seen = {fate: picture(bar({fate: 1}), 40, 12, LIGHT.page).astype(int) for fate in Fate}
    alike = [
        (a.value, b.value)
        for a, b in itertools.combinations(Fate, 2)
        if (abs(seen[a] - seen[b]).max(axis=2) > 20).mean() < 0.015
    ]
    assert alike == []


@given(
    st.lists(st.integers(0, 500), min_size=1, max_size=19),
    st.floats(5, 800),
)
def test_widths_fill_the_bar_and_keep_the_order_of_counts(counts: list[int], total: float) -> None:
    widths = piece_widths(total, counts)
    assert [bool(width) for width in widths] == [bool(count) for count in counts]
    if any(counts):
        assert sum(widths) == pytest.approx(total)
    present = [width for width in widths if width]
    if present and total > 3.0 * len(present):
        assert min(present) >= 3.0 - 1e-9
    for (count_a, width_a), (count_b, width_b) in itertools.combinations(zip(counts, widths, strict=True), 2):
        if count_a < count_b:
            assert width_a <= width_b + 1e-9
