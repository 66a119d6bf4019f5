"""The rules of `conftest.py` are kept: each made-up offender below fails, and each honest test passes."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent

MADE_UP = """
import logging, os, threading, time, warnings
import pytest
from PySide6.QtCore import QSettings, QStandardPaths, qWarning
from PySide6.QtWidgets import QLabel

def test_pass_nothing(): pass

def test_fail_logs(): logging.getLogger("hatchbook").warning("the disk is nearly full")

@pytest.mark.allow_log("nearly full")
def test_pass_marked(): logging.getLogger("hatchbook").warning("the disk is nearly full")

@pytest.mark.allow_log("nearly full")
def test_fail_other_log(): logging.getLogger("hatchbook").error("the file is damaged")

def test_pass_fixture(allow_log):
    allow_log("^ERROR hatchbook: .*damaged")
    logging.getLogger("hatchbook").error("the file is damaged")

def test_fail_window(qapp):
    global label
    label = QLabel("left open")
    label.show()

def test_pass_after_window(qapp): pass

def test_pass_closed(qtbot):
    label = QLabel("closed by the test bot")
    qtbot.addWidget(label)
    label.show()

def test_fail_thread(): threading.Thread(target=time.sleep, args=(6,), daemon=True).start()

def test_fail_python_warning(): warnings.warn("old")

def test_fail_qt_warning(): qWarning("no such signal")

def test_pass_write_home(tmp_path):
    (tmp_path / "..").resolve()
    with open(os.path.expanduser("~/mine"), "w") as f: f.write("x")
    QSettings("hatchbook", "hatchbook").setValue("a", 1)

def test_pass_own_home():
    assert not os.path.exists(os.path.expanduser("~/mine"))
    assert QSettings("hatchbook", "hatchbook").value("a") is None
    for place in QStandardPaths.StandardLocation:
        if place.name in ("AppDataLocation", "AppConfigLocation", "CacheLocation", "HomeLocation"):
            assert "homes" in QStandardPaths.writableLocation(place), place

def test_pass_machine_zone(): assert time.localtime(0).tm_gmtoff == 45900
"""


@pytest.fixture(scope="module")
def outcomes(tmp_path_factory: pytest.TempPathFactory) -> dict[str, set[str]]:
    folder = tmp_path_factory.mktemp("rules")
    shutil.copy(ROOT / "tests" / "conftest.py", folder)
    (folder / "test_made_up.py").write_text(MADE_UP, encoding="utf-8")
    command = [sys.executable, "-m", "pytest", "-v", "-p", "no:cacheprovider", "--rootdir", str(folder)]
    command += ["-c", str(ROOT / "pyproject.toml"), "--basetemp", str(folder / "temp"), str(folder)]
    run = subprocess.run(command, capture_output=True, text=True, check=False, cwd=folder)
    found: dict[str, set[str]] = {}
    for name, outcome in re.findall(r"::test_(\w+) (PASSED|FAILED|ERROR)", run.stdout):
        found.setdefault(name, set()).add(outcome)
    assert len(found) == MADE_UP.count("\ndef test_"), run.stdout + run.stderr
    return found


def test_offenders_fail_and_the_others_pass(outcomes: dict[str, set[str]]) -> None:
    for name, results in outcomes.items():
        assert (results == {"PASSED"}) == name.startswith("pass_"), (name, results)
