"""What a batch asks of the breeder, and when: across changes of clocks, fractional days, odd hours of setting."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from datetime import datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from hatchbook.trade.codes import DutyKind, PhaseKind
from hatchbook.trade.instants import DAY_S, day_number, from_local, from_local_shifted, to_local
from hatchbook.trade.plan import (
    REST_AFTER_SETTING_S,
    BatchPlan,
    DayTimes,
    PlannedDuty,
    plan_batch,
    set_at_for_hatch,
)
from hatchbook.trade.programmes import Programme, load_programmes, programme_named
from hypothesis import given
from hypothesis import strategies as st

LISBON = ZoneInfo("Europe/Lisbon")
NEW_YORK = ZoneInfo("America/New_York")
ZONES = st.sampled_from(["Europe/Lisbon", "America/New_York", "Pacific/Apia", "Australia/Lord_Howe", "UTC"])


def hen(**changes: object) -> Programme:
    programme = programme_named("hen")
    assert programme is not None
    return replace(programme, **changes)  # type: ignore[arg-type]


def wall(text: str) -> datetime:
    return datetime.fromisoformat(text)


def shown(plan: BatchPlan, kind: DutyKind, zone: ZoneInfo) -> list[str]:
    return [f"{to_local(duty.at_s, zone):%m-%d %H:%M}" for duty in plan.duties if duty.kind is kind]


def duties(plan: BatchPlan, kind: DutyKind) -> list[PlannedDuty]:
    return [duty for duty in plan.duties if duty.kind is kind]


def test_a_hens_batch_in_may() -> None:
    plan = plan_batch(hen(), from_local(wall("2026-05-03 09:00"), LISBON), LISBON)
    assert shown(plan, DutyKind.SET, LISBON) == ["05-03 09:00"]
    assert shown(plan, DutyKind.TURN, LISBON)[:5] == [
        "05-03 14:00",
        "05-03 21:00",
        "05-04 07:30",
        "05-04 14:00",
        "05-04 21:00",
    ]
    assert shown(plan, DutyKind.TURN, LISBON)[-1] == "05-22 07:30"
    assert shown(plan, DutyKind.CANDLE, LISBON) == ["05-10 20:00", "05-17 20:00", "05-21 20:00"]
    assert shown(plan, DutyKind.WEIGH, LISBON) == [
        f"05-{day} 09:00" for day in ("03", "07", "10", "14", "17", "21")
    ]
    assert shown(plan, DutyKind.LOCKDOWN, LISBON) == ["05-22 09:00"]
    assert shown(plan, DutyKind.HATCH, LISBON) == ["05-24 09:00"]
    assert [phase.kind for phase in plan.phases] == [PhaseKind.INCUBATION, PhaseKind.LOCKDOWN]


def test_duties_are_numbered() -> None:
    plan = plan_batch(hen(), from_local(wall("2026-05-03 09:00"), LISBON), LISBON)
    turns = duties(plan, DutyKind.TURN)
    assert [(duty.day, duty.ordinal, duty.of) for duty in turns[:4]] == [
        (0, 2, 3),
        (0, 3, 3),
        (1, 1, 3),
        (1, 2, 3),
    ]
    candlings = [(duty.day, duty.ordinal, duty.of) for duty in duties(plan, DutyKind.CANDLE)]
    assert candlings == [(7, 1, 3), (14, 2, 3), (18, 3, 3)]
    names = Counter((duty.kind, duty.day, duty.ordinal) for duty in plan.duties)
    assert set(names.values()) == {1}


def test_a_corrected_hour_of_setting_leaves_the_duties_their_names() -> None:
    set_at = from_local(wall("2026-05-03 09:00"), LISBON)
    before, after = (plan_batch(hen(), at, LISBON) for at in (set_at, set_at + 1800))
    assert [(duty.kind, duty.day, duty.ordinal) for duty in before.duties] == [
        (duty.kind, duty.day, duty.ordinal) for duty in after.duties
    ]


@pytest.mark.parametrize(
    ("zone", "set_on", "lockdown", "hatch"),
    [
        # The clocks go forward on 29 March 2026 in Lisbon and on 8 March in New York: an hour later on the wall.
        (LISBON, "2026-03-20 09:00", "04-08 10:00", "04-10 10:00"),
        (NEW_YORK, "2026-03-01 09:00", "03-20 10:00", "03-22 10:00"),
        # They go back on 25 October and on 1 November: an hour earlier.
        (LISBON, "2026-10-15 09:00", "11-03 08:00", "11-05 08:00"),
        (NEW_YORK, "2026-10-20 09:00", "11-08 08:00", "11-10 08:00"),
        # A change inside lockdown moves the hatch alone.
        (LISBON, "2026-03-09 09:00", "03-28 09:00", "03-30 10:00"),
    ],
)
def test_phases_follow_the_eggs_and_duties_the_clock(
    zone: ZoneInfo, set_on: str, lockdown: str, hatch: str
) -> None:
    set_at = from_local(wall(set_on), zone)
    plan = plan_batch(hen(), set_at, zone)
    assert plan.lockdown_at_s - set_at == 19 * 24 * 3600
    assert plan.hatch_due_at_s - set_at == 21 * 24 * 3600
    assert shown(plan, DutyKind.LOCKDOWN, zone) == [lockdown]
    assert shown(plan, DutyKind.HATCH, zone) == [hatch]
    assert {text[6:] for text in shown(plan, DutyKind.TURN, zone)} == {"07:30", "14:00", "21:00"}
    assert {text[6:] for text in shown(plan, DutyKind.CANDLE, zone)} == {"20:00"}
    assert {text[6:] for text in shown(plan, DutyKind.WEIGH, zone)} == {"09:00"}
    per_date = Counter(text[:5] for text in shown(plan, DutyKind.TURN, zone))
    assert set(list(per_date.values())[1:-1]) == {3}  # every full day, those of the change too


@pytest.mark.parametrize(
    ("zone", "set_on", "slot", "expected"),
    [
        (LISBON, "2026-03-28 09:00", time(1, 30), "03-29 02:30"),  # skipped
        (NEW_YORK, "2026-03-07 09:00", time(2, 30), "03-08 03:30"),  # skipped
        (LISBON, "2026-10-24 09:00", time(1, 30), "10-25 01:30"),  # twice on the wall
        (NEW_YORK, "2026-10-31 09:00", time(1, 30), "11-01 01:30"),  # twice on the wall
    ],
)
def test_a_turning_in_the_hour_of_the_change_comes_once(
    zone: ZoneInfo, set_on: str, slot: time, expected: str
) -> None:
    plan = plan_batch(
        hen(), from_local(wall(set_on), zone), zone, DayTimes(turns=((slot, time(9), time(20)),))
    )
    first_night = [duty for duty in duties(plan, DutyKind.TURN) if duty.day == 1]
    assert [to_local(duty.at_s, zone).fold for duty in first_night] == [0, 0, 0]
    assert f"{to_local(first_night[0].at_s, zone):%m-%d %H:%M}" == expected


def test_a_skipped_turning_and_the_one_it_falls_on_are_one() -> None:
    times = DayTimes(turns=((time(1, 30), time(2, 30), time(20)),))
    plan = plan_batch(hen(), from_local(wall("2026-03-28 09:00"), LISBON), LISBON, times)
    assert shown(plan, DutyKind.TURN, LISBON)[1:3] == ["03-29 02:30", "03-29 20:00"]


def test_a_date_that_a_zone_skipped_asks_for_nothing() -> None:
    """Samoa had no 30 December 2011 (IANA time zone database, file australasia)."""
    apia = ZoneInfo("Pacific/Apia")
    plan = plan_batch(hen(), from_local(wall("2011-12-25 09:00"), apia), apia)
    per_date = Counter(f"{to_local(duty.at_s, apia):%m-%d}" for duty in duties(plan, DutyKind.TURN))
    assert "12-30" not in per_date
    assert (per_date["12-29"], per_date["12-31"]) == (3, 3)


def test_no_turning_in_the_first_hour() -> None:
    plan = plan_batch(hen(), from_local(wall("2026-05-03 13:30"), LISBON), LISBON)
    assert shown(plan, DutyKind.TURN, LISBON)[0] == "05-03 21:00"


def test_candling_and_weighing_on_the_day_of_lockdown_come_before_the_machine_is_shut() -> None:
    extension = programme_named("hen_extension")
    assert extension is not None
    plan = plan_batch(extension, from_local(wall("2026-05-25 09:00"), LISBON), LISBON)
    assert shown(plan, DutyKind.LOCKDOWN, LISBON) == ["06-12 09:00"]
    assert shown(plan, DutyKind.CANDLE, LISBON)[-1] == "06-12 09:00"
    assert shown(plan, DutyKind.WEIGH, LISBON)[-1] == "06-12 09:00"
    at_once = [duty.kind for duty in plan.duties if duty.at_s == plan.lockdown_at_s]
    assert at_once == [DutyKind.CANDLE, DutyKind.WEIGH, DutyKind.LOCKDOWN]


def test_a_candling_planned_for_the_days_of_hatching_keeps_its_hour() -> None:
    plan = plan_batch(hen(candle_days=(20.0,)), from_local(wall("2026-05-03 09:00"), LISBON), LISBON)
    assert shown(plan, DutyKind.CANDLE, LISBON) == ["05-23 20:00"]


@pytest.mark.parametrize(("set_at", "weighed"), [("03:15", "07:30"), ("11:20", "11:20"), ("23:50", "21:00")])
def test_eggs_are_weighed_at_the_hour_of_setting_if_the_breeder_is_up(set_at: str, weighed: str) -> None:
    plan = plan_batch(hen(), from_local(wall(f"2026-05-03 {set_at}"), LISBON), LISBON)
    first, *later = shown(plan, DutyKind.WEIGH, LISBON)
    assert first == f"05-03 {set_at}"
    assert {text[6:] for text in later} == {weighed}


def test_a_programme_without_weighings_asks_for_none() -> None:
    plan = plan_batch(hen(weigh_days=()), 0, LISBON)
    assert duties(plan, DutyKind.WEIGH) == []


def test_fractional_days_are_kept_to_the_second() -> None:
    programme = hen()
    first, last = programme.phases
    fractional = replace(
        programme,
        incubation_days=20.5,
        phases=(replace(first, to_day=18.25), replace(last, from_day=18.25, to_day=20.5)),
        candle_days=(5.75, 18.25),
    )
    set_at = from_local(wall("2026-05-03 09:00"), LISBON)
    plan = plan_batch(fractional, set_at, LISBON)
    assert shown(plan, DutyKind.LOCKDOWN, LISBON) == ["05-21 15:00"]
    assert shown(plan, DutyKind.HATCH, LISBON) == ["05-23 21:00"]
    # Day 5.75 is 3 o'clock in the night to 9 May.
    assert shown(plan, DutyKind.CANDLE, LISBON) == ["05-09 20:00", "05-21 15:00"]
    assert set_at_for_hatch(fractional, plan.hatch_due_at_s) == set_at


@pytest.mark.parametrize("programme", load_programmes(), ids=lambda programme: programme.code)
def test_a_batch_is_planned_back_from_the_wanted_hatch(programme: Programme) -> None:
    wanted = from_local(wall("2026-04-05 09:00"), LISBON)  # the clocks change on 29 March
    set_at = set_at_for_hatch(programme, wanted)
    assert plan_batch(programme, set_at, LISBON).hatch_due_at_s == wanted
    assert day_number(wanted, set_at) == programme.incubation_days


@pytest.mark.parametrize(
    ("turns", "times"),
    [
        (0, []),
        (1, ["09:00"]),
        (2, ["07:30", "21:00"]),
        (3, ["07:30", "14:00", "21:00"]),
        (4, ["07:30", "12:00", "16:30", "21:00"]),
        (5, ["07:30", "10:52", "14:15", "17:38", "21:00"]),
        (9, []),  # a machine does it
        (24, []),
    ],
)
def test_turnings_are_spread_over_the_breeders_day(turns: int, times: list[str]) -> None:
    assert [f"{at:%H:%M}" for at in DayTimes().turn_times(turns)] == times


def test_one_turning_a_day_comes_first_thing_where_no_hour_is_named_for_it() -> None:
    assert DayTimes(turns=()).turn_times(1) == (time(7, 30),)


@given(
    st.datetimes(wall("1980-01-01"), wall("2060-01-01")),
    ZONES,
    st.sampled_from(load_programmes()),
    st.integers(0, 8),
)
def test_no_batch_asks_for_what_it_should_not(
    set_wall: datetime, name: str, programme: Programme, turns: int
) -> None:
    zone = ZoneInfo(name)
    set_at = from_local_shifted(set_wall.replace(second=0, microsecond=0), zone)
    first, last = programme.phases
    programme = replace(programme, phases=(replace(first, turns_per_day=turns), last))
    plan = plan_batch(programme, set_at, zone)
    times = [duty.at_s for duty in plan.duties]
    assert times == sorted(times)
    assert min(times) == set_at
    assert max(times) == plan.hatch_due_at_s
    assert [(phase.end_s - phase.start_s) / DAY_S for phase in plan.phases] == [
        phase.days for phase in programme.phases
    ]
    turnings = [duty.at_s for duty in duties(plan, DutyKind.TURN)]
    assert len(set(turnings)) == len(turnings)
    assert all(set_at + REST_AFTER_SETTING_S <= at < plan.lockdown_at_s for at in turnings)
    # Up to a day is lost at either end, and Samoa lost a whole one.
    assert turns * (programme.lockdown_day - 3) <= len(turnings) <= turns * (programme.lockdown_day + 1)
    for duty in (*duties(plan, DutyKind.CANDLE), *duties(plan, DutyKind.WEIGH)):
        assert set_at <= duty.at_s <= plan.lockdown_at_s
        assert abs(duty.at_s - set_at - duty.day * DAY_S) <= timedelta(days=2).total_seconds()
        if name != "Pacific/Apia":
            assert abs(duty.at_s - set_at - duty.day * DAY_S) <= timedelta(hours=25).total_seconds()
