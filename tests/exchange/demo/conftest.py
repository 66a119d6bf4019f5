"""The demo at some present instant, and its contents, to compare."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from hatchbook.exchange.demo import create_demo_journal
from hatchbook.figures import BatchFigures, batch_figures
from hatchbook.journal import Batch, Journal

ZONE = ZoneInfo("Europe/Lisbon")
NOW = int(datetime(2026, 5, 14, 14, 10, tzinfo=ZONE).timestamp())


@pytest.fixture(scope="package")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Journal]:
    """The demo on a spring afternoon, to be read only."""
    path = tmp_path_factory.mktemp("demo") / "demo.hatchbook"
    with create_demo_journal(path, now=NOW, zone=ZONE) as journal:
        yield journal


@pytest.fixture(scope="package")
def now() -> int:
    """The present of ``demo``."""
    return NOW


@pytest.fixture
def make_demo(tmp_path: Path) -> Iterator[Callable[..., Journal]]:
    """Makes a demo; it is closed after the test."""
    made: list[Journal] = []

    def make(now: int = NOW, zone: ZoneInfo = ZONE, **options: int) -> Journal:
        journal = create_demo_journal(tmp_path / f"demo {len(made)}.hatchbook", now=now, zone=zone, **options)
        made.append(journal)
        return journal

    yield make
    for journal in made:
        journal.close()


@pytest.fixture(scope="package")
def batches(demo: Journal) -> Callable[[str], list[Batch]]:
    """The batches of a name, oldest first."""
    return lambda name: [one for one in reversed(demo.batches.all()) if one.name == name]


@pytest.fixture(scope="package")
def figures(demo: Journal) -> list[BatchFigures]:
    """The figures of all batches of ``demo``, newest first."""
    return [batch_figures(demo, batch.uid, NOW) for batch in demo.batches.all()]
