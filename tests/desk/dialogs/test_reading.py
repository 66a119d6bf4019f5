"""Readings typed by hand: units, wet bulb, and what was typed coming back."""

from __future__ import annotations

import json

import pytest
from hatchbook.desk.dialogs.reading import ReadingDialog
from hatchbook.exchange.typed_reading import ReadingError, TypedReading
from hatchbook.figures import machine_guide
from hatchbook.journal import Event, Machine
from hatchbook.trade.codes import EventKind, Wick
from hatchbook.trade.units import Typed, Unit
from pytestqt.qtbot import QtBot
from tests.desk.conftest import DAY, NOW, Desk


def opened(desk: Desk, qtbot: QtBot, **given: object) -> ReadingDialog:
    dialog = ReadingDialog(desk.context, desk.batch, None, **given)  # type: ignore[arg-type]
    qtbot.addWidget(dialog)
    return dialog


def test_a_decimal_comma_is_understood(desk: Desk, qtbot: QtBot) -> None:
    dialog = opened(desk, qtbot)
    qtbot.keyClicks(dialog.temperature.field, "37,6")
    qtbot.keyClicks(dialog.humidity.field, "52")
    dialog.save.click()
    reading = desk.journal.readings.at(desk.probe.number, NOW)
    assert reading is not None
    assert (reading.temperature_c, reading.humidity) == (37.6, 52.0)


def test_a_wet_bulb_in_still_air_means_less_than_in_a_fans_air(desk: Desk, qtbot: QtBot) -> None:
    """A wick in a still-air machine at 99.5/85.0 °F means 48.5 % at sea level, not 55.6 % (FAO-56, ASHRAE)."""
    typed = TypedReading(
        Typed(99.5, Unit.FAHRENHEIT, "99.5"), wet_bulb=Typed(85.0, Unit.FAHRENHEIT, "85"), wick=Wick.STILL_AIR
    )
    assert typed.humidity_percent(0.0) == pytest.approx(48.54, abs=0.01)
    dialog = opened(desk, qtbot)
    dialog.unit.choose("F")
    dialog.way.choose("wet")
    dialog._show_fields()
    qtbot.keyClicks(dialog.temperature.field, "99.5")
    qtbot.keyClicks(dialog.wet_bulb.field, "85")
    assert "relative humidity: wick in still air, coefficient 0.0012 per °C (FAO-56)" in dialog.means.text()
    assert "99.9 kPa (120 m above the sea)" in dialog.means.text()
    assert "wick in a fan's air the same two would mean 55.5" in dialog.means.text()
    dialog.save.click()
    reading = desk.journal.readings.at(desk.probe.number, NOW)
    assert reading is not None
    assert reading.humidity == pytest.approx(typed.humidity_percent(120.0))
    assert reading.temperature_c == pytest.approx(37.5)


def test_what_was_typed_comes_back_as_typed(desk: Desk, qtbot: QtBot) -> None:
    dialog = opened(desk, qtbot)
    dialog.unit.choose("F")
    dialog._show_fields()
    qtbot.keyClicks(dialog.temperature.field, "99,5")
    dialog.save.click()
    again = opened(desk, qtbot, reading=desk.journal.readings.at(desk.probe.number, NOW))
    assert again.temperature.field.text() == "99,5"
    assert again.unit.current() == "F"


@pytest.mark.parametrize(
    ("temperature", "humidity", "words"),
    [
        ("warm", "", "“warm” is not a number."),
        ("37.6", "118", "between 0 and 100"),
        ("370", "50", "between −20 and 60"),
        ("", "", "Type a temperature or a humidity."),
    ],
)
def test_bad_input_is_said_in_place_and_kept(
    desk: Desk, qtbot: QtBot, temperature: str, humidity: str, words: str
) -> None:
    dialog = opened(desk, qtbot)
    dialog.show()
    dialog.temperature.set_text(temperature)
    dialog.humidity.set_text(humidity)
    dialog.save.click()
    assert words in dialog.note.text() + dialog.temperature.trouble() + dialog.humidity.trouble()
    assert dialog.isVisible()
    assert dialog.temperature.field.text() == temperature
    assert desk.journal.readings.at(desk.probe.number, NOW) is None
    dialog.reject()


def test_a_second_reading_of_the_same_minute_is_refused_plainly(desk: Desk, qtbot: QtBot) -> None:
    for expected in ("", "already"):
        dialog = opened(desk, qtbot)
        dialog.humidity.set_text("50")
        dialog.save.click()
        assert expected in dialog.note.text()


def test_a_wet_bulb_above_the_dry_one_is_refused() -> None:
    typed = TypedReading(Typed(37.0, Unit.CELSIUS, "37"), wet_bulb=Typed(38.0, Unit.CELSIUS, "38"))
    with pytest.raises(ReadingError, match="warmer"):
        typed.humidity_percent(0.0)


def test_a_reading_is_deleted_and_undo_brings_it_back(desk: Desk, qtbot: QtBot) -> None:
    dialog = opened(desk, qtbot)
    dialog.humidity.set_text("50")
    dialog.save.click()
    again = opened(desk, qtbot, reading=desk.journal.readings.at(desk.probe.number, NOW))
    again._delete()
    assert desk.journal.readings.at(desk.probe.number, NOW) is None
    desk.door.undo()
    assert desk.journal.readings.at(desk.probe.number, NOW) is not None


def test_json_of_a_typed_reading_comes_back() -> None:
    typed = TypedReading(
        Typed(37.5, Unit.CELSIUS, "37,5"), wet_bulb=Typed(29.0, Unit.CELSIUS, "29"), wick=Wick.NATURAL
    )
    assert TypedReading.from_json(typed.to_json()) == typed


def test_a_reading_of_a_time_to_come_is_refused_and_kept(desk: Desk, qtbot: QtBot) -> None:
    dialog = opened(desk, qtbot)
    dialog.show()
    qtbot.keyClicks(dialog.temperature.field, "37.6")
    dialog.at.set_instant(NOW + DAY)
    dialog.save.click()
    assert "still to come" in dialog.note.text()
    assert dialog.temperature.field.text() == "37.6"
    assert desk.journal.readings.at(desk.probe.number, NOW + DAY) is None
    dialog.reject()


def test_a_reading_that_the_journal_refuses_stays_typed_and_says_so(
    desk: Desk, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    dialog = opened(desk, qtbot)
    dialog.show()
    qtbot.keyClicks(dialog.temperature.field, "37.6")
    monkeypatch.setattr(desk.door, "run", lambda _operation: None)
    dialog.save.click()
    assert "what you typed is still here" in dialog.note.text()
    assert dialog.isVisible()
    dialog.reject()


def test_a_wet_bulb_is_kept_with_what_it_was_reckoned_with(desk: Desk, qtbot: QtBot) -> None:
    dialog = opened(desk, qtbot)
    dialog.unit.choose("C")
    dialog.way.choose("wet")
    dialog._show_fields()
    dialog.wick.setCurrentIndex(dialog.wick.findData(Wick.NATURAL))
    dialog.temperature.set_text("37,5")
    dialog.wet_bulb.set_text("29")
    dialog.save.click()
    reading = desk.journal.readings.at(desk.probe.number, NOW)
    assert reading is not None
    kept = json.loads(reading.entered)
    assert kept["coefficient"] == 8.0e-4
    assert kept["pressure_kpa"] == pytest.approx(99.89, abs=0.01)
    again = opened(desk, qtbot, reading=reading)
    assert again.temperature.field.text() == "37,5"
    assert again.wet_bulb.field.text() == "29"
    assert again.wick.currentData() == Wick.NATURAL


def test_each_wick_means_another_humidity() -> None:
    """99.5 and 85.0 °F at 101.325 kPa: 55.35, 53.60 and 48.54 % (FAO-56's coefficients)."""
    typed = TypedReading(
        Typed(99.5, Unit.FAHRENHEIT, "99.5"), wet_bulb=Typed(85.0, Unit.FAHRENHEIT, "85"), wick=Wick.NATURAL
    )
    meaning = typed.wet_bulb_meaning(0.0)
    assert meaning is not None
    assert meaning.humidity == pytest.approx(53.60, abs=0.01)
    assert meaning.coefficient == 8.0e-4
    assert meaning.pressure_kpa == pytest.approx(101.325)
    assert meaning.others[Wick.ASPIRATED] == pytest.approx(55.35, abs=0.01)
    assert meaning.others[Wick.STILL_AIR] == pytest.approx(48.54, abs=0.01)
    assert TypedReading(humidity=Typed(45.0, Unit.PERCENT, "45")).wet_bulb_meaning(0.0) is None


def test_what_another_wick_cannot_mean_is_left_out() -> None:
    typed = TypedReading(
        Typed(37.5, Unit.CELSIUS, "37.5"), wet_bulb=Typed(18.0, Unit.CELSIUS, "18"), wick=Wick.ASPIRATED
    )
    meaning = typed.wet_bulb_meaning(0.0)
    assert meaning is not None
    assert meaning.others[Wick.STILL_AIR] is None


def test_an_empty_machine_and_the_room_are_read_by_hand_for_a_dry_run(desk: Desk, qtbot: QtBot) -> None:
    attic = Machine("Attic", 3, 3)
    desk.journal.machines.keep(attic, 2)
    desk.journal.probes.add_to("Wall logger", machine=None, from_at=NOW - 30 * DAY)
    desk.journal.events.add(Event(NOW - 3600, EventKind.DRY_RUN, machine=attic.uid, ends_at=NOW))
    wall = desk.journal.probes.by_name("Wall logger")
    assert wall is not None
    for at, probe, warmth, humidity in (
        (NOW - 4000, "Wall logger, in the room", "20", "50"),
        (NOW, "Wall logger, in the room", "20", "50"),
        (NOW, "Hygrometer in Attic", "37.5", "18.4"),
    ):
        dialog = ReadingDialog(desk.context, attic, None)
        qtbot.addWidget(dialog)
        dialog.at.set_instant(at)
        dialog.probe.setCurrentIndex(dialog.probe.findText(probe))
        assert dialog.probe.currentText() == probe
        qtbot.keyClicks(dialog.temperature.field, warmth)
        qtbot.keyClicks(dialog.humidity.field, humidity)
        dialog.save.click()
        assert dialog.result() == ReadingDialog.DialogCode.Accepted
    own = desk.journal.probes.present_in(attic.uid, NOW)
    assert [one.name for one in own] == ["Hygrometer in Attic"]
    (run,) = machine_guide(desk.journal, attic.uid, NOW).dry_runs
    assert run.measured == pytest.approx(18.4)
    # 20 °C and 50 % warmed to 37.5 °C: 18.1 % (computed with the published saturation pressures).
    assert run.expected == pytest.approx(18.1, abs=0.1)
