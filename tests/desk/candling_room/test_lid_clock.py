"""How long the lid was open."""

from __future__ import annotations

from hatchbook.desk.candling_room.lid_clock import LidClock
from hatchbook.desk.candling_room.round_state import PAUSE_S
from hatchbook.trade.codes import EventKind


def test_one_opening_is_one_event_that_grows_with_every_verdict() -> None:
    clock = LidClock.open_from(1000)
    events = []
    for at in (1060, 1120, 1180):
        clock = clock.worked(at)
        events.append(clock.event("machine"))
    assert len({event.uid for event in events}) == 1
    assert [(event.at, event.ends_at) for event in events] == [(1000, 1060), (1000, 1120), (1000, 1180)]
    assert (events[0].kind, events[0].machine) == (EventKind.LID, "machine")


def test_it_counts_on_between_verdicts_but_the_event_ends_with_the_last() -> None:
    clock = LidClock.open_from(1000).worked(1060)
    assert clock.counts(1100)
    assert clock.seconds(1100) == 100
    assert clock.event("machine").ends_at == 1060


def test_after_a_pause_the_next_verdict_begins_an_opening_of_its_own() -> None:
    clock = LidClock.open_from(1000).worked(1060)
    later = 1061 + PAUSE_S
    assert not clock.counts(later)
    assert clock.seconds(later) == 60
    again = clock.worked(later)
    assert again.uid != clock.uid
    assert (again.opened_at, again.seconds(later + 5)) == (later, 5)


def test_a_lid_that_was_shut_stays_shut_until_it_is_said_to_be_open() -> None:
    shut = LidClock.open_from(1000).worked(1060).toggled(1090)
    assert shut.worked(1200) == shut
    assert (shut.seconds(5000), shut.event("machine").ends_at) == (90, 1090)
    again = shut.toggled(1300)
    assert again.uid != shut.uid
    assert (again.opened_at, again.counts(1310)) == (1300, True)


def test_a_clock_that_was_set_back_gives_no_event_that_ends_before_it_begins() -> None:
    for clock in (LidClock.open_from(1000).worked(900), LidClock.open_from(1000).toggled(900)):
        event = clock.event("machine")
        assert event.ends_at is not None
        assert event.ends_at >= event.at
