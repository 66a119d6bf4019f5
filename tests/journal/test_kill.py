"""The program is killed at any moment: every entry that was shown is there, and nothing half.

A kill cannot be caught, put off or cleaned up after. When it comes is left to chance, and differs each time.
"""

from __future__ import annotations

import importlib.util
import random
import shutil
import sqlite3
import subprocess
import sys
import time
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from types import ModuleType

import pytest
from hatchbook.journal import Event, Journal, backups
from hatchbook.journal.backup_files import folder_of

PROGRAM = Path(__file__).with_name("program_to_kill.py")
ROUNDS = 9
#: So many readings go through a migration.
MIGRATED = 40_000

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="SIGKILL is not known there")


@pytest.fixture(scope="module")
def program() -> ModuleType:
    spec = importlib.util.spec_from_file_location("program_to_kill", PROGRAM)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def killed(work: str, path: Path, wait: Callable[[], float], after: str = "open") -> list[list[str]]:
    """What the program has said until it was killed, some time after it said a word."""
    command = [sys.executable, str(PROGRAM), work, str(path)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as running:
        assert running.stdout is not None
        said = []
        for line in running.stdout:
            said.append(line.split())
            if said[-1][0] == after:
                break
        time.sleep(wait())
        running.kill()
        # A line that was cut off has not been shown.
        said += [
            line.split() for line in running.stdout.read().splitlines(keepends=True) if line.endswith("\n")
        ]
    assert said, "the program did not start"
    return said


def require_sound(journal: Journal, *but: str) -> None:
    found = {problem.code for problem in journal.check().problems}
    assert found <= {"phases_missing", *but}, [str(problem) for problem in journal.check().problems]


def test_every_entry_that_was_shown_is_there(path: Path, program: ModuleType) -> None:
    program.prepare(path)
    events: set[str] = set()
    gone: set[str] = set()
    findings: dict[str, str] = {}
    many: set[int] = set()
    for _ in range(ROUNDS):
        said = killed("entries", path, lambda: random.uniform(0, 0.4))
        for word, *rest in said:
            match word:
                case "event":
                    events.add(rest[0])
                case "gone":
                    gone.add(rest[0])
                case "finding":
                    findings[rest[0]] = rest[1]
                case "machines":
                    many.add(int(rest[0]))
        with Journal.open(path) as journal:
            require_sound(journal)
            stored = {event.uid for event in journal.events.all()}
            assert events <= stored
            assert not gone & stored
            # At most the one entry that was just being shown came on top.
            assert sum(event.text != "taken back" for event in journal.events.all()) <= len(events) + 1
            events = {event.uid for event in journal.events.all() if event.text != "taken back"}
            gone.clear()
            (batch,) = journal.batches.all()
            seen = {finding.egg: str(finding.code) for finding in journal.candlings.findings(batch.uid)}
            changed = [egg for egg in seen if seen[egg] != findings.get(egg)]
            assert len(changed) <= 1
            assert set(findings) <= set(seen)
            findings = seen
            steps = journal.history.steps()
            assert len([step for step in steps if step.code == "event_added"]) >= len(events)
            machines = [
                machine.name.split("-")[0] for machine in journal.machines.all() if "-" in machine.name
            ]
            counts = {int(name): machines.count(name) for name in machines}
            assert set(counts.values()) <= {40}, "half a step was stored"
            assert many <= set(counts)
            many = set(counts)
            # It can be worked with as if nothing had happened.
            event = Event(0, next(iter(journal.events.all())).kind, journal.machines.all()[0].uid)
            journal.events.add(event)
            journal.undo()
    assert len(events) > ROUNDS
    for backup in backups.list_backups(path):
        assert backup.trouble is None


def test_an_import_is_there_as_a_whole_or_not_at_all(path: Path, program: ModuleType) -> None:
    program.prepare(path)
    with Journal.open(path) as journal:
        began = time.monotonic()
        journal.imports.bring_in(journal.probes.all()[0], program.readings(10_000), program.FIRST_AT)
        one_import = time.monotonic() - began
    known, within = {10_000}, 0
    for number in range(ROUNDS):
        longest = one_import if number % 2 else 4 * one_import
        said = killed("imports", path, lambda longest=longest: random.uniform(0, longest), after="begin")
        told, word, last = set(known), "", 0
        for word, last in ((words[0], int(words[1])) for words in said[1:]):
            match word:
                case "stored":
                    told.add(last)
                case "undone":
                    told.discard(last)
        # What was being done when the kill came is there or not.
        ahead = told - {last} if word == "stored" else told | {last}
        with Journal.open(path) as journal:
            require_sound(journal)
            (probe,) = journal.probes.all()
            runs = journal.imports.all()
            for run in runs:
                assert journal.readings.count(probe.number, run.first_at, run.last_at) == program.ROWS
            assert journal.readings.count(probe.number, 0, 2**40) == program.ROWS * len(runs)
            known = {int(run.file_name.removesuffix(".csv")) for run in runs}
            assert known in (told, ahead)
            within += word == "begin" and known == told
    assert within > 0, "no kill came within an import: the test says nothing"


def test_a_migration_is_done_or_not_done(tmp_path: Path, path: Path, program: ModuleType) -> None:
    template = tmp_path / "template.hatchbook"
    program.prepare(template)
    with Journal.open(template) as journal:
        journal.imports.bring_in(journal.probes.all()[0], program.readings(0, MIGRATED), program.FIRST_AT)
    began = time.monotonic()
    shutil.copy(template, path)
    subprocess.run([sys.executable, PROGRAM, "migration", path], check=True, capture_output=True)
    whole = time.monotonic() - began
    versions = []
    for _ in range(ROUNDS):
        shutil.rmtree(folder_of(path), ignore_errors=True)
        shutil.copy(template, path)
        said = killed("migration", path, lambda: random.uniform(0, 0.8 * whole))
        hot = path.with_name(path.name + "-journal").exists()
        version = version_after_recovery(path)
        assert version in (1, 2)
        if ["migrated", "2"] in said:
            assert version == 2
        with Journal.open(path, migration_steps=program.VERSION_2) as journal:
            require_sound(journal, "run_count")  # which the made-up version does not know of
            store = journal._store
            assert store.one("SELECT count(*), round(sum(value), 3) FROM share") == shares(program)
            assert store.one("SELECT count(*) FROM reading") == (0,)
            assert store.one("SELECT count(*) FROM egg WHERE colour = 'white'") == (12,)
            assert journal.history.steps()[0].code == "readings_imported"
        before = [info for info in backups.list_backups(path) if info.reason == "before_migration"]
        assert before, "migrated without a backup"
        assert all(info.readings == MIGRATED and info.trouble is None for info in before)
        versions.append((version, hot))
    assert any(version == 1 and hot for version, hot in versions), (
        "no kill came within a migration: the test says nothing"
    )


def shares(program: ModuleType) -> tuple[int, float]:
    humidity = program.readings(0, MIGRATED).humidity
    return len(humidity), round(float((humidity / 100).sum()), 3)


def version_after_recovery(path: Path) -> int:
    """Whole as version 1, or whole as version 2; what a kill left is rolled back by the first to open it."""
    with closing(sqlite3.connect(path)) as connection:
        assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        (version,) = connection.execute("PRAGMA user_version").fetchone()
        tables = {name for (name,) in connection.execute("SELECT name FROM sqlite_schema")}
        (readings,) = connection.execute("SELECT count(*) FROM reading").fetchone()
        assert ("share" in tables) == (version == 2)
        assert (readings == 0) == (version == 2)
        return int(version)
