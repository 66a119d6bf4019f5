"""Weighing by keyboard: stored at once, asked about where it cannot be, gone on with afterwards."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hatchbook.desk.weighing.dialog import WeighDialog
from hatchbook.desk.weighing.kinds import Meaning, Scope, usual_scope
from hatchbook.figures import batch_figures
from hatchbook.figures.to_weigh import EggToWeigh, OddMass, eggs_to_weigh
from hatchbook.journal import Candling
from hatchbook.trade.codes import FindingCode, WeighPlan
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot
from tests.desk.conftest import DAY, NOW, SET_AT, Desk


@pytest.fixture
def weighed(desk: Desk) -> Desk:
    """The small journal with set masses of 60 g, and marked eggs to weigh."""
    with desk.journal.step("test") as step:
        for egg in desk.eggs:
            step.replace(replace(egg, set_mass_g=60.0))
        step.replace(replace(desk.batch, weigh_plan=WeighPlan.MARKED))
    return desk


def opened(desk: Desk, qtbot: QtBot) -> WeighDialog:
    dialog = WeighDialog(desk.context, desk.journal.batches.get(desk.batch.uid), None)
    qtbot.addWidget(dialog)
    return dialog


def typed(qtbot: QtBot, dialog: WeighDialog, text: str) -> None:
    qtbot.keyClicks(dialog.mass.field, text)
    qtbot.keyClick(dialog.mass.field, Qt.Key.Key_Return)


def masses(desk: Desk) -> list[float]:
    return sorted(mass.mass_g for mass in desk.journal.weighings.masses(desk.batch.uid))


def test_a_number_and_enter_an_egg(weighed: Desk, qtbot: QtBot) -> None:
    dialog = opened(weighed, qtbot)
    assert dialog.progress.text() == "0 of 3 weighed"
    for text in ("55.8", "56,1", "55.9"):
        typed(qtbot, dialog, text)
    assert masses(weighed) == [55.8, 55.9, 56.1]
    assert dialog.progress.text() == "3 of 3 weighed"
    weight = batch_figures(weighed.journal, weighed.batch.uid, NOW).weight
    assert weight is not None
    assert weight.mean_loss_percent == pytest.approx(100 * (1 - (55.8 + 56.1 + 55.9) / 180))


def test_each_mass_is_one_step_of_undo(weighed: Desk, qtbot: QtBot) -> None:
    dialog = opened(weighed, qtbot)
    typed(qtbot, dialog, "55.8")
    typed(qtbot, dialog, "56.1")
    weighed.door.undo()
    assert masses(weighed) == [55.8]


def test_a_mass_that_cannot_be_is_asked_about_and_kept_only_when_said_again(
    weighed: Desk, qtbot: QtBot
) -> None:
    dialog = opened(weighed, qtbot)
    typed(qtbot, dialog, "65")
    assert "Heavier than before" in dialog.mass.trouble()
    assert masses(weighed) == []
    qtbot.keyClick(dialog.mass.field, Qt.Key.Key_Return)
    (mass,) = weighed.journal.weighings.masses(weighed.batch.uid)
    assert (mass.mass_g, mass.kept_though_odd) == (65.0, True)


def test_ounces_are_kept_as_typed(weighed: Desk, qtbot: QtBot) -> None:
    dialog = opened(weighed, qtbot)
    dialog.unit.choose("ounce")
    dialog._use_unit()
    typed(qtbot, dialog, "1.97")
    (mass,) = weighed.journal.weighings.masses(weighed.batch.uid)
    assert mass.mass_g == pytest.approx(1.97 * 28.349523125)
    assert mass.entered is not None
    assert '"1.97"' in mass.entered


def test_letters_are_refused_in_place(weighed: Desk, qtbot: QtBot) -> None:
    dialog = opened(weighed, qtbot)
    typed(qtbot, dialog, "heavy")
    assert "not a number" in dialog.mass.trouble()
    assert dialog.mass.field.text() == "heavy"


def test_a_weighing_that_was_stopped_is_gone_on_with(weighed: Desk, qtbot: QtBot) -> None:
    first = opened(weighed, qtbot)
    typed(qtbot, first, "55.8")
    first.accept()
    second = opened(weighed, qtbot)
    typed(qtbot, second, "56.1")
    assert len(weighed.journal.weighings.of_batch(weighed.batch.uid)) == 1
    assert second.progress.text() == "2 of 3 weighed"


def test_the_tray_is_weighed_as_one(weighed: Desk, qtbot: QtBot) -> None:
    dialog = opened(weighed, qtbot)
    dialog.scope.choose(Scope.TRAY)
    dialog._use_scope()
    dialog.store_tray()
    assert "Type the mass" in dialog.whole.whole.trouble()
    dialog.whole.whole.set_text("900")
    dialog.whole.tare.set_text("1000")
    dialog.store_tray()
    assert "cannot weigh more" in dialog.whole.tare.trouble()
    dialog.whole.tare.set_text("210")
    dialog.store_tray()
    assert "57.5" in dialog.whole.told.text()
    (weighing,) = weighed.journal.weighings.of_batch(weighed.batch.uid)
    assert (weighing.tray_mass_g, weighing.tare_g, weighing.eggs_on_tray) == (900.0, 210.0, 12)
    assert weighing.resolution_g == 1.0


def test_a_scale_that_types_its_own_way_is_understood_and_its_resolution_kept(
    weighed: Desk, qtbot: QtBot
) -> None:
    dialog = opened(weighed, qtbot)
    typed(qtbot, dialog, "56 g")
    typed(qtbot, dialog, "ST,GS,+0055.8 g")
    assert masses(weighed) == [55.8, 56.0]
    (weighing,) = weighed.journal.weighings.of_batch(weighed.batch.uid)
    assert weighing.resolution_g == pytest.approx(0.1)
    typed(qtbot, dialog, "55")
    (weighing,) = weighed.journal.weighings.of_batch(weighed.batch.uid)
    assert weighing.resolution_g == pytest.approx(0.1)


def test_every_egg_can_be_weighed_though_only_some_are_marked(weighed: Desk, qtbot: QtBot) -> None:
    dialog = opened(weighed, qtbot)
    assert dialog.scope.current() is Scope.MARKED
    dialog.scope.choose(Scope.EVERY_EGG)
    dialog._use_scope()
    assert dialog.progress.text() == "0 of 12 weighed"


def test_the_weight_when_set_and_when_laid_are_kept_apart_from_a_weighing(
    weighed: Desk, qtbot: QtBot
) -> None:
    dialog = opened(weighed, qtbot)
    dialog.meaning.choose(Meaning.LAID)
    dialog._use_meaning()
    assert dialog.at.isHidden()
    typed(qtbot, dialog, "61.5")
    assert masses(weighed) == []
    laid = [egg.laid_mass_g for egg in weighed.journal.eggs.of_batch(weighed.batch.uid)]
    assert [mass for mass in laid if mass is not None] == [61.5]
    dialog.meaning.choose(Meaning.SET)
    dialog._use_meaning()
    assert dialog.progress.text() == "3 of 3 weighed"
    typed(qtbot, dialog, "59.5")
    kept = {egg.set_mass_g for egg in weighed.journal.eggs.of_batch(weighed.batch.uid)}
    assert kept == {59.5, 60.0}
    assert masses(weighed) == []


def test_an_egg_that_was_only_measured_shows_what_its_size_tells(weighed: Desk, qtbot: QtBot) -> None:
    egg = next(egg for egg in weighed.journal.eggs.of_batch(weighed.batch.uid) if egg.marked)
    weighed.journal.eggs.replace(replace(egg, set_mass_g=None, length_mm=57.0, breadth_mm=42.0))
    dialog = opened(weighed, qtbot)
    dialog.tray.choose(egg.uid)
    assert "about 55.1" in dialog.egg.story.text()
    assert "estimated" in dialog.egg.story.text()


@pytest.mark.parametrize(
    ("mass_g", "days", "odd"),
    [
        (59.0, 2, None),
        (60.2, 2, None),
        (61.0, 2, OddMass.HEAVIER),
        (50.0, 2, OddMass.TOO_LIGHT),
        (50.0, 12, None),
    ],
)
def test_what_is_asked_about(weighed: Desk, mass_g: float, days: float, odd: OddMass | None) -> None:
    figures = batch_figures(weighed.journal, weighed.batch.uid, NOW)
    egg: EggToWeigh = eggs_to_weigh(weighed.journal, figures)[0]
    assert egg.odd(mass_g, SET_AT + round(days * DAY)) is odd


def test_the_plan_says_what_lies_on_the_scale() -> None:
    assert usual_scope(WeighPlan.WHOLE_TRAY, any_marked=True) is Scope.TRAY
    assert usual_scope(WeighPlan.MARKED, any_marked=True) is Scope.MARKED
    assert usual_scope(WeighPlan.MARKED, any_marked=False) is Scope.EVERY_EGG
    assert usual_scope(WeighPlan.NONE, any_marked=False) is Scope.EVERY_EGG


def test_the_loss_follows_what_is_typed(weighed: Desk, qtbot: QtBot) -> None:
    dialog = opened(weighed, qtbot)
    qtbot.keyClicks(dialog.mass.field, "55.8")
    assert dialog.egg.lost.text() == "7.0\u00a0% lost"
    dialog.mass.set_text("heavy")
    assert dialog.egg.lost.text() == ""
    dialog.mass.set_text("61.2")
    assert dialog.egg.lost.text() == "2.0\u00a0% more than at first"


def test_a_weight_of_this_sitting_comes_back_as_it_was_typed(weighed: Desk, qtbot: QtBot) -> None:
    """Going back to an egg and pressing Enter must not round what was weighed."""
    dialog = opened(weighed, qtbot)
    typed(qtbot, dialog, "55,825")
    dialog.tray.choose(next(iter(dialog._eggs)))
    assert dialog.mass.field.text() == "55,825"
    qtbot.keyClick(dialog.mass.field, Qt.Key.Key_Return)
    assert masses(weighed) == [55.825]


def test_another_unit_tells_what_was_weighed_in_it_and_leaves_what_is_typed(
    weighed: Desk, qtbot: QtBot
) -> None:
    dialog = opened(weighed, qtbot)
    typed(qtbot, dialog, "55.8")
    dialog.mass.set_text("1.9")
    dialog.unit.choose("ounce")
    dialog._use_unit()
    assert dialog.mass.field.text() == "1.9"
    assert dialog.egg.story.text().startswith("2.12\u00a0oz on"), "60 g when set"
    dialog.tray.choose(next(iter(dialog._eggs)))
    assert dialog.mass.field.text().startswith("1.96"), "55.8 g"


def test_for_the_tray_no_eggs_are_counted_as_weighed(weighed: Desk, qtbot: QtBot) -> None:
    dialog = opened(weighed, qtbot)
    assert not dialog.progress.isHidden()
    dialog.scope.choose(Scope.TRAY)
    dialog._use_scope()
    assert dialog.progress.isHidden()


def test_where_no_egg_is_left_to_weigh_it_says_so(weighed: Desk, qtbot: QtBot) -> None:
    candling = Candling(weighed.batch.uid, NOW - DAY)
    codes = {egg.uid: FindingCode.CLEAR for egg in weighed.eggs}
    weighed.journal.candlings.note_findings(candling, codes, NOW - DAY)
    dialog = opened(weighed, qtbot)
    assert dialog.progress.isHidden()
    assert dialog.mass.isHidden()
    assert dialog.egg.story.text().startswith("No marked egg is left to be weighed")
    dialog.scope.choose(Scope.EVERY_EGG)
    dialog._use_scope()
    assert dialog.egg.story.text() == "No egg is left to be weighed: none is known to live."
    weighed.door.undo()
    assert not dialog.mass.isHidden()
    assert dialog.progress.text() == "0 of 12 weighed"
