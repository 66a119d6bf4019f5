"""The dialog of programmes: reading the trade's, copying, changing, renaming and deleting the breeder's own."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hatchbook.desk.dialogs.new_batch import NewBatchDialog
from hatchbook.desk.dialogs.programmes import ProgrammesDialog
from hatchbook.figures.own_programmes import kept_programmes
from hatchbook.journal import OwnProgramme
from hatchbook.trade.programme import Programme
from hatchbook.trade.programmes import load_species, programme_named
from PySide6.QtCore import Qt
from PySide6.QtTest import QAbstractItemModelTester, QTest
from PySide6.QtWidgets import QApplication, QLabel, QLineEdit, QWidget
from pytestqt.qtbot import QtBot
from tests.desk.conftest import Desk
from tests.desk.dialogs.new_batch_kit import ENTER, ESCAPE, TAB, focused, is_gone, press, tab_to


def opened(desk: Desk, qtbot: QtBot) -> ProgrammesDialog:
    dialog = ProgrammesDialog(desk.context, None)
    dialog.open()
    qtbot.waitExposed(dialog)
    dialog.activateWindow()
    qtbot.waitUntil(lambda: QApplication.focusWidget() is not None)
    return dialog


def own(desk: Desk) -> Programme:
    (kept,) = kept_programmes(desk.journal)
    assert kept.programme is not None
    return kept.programme


def texts(widget: QWidget) -> list[str]:
    return [label.text() for label in widget.findChildren(QLabel) if not label.isHidden()]


def copied(desk: Desk, qtbot: QtBot, code: str = "hen") -> ProgrammesDialog:
    dialog = opened(desk, qtbot)
    dialog.choose(code=code)
    dialog.view.copy.click()
    return dialog


def type_into(field: QLineEdit, text: str) -> None:
    field.setFocus()
    field.selectAll()
    QTest.keyClicks(field, text)


# ---------------------------------------------------------------- reading


def test_every_programme_of_the_trade_stands_under_its_species(desk: Desk, qtbot: QtBot) -> None:
    dialog = opened(desk, qtbot)
    QAbstractItemModelTester(dialog.list.model())
    wanted = [programme.title for species in load_species() for programme in species.programmes]
    assert [item.text(0) for item in dialog.items()] == wanted
    heads = [dialog.list.topLevelItem(row) for row in range(dialog.list.topLevelItemCount())]
    assert [head.text(0) for head in heads if head is not None][-1] == "Parrot"
    dialog.reject()


def test_a_value_stands_beside_its_source_and_what_others_say(desk: Desk, qtbot: QtBot) -> None:
    dialog = opened(desk, qtbot)
    dialog.choose(code="pigeon")
    seen = [text.replace("\u00a0", " ") for text in texts(dialog.view)]
    assert "17 days" in seen
    assert "16 to 17 days." in seen
    assert "a teaching text on poultry, seen as a web page without an author" in seen
    assert "18 days" in seen  # another source
    assert 'the extension table "incubator operation" (from memory, not checked)' in seen
    assert "Incubation: 53–63 %, aim 58 %" in seen
    assert any(text.startswith("17 days lies in the range 16 to 17") for text in seen)
    dialog.reject()


def test_the_other_programmes_of_a_species_are_among_the_others(desk: Desk, qtbot: QtBot) -> None:
    dialog = opened(desk, qtbot)
    dialog.choose(code="hen")
    seen = [text.replace("\u00a0", " ") for text in texts(dialog.view)]
    assert "Incubation: 58–60 %, aim 59 %" in seen
    assert "Hen, extension service" in seen
    dialog.reject()


@pytest.mark.parametrize("code", [p.code for species in load_species() for p in species.programmes])
def test_every_programme_of_the_trade_can_be_shown(desk: Desk, qtbot: QtBot, code: str) -> None:
    dialog = opened(desk, qtbot)
    assert dialog.choose(code=code)
    programme = programme_named(code)
    assert programme is not None
    assert dialog.view.title.text().startswith(programme.title)
    statements = {note.statement for note in programme.sources}
    assert statements <= set(texts(dialog.view))
    dialog.reject()


# ---------------------------------------------------------------- the breeder's own


def test_a_copy_is_made_and_changed_by_keyboard_alone(desk: Desk, qtbot: QtBot) -> None:
    dialog = opened(desk, qtbot)
    qtbot.waitUntil(lambda: dialog.list.hasFocus())
    press(ENTER)
    assert focused() is dialog.view.copy
    press(Qt.Key.Key_Space)
    assert focused() is dialog.form.name
    press("My hens", TAB)
    assert own(desk).title == "My hens"
    assert dialog.form.title.text() == "My hens"
    assert dialog.list.currentItem().text(0) == "My hens, my own"
    tab_to(dialog.form.candle)
    press("6, 13, 18", TAB)
    assert own(desk).candle_days == (6, 13, 18)
    press("0, 7, 14", TAB)
    assert own(desk).weigh_days == (0, 7, 14)
    tab_to(dialog.form.phase_table)
    table = dialog.form.phase_table
    table.setCurrentIndex(dialog.form.phases.index(0, 3))
    press("44", ENTER)
    assert own(desk).phases[0].humidity_aim == 44
    press(ESCAPE)
    qtbot.waitUntil(lambda: is_gone(dialog))


def test_loss_and_its_day_are_changed(desk: Desk, qtbot: QtBot) -> None:
    dialog = copied(desk, qtbot)
    form = dialog.form
    for field, text in ((form.loss_low, "10"), (form.loss_high, "14"), (form.loss_day, "17.5")):
        type_into(field, text)
    form.candle.setFocus()
    programme = own(desk)
    assert (programme.loss_low_percent, programme.loss_high_percent, programme.loss_day) == (10, 14, 17.5)
    for field in (form.loss_low, form.loss_high, form.loss_day):
        field.clear()
        QTest.keyClick(field, Qt.Key.Key_Backspace)
    form.store()
    assert own(desk).loss_day is None
    dialog.reject()


def test_a_longer_lockdown_makes_a_longer_incubation(desk: Desk, qtbot: QtBot) -> None:
    dialog = copied(desk, qtbot)
    phases = dialog.form.phases
    phases.setData(phases.index(1, 1), "22")
    assert own(desk).incubation_days == 22
    assert own(desk).phases[-1].to_day == 22
    dialog.reject()


def test_a_phase_is_parted_and_taken_away_again(desk: Desk, qtbot: QtBot) -> None:
    dialog = copied(desk, qtbot)
    form = dialog.form
    before = own(desk).phases
    assert not form.join.isEnabled()
    form.phase_table.setCurrentIndex(form.phases.index(0, 1))
    form.split.click()
    assert [phase.to_day for phase in own(desk).phases] == [10, 19, 21]
    form.phase_table.setCurrentIndex(form.phases.index(1, 1))
    assert form.join.isEnabled()
    form.join.click()
    assert own(desk).phases == before
    dialog.reject()


def test_sources_go_with_what_was_changed_and_come_back_with_it(desk: Desk, qtbot: QtBot) -> None:
    dialog = copied(desk, qtbot, "pigeon")
    before = own(desk)
    phases = dialog.form.phases
    phases.setData(phases.index(0, 3), "57")
    assert len(own(desk).sources) == len(before.sources) - 2
    phases.setData(phases.index(0, 3), "58")
    assert own(desk) == before
    dialog.reject()


def test_a_species_of_ones_own_is_typed(desk: Desk, qtbot: QtBot) -> None:
    dialog = copied(desk, qtbot, "duck")
    entry = dialog.form.species.lineEdit()
    assert entry is not None
    type_into(entry, "Mandarin duck")
    dialog.form.name.setFocus()
    programme = own(desk)
    assert (programme.species, programme.sources) == ("Mandarin duck", ())
    head = dialog.list.topLevelItem(dialog.list.topLevelItemCount() - 1)
    assert head is not None
    assert head.text(0) == "Mandarin duck"
    assert dialog.list.currentItem().parent() is head
    type_into(entry, "goose")
    dialog.form.name.setFocus()
    assert own(desk).species == "goose"
    dialog.reject()


# ---------------------------------------------------------------- bad input


@pytest.mark.parametrize(
    ("field", "text", "said"),
    [
        ("candle", "7, 40", "A candling day lies outside the incubation."),
        ("candle", "14, 7", "The days must grow: 7, 14, 18."),
        ("candle", "seven", "“seven” is not a number."),
        ("weigh", "0, 30", "A weighing day lies outside the incubation."),
        ("loss_low", "60", "A loss lies between 0 and 50 % of the weight."),
        ("loss_low", "20", "The lower share comes first."),
        ("loss_day", "", "Give both shares and the day, or none of the three."),
        ("loss_day", "30", "The day of the loss lies outside the incubation."),
        ("name", "", "Give the programme a name."),
        ("name", "Duck", "There is a programme of that name already."),
    ],
)
def test_what_cannot_be_is_said_in_its_place_and_kept(
    desk: Desk, qtbot: QtBot, field: str, text: str, said: str
) -> None:
    dialog = copied(desk, qtbot)
    before = own(desk)
    line: QLineEdit = getattr(dialog.form, field)
    type_into(line, text or " ")
    if not text:
        line.clear()
        QTest.keyClick(line, Qt.Key.Key_Backspace)
    dialog.form.phase_table.setFocus()
    assert said in [found.replace("\u00a0", " ") for found in texts(dialog.form)]
    assert "Not stored until it goes together" in dialog.form.note.text()
    assert own(desk) == before
    assert line.text().strip() == text
    dialog.reject()


def test_a_band_that_does_not_hold_the_aim_is_told_at_its_cell(desk: Desk, qtbot: QtBot) -> None:
    dialog = copied(desk, qtbot)
    before = own(desk)
    phases = dialog.form.phases
    phases.setData(phases.index(0, 3), "80")
    assert "The aim must lie inside the humidity band." in texts(dialog.form)
    assert own(desk) == before
    phases.setData(phases.index(0, 3), "46")
    assert own(desk).phases[0].humidity_aim == 46
    assert dialog.form.note.isHidden()
    dialog.reject()


def test_what_the_journal_refuses_stays_in_the_fields(desk: Desk, qtbot: QtBot) -> None:
    dialog = copied(desk, qtbot)
    (kept,) = kept_programmes(desk.journal)
    desk.journal.programmes.remove(kept.record)
    type_into(dialog.form.name, "Lost")
    dialog.form.candle.setFocus()
    assert dialog.form.name.text() == "Lost"
    dialog.reject()


# ---------------------------------------------------------------- deleting, undo, the past


def test_deleting_and_taking_back(desk: Desk, qtbot: QtBot) -> None:
    dialog = copied(desk, qtbot)
    uid = dialog.form.uid
    dialog.form.delete_button.click()
    assert kept_programmes(desk.journal) == ()
    assert dialog.stack.currentIndex() == 0
    assert dialog.stored.text() == "Programme Hen, common practice (copy) removed"
    dialog.take_back.click()
    assert own(desk).title == "Hen, common practice (copy)"
    assert dialog.choose(uid=uid)
    dialog.reject()


def test_undo_shows_the_programme_as_it_was(desk: Desk, qtbot: QtBot) -> None:
    dialog = copied(desk, qtbot)
    type_into(dialog.form.candle, "8")
    dialog.form.weigh.setFocus()
    assert own(desk).candle_days == (8,)
    desk.door.undo()
    assert dialog.form.candle.text() == "7, 14, 18"
    desk.door.redo()
    assert dialog.form.candle.text() == "8"
    dialog.reject()


def test_an_own_programme_is_copied_in_its_turn(desk: Desk, qtbot: QtBot) -> None:
    dialog = copied(desk, qtbot)
    dialog.form.add_button.click()
    titles = [kept.record.title for kept in kept_programmes(desk.journal)]
    assert titles == ["Hen, common practice (copy)", "Hen, common practice (copy) (copy)"]
    dialog.reject()


def test_what_was_typed_last_is_stored_when_the_dialog_is_left(desk: Desk, qtbot: QtBot) -> None:
    dialog = copied(desk, qtbot)
    type_into(dialog.form.candle, "9")
    QTest.keyClick(dialog.form.candle, Qt.Key.Key_Escape)
    qtbot.waitUntil(lambda: is_gone(dialog))
    assert own(desk).candle_days == (9,)


def test_batches_set_by_it_keep_what_they_were_set_with(desk: Desk, qtbot: QtBot) -> None:
    dialog = copied(desk, qtbot)
    (kept,) = kept_programmes(desk.journal)
    batch = desk.journal.batches.get(desk.batch.uid)
    desk.journal.batches.replace(replace(batch, programme=kept.record.definition))
    before = desk.journal.batches.get(batch.uid), desk.journal.batches.phases(batch.uid)
    dialog.choose(uid=kept.record.uid)
    assert "keep what they were set with" in dialog.form.state.text()
    phases = dialog.form.phases
    phases.setData(phases.index(0, 3), "47")
    assert own(desk).phases[0].humidity_aim == 47
    assert (desk.journal.batches.get(batch.uid), desk.journal.batches.phases(batch.uid)) == before
    dialog.form.delete_button.click()
    assert (desk.journal.batches.get(batch.uid), desk.journal.batches.phases(batch.uid)) == before
    dialog.reject()


def test_one_that_cannot_be_read_can_only_be_deleted(desk: Desk, qtbot: QtBot) -> None:
    torn = OwnProgramme("torn", "hen", "Torn page", '{"no": "programme"}')
    desk.journal.programmes.add(torn)
    dialog = opened(desk, qtbot)
    assert dialog.choose(uid=torn.uid)
    assert "cannot be read" in dialog.form.note.text()
    assert not dialog.form.name.isEnabled()
    dialog.form.delete_button.click()
    assert kept_programmes(desk.journal) == ()
    dialog.reject()


def test_a_journal_that_is_only_read_shows_its_programmes_without_changing_them(
    desk: Desk, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    dialog = copied(desk, qtbot)
    uid = dialog.form.uid
    dialog.reject()
    monkeypatch.setattr(type(desk.journal), "read_only", property(lambda _journal: True))
    reading = opened(desk, qtbot)
    assert not reading.view.copy.isEnabled()
    reading.choose(uid=uid)
    form = reading.form
    for widget in (form.name, form.candle, form.split, form.join, form.add_button, form.delete_button):
        assert not widget.isEnabled()
    assert form.candle.text() == "7, 14, 18"
    reading.reject()


def test_a_new_batch_offers_own_programmes_and_their_species(desk: Desk, qtbot: QtBot) -> None:
    dialog = copied(desk, qtbot, "duck")
    entry = dialog.form.species.lineEdit()
    assert entry is not None
    type_into(entry, "Mandarin duck")
    type_into(dialog.form.name, "Mandarins")
    dialog.form.candle.setFocus()
    dialog.reject()
    new = NewBatchDialog(desk.context, None)
    form = new.entry.form
    form.species.setCurrentIndex(form.species.findText("Mandarin duck"))
    assert form.base_programme.title == "Mandarins"
    new.reject()
