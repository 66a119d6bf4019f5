"""Checks of a probe: over a salt with the table's own values, or beside a reference; noted, refused, removed."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from zoneinfo import ZoneInfo

import pytest
from hatchbook.desk.dialogs.bird_rows import BirdRows
from hatchbook.desk.dialogs.check_rows import CheckRows
from hatchbook.desk.dialogs.holding import HoldingDialog
from hatchbook.desk.dialogs.machine_form import ChannelRows
from hatchbook.desk.dialogs.probe_check import ProbeCheckDialog
from hatchbook.desk.dialogs.probe_form import ProbeForm
from hatchbook.journal import Channel, PenMember, ProbeCheck
from hatchbook.trade.codes import CheckMethod, Quantity
from PySide6.QtCore import QAbstractItemModel, Qt
from PySide6.QtTest import QAbstractItemModelTester
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot
from tests.desk.conftest import NOW, SET_AT, Desk
from tests.desk.dialogs.new_batch_kit import ENTER, TAB, focused, is_gone, press, tab_to


@pytest.fixture
def dialog(qtbot: QtBot, desk: Desk) -> ProbeCheckDialog:
    dialog = ProbeCheckDialog(desk.context, desk.probe, None)
    dialog.open()
    qtbot.waitExposed(dialog)
    dialog.activateWindow()
    qtbot.waitUntil(lambda: QApplication.focusWidget() is not None)
    return dialog


def plain(text: str) -> str:
    """A text without the blanks that do not break."""
    return text.replace("\u00a0", " ")


def texts(dialog: ProbeCheckDialog) -> list[str]:
    return [plain(dialog.warmth.itemText(row)) for row in range(dialog.warmth.count())]


def test_a_salt_test_is_noted_by_keyboard(dialog: ProbeCheckDialog, desk: Desk) -> None:
    assert focused() is dialog.shown.field
    press("77.0")
    assert plain(dialog.off.text()) == "+1.7 %"
    assert plain(dialog.known.text()).startswith("75.3 % ± 0.2")
    assert "OIML R 121" in dialog.known.text()
    press(ENTER)
    assert is_gone(dialog)
    (check,) = desk.journal.probes.checks(desk.probe.uid)
    assert (check.method, check.quantity) == (CheckMethod.SALT, Quantity.HUMIDITY)
    assert (check.reference_value, check.shown_value, check.salt, check.temperature_c) == (
        75.3,
        77.0,
        "NaCl",
        25.0,
    )
    assert check.at == NOW


def test_only_temperatures_of_the_table_are_offered(dialog: ProbeCheckDialog) -> None:
    assert texts(dialog) == ["15 °C", "20 °C", "25 °C", "30 °C", "35 °C", "40 °C"]
    dialog.salt.setCurrentIndex(dialog.salt.findData("K2CO3"))
    assert texts(dialog) == ["15 °C", "20 °C", "25 °C", "30 °C"]
    dialog.warmth.setCurrentIndex(3)
    dialog.salt.setCurrentIndex(dialog.salt.findData("MgCl2"))
    # The temperature stays where the other salt has it, too.
    assert plain(dialog.warmth.currentText()) == "30 °C"
    assert plain(dialog.known.text()).startswith("32.4 % ± 0.2")
    dialog.reject()


def test_a_check_beside_a_reference_takes_both_values(dialog: ProbeCheckDialog, desk: Desk) -> None:
    dialog.method.segments()[2].click()
    dialog.quantity.segments()[1].click()
    tab_to(dialog.reference.field)
    press("37.6", TAB, "99.3 °F", ENTER)
    (check,) = desk.journal.probes.checks(desk.probe.uid)
    assert (check.method, check.quantity, check.salt) == (CheckMethod.REFERENCE, Quantity.TEMPERATURE, "")
    assert check.reference_value == 37.6
    assert check.shown_value == pytest.approx(37.3889, abs=1e-4)
    assert check.temperature_c is None


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "What did it show?"),
        ("77 g", "another unit"),
        ("lots", "is not a number"),
        ("177", "between 0 and 100"),
    ],
)
def test_a_value_that_cannot_be_is_said_and_stays(
    dialog: ProbeCheckDialog, desk: Desk, text: str, said: str
) -> None:
    press(text, ENTER)
    assert said in dialog.shown.trouble()
    assert dialog.shown.field.text() == text
    assert focused() is dialog.shown.field
    assert desk.journal.probes.checks(desk.probe.uid) == []
    dialog.reject()


def test_checks_are_listed_and_removed(qtbot: QtBot, desk: Desk) -> None:
    check = ProbeCheck(desk.probe.uid, SET_AT, Quantity.HUMIDITY, CheckMethod.SALT, 32.8, 31.5, "MgCl2", 25.0)
    desk.journal.probes.add_check(check)
    dialog = HoldingDialog(desk.context, None)
    dialog.open()
    qtbot.waitExposed(dialog)
    dialog.activateWindow()
    qtbot.waitUntil(lambda: QApplication.focusWidget() is not None)
    dialog._choose(1, desk.probe.uid)
    form = dialog.form
    assert isinstance(form, ProbeForm)
    assert [[plain(text) for text in row] for row in form.checks.texts()] == [
        ["3 May 2026", "Magnesium chloride, MgCl₂, at 25 °C", "32.8 %", "31.5 %", "−1.3 %"]
    ]
    dialog.list.setFocus()
    tab_to(form.check_table)
    press(Qt.Key.Key_Delete)
    assert desk.journal.probes.checks(desk.probe.uid) == []
    assert form.check_table.isHidden()
    dialog.take_back.click()
    assert form.check_table.isVisible()
    form.remove_check_button.click()
    assert desk.journal.probes.checks(desk.probe.uid) == []
    dialog.reject()


def test_a_check_is_noted_from_the_form_and_shown_at_once(qtbot: QtBot, desk: Desk) -> None:
    dialog = HoldingDialog(desk.context, None)
    dialog.open()
    dialog._choose(1, desk.probe.uid)
    form = dialog.form
    assert isinstance(form, ProbeForm)
    form.check_button.click()
    check = form.findChild(ProbeCheckDialog)
    assert check is not None
    check.shown.set_text("76")
    check.store.click()
    assert len(form.checks.texts()) == 1
    dialog.reject()


# ---------------------------------------------------------------- the tables


@pytest.fixture
def warns(qapp: QApplication) -> Callable[[QAbstractItemModel], QAbstractItemModelTester]:
    """Watches a model; each breach of the rules of Qt's models is a warning, which fails the test."""
    mode = QAbstractItemModelTester.FailureReportingMode.Warning
    return lambda model: QAbstractItemModelTester(model, mode)


def test_the_tables_keep_the_rules(
    warns: Callable[[QAbstractItemModel], QAbstractItemModelTester],
) -> None:
    checks = CheckRows(ZoneInfo("UTC"))
    birds = BirdRows(lambda: datetime.fromtimestamp(NOW, ZoneInfo("UTC")).date())
    channels = ChannelRows()
    watches = [warns(model) for model in (checks, birds, channels)]
    checks.show_checks([ProbeCheck("p", NOW, Quantity.HUMIDITY, CheckMethod.REFERENCE, 50.0, 51.0)])
    birds.show_birds("pen", [PenMember("pen", "Anna", "female", from_on="2026-01-10")])
    birds.setData(birds.index(1, 0), "Bertha")
    birds.remove_row(1)
    channels.show_channels([Channel("m", 1), Channel("m", 2, "long", 80.0)])
    channels.setData(channels.index(0, 1), "70")
    assert channels.index(0, 0).data() == "channel 1"
    assert channels.index(1, 0).data() == "long"
    assert not checks.flags(checks.index(0, 0)) & Qt.ItemFlag.ItemIsEditable
    del watches


@pytest.mark.parametrize(
    ("text", "stored"), [("cock", "male"), ("M", "male"), ("hen", "female"), ("fem", "female")]
)
def test_the_sex_of_a_bird_may_be_abbreviated(qapp: QApplication, text: str, stored: str) -> None:
    birds = BirdRows(lambda: datetime.fromtimestamp(NOW, ZoneInfo("UTC")).date())
    told: list[PenMember] = []
    birds.bird_typed.connect(told.append)
    birds.show_birds("pen", [])
    birds.setData(birds.index(0, 0), "Anna")
    birds.setData(birds.index(0, 1), text)
    assert told[-1].sex == stored


def test_a_bird_that_cannot_be_is_not_told(qapp: QApplication) -> None:
    birds = BirdRows(lambda: datetime.fromtimestamp(NOW, ZoneInfo("UTC")).date())
    birds.show_birds("pen", [PenMember("pen", "Anna", "female", from_on="2026-03-10")])
    told: list[PenMember] = []
    birds.bird_typed.connect(told.append)
    for column, text, said in (
        (1, "both", "Male or female?"),
        (5, "1 Jan", "before it came"),
        (4, "x", "is not a date"),
        (0, "", "Give the bird a name."),
    ):
        before = birds.texts()[0][column]
        birds.setData(birds.index(0, column), text)
        found = birds.first_trouble()
        assert found is not None
        assert said in found[2]
        birds.setData(birds.index(0, column), before)
    assert told == []
