"""The batches of a machine in a row: which marks there are, how one moves among them."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hatchbook.desk.charts.machine_history import MachineHistory, items_of
from hatchbook.desk.words.machines import off_word, phase_line, phase_sentence, present_phase
from hatchbook.figures.machines import MachineBatch
from hatchbook.figures.results import Band, BatchState, PhaseFigures, PhaseState
from hatchbook.statistics.averages import Trace
from hatchbook.statistics.drift import phase_verdict
from hatchbook.trade.codes import PhaseKind
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot
from tests.desk.machines.guides import DAY, NOW


def plain(text: str) -> str:
    return text.replace("\u00a0", " ")


def phase(
    kind: PhaseKind, humidity: float | None, band: Band, state: PhaseState = PhaseState.OVER
) -> PhaseFigures:
    start_at, end_at = NOW - 21 * DAY, NOW - 3 * DAY
    verdict = warmth = None
    if humidity is not None:
        at = np.arange(start_at, end_at, 3600, dtype=np.int64)
        swing = 2 * np.sin(at / DAY)
        verdict = phase_verdict(
            Trace.for_window(at, humidity + swing, start_at, end_at),
            start_at,
            end_at,
            band.low,
            band.aim,
            band.high,
        )
        warmth = phase_verdict(
            Trace.for_window(at, 37.7 + 0 * swing, start_at, end_at), start_at, end_at, 37.5, 37.7, 37.9
        )
    return PhaseFigures(
        kind=kind,
        state=state,
        from_day=0.0 if kind is PhaseKind.INCUBATION else 18.0,
        to_day=18.0 if kind is PhaseKind.INCUBATION else 21.0,
        start_at=start_at,
        end_at=end_at,
        humidity_band=band,
        temperature_band=Band(37.5, 37.7, 37.9),
        turns_per_day=3,
        elapsed_h=432.0,
        remaining_h=0.0,
        humidity=verdict,
        temperature=warmth,
        plus_minus=2.0,
        hold=None,
        turns_due=0,
        turns_done=0,
        machine_name="Dairy",
    )


SET, LOCK = Band(40, 45, 50), Band(60, 65, 70)


def batch(number: int, humidity: float | None = 45.0, lockdown: float | None = 65.0) -> MachineBatch:
    return MachineBatch(
        uid=f"b{number}",
        label=f"26-{number:02d}",
        name="Orchard hens",
        species="hen",
        state=BatchState.CLOSED,
        set_at=NOW - (100 - number) * DAY,
        phases=(phase(PhaseKind.INCUBATION, humidity, SET), phase(PhaseKind.LOCKDOWN, lockdown, LOCK)),
        most_readings=tuple(None if mean is None else (mean - 2, mean + 3) for mean in (humidity, lockdown)),
    )


def chart(qtbot: QtBot, *batches: MachineBatch) -> MachineHistory:
    made = MachineHistory()
    qtbot.addWidget(made)
    made.resize(600, 240)
    made.show_batches(batches)
    return made


def test_phases_without_readings_take_no_room() -> None:
    items = items_of([batch(2, None, None), batch(3, 45, None), batch(1)])
    assert [(one.batch.label, one.slot) for one in items] == [("26-01", 0), ("26-01", 0), ("26-03", 1)]


def test_a_bar_spans_most_readings() -> None:
    first = items_of([batch(1)])[0]
    assert (first.low, first.high) == (43.0, 48.0)
    bare = replace(batch(1), most_readings=(None, None))
    one = items_of([bare])[0]
    assert (one.low, one.high) == (one.mean, one.mean)


def test_what_left_its_band_has_a_word() -> None:
    humid, dry = phase(PhaseKind.INCUBATION, 55.0, SET), phase(PhaseKind.LOCKDOWN, 50.0, LOCK)
    assert (off_word(humid), off_word(dry)) == ("too humid", "too dry")
    assert off_word(phase(PhaseKind.INCUBATION, 46.0, SET)) == ""
    assert off_word(phase(PhaseKind.INCUBATION, None, SET)) == ""


def test_a_phase_is_told_with_its_numbers() -> None:
    one = batch(1)
    said = plain(phase_sentence(one, one.phases[0]))
    assert said.startswith("26-01 Orchard hens, incubation: 44.9 %, ")
    assert "band 40–50 %" in said
    assert said.endswith("; 37.7 °C")
    assert plain(phase_line(one, one.phases[0])).startswith("26-01, incubation: 44.9 %, ")
    empty = batch(2, None)
    assert phase_sentence(empty, empty.phases[0]) == "26-02 Orchard hens, incubation: no readings of humidity"


def test_arrows_go_from_phase_to_phase_and_enter_opens(qtbot: QtBot) -> None:
    shown = chart(qtbot, batch(1), batch(2, 58.0))
    said: list[str] = []
    shown.pointed.connect(said.append)
    qtbot.keyClick(shown, Qt.Key.Key_End)
    assert shown.current is not None
    assert (shown.current.batch.label, shown.current.phase.kind) == ("26-02", PhaseKind.LOCKDOWN)
    qtbot.keyClick(shown, Qt.Key.Key_Left)
    assert "over the band" in said[-1]
    qtbot.keyClick(shown, Qt.Key.Key_Home)
    qtbot.keyClick(shown, Qt.Key.Key_Left)
    assert shown.accessibleDescription().startswith("26-01 Orchard hens, incubation")
    with qtbot.waitSignal(shown.batch_opened) as told:
        qtbot.keyClick(shown, Qt.Key.Key_Return)
    assert told.args == ["b1"]


def test_more_batches_than_there_is_room_for_are_reached_by_keys(qtbot: QtBot) -> None:
    shown = chart(qtbot, *(batch(number) for number in range(1, 31)))
    assert not shown._is_in_view(shown.items[0])
    assert shown._is_in_view(shown.items[-1])
    qtbot.keyClick(shown, Qt.Key.Key_Home)
    assert shown._is_in_view(shown.items[0])
    assert not shown.grab().isNull()


@pytest.mark.parametrize("width", [300, 900])
def test_it_paints_in_every_state(qtbot: QtBot, width: int) -> None:
    for batches in ((), (batch(1),), (batch(1), batch(2, 30.0, 80.0), batch(3, 45, None))):
        shown = chart(qtbot, *batches)
        shown.resize(width, 220)
        assert not shown.grab().isNull()


def test_a_batch_lies_in_a_machine_until_it_is_closed() -> None:
    over = replace(batch(1), state=BatchState.RUNNING)
    assert present_phase(over) is over.phases[1]
    assert present_phase(batch(1)) is None
    moved = replace(over, phases=(over.phases[0], replace(over.phases[1], state=PhaseState.TO_COME)))
    assert present_phase(moved) is None
