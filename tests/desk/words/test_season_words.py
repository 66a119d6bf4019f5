"""The sentences of a comparison, word for word."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from hatchbook.desk.words import groups, season_sentences
from hatchbook.desk.words.comparison_table import ALL_PLACES
from hatchbook.desk.words.groups import ALL_GROUP_WORDS, elsewhere, where
from hatchbook.desk.words.seasons import Story, odds_text, story_of
from hatchbook.figures.comparison_results import (
    Finding,
    FindingKind,
    GroupName,
    Place,
    Question,
)
from hatchbook.figures.comparison_rows import EggAge, Grouping
from hatchbook.statistics.tallies import RateKind
from pytestqt.qtbot import QtBot
from tests.desk.seasons.made_up import LOW, PENS, SEASONS, figures

pytestmark = pytest.mark.usefixtures("qtbot")
MACHINES = (GroupName(Grouping.MACHINE, "d", "Dairy"), GroupName(Grouping.MACHINE, "p", "Pantry"))


def story(*findings: Finding, outcome: RateKind = RateKind.HATCH_OF_FERTILE) -> Story:
    return story_of(figures(findings=findings, question=Question("hen", outcome=outcome)))


def machines(mean: float, rest_mean: float, p: float) -> Finding:
    return Finding(
        FindingKind.PAIR_CHANCE,
        Grouping.MACHINE,
        MACHINES[:1],
        MACHINES[1:],
        mean=mean,
        rest_mean=rest_mean,
        p=p,
    )


def alone(finding: Finding, outcome: RateKind = RateKind.HATCH_OF_FERTILE) -> str:
    return story(Finding(FindingKind.NOTHING), finding, outcome=outcome).rest[0]


@pytest.mark.parametrize(
    ("p", "text"),
    [
        (0.0, "less than 1 in 1000"),
        (0.00099, "less than 1 in 1000"),
        (0.001, "1 in 1000"),
        (0.0018, "1 in 550"),
        (0.0099, "1 in 100"),
        (0.024, "1 in 40"),
        (0.05, "1 in 20"),
        (0.06, "1 in 17"),
        (0.33, "1 in 3"),
        (0.5, "1 in 2"),
        (0.51, "over 1 in 2"),
        (1.0, "over 1 in 2"),
    ],
)
def test_a_chance_is_told_as_odds(p: float, text: str) -> None:
    assert odds_text(p) == text


def test_the_strongest_finding_stands_first_with_its_odds() -> None:
    told = story(LOW)
    assert told.headline == (
        "From Brook fewer of the fertile eggs hatch than from the other pens: 64\u00a0% against 83\u00a0%."
    )
    assert told.odds == "That is more than chance: less than 1 in 1000."
    assert told.rest == ()


def test_what_qualifies_a_finding_stands_beside_its_odds() -> None:
    mixed = Finding(FindingKind.CONFOUNDED, Grouping.PEN, PENS[:1], MACHINES[1:], second=Grouping.MACHINE)
    assert story(LOW, mixed).odds == (
        "That is more than chance: less than 1 in 1000. "
        "Pen and machine can not be told apart: all Brook eggs went into one machine, Pantry."
    )
    asked = Question("hen", groupings=(Grouping.PEN, Grouping.MACHINE))
    assert story_of(figures(findings=(LOW, mixed), question=asked)).odds.endswith(
        "The two can not be told apart: all Brook eggs went into one machine, Pantry."
    )
    several = Finding(FindingKind.CONFOUNDED, Grouping.PEN, PENS[:1], MACHINES, second=Grouping.MACHINE)
    assert story(LOW, several).odds.endswith(
        "Pen and machine can not be told apart: Brook hardly shared a machine with the others."
    )
    holds = Finding(
        FindingKind.HOLDS, Grouping.PEN, PENS[:1], second=Grouping.SEASON, mean=0.66, rest_mean=0.82
    )
    assert story(LOW, holds).odds.endswith(
        "It holds with the seasons evened out: 66\u00a0% against 82\u00a0%."
    )
    fades = Finding(
        FindingKind.FADES, Grouping.PEN, PENS[:1], second=Grouping.MACHINE, mean=0.7, rest_mean=0.8, p=0.125
    )
    assert story(LOW, fades).odds.endswith(
        "With the machines evened out it may be chance: 70\u00a0% against 80\u00a0% (1 in 8)."
    )


def test_a_second_finding_has_its_own_odds_in_the_paragraph_below() -> None:
    high = Finding(
        FindingKind.GROUP,
        Grouping.PEN,
        PENS[1:2],
        PENS[2:],
        rest_is_all=False,
        mean=0.9,
        rest_mean=0.75,
        p=0.005,
    )
    assert story(LOW, high).rest == (
        "From Orchard more of the fertile eggs hatch than from Yard: 90\u00a0% against 75\u00a0%. "
        "That is more than chance: 1 in 200.",
    )


def test_the_rest_without_those_that_stand_out_themselves_is_called_the_remaining() -> None:
    others = (*PENS[1:], GroupName(Grouping.PEN, "z", "Barn"))
    finding = Finding(
        FindingKind.GROUP, Grouping.PEN, PENS[:1], others, rest_is_all=False, mean=0.6, rest_mean=0.8, p=0.002
    )
    assert story(finding).headline == (
        "From Brook fewer of the fertile eggs hatch than from the remaining pens: 60\u00a0% against 80\u00a0%."
    )


@pytest.mark.parametrize(
    ("group", "text"),
    [
        (SEASONS[0], "in season 2024 than in the other seasons"),
        (GroupName(Grouping.MONTH, "4"), "when set in April than in the other months"),
        (
            GroupName(Grouping.DAM, "x", "Bramble", "Orchard"),
            "from Bramble, Orchard than from the other dams",
        ),
        (GroupName(Grouping.BREED, "Sussex", "Sussex"), "of Sussex than of the other breeds"),
        (MACHINES[0], "in Dairy than in the other machines"),
        (GroupName(Grouping.SPECIES, "muscovy"), "of muscovy duck than of the other species"),
        (GroupName(Grouping.PROGRAMME, "dry", "Dry"), "under Dry than under the other programmes"),
        (GroupName(Grouping.EGG_AGE, EggAge.UP_TO_14), "at an age of 8–14 days than at the other ages"),
        (GroupName(Grouping.SOURCE, "shipped"), "among shipped eggs than among the others"),
    ],
)
def test_where_a_group_is_found_reads_well_in_every_grouping(group: GroupName, text: str) -> None:
    assert f"{where(group)} than {elsewhere(group.grouping)}" == text


@pytest.mark.parametrize(
    ("outcome", "begin"),
    [
        (RateKind.FERTILITY, "From Brook more of the eggs set are fertile than"),
        (RateKind.HATCH_OF_SET, "From Brook more of the eggs set hatch than"),
        (RateKind.EARLY_DEAD, "From Brook more of the fertile eggs die early than"),
        (RateKind.MID_DEAD, "From Brook more of the fertile eggs die in the middle days than"),
        (RateKind.LATE_DEAD, "From Brook more of the fertile eggs die late than"),
        (RateKind.PIPPED_DEAD, "From Brook more of the fertile eggs die in pip than"),
    ],
)
def test_every_rate_has_its_sentence(outcome: RateKind, begin: str) -> None:
    more = Finding(FindingKind.GROUP, Grouping.PEN, PENS[:1], PENS[1:], mean=0.3, rest_mean=0.1, p=0.001)
    assert story(more, outcome=outcome).headline.startswith(begin)


def test_a_pair_is_told_by_its_lower_group() -> None:
    pair = Finding(FindingKind.PAIR, Grouping.PEN, PENS[:1], PENS[2:], mean=0.6, rest_mean=0.9, p=0.001)
    told = story(pair)
    assert (
        told.headline
        == "From Brook fewer of the fertile eggs hatch than from Yard: 60\u00a0% against 90\u00a0%."
    )
    assert told.odds == "That is more than chance: 1 in 1000."


def test_groups_can_differ_without_one_standing_out() -> None:
    told = story(Finding(FindingKind.AMONG, Grouping.MONTH, p=0.004))
    assert told.headline == "The months differ, but no single one stands out."
    assert told.odds == "That is more than chance: 1 in 250."


def test_a_trend_is_told_from_its_beginning_to_its_end() -> None:
    line = Finding(
        FindingKind.TREND, Grouping.SEASON, mean=0.7, rest_mean=0.82, p=0.003, seasons=(2021, 2026)
    )
    told = story(line)
    assert told.headline == ("From 2021 to 2026 the hatch of fertile eggs went from 70\u00a0% to 82\u00a0%.")
    assert told.odds == "That is more than chance: 1 in 350."
    maybe = Finding(
        FindingKind.TREND_CHANCE, Grouping.SEASON, mean=0.1, rest_mean=0.05, p=0.5, seasons=(2021, 2026)
    )
    assert alone(maybe, RateKind.EARLY_DEAD) == (
        "From 2021 to 2026 early deaths went from 10\u00a0% to 5\u00a0%: may well be chance (1 in 2)."
    )


@pytest.mark.parametrize(
    ("finding", "text"),
    [
        (
            machines(0.75, 0.72, 0.5),
            "Dairy against Pantry, 75 and 72\u00a0%: may well be chance (1 in 2).",
        ),
        (
            machines(0.75, 0.62, 0.02),
            "Dairy against Pantry, 75 and 62\u00a0%: may still be chance (1 in 50).",
        ),
        (
            Finding(FindingKind.AMONG_CHANCE, Grouping.SEASON, mean=0.7, rest_mean=0.79, p=0.5),
            "The seasons among themselves, 70 to 79\u00a0%: may well be chance (1 in 2).",
        ),
        (
            Finding(FindingKind.AMONG_CHANCE, Grouping.BREED, mean=0.5, rest_mean=0.79, p=0.05),
            "The breeds among themselves, 50 to 79\u00a0%: may still be chance (1 in 20).",
        ),
        (
            Finding(FindingKind.TOO_SMALL, Grouping.PEN, PENS[2:], batches=1, eggs=19),
            "Yard: 1 batch(es), too few to say.",
        ),
        (
            Finding(
                FindingKind.TOO_SMALL, Grouping.PEN, PENS[2:], mean=0.4, rest_mean=0.68, batches=1, eggs=19
            ),
            "Yard: 1 batch(es), too few to say. By itself 40\u00a0%, drawn towards the others 68\u00a0%.",
        ),
        (
            Finding(FindingKind.NOT_NOTED, Grouping.DAM),
            "No dam is noted for these eggs.",
        ),
        (
            Finding(FindingKind.ONLY_ONE, Grouping.MACHINE, MACHINES[:1]),
            "Only one machine is noted here, Dairy: there is nothing to compare it with.",
        ),
        (
            Finding(FindingKind.ONLY_ONE, Grouping.SOURCE, (GroupName(Grouping.SOURCE, "shipped"),)),
            "All these batches are shipped eggs.",
        ),
        (
            Finding(FindingKind.NOT_KNOWN),
            "Of none of these batches is it known how many of the fertile eggs hatched.",
        ),
        (
            machines(1.0, 1.0, 1.0),
            "Dairy and Pantry are alike, 100\u00a0% each.",
        ),
        (
            Finding(FindingKind.AMONG_CHANCE, Grouping.PEN, mean=0.0, rest_mean=0.0, p=1.0),
            "The pens are alike, 0\u00a0% each.",
        ),
        (
            Finding(
                FindingKind.TREND_CHANCE,
                Grouping.SEASON,
                mean=0.871,
                rest_mean=0.869,
                p=1.0,
                seasons=(2020, 2023),
            ),
            "From 2020 to 2023 the hatch of fertile eggs stayed at 87\u00a0%.",
        ),
        (
            Finding(FindingKind.TOO_SMALL, Grouping.PEN, PENS[2:], batches=3, eggs=19),
            "Yard: 19 egg(s), too few to say.",
        ),
        (
            Finding(FindingKind.TOO_SMALL, Grouping.PEN, PENS[2:], batches=0),
            "Yard: 0 batch(es), too few to say.",
        ),
        (
            Finding(FindingKind.TOO_FEW, Grouping.DAM),
            "The dams have too few batches or eggs to be compared.",
        ),
        (
            Finding(FindingKind.NEEDED, Grouping.MACHINE, batches=6, eggs=30),
            "To tell a difference of 10 points would take about 6 more batch(es) in each machine.",
        ),
        (
            Finding(FindingKind.NEEDED, Grouping.MACHINE, batches=1, eggs=30),
            "To tell a difference of 10 points would take about 1 more batch(es) in each machine.",
        ),
        (
            Finding(FindingKind.NEEDED, Grouping.MACHINE, batches=0, eggs=30),
            "The machines: a difference of 10 points would most likely have shown.",
        ),
    ],
)
def test_what_is_not_more_than_chance_is_told_below(finding: Finding, text: str) -> None:
    assert alone(finding) == text


def test_groups_too_small_and_batches_needed_are_one_sentence_each() -> None:
    def small(key: str, batches: int, eggs: int) -> Finding:
        name = GroupName(Grouping.PEN, key, f"Pen {key}")
        return Finding(FindingKind.TOO_SMALL, Grouping.PEN, (name,), batches=batches, eggs=eggs)

    few = [small("a", 1, 30), small("b", 3, 19)]
    assert story(Finding(FindingKind.NOTHING), *few).rest == (
        "Too few to say: Pen a (1 batch(es)), Pen b (19 egg(s)).",
    )
    many = [small(str(number), 1, 20) for number in range(9)]
    assert story(Finding(FindingKind.NOTHING), *many).rest == (
        "Too few to say: Pen 0 (1 batch(es)), Pen 1 (1 batch(es)), Pen 2 (1 batch(es)), 6 other(s).",
    )
    needed = (
        Finding(FindingKind.NEEDED, Grouping.PEN, batches=13, eggs=30),
        Finding(FindingKind.NEEDED, Grouping.MACHINE, batches=7, eggs=30),
    )
    assert story(Finding(FindingKind.NOTHING), *needed).rest == (
        "To tell a difference of 10 points would take about 13 more batch(es) of each pen and "
        "7 more batch(es) in each machine.",
    )
    assert story(Finding(FindingKind.NOTHING), *(replace(one, batches=0) for one in needed)).rest == (
        "The pens and the machines: a difference of 10 points would most likely have shown.",
    )


def test_own_and_shipped_eggs_are_of_an_origin() -> None:
    shipped = (GroupName(Grouping.SOURCE, "shipped"),)
    mixed = Finding(FindingKind.CONFOUNDED, Grouping.PEN, PENS[:1], shipped, second=Grouping.SOURCE)
    assert story(LOW, mixed).odds.endswith(
        "Pen and origin can not be told apart: all Brook eggs were shipped eggs."
    )


@pytest.mark.parametrize(
    ("group", "text"),
    [
        (PENS[0], "all Brook eggs went into one machine, Pantry."),
        (SEASONS[0], "all eggs of season 2024 went into one machine, Pantry."),
        (GroupName(Grouping.MONTH, "4"), "all eggs set in April went into one machine, Pantry."),
        (GroupName(Grouping.SOURCE, "shipped"), "all shipped eggs went into one machine, Pantry."),
        (
            GroupName(Grouping.EGG_AGE, EggAge.UP_TO_14),
            "all eggs of 8–14 days went into one machine, Pantry.",
        ),
        (GroupName(Grouping.DAM, "x", "Bramble", ""), "all eggs of Bramble went into one machine, Pantry."),
    ],
)
def test_what_is_mixed_up_is_said_of_the_eggs_of_any_group(group: GroupName, text: str) -> None:
    mixed = Finding(FindingKind.CONFOUNDED, group.grouping, (group,), MACHINES[1:], second=Grouping.MACHINE)
    assert story(LOW, mixed).odds.endswith(f"can not be told apart: {text}")


def test_nothing_is_said_to_differ_where_nothing_does() -> None:
    assert story(Finding(FindingKind.NOTHING)) == Story("Nothing here differs by more than chance.")


def test_where_nothing_is_finished_that_is_all_there_is_to_say() -> None:
    nothing = {"batches": 0, "findings": (), "points": (), "limits": None}
    assert story_of(figures(**nothing, species_known=(), question=Question())).headline == (
        "No batch is finished yet."
    )
    assert story_of(figures(**nothing)).headline == "No hen batch is finished yet."
    asked = Question("hen", seasons=(2024, 2024))
    assert (
        story_of(figures(**nothing, question=asked)).headline == "No batch of these seasons is finished yet."
    )
    assert story(*()).headline == "There are too few batches to compare anything."


def test_no_grouping_or_rate_is_without_words(qtbot: QtBot) -> None:
    del qtbot
    for words in (*ALL_GROUP_WORDS, *season_sentences.ALL_GROUPING_SENTENCES):
        assert set(words) == set(Grouping)
    for words in season_sentences.ALL_RATE_SENTENCES:
        assert set(words) == set(RateKind)
    assert set(ALL_PLACES) == set(Place)
    assert set(groups._RATES) == set(RateKind)


def test_every_template_fills_the_same_places() -> None:
    def places(texts: object) -> set[frozenset[str]]:
        return {frozenset(re.findall(r"\{(\w+)\}", text)) for text in texts.values()}  # type: ignore[attr-defined]

    assert (
        places(season_sentences.FEWER)
        == places(season_sentences.MORE)
        == {frozenset({"where", "elsewhere", "rate", "other"})}
    )
    assert places(season_sentences.OVER_TIME) == {frozenset({"first", "last", "rate", "other"})}
    assert places(season_sentences.HOLDS) == {frozenset({"rate", "other"})}
    assert places(season_sentences.FADES) == {frozenset({"rate", "other", "odds"})}
    assert places(season_sentences.STAYED) == {frozenset({"first", "last", "rate"})}
    assert places(season_sentences.ONE_ONLY) == {frozenset({"two", "eggs", "other"})}
    assert places(season_sentences.ONLY_ONE) == {frozenset({"group"})}
    assert places(season_sentences.MIXED) == {frozenset({"two", "group"})}
