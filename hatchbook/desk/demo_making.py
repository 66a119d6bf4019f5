"""The demo journal, made beside the window: in a process of its own while this one builds what will show it."""

from __future__ import annotations

import logging
import subprocess
import sys
import time
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

from hatchbook.desk.clock import system_zone

if TYPE_CHECKING:
    from hatchbook.journal import Journal

_LOG = logging.getLogger(__name__)


class DemoMaking:
    """A demo journal in a folder of its own, that goes when the demo is left."""

    def __init__(self, now: int | None = None) -> None:
        self._now = int(time.time()) if now is None else now
        self._zone = system_zone()
        self.folder = TemporaryDirectory(prefix="hatchbook-demo-", ignore_cleanup_errors=True)
        self._path = Path(self.folder.name) / "demo.hatchbook"
        self._process: subprocess.Popen[bytes] | None = None

    def begin(self) -> None:
        """Starts to make it beside; where that cannot be, ``finish`` makes it here."""
        if getattr(sys, "frozen", False):
            # A bundle has no interpreter to start.
            return
        command = [sys.executable, "-m", "hatchbook.exchange.demo"]
        values = [str(self._path), str(self._now), self._zone.key]
        try:
            self._process = subprocess.Popen([*command, *values], stdin=subprocess.DEVNULL)
        except OSError as error:
            _LOG.info("the demo is made in the window's own process: %s", error)

    def finish(self) -> Journal:
        """The demo journal, open.

        Raises:
            JournalError: it cannot be made or opened.
        """
        from hatchbook.journal import Journal

        if self._process is not None and self._process.wait() == 0:
            return Journal.open(self._path)
        from hatchbook.exchange.demo import create_demo_journal

        # What a process that failed has left would be in the way.
        self._path.unlink(missing_ok=True)
        return create_demo_journal(self._path, now=self._now, zone=self._zone)
