"""Logging events by keyboard, and what happens to bad input."""

from __future__ import annotations

from datetime import timedelta

from hatchbook.desk.dialogs.log_event import LogEventDialog
from hatchbook.trade.codes import EventKind
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot
from tests.desk.conftest import DAY, NOW, Desk


def opened(desk: Desk, qtbot: QtBot, **given: object) -> LogEventDialog:
    dialog = LogEventDialog(desk.context, desk.batch, None, **given)  # type: ignore[arg-type]
    qtbot.addWidget(dialog)
    return dialog


def test_water_starts_from_how_the_channels_stand(desk: Desk, qtbot: QtBot) -> None:
    dialog = opened(desk, qtbot)
    assert dialog.channels.value() == 2
    dialog.channels.setValue(3)
    dialog.save.click()
    event = desk.journal.events.last_before(desk.batch.machine, EventKind.WATER, NOW + 1)
    assert event is not None
    assert (event.at, event.channels_filled, event.machine) == (NOW, 3, desk.batch.machine)


def test_a_vent_is_typed_as_a_fraction(desk: Desk, qtbot: QtBot) -> None:
    dialog = opened(desk, qtbot, kind=EventKind.VENT)
    assert dialog.vent.currentText() == "1/4"
    dialog.vent.setCurrentText("1/3")
    dialog.save.click()
    event = desk.journal.events.last_before(desk.batch.machine, EventKind.VENT, NOW + 1)
    assert event is not None
    assert event.vent == 1 / 3


def test_nonsense_for_a_vent_is_said_in_place_and_kept(desk: Desk, qtbot: QtBot) -> None:
    dialog = opened(desk, qtbot, kind=EventKind.VENT)
    dialog.show()
    dialog.vent.setCurrentText("wide")
    dialog.save.click()
    assert "1/2 or 30 %" in dialog.note.text()
    assert dialog.vent.currentText() == "wide"
    assert dialog.isVisible()
    dialog.reject()


def test_a_lid_that_was_open_has_an_end(desk: Desk, qtbot: QtBot) -> None:
    dialog = opened(desk, qtbot, kind=EventKind.LID)
    dialog.minutes.setValue(12)
    dialog.save.click()
    event = desk.journal.events.last_before(desk.batch.machine, EventKind.LID, NOW + 1)
    assert event is not None
    assert event.ends_at == NOW + 12 * 60


def test_a_note_without_words_is_asked_for(desk: Desk, qtbot: QtBot) -> None:
    dialog = opened(desk, qtbot, kind=EventKind.NOTE)
    dialog.save.click()
    assert dialog.note.text() == "Write the note first."
    dialog.text.setText("Weather turned damp")
    dialog.save.click()
    events = desk.journal.events.of_batch(desk.batch.uid, [], 0, NOW + 1)
    assert [event.text for event in events] == ["Weather turned damp"]


def test_a_letter_chooses_the_kind_while_no_text_is_typed(desk: Desk, qtbot: QtBot) -> None:
    dialog = opened(desk, qtbot)
    qtbot.keyClick(dialog, "P")
    assert dialog.kind is EventKind.POWER_CUT


def test_letters_choose_the_kind_from_the_fields_as_well(desk: Desk, qtbot: QtBot) -> None:
    dialog = opened(desk, qtbot)
    dialog.show()
    qtbot.waitExposed(dialog)
    for letter, kind in (("L", EventKind.LID), ("v", EventKind.VENT), ("w", EventKind.WATER)):
        field = dialog.focusWidget()
        assert field is not None
        qtbot.keyClick(field, letter)
        assert dialog.kind is kind
    qtbot.keyClick(dialog.focusWidget(), "N")
    qtbot.keyClicks(dialog.focusWidget(), "warm, vented")
    assert (dialog.kind, dialog.text.text()) == (EventKind.NOTE, "warm, vented")
    dialog.reject()


def test_a_word_for_the_vent_is_typed_to_its_end(desk: Desk, qtbot: QtBot) -> None:
    dialog = opened(desk, qtbot, kind=EventKind.VENT)
    dialog.show()
    qtbot.waitExposed(dialog)
    dialog.vent.lineEdit().selectAll()
    qtbot.keyClicks(dialog.vent, "open")
    assert (dialog.kind, dialog.vent.currentText()) == (EventKind.VENT, "open")
    dialog.reject()


def test_arrows_walk_over_the_kinds_and_stay_there(desk: Desk, qtbot: QtBot) -> None:
    dialog = opened(desk, qtbot)
    dialog.show()
    qtbot.waitExposed(dialog)
    dialog.kinds.segments()[0].setFocus()
    for _ in range(3):
        qtbot.keyClick(dialog.focusWidget(), Qt.Key.Key_Right)
    assert dialog.kind is EventKind.POWER_CUT
    assert dialog.focusWidget() is dialog.kinds.segments()[3]
    dialog.reject()


def test_an_event_is_changed_and_deleted(desk: Desk, qtbot: QtBot) -> None:
    event = desk.journal.events.last_before(desk.batch.machine, EventKind.VENT, NOW)
    dialog = opened(desk, qtbot, event=event)
    assert dialog.vent.currentText() == "1/4"
    dialog.vent.setCurrentText("1/2")
    dialog.save.click()
    assert event is not None
    assert desk.journal.events.get(event.uid).vent == 0.5
    again = opened(desk, qtbot, event=desk.journal.events.get(event.uid))
    again.delete.click()
    assert desk.journal.events.find(event.uid) is None


def test_escape_stores_nothing(desk: Desk, qtbot: QtBot) -> None:
    before = len(desk.journal.history.steps())
    dialog = opened(desk, qtbot)
    qtbot.keyClick(dialog, Qt.Key.Key_Escape)
    assert len(desk.journal.history.steps()) == before


def test_a_day_to_come_that_is_chosen_in_the_calendar_does_not_become_the_time(
    desk: Desk, qtbot: QtBot
) -> None:
    desk.context.choose_day(desk.context.today() + timedelta(days=2))
    assert opened(desk, qtbot).at.instant() == NOW
    desk.context.choose_day(desk.context.today() - timedelta(days=2))
    assert opened(desk, qtbot).at.instant() == NOW - 2 * DAY


def test_what_is_still_to_come_is_not_logged(desk: Desk, qtbot: QtBot) -> None:
    dialog = opened(desk, qtbot)
    dialog.show()
    dialog.at.set_instant(NOW + DAY)
    dialog.save.click()
    assert "still to come" in dialog.note.text()
    assert dialog.isVisible()
    dialog.at.set_instant(NOW + 60)
    dialog.save.click()
    assert not dialog.isVisible()
