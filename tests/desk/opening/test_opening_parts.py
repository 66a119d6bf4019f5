"""The parts of the opening: signs as a model, ticks by key, the day, looks, the tray, the words."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hatchbook.desk.opening.day_field import DayField
from hatchbook.desk.opening.day_signs import OPEN_ROLE, DaySignsModel, DaySignsView
from hatchbook.desk.opening.key_ticks import KeyTicks
from hatchbook.desk.opening.looks_row import LooksRow
from hatchbook.desk.opening.open_unhatched import OpenUnhatchedDialog
from hatchbook.desk.words.embryo import SIGN_WORDS, day_and_signs, signs_of_day, whose_signs
from hatchbook.desk.words.openings import known_sentence, with_and
from hatchbook.figures import batch_figures
from hatchbook.figures.openings import OpeningState, openings
from hatchbook.journal import Candling
from hatchbook.trade.codes import BreakOutSign, FindingCode, Malposition
from hatchbook.trade.embryo import EmbryoSign, load_embryo_stages
from PySide6.QtCore import Qt
from PySide6.QtTest import QAbstractItemModelTester, QTest
from PySide6.QtWidgets import QCheckBox
from pytestqt.qtbot import QtBot
from tests.desk.conftest import DAY, SET_AT, Desk
from tests.desk.opening.conftest import NOW

HEN = load_embryo_stages().days_for(21)
DUCK = load_embryo_stages().days_for(28)


def test_every_sign_has_its_own_words() -> None:
    assert set(SIGN_WORDS) == set(EmbryoSign)
    assert len(set(SIGN_WORDS.values())) == len(SIGN_WORDS)


def test_a_day_is_said_with_its_signs_and_for_another_bird_with_the_hens_day(qtbot: QtBot) -> None:
    assert day_and_signs(HEN[5]) == ("day 6: beak begins, egg tooth, limbs in their parts, moves of itself")
    assert day_and_signs(DUCK[5]).startswith("day 8.0 (a hen's 6): beak begins")
    assert signs_of_day(DUCK[5]).endswith("moves of itself (hen 6)")
    assert whose_signs("hen", 21, 21) == "Signs of the hen. An age is read to about a day."
    assert "same share of 28 days for the duck" in whose_signs("duck", 28, 21)


def test_the_signs_are_a_sound_model(qtbot: QtBot) -> None:
    model = DaySignsModel(HEN)
    QAbstractItemModelTester(model, QAbstractItemModelTester.FailureReportingMode.Fatal)
    assert model.rowCount() == 20
    assert model.row_at(11.2) == [day.day for day in HEN].index(12)
    model.show_span((18.0, 21.0))
    open_days = [day.day for row, day in enumerate(HEN) if model.index(row).data(OPEN_ROLE)]
    # An age is read to about a day.
    assert open_days == [18, 19, 20, 21]
    described = model.index(19).data(Qt.ItemDataRole.AccessibleDescriptionRole)
    assert described == "fits the candlings"
    model.show_span(None)
    assert all(model.index(row).data(OPEN_ROLE) for row in range(20))


def test_long_signs_take_more_lines_in_a_narrow_list(qtbot: QtBot) -> None:
    view = DaySignsView(HEN)
    qtbot.addWidget(view)
    view.resize(600, 300)
    view.show()
    wide = [view.sizeHintForIndex(view.signs.index(row)).height() for row in range(20)]
    view.resize(200, 300)
    narrow = [view.sizeHintForIndex(view.signs.index(row)).height() for row in range(20)]
    assert narrow[2] > wide[2]
    assert narrow[7] == wide[7]


def test_a_day_chosen_by_its_signs_stands_in_the_field(qtbot: QtBot) -> None:
    field = DayField(DUCK, "note")
    qtbot.addWidget(field)
    field.show_day(None, (20.0, 28.0), 29.5)
    with qtbot.waitSignal(field.day_left):
        field.signs.clicked.emit(field.signs.signs.index(17))
    assert field.day() == pytest.approx(round(DUCK[17].day, 1))
    field.step(1)
    assert field.day() == 26.0
    field.step(-1)
    assert field.day() == 25.0


def test_arrows_in_the_list_choose_days_too(qtbot: QtBot) -> None:
    field = DayField(HEN, "note")
    qtbot.addWidget(field)
    field.show_day(14.0, (7.0, 14.0), 21.0)
    QTest.keyClick(field.signs, Qt.Key.Key_Up)
    assert field.day() == 13.0
    QTest.keyClick(field.signs, Qt.Key.Key_Up)
    assert field.day() == 12.0
    QTest.keyClick(field.signs, Qt.Key.Key_Up)
    assert field.day() == 10.0  # the table has no line for day 11


@pytest.mark.parametrize(("day", "down", "up"), [(18.5, 18.0, 19.0), (0.0, 0.0, 1.0), (21.6, 21.0, 21.0)])
def test_steps_are_whole_days_within_what_can_be(qtbot: QtBot, day: float, down: float, up: float) -> None:
    field = DayField(HEN, "note")
    qtbot.addWidget(field)
    for step, expected in ((-1, down), (1, up)):
        field.show_day(day, None, 21.9)
        field.step(step)
        assert field.day() == expected


def test_ticks_answer_to_their_keys_alone(qtbot: QtBot) -> None:
    ticks = KeyTicks([(BreakOutSign.WET, "W", "Wet"), (Malposition.V_FEET_OVER_HEAD, "5", "Feet")], 2)
    qtbot.addWidget(ticks)
    with qtbot.waitSignal(ticks.changed):
        assert ticks.toggle("W")
    assert not ticks.toggle("X")
    assert ticks.ticked() == [BreakOutSign.WET]
    with qtbot.assertNotEmitted(ticks.changed):
        ticks.show_ticked({"V"})
    assert ticks.ticked() == [Malposition.V_FEET_OVER_HEAD]
    box = ticks.findChildren(QCheckBox)[0]
    assert (box.accessibleName(), box.accessibleDescription()) == ("Wet", "Key W")


@pytest.mark.parametrize(
    ("looks", "sentence"),
    [
        ([], "never looked into: may have died on any day"),
        (
            [(7, FindingCode.ALIVE), (14, FindingCode.DEAD)],
            "alive on day 7, dead on day 14: died on day 7 to 14",
        ),
        (
            [(7, FindingCode.CLEAR), (14, FindingCode.CLEAR)],
            "clear on days 7 and 14: infertile, or dead before day 7",
        ),
        ([(7, FindingCode.EARLY_DEAD)], "blood ring on day 7: died on day 0 to 7"),
        ([(7, FindingCode.UNSURE)], "unsure on day 7: may have died on any day"),
        (
            [(7, FindingCode.ALIVE), (10, FindingCode.CRACKED)],
            "alive on day 7, cracked on day 10: died on day 7 to 21",
        ),
    ],
)
def test_what_is_known_is_said_in_one_sentence(
    desk: Desk, looks: list[tuple[int, FindingCode]], sentence: str
) -> None:
    for day, code in looks:
        candling = Candling(desk.batch.uid, SET_AT + day * DAY)
        desk.journal.candlings.note_finding(candling, desk.eggs[0].uid, code, candling.at)
    found = openings(batch_figures(desk.journal, desk.batch.uid, NOW))
    assert known_sentence(found.eggs[0]) == sentence


def test_days_are_listed_as_one_says_them(qtbot: QtBot) -> None:
    assert [with_and(parts) for parts in ([], ["7"], ["7", "14"], ["7", "14", "18"])] == [
        "", "7", "7 and 14", "7, 14 and 18",
    ]  # fmt: skip


def test_the_looks_row_paints_each_look(opening: Desk, qtbot: QtBot) -> None:
    row = LooksRow()
    qtbot.addWidget(row)
    row.resize(300, row.sizeHint().height())
    found = openings(batch_figures(opening.journal, opening.batch.uid, NOW))
    pictures = []
    for egg in (None, found.eggs[5], found.eggs[8], replace(found.eggs[5], pipped_day=20.5)):
        row.show_egg(egg)
        pictures.append(row.grab().toImage())
    assert all(one != other for at, one in enumerate(pictures) for other in pictures[at + 1 :])
    assert row.accessibleName() == "alive on days 7, 14 and 18, pipped on day 20.5"


def test_the_tray_shows_shells_to_open_and_pales_the_rest(dialog: OpenUnhatchedDialog, opening: Desk) -> None:
    def ink(number: int) -> int:
        """How far the place of an egg is from empty."""
        index = dialog.tray.tray.index_of(opening.eggs[number - 1].uid)
        dialog.tray.clearSelection()
        rect = dialog.tray.visualRect(index)
        image = dialog.tray.viewport().grab(rect).toImage()
        ground = image.pixelColor(1, 1)
        return sum(
            abs(image.pixelColor(x, y).value() - ground.value())
            for x in range(image.width())
            for y in range(image.height())
        )

    hatched, to_open = ink(1), ink(6)
    assert hatched < to_open
    dialog.tray.choose(opening.eggs[5].uid)
    QTest.keyClicks(dialog.tray, "J")
    assert ink(6) > to_open
    states = dialog.delegate.states
    assert states[opening.eggs[5].uid] is OpeningState.OPENED
    assert states[opening.eggs[0].uid] is OpeningState.GONE
