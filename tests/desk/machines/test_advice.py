"""The left column: headline, sums, the room air that is typed."""

from __future__ import annotations

from hatchbook.desk.machines.advice_pane import AdvicePane
from hatchbook.desk.machines.guide_pane import GuidePane
from hatchbook.desk.machines.room_pane import RoomPane
from hatchbook.desk.machines.sum_bar import SumBar, sums_of
from hatchbook.figures.guide_results import RoomAir, RoomAirFrom
from hatchbook.figures.results import Band
from hatchbook.trade.codes import PhaseKind
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot
from tests.desk.machines.guides import NOW, ROOM, ZONE, cell, estimate, guide, wanted

BANDS = ((PhaseKind.INCUBATION, Band(40, 45, 50)), (PhaseKind.LOCKDOWN, Band(60, 65, 70)))


def plain(text: str) -> str:
    return text.replace("\u00a0", " ")


def test_room_water_and_eggs_add_up_to_what_is_expected(qtbot: QtBot) -> None:
    (one,) = sums_of(guide())
    assert one.room + one.water + one.eggs == one.whole == 38.0
    assert plain(one.text()) == "room 18 + water 18 + eggs 2 = 38 ± 2 %"


def test_without_water_the_rest_comes_from_the_eggs(qtbot: QtBot) -> None:
    dry = cell(0, 0.5, humidity=estimate(21.0))
    (one,) = sums_of(guide(setting=None, advised=None, now_cell=dry))
    assert plain(one.text()) == "room 18 + eggs 3 = 21 ± 2 %"
    bare = cell(0, 0.5, humidity=estimate(17.2))
    (one,) = sums_of(guide(setting=None, advised=None, now_cell=bare))
    assert plain(one.text()) == "room air alone: 17 ± 2 %"


def test_two_bars_stand_where_something_else_is_advised(qtbot: QtBot) -> None:
    sums = sums_of(guide(advised=(1, 0.25)))
    assert [one.name for one in sums] == ["now", "then"]
    bar = SumBar()
    qtbot.addWidget(bar)
    bar.show_sums(sums, [("incubation", "band", Band(40, 45, 50))], 40.1)
    assert plain(bar.accessibleDescription()).startswith(
        "now: room 18 + water 18 + eggs 2 = 38 ± 2 %; then: room 18"
    )
    bar.resize(220, bar.sizeHint().height())
    assert not bar.grab().isNull()
    bar.show_sums((), (), None)
    assert bar.isHidden()


def test_the_column_shows_the_advice_and_the_evidence(qtbot: QtBot) -> None:
    pane = AdvicePane(ZONE)
    qtbot.addWidget(pane)
    pane.show_guide(guide(), ROOM, BANDS)
    assert pane.headline.text().startswith("Keep 2 channel")
    assert pane.standing.isHidden()
    assert not pane.evidence.isHidden()
    assert pane.impossible.isHidden()
    little = guide(enough=False, stretches=0, hours=0.0, advised=(1, 0.25), impossible_fillings=2)
    pane.show_guide(little, None, BANDS)
    assert "it should hold" in pane.standing.text()
    assert pane.evidence.isHidden()
    assert pane.impossible.text().startswith("2 filling(s) of more channels than it has")


def test_little_evidence_is_told_under_the_table_whose_ranges_it_explains(qtbot: QtBot) -> None:
    pane = GuidePane(ZONE)
    qtbot.addWidget(pane)
    pane.show_guide(guide(), BANDS, NOW)
    assert pane.little.isHidden()
    pane.show_guide(guide(enough=False, stretches=0, hours=0.0), BANDS, NOW)
    assert "Nothing of this machine is known yet" in pane.little.text()
    assert not pane.little.isHidden()


def test_the_numbers_of_a_sum_add_up(qtbot: QtBot) -> None:
    """17.4 + 22.6 + 2.6 = 42.6 would be told as 17 + 23 + 3 = 43 only by luck."""
    whole = cell(2, 0.5, humidity=estimate(41.9))
    (one,) = sums_of(guide(setting=None, advised=None, now_cell=whole, room_only=16.6, egg_share=2.6))
    assert plain(one.text()) == "room 17 + water 22 + eggs 3 = 42 ± 2 %"
    assert plain(one.short()) == "17 + 22 + 3 = 42 ± 2 %"


def test_several_batches_can_be_advised_for(qtbot: QtBot) -> None:
    pane = AdvicePane(ZONE)
    qtbot.addWidget(pane)
    pane.show_batches((("b1", "26-05"),), "b1")
    assert pane.whose is None
    pane.show_batches((("b1", "26-05"), ("b2", "26-06")), "b2")
    assert pane.whose is not None
    assert pane.whose.current() == "b2"
    with qtbot.waitSignal(pane.batch_chosen) as told:
        pane.whose.segments()[0].click()
    assert told.args == ["b1"]


def test_what_no_air_can_do_is_not_marked_on_the_scale(qtbot: QtBot) -> None:
    pane = AdvicePane(ZONE)
    qtbot.addWidget(pane)
    pane.show_guide(guide(advised=None, wanted=wanted(humidity=0.0)), ROOM, BANDS)
    assert "Hold the band of its phase, 40–50" in pane.reason.text()
    assert pane.sums._wanted is None


def test_typed_room_air_is_told_once_typing_rests(qtbot: QtBot) -> None:
    pane = RoomPane(ZONE)
    qtbot.addWidget(pane)
    pane.show_guide(guide(), ROOM)
    assert (pane.warmth.value(), pane.humidity.value()) == (17.5, 60.0)
    assert pane.back.isHidden()
    with qtbot.waitSignal(pane.room_typed) as told:
        pane.humidity.setValue(71.5)
    assert told.args == [RoomAir(17.5, 71.5, RoomAirFrom.TYPED)]


def test_enter_in_a_field_does_not_wait(qtbot: QtBot) -> None:
    pane = RoomPane(ZONE)
    qtbot.addWidget(pane)
    pane.show_guide(guide(), ROOM)
    told: list[object] = []
    pane.room_typed.connect(told.append)
    pane.warmth.setValue(21.0)
    qtbot.keyClick(pane.warmth, Qt.Key.Key_Return)
    assert told == [RoomAir(21.0, 60.0, RoomAirFrom.TYPED)]


def test_one_goes_back_to_the_reading(qtbot: QtBot) -> None:
    pane = RoomPane(ZONE)
    qtbot.addWidget(pane)
    typed = RoomAir(25.0, 70.0, RoomAirFrom.TYPED)
    pane.show_guide(guide(room=typed), ROOM)
    assert pane.origin.text() == "as typed"
    assert not pane.back.isHidden()
    with qtbot.waitSignal(pane.room_typed) as told:
        pane.back.click()
    assert told.args == [None]
    pane.show_guide(guide(), ROOM)
    assert pane.warmth.value() == 17.5


def test_an_unknown_room_is_asked_for_in_place(qtbot: QtBot) -> None:
    pane = RoomPane(ZONE)
    qtbot.addWidget(pane)
    pane.show_guide(guide(room=RoomAir(20.0, 45.0, RoomAirFrom.ASSUMED)), None)
    assert not pane.ask.isHidden()
    assert "Type what a hygrometer shows in the room" in pane.ask.text()
    pane.show_guide(guide(), ROOM)
    assert pane.ask.isHidden()
