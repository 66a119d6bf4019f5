"""Readings: temperature and relative humidity of one probe at one instant."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any, ClassVar

import numpy as np
from numpy.typing import NDArray

from hatchbook.journal.collection import Collection
from hatchbook.journal.errors import RecordMissingError
from hatchbook.journal.history import Change
from hatchbook.journal.probes import Probe, ProbePlacement
from hatchbook.trade.codes import ProbePlace


@dataclass(frozen=True)
class Reading:
    """One reading; ``probe`` is the probe's number. °C and % RH; one of the two may be missing.

    ``entered`` is JSON of what was typed where it was entered by hand: value, unit, and for a wet bulb the wick.
    """

    KIND: ClassVar[str] = "reading"
    KEY: ClassVar[tuple[str, ...]] = ("probe", "at")

    probe: int
    at: int
    temperature_c: float | None = None
    humidity: float | None = None
    import_run: int | None = None
    entered: str | None = None


@dataclass(frozen=True)
class ReadingSeries:
    """Readings of one probe in time order: instants (int64, UTC seconds), °C and % RH (float64, NaN: none)."""

    probe: int
    at: NDArray[np.int64]
    temperature_c: NDArray[np.float64]
    humidity: NDArray[np.float64]

    def __len__(self) -> int:
        return len(self.at)


class Readings(Collection[Reading]):
    """The readings of a journal."""

    record_class = Reading
    order = "probe, at"

    def series(self, probe: int, start_at: int, end_at: int) -> ReadingSeries:
        """The readings of a probe from ``start_at`` to ``end_at``, both included."""
        rows = self._store.rows(
            "SELECT at, temperature_c, humidity FROM reading WHERE probe = ? AND at BETWEEN ? AND ? ORDER BY at",
            (probe, int(start_at), int(end_at)),
        )
        return _series(probe, rows)

    def sampled(self, probe: int, start_at: int, end_at: int, every_s: int) -> ReadingSeries:
        """The first reading of each ``every_s`` seconds from ``start_at`` until before ``end_at``.

        Costs as much as there are such stretches, however many readings lie in them.
        """
        rows = self._store.rows(
            "WITH RECURSIVE slot (at) AS (SELECT :start WHERE :start < :end "
            "UNION ALL SELECT at + :every FROM slot WHERE at + :every < :end) "
            "SELECT reading.at, temperature_c, humidity FROM slot JOIN reading ON probe = :probe "
            "AND reading.at = (SELECT at FROM reading WHERE probe = :probe AND at >= slot.at "
            "AND at < min(slot.at + :every, :end) ORDER BY at LIMIT 1)",
            {"probe": probe, "start": int(start_at), "end": int(end_at), "every": int(every_s)},
        )
        return _series(probe, rows)

    def at(self, probe: int, at: int) -> Reading | None:
        """The reading of a probe at an instant, or None."""
        found = self._where("probe = ? AND at = ?", (probe, at))
        return found[0] if found else None

    def by_hand(self, probe: int, start_at: int, end_at: int) -> list[Reading]:
        """The readings that were typed in, within a stretch of time."""
        return self._where(
            "probe = ? AND at BETWEEN ? AND ? AND entered IS NOT NULL", (probe, start_at, end_at)
        )

    def last(self, probe: int, before_at: int | None = None) -> Reading | None:
        """The latest reading of a probe, or the latest until an instant."""
        condition, parameters = "probe = ?", [probe]
        if before_at is not None:
            condition, parameters = "probe = ? AND at <= ?", [probe, before_at]
        found = self._store.records(Reading, condition, parameters, "at DESC LIMIT 1")
        return found[0] if found else None

    def count(self, probe: int, start_at: int, end_at: int) -> int:
        """How many readings a probe has in a stretch of time."""
        row = self._store.one(
            "SELECT count(*) FROM reading WHERE probe = ? AND at BETWEEN ? AND ?", (probe, start_at, end_at)
        )
        return int(row[0]) if row else 0

    def move(self, old: Reading, new: Reading) -> Change:
        """Stores a corrected reading, also where its instant was corrected."""
        with self._history.step("reading_changed", at=new.at) as step:
            if (old.probe, old.at) == (new.probe, new.at):
                step.replace(new)
            else:
                step.remove(old)
                step.add(new)
        return step.done

    def add_with_probe(self, reading: Reading, name: str, machine: str, from_at: int) -> Change:
        """Stores the first reading of a machine together with a new probe that hangs in it, as one step."""
        row = self._store.one("SELECT coalesce(max(number), 0) + 1 FROM probe")
        probe = Probe(name, int(row[0]) if row else 1)
        with self._history.step("reading_added", **self.named(reading)) as step:
            step.add(probe)
            step.add(ProbePlacement(probe.uid, ProbePlace.MACHINE, machine, from_at))
            step.add(replace(reading, probe=probe.number))
        return step.done

    def find(self, uid: str) -> Reading | None:
        """Readings have no uid: use ``at``."""
        raise RecordMissingError("Readings are found by probe and instant.", record=uid)

    def named(self, record: Reading) -> dict[str, Any]:
        """Instant and values of the reading."""
        return {"at": record.at, "temperature_c": record.temperature_c, "humidity": record.humidity}


def _series(probe: int, rows: list[tuple[Any, ...]]) -> ReadingSeries:
    table = np.array(rows, dtype=np.float64).reshape(len(rows), 3)
    return ReadingSeries(probe, table[:, 0].astype(np.int64), table[:, 1].copy(), table[:, 2].copy())
