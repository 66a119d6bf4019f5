"""All that is known of one egg."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Any

import pytest
from hatchbook.figures import StoryKind, story_of_egg
from hatchbook.journal import (
    BreakOut,
    EggMass,
    Hatching,
    Pen,
    PenMember,
    RecordMissingError,
    Removal,
    Weighing,
)
from hatchbook.trade.codes import (
    BreakOutResult,
    BreakOutSign,
    Fate,
    FindingCode,
    HatchMark,
    Malposition,
    RemovalReason,
)

DAY = 86_400
#: 2026-05-04 18:00 UTC, 19:00 in Lisbon.
SET_AT = 1_777_917_600
NOW = SET_AT + 30 * DAY


def only_egg(hatchery: Any, **values: Any) -> Any:
    batch = hatchery.add_batch(each_egg=[values])
    (egg,) = hatchery.journal.eggs.of_batch(batch.uid)
    return egg


def weigh(hatchery: Any, egg: Any, day: float, mass_g: float) -> None:
    weighing = Weighing(egg.batch, SET_AT + round(day * DAY))
    hatchery.journal.weighings.note_weighing(weighing, [EggMass(weighing.uid, egg.uid, mass_g)])


def story(hatchery: Any, egg: Any, now: int = NOW) -> Any:
    return story_of_egg(hatchery.journal, egg.uid, now)


def test_an_egg_of_which_nothing_is_known_was_set(hatchery: Any) -> None:
    told = story(hatchery, only_egg(hatchery))
    assert [(entry.kind, entry.day, entry.record) for entry in told.entries] == [(StoryKind.SET, 0.0, None)]
    assert (told.age_days, told.estimated_mass_g, told.lost_percent) == (None, None, None)
    assert told.outcome.fate is Fate.SET


def test_the_story_is_told_in_the_order_of_time(hatchery: Any) -> None:
    journal = hatchery.journal
    egg = only_egg(hatchery, laid_on="2026-05-01", set_mass_g=60.0)
    batch = journal.batches.get(egg.batch)
    weigh(hatchery, egg, 7, 57.0)
    hatchery.candle(batch, 6.5, {1: FindingCode.ALIVE})
    journal.hatchings.note_marks(batch.uid, [egg.uid], HatchMark.EXTERNAL_PIP, SET_AT + 20 * DAY)
    journal.break_outs.keep(BreakOut(egg.uid, SET_AT + 22 * DAY, BreakOutResult.PIPPED_DEAD))
    journal.events.note_eggs(batch.uid, [egg.uid], "pointed", SET_AT + 2 * DAY)
    told = story(hatchery, egg)
    assert [entry.kind for entry in told.entries] == [
        StoryKind.LAID,
        StoryKind.SET,
        StoryKind.NOTED,
        StoryKind.CANDLED,
        StoryKind.WEIGHED,
        StoryKind.HATCH,
        StoryKind.OPENED,
    ]
    assert told.age_days == 3
    assert told.entries[0].day == -3.0
    assert told.outcome.fate is Fate.PIPPED_DEAD


def test_a_weighing_tells_what_was_lost_since_the_egg_was_set(hatchery: Any) -> None:
    egg = only_egg(hatchery, set_mass_g=60.0)
    weigh(hatchery, egg, 7, 57.0)
    weigh(hatchery, egg, 14, 54.0)
    told = story(hatchery, egg)
    # (60 - 57) / 60 = 5 %, (60 - 54) / 60 = 10 %
    losses = [entry.loss.loss_percent for entry in told.entries if entry.loss is not None]
    assert losses == [pytest.approx(5.0), pytest.approx(10.0)]
    assert (told.lost_percent, told.lost_since_day) == (pytest.approx(10.0), 0.0)


def test_without_a_mass_when_set_the_first_weighing_is_the_base(hatchery: Any) -> None:
    egg = only_egg(hatchery)
    weigh(hatchery, egg, 4, 50.0)
    weigh(hatchery, egg, 14, 47.5)
    first, second = (entry.loss for entry in story(hatchery, egg).entries if entry.loss is not None)
    assert (first.loss_percent, second.loss_percent) == (None, pytest.approx(5.0))
    assert second.since_day == pytest.approx(4.0)


def test_a_weighing_still_to_come_is_shown_without_a_loss(hatchery: Any) -> None:
    egg = only_egg(hatchery, set_mass_g=60.0)
    weigh(hatchery, egg, 7, 57.0)
    (entry,) = (e for e in story(hatchery, egg, SET_AT + DAY).entries if e.kind is StoryKind.WEIGHED)
    assert (entry.record.mass_g, entry.loss) == (57.0, None)


def test_length_and_breadth_give_an_estimate(hatchery: Any) -> None:
    # W = 0.548 L B^2 (cm, g), Hoyt 1979, from memory: 0.548 * 5.7 * 4.2^2 = 55.100 g
    assert story(
        hatchery, only_egg(hatchery, length_mm=57.0, breadth_mm=42.0)
    ).estimated_mass_g == pytest.approx(55.1, abs=0.001)
    assert story(hatchery, only_egg(hatchery, length_mm=57.0)).estimated_mass_g is None


def test_a_chick_is_told_in_percent_of_its_egg(hatchery: Any) -> None:
    egg = only_egg(hatchery, set_mass_g=60.0)
    hatchery.journal.hatchings.note(
        egg.batch, [Hatching(egg.uid, SET_AT + 21 * DAY, HatchMark.HATCHED, 42.0, "blue")]
    )
    (entry,) = (e for e in story(hatchery, egg).entries if e.kind is StoryKind.HATCH)
    assert entry.chick_percent == pytest.approx(70.0)


def test_malpositions_and_signs_belong_to_the_opened_egg(hatchery: Any) -> None:
    egg = only_egg(hatchery)
    hatchery.journal.break_outs.keep(
        BreakOut(egg.uid, SET_AT + 22 * DAY, BreakOutResult.LATE_DEAD, "Ada", 19.0),
        malpositions=[Malposition.II_HEAD_IN_SMALL_END, Malposition.V_FEET_OVER_HEAD],
        signs=[BreakOutSign.WET],
    )
    (entry,) = (e for e in story(hatchery, egg).entries if e.kind is StoryKind.OPENED)
    assert entry.malpositions == (Malposition.II_HEAD_IN_SMALL_END, Malposition.V_FEET_OVER_HEAD)
    assert (entry.signs, entry.record.by_whom) == ((BreakOutSign.WET,), "Ada")


def test_an_egg_taken_out_says_why(hatchery: Any) -> None:
    egg = only_egg(hatchery)
    hatchery.journal.removals.add(Removal(egg.uid, SET_AT + 3 * DAY, RemovalReason.BROKEN, "slipped"))
    told = story(hatchery, egg)
    assert told.outcome.fate is Fate.TAKEN_OUT
    assert told.entries[-1].record.note == "slipped"


def test_the_dam_is_one_of_the_hens_of_its_pen(hatchery: Any) -> None:
    pen = Pen("Brook", "hen", letter="B")
    hatchery.journal.pens.add(pen)
    hen, cock = PenMember(pen.uid, "Berta", "female"), PenMember(pen.uid, "Hugo", "male")
    for bird in (hen, cock):
        hatchery.journal.pens.add_member(bird)
    told = story(hatchery, only_egg(hatchery, pen=pen.uid, dam=hen.uid))
    assert (told.pen_name, told.dam_name) == ("Brook", "Berta")
    assert [bird.name for bird in told.birds] == ["Berta"]


def test_the_way_to_the_neighbours_goes_by_number(hatchery: Any) -> None:
    batch = hatchery.add_batch(eggs=3)
    one, two, three = hatchery.journal.eggs.of_batch(batch.uid)
    told = story(hatchery, two)
    assert (told.previous, told.following) == (one.uid, three.uid)
    assert (told.position, told.count) == (2, 3)
    assert story(hatchery, one).previous is None
    assert story(hatchery, three).following is None


def test_an_egg_that_is_gone_is_told_so(hatchery: Any) -> None:
    egg = only_egg(hatchery)
    with pytest.raises(RecordMissingError):
        story_of_egg(hatchery.journal, replace(egg, uid="nowhere").uid, NOW)


def test_the_story_goes_out_as_plain_values(hatchery: Any) -> None:
    egg = only_egg(hatchery, laid_on="2026-05-01", set_mass_g=60.0)
    weigh(hatchery, egg, 7, 57.0)
    plain = story(hatchery, egg).as_dict()
    assert json.loads(json.dumps(plain))["entries"][-1]["kind"] == "weighed"
    assert plain["egg"]["set_mass_g"] == 60.0
