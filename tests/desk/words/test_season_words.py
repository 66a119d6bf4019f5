"""The sentences of a comparison, word for word."""

from __future__ import annotations

import re

import pytest
from hatchbook.desk.words import groups, season_sentences
from hatchbook.desk.words.comparison_table import ALL_PLACES, batch_sentence, rate_cell_sentence
from hatchbook.desk.words.groups import ALL_GROUP_WORDS, elsewhere, group_word, season_word, where
from hatchbook.desk.words.seasons import (
    Story,
    facts_sentence,
    odds_text,
    running_sentence,
    story_of,
    too_few_for_charts,
)
from hatchbook.figures.comparison_results import Finding, FindingKind, GroupName, Place, Question, Standing
from hatchbook.figures.comparison_rows import EggAge, Grouping
from hatchbook.statistics.tallies import RateKind
from pytestqt.qtbot import QtBot
from tests.desk.seasons.made_up import LOW, PENS, POINTS, SEASONS, figures, rate

pytestmark = pytest.mark.usefixtures("qtbot")
MACHINES = (GroupName(Grouping.MACHINE, "d", "Dairy"), GroupName(Grouping.MACHINE, "p", "Pantry"))


def story(*findings: Finding, outcome: RateKind = RateKind.HATCH_OF_FERTILE) -> Story:
    return story_of(figures(findings=findings, question=Question("hen", outcome=outcome)))


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
        (0.59, "1 in 2"),
        (0.66, "2 in 3"),
        (0.8, "8 in 10"),
        (1.0, "9 in 10"),
    ],
)
def test_a_chance_is_told_as_odds(p: float, text: str) -> None:
    assert odds_text(p) == text


def test_the_strongest_finding_stands_first_with_its_odds() -> None:
    told = story(LOW)
    assert told.headline == (
        "Fewer of the fertile eggs hatch from Brook than from the other pens: 64\u00a0% against 83\u00a0%."
    )
    assert told.odds == "That is more than chance: less than 1 in 1000."
    assert told.rest == ()


def test_what_qualifies_a_finding_stands_beside_its_odds() -> None:
    mixed = Finding(FindingKind.CONFOUNDED, Grouping.PEN, PENS[:1], MACHINES[1:], second=Grouping.MACHINE)
    told = story(LOW, mixed)
    assert told.odds == (
        "That is more than chance: less than 1 in 1000. "
        "The two can not be told apart: all Brook eggs went into one machine, Pantry."
    )
    several = Finding(FindingKind.CONFOUNDED, Grouping.PEN, PENS[:1], MACHINES, second=Grouping.MACHINE)
    assert story(LOW, several).odds.endswith(
        "The two can not be told apart: Brook hardly shared a machine with the others."
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
        "More of the fertile eggs hatch from Orchard than from Yard: 90\u00a0% against 75\u00a0%. "
        "That is more than chance: 1 in 200.",
    )


def test_the_rest_without_those_that_stand_out_themselves_is_called_the_remaining() -> None:
    others = (*PENS[1:], GroupName(Grouping.PEN, "z", "Barn"))
    finding = Finding(
        FindingKind.GROUP, Grouping.PEN, PENS[:1], others, rest_is_all=False, mean=0.6, rest_mean=0.8, p=0.002
    )
    assert story(finding).headline == (
        "Fewer of the fertile eggs hatch from Brook than from the remaining pens: 60\u00a0% against 80\u00a0%."
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
        (RateKind.FERTILITY, "More of the eggs set are fertile from Brook than"),
        (RateKind.HATCH_OF_SET, "More of the eggs set hatch from Brook than"),
        (RateKind.EARLY_DEAD, "More of the fertile eggs die early from Brook than"),
        (RateKind.MID_DEAD, "More of the fertile eggs die in the middle from Brook than"),
        (RateKind.LATE_DEAD, "More of the fertile eggs die late from Brook than"),
        (RateKind.PIPPED_DEAD, "More of the fertile eggs die in pip from Brook than"),
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
        == "Fewer of the fertile eggs hatch from Brook than from Yard: 60\u00a0% against 90\u00a0%."
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
        "From 2021 to 2026 early deaths went from 10\u00a0% to 5\u00a0%. That may well be chance (1 in 2)."
    )


@pytest.mark.parametrize(
    ("finding", "text"),
    [
        (
            Finding(
                FindingKind.PAIR_CHANCE,
                Grouping.MACHINE,
                MACHINES[:1],
                MACHINES[1:],
                mean=0.75,
                rest_mean=0.72,
                p=0.5,
            ),
            "Dairy against Pantry, 75 and 72\u00a0%: may well be chance (1 in 2).",
        ),
        (
            Finding(
                FindingKind.PAIR_CHANCE,
                Grouping.MACHINE,
                MACHINES[:1],
                MACHINES[1:],
                mean=0.75,
                rest_mean=0.62,
                p=0.02,
            ),
            "Dairy against Pantry, 75 and 62\u00a0%: may still be chance (1 in 50).",
        ),
        (
            Finding(FindingKind.AMONG_CHANCE, Grouping.SEASON, p=0.5),
            "The seasons among themselves: may well be chance (1 in 2).",
        ),
        (
            Finding(FindingKind.AMONG_CHANCE, Grouping.BREED, p=0.05),
            "The breeds among themselves: may still be chance (1 in 20).",
        ),
        (
            Finding(FindingKind.TOO_SMALL, Grouping.PEN, PENS[2:], batches=1, eggs=19),
            "Yard: 1 batch(es), too few to say.",
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
            "The machines: to tell a difference of 10 points takes about 6 more batch(es) of each.",
        ),
        (
            Finding(FindingKind.NEEDED, Grouping.MACHINE, batches=1, eggs=30),
            "The machines: to tell a difference of 10 points takes about 1 more batch(es) of each.",
        ),
        (
            Finding(FindingKind.NEEDED, Grouping.MACHINE, batches=0, eggs=30),
            "The machines: a difference of 10 points would most likely have shown.",
        ),
    ],
)
def test_what_is_not_more_than_chance_is_told_below(finding: Finding, text: str) -> None:
    assert alone(finding) == text


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


def test_the_facts_count_what_was_compared_and_what_was_left_out() -> None:
    assert facts_sentence(figures()) == "4 finished batch(es): 120 egg(s) set, 100 fertile, 74 hatched."
    assert facts_sentence(figures(batches=1, eggs_set=1)).startswith("1 finished batch(es): 1 egg(s) set")
    assert facts_sentence(figures(batches=0)) == ""
    assert running_sentence(figures()) == "Left out until closed: 1 running batch(es)."
    assert running_sentence(figures(running=2)) == "Left out until closed: 2 running batch(es)."
    assert running_sentence(figures(running=0)) == ""


def test_too_few_batches_for_charts_are_counted() -> None:
    assert too_few_for_charts(1) == ("3 finished batches are needed before they can be compared; you have 1.")


def test_a_cell_is_read_with_its_counts_and_how_it_stands() -> None:
    assert rate_cell_sentence(RateKind.HATCH_OF_FERTILE, rate(0.64, Standing.LOWER, 0.0004)) == (
        "Hatched, of fertile: 64\u00a0%, range 57–71, 64 of 100, "
        "lower than the others by more than chance (less than 1 in 1000)"
    )
    assert rate_cell_sentence(RateKind.FERTILITY, rate(0.9, Standing.TOO_FEW, None)) == (
        "Fertile, of set: 90\u00a0%, range 83–97, 90 of 100, too few to say"
    )
    assert rate_cell_sentence(RateKind.FERTILITY, rate(None)) == "Fertile, of set: not known"


def test_a_batch_of_the_charts_is_read_whole() -> None:
    assert batch_sentence(POINTS[1], RateKind.HATCH_OF_FERTILE, 1) == (
        "24-02 Brook hens, Brook, Dairy: 9 of 22 fertile eggs hatched, 35\u00a0% (20–50); "
        "far too low: less than 1 in 1000 by chance"
    )
    assert batch_sentence(POINTS[0], RateKind.HATCH_OF_FERTILE, 1).endswith(
        "within what batches of its size scatter by"
    )


def test_groups_that_were_not_noted_are_named_as_such() -> None:
    assert group_word(GroupName(Grouping.PEN, None)) == "no pen noted"
    assert group_word(GroupName(Grouping.PEN, "gone")) == "no longer in the journal"
    assert season_word(2025, 10) == "2025/26"
    assert season_word(2025, 1) == "2025"


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
    assert places(season_sentences.ONE_ONLY) == {frozenset({"group", "other"})}
    assert places(season_sentences.MIXED) == {frozenset({"group"})}
