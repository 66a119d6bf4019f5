"""The table of a comparison: order, keys, what is read aloud."""

from __future__ import annotations

import pytest
from hatchbook.desk.seasons.scale import scale_of
from hatchbook.desk.seasons.table_model import FIRST_RATE, RATE_ROLE, ROW_ROLE, ComparisonModel
from hatchbook.desk.seasons.table_view import ComparisonTable
from hatchbook.figures.comparison_results import GroupRow, Question, Standing
from hatchbook.statistics.tallies import RateKind
from PySide6.QtCore import Qt
from PySide6.QtTest import QAbstractItemModelTester
from pytestqt.qtbot import QtBot
from tests.desk.seasons.made_up import PENS, figures, rate

FALLING, RISING = Qt.SortOrder.DescendingOrder, Qt.SortOrder.AscendingOrder


@pytest.fixture
def model(qtbot: QtBot) -> ComparisonModel:
    del qtbot
    model = ComparisonModel()
    QAbstractItemModelTester(model, QAbstractItemModelTester.FailureReportingMode.Fatal)
    model.show_figures(figures())
    return model


@pytest.fixture
def table(qtbot: QtBot) -> ComparisonTable:
    table = ComparisonTable()
    qtbot.addWidget(table)
    table.show_figures(figures())
    table.resize(900, 300)
    table.show()
    table.setFocus()
    return table


def names(model: ComparisonModel) -> list[str]:
    return [str(model.index(row, 0).data()) for row in range(model.rowCount())]


def test_all_batches_come_first_then_each_grouping_under_its_title(model: ComparisonModel) -> None:
    assert names(model) == [
        "All batches: hen",
        "By pen",
        "Brook",
        "Orchard",
        "Yard",
        "By season",
        "2024",
        "2025",
    ]
    assert not model.index(1, 0).flags() & Qt.ItemFlag.ItemIsSelectable
    assert model.index(2, 0).flags() & Qt.ItemFlag.ItemIsSelectable
    assert model.columnCount() == FIRST_RATE + 3


def test_groups_sort_within_their_grouping_and_what_is_not_known_stays_last(model: ComparisonModel) -> None:
    column = FIRST_RATE + 1
    model.sort(column, FALLING)
    assert names(model)[2:5] == ["Orchard", "Brook", "Yard"]
    assert names(model)[6:] == ["2025", "2024"]
    model.sort(column, RISING)
    assert names(model)[2:5] == ["Brook", "Orchard", "Yard"]  # Yard has no mean
    model.sort(0, FALLING)
    assert names(model)[2:5] == ["Yard", "Orchard", "Brook"]
    model.sort(-1)
    assert names(model)[2:5] == ["Brook", "Orchard", "Yard"]


def test_a_sorted_table_keeps_its_order_with_other_figures(model: ComparisonModel) -> None:
    model.sort(1, FALLING)
    model.show_figures(figures())
    assert names(model)[2] == "Orchard"


def test_cells_are_read_aloud_with_counts_range_and_verdict(model: ComparisonModel) -> None:
    spoken = Qt.ItemDataRole.AccessibleTextRole
    assert model.index(2, 0).data(spoken) == "Brook, 1 batch(es), 30 egg(s) set"
    assert (
        model.index(2, FIRST_RATE + 1).data(spoken).startswith("Hatched, of fertile: 64\u00a0%, range 57–71,")
    )
    assert model.index(2, FIRST_RATE + 1).data(RATE_ROLE).standing is Standing.LOWER
    assert model.index(1, 0).data(spoken) == "By pen"
    assert [model.headerData(at, Qt.Orientation.Horizontal) for at in range(6)] == [
        "Group",
        "Batches",
        "Set",
        "Fertile, of set",
        "Hatched, of fertile",
        "Hatched, of set",
    ]


def test_nothing_is_shown_without_figures(model: ComparisonModel) -> None:
    model.show_figures(None)
    assert model.rowCount() == 0


def test_a_click_on_a_head_sorts_falling_then_rising_then_not(table: ComparisonTable) -> None:
    for wanted in ((4, FALLING), (4, RISING), None):
        table.header().sectionClicked.emit(4)
        assert table.groups.sorted_by == wanted
    table.sort_by(0)
    assert table.groups.sorted_by == (0, RISING)


def test_enter_filters_by_a_row_and_esc_shows_all_again(table: ComparisonTable, qtbot: QtBot) -> None:
    asked: list[GroupRow | None] = []
    table.row_wanted.connect(asked.append)
    for _ in range(2):
        qtbot.keyClick(table, Qt.Key.Key_Down)
    assert table.currentIndex().data() == "Brook"
    qtbot.keyClick(table, Qt.Key.Key_Return)
    row = asked[-1]
    assert row is not None
    assert row.group == PENS[0]
    table.show_filter(row)
    qtbot.keyClick(table, Qt.Key.Key_Return)  # a second time: no filter any more
    assert asked[-1] is None
    table.show_filter(row)
    qtbot.keyClick(table, Qt.Key.Key_Escape)
    assert asked[-1] is None
    assert len(asked) == 3


def test_a_title_can_not_be_filtered_by(table: ComparisonTable, qtbot: QtBot) -> None:
    asked: list[object] = []
    table.row_wanted.connect(asked.append)
    table.setCurrentIndex(table.groups.index(1, 0))
    qtbot.keyClick(table, Qt.Key.Key_Return)
    assert asked == []


def test_the_menu_of_a_row_filters_and_sorts(table: ComparisonTable) -> None:
    asked: list[GroupRow | None] = []
    table.row_wanted.connect(asked.append)
    menu = table.menu_for(table.groups.index(2, 0))
    texts = [action.text() for action in menu.actions() if action.text()]
    assert texts == ["Show only these batches in charts and list", "Show all batches", "Sort by"]
    menu.actions()[0].trigger()
    assert asked[0] is not None
    assert not menu.actions()[1].isEnabled()
    sorting = menu.actions()[-1].menu()
    assert sorting is not None
    sorting.actions()[1].trigger()  # type: ignore[attr-defined]
    assert table.groups.sorted_by == (1, FALLING)
    menu.close()


def test_the_cursor_stays_on_its_group_with_other_figures(table: ComparisonTable) -> None:
    table.setCurrentIndex(table.groups.index(3, 0))
    table.groups.sort(0, FALLING)
    table.show_figures(figures())
    assert table.currentIndex().data() == "Orchard"
    assert table.currentIndex().data(ROW_ROLE) is not None


def test_every_row_is_painted_in_either_width(table: ComparisonTable) -> None:
    for width in (520, 1084):
        table.resize(width, 260)
        assert not table.grab().isNull()
        sizes = [table.header().sectionSize(column) for column in range(6)]
        assert sum(sizes) == table.viewport().width()


def test_a_scale_holds_every_firm_range_but_not_that_of_a_group_too_small() -> None:
    firm = [rate(0.72), rate(0.88)]
    assert scale_of(firm, RateKind.HATCH_OF_SET).low == 0.6
    few = [*firm, rate(0.7, Standing.TOO_FEW)]
    assert scale_of(few, RateKind.HATCH_OF_SET).low == 0.6
    assert scale_of([], RateKind.FERTILITY).low == 0.0
    loss = scale_of([rate(0.05), rate(0.1)], RateKind.EARLY_DEAD)
    assert (loss.low, loss.high) == (0.0, 0.4)
    assert loss.ticks == (0.0, 0.1, 0.2, 0.3, 0.4)
    assert loss.place(0.9) == 1.0
    assert not loss.holds(0.9)


def test_a_loss_takes_the_place_of_the_last_rate() -> None:
    asked = Question(outcome=RateKind.LATE_DEAD)
    assert asked.rates == (RateKind.FERTILITY, RateKind.HATCH_OF_FERTILE, RateKind.LATE_DEAD)
