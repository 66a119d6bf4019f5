"""Machines in words: probes, what they hold, their care, what is odd about their probes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest
from hatchbook.desk.words.machines import (
    capacity_sentence,
    care_result,
    care_sentence,
    care_what,
    check_result,
    holds_sentence,
    probe_sentence,
)
from hatchbook.desk.words.probe_flags import flag_sentences, watch_sentences
from hatchbook.figures.care import CareEntry
from hatchbook.figures.machines import MachineFigures, MachineProbe
from hatchbook.figures.probe_watch import ProbeFlags, ProbeWatch
from hatchbook.figures.reach import MachineReach
from hatchbook.journal import Channel, Event, Machine, Probe, ProbeCheck
from hatchbook.statistics.probe_difference import ProbeDifference
from hatchbook.statistics.same_value import SameValue
from hatchbook.trade.codes import CheckMethod, EventKind, Quantity
from tests.desk.english import english_plurals
from tests.desk.machines.guides import DAY, NOW, ZONE

NAN = float("nan")
PROBE = Probe("Shelf logger", 1, accuracy_humidity=3.0)
CHECK = ProbeCheck(PROBE.uid, NOW - 12 * DAY, Quantity.HUMIDITY, CheckMethod.SALT, 75.3, 76.8, "NaCl", 25.0)


@pytest.fixture(autouse=True)
def english(qapp: object) -> Iterator[None]:
    with english_plurals():
        yield


def plain(text: str) -> str:
    return text.replace("\u00a0", " ")


def flags(**given: Any) -> ProbeFlags:
    made = ProbeFlags(
        uid=PROBE.uid,
        name=PROBE.name,
        last_at=NOW,
        correction=None,
        temperature_correction=None,
        plus_minus=2.0,
        plus_minus_c=0.2,
        stuck=(),
        difference=None,
        temperature_difference=None,
        apart=False,
    )
    return replace(made, **given)


def difference(**given: Any) -> ProbeDifference:
    made = ProbeDifference(Quantity.HUMIDITY, 1.0, 0.6, 1.4, None, None, None, hours=200, days=9, span_days=9)
    return replace(made, **given)


def test_a_probe_says_how_far_it_can_be_trusted_and_since_when() -> None:
    checked, unchecked = MachineProbe(PROBE, 0, CHECK), MachineProbe(PROBE, 0, None)
    assert plain(probe_sentence(checked, flags(), ZONE)) == (
        "Shelf logger good to ± 2 % since the salt test of 2 May 2026."
    )
    assert plain(probe_sentence(unchecked, flags(plus_minus=4.5), ZONE)) == (
        "Shelf logger good to ± 4.5 %, never checked."
    )
    assert probe_sentence(unchecked, None, ZONE) == (
        "Shelf logger was never checked: how true it reads is not known."
    )
    assert probe_sentence(checked, None, ZONE) == "Shelf logger last checked 2 May 2026 (salt test)."


def test_an_empty_machine_says_what_it_could_hold() -> None:
    machine = Machine("Attic", 3, 4)
    channels = (Channel(machine.uid, 1), Channel(machine.uid, 2))
    figures = MachineFigures(machine, channels, (), MachineReach(), ())
    assert holds_sentence(figures, NOW, ZONE) == "Holds no eggs now."
    assert capacity_sentence(figures) == "Up to 12 eggs, forced air (with a fan), 2 water channels."
    assert capacity_sentence(replace(figures, channels=())) == "Up to 12 eggs, forced air (with a fan)."


@pytest.mark.parametrize(
    ("shown", "quantity", "said"),
    [
        (76.8, Quantity.HUMIDITY, "1.5 % high at 75.3 %"),
        (74.1, Quantity.HUMIDITY, "1.2 % low at 75.3 %"),
        (75.3, Quantity.HUMIDITY, "true at 75.3 %"),
        (75.5, Quantity.TEMPERATURE, "0.2 °C too warm at 75.3 °C"),
        (75.2, Quantity.TEMPERATURE, "0.1 °C too cold at 75.3 °C"),
    ],
)
def test_a_check_says_by_how_much_and_where(shown: float, quantity: Quantity, said: str) -> None:
    assert plain(check_result(replace(CHECK, shown_value=shown, quantity=quantity))) == said


def test_care_is_named_by_what_was_done() -> None:
    salt = CareEntry(CHECK.at, check=replace(CHECK, note="grille wiped"), probe_name="Shelf logger")
    assert care_what(salt) == "Salt test, Shelf logger"
    assert plain(care_sentence(salt, ZONE)) == (
        "2 May 2026: Salt test, Shelf logger (Table salt, NaCl, at 25 °C): 1.5 % high at 75.3 %; grille wiped"
    )
    event = Event(NOW, EventKind.CARE, machine="m", text="vent seal replaced")
    assert care_sentence(CareEntry(NOW, event=event), ZONE) == "14 May 2026: vent seal replaced"
    cut = CareEntry(NOW, event=replace(event, kind=EventKind.POWER_CUT, ends_at=NOW + 6600, text="storm"))
    assert (care_what(cut), plain(care_result(cut))) == ("Power cut", "1 h 50 min; storm")
    run = CareEntry(NOW, event=replace(event, kind=EventKind.DRY_RUN, text=""))
    assert care_result(run, "18.6 %, room air 18.0 %") == "18.6 %, room air 18.0 %"
    noted = replace(run, event=replace(event, kind=EventKind.DRY_RUN, text="door ajar"))
    assert care_result(noted, "18.6 %, room air 18.0 %") == "18.6 %, room air 18.0 %; door ajar"
    assert (care_result(run), care_result(noted)) == ("", "door ajar")


def test_a_sound_probe_is_not_spoken_of() -> None:
    assert flag_sentences(flags(difference=difference()), ZONE) == []


def test_a_probe_that_stands_still_is_told_with_its_value() -> None:
    still = SameValue(NOW - 9 * 3600, NOW, 46.0, NAN)
    assert [plain(one) for one in flag_sentences(flags(stuck=(still,)), ZONE)] == [
        "Shelf logger has shown the same for 9 h (46.0 %): is it frozen, or cut off?"
    ]
    past = SameValue(NOW - 3 * DAY, NOW - 2 * DAY, NAN, 37.7)
    assert [plain(one) for one in flag_sentences(flags(stuck=(past,)), ZONE)] == [
        "Shelf logger showed the same for 1 d from Mon 11 May 14:10 on (37.7 °C)."
    ]


def test_a_probe_that_drifts_or_stands_apart_is_told_with_the_difference() -> None:
    drift = difference(change=3.2, change_low=2.1, change_high=4.4)
    assert [plain(one) for one in flag_sentences(flags(difference=drift), ZONE)] == [
        "Shelf logger moved up by 3.2 % against the other probes within 9 days: check it."
    ]
    down = difference(change=-3.2, change_low=-4.4, change_high=-2.1)
    assert "moved down by 3.2" in plain(flag_sentences(flags(difference=down), ZONE)[0])
    apart = flags(difference=difference(difference=-6.0), apart=True)
    assert [plain(one) for one in flag_sentences(apart, ZONE)] == [
        "Shelf logger reads 6.0 % below the other probes, more than both may be off: check them."
    ]


def test_two_probes_that_stand_apart_say_it_once() -> None:
    high = flags(difference=difference(difference=6.0), apart=True)
    low = flags(uid="two", name="Wall logger", difference=difference(difference=-6.0), apart=True)
    told = [plain(one) for one in watch_sentences(ProbeWatch("m", 0, NOW, (low, high)), ZONE)]
    assert told == ["Shelf logger reads 6.0 % above Wall logger, more than both may be off: check them."]
    three = ProbeWatch("m", 0, NOW, (low, high, flags(uid="three", name="Third")))
    assert len(watch_sentences(three, ZONE)) == 2
