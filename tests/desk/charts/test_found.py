"""Power cuts that only the curve tells of, and what events did to the humidity, in the chart."""

from __future__ import annotations

from dataclasses import replace
from typing import Any
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from hatchbook.desk.charts.day_table import day_rows
from hatchbook.desk.charts.event_words import event_sentence, event_tip
from hatchbook.desk.charts.material import BatchMaterial
from hatchbook.desk.charts.readout_words import pointed_text
from hatchbook.desk.lines.lines_model import LinesModel
from hatchbook.desk.words.effects import effect_sentence, found_cut_sentence
from hatchbook.figures.effects import EventEffect
from hatchbook.figures.results import Curves, JournalLine, LineKind
from hatchbook.figures.temperature import CutFigures
from hatchbook.journal import Event
from hatchbook.trade.codes import EventKind
from PySide6.QtCore import Qt
from PySide6.QtTest import QAbstractItemModelTester

ZONE = ZoneInfo("Europe/Lisbon")
DAY = 86_400
NB = "\u00a0"


def unlogged(sample: Curves) -> BatchMaterial:
    kept = tuple(event for event in sample.events if event.kind is not EventKind.POWER_CUT)
    return BatchMaterial(replace(sample, events=kept))


def test_a_logged_cut_is_not_found_a_second_time(sample: Curves) -> None:
    material = BatchMaterial(sample)
    cuts = [event.uid for event in material.events if event.kind is EventKind.POWER_CUT]
    assert cuts == ["power0"]
    assert material.found_cuts == {}


def test_a_cut_that_nobody_logged_has_a_mark_and_its_words(sample: Curves, qapp: Any) -> None:
    material = unlogged(sample)
    (cut,) = [event for event in material.events if event.kind is EventKind.POWER_CUT]
    assert cut.at == pytest.approx(sample.start_at + 6.62 * DAY, abs=900)
    sentence = event_sentence(cut, material)
    assert sentence.startswith("Power off 1")
    assert sentence.endswith(f"{NB}°C: found in the curve, not logged")
    assert "found in the curve" in event_tip(cut, material, ZONE)
    assert "found in the curve" in pointed_text(material, cut.at, None, cut, ZONE)
    assert any("found in the curve" in told for row in day_rows(material) for told in row.events)


def test_marks_stay_in_the_order_of_time(sample: Curves) -> None:
    at = [event.at for event in unlogged(sample).events]
    assert at == sorted(at)


def test_the_tip_of_an_event_tells_what_it_did(sample: Curves, qapp: Any) -> None:
    vent = Event(sample.start_at + 5 * DAY, EventKind.VENT, vent=0.25, uid="vent9")
    stepped = np.where(sample.at > vent.at, sample.humidity + 9.0, sample.humidity)
    material = BatchMaterial(replace(sample, humidity=stepped, events=(vent,), duties=()))
    assert material.curves.effects["vent9"].told_from_chance
    assert "Vent 1/4; humidity +" in event_tip(vent, material, ZONE)
    assert "% in 2 h (+" in pointed_text(material, vent.at, None, vent, ZONE)


def test_effects_and_cuts_word_for_word(qapp: Any) -> None:
    sure = EventEffect("e", 41.0, 47.0, 4.2, 7.8, 2.0)
    assert effect_sentence(sure) == "humidity +6 % in 2 h (+4 to +8)"
    chance = EventEffect("e", 41.0, 40.0, -3.0, 1.0, 2.0)
    assert effect_sentence(chance) == "no sure change of humidity in 2 h: −1 % (−3 to +1)"
    cut = CutFigures(0, 6600, 31.5, sure=True)
    assert found_cut_sentence(cut) == (
        f"Power off 1{NB}h{NB}50{NB}min, down to 31.5{NB}°C: found in the curve, not logged"
    )
    assert "or lid open" in found_cut_sentence(replace(cut, sure=False))
    assert "so far" in found_cut_sentence(replace(cut, until=None))


def test_the_line_of_the_journal_tells_it_in_its_tooltip(qapp: Any, qtbot: Any) -> None:
    values = {"kind": "vent", "text": "", "vent": 0.25, "vent_before": 0.5}
    line = JournalLine(DAY, LineKind.EVENT, values, ("event", "e"))
    bare = JournalLine(DAY, LineKind.CLOSED, {}, None)
    model = LinesModel()
    QAbstractItemModelTester(model, QAbstractItemModelTester.FailureReportingMode.Fatal)
    model.show_lines([line, bare], ZONE, {"e": EventEffect("e", 41.0, 47.0, 4.2, 7.8, 2.0)})
    tip = model.data(model.index(0), Qt.ItemDataRole.ToolTipRole)
    assert str(tip).endswith("Vent 1/2 to 1/4; humidity +6 % in 2 h (+4 to +8)")
    assert str(model.data(model.index(1), Qt.ItemDataRole.ToolTipRole)).endswith(": Batch closed")
