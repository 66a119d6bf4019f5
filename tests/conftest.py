"""What holds for every test: no screen, no one's own settings, and nothing left behind.

A test fails on a log record of WARNING or above, on a window it leaves open and on a thread it leaves
running. Python's warnings and Qt's messages fail it too; those two are set in `pyproject.toml`.
"""

from __future__ import annotations

import itertools
import logging
import os
import re
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import hypothesis
import pytest

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

# No test may lean on the zone of the machine: a journal has its own. This one is 12 h 45 min ahead of UTC
# and changes its clocks, so that a local time taken for another shows.
MACHINE_ZONE = "Pacific/Chatham"


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--headed", action="store_true", help="show the windows on the screen")


def pytest_configure(config: pytest.Config) -> None:
    config.addinivalue_line(
        "markers", "allow_log(pattern): log records that match the pattern do not fail the test"
    )
    if not config.getoption("--headed"):
        os.environ["QT_QPA_PLATFORM"] = "offscreen"
    # Qt warns about a locale that is not UTF-8, and numbers should read the same everywhere.
    os.environ["LC_ALL"] = "C.UTF-8"
    if hasattr(time, "tzset"):
        os.environ["TZ"] = MACHINE_ZONE
        time.tzset()
    hypothesis.settings.register_profile("hatchbook", deadline=None)
    # The project's checks try the same examples every time; at the desk there are always new ones.
    hypothesis.settings.register_profile("hatchbook-ci", deadline=None, derandomize=True, print_blob=True)
    hypothesis.settings.load_profile("hatchbook-ci" if os.environ.get("CI") else "hatchbook")


_homes = itertools.count()


@pytest.fixture(autouse=True)
def own_home(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty home, settings and locale for this test alone."""
    from PySide6.QtCore import QLocale, QSettings, QStandardPaths

    # Counted here: mktemp reads the whole folder for every new name, and there are thousands of tests.
    home = tmp_path_factory.getbasetemp() / "homes" / str(next(_homes))
    home.mkdir(parents=True)
    monkeypatch.setenv("HOME", str(home))
    monkeypatch.setenv("USERPROFILE", str(home))
    for variable in ("CONFIG", "DATA", "CACHE", "STATE"):
        monkeypatch.setenv(f"XDG_{variable}_HOME", str(home / variable.lower()))
    monkeypatch.setenv("XDG_DOCUMENTS_DIR", str(home))
    QStandardPaths.setTestModeEnabled(True)
    for kind in (QSettings.Format.NativeFormat, QSettings.Format.IniFormat):
        QSettings.setPath(kind, QSettings.Scope.UserScope, str(home / "settings"))
    QLocale.setDefault(QLocale.c())
    return home


class _Loud(logging.Handler):
    """Keeps what was logged at WARNING or above."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.lines: list[str] = []
        self.allowed: list[re.Pattern[str]] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.lines.append(f"{record.levelname} {record.name}: {record.getMessage()}")

    def unexpected(self) -> list[str]:
        return [line for line in self.lines if not any(allowed.search(line) for allowed in self.allowed)]


@pytest.fixture(autouse=True)
def loud_log(request: pytest.FixtureRequest) -> Iterator[_Loud]:
    """Fails the test when something logs a warning or an error that the test did not allow."""
    handler = _Loud()
    for marker in request.node.iter_markers("allow_log"):
        handler.allowed.extend(re.compile(pattern) for pattern in marker.args)
    logging.getLogger().addHandler(handler)
    yield handler
    logging.getLogger().removeHandler(handler)
    if lines := handler.unexpected():
        pytest.fail("logged, and not allowed by the test:\n" + "\n".join(lines), pytrace=False)


@pytest.fixture
def allow_log(loud_log: _Loud) -> Callable[[str], None]:
    """Call it with a pattern: log records that match it (level, logger and text) do not fail this test."""
    return lambda pattern: loud_log.allowed.append(re.compile(pattern))


def _open_windows() -> list[QWidget]:
    from PySide6.QtCore import QCoreApplication, QEvent
    from PySide6.QtWidgets import QApplication

    if not isinstance(QApplication.instance(), QApplication):
        return []
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    return [window for window in QApplication.topLevelWidgets() if window.isVisible()]


@pytest.fixture(autouse=True)
def nothing_left() -> Iterator[None]:
    """Fails the test when it leaves a window open or a thread running, and closes the window."""
    before = set(threading.enumerate())
    yield
    windows = _open_windows()
    left = [f"window {type(window).__name__} {window.windowTitle()!r}" for window in windows]
    for window in windows:
        window.hide()
        window.deleteLater()
    for thread in set(threading.enumerate()) - before:
        if isinstance(thread, threading._DummyThread):  # a thread of Qt's; Python does not see it end
            continue
        thread.join(2)
        if thread.is_alive():
            left.append(f"thread {thread.name}")
    if left:
        pytest.fail("left behind by the test: " + ", ".join(left), pytrace=False)
