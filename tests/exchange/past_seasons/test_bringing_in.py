"""A table comes into the journal as one step: new batches, those there already, labels, pens and machines."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from hatchbook.exchange.past_seasons.bringing_in import SeasonShare, import_past_batches, plan_past_import
from hatchbook.exchange.past_seasons.known_words import known_words
from hatchbook.exchange.past_seasons.reading import PastHints, read_past_seasons
from hatchbook.exchange.past_seasons.saving import refused_ending, save_refused
from hatchbook.figures.past_batches import past_figures
from hatchbook.journal import ImportCancelledError, Journal, Machine, PastBatch, Pen
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.exchange.past_seasons.kit import BOOK, TODAY, book, read, reasons, write


@pytest.fixture
def journal(tmp_path: Path) -> Iterator[Journal]:
    made = Journal.create(tmp_path / "yard.hatchbook", time_zone="Europe/Lisbon")
    yield made
    made.close()


def test_a_table_comes_in_with_its_pens_and_machines_as_one_step(journal: Journal, tmp_path: Path) -> None:
    table = read(write(tmp_path, BOOK))
    change = import_past_batches(journal, table)
    assert change.kinds == {"past_batch", "pen", "machine"}
    assert (change.step.code, change.step.details) == (
        "past_batches_imported",
        {"file": "book.csv", "stored": 3},
    )
    assert [batch.label for batch in journal.past_batches.all()] == ["22-01", "21-02", "21-01"]
    pens = {pen.name: pen for pen in journal.pens.all()}
    assert (pens["Orchard"].species, pens["Orchard"].breed, pens["Pond"].species) == ("hen", "Marans", "duck")
    machines = {machine.name: machine for machine in journal.machines.all()}
    assert set(machines) == {"Dairy", "Cupboard"}
    assert machines["Dairy"].places >= 24
    first = journal.past_batches.by_label("21-01")
    assert first is not None
    figures = past_figures(journal, first.uid)
    assert (figures.pen_name, figures.machine_name) == ("Orchard", "Dairy")
    assert (figures.rates.fertility.hits, figures.rates.fertility.trials) == (21, 24)
    journal.undo()
    assert (journal.past_batches.all(), journal.pens.all(), journal.machines.all()) == ([], [], [])
    journal.redo()
    assert len(journal.past_batches.all()) == 3


def test_pens_and_machines_of_the_journal_are_found_by_name_or_letter(
    journal: Journal, tmp_path: Path
) -> None:
    orchard, pond, dairy = Pen("orchard"), Pen("The pond", letter="P"), Machine("DAIRY ", 5, 5)
    for pen in (orchard, pond):
        journal.pens.add(pen)
    journal.machines.add(dairy)
    plan = plan_past_import(journal, read(write(tmp_path, BOOK.replace(",Pond,", ",P,"))))
    assert plan.pens == ()
    assert [machine.name for machine in plan.machines] == ["Cupboard"]
    assert {batch.pen for batch in plan.batches} == {orchard.uid, pond.uid}
    assert plan.seasons == (SeasonShare(2022, 1, 12, 10), SeasonShare(2021, 2, 48, 32))


def test_a_second_import_finds_everything_there(journal: Journal, tmp_path: Path) -> None:
    path = write(tmp_path, BOOK)
    import_past_batches(journal, read(path))
    plan = plan_past_import(journal, read(path))
    assert (plan.batches, plan.already, plan.refused) == ((), (2, 3, 4), ())
    assert import_past_batches(journal, read(path)).kinds == frozenset()
    longer = write(tmp_path, BOOK + "22-02,,2022-05-01,Duck,,Pond,Cupboard,8,,,,5,\n", "longer.csv")
    plan = plan_past_import(journal, read(longer))
    assert ([batch.label for batch in plan.batches], plan.already, plan.pens) == (["22-02"], (2, 3, 4), ())


def test_a_label_of_another_batch_is_refused_or_gets_a_new_one(journal: Journal, tmp_path: Path) -> None:
    import_past_batches(journal, read(write(tmp_path, BOOK)))
    table = read(write(tmp_path, BOOK.replace(",24,5,", ",25,5,"), "other.csv"))
    plan = plan_past_import(journal, table)
    assert (plan.batches, plan.already, plan.taken) == ((), (2, 4), 1)
    (refused,) = plan.refused
    assert (refused.number, refused.why.reason, refused.why.cell, refused.column) == (
        3,
        "label_taken",
        "21-02",
        0,
    )
    plan = plan_past_import(journal, table, new_labels=True)
    assert [(one.number, one.before, one.after) for one in plan.labels] == [(3, "21-02", "21-02 2021")]
    assert plan.refused == ()
    import_past_batches(journal, table, new_labels=True)
    plan = plan_past_import(journal, table, new_labels=True)
    assert (plan.batches, plan.already) == ((), (2, 3, 4))


def test_numbers_that_begin_anew_each_year_can_get_the_year_before_them(
    journal: Journal, tmp_path: Path
) -> None:
    text = "No,Year,Species,Eggs\n1,2020,hen,12\n2,2020,hen,12\n1,2021,hen,12\n2,2021,hen,18\n1,2020,hen,12\n"
    table = read(write(tmp_path, text))
    plan = plan_past_import(journal, table)
    assert [(line.number, line.why.reason, line.why.count) for line in plan.refused] == [
        (4, "label_twice", 2), (5, "label_twice", 3), (6, "said_again", 2),
    ]  # fmt: skip
    plan = plan_past_import(journal, table, new_labels=True)
    assert sorted(batch.label for batch in plan.batches) == ["1", "2", "21-01", "21-02"]


def test_batches_without_a_label_are_numbered_by_season_and_known_again(
    journal: Journal, tmp_path: Path
) -> None:
    journal.past_batches.add(PastBatch("21-01", 2021, "duck", 9))
    text = "Date,Species,Eggs,Hatched\n"
    text += "1.5.2021,hen,12,9\n14.3.2021,hen,24,18\n14.3.2021,hen,24,18\n1.3.1999,hen,9,5\n"
    path = write(tmp_path, text)
    plan = plan_past_import(journal, read(path))
    assert [(one.number, one.after) for one in plan.labels] == [
        (2, "21-04"), (3, "21-02"), (4, "21-03"), (5, "99-01"),
    ]  # fmt: skip
    import_past_batches(journal, read(path))
    plan = plan_past_import(journal, read(path))
    assert (plan.batches, plan.already) == ((), (2, 3, 4, 5))


def test_own_species_and_programmes_of_the_journal_are_known(journal: Journal, tmp_path: Path) -> None:
    journal.past_batches.add(PastBatch("1", 2001, "silver_pheasant", 9))
    path = write(
        tmp_path, "Year,Species,Eggs,Programme\n2021,Silver pheasant,12,\n2021,hen,12,Hen, common practice\n"
    )
    table = read_past_seasons(path, TODAY, words=known_words(journal))
    assert [row.batch.species for row in table.rows] == ["silver_pheasant"]
    assert reasons(table) == {3: "too_many_cells"}


def test_an_import_that_is_stopped_leaves_nothing(journal: Journal, tmp_path: Path) -> None:
    table = read(write(tmp_path, BOOK))
    shares: list[float] = []
    with pytest.raises(ImportCancelledError):
        import_past_batches(journal, table, progress=shares.append, cancelled=lambda: 1.0 in shares)
    assert journal.past_batches.all() == []
    assert journal.pens.all() == []
    assert journal.history.next_undo() is None


def test_ten_thousand_lines_come_in_with_progress_and_nothing_lost(journal: Journal, tmp_path: Path) -> None:
    lines = [
        f"{n},{1990 + n % 30},hen,{12 + n % 13},{'x' if n % 100 == 7 else n % 12}" for n in range(10_000)
    ]
    path = write(tmp_path, "Batch,Year,Species,Eggs,Hatched\n" + "\n".join(lines))
    shares: list[float] = []
    table = read_past_seasons(path, TODAY, progress=shares.append)
    assert (len(table.rows), len(table.refused)) == (9_900, 100)
    import_past_batches(journal, table, progress=shares.append)
    assert len(journal.past_batches.all()) == 9_900
    assert len(shares) > 50


# ------------------------------------------------------------------ what stays out is not lost


def test_refused_lines_are_saved_as_they_stand_and_come_in_once_they_are_right(
    journal: Journal, tmp_path: Path
) -> None:
    text = BOOK + '22-02,,2022-05-01,Dödo,,Pond,,8,,,,5,"wet, and\ncold"\n22-03,,2022-06-01,hen,,,,8,,,,9,\n'
    table = read(write(tmp_path, text, encoding="cp1252"))
    plan = plan_past_import(journal, table)
    out = tmp_path / f"left{refused_ending(table)}"
    save_refused(table, plan.refused, out)
    assert out.read_bytes().decode("cp1252").splitlines() == [BOOK.splitlines()[0], *text.splitlines()[4:]]
    out.write_bytes(out.read_bytes().replace(b"D\xf6do", b"Duck").replace(b",9,\n", b",7,\n"))
    again = read(out)
    assert (len(again.rows), again.refused) == (2, ())


def test_refused_rows_of_a_workbook_are_saved_as_a_workbook(journal: Journal, tmp_path: Path) -> None:
    rows = [["Year", "Species", "Eggs"], [2021, "hen", 12], [2021, "dodo", 12.5], [2021, None, "=A1+1"]]
    table = read(book(tmp_path, rows))
    out = tmp_path / f"left{refused_ending(table)}"
    save_refused(table, table.refused, out)
    again = read(out)
    assert [row.cells for row in again.grid.rows[:2]] == [("Year", "Species", "Eggs"), (2021, "dodo", 12.5)]
    assert reasons(again) == {2: "not_whole", 3: "not_computed"}


CELL = st.sampled_from(
    ["", "-", "0", "3", "7", "12", "24", "-1", "2.5", "x", "2021", "2020", "hen", "duck", "dodo", "14.3.2021", "=1",
     "1.4.", "March 2020", "A", "B", "21-01", "Orchard", "own", '"', "tot", "Total"]
)  # fmt: skip
NAMES = [
    "Batch",
    "Year",
    "Date",
    "Species",
    "Pen",
    "Eggs",
    "Clear",
    "Opened infertile",
    "Late dead",
    "Hatched",
    "Fertile",
    "Note",
]


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.lists(CELL, min_size=1, max_size=13), max_size=12), st.booleans())
def test_every_line_of_any_table_is_accounted_for_and_what_is_planned_can_be_stored(
    tmp_path_factory: pytest.TempPathFactory, rows: list[list[str]], new_labels: bool
) -> None:
    folder = tmp_path_factory.mktemp("any")
    path = write(folder, "\n".join(";".join(row) for row in [NAMES, *rows]) + "\n")
    table = read_past_seasons(path, TODAY, hints=PastHints(species="hen", season=2019))
    numbers = [row.number for row in table.rows] + [line.number for line in table.refused]
    assert sorted([*numbers, *(number for number, _ in table.no_batches)]) == [
        row.number for row in table.grid.rows
    ]
    with Journal.create(folder / "yard.hatchbook", time_zone="UTC") as journal:
        journal.past_batches.add(PastBatch("A", 2021, "hen", 12))
        plan = plan_past_import(journal, table, new_labels=new_labels)
        assert len(plan.batches) + len(plan.already) + len(plan.refused) == len(numbers)
        import_past_batches(journal, table, new_labels=new_labels)
        stored = {batch.label: replace(batch, uid="", pen=None) for batch in journal.past_batches.all()}
        assert len(stored) == 1 + len(plan.batches)
        again = plan_past_import(journal, table, new_labels=new_labels)
        assert again.batches == ()
        for batch in journal.past_batches.all():
            past_figures(journal, batch.uid)
