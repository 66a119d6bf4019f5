"""Opening unhatched eggs by the keyboard alone: stages, ages, signs, corrections, take-backs."""

from __future__ import annotations

import pytest
from hatchbook.desk import settings
from hatchbook.desk.opening.open_unhatched import OpenUnhatchedDialog
from hatchbook.desk.widgets.labels import Label
from hatchbook.figures import batch_figures
from hatchbook.journal import Candling
from hatchbook.trade.codes import BreakOutResult, Fate, FindingCode
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot
from tests.desk.conftest import DAY, SET_AT, Desk
from tests.desk.opening.conftest import NOW, codes_of, opened

Key = Qt.Key
LATE, MID, EARLY = BreakOutResult.LATE_DEAD, BreakOutResult.MID_DEAD, BreakOutResult.EARLY_DEAD


def press(dialog: OpenUnhatchedDialog, keys: str) -> None:
    for key in keys:
        QTest.keyClicks(dialog.tray, key)


def enter(dialog: OpenUnhatchedDialog, letter: str, text: str, then: Qt.Key = Key.Key_Escape) -> None:
    """Goes to a field by its letter, types, and leaves it."""
    press(dialog, letter)
    field = dialog.focusWidget()
    assert isinstance(field, QLineEdit)
    QTest.keyClicks(field, text)
    QTest.keyClick(field, then)


def number(dialog: OpenUnhatchedDialog) -> int:
    egg = dialog.current()
    assert egg is not None
    return egg.egg.number


def test_it_begins_at_the_first_egg_to_open_and_says_what_is_known(dialog: OpenUnhatchedDialog) -> None:
    assert number(dialog) == 6
    assert dialog.story.text() == "alive on days 7, 14 and 18: died on day 18 to 21"
    assert dialog.looks.accessibleName() == "alive on days 7, 14 and 18"
    assert dialog.progress.text() == "0 of 7 opened"
    assert dialog.remaining.text() == (
        "7 egg(s) not opened: 3 counted as not known, 3 counted as clear, 1 counted as the candlings say."
    )


def test_keys_that_fit_the_candlings_stand_out(dialog: OpenUnhatchedDialog, opening: Desk) -> None:
    def expected() -> set[BreakOutResult]:
        return {BreakOutResult(one.code) for one in dialog.verdicts if dialog.key_of(one.code).is_expected}

    assert expected() == {LATE, BreakOutResult.PIPPED_DEAD}
    assert "fits what is known" in dialog.key_of(LATE).accessibleDescription()
    dialog.tray.choose(opening.eggs[8].uid)
    assert expected() == {BreakOutResult.INFERTILE, EARLY}
    dialog.tray.choose(opening.eggs[0].uid)
    assert expected() == set()


@pytest.mark.parametrize(
    ("key", "result"),
    [
        ("J", LATE),
        ("I", BreakOutResult.PIPPED_DEAD),
        ("O", BreakOutResult.ROTTEN),
        ("P", BreakOutResult.UNKNOWN),
    ],
)
def test_each_key_gives_its_result(
    dialog: OpenUnhatchedDialog, opening: Desk, key: str, result: BreakOutResult
) -> None:
    press(dialog, key.lower())
    assert {egg: one.result for egg, one in opened(opening).items()} == {6: result}
    assert opened(opening)[6].at == NOW
    assert number(dialog) == 7


def test_a_result_that_does_not_fit_is_asked_about(dialog: OpenUnhatchedDialog, opening: Desk) -> None:
    for key, word in (("K", "dead mid"), ("L", "dead early"), ("U", "infertile")):
        press(dialog, key)
        assert dialog.note.text() == (
            f"B 2, alive on days 7, 14 and 18: died on day 18 to 21: “{word}” does not fit that. "
            f"Press {key} again to store it all the same."
        )
    assert opened(opening) == {}
    press(dialog, "U")
    assert opened(opening)[6].result is BreakOutResult.INFERTILE
    assert dialog.note.text() == "B 2: An embryo was seen in it, but it was opened as infertile."


def test_clears_are_opened_and_found_infertile_or_dead_early(
    dialog: OpenUnhatchedDialog, opening: Desk
) -> None:
    dialog.tray.choose(opening.eggs[8].uid)
    assert dialog.story.text() == "clear on day 7: infertile, or dead before day 7"
    press(dialog, "UL")
    counts = batch_figures(opening.journal, opening.batch.uid, NOW).counts
    assert (counts[Fate.INFERTILE], counts[Fate.EARLY_DEAD], counts[Fate.CLEAR]) == (1, 1, 1)
    assert "2 clear egg(s) opened: 1 infertile, 1 dead early." in dialog.remaining.text()
    assert "5 egg(s) not opened: 3 counted as not known, 1 counted as clear, 1" in dialog.remaining.text()


def test_eggs_not_opened_stay_unknown_when_the_batch_is_closed(
    dialog: OpenUnhatchedDialog, opening: Desk
) -> None:
    press(dialog, "J")
    dialog.accept()
    opening.journal.batches.close(opening.batch, NOW)
    counts = batch_figures(opening.journal, opening.batch.uid, NOW).counts
    assert (counts[Fate.LATE_DEAD], counts[Fate.UNKNOWN], counts[Fate.CLEAR]) == (1, 2, 3)


def test_signs_and_malpositions_go_with_the_verdict(dialog: OpenUnhatchedDialog, opening: Desk) -> None:
    press(dialog, "wy2J")
    assert codes_of(opening, 6) == {"wet", "yolk_outside", "II"}
    assert dialog.fields.signs.ticked() == dialog.fields.positions.ticked() == []
    press(dialog, "DMBSG134567")
    press(dialog, "3J")
    assert codes_of(opening, 7) == {
        "dry_and_stuck", "malformed", "bad_smell", "small_air_cell", "large_air_cell", "I", "IV", "V", "VI", "VII",
    }  # fmt: skip


def test_an_age_with_enter_gives_its_stage(dialog: OpenUnhatchedDialog, opening: Desk) -> None:
    enter(dialog, "A", "19", Key.Key_Return)
    assert (opened(opening)[6].result, opened(opening)[6].dead_day) == (LATE, 19.0)
    assert number(dialog) == 7
    assert dialog.tray.hasFocus()
    enter(dialog, "A", "18,5", Key.Key_Return)
    assert opened(opening)[7].dead_day == 18.5


def test_an_age_goes_by_the_arrows_from_the_days_that_are_open(
    dialog: OpenUnhatchedDialog, opening: Desk
) -> None:
    press(dialog, "A")
    field = dialog.fields.day.field
    texts = []
    for key in (Key.Key_Up, Key.Key_Up, Key.Key_Down, Key.Key_Down, Key.Key_Down):
        QTest.keyClick(field, key)
        texts.append(field.text())
    assert texts == ["18", "19", "18", "17", "16"]
    field.clear()
    QTest.keyClick(field, Key.Key_Down)
    assert field.text() == "21"
    chosen = dialog.fields.day.signs.currentIndex().data()
    assert chosen == "day 21: hatches"


@pytest.mark.parametrize(
    ("text", "trouble"),
    [
        ("late", "“late” is not a number."),
        ("23", "A day lies between 0 and 22."),
        ("-1", "A day lies between 0 and 22."),
    ],
)
def test_an_age_that_is_none_is_said_and_stays_typed(
    dialog: OpenUnhatchedDialog, opening: Desk, text: str, trouble: str
) -> None:
    enter(dialog, "A", text, Key.Key_Return)
    assert dialog.fields.day._trouble.text() == trouble
    QTest.keyClick(dialog.fields.day.field, Key.Key_Escape)
    press(dialog, "J")
    assert dialog.note.text() == "Mend the day, or take it away."
    assert dialog.fields.day.field.text() == text
    assert opened(opening) == {}


def test_a_stage_that_does_not_fit_its_day_is_asked_about(dialog: OpenUnhatchedDialog, opening: Desk) -> None:
    dialog.tray.choose(opening.eggs[11].uid)
    enter(dialog, "A", "10")
    press(dialog, "J")
    assert dialog.note.text().startswith("Day 10 belongs to “dead mid”, not to “dead late”.")
    press(dialog, "K")
    assert (opened(opening)[12].result, opened(opening)[12].dead_day) == (MID, 10.0)


def test_an_infertile_egg_has_no_day(dialog: OpenUnhatchedDialog, opening: Desk) -> None:
    dialog.tray.choose(opening.eggs[8].uid)
    enter(dialog, "A", "3")
    press(dialog, "U")
    assert dialog.note.text().startswith("An infertile egg has no day of death")
    press(dialog, "U")
    assert (opened(opening)[9].result, opened(opening)[9].dead_day) == (BreakOutResult.INFERTILE, None)


def test_several_eggs_alike_are_one_step(dialog: OpenUnhatchedDialog, opening: Desk) -> None:
    dialog.tray.choose(opening.eggs[8].uid)
    for _ in range(2):
        QTest.keyClick(dialog.tray, Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    press(dialog, "U")
    assert set(opened(opening)) == {9, 10, 11}
    assert dialog.last.text() == "3 egg(s) opened: infertile"
    QTest.keyClick(dialog.tray, Key.Key_Backspace)
    assert opened(opening) == {}


def test_who_opens_is_remembered(dialog: OpenUnhatchedDialog, opening: Desk, qtbot: QtBot) -> None:
    enter(dialog, "E", "Ana", Key.Key_Return)
    press(dialog, "J")
    assert opened(opening)[6].by_whom == "Ana"
    assert opening.context.settings.get(settings.OBSERVER) == "Ana"
    again = OpenUnhatchedDialog(opening.context, opening.batch, None)
    qtbot.addWidget(again)
    assert again.by_whom.text() == "Ana"


def test_an_opened_egg_shows_what_was_stored_and_changes_are_stored_at_once(
    dialog: OpenUnhatchedDialog, opening: Desk
) -> None:
    enter(dialog, "E", "Ana", Key.Key_Return)
    press(dialog, "W")
    enter(dialog, "A", "19")
    enter(dialog, "N", "on its back")
    press(dialog, "J")
    dialog.tray.choose(opening.eggs[5].uid)
    assert dialog.found.text() == "Opened by Ana: dead late, day 19"
    assert dialog.fields.day.field.text() == "19"
    assert dialog.fields.note.text() == "on its back"
    press(dialog, "Y")
    assert codes_of(opening, 6) == {"wet", "yolk_outside"}
    press(dialog, "W")
    assert codes_of(opening, 6) == {"yolk_outside"}
    enter(dialog, "A", "20")
    record = opened(opening)[6]
    assert (record.dead_day, record.result, record.by_whom, record.note) == (20.0, LATE, "Ana", "on its back")
    assert dialog.last.text() == "Opened egg 6 changed: dead late"
    QTest.keyClick(dialog.tray, Key.Key_Backspace)
    assert opened(opening)[6].dead_day == 19.0
    assert dialog.fields.day.field.text() == "19"


def test_a_second_verdict_replaces_the_first(dialog: OpenUnhatchedDialog, opening: Desk) -> None:
    press(dialog, "J")
    dialog.tray.choose(opening.eggs[5].uid)
    press(dialog, "I")
    assert opened(opening)[6].result is BreakOutResult.PIPPED_DEAD
    assert dialog.last.text() == "Opened egg 6 changed: died in pip"


def test_del_takes_an_opening_away_and_backspace_brings_it_back(
    dialog: OpenUnhatchedDialog, opening: Desk
) -> None:
    press(dialog, "W")
    press(dialog, "J")
    dialog.tray.choose(opening.eggs[5].uid)
    QTest.keyClick(dialog.tray, Key.Key_Delete)
    assert opened(opening) == {}
    assert dialog.last.text() == "Egg 6 not opened after all (dead late removed)"
    QTest.keyClick(dialog.tray, Key.Key_Backspace)
    assert codes_of(opening, 6) == {"wet"}
    dialog.tray.choose(opening.eggs[6].uid)
    QTest.keyClick(dialog.tray, Key.Key_Delete)
    assert dialog.note.text() == "None of the chosen eggs is opened."


def test_backspace_takes_back_as_often_as_wanted_and_stops_before_the_hatch(
    dialog: OpenUnhatchedDialog, opening: Desk
) -> None:
    press(dialog, "JJ")
    for _ in range(2):
        QTest.keyClick(dialog.tray, Key.Key_Backspace)
    assert opened(opening) == {}
    assert number(dialog) == 6
    QTest.keyClick(dialog.tray, Key.Key_Backspace)
    assert dialog.note.text() == "There is nothing of these eggs left to take back here."
    assert len(opening.journal.hatchings.of_batch(opening.batch.uid)) == 5


def test_what_is_seen_waits_for_its_verdict_and_leaving_says_so(
    dialog: OpenUnhatchedDialog, opening: Desk
) -> None:
    press(dialog, "W3")
    enter(dialog, "A", "20")
    dialog.tray.choose(opening.eggs[6].uid)
    assert dialog.fields.signs.ticked() == []
    dialog.tray.choose(opening.eggs[5].uid)
    assert [str(code) for code in dialog.fields.signs.ticked()] == ["wet"]
    assert dialog.fields.day.field.text() == "20"
    QTest.keyClick(dialog.tray, Key.Key_Escape)
    assert dialog.isVisible()
    assert dialog.note.text() == ("B 2: seen, but without a verdict, so not stored. Leave again to drop it.")
    QTest.keyClick(dialog.tray, Key.Key_Escape)
    assert not dialog.isVisible()
    assert opened(opening) == {}


def test_hatched_eggs_are_not_opened_without_being_asked(dialog: OpenUnhatchedDialog, opening: Desk) -> None:
    dialog.tray.choose(opening.eggs[0].uid)
    press(dialog, "J")
    assert dialog.note.text().startswith("A 1, alive on days 7, 14 and 18: hatched.")
    assert opened(opening) == {}


def test_before_the_hatch_only_clears_and_dead_eggs_are_opened(desk: Desk, qtbot: QtBot) -> None:
    codes = dict.fromkeys((egg.uid for egg in desk.eggs), FindingCode.ALIVE)
    codes[desk.eggs[3].uid] = FindingCode.CLEAR
    candling = Candling(desk.batch.uid, SET_AT + 7 * DAY)
    desk.journal.candlings.note_findings(candling, codes, candling.at)
    dialog = OpenUnhatchedDialog(desk.context, desk.batch, None)
    qtbot.addWidget(dialog)
    assert dialog.pain.isHidden()
    assert number(dialog) == 4
    assert dialog.remaining.text() == ("1 egg(s) not opened: 1 counted as clear. 11 egg(s) may still hatch.")
    press(dialog, "U")
    dialog.tray.choose(desk.eggs[0].uid)
    press(dialog, "K")
    assert dialog.note.text().startswith("A 1, alive on day 7: may still hatch.")
    assert set(opened(desk)) == {4}


def test_cautions_stand_where_they_belong(dialog: OpenUnhatchedDialog) -> None:
    texts = " ".join(label.text() for label in dialog.findChildren(Label))
    assert "Rotten eggs can burst: bag them first, protect your eyes." in texts
    assert dialog.pain.isVisible()
    assert dialog.pain.text() == (
        "Late embryos may feel pain. This program gives no method: ask a veterinarian."
    )
