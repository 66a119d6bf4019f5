"""The batches as a tree model, without a window."""

from __future__ import annotations

from dataclasses import replace
from zoneinfo import ZoneInfo

import pytest
from hatchbook.desk.left.batch_model import BATCH_ROLE, NOTE_ROLE, SEASON_ROLE, SORT_ROLE, BatchModel
from hatchbook.desk.left.batch_words import progress_short_text, season_name, season_short_note
from hatchbook.figures.results import BatchState, BatchSummary, Overview, SeasonGroup
from hatchbook.trade.codes import Fate
from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtTest import QAbstractItemModelTester
from pytestqt.qtbot import QtBot

ACCESSIBLE = Qt.ItemDataRole.AccessibleTextRole
LISBON = ZoneInfo("Europe/Lisbon")


def summary(label: str, name: str = "", **values: object) -> BatchSummary:
    plain = BatchSummary(
        uid=f"uid {label}",
        label=label,
        name=name,
        species="hen",
        state=BatchState.CLOSED,
        day=23.0,
        incubation_days=21.0,
        lockdown_day=18.0,
        set_at=1_768_000_000,
        eggs_set=36,
        counts={Fate.HATCHED: 18, Fate.CLEAR: 18},
        hatched=18,
    )
    return replace(plain, **values)


RUNNING = summary(
    "26-05",
    "Orchard hens",
    state=BatchState.RUNNING,
    day=11.3,
    counts={Fate.ALIVE: 31, Fate.UNSURE: 1, Fate.EARLY_DEAD: 1, Fate.CLEAR: 3},
    hatched=0,
    found_by=("Leghorn cross", "Orchard pen"),
)
# 2026-05-25 09:00 in Lisbon.
PLANNED = summary("26-06", "", state=BatchState.PLANNED, day=-10.0, set_at=1_779_696_000, eggs_set=1)
FINISHED = summary("26-02", "Brook hens", found_by=("Brook pen",))
PAPER = summary("25-01", "From the old book", counts_only=True)
SEASONS = Overview((SeasonGroup(2026, (PLANNED, RUNNING, FINISHED)), SeasonGroup(2025, (PAPER,))))


@pytest.fixture
def model(qtbot: QtBot) -> BatchModel:
    model = BatchModel()
    QAbstractItemModelTester(model, QAbstractItemModelTester.FailureReportingMode.Fatal, model)
    model.show_overview(SEASONS, zone=LISBON)
    return model


def test_seasons_hold_their_batches(model: BatchModel) -> None:
    assert model.rowCount() == 2
    season = model.index(0, 0)
    assert season.data() == "Season 2026"
    assert season.data(SEASON_ROLE) == SEASONS.seasons[0]
    assert [model.index(row, 0, season).data(BATCH_ROLE) for row in range(3)] == [PLANNED, RUNNING, FINISHED]
    assert model.index(0, 0, season).parent() == season
    assert season.data(BATCH_ROLE) is None


def test_sort_roles_are_numbers(model: BatchModel) -> None:
    assert model.index(0, 0).data(SORT_ROLE) == 2026
    assert model.index_of(RUNNING.uid).data(SORT_ROLE) == RUNNING.set_at


def test_a_season_says_how_its_batches_stand(model: BatchModel) -> None:
    season = model.index(0, 0)
    assert season.data(NOTE_ROLE) == "1 planned, 1 running, 1 done"
    assert season.data(ACCESSIBLE) == "Season 2026, 1 planned, 1 running, 1 done"
    assert season_short_note(SEASONS.seasons[0]) == "2 open, 1 done"


def test_a_running_batch_is_read_aloud(model: BatchModel) -> None:
    said = model.index_of(RUNNING.uid).data(ACCESSIBLE)
    assert said.startswith("26-05 Orchard hens, hen, day 11 of 21, 31 alive of 36, ")
    assert "1 unsure" in said
    assert "3 clear" in said


def test_a_planned_batch_says_when_it_is_set(model: BatchModel) -> None:
    said = model.index_of(PLANNED.uid).data(ACCESSIBLE)
    assert said.startswith("26-06, hen, set Mon 25 May, 1 egg")


def test_a_batch_without_a_name_shows_its_species(model: BatchModel) -> None:
    index = model.index_of(PLANNED.uid)
    assert index.data() == "26-06 Hen"
    assert index.data(Qt.ItemDataRole.EditRole) == ""


def test_a_finished_batch_says_how_many_hatched(model: BatchModel) -> None:
    assert "18 hatched of 36" in model.index_of(FINISHED.uid).data(ACCESSIBLE)


def test_counts_from_paper_say_so(model: BatchModel) -> None:
    assert model.index_of(PAPER.uid).data(ACCESSIBLE).endswith("from paper")
    assert "from paper" not in model.index_of(FINISHED.uid).data(ACCESSIBLE)


def test_short_texts_keep_what_matters() -> None:
    assert progress_short_text(PLANNED, LISBON) == "25 May"
    assert progress_short_text(RUNNING, LISBON) == "day 11"
    assert progress_short_text(FINISHED, LISBON) == "18 of 36"


@pytest.mark.parametrize(
    ("season", "first_month", "name"),
    [(2026, 1, "Season 2026"), (2025, 10, "Season 2025/26"), (1999, 9, "Season 1999/00")],
)
def test_a_season_over_the_turn_of_the_year_names_both(season: int, first_month: int, name: str) -> None:
    assert season_name(season, first_month) == name


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("26-05", [RUNNING]),
        ("BROOK", [FINISHED]),
        ("orchard pen", [RUNNING]),
        ("leghorn", [RUNNING]),
        ("hen 26", [PLANNED, RUNNING, FINISHED]),
        ("old", [PAPER]),
        ("  ", [PLANNED, RUNNING, FINISHED, PAPER]),
        ("goose", []),
    ],
)
def test_a_search_finds_by_every_word(model: BatchModel, text: str, found: list[BatchSummary]) -> None:
    model.find(text)
    assert [index.data(BATCH_ROLE) for index in model.indices()] == found


def test_while_searching_a_season_says_how_many_were_found(model: BatchModel) -> None:
    model.find("brook")
    assert model.rowCount() == 1
    assert model.index(0, 0).data(NOTE_ROLE) == "1 of 3"


def test_a_search_holds_when_the_batches_change(model: BatchModel) -> None:
    model.find("brook")
    other = summary("26-07", "Brook geese")
    model.show_overview(Overview((SeasonGroup(2026, (other, RUNNING, FINISHED)),)), zone=LISBON)
    assert [index.data(BATCH_ROLE) for index in model.indices()] == [other, FINISHED]


def test_rows_that_stay_are_only_updated(model: BatchModel, qtbot: QtBot) -> None:
    renamed = replace(RUNNING, name="Orchard hybrids")
    resets = []
    model.modelReset.connect(lambda: resets.append(True))
    with qtbot.waitSignal(model.dataChanged):
        model.show_overview(
            Overview((SeasonGroup(2026, (PLANNED, renamed, FINISHED)), SEASONS.seasons[1])), zone=LISBON
        )
    assert model.index_of(RUNNING.uid).data() == "26-05 Orchard hybrids"
    assert resets == []


def test_only_batches_can_be_chosen_and_renamed(model: BatchModel) -> None:
    season, batch = model.index(0, 0), model.index_of(RUNNING.uid)
    assert not season.flags() & (Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemIsEditable)
    assert batch.flags() & Qt.ItemFlag.ItemIsSelectable
    assert batch.flags() & Qt.ItemFlag.ItemIsEditable


def test_in_a_journal_for_reading_nothing_is_renamed(model: BatchModel) -> None:
    model.show_overview(SEASONS, zone=LISBON, can_rename=False)
    assert not model.index_of(RUNNING.uid).flags() & Qt.ItemFlag.ItemIsEditable


def test_an_unknown_batch_has_no_row(model: BatchModel) -> None:
    assert model.index_of("none such") == QModelIndex()
    assert model.index_of(None) == QModelIndex()


def test_without_batches_there_is_no_first_one(model: BatchModel) -> None:
    model.show_overview(Overview(()))
    assert model.rowCount() == 0
    assert not model.first_batch().isValid()
