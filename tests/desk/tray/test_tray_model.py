"""The tray's table: several trays, eggs without a place, changes that keep the shape."""

from __future__ import annotations

from dataclasses import replace

from hatchbook.desk.tray.tray_model import EGG_ROLE, HEADING_ROLE, PLACE_ROLE, TrayModel
from hatchbook.figures import batch_figures
from hatchbook.journal import Candling, EggMass, Weighing
from hatchbook.trade.codes import FindingCode
from PySide6.QtCore import Qt
from PySide6.QtTest import QAbstractItemModelTester, QSignalSpy
from tests.desk.conftest import DAY, NOW, SET_AT, Desk
from tests.desk.tray.conftest import lay_loose, with_trays

SPOKEN = Qt.ItemDataRole.AccessibleTextRole


def show(desk: Desk, model: TrayModel) -> None:
    model.show_view(batch_figures(desk.journal, desk.batch.uid, NOW))


def shown(desk: Desk) -> TrayModel:
    model = TrayModel()
    QAbstractItemModelTester(model, QAbstractItemModelTester.FailureReportingMode.Fatal)
    show(desk, model)
    return model


def headings(model: TrayModel) -> dict[int, str]:
    rows = range(model.rowCount())
    return {row: text for row in rows if (text := model.index(row, 0).data(HEADING_ROLE))}


def test_several_trays_stand_below_each_other_under_their_headings(desk: Desk) -> None:
    with_trays(desk, 2)
    model = shown(desk)
    assert headings(model) == {0: "Tray 1", 4: "Tray 2"}
    assert model.index(1, 0).data(PLACE_ROLE) == (1, 1, 1)
    assert model.index(5, 3).data(PLACE_ROLE) == (2, 1, 4)
    assert model.index(5, 3).data(SPOKEN) == "2 A 4, empty"
    letters = [model.headerData(row, Qt.Orientation.Vertical) for row in range(model.rowCount())]
    assert letters == ["", "A", "B", "C", "", "A", "B", "C"]


def test_one_tray_needs_no_heading(desk: Desk) -> None:
    assert headings(shown(desk)) == {}


def test_eggs_without_a_place_follow_in_rows_of_their_own(desk: Desk) -> None:
    lay_loose(desk, 2, 3, 5, 6, 7)
    model = shown(desk)
    assert headings(model) == {3: "without a place"}
    assert model.rowCount() == 6
    assert [model.index(4, column).data(EGG_ROLE).egg.number for column in range(4)] == [2, 3, 5, 6]
    loose = model.index_of(desk.eggs[6].uid)
    assert (loose.row(), loose.column(), loose.data(PLACE_ROLE)) == (5, 0, None)
    assert loose.data(SPOKEN).startswith("without a place, egg 7, Orchard")


def test_headings_and_what_is_left_of_a_loose_row_cannot_be_reached(desk: Desk) -> None:
    lay_loose(desk, 2)
    model = shown(desk)
    assert model.flags(model.index(3, 0)) == Qt.ItemFlag.NoItemFlags
    assert model.flags(model.index(4, 1)) == Qt.ItemFlag.NoItemFlags
    assert model.flags(model.index(4, 0)) & Qt.ItemFlag.ItemIsSelectable
    empty = model.flags(model.index(0, 1))
    assert empty & Qt.ItemFlag.ItemIsEnabled
    assert not empty & Qt.ItemFlag.ItemIsSelectable


def test_an_egg_where_the_machine_has_no_place_any_more_is_still_shown(desk: Desk) -> None:
    machine = desk.journal.machines.get(desk.batch.machine)
    desk.journal.machines.replace(replace(machine, tray_rows=2, tray_columns=3))
    model = shown(desk)
    assert (model.rowCount(), model.columnCount()) == (3, 4)
    assert len(model.eggs()) == 12


def test_other_values_in_the_same_shape_are_no_reset(desk: Desk) -> None:
    model = shown(desk)
    reset, changed = QSignalSpy(model.modelReset), QSignalSpy(model.dataChanged)
    desk.journal.eggs.move(desk.eggs[0], 1, 3, 4)
    show(desk, model)
    assert (reset.count(), changed.count()) == (0, 1)
    assert model.index(2, 3).data(EGG_ROLE).egg.number == 1
    lay_loose(desk, 1)
    show(desk, model)
    assert reset.count() == 1


def test_without_a_batch_there_is_nothing(desk: Desk) -> None:
    model = shown(desk)
    model.show_view(None)
    assert (model.rowCount(), model.eggs()) == (0, [])


def test_an_egg_speaks_of_what_was_seen_and_lost(desk: Desk) -> None:
    first = desk.eggs[0]
    desk.journal.eggs.replace(replace(first, set_mass_g=60.0, remark="long"))
    candling = Candling(desk.batch.uid, SET_AT + 7 * DAY)
    desk.journal.candlings.note_finding(candling, first.uid, FindingCode.ALIVE, candling.at)
    weighing = Weighing(desk.batch.uid, SET_AT + 8 * DAY)
    desk.journal.weighings.note_weighing(weighing, [EggMass(weighing.uid, first.uid, 57.0)])
    model = shown(desk)
    assert model.index(0, 0).data(SPOKEN) == (
        "A 1, egg 1, Orchard, laid 29 Apr; alive; day 7: alive; 5.0\u00a0% lost; marked for weighing; long"
    )


def test_records_that_contradict_each_other_are_spoken_of(desk: Desk) -> None:
    first = desk.eggs[0]
    for day, code in ((7, FindingCode.DEAD), (14, FindingCode.ALIVE)):
        candling = Candling(desk.batch.uid, SET_AT + day * DAY)
        desk.journal.candlings.note_finding(candling, first.uid, code, candling.at)
    model = shown(desk)
    assert "the records contradict each other" in model.index(0, 0).data(SPOKEN)
