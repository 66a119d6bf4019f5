"""Makes the demo journal in a process of its own: ``python -m hatchbook.exchange.demo FILE NOW ZONE``."""

from __future__ import annotations

import sys
from pathlib import Path
from zoneinfo import ZoneInfo

from hatchbook.exchange.demo.making import create_demo_journal


def main(arguments: list[str]) -> None:
    """Makes the file and closes it."""
    path, now, zone = arguments
    create_demo_journal(Path(path), now=int(now), zone=ZoneInfo(zone)).close()


if __name__ == "__main__":
    main(sys.argv[1:])
