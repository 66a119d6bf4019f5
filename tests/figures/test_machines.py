"""A machine's batches as its page shows them."""

from __future__ import annotations

import numpy as np
from hatchbook.figures.machines import machine_figures
from tests.figures.conftest import DAY, SET_AT, Hatchery


def test_nine_of_ten_readings_of_each_phase_are_told(hatchery: Hatchery) -> None:
    """A hundred readings from 40 to 49.9 %; below 5 % of them lie 40.5 %, above 5 % 49.4 % (linear quantiles)."""
    hatchery.add_batch()
    at = np.arange(SET_AT, SET_AT + 100 * 3600, 3600)
    hatchery.log(at, 40 + np.arange(100) / 10, 37.5)
    (batch,) = machine_figures(hatchery.journal, hatchery.machine.uid, SET_AT + 5 * DAY).batches
    assert len(batch.phases) == len(batch.most_readings) == 2
    most, later = batch.most_readings
    assert most is not None
    assert np.allclose(most, (40.495, 49.405))
    assert later is None, "lockdown lies ahead"
