"""Logging how a machine is set, its care, and a check that is changed."""

from __future__ import annotations

from hatchbook.desk.dialogs.care import CareDialog
from hatchbook.desk.dialogs.edit_line import edit_line
from hatchbook.desk.dialogs.machine_setting import MachineSettingDialog
from hatchbook.desk.dialogs.probe_check import ProbeCheckDialog
from hatchbook.figures.lines import journal_lines
from hatchbook.journal import Event, Machine, ProbeCheck
from hatchbook.trade.codes import CheckMethod, EventKind, Quantity
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot
from tests.desk.conftest import NOW, Desk


def machine_of(desk: Desk) -> Machine:
    return desk.journal.machines.get(desk.batch.machine)


def setting(desk: Desk, qtbot: QtBot, **given: object) -> MachineSettingDialog:
    dialog = MachineSettingDialog(desk.context, machine_of(desk), None, **given)  # type: ignore[arg-type]
    qtbot.addWidget(dialog)
    return dialog


def care(desk: Desk, qtbot: QtBot, **given: object) -> CareDialog:
    dialog = CareDialog(desk.context, machine_of(desk), None, **given)  # type: ignore[arg-type]
    qtbot.addWidget(dialog)
    return dialog


def latest(desk: Desk, kind: EventKind) -> Event:
    event = desk.journal.events.last_before(desk.batch.machine, kind, NOW + 1)
    assert event is not None
    return event


def test_it_begins_as_the_machine_stands(desk: Desk, qtbot: QtBot) -> None:
    dialog = setting(desk, qtbot)
    assert (dialog.channels.value(), dialog.vent.currentText()) == (2, "1/4")
    assert "vent 1/4" in dialog.before.text()


def test_water_and_vent_are_one_step(desk: Desk, qtbot: QtBot) -> None:
    dialog = setting(desk, qtbot, channels=3, vent=0.75)
    dialog.amount.setValue(240)
    dialog.save.click()
    water, vent = latest(desk, EventKind.WATER), latest(desk, EventKind.VENT)
    assert (water.at, water.channels_filled, water.water_ml) == (NOW, 3, 240.0)
    assert (vent.at, vent.vent) == (NOW, 0.75)
    desk.door.undo()
    assert latest(desk, EventKind.WATER).channels_filled == 2
    assert latest(desk, EventKind.VENT).vent == 0.25


def test_only_what_differs_is_logged(desk: Desk, qtbot: QtBot) -> None:
    before = latest(desk, EventKind.WATER)
    dialog = setting(desk, qtbot, channels=2, vent=0.5)
    dialog.save.click()
    assert latest(desk, EventKind.WATER) == before
    assert latest(desk, EventKind.VENT).vent == 0.5


def test_channels_that_were_filled_up_count_though_their_number_stays(desk: Desk, qtbot: QtBot) -> None:
    dialog = setting(desk, qtbot)
    dialog.show()
    assert not dialog.amount.isVisible()
    dialog.topped_up.setChecked(True)
    assert dialog.amount.isVisible()
    dialog.amount.setValue(150)
    dialog.save.click()
    assert (latest(desk, EventKind.WATER).at, latest(desk, EventKind.WATER).water_ml) == (NOW, 150.0)
    assert latest(desk, EventKind.VENT).vent == 0.25


def test_where_nothing_differs_that_is_said(desk: Desk, qtbot: QtBot) -> None:
    dialog = setting(desk, qtbot)
    dialog.show()
    dialog.save.click()
    assert dialog.note.text().startswith("Nothing differs from how it stands.")
    dialog.channels.setValue(3)
    assert not dialog.note.isVisible()
    dialog.reject()


def test_a_vent_that_cannot_be_read_stays_typed(desk: Desk, qtbot: QtBot) -> None:
    dialog = setting(desk, qtbot)
    dialog.show()
    dialog.vent.setCurrentText("wide")
    dialog.save.click()
    assert "1/2 or 30 %" in dialog.note.text()
    assert dialog.vent.currentText() == "wide"
    dialog.reject()


def test_a_shut_vent_in_lockdown_is_warned_of_and_can_be_logged(desk: Desk, qtbot: QtBot) -> None:
    dialog = setting(desk, qtbot, vent=0.0, in_lockdown=True)
    dialog.show()
    assert "hatching chicks need air" in dialog.warning.text()
    dialog.save.click()
    assert latest(desk, EventKind.VENT).vent == 0.0
    other = setting(desk, qtbot, vent=0.0)
    other.show()
    assert not other.warning.isVisible()
    other.reject()


def test_a_time_to_come_is_refused(desk: Desk, qtbot: QtBot) -> None:
    dialog = setting(desk, qtbot, channels=4)
    dialog.show()
    dialog.at.set_instant(NOW + 7200)
    dialog.save.click()
    assert "still to come" in dialog.note.text()
    dialog.reject()


def test_cleaning_is_noted_for_the_machine(desk: Desk, qtbot: QtBot) -> None:
    dialog = care(desk, qtbot)
    qtbot.keyClicks(dialog.text, "fan and grille")
    dialog.save.click()
    event = latest(desk, EventKind.CLEANED)
    assert (event.text, event.batch, event.ends_at) == ("fan and grille", None, None)


def test_a_dry_run_that_is_noted_now_began_an_hour_ago(desk: Desk, qtbot: QtBot) -> None:
    dialog = care(desk, qtbot, kind=EventKind.DRY_RUN)
    dialog.save.click()
    event = latest(desk, EventKind.DRY_RUN)
    assert (event.at, event.ends_at) == (NOW - 3600, NOW)


def test_a_run_that_would_end_in_time_to_come_is_refused(desk: Desk, qtbot: QtBot) -> None:
    dialog = care(desk, qtbot, kind=EventKind.DRY_RUN)
    dialog.show()
    dialog.minutes.setValue(600)
    dialog.save.click()
    assert "end in time to come" in dialog.note.text()
    dialog.reject()


def test_other_care_needs_words(desk: Desk, qtbot: QtBot) -> None:
    dialog = care(desk, qtbot, kind=EventKind.CARE)
    dialog.show()
    dialog.save.click()
    assert dialog.note.text() == "Write what was done first."
    dialog.text.setText("vent seal replaced")
    dialog.save.click()
    assert latest(desk, EventKind.CARE).text == "vent seal replaced"


def test_care_is_changed_and_deleted(desk: Desk, qtbot: QtBot) -> None:
    event = Event(NOW - 600, EventKind.POWER_CUT, machine=desk.batch.machine, ends_at=NOW - 60, text="storm")
    desk.journal.events.add(event)
    dialog = care(desk, qtbot, event=event)
    assert (dialog.kind, dialog.minutes.value()) == (EventKind.POWER_CUT, 9)
    dialog.minutes.setValue(5)
    dialog.save.click()
    changed = desk.journal.events.get(event.uid)
    assert changed.ends_at == NOW - 300
    care(desk, qtbot, event=changed).delete.click()
    assert desk.journal.events.find(event.uid) is None


def test_a_line_of_care_opens_as_care(desk: Desk, qtbot: QtBot) -> None:
    desk.journal.events.add(Event(NOW - 600, EventKind.CLEANED, machine=desk.batch.machine))
    lines = journal_lines(desk.journal, desk.batch.uid, NOW)
    line = next(one for one in lines if one.values.get("kind") == EventKind.CLEANED)
    owner = QWidget()
    qtbot.addWidget(owner)
    edit_line(desk.context, line, owner)
    (dialog,) = owner.findChildren(CareDialog)
    assert dialog.kind is EventKind.CLEANED
    dialog.reject()


def test_a_check_is_changed_and_deleted(desk: Desk, qtbot: QtBot) -> None:
    check = ProbeCheck(
        desk.probe.uid, NOW - 600, Quantity.HUMIDITY, CheckMethod.SALT, 75.3, 76.8, "NaCl", 25.0
    )
    desk.journal.probes.add_check(check)
    dialog = ProbeCheckDialog(desk.context, desk.probe, None, check=check)
    qtbot.addWidget(dialog)
    assert dialog.shown.field.text() == "76.8"
    dialog.shown.set_text("74.1")
    qtbot.keyClick(dialog.shown.field, Qt.Key.Key_Tab)
    dialog.store.click()
    (changed,) = desk.journal.probes.checks(desk.probe.uid)
    assert (changed.uid, changed.shown_value, changed.at) == (check.uid, 74.1, NOW - 600)
    again = ProbeCheckDialog(desk.context, desk.probe, None, check=changed)
    qtbot.addWidget(again)
    again.delete.click()
    assert desk.journal.probes.checks(desk.probe.uid) == []
