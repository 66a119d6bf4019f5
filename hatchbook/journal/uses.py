"""What a record of the holding is used by: why it can not be deleted, and what would be lost."""

from __future__ import annotations

from dataclasses import dataclass

from hatchbook.journal.store import Store


@dataclass(frozen=True)
class UseCount:
    """How many records refer to one. Past batches are those that are known by their counts alone."""

    batches: int = 0
    past_batches: int = 0
    eggs: int = 0
    readings: int = 0
    events: int = 0
    probes: int = 0

    @property
    def any(self) -> bool:
        """Whether anything refers to it."""
        return any(vars(self).values())


#: Where an egg's story is kept: a record there, and the egg can no longer be taken away as if it had never been.
_EGG_RECORDS = ("finding", "egg_mass", "hatching", "break_out", "removal", "event")


class Uses:
    """Counts what refers to machines, probes, pens, birds and programmes, and which eggs have a story."""

    def __init__(self, store: Store) -> None:
        self._store = store

    def of_machine(self, machine: str) -> UseCount:
        """Batches that lie or lay in it for a phase at least, past batches, events, probes that hang or hung."""
        return UseCount(
            batches=self._count(
                "batch WHERE machine = ?1 OR uid IN (SELECT batch FROM batch_phase WHERE machine = ?1)",
                machine,
            ),
            past_batches=self._count("past_batch WHERE machine = ?1", machine),
            events=self._count("event WHERE machine = ?1", machine),
            probes=self._count(
                "probe WHERE uid IN (SELECT probe FROM probe_placement WHERE machine = ?1)", machine
            ),
        )

    def left_without_place(self, machine: str, trays: int, tray_rows: int, tray_columns: int) -> UseCount:
        """The eggs, and their batches, whose places would go if a machine had trays like these."""
        row = self._store.one(
            "SELECT count(DISTINCT batch.uid), count(*) FROM egg JOIN batch ON batch.uid = egg.batch "
            "WHERE egg.tray IS NOT NULL AND (batch.machine = ?1 OR batch.uid IN "
            "(SELECT batch FROM batch_phase WHERE machine = ?1)) "
            "AND NOT (egg.tray <= ?2 AND egg.tray_row <= ?3 AND egg.tray_column <= ?4) "
            "AND NOT EXISTS (SELECT 1 FROM machine WHERE machine.uid <> ?1 AND (machine.uid = batch.machine "
            "OR machine.uid IN (SELECT machine FROM batch_phase WHERE batch_phase.batch = batch.uid)) "
            "AND egg.tray <= trays AND egg.tray_row <= machine.tray_rows "
            "AND egg.tray_column <= machine.tray_columns)",
            (machine, trays, tray_rows, tray_columns),
        )
        return UseCount(batches=int(row[0]), eggs=int(row[1])) if row else UseCount()

    def of_probe(self, probe: str) -> UseCount:
        """Batches that name it, and its readings."""
        return UseCount(
            batches=self._count("batch WHERE probe = ?1", probe),
            readings=self._count("reading WHERE probe = (SELECT number FROM probe WHERE uid = ?1)", probe),
        )

    def of_pen(self, pen: str) -> UseCount:
        """Eggs that came from it, in how many batches, and past batches."""
        return UseCount(
            batches=self._count("batch WHERE uid IN (SELECT batch FROM egg WHERE pen = ?1)", pen),
            past_batches=self._count("past_batch WHERE pen = ?1", pen),
            eggs=self._count("egg WHERE pen = ?1", pen),
        )

    def of_bird(self, member: str) -> UseCount:
        """Eggs that name it as their dam, and in how many batches."""
        return UseCount(
            batches=self._count("batch WHERE uid IN (SELECT batch FROM egg WHERE dam = ?1)", member),
            eggs=self._count("egg WHERE dam = ?1", member),
        )

    def of_programme(self, code: str) -> UseCount:
        """Batches that were set by it or a changed copy of it, each with its own copy, and past batches."""
        return UseCount(
            batches=self._count("batch WHERE json_extract(programme, '$.code') = ?1", code),
            past_batches=self._count("past_batch WHERE programme_code = ?1", code),
        )

    def eggs_with_records(self, batch: str) -> frozenset[str]:
        """The eggs of a batch of which something was recorded since they were set."""
        found = " UNION ".join(f"SELECT egg FROM {table}" for table in _EGG_RECORDS)
        rows = self._store.rows(
            f"SELECT uid FROM egg WHERE batch = ? AND uid IN ({found})",
            (batch,),
        )
        return frozenset(str(uid) for (uid,) in rows)

    def _count(self, source: str, uid: str) -> int:
        row = self._store.one(f"SELECT count(*) FROM {source}", (uid,))
        return int(row[0]) if row else 0
