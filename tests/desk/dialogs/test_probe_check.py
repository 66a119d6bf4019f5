"""A check of a probe says what it will correct before it is stored: over one salt or two, beside a reference."""

from __future__ import annotations

import pytest
from hatchbook.desk.dialogs.holding import HoldingDialog
from hatchbook.desk.dialogs.probe_check import ProbeCheckDialog
from hatchbook.desk.dialogs.probe_form import ProbeForm
from hatchbook.desk.dialogs.reading import ReadingDialog
from hatchbook.figures import batch_figures
from hatchbook.journal import ProbeCheck
from hatchbook.trade.codes import CheckMethod, MachineKind, Quantity
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot
from tests.desk.conftest import DAY, NOW, Desk
from tests.desk.dialogs.new_batch_kit import ENTER, TAB, focused, is_gone, press


def opened(desk: Desk, qtbot: QtBot, check: ProbeCheck | None = None) -> ProbeCheckDialog:
    dialog = ProbeCheckDialog(desk.context, desk.probe, None, check=check)
    dialog.open()
    qtbot.waitExposed(dialog)
    dialog.activateWindow()
    qtbot.waitUntil(lambda: QApplication.focusWidget() is not None)
    return dialog


def plain(text: str) -> str:
    return text.replace("\u00a0", " ")


def salt_check(desk: Desk, at: int, shown: float, salt: str = "NaCl", known: float = 75.3) -> ProbeCheck:
    return ProbeCheck(desk.probe.uid, at, Quantity.HUMIDITY, CheckMethod.SALT, known, shown, salt, 25.0)


def test_what_will_be_taken_off_is_said_before_it_is_stored(desk: Desk, qtbot: QtBot) -> None:
    dialog = opened(desk, qtbot)
    assert not dialog.meaning.isVisible()
    press("76.8")
    assert plain(dialog.meaning.text()) == (
        "From 14 May on 1.5 % will be taken off this hygrometer's readings. "
        "At 45.0 % they are then right to about ± 1.8 %."
    )
    assert desk.journal.probes.checks(desk.probe.uid) == []
    dialog.reject()


@pytest.mark.parametrize(
    ("shown", "words"),
    [
        ("73.3", "2.0 % will be added to this hygrometer's readings"),
        ("75.3", "It showed what it should"),
        ("95", "So far off, a check often went wrong"),
    ],
)
def test_the_sentence_follows_what_was_typed(desk: Desk, qtbot: QtBot, shown: str, words: str) -> None:
    dialog = opened(desk, qtbot)
    press(shown)
    assert words in plain(dialog.meaning.text())
    dialog.reject()


def test_two_salts_are_noted_in_one_go_and_taken_back_in_one(desk: Desk, qtbot: QtBot) -> None:
    dialog = opened(desk, qtbot)
    dialog.method.segments()[1].click()
    dialog.shown.setFocus()
    press("77.3", TAB, TAB)
    assert focused() is dialog.second_shown.field
    press("31.8")
    said = plain(dialog.meaning.text())
    assert "30.0 % as 31.1 %, 45.0 % as 45.1 %, 65.0 % as 63.8 %" in said
    assert "about ± 0.8 %" in said
    assert plain(dialog.off.text()) == "+2.0 % · −1.0 %"
    press(ENTER)
    assert is_gone(dialog)
    checks = {check.salt: check for check in desk.journal.probes.checks(desk.probe.uid)}
    assert {salt: (check.reference_value, check.shown_value, check.at) for salt, check in checks.items()} == {
        "NaCl": (75.3, 77.3, NOW),
        "MgCl2": (32.8, 31.8, NOW),
    }
    desk.door.undo()
    assert desk.journal.probes.checks(desk.probe.uid) == []


def test_interchanged_salts_are_asked_about(desk: Desk, qtbot: QtBot) -> None:
    dialog = opened(desk, qtbot)
    dialog.method.segments()[1].click()
    dialog.shown.set_text("33")
    dialog.second_shown.set_text("75")
    assert "Were the salts interchanged?" in dialog.note.text()
    dialog.second_shown.set_text("")
    assert dialog.note.isHidden()
    dialog.reject()


def test_the_same_salt_twice_is_refused_and_kept(desk: Desk, qtbot: QtBot) -> None:
    dialog = opened(desk, qtbot)
    dialog.method.segments()[1].click()
    dialog.second_salt.setCurrentIndex(dialog.second_salt.findData("NaCl"))
    dialog.shown.set_text("76")
    dialog.second_shown.set_text("76")
    dialog.store.click()
    assert "the same salt twice" in dialog.note.text()
    assert dialog.shown.field.text() == "76"
    assert desk.journal.probes.checks(desk.probe.uid) == []
    dialog.reject()


def test_only_temperatures_that_both_salts_have_are_offered(desk: Desk, qtbot: QtBot) -> None:
    dialog = opened(desk, qtbot)
    dialog.method.segments()[1].click()
    dialog.second_salt.setCurrentIndex(dialog.second_salt.findData("LiCl"))
    assert [plain(dialog.warmth.itemText(row)) for row in range(dialog.warmth.count())] == [
        "25 °C",
        "30 °C",
        "35 °C",
        "40 °C",
    ]
    dialog.reject()


def test_a_second_salt_the_day_after_goes_together_with_the_first(desk: Desk, qtbot: QtBot) -> None:
    desk.journal.probes.add_check(salt_check(desk, NOW - DAY, 77.3))
    dialog = opened(desk, qtbot)
    dialog.salt.setCurrentIndex(dialog.salt.findData("MgCl2"))
    dialog.shown.set_text("31.8")
    said = plain(dialog.meaning.text())
    assert said.startswith("From 13 May on this probe's readings are set right along a line")
    assert "It goes together with the check of 13 May." in said
    dialog.reject()


def test_a_check_put_in_late_holds_until_the_one_after_it(desk: Desk, qtbot: QtBot) -> None:
    desk.journal.probes.add_check(salt_check(desk, NOW - DAY, 76.3))
    dialog = opened(desk, qtbot)
    dialog.at.set_instant(NOW - 8 * DAY)
    dialog.shown.set_text("77.3")
    assert "The next check ends that on 13 May." in plain(dialog.meaning.text())
    dialog.reject()


def test_a_check_of_a_time_to_come_is_refused(desk: Desk, qtbot: QtBot) -> None:
    dialog = opened(desk, qtbot)
    dialog.shown.set_text("77.3")
    dialog.at.set_instant(NOW + DAY)
    dialog.store.click()
    assert "still to come" in dialog.note.text()
    assert desk.journal.probes.checks(desk.probe.uid) == []
    dialog.reject()


def test_changing_a_check_counts_it_once(desk: Desk, qtbot: QtBot) -> None:
    check = salt_check(desk, NOW - DAY, 79.3)
    desk.journal.probes.add_check(check)
    dialog = opened(desk, qtbot, check)
    assert len(dialog.method.segments()) == 2
    dialog.shown.set_text("76.3")
    assert "1.0 % will be taken off" in plain(dialog.meaning.text())
    dialog.store.click()
    (kept,) = desk.journal.probes.checks(desk.probe.uid)
    assert (kept.uid, kept.shown_value) == (check.uid, 76.3)


def test_a_stored_check_corrects_the_figures_of_the_batch(desk: Desk, qtbot: QtBot) -> None:
    before = batch_figures(desk.journal, desk.batch.uid, NOW).last_reading
    dialog = opened(desk, qtbot)
    dialog.at.set_instant(NOW - 2 * DAY)
    dialog.shown.set_text("77.3")
    dialog.store.click()
    after = batch_figures(desk.journal, desk.batch.uid, NOW).last_reading
    assert before is not None
    assert after is not None
    assert after.humidity == pytest.approx(before.humidity - 2.0)


# ---------------------------------------------------------------- what holds now


def form_of(desk: Desk) -> tuple[HoldingDialog, ProbeForm]:
    dialog = HoldingDialog(desk.context, None)
    dialog.open()
    dialog._choose(1, desk.probe.uid)
    form = dialog.form
    assert isinstance(form, ProbeForm)
    return dialog, form


def test_the_holding_says_what_corrects_a_probe_now(desk: Desk, qtbot: QtBot) -> None:
    dialog, form = form_of(desk)
    assert "Humidity was never checked: the readings count as they are" in form.corrected.text()
    desk.door.run(lambda journal: journal.probes.add_check(salt_check(desk, NOW - DAY, 76.8)))
    assert plain(form.corrected.text()) == (
        "Since 13 May 2026 1.5 % are taken off its humidity. At 45.0 % they are then right to about ± 1.8 %."
    )
    reference = ProbeCheck(desk.probe.uid, NOW - DAY, Quantity.TEMPERATURE, CheckMethod.REFERENCE, 37.8, 37.5)
    desk.door.run(lambda journal: journal.probes.add_check(reference))
    assert "0.3 °C are added to its temperature" in plain(form.corrected.text())
    dialog.reject()


def test_an_old_check_asks_to_be_done_again(desk: Desk, qtbot: QtBot) -> None:
    desk.journal.probes.add_check(salt_check(desk, NOW - 200 * DAY, 76.8))
    dialog, form = form_of(desk)
    assert "more than half a year old" in form.corrected.text()
    dialog.reject()


def test_checks_that_do_not_go_together_are_named(desk: Desk, qtbot: QtBot) -> None:
    desk.journal.probes.add_checks(
        [salt_check(desk, NOW - DAY, 33.0), salt_check(desk, NOW - DAY, 75.0, "MgCl2", 32.8)]
    )
    dialog, form = form_of(desk)
    assert "do not go together and correct nothing" in form.corrected.text()
    dialog.reject()


# ---------------------------------------------------------------- readings typed by hand


def test_a_reading_says_as_what_it_counts_and_is_kept_as_typed(desk: Desk, qtbot: QtBot) -> None:
    desk.journal.probes.add_check(salt_check(desk, NOW - DAY, 77.3))
    dialog = ReadingDialog(desk.context, desk.batch, None)
    qtbot.addWidget(dialog)
    dialog.way.choose("rh")
    dialog._show_fields()
    dialog.humidity.set_text("48")
    assert "48.0 % count as 46.0 %" in plain(dialog.means.text())
    dialog.at.set_instant(NOW - 2 * DAY)
    assert dialog.means.text() == ""
    dialog.at.set_instant(NOW)
    dialog.save.click()
    reading = desk.journal.readings.at(desk.probe.number, NOW)
    assert reading is not None
    assert reading.humidity == 48.0


def test_a_still_air_machine_begins_with_a_wick_in_still_air(desk: Desk, qtbot: QtBot) -> None:
    from dataclasses import replace

    from hatchbook.desk import settings
    from hatchbook.trade.codes import Wick

    desk.context.settings.keep(settings.WICK, str(Wick.ASPIRATED))
    machine = desk.journal.machines.get(desk.batch.machine)
    for kind, expected in ((MachineKind.FORCED_AIR, Wick.ASPIRATED), (MachineKind.STILL_AIR, Wick.STILL_AIR)):
        desk.journal.machines.replace(replace(machine, kind=kind))
        dialog = ReadingDialog(desk.context, desk.batch, None)
        qtbot.addWidget(dialog)
        assert dialog.wick.currentData() == expected
