"""Bars of chicks along the hours of the hatch."""

from __future__ import annotations

import pytest
from hatchbook.desk.pages.hatch_bars import HatchBars, hatch_bins
from pytestqt.qtbot import QtBot


def test_every_chick_is_in_a_bar_and_there_are_few_of_them() -> None:
    days = [20.6, 20.7, 21.0, 21.0, 21.1, 21.4]
    bins = hatch_bins(days)
    assert sum(bins.counts) == len(days)
    assert len(bins.counts) <= 13
    assert bins.from_day <= min(days)
    assert bins.to_day >= max(days)
    assert bins.step_h == 2


def test_one_chick_is_one_bar() -> None:
    bins = hatch_bins([21.0])
    assert (bins.counts, bins.step_h, bins.from_day) == ((1,), 1, 21.0)


@pytest.mark.parametrize("spread", [0.1, 1.0, 3.0, 9.0, 40.0])
def test_a_longer_hatch_has_longer_bars_rather_than_more(spread: float) -> None:
    bins = hatch_bins([20.0, 20.0 + spread])
    assert len(bins.counts) <= 13
    assert sum(bins.counts) == 2


def test_the_bars_stay_in_their_place(qtbot: QtBot) -> None:
    bars = HatchBars()
    qtbot.addWidget(bars)
    bars.show_chicks([20.5, 20.9, 21.0, 21.0, 21.2])
    bars.resize(bars.sizeHint())
    empty = HatchBars()
    qtbot.addWidget(empty)
    empty.resize(bars.size())
    assert bars.grab().toImage() != empty.grab().toImage()
