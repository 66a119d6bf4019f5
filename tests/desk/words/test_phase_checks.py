"""The checks of a finished batch's phases: the weight as it stands over the page, what moved a drift."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hatchbook.desk.words.phase_checks import CheckLine, check_lines, drift_marks
from hatchbook.figures import batch_view
from hatchbook.figures.results import WeightFigures
from hatchbook.figures.temperature import temperature_figures
from hatchbook.figures.weight_results import Estimate
from hatchbook.journal import Event, NewReadings
from hatchbook.statistics.averages import Trace
from hatchbook.statistics.drift import DriftVerdict, phase_verdict
from hatchbook.trade.codes import EventKind
from tests.desk.charts.weights import forecast
from tests.desk.conftest import DAY, SET_AT, ZONE, Desk


def weight_line(desk: Desk, **given: object) -> tuple[str, str, str]:
    figures, curves = batch_view(desk.journal, desk.batch.uid, SET_AT + 24 * DAY)
    figures = replace(figures, **given)
    lines = check_lines(figures, temperature_figures(figures, curves, ZONE))
    (line,) = [line for line in lines if line.subject.startswith("Weight lost")]
    return line.subject, line.value, line.verdict


def test_the_weight_lost_is_the_one_over_the_page(desk: Desk) -> None:
    weighed = replace(forecast(SET_AT), at_target=Estimate(12.9, 12.1, 13.7))
    measured = WeightFigures(12.4, 0.2, 8, 17.9)
    assert weight_line(desk, forecast=weighed, weight=measured) == (
        "Weight lost, day 18",
        "12.9\u00a0%",
        "11–13 % wanted",
    )
    assert weight_line(desk, forecast=None, weight=measured)[1] == "12.4\u00a0%"


@pytest.mark.parametrize(
    ("fields", "mark"),
    [
        ({"kind": EventKind.VENT, "vent": 0.25}, "from day 4: vent at 1/4"),
        ({"kind": EventKind.WATER, "channels_filled": 3}, "from day 4: 3 channel(s) filled"),
        ({"kind": EventKind.WATER, "water_ml": 300}, "from day 4: water added"),
        (None, "from day 4: over the band"),
    ],
)
def test_a_drift_is_marked_with_what_was_done(
    desk: Desk, fields: dict[str, object] | None, mark: str
) -> None:
    journal, batch = desk.journal, desk.batch
    for event in journal.events.all():
        journal.events.remove(event)
    if fields is not None:
        journal.events.add(Event(SET_AT + 4 * DAY, machine=batch.machine, **fields))  # type: ignore[arg-type]
    (import_run,) = journal.imports.all()
    journal.imports.remove(import_run)
    at = np.arange(SET_AT, SET_AT + 11 * DAY, 900, dtype=np.int64)
    humidity = np.where(at < SET_AT + 4 * DAY, 45.0, 60.0) + np.sin(at / 3000.0) * 0.3
    journal.imports.bring_in(
        desk.probe, NewReadings("wet.csv", "1" * 64, "{}", len(at), at, humidity * 0 + 37.7, humidity), SET_AT
    )
    figures, curves = batch_view(journal, batch.uid, SET_AT + 11 * DAY)
    assert [text for _at, text in drift_marks(figures, curves)] == [mark]


def lines_of(desk: Desk, temperature: object) -> dict[str, CheckLine]:
    """The checks with a made-up course of temperature before lockdown."""
    figures, curves = batch_view(desk.journal, desk.batch.uid, SET_AT + 24 * DAY)
    first, *rest = figures.phases
    figures = replace(figures, phases=(replace(first, temperature=temperature), *rest))
    return {line.subject: line for line in check_lines(figures, temperature_figures(figures, curves, ZONE))}


@pytest.mark.parametrize(("side", "word"), [(1, "warmer"), (-1, "cooler")])
def test_a_temperature_slides_warmer_or_cooler_and_not_wetter(desk: Desk, side: int, word: str) -> None:
    (first, *_rest) = batch_view(desk.journal, desk.batch.uid, SET_AT + 24 * DAY)[0].phases
    band = first.temperature_band
    at = np.arange(SET_AT, SET_AT + 18 * DAY, 3600)
    values = band.aim + side * np.linspace(-0.2, 1.6, at.size) * (band.high - band.aim)
    drift = phase_verdict(Trace(at, values), SET_AT, SET_AT + 18 * DAY, band.low, band.aim, band.high)
    assert drift.verdict is DriftVerdict.SLIDING
    verdict = lines_of(desk, drift)["Incubation, temperature"].verdict
    assert verdict.startswith(f"sliding {word} since day ")


def test_without_readings_no_power_cut_is_no_good_sign(desk: Desk) -> None:
    (run,) = desk.journal.imports.all()
    desk.journal.imports.remove(run)
    figures, curves = batch_view(desk.journal, desk.batch.uid, SET_AT + 24 * DAY)
    lines = check_lines(figures, temperature_figures(figures, curves, ZONE))
    assert [line.state for line in lines if line.subject == "Power"] == ["unknown"]
