"""A real logger's file (see SOURCES.md): moisture and averages against its own column and plain numpy."""

from __future__ import annotations

import csv
from datetime import UTC, datetime
from pathlib import Path
from typing import NamedTuple

import numpy as np
import pytest
from hatchbook.statistics.averages import daily_means, running_mean, share_inside, time_weighted
from hatchbook.statistics.moisture import humidity_ratio, vapour_kpa


class Office(NamedTuple):
    at_s: np.ndarray
    temperature_c: np.ndarray
    humidity: np.ndarray
    ratio: np.ndarray


@pytest.fixture(scope="module")
def office() -> Office:
    with (Path(__file__).parent / "office_climate_2015.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.reader(file))[1:]
    at = [int(datetime.fromisoformat(row[1]).replace(tzinfo=UTC).timestamp()) for row in rows]
    return Office(np.array(at), *(np.array([float(row[i]) for row in rows]) for i in (2, 3, 6)))


def test_humidity_ratio_column_comes_out(office: Office) -> None:
    assert office.ratio.size == 2665
    np.testing.assert_allclose(
        humidity_ratio(office.temperature_c, office.humidity, 101.325), office.ratio, rtol=1e-4
    )


def test_with_the_authors_constants_the_column_comes_out_to_the_last_digits(office: Office) -> None:
    vapour = vapour_kpa(office.temperature_c, office.humidity)
    np.testing.assert_allclose(0.622 * vapour / (101.33 - vapour), office.ratio, rtol=1e-12)


@pytest.mark.parametrize("column", ["temperature_c", "humidity"])
def test_time_weighted_mean_agrees_with_plain_numpy(office: Office, column: str) -> None:
    at, values = office.at_s, getattr(office, column)
    average = time_weighted(at, values, at[0], at[-1])
    assert average.mean == pytest.approx(np.trapezoid(values, at) / (at[-1] - at[0]), rel=1e-12)
    assert average.known_share == 1.0
    assert average.count == 2665
    assert (average.minimum, average.maximum) == (values.min(), values.max())


@pytest.mark.parametrize("column", ["temperature_c", "humidity"])
def test_part_of_the_file_agrees_with_numpy_on_a_line_cut_by_hand(office: Office, column: str) -> None:
    at, values = office.at_s, getattr(office, column)
    start, end = int(at[700]) + 17, int(at[1900]) + 23
    cut = np.concatenate(([start], at[701:1901], [end]))
    line = np.interp(cut, at, values)
    average = time_weighted(at, values, start, end)
    assert average.mean == pytest.approx(np.trapezoid(line, cut) / (end - start), rel=1e-12)
    assert average.known_share == 1.0


def test_daily_and_running_means_agree_with_numpy(office: Office) -> None:
    at, values = office.at_s, office.humidity
    daily = daily_means(at, values, at[0], at[-1])
    running = running_mean(at, values, at[0], at[-1])
    assert daily.day.tolist() == [0, 1]
    fine = np.arange(at[0], at[-1] + 1)
    line = np.interp(fine, at, values)
    for day in (0, 1):
        inside = (fine >= at[0] + day * 86_400) & (fine <= at[0] + (day + 1) * 86_400)
        assert daily.mean[day] == pytest.approx(
            np.trapezoid(line[inside], fine[inside]) / (fine[inside][-1] - fine[inside][0]), rel=1e-12
        )
    for row in (1, 1234, 2664):
        expected = np.trapezoid(values[: row + 1], at[: row + 1]) / (at[row] - at[0])
        assert running.mean[row] == pytest.approx(expected, rel=1e-12)


def test_share_inside_agrees_with_sampling_every_second(office: Office) -> None:
    at, values = office.at_s, office.humidity
    line = np.interp(np.arange(at[0], at[-1]) + 0.5, at, values)
    sampled = np.mean((line >= 24.0) & (line <= 26.0))
    assert 0.2 < sampled < 0.8
    assert share_inside(at, values, at[0], at[-1], 24.0, 26.0) == pytest.approx(sampled, abs=2e-4)
