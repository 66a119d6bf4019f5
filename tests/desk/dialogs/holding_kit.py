"""The dialog of machines, probes and pens on the screen, driven by keys."""

from __future__ import annotations

from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.holding import HoldingDialog
from hatchbook.desk.dialogs.machine_form import MachineForm
from hatchbook.desk.dialogs.pen_form import PenForm
from hatchbook.desk.dialogs.probe_form import ProbeForm
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot
from tests.desk.dialogs.new_batch_kit import press


def holding(qtbot: QtBot, context: DeskContext) -> HoldingDialog:
    """The dialog, on the screen and ready to be typed into."""
    dialog = HoldingDialog(context, None)
    dialog.open()
    qtbot.waitExposed(dialog)
    dialog.activateWindow()
    qtbot.waitUntil(lambda: QApplication.focusWidget() is not None)
    return dialog


def listed(dialog: HoldingDialog) -> list[str]:
    return [item.text(0) for item in dialog._items()]


def machine_form(dialog: HoldingDialog) -> MachineForm:
    assert isinstance(dialog.form, MachineForm)
    return dialog.form


def probe_form(dialog: HoldingDialog) -> ProbeForm:
    assert isinstance(dialog.form, ProbeForm)
    return dialog.form


def pen_form(dialog: HoldingDialog) -> PenForm:
    assert isinstance(dialog.form, PenForm)
    return dialog.form


def choose(dialog: HoldingDialog, text: str) -> None:
    """Goes to an item of the list with the arrow keys."""
    dialog.list.setFocus()
    press(Qt.Key.Key_Home)
    for _ in range(20):
        item = dialog.list.currentItem()
        if item is not None and item.text(0) == text:
            return
        press(Qt.Key.Key_Down)
    raise AssertionError(f"{text!r} is not in the list")
