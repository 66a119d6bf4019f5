"""Makes the demo journal: fills a new one with the story, then does the last few things as a breeder would."""

from __future__ import annotations

import time
from pathlib import Path
from zoneinfo import ZoneInfo

from hatchbook.exchange.demo.dates import DemoDates
from hatchbook.exchange.demo.scenario import load_scenario
from hatchbook.exchange.demo.writing import Deed, DemoWriter
from hatchbook.journal import Journal
from hatchbook.journal.filling import fill
from hatchbook.journal.settings import Setting
from hatchbook.trade.programmes import load_programmes

SEED = 20_260_514
"""The demo's chance; any other number makes another invented story of the same plot."""


class _Clock:
    """Tells the instant of what is being done, and afterwards the present one."""

    def __init__(self) -> None:
        self.at: int | None = None

    def __call__(self) -> float:
        return time.time() if self.at is None else self.at


def create_demo_journal(path: Path, *, now: int, zone: ZoneInfo, seed: int = SEED) -> Journal:
    """A new journal of an invented holding, open for writing and marked as the demo.

    Its batches are counted back from the present: exactly two are running and one is planned. The same arguments
    give the same entries. What lies back cannot be undone; a few last things can.

    Args:
        path: the file; one of that name is never overwritten.
        now: the present instant, UTC seconds.
        zone: the journal's home time zone.
        seed: the demo's chance.

    Raises:
        JournalError: the file cannot be created, as ``Journal.create`` says.
    """
    clock = _Clock()
    journal = Journal.create(path, time_zone=zone.key, clock=clock)
    try:
        dates = DemoDates(now, zone)
        programmes = {programme.code: programme for programme in load_programmes()}
        written = DemoWriter(load_scenario(), programmes, dates, seed).write()
        settings = [Setting("is_demo", "yes"), Setting("season_first_month", str(dates.first_month))]
        fill(journal, [*settings, *written.records], written.readings)
        for deed in written.deeds:
            clock.at = deed.at
            _do(journal, deed)
    except BaseException:
        journal.close()
        raise
    clock.at = None
    return journal


def _do(journal: Journal, deed: Deed) -> None:
    with journal.step(deed.code, batch=deed.batch, **deed.details) as step:
        for record in deed.added:
            step.add(record)
        if deed.ticked is not None:
            step.replace(deed.ticked)
