"""Making the demo: the same every time, whatever the present, and nothing of it is kept by accident."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from contextlib import closing
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from hatchbook.exchange.demo import create_demo_journal
from hatchbook.figures import BatchState, batch_figures, overview
from hatchbook.journal import Journal, JournalExistsError
from hatchbook.statistics.drift import DriftVerdict
from hatchbook.trade.codes import Fate

MakeDemo = Callable[..., Journal]


def contents(journal: Journal) -> dict[str, list[tuple[object, ...]]]:
    """All rows of all tables; the identifiers of history's lines come from the journal itself and differ."""
    with closing(sqlite3.connect(f"{journal.path.as_uri()}?mode=ro", uri=True)) as file:
        tables = [name for (name,) in file.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")]
        rows = {name: file.execute(f"SELECT * FROM {name}").fetchall() for name in tables}
    rows["history_step"] = [(number, *rest) for number, _uid, *rest in rows["history_step"]]
    return {name: sorted(of_table, key=repr) for name, of_table in rows.items()}


def test_the_same_present_gives_the_same_journal(make_demo: MakeDemo) -> None:
    assert contents(make_demo()) == contents(make_demo())


def test_another_seed_gives_another_story_of_the_same_plot(make_demo: MakeDemo, now: int) -> None:
    one, other = make_demo(), make_demo(seed=7)
    assert contents(one)["reading"] != contents(other)["reading"]
    labels = [[batch.label for batch in journal.batches.all()] for journal in (one, other)]
    assert labels[0] == labels[1]
    assert other.check().sound


def test_past_seasons_fare_the_same_an_hour_later(make_demo: MakeDemo, now: int) -> None:
    first, later = make_demo(), make_demo(now + 3600)

    def fates(journal: Journal) -> list[dict[Fate, int]]:
        return [
            batch_figures(journal, batch.uid, now).counts
            for batch in journal.batches.all()
            if batch.closed_at is not None
        ]

    assert fates(first) == fates(later)


def test_a_file_that_is_there_is_not_overwritten(tmp_path: Path, now: int) -> None:
    path = tmp_path / "mine.hatchbook"
    path.write_bytes(b"mine")
    with pytest.raises(JournalExistsError):
        create_demo_journal(path, now=now, zone=ZoneInfo("UTC"))
    assert path.read_bytes() == b"mine"


def test_it_makes_no_backup(tmp_path: Path, now: int) -> None:
    path = tmp_path / "demo.hatchbook"
    with create_demo_journal(path, now=now, zone=ZoneInfo("UTC")) as journal:
        journal.undo()
        assert journal.back_up() is None
        assert journal.back_up_if_due() is None
    assert [entry.name for entry in tmp_path.iterdir() if not entry.name.endswith(".lock")] == [path.name]


def test_a_file_left_over_still_says_that_it_is_a_demo(tmp_path: Path, now: int) -> None:
    path = tmp_path / "demo.hatchbook"
    create_demo_journal(path, now=now, zone=ZoneInfo("Asia/Kathmandu")).close()
    with Journal.open(path) as journal:
        assert journal.settings.is_demo
        assert journal.zone.key == "Asia/Kathmandu"
        assert len(journal.batches.all()) == 23


def test_what_is_done_afterwards_is_dated_by_the_clock(make_demo: MakeDemo, now: int) -> None:
    journal = make_demo()
    change = journal.batches.rename(journal.batches.all()[0], "Mine")
    assert change.step.at != now
    assert change.step.at > now - 20 * 365 * 86_400


@pytest.mark.parametrize(
    ("wall", "zone"),
    [
        ("2026-01-01T00:00", "Europe/Lisbon"),  # the first moment of a year
        ("2026-12-31T23:59", "Pacific/Auckland"),  # the last, in a southern summer
        ("2026-05-01T00:10", "America/Sao_Paulo"),  # the season's first month changes with these months
        ("2026-04-30T12:00", "Pacific/Kiritimati"),
        ("2026-11-30T22:00", "Australia/Lord_Howe"),
        ("2026-12-01T09:00", "UTC"),
        ("2026-03-29T03:30", "Europe/Berlin"),  # clocks go forward
        ("2026-10-25T02:30", "Europe/Berlin"),  # and back
        ("2026-04-05T01:45", "Australia/Lord_Howe"),  # by half an hour
        ("2028-02-29T05:00", "America/New_York"),
        ("2026-07-15T04:00", "Asia/Kathmandu"),
    ],
)
def test_the_plot_holds_at_any_present(make_demo: MakeDemo, wall: str, zone: str) -> None:
    there = ZoneInfo(zone)
    now = int(datetime.fromisoformat(wall).replace(tzinfo=there).timestamp())
    journal = make_demo(now, there)
    report = journal.check()
    assert [str(problem) for problem in (*report.problems, *report.remarks)] == []
    seasons = overview(journal, now).seasons
    assert len(seasons) == 5
    states = [batch.state for group in seasons for batch in group.batches]
    assert states.count(BatchState.RUNNING) == 2
    assert states.count(BatchState.PLANNED) == 1
    assert {batch.state for batch in seasons[0].batches} == set(BatchState)
    drifted = next(batch for batch in journal.batches.all() if batch.name == "Brook hens")
    verdicts = [
        (phase.humidity.verdict, phase.humidity.since_day)
        for phase in batch_figures(journal, drifted.uid, now).phases
        if phase.humidity is not None
    ]
    assert verdicts == [(DriftVerdict.HIGH, 6), (DriftVerdict.ON_AIM, None)]
    running = [batch for batch in journal.batches.all() if batch.closed_at is None and batch.set_at <= now]
    for batch in running:
        figures = batch_figures(journal, batch.uid, now)
        assert figures.last_reading is not None
        assert now - 3600 < figures.last_reading.at <= now
        assert figures.phases[0].humidity is not None
        assert figures.phases[0].humidity.verdict is DriftVerdict.ON_AIM
