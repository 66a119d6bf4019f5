"""How water and vent of a machine stood, by its events."""

from __future__ import annotations

from hatchbook.figures.guide_settings import setting_line
from hatchbook.journal import Event
from hatchbook.trade.codes import EventKind

HOUR = 3600


def water(at: int, channels: int | None = None) -> Event:
    return Event(at, EventKind.WATER, machine="m", channels_filled=channels)


def vent(at: int, opening: float) -> Event:
    return Event(at, EventKind.VENT, machine="m", vent=opening)


def stood(events: list[Event], at: int, channels: int = 4) -> tuple[int | None, float | None] | None:
    setting = setting_line(events, channels).at(at)
    return None if setting is None else (setting.channels, setting.vent)


def test_nothing_is_known_before_the_first_event() -> None:
    events = [water(10, 2), vent(20, 0.5)]
    assert stood(events, 9) is None
    assert stood(events, 10) == (2, None)
    assert stood(events, 20) == (2, 0.5)


def test_topping_up_leaves_the_number_of_channels() -> None:
    assert stood([water(10, 2), vent(10, 0.5), water(50)], 60) == (2, 0.5)


def test_cleaning_empties_the_channels_and_leaves_the_vent() -> None:
    cleaned = Event(50, EventKind.CLEANED, machine="m")
    assert stood([water(10, 2), vent(10, 0.5), cleaned], 60) == (None, 0.5)


def test_more_channels_than_there_are_make_the_setting_unknown_until_the_next() -> None:
    events = [water(10, 2), vent(10, 0.5), water(50, 9), water(90, 3)]
    line = setting_line(events, 4)
    assert (stood(events, 60), stood(events, 95)) == ((None, 0.5), (3, 0.5))
    assert line.impossible == 1


def test_where_the_number_of_channels_is_unknown_any_is_believed() -> None:
    assert stood([water(10, 9), vent(10, 0.5)], 60, channels=0) == (9, 0.5)


def test_since_when_a_setting_stands_reaches_back_over_topping_up() -> None:
    line = setting_line([water(10, 2), vent(20, 0.5), water(50), water(70, 2)], 4)
    assert line.since(100) == 20
    assert line.since(5) is None


def test_a_lid_and_a_power_cut_disturb_and_a_note_does_not() -> None:
    events = [
        Event(0, EventKind.LID, machine="m", ends_at=600),
        Event(HOUR, EventKind.POWER_CUT, machine="m"),
        Event(2 * HOUR, EventKind.CARE, machine="m"),
        Event(3 * HOUR, EventKind.NOTE, machine="m", text="hot today"),
    ]
    line = setting_line(events, 4)
    assert [(one.at, one.until) for one in line.disturbances] == [(0, 600), (HOUR, 7 * HOUR)]
    assert line.settings == ()
