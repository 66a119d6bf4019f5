"""What a comparison says where groups are mixed up, alone, unknown or in an order of their own."""

from __future__ import annotations

from typing import Any

import pytest
from hatchbook.figures.comparison import compare_batches
from hatchbook.figures.comparison_looks import looks_of
from hatchbook.figures.comparison_results import CountOfBatches, Finding, FindingKind, Question, Standing
from hatchbook.figures.comparison_rows import Grouping
from hatchbook.statistics.comparison import LEVEL, compare_groups
from hatchbook.statistics.tallies import RateKind
from hatchbook.trade.codes import EggSource
from tests.figures.paper import ALIKE, BAD, BY_PEN, BY_PEN_AND_MACHINE, GOOD, Paper, kinds, row, three_pens

BY_PEN_AND_SEASON = Question("hen")
BY_MACHINE_AND_PEN = Question("hen", groupings=(Grouping.MACHINE, Grouping.PEN))


@pytest.fixture
def paper(hatchery: Any) -> Paper:
    return Paper(hatchery)


def own_machine(paper: Paper) -> None:
    """The eggs of one pen alone went into the second machine."""
    for at in range(6):
        paper.add("Orchard", GOOD[at], machine="blue", season=2022 + at % 3)
        paper.add("Yard", ALIKE[at], machine="blue", season=2022 + at % 3)
        paper.add("Brook", BAD[at], machine="green", season=2022 + at % 3)


def test_a_difference_that_holds_by_what_was_asked_can_still_be_mixed_up_with_a_machine(paper: Paper) -> None:
    own_machine(paper)
    figures = compare_batches(paper.journal, BY_PEN_AND_SEASON)
    assert kinds(figures)[:3] == [FindingKind.GROUP, FindingKind.HOLDS, FindingKind.CONFOUNDED]
    mixed = figures.findings[2]
    assert mixed.second is Grouping.MACHINE
    assert [group.name for group in mixed.rest] == ["Green one"]


@pytest.mark.parametrize(
    ("question", "name"), [(BY_PEN_AND_MACHINE, "Brook"), (BY_MACHINE_AND_PEN, "Green one")]
)
def test_a_pen_and_the_machine_that_it_is_mixed_up_with_are_told_once(
    paper: Paper, question: Question, name: str
) -> None:
    own_machine(paper)
    figures = compare_batches(paper.journal, question)
    told = [one for one in figures.findings if one.kind is FindingKind.GROUP]
    assert [one.groups[0].name for one in told] == [name]
    assert kinds(figures).count(FindingKind.CONFOUNDED) == 1


def test_a_pen_kept_in_one_season_is_not_told_from_it(paper: Paper) -> None:
    for at in range(6):
        paper.add("Orchard", GOOD[at], season=2022 + at % 2)
        paper.add("Yard", ALIKE[at], season=2022 + at % 2)
        paper.add("Brook", BAD[at], season=2024)
    mixed = compare_batches(paper.journal, BY_PEN).findings[1]
    assert (mixed.kind, mixed.second) == (FindingKind.CONFOUNDED, Grouping.SEASON)
    assert [group.key for group in mixed.rest] == ["2024"]


def test_what_a_machine_makes_of_a_pen_fades_with_the_machines_evened_out(paper: Paper) -> None:
    for at in range(16):
        in_blue = at < 13
        paper.add("Orchard", 23 - at % 3 if in_blue else 13 + at % 3, machine="blue" if in_blue else "green")
        paper.add("Brook", 13 + at % 3 if in_blue else 23 - at % 3, machine="green" if in_blue else "blue")
    findings = compare_batches(paper.journal, BY_PEN_AND_MACHINE).findings
    told = [one for one in findings if one.kind in (FindingKind.GROUP, FindingKind.HOLDS, FindingKind.FADES)]
    assert [(one.kind, one.grouping) for one in told] == [
        (FindingKind.GROUP, Grouping.MACHINE),
        (FindingKind.HOLDS, Grouping.MACHINE),
        (FindingKind.GROUP, Grouping.PEN),
        (FindingKind.FADES, Grouping.PEN),
    ]


def test_a_trend_stronger_than_a_season_that_stands_out_is_told_first(paper: Paper) -> None:
    for year in range(2014, 2024):
        for more in range(3):
            paper.add("Orchard", 12 + (year - 2014) + more - (4 if year == 2015 else 0), season=year)
    figures = compare_batches(paper.journal, Question("hen", groupings=(Grouping.SEASON,)))
    assert figures.findings[0].kind is FindingKind.TREND
    # That the seasons differ needs no second sentence.
    assert FindingKind.AMONG_CHANCE not in kinds(figures)


def test_what_is_not_noted_alone_or_unknown_is_said_to_be_so(paper: Paper) -> None:
    three_pens(paper)

    def first_of(grouping: Grouping, outcome: RateKind = RateKind.HATCH_OF_FERTILE) -> Finding:
        return compare_batches(paper.journal, Question("hen", None, (grouping,), outcome)).findings[0]

    assert first_of(Grouping.DAM).kind is FindingKind.NOT_NOTED
    only = first_of(Grouping.SPECIES)
    assert (only.kind, [group.key for group in only.groups]) == (FindingKind.ONLY_ONE, ["hen"])
    assert first_of(Grouping.SOURCE).kind is FindingKind.ONLY_ONE


def test_where_no_batch_can_speak_of_a_rate_that_is_all_that_is_said(paper: Paper) -> None:
    nothing_else = dict.fromkeys(("clear", "early_dead", "mid_dead", "late_dead", "pipped_dead"))
    for hatched in GOOD:
        paper.add("Orchard", hatched, **nothing_else)
    figures = compare_batches(paper.journal, BY_PEN)
    assert kinds(figures) == [FindingKind.NOT_KNOWN]
    assert figures.fertile == CountOfBatches(0, 0)
    assert figures.hatched == CountOfBatches(sum(GOOD), len(GOOD))


def test_a_single_batch_is_compared_with_nothing(paper: Paper) -> None:
    paper.add("Orchard", 20)
    assert kinds(compare_batches(paper.journal, BY_PEN)) == []


def test_months_follow_as_they_do_in_a_season(paper: Paper) -> None:
    paper.journal.settings.set_season_first_month(10)
    for month in (1, 9, 10, 12, 3):
        paper.add(
            "Orchard", 20, season=2024, set_on=f"2024-{month:02}-05" if month > 9 else f"2025-{month:02}-05"
        )
    figures = compare_batches(paper.journal, Question("hen", groupings=(Grouping.MONTH,)))
    assert [one.group.key for one in figures.sections[0].rows if one.group] == ["10", "12", "1", "3", "9"]


def test_ages_of_eggs_and_their_origin_stand_in_their_own_order(paper: Paper) -> None:
    for source in (EggSource.SHIPPED, EggSource.OWN):
        for hatched in GOOD:
            paper.add("Orchard", hatched, source=source)
    figures = compare_batches(paper.journal, Question("hen", groupings=(Grouping.SOURCE,)))
    keys = [one.group.key for one in figures.sections[0].rows if one.group]
    assert keys == [source.value for source in EggSource if source.value in keys]


def test_the_finding_is_that_of_the_statistics_times_what_else_is_looked_at(paper: Paper) -> None:
    three_pens(paper)
    figures = compare_batches(paper.journal, BY_PEN_AND_SEASON)
    groups = {
        paper.pens[name]: (hatched, [27] * len(hatched))
        for name, hatched in (("Orchard", GOOD), ("Yard", ALIKE), ("Brook", BAD))
    }
    brook = next(one for one in compare_groups(groups).against_rest if one.key == paper.pens["Brook"])
    told = figures.findings[0]
    assert (told.mean, told.rest_mean) == (pytest.approx(brook.mean), pytest.approx(brook.rest_mean))
    assert told.p == pytest.approx(1.5 * brook.p_holm)
    assert told.p < LEVEL


def test_a_small_group_is_drawn_towards_the_others(paper: Paper) -> None:
    three_pens(paper)
    paper.add("Barn", 4, fertile=10, eggs=12)
    figures = compare_batches(paper.journal, BY_PEN)
    barn = row(figures, Grouping.PEN, paper.pens["Barn"]).rates[RateKind.HATCH_OF_FERTILE]
    assert barn.standing is Standing.TOO_FEW
    assert barn.mean == pytest.approx(0.4)
    assert barn.drawn is not None
    assert 0.45 < barn.drawn < 0.8
    small = next(one for one in figures.findings if one.kind is FindingKind.TOO_SMALL)
    assert (small.mean, small.rest_mean) == (barn.mean, barn.drawn)


def test_the_chance_of_error_is_shared_out_whole() -> None:
    pen, season = Grouping.PEN, Grouping.SEASON
    assert looks_of((pen,), {pen: 1}) == {pen: 1.0}
    assert looks_of((pen, season), {pen: 1, season: 2}) == {pen: 1.5, season: 6.0}
    assert looks_of((season, pen), {pen: 1, season: 2}) == {season: 3.0, pen: 3.0}
    # What can not be tested takes nothing from what can.
    assert looks_of((pen, season), {pen: 0, season: 1}) == {season: 1.0}
    for tests in ({pen: 1, season: 2}, {pen: 1, season: 1}, {pen: 1}):
        assert sum(tests[one] / factor for one, factor in looks_of((pen, season), tests).items()) == (
            pytest.approx(1.0)
        )
