"""The journal's own settings."""

from __future__ import annotations

from hatchbook.desk.dialogs.journal_settings import JournalSettingsDialog
from pytestqt.qtbot import QtBot
from tests.desk.conftest import Desk


def test_zone_and_season_are_kept_and_can_be_undone(desk: Desk, qtbot: QtBot) -> None:
    dialog = JournalSettingsDialog(desk.context, None)
    qtbot.addWidget(dialog)
    assert dialog.zone.currentText() == "Europe/Lisbon"
    dialog.zone.setCurrentText("Australia/Perth")
    dialog.month.setCurrentIndex(6)
    dialog._keep()
    assert desk.journal.zone.key == "Australia/Perth"
    assert desk.journal.settings.season_first_month == 7
    desk.door.undo()
    desk.door.undo()
    assert desk.journal.zone.key == "Europe/Lisbon"
    assert desk.journal.settings.season_first_month == 1


def test_a_zone_that_is_none_is_refused_in_place(desk: Desk, qtbot: QtBot) -> None:
    dialog = JournalSettingsDialog(desk.context, None)
    qtbot.addWidget(dialog)
    dialog.show()
    dialog.zone.setCurrentText("Atlantis/Harbour")
    dialog._keep()
    assert "no time zone “Atlantis/Harbour”" in dialog.note.text()
    assert dialog.isVisible()
    dialog.reject()
