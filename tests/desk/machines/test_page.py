"""The Machines page over a small journal: what it shows, when it reckons, what is logged from it."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pytest
from hatchbook.desk.actions import Actions
from hatchbook.desk.charts.material import BatchMaterial
from hatchbook.desk.dialogs.care import CareDialog
from hatchbook.desk.dialogs.machine_setting import MachineSettingDialog
from hatchbook.desk.dialogs.probe_check import ProbeCheckDialog
from hatchbook.desk.machines.page import MachinesPage
from hatchbook.desk.machines.reckoning import fitted_model
from hatchbook.desk.pages.key_figures import KeyFigures
from hatchbook.desk.tasks import ThreadWorker
from hatchbook.desk.words.numbers import number, percent
from hatchbook.figures import batch_curves, batch_figures
from hatchbook.figures.guide_results import RoomAirFrom
from hatchbook.journal import Event, Journal, Machine, OwnProgramme, ProbeCheck
from hatchbook.trade.codes import CheckMethod, EventKind, Quantity
from PySide6.QtCore import QObject, Qt
from PySide6.QtWidgets import QDialog
from pytestqt.qtbot import QtBot
from tests.desk.conftest import NOW, Desk


class Counted:
    """Fits a machine, and counts how often."""

    def __init__(self) -> None:
        self.fitted: list[str] = []

    def __call__(self, journal: Journal, uid: str, now: int, progress: Callable[[float], None]) -> object:
        self.fitted.append(uid)
        return fitted_model(journal, uid, now, progress)


@pytest.fixture
def counted() -> Counted:
    return Counted()


@pytest.fixture
def page(desk: Desk, qtbot: QtBot, counted: Counted) -> Iterator[MachinesPage]:
    owner = QObject()
    made = MachinesPage(desk.context, Actions(owner), counted)  # type: ignore[arg-type]
    qtbot.addWidget(made)
    made.resize(1080, 760)
    made.show()
    yield made
    made.close()
    owner.deleteLater()


def shown(page: MachinesPage, qtbot: QtBot, uid: str | None = None) -> MachinesPage:
    page.show_page(uid)
    qtbot.waitUntil(lambda: page.shown is not None and not page.work.is_busy)
    return page


def opened(page: MachinesPage, kind: type[QDialog]) -> QDialog:
    found = [one for one in page.findChildren(kind) if one.isVisible()]
    assert len(found) == 1
    return found[0]


def settled(page: MachinesPage, qtbot: QtBot) -> None:
    qtbot.waitUntil(lambda: not page.work.is_busy)


def test_the_machine_of_the_chosen_batch_is_shown_with_what_it_holds(
    page: MachinesPage, desk: Desk, qtbot: QtBot
) -> None:
    shown(page, qtbot)
    assert page.shown is not None
    assert page.shown.uid == desk.batch.machine
    facts = page.header.facts.text()
    assert "Holds 26-05 Orchard hens, day 11, incubation until" in facts
    assert "Shelf logger" in facts
    assert page.guide.table.cells.rowCount() == 5, "four channels, and none of them"
    assert page.advice.headline.text()
    assert page.history.chart.items
    assert page.body.currentWidget() is page.area


def test_a_page_that_is_not_seen_reckons_nothing(page: MachinesPage, desk: Desk, counted: Counted) -> None:
    page.hide()
    desk.door.run(lambda journal: journal.events.add(Event(NOW, EventKind.LID, machine=desk.batch.machine)))
    assert counted.fitted == []


def test_it_follows_what_concerns_it_and_nothing_else(
    page: MachinesPage, desk: Desk, qtbot: QtBot, counted: Counted
) -> None:
    shown(page, qtbot)
    assert len(counted.fitted) == 1
    desk.door.run(lambda journal: journal.programmes.add(OwnProgramme("mine", "hen", "Mine", "{}")))
    assert len(counted.fitted) == 1
    machine = desk.batch.machine
    desk.door.run(lambda journal: journal.events.log_setting(machine, NOW - 60, channels=3))
    settled(page, qtbot)
    assert len(counted.fitted) == 2
    assert page.shown is not None
    assert page.shown.guide.setting == (3, 0.25)


def test_a_hidden_page_reckons_when_it_is_shown_again(
    page: MachinesPage, desk: Desk, qtbot: QtBot, counted: Counted
) -> None:
    shown(page, qtbot)
    page.hide()
    machine = desk.batch.machine
    desk.door.run(lambda journal: journal.events.log_setting(machine, NOW - 60, vent=1.0))
    assert len(counted.fitted) == 1
    page.show()
    settled(page, qtbot)
    assert len(counted.fitted) == 2


def test_typed_room_air_changes_the_numbers_without_fitting_anew(
    page: MachinesPage, qtbot: QtBot, counted: Counted
) -> None:
    shown(page, qtbot)
    assert page.shown is not None
    before = page.shown.guide
    assert before.room.origin is RoomAirFrom.ASSUMED, "no probe hangs in the room"
    assert not page.advice.room.ask.isHidden()
    page.advice.room.humidity.setValue(90.0)
    qtbot.waitUntil(lambda: page.shown is not None and page.shown.guide is not before)
    after = page.shown.guide
    assert after.room.origin is RoomAirFrom.TYPED
    assert after.room_only > before.room_only
    assert page.advice.room.ask.isHidden()
    page.advice.room.back.click()
    qtbot.waitUntil(lambda: page.shown is not None and page.shown.guide.room.origin is RoomAirFrom.ASSUMED)
    assert len(counted.fitted) == 1


def test_enter_in_the_table_logs_the_setting_as_one_step(
    page: MachinesPage, desk: Desk, qtbot: QtBot
) -> None:
    shown(page, qtbot)
    page.focus_first()
    page.guide.table.setCurrentIndex(
        page.guide.table.cells.index(3, page.guide.table.cells.columnCount() - 1)
    )
    qtbot.keyClick(page.guide.table, Qt.Key.Key_Return)
    dialog = opened(page, MachineSettingDialog)
    assert isinstance(dialog, MachineSettingDialog)
    assert (dialog.channels.value(), dialog.vent.currentText()) == (3, "open")
    dialog.save.click()
    settled(page, qtbot)
    assert page.shown is not None
    assert page.shown.guide.setting == (3, 1.0)
    desk.door.undo()
    settled(page, qtbot)
    assert page.shown.guide.setting == (2, 0.25)


def test_the_header_logs_checks_settings_and_care(page: MachinesPage, qtbot: QtBot) -> None:
    shown(page, qtbot)
    page.header.check.click()
    opened(page, ProbeCheckDialog).reject()
    page.header.setting.click()
    opened(page, MachineSettingDialog).reject()


def test_entries_open_and_go_and_come_back(page: MachinesPage, desk: Desk, qtbot: QtBot) -> None:
    machine = desk.batch.machine
    event = Event(NOW - 3600, EventKind.CARE, machine=machine, text="vent seal replaced")
    check = ProbeCheck(
        desk.probe.uid, NOW - 7200, Quantity.HUMIDITY, CheckMethod.SALT, 75.3, 76.8, "NaCl", 25.0
    )
    desk.journal.events.add(event)
    desk.journal.probes.add_check(check)
    shown(page, qtbot)
    table = page.care.table
    texts = [[str(table.care.index(row, column).data()) for column in range(3)] for row in range(2)]
    assert [row[1] for row in texts] == ["vent seal replaced", "Salt test, Shelf logger"]
    assert texts[1][2].replace("\u00a0", " ") == "1.5 % high at 75.3 %"
    table.setCurrentIndex(table.care.index(0, 0))
    qtbot.keyClick(table, Qt.Key.Key_Return)
    dialog = opened(page, CareDialog)
    assert isinstance(dialog, CareDialog)
    assert dialog.text.text() == "vent seal replaced"
    dialog.reject()
    table.setCurrentIndex(table.care.index(1, 0))
    qtbot.keyClick(table, Qt.Key.Key_Return)
    opened(page, ProbeCheckDialog).reject()
    qtbot.keyClick(table, Qt.Key.Key_Delete)
    settled(page, qtbot)
    assert desk.journal.probes.checks(desk.probe.uid) == []
    desk.door.undo()
    settled(page, qtbot)
    assert table.care.rowCount() == 2


def test_a_new_machine_is_shown_honestly(page: MachinesPage, desk: Desk, qtbot: QtBot) -> None:
    attic = Machine("Attic", 3, 3)
    desk.journal.machines.keep(attic, 2)
    shown(page, qtbot, attic.uid)
    assert page.advice.headline.text() == "Nothing to hold in this machine now"
    assert page.header.facts.text().startswith("Holds no eggs now.")
    assert "Nothing of this machine is known yet" in page.guide.little.text()
    assert not page.header.check.isEnabled()
    assert not page.care.empty.isHidden()
    assert page.header.switch is not None


def test_choosing_another_machine_shows_that(page: MachinesPage, desk: Desk, qtbot: QtBot) -> None:
    attic = Machine("Attic", 3, 3)
    desk.journal.machines.keep(attic, 2)
    shown(page, qtbot)
    page.header.machine_chosen.emit(attic.uid)
    qtbot.waitUntil(lambda: page.shown is not None and page.shown.uid == attic.uid)
    assert page.header.name.text() == "Attic"


def test_without_a_machine_the_way_to_one_is_offered(page: MachinesPage, desk: Desk) -> None:
    desk.door.take(None)
    page.show_page()
    assert page.body.currentWidget() is page.nothing
    assert page.header.isHidden()


def test_the_latest_request_wins(page: MachinesPage, desk: Desk, qtbot: QtBot) -> None:
    attic = Machine("Attic", 3, 3)
    desk.journal.machines.keep(attic, 2)
    page.show_page()
    page.show_page(attic.uid)
    qtbot.waitUntil(lambda: page.shown is not None)
    settled(page, qtbot)
    assert page.shown is not None
    assert page.shown.uid == attic.uid


def test_a_batch_is_opened_from_its_mark(page: MachinesPage, desk: Desk, qtbot: QtBot) -> None:
    shown(page, qtbot)
    chart = page.history.chart
    chart.setFocus()
    qtbot.keyClick(chart, Qt.Key.Key_Home)
    assert page.history.readout.text().startswith("26-05, incubation:")
    with qtbot.waitSignal(page.batch_opened) as told:
        qtbot.keyClick(chart, Qt.Key.Key_Return)
    assert told.args == [desk.batch.uid]


def test_nothing_can_be_logged_into_a_journal_that_is_read_only(desk: Desk, qtbot: QtBot) -> None:
    path = desk.journal.path
    desk.door.take(None)
    reading = Journal.open(path, read_only=True, clock=desk.clock)
    desk.door.take(reading)
    owner = QObject()
    page = MachinesPage(desk.context, Actions(owner))
    qtbot.addWidget(page)
    shown(page, qtbot, desk.batch.machine)
    for button in (page.header.check, page.header.setting, page.header.care, page.care.add):
        assert not button.isEnabled()
    page.guide.table.setting_chosen.emit(1, 0.5)
    assert page.findChildren(MachineSettingDialog) == []
    owner.deleteLater()


def test_the_keyboard_begins_on_the_table(page: MachinesPage, qtbot: QtBot) -> None:
    shown(page, qtbot)
    assert page.focusWidget() is page.guide.table


def test_typing_goes_on_while_the_page_reckons_again(page: MachinesPage, desk: Desk, qtbot: QtBot) -> None:
    shown(page, qtbot)
    page.advice.room.warmth.setFocus()
    machine = desk.batch.machine
    desk.door.run(lambda journal: journal.events.log_setting(machine, NOW - 60, channels=3))
    settled(page, qtbot)
    assert page.focusWidget() is page.advice.room.warmth


def test_key_figure_chart_and_guide_ask_for_the_same_humidity(
    page: MachinesPage, desk: Desk, qtbot: QtBot
) -> None:
    figures = batch_figures(desk.journal, desk.batch.uid, NOW)
    row = KeyFigures()
    qtbot.addWidget(row)
    row.show_figures(figures)
    curves = batch_curves(desk.journal, desk.batch.uid, NOW)
    held = BatchMaterial(curves, figures.forecast).held
    shown(page, qtbot)
    assert page.shown is not None
    wanted = page.shown.guide.wanted
    assert held is not None
    assert wanted is not None
    assert row.hold.figure().value == number(wanted.humidity) == number(held.humidity)
    assert f"26-05 wants {percent(wanted.humidity)}" in page.advice.reason.text()


def test_a_journal_that_is_closed_while_it_reckons_leaves_nothing(
    page: MachinesPage, desk: Desk, qtbot: QtBot
) -> None:
    worker = ThreadWorker()
    desk.context.worker = worker
    page.show_page()
    assert page.work.is_busy
    desk.door.take(None)
    assert not page.work.is_busy
    worker.stop()
    qtbot.wait(20)
    assert page.shown is None
    assert page.body.currentWidget() is page.nothing
