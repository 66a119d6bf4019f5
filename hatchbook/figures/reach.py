"""The humidity that a machine has ever held: between its driest and its moistest day with eggs in it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hatchbook.figures.corrections import probe_corrections
from hatchbook.journal import Journal
from hatchbook.statistics.trace import FloatArray, IntArray
from hatchbook.trade.instants import DAY_S

NEWEST_STRETCHES = 24
"""So many phases of batches are looked at, the newest: about a dozen batches, so that old journals stay quick."""
SAMPLED_EVERY_S = 2 * 3600
SAMPLES_NEEDED = 2
DAYS_NEEDED = 5
"""With fewer days of evidence nothing is said to be out of reach (our choice)."""


@dataclass(frozen=True)
class MachineReach:
    """The lowest and the highest daily mean that a machine has held, % RH, and from how many days that is known.

    0 and 100 while there are too few of them.
    """

    low: float = 0.0
    high: float = 100.0
    days: int = 0


def machine_reach(journal: Journal, machine: str, now: int) -> MachineReach:
    """What a machine has held on the days of its newest batches, until now.

    A day is one of 24 hours since the eggs came into the machine; its mean is that of one reading every two
    hours, corrected, of the probe that has the most of them, and counts with two readings or more.
    """
    means: list[float] = []
    for start_at, end_at in journal.batches.stretches_in(machine, now, NEWEST_STRETCHES):
        means += _daily_means(journal, machine, start_at, min(end_at, now))
    if len(means) < DAYS_NEEDED:
        return MachineReach(days=len(means))
    return MachineReach(min(means), max(means), len(means))


def _daily_means(journal: Journal, machine: str, start_at: int, end_at: int) -> list[float]:
    days = -(-(end_at - start_at) // DAY_S)
    counts: dict[int, IntArray] = {}
    sums: dict[int, FloatArray] = {}
    for stay in journal.probes.stays(machine, start_at, end_at):
        shown = journal.readings.sampled(stay.probe.number, stay.start_at, stay.end_at, SAMPLED_EVERY_S)
        readings = probe_corrections(journal, stay.probe).corrected(shown)
        known = ~np.isnan(readings.humidity)
        day = (readings.at[known] - start_at) // DAY_S
        count = counts.setdefault(stay.probe.number, np.zeros(days, np.int64))
        count += np.bincount(day, minlength=days)
        total = sums.setdefault(stay.probe.number, np.zeros(days))
        total += np.bincount(day, readings.humidity[known], minlength=days)
    if not counts:
        return []
    by_probe = np.stack(list(counts.values()))
    most = np.argmax(by_probe, axis=0), np.arange(days)
    enough = by_probe[most] >= SAMPLES_NEEDED
    means: list[float] = (np.stack(list(sums.values()))[most][enough] / by_probe[most][enough]).tolist()
    return means
