"""The program is killed in the middle of a candling: every verdict that was painted is in the file.

When the kill comes is left to chance, and differs each time.
"""

from __future__ import annotations

import json
import os
import random
import subprocess
import sys
import time
from pathlib import Path

import pytest
from hatchbook.journal import Journal
from hatchbook.trade.codes import FindingCode
from tests.desk.candling_room.kit import candled_batch, findings, lid_events

PROGRAM = Path(__file__).with_name("room_to_kill.py")
ROOT = Path(__file__).parents[3]
ROUNDS = 6

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="SIGKILL is not known there")


def killed(path: Path, seed: int, wait_s: float) -> list[list[str]]:
    """What the room has said until it was killed, so long after its first picture."""
    command = [sys.executable, str(PROGRAM), str(path), str(seed)]
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    with subprocess.Popen(
        command,
        stdout=subprocess.PIPE,
        stdin=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
        env=environment,
    ) as running:
        assert running.stdout is not None
        first = running.stdout.readline()
        time.sleep(wait_s)
        running.kill()
        said = [first, *running.stdout.read().splitlines(keepends=True)]
    # A line that was cut off has not been said.
    return [line.split(maxsplit=1) for line in said if line.endswith("\n")]


def painted_as(code: FindingCode) -> str:
    """The glyph of a finding on day 16."""
    return "late_dead" if code is FindingCode.DEAD else str(code)


def test_every_verdict_that_was_painted_is_in_the_file(tmp_path: Path) -> None:
    path = tmp_path / "killed.hatchbook"
    with Journal.create(path) as journal:
        candled_batch(journal, 10, 12)
    within, known = 0, {}
    for seed in range(ROUNDS):
        said = killed(path, seed, random.uniform(0.05, 0.6))
        pictures = [
            {int(number): fate for number, fate in json.loads(words[1]).items()}
            for words in said
            if words[0] == "painted"
        ]
        assert pictures, "the room did not open"
        # It goes on where it was, whatever was on the screen when it was killed.
        assert pictures[0] == known
        last, pressed = pictures[-1], said[-1][0] == "press"
        with Journal.open(path) as journal:
            assert not journal.check().problems
            (batch,) = journal.batches.all()
            stored = findings(journal, batch)
            known = {number: painted_as(code) for number, code in stored.items()}
            differing = {
                number for number in known.keys() | last.keys() if known.get(number) != last.get(number)
            }
            # What was pressed and not painted yet is there or not; all else is as it was painted.
            assert len(differing) <= (1 if pressed else 0), differing
            assert len(journal.candlings.of_batch(batch.uid)) == (1 if stored else 0)
            assert all(start <= end for start, end in lid_events(journal, batch))
            within += 0 < len(stored) < 120
    assert within > 0, "no kill came within the candling: the test says nothing"
