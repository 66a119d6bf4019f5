"""The table of causes: its model, its keys, its height, and what its lines open."""

from __future__ import annotations

from dataclasses import replace
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from hatchbook.desk.causes.causes_model import CAUSE_ROLE, DETAIL_ROLE, CausesModel, Column, Detail
from hatchbook.desk.causes.causes_view import CausesView
from hatchbook.figures.cause_results import (
    BatchCauses,
    CauseFigures,
    EvidenceItem,
    RecordRef,
    SeenSign,
    Strength,
)
from hatchbook.trade.cause_codes import CauseCode, CauseSign, FactCode, FactKind, NotRecorded
from hatchbook.trade.causes import CauseLink
from hatchbook.trade.sources import SourceMark
from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtGui import QImage
from PySide6.QtTest import QAbstractItemModelTester, QTest
from pytestqt.qtbot import QtBot

ZONE = ZoneInfo("Europe/Lisbon")
KEY = Qt.Key
EGG = RecordRef("break_out", "b3", 0, {"number": 3, "result": "late_dead", "marks": ("wet",)})


def evidence(code: FactCode, *records: RecordRef, **values: Any) -> EvidenceItem:
    return EvidenceItem(code, FactKind.SIGN, 1, values, records, "", SourceMark.OURS)


def cause(code: CauseCode, strength: Strength, *, against: bool = False) -> CauseFigures:
    wet = evidence(FactCode.WET, EGG, value=0.5, count=3, of=6)
    none = evidence(FactCode.WET, value=0.0, count=0, of=6)
    link = CauseLink((code,), "moist", "Someone 1999", SourceMark.PUBLISHED)
    return CauseFigures(
        code=code,
        strength=strength,
        points_for=0 if against else 2,
        points_against=1 if against else 0,
        for_=() if against else (wet,),
        against=(none,) if against else (),
        unknown=(evidence(FactCode.WEIGHT_LOSS, value=None),),
        not_recorded=(NotRecorded.FEED,),
        explains=(SeenSign(CauseSign.WET, 3, 6, (link,)),),
        memory_alone=False,
    )


CAUSES = BatchCauses(
    batch="b",
    lost=6,
    fertile=20,
    signs=(),
    causes=(
        cause(CauseCode.TOO_HUMID, Strength.STRONG),
        cause(CauseCode.STOCK, Strength.WEAK),
        cause(CauseCode.TOO_DRY, Strength.UNLIKELY, against=True),
    ),
    chance=0.2,
    other_batches=9,
    cautions=(),
)


@pytest.fixture
def model(qtbot: QtBot) -> CausesModel:
    model = CausesModel()
    model.show_causes(CAUSES, ZONE)
    return model


@pytest.fixture
def view(qtbot: QtBot) -> CausesView:
    view = CausesView()
    qtbot.addWidget(view)
    view.resize(700, 200)
    view.show_causes(CAUSES, ZONE)
    view.show()
    view.setFocus(Qt.FocusReason.TabFocusReason)
    view.setCurrentIndex(view.causes.index(0, 0))
    return view


def test_the_model_is_sound(model: CausesModel) -> None:
    QAbstractItemModelTester(model, QAbstractItemModelTester.FailureReportingMode.Fatal)
    model.show_causes(None, ZONE)
    assert model.rowCount() == 0
    model.show_causes(CAUSES, ZONE)
    assert model.rowCount() == 3


def test_a_row_has_cause_evidence_for_and_against(model: CausesModel) -> None:
    row = [model.index(0, column).data() for column in Column]
    assert row == ["Too humid before lockdown", "strong", "3 of 6 opened late ones wet.", ""]
    spoken = model.index(0, Column.EVIDENCE).data(Qt.ItemDataRole.AccessibleTextRole)
    assert spoken == "strong, 3 of 3"
    heads = [model.headerData(column, Qt.Orientation.Horizontal) for column in Column]
    assert heads == ["Cause", "Evidence", "Speaks for it", "Speaks against it"]
    found = model.index(1, 0).data(CAUSE_ROLE)
    assert isinstance(found, CauseFigures)
    assert found.code is CauseCode.STOCK


def lines(model: CausesModel, row: int) -> list[Detail]:
    parent = model.index(row, 0)
    return [model.index(line, 0, parent).data(DETAIL_ROLE) for line in range(model.rowCount(parent))]


def test_below_it_stand_sources_records_and_what_is_not_known(model: CausesModel) -> None:
    assert [line.text for line in lines(model, 0)] == [
        "Can be behind: 3 of 6 wet. Published: Someone 1999.",
        "3 of 6 opened late ones wet.",
        "Egg 3, opened: dead late, wet",
        "Not known: weight lost by lockdown.",
        "Never in the journal: the breeders' feed.",
    ]
    assert [line.record for line in lines(model, 0)] == [None, None, EGG, None, None]


def test_causes_that_nothing_speaks_for_are_folded_away(view: CausesView) -> None:
    assert view.without_case == 1
    low = view.height()
    assert view.isRowHidden(2, QModelIndex())
    view.show_all(True)
    assert not view.isRowHidden(2, QModelIndex())
    assert view.height() > low


def test_enter_opens_and_folds_and_the_table_grows_with_it(view: CausesView) -> None:
    low = view.height()
    QTest.keyClick(view, KEY.Key_Return)
    assert view.isExpanded(view.causes.index(0, 0))
    assert view.height() > low + 60
    QTest.keyClick(view, KEY.Key_Return)
    assert view.height() == low


def test_nothing_is_cut_off_below(view: CausesView) -> None:
    view.show_all(True)
    view.expandAll()
    view.doItemsLayout()
    last = view.causes.index(2, 0)
    bottom = view.visualRect(view.causes.index(view.causes.rowCount(last) - 1, 0, last)).bottom()
    assert 0 < bottom <= view.viewport().height() <= bottom + 8


def test_enter_on_a_line_opens_its_record(view: CausesView, qtbot: QtBot) -> None:
    QTest.keyClick(view, KEY.Key_Right)
    for _ in range(3):
        QTest.keyClick(view, KEY.Key_Down)
    with qtbot.waitSignal(view.record_opened) as opened:
        QTest.keyClick(view, KEY.Key_Return)
    assert opened.args == [EGG]


def test_a_line_without_a_record_opens_nothing(view: CausesView, qtbot: QtBot) -> None:
    QTest.keyClick(view, KEY.Key_Right)
    QTest.keyClick(view, KEY.Key_Down)
    with qtbot.assertNotEmitted(view.record_opened):
        QTest.keyClick(view, KEY.Key_Return)


def test_a_click_opens_a_row(view: CausesView) -> None:
    where = view.visualRect(view.causes.index(1, 0)).center()
    QTest.mouseClick(view.viewport(), Qt.MouseButton.LeftButton, pos=where)
    assert view.isExpanded(view.causes.index(1, 0))


def test_a_narrow_table_wraps_into_higher_rows(view: CausesView) -> None:
    wide = view.height()
    view.resize(330, view.height())
    assert view.height() > wide


def test_the_same_causes_weighed_anew_keep_what_is_open_and_where_the_cursor_is(view: CausesView) -> None:
    QTest.keyClick(view, KEY.Key_Right)
    for _ in range(3):
        QTest.keyClick(view, KEY.Key_Down)
    anew = replace(CAUSES, causes=(CAUSES.causes[1], CAUSES.causes[0], CAUSES.causes[2]))
    view.show_causes(anew, ZONE)
    humid = view.causes.index(1, 0)
    assert view.isExpanded(humid)
    assert not view.isExpanded(view.causes.index(0, 0))
    assert view.currentIndex().data(DETAIL_ROLE).record == EGG
    view.show_causes(replace(CAUSES, batch="another"), ZONE)
    assert not view.isExpanded(view.causes.index(0, 0))


def test_a_cause_that_is_gone_leaves_no_cursor_behind(view: CausesView) -> None:
    view.show_causes(replace(CAUSES, causes=CAUSES.causes[1:]), ZONE)
    assert not view.isExpanded(view.causes.index(0, 0))
    assert view.causes.rowCount() == 2


def test_without_any_cause_to_show_there_is_no_table(view: CausesView) -> None:
    assert view.has_rows
    view.show_causes(replace(CAUSES, causes=CAUSES.causes[2:]), ZONE)
    assert not view.has_rows
    view.show_all(True)
    assert view.has_rows


def test_the_side_that_says_more_gets_more_room(view: CausesView) -> None:
    wide = view.columnWidth(Column.FOR)
    view.show_causes(replace(CAUSES, causes=CAUSES.causes[2:]), ZONE)
    view.show_all(True)
    assert view.columnWidth(Column.FOR) < wide


def test_a_line_that_opens_something_says_so_aloud(model: CausesModel) -> None:
    parent = model.index(0, 0)
    role = Qt.ItemDataRole.AccessibleDescriptionRole
    said = [model.index(line, 0, parent).data(role) for line in range(model.rowCount(parent))]
    assert said == [None, None, "Enter opens it", None, None]


def test_strong_weak_and_unlikely_are_painted_apart(view: CausesView) -> None:
    view.show_all(True)
    pictures = []
    for row in range(3):
        rect = view.visualRect(view.causes.index(row, Column.EVIDENCE))
        picture = QImage(rect.size(), QImage.Format.Format_RGB32)
        view.viewport().render(picture, sourceRegion=rect)
        pictures.append(picture.copy(4, 0, 60, rect.height()))
    assert pictures[0] != pictures[1]
    assert pictures[1] != pictures[2]
