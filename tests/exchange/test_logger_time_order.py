"""Files whose time does not simply run forward."""

from __future__ import annotations

import numpy as np
import pytest
from hatchbook.exchange.logger_file import RejectReason
from hatchbook.exchange.loggers.time_order import put_in_order

from .conftest import ReadText

MIDNIGHT = 1_777_766_400  # 2026-05-03 00:00:00 UTC (date -u)


def lines_at(minutes: list[int]) -> list[str]:
    """Lines at these minutes after midnight; the humidity tells neighbouring lines apart."""
    return [
        f"2026-05-{3 + minute // 1440:02} {minute // 60 % 24:02}:{minute % 60:02},37.6,{40 + number % 20}\n"
        for number, minute in enumerate(minutes)
    ]


def test_a_clock_set_back_by_an_hour_rejects_the_hour_told_twice(read_text: ReadText) -> None:
    times = list(range(0, 610, 10)) + list(range(550, 900, 10))
    table = read_text("".join(lines_at(times)))
    assert table.at.tolist() == [MIDNIGHT + 60 * minute for minute in range(0, 900, 10)]
    assert [line.number for line in table.rejected] == [62, 63, 64, 65, 66, 67]
    assert {line.reason for line in table.rejected} == {RejectReason.TIME_RUNS_BACKWARDS}
    assert {line.by_s for line in table.rejected} == {3600}
    assert table.rejected[0].other_line == 56
    assert "time runs backwards by 1 h" in str(table.rejected[0])


def test_a_clock_set_back_between_the_steps_is_found_too(read_text: ReadText) -> None:
    times = list(range(0, 610, 10)) + list(range(553, 900, 10))
    table = read_text("".join(lines_at(times)))
    assert [line.number for line in table.rejected] == [62, 63, 64, 65, 66]
    assert {line.reason for line in table.rejected} == {RejectReason.TIME_RUNS_BACKWARDS}
    assert (np.diff(table.at) > 0).all()


@pytest.mark.parametrize(
    ("stray", "reason"), [(30, RejectReason.TIME_RUNS_BACKWARDS), (20_000, RejectReason.TIME_JUMPS_AHEAD)]
)
def test_one_stray_line_does_not_drag_the_others_along(
    read_text: ReadText, stray: int, reason: RejectReason
) -> None:
    times = [*range(100, 200, 10), stray, *range(200, 300, 10)]
    table = read_text("".join(lines_at(times)))
    assert [(line.number, line.reason) for line in table.rejected] == [(11, reason)]
    assert table.at.tolist() == [MIDNIGHT + 60 * minute for minute in range(100, 300, 10)]


def test_a_file_written_newest_first_is_turned_round(read_text: ReadText) -> None:
    times = list(range(0, 300, 10))
    table = read_text("".join(lines_at(times[::-1])))
    assert table.newest_first
    assert table.at.tolist() == [MIDNIGHT + 60 * minute for minute in times]
    assert table.line_numbers.tolist() == list(range(30, 0, -1))
    assert table.humidity[0] == 40 + 29 % 20


def test_two_files_joined_in_the_wrong_order_are_sorted(read_text: ReadText) -> None:
    later, earlier = list(range(3000, 3500, 10)), list(range(0, 300, 10))
    table = read_text("".join(lines_at(later + earlier)))
    assert table.at.tolist() == [MIDNIGHT + 60 * minute for minute in earlier + later]
    assert table.out_of_order == len(earlier)
    assert table.moved_lines.tolist() == list(range(51, 81))
    assert table.rejected == ()


def test_the_same_lines_again_are_counted_as_duplicates(read_text: ReadText) -> None:
    block = lines_at(list(range(0, 300, 10)))
    table = read_text("".join(block + block))
    assert table.stored == table.duplicates == 30
    assert table.duplicate_lines.tolist() == list(range(31, 61))
    assert table.rejected == ()


def test_duplicates_with_an_empty_cell_are_duplicates(read_text: ReadText) -> None:
    table = read_text(
        "time,temp,hum\n2026-05-03 09:00,37.6,\n2026-05-03 09:00,37.6,\n2026-05-03 09:10,37.6,52\n"
    )
    assert (table.stored, table.duplicates) == (2, 1)


def test_the_same_instant_with_other_values_rejects_the_later_line(read_text: ReadText) -> None:
    table = read_text("2026-05-03 09:00,37.6,52\n2026-05-03 09:00,37.7,52\n2026-05-03 09:10,37.6,52\n")
    (line,) = table.rejected
    assert (line.number, line.reason, line.other_line) == (2, RejectReason.SAME_TIME_OTHER_VALUES, 1)
    assert "same time as line 1, other values" in str(line)
    assert table.temperature_c.tolist() == [37.6, 37.6]


def test_readings_below_a_second_apart_keep_the_first_of_each_second(read_text: ReadText) -> None:
    table = read_text("".join(f"2026-05-03 09:00:0{n // 4}.{n % 4 * 25:02},37.{n},52\n" for n in range(8)))
    assert table.at.tolist() == [MIDNIGHT + 32_400, MIDNIGHT + 32_401]
    assert table.temperature_c.tolist() == [37.0, 37.4]
    assert {line.reason for line in table.rejected} == {RejectReason.SAME_TIME_OTHER_VALUES}


def longest_ascending(times: list[int]) -> int:
    """Length of a longest ascending run, counted the slow way."""
    best: list[int] = []
    for place, time in enumerate(times):
        best.append(1 + max((best[i] for i in range(place) if times[i] < time), default=0))
    return max(best, default=0)


@pytest.mark.parametrize("seed", range(20))
def test_as_few_lines_as_possible_are_rejected(seed: int) -> None:
    random = np.random.default_rng(seed)
    times = random.permutation(60)[:40]
    values = (random.random(40),)
    order = put_in_order(times.astype(np.int64), values)
    kept = times[order.kept]
    assert (np.diff(kept) > 0).all()
    assert kept.size - order.moved.size == longest_ascending(times.tolist())
    assert set(order.kept.tolist()) == set(np.flatnonzero(order.fates == 0).tolist())
