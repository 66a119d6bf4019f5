"""Whether the records of a journal agree with each other, beyond what its tables themselves enforce."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import pairwise

from hatchbook.journal.errors import JournalError
from hatchbook.journal.problems import Problem
from hatchbook.journal.settings import known_zone
from hatchbook.journal.store import Store

_NEAR_DAY = 1e-6


def time_zone_known(store: Store) -> Iterator[Problem]:
    """The home time zone is one of this computer's."""
    for (name,) in store.rows("SELECT value FROM setting WHERE key = 'time_zone'"):
        try:
            known_zone(name)
        except JournalError:
            yield Problem("time_zone", {"name": name})


def history_in_order(store: Store) -> Iterator[Problem]:
    """What was taken back lies after everything that was not, so that redo finds what it left."""
    row = store.one(
        "SELECT min(number) FROM history_step WHERE state = 'undone' "
        "AND number < (SELECT max(number) FROM history_step WHERE state = 'done')"
    )
    if row is not None and row[0] is not None:
        yield Problem("history_order", {"number": row[0]})


def imports_hold_their_readings(store: Store) -> Iterator[Problem]:
    """Each import run has the readings that it stored, less those that were removed one by one since."""
    there = dict(
        store.rows(
            "SELECT import_run, count(*) FROM reading WHERE import_run IS NOT NULL GROUP BY import_run"
        )
    )
    removed: dict[int, int] = dict(
        store.rows(
            "SELECT run, sum(change) FROM ("
            "SELECT json_extract(before, '$.import_run') AS run, 1 AS change FROM history_change "
            "JOIN history_step ON number = step WHERE kind = 'reading' AND state = 'done' UNION ALL "
            "SELECT json_extract(after, '$.import_run'), -1 FROM history_change "
            "JOIN history_step ON number = step WHERE kind = 'reading' AND state = 'done') "
            "WHERE run IS NOT NULL GROUP BY run"
        )
    )
    rejects = dict(store.rows("SELECT import_run, count(*) FROM import_reject GROUP BY import_run"))
    for number, file, stored, refused in store.rows(
        "SELECT number, file_name, stored, rejected + differing FROM import_run ORDER BY number"
    ):
        expected, count = stored - removed.get(number, 0), there.pop(number, 0)
        if count != expected:
            yield Problem("run_count", {"file": file, "expected": expected, "count": count})
        if rejects.get(number, 0) != refused:
            yield Problem(
                "reject_count", {"file": file, "expected": refused, "count": rejects.get(number, 0)}
            )
    for number, count in sorted(there.items()):
        yield Problem("run_missing", {"number": number, "count": count})


def eggs_lie_in_their_machine(store: Store) -> Iterator[Problem]:
    """Each egg's place is one of the trays of a machine in which its batch lies."""
    rows = store.rows(
        "SELECT batch.label, egg.number FROM egg JOIN batch ON batch.uid = egg.batch "
        "WHERE egg.tray IS NOT NULL AND NOT EXISTS ("
        "SELECT 1 FROM machine WHERE (machine.uid = batch.machine OR machine.uid IN "
        "(SELECT machine FROM batch_phase WHERE batch_phase.batch = batch.uid)) "
        "AND egg.tray <= trays AND egg.tray_row <= tray_rows AND egg.tray_column <= tray_columns) "
        "ORDER BY batch.label, egg.number"
    )
    for batch, egg in rows:
        yield Problem("egg_outside", {"batch": batch, "egg": egg})


def phases_join(store: Store) -> Iterator[Problem]:
    """The phases of each batch follow on each other from day 0."""
    phases: dict[str, list[tuple[float, float]]] = {
        label: [] for (label,) in store.rows("SELECT label FROM batch ORDER BY label")
    }
    for label, from_day, to_day in store.rows(
        "SELECT label, from_day, to_day FROM batch_phase JOIN batch ON batch.uid = batch ORDER BY from_day"
    ):
        phases[label].append((from_day, to_day))
    for label, stretches in phases.items():
        if not stretches:
            yield Problem("phases_missing", {"batch": label})
        for (_, end), (start, _) in pairwise([(0.0, 0.0), *stretches]):
            if abs(start - end) > _NEAR_DAY:
                yield Problem("phases_gap", {"batch": label, "day": end})


def eggs_are_of_the_batch(store: Store) -> Iterator[Problem]:
    """Findings, masses and events are about eggs of their own batch."""
    sources = {
        "finding_elsewhere": "finding JOIN candling AS owner ON owner.uid = finding.candling",
        "mass_elsewhere": "egg_mass JOIN weighing AS owner ON owner.uid = egg_mass.weighing",
        "event_elsewhere": "event AS owner",
    }
    for code, source in sources.items():
        part = source.split(" ")[0] if " AS owner ON" in source else "owner"
        rows = store.rows(
            f"SELECT mine.label, egg.number, other.label FROM {source} JOIN egg ON egg.uid = {part}.egg "
            "JOIN batch AS mine ON mine.uid = owner.batch JOIN batch AS other ON other.uid = egg.batch "
            "WHERE owner.batch <> egg.batch ORDER BY mine.label, egg.number"
        )
        for batch, egg, other in rows:
            yield Problem(code, {"batch": batch, "egg": egg, "other": other})


def nothing_hatches_before_it_is_set(store: Store) -> Iterator[Problem]:
    """No hatching record and no break-out is older than the batch."""
    for table in ("hatching", "break_out"):
        rows = store.rows(
            f"SELECT batch.label, egg.number FROM {table} JOIN egg ON egg.uid = {table}.egg "
            f"JOIN batch ON batch.uid = egg.batch WHERE {table}.at < batch.set_at "
            "ORDER BY batch.label, egg.number"
        )
        for batch, egg in rows:
            yield Problem(f"{table}_before_set", {"batch": batch, "egg": egg})


def probes_hang_in_one_place(store: Store) -> Iterator[Problem]:
    """No two stays of a probe overlap."""
    rows = store.rows(
        "SELECT DISTINCT probe.name FROM probe_placement AS one JOIN probe_placement AS two "
        "ON one.probe = two.probe AND one.uid <> two.uid AND one.from_at <= two.from_at "
        "AND (one.until_at IS NULL OR one.until_at > two.from_at) "
        "JOIN probe ON probe.uid = one.probe ORDER BY probe.name"
    )
    for (name,) in rows:
        yield Problem("probe_in_two_places", {"probe": name})


def machines_are_not_overfull(store: Store) -> Iterator[Problem]:
    """At no time lie more eggs in a machine than it holds; by the phases, until the batch was closed."""
    rows = store.rows(
        "SELECT coalesce(batch_phase.machine, batch.machine), set_at + from_day * 86400, "
        "min(set_at + to_day * 86400, coalesce(closed_at, set_at + to_day * 86400)), "
        "(SELECT count(*) FROM egg WHERE egg.batch = batch.uid) "
        "FROM batch_phase JOIN batch ON batch.uid = batch_phase.batch"
    )
    moves: dict[str, list[tuple[float, int]]] = {}
    for machine, start, end, eggs in rows:
        if end > start:
            moves.setdefault(machine, []).extend([(start, eggs), (end, -eggs)])
    for name, uid, places in store.rows(
        "SELECT name, uid, trays * tray_rows * tray_columns FROM machine ORDER BY name"
    ):
        lying = most = 0
        for _, eggs in sorted(moves.get(uid, [])):  # at one instant eggs leave before others come
            lying += eggs
            most = max(most, lying)
        if most > places:
            yield Problem("overfull", {"machine": name, "eggs": most, "places": places})


Check = Callable[[Store], Iterator[Problem]]

#: What must agree, and what is only worth a look.
PROBLEMS: tuple[Check, ...] = (
    time_zone_known,
    history_in_order,
    imports_hold_their_readings,
    eggs_lie_in_their_machine,
    phases_join,
    eggs_are_of_the_batch,
    nothing_hatches_before_it_is_set,
    probes_hang_in_one_place,
)
REMARKS: tuple[Check, ...] = (machines_are_not_overfull,)
