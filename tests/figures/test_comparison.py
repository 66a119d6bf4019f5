"""Batches that are over, compared: what stands out, what may be chance, what is too small to say."""

from __future__ import annotations

from typing import Any

import pytest
from hatchbook.figures import batch_against_others
from hatchbook.figures.comparison import busiest_species, compare_batches
from hatchbook.figures.comparison_results import (
    Finding,
    FindingKind,
    Place,
    Question,
    Standing,
)
from hatchbook.figures.comparison_rows import Grouping, compared_batches
from hatchbook.journal import PastBatch
from hatchbook.statistics.tallies import RateKind
from hatchbook.trade.codes import EggSource, FindingCode, HatchMark
from tests.figures.paper import ALIKE, BAD, BY_PEN, BY_PEN_AND_MACHINE, GOOD, Paper, kinds, row, three_pens

DAY = 86_400
SET_AT = 1_777_917_600


@pytest.fixture
def paper(hatchery: Any) -> Paper:
    return Paper(hatchery)


def test_the_pen_that_differs_is_the_strongest_finding(paper: Paper, as_json: Any) -> None:
    three_pens(paper)
    figures = compare_batches(paper.journal, BY_PEN)
    first = figures.findings[0]
    assert first.kind is FindingKind.GROUP
    assert [group.name for group in first.groups] == ["Brook"]
    assert [group.name for group in first.rest] == ["Orchard", "Yard"]
    assert first.rest_is_all
    assert first.mean == pytest.approx(sum(BAD) / 162, abs=0.01)
    assert first.rest_mean == pytest.approx(sum(GOOD + ALIKE) / 324, abs=0.01)
    assert first.p is not None
    assert first.p < 0.001
    brook = row(figures, Grouping.PEN, paper.pens["Brook"])
    assert brook.rates[RateKind.HATCH_OF_FERTILE].standing is Standing.LOWER
    assert brook.rates[RateKind.FERTILITY].standing is Standing.WITHIN
    orchard = row(figures, Grouping.PEN, paper.pens["Orchard"])
    assert orchard.rates[RateKind.HATCH_OF_FERTILE].standing is Standing.WITHIN
    assert (brook.batches, brook.eggs_set, len(brook.uids)) == (6, 180, 6)
    assert figures.overall.rates[RateKind.HATCH_OF_FERTILE].trials == 18 * 27
    as_json(figures)


def test_with_a_second_grouping_the_difference_is_told_to_hold(paper: Paper) -> None:
    three_pens(paper)
    figures = compare_batches(paper.journal, BY_PEN_AND_MACHINE)
    assert kinds(figures)[:2] == [FindingKind.GROUP, FindingKind.HOLDS]
    assert figures.findings[1].second is Grouping.MACHINE
    assert FindingKind.PAIR_CHANCE in kinds(figures)  # the machines, of which there are two


@pytest.mark.parametrize("question", [BY_PEN, BY_PEN_AND_MACHINE])
def test_a_pen_whose_eggs_all_went_into_one_machine_is_not_told_from_it(
    paper: Paper, question: Question
) -> None:
    paper.several("Orchard", GOOD, machine="blue")
    paper.several("Yard", ALIKE, machine="blue")
    paper.several("Brook", BAD, machine="green")
    figures = compare_batches(paper.journal, question)
    pens = [at for at, one in enumerate(figures.findings) if one.grouping is Grouping.PEN]
    found, qualified = (figures.findings[at] for at in pens[:2])
    assert found.kind is FindingKind.GROUP
    assert qualified.kind is FindingKind.CONFOUNDED
    assert qualified.second is Grouping.MACHINE
    assert [group.name for group in qualified.rest] == ["Green one"]


def test_where_nothing_differs_that_is_said_first(paper: Paper) -> None:
    paper.several("Orchard", GOOD)
    paper.several("Yard", ALIKE)
    figures = compare_batches(paper.journal, BY_PEN)
    assert kinds(figures) == [FindingKind.NOTHING, FindingKind.PAIR_CHANCE, FindingKind.NEEDED]
    pair = figures.findings[1]
    assert pair.p is not None
    assert pair.p > 0.05
    assert (pair.mean or 0) >= (pair.rest_mean or 0)


def test_a_group_with_one_batch_is_shown_but_no_verdict_is_given(paper: Paper) -> None:
    three_pens(paper)
    paper.add("Barn", 27)
    figures = compare_batches(paper.journal, BY_PEN)
    barn = row(figures, Grouping.PEN, paper.pens["Barn"])
    assert barn.rates[RateKind.HATCH_OF_FERTILE].standing is Standing.TOO_FEW
    small = [finding for finding in figures.findings if finding.kind is FindingKind.TOO_SMALL]
    assert [(one.groups[0].name, one.batches, one.eggs) for one in small] == [("Barn", 1, 27)]


def test_what_was_not_noted_is_a_row_but_no_group(paper: Paper) -> None:
    three_pens(paper)
    for number in GOOD:
        paper.count += 1
        batch = PastBatch(f"q{paper.count}", 2024, "hen", 30, clear=3, hatched=number)
        paper.journal.past_batches.add(batch)
    figures = compare_batches(paper.journal, BY_PEN)
    unknown = row(figures, Grouping.PEN, None)
    assert unknown.batches == 6
    assert unknown.rates[RateKind.HATCH_OF_FERTILE].standing is Standing.NOT_COMPARED
    assert figures.sections[0].rows[-1] is unknown
    assert len(figures.findings[0].rest) == 2


def test_a_trend_over_seasons_is_found(paper: Paper) -> None:
    for year in range(2016, 2026):
        for _ in range(2):
            paper.add("Orchard", 13 + (year - 2016), season=year)
    figures = compare_batches(paper.journal, Question("hen", groupings=(Grouping.SEASON,)))
    trend = next(finding for finding in figures.findings if finding.kind is FindingKind.TREND)
    assert trend.seasons == (2016, 2025)
    assert (trend.mean or 1) < 0.6
    assert (trend.rest_mean or 0) > 0.7


def test_species_and_seasons_limit_what_is_compared(paper: Paper) -> None:
    paper.several("Orchard", GOOD, season=2023)
    paper.several("Orchard", ALIKE, season=2025)
    paper.several("Pond", [20] * 3, season=2025, species="duck")
    hens = compare_batches(paper.journal, BY_PEN)
    assert (hens.batches, hens.species_known, hens.seasons_known) == (12, ("duck", "hen"), (2023, 2025))
    late = compare_batches(paper.journal, Question("hen", seasons=(2024, 2026)))
    assert late.batches == 6
    assert late.seasons_known == (2023, 2025)
    everything = compare_batches(paper.journal, Question(None, groupings=(Grouping.SPECIES,)))
    assert everything.batches == 15
    assert len(everything.sections[0].rows) == 2
    assert busiest_species(compared_batches(paper.journal)) == "hen"
    assert busiest_species(()) is None


def test_running_batches_are_counted_and_left_out(hatchery: Any) -> None:
    hatchery.add_batch(SET_AT, eggs=9)
    hatchery.add_batch(SET_AT + 90 * DAY, eggs=9)
    figures = compare_batches(hatchery.journal, BY_PEN, SET_AT + 5 * DAY)
    assert (figures.batches, figures.running) == (0, 1)


def test_batches_are_placed_against_limits_of_their_size(paper: Paper) -> None:
    paper.several("Orchard", [22, 23, 24, 22, 23, 21, 24, 22, 23, 22])
    odd = paper.add("Orchard", 3)
    figures = compare_batches(paper.journal, BY_PEN)
    assert len(figures.points) == 11
    assert figures.limits is not None
    places = {point.uid: point.place for point in figures.points}
    assert places[odd.uid] in (Place.LOW, Place.FAR_LOW)
    point = next(one for one in figures.points if one.uid == odd.uid)
    assert (point.hits, point.trials) == (3, 27)
    assert point.share < point.limit_low
    assert point.p < 0.05
    sizes = figures.limits.sizes
    assert list(sizes) == sorted(set(sizes))
    assert sizes[-1] >= 27
    for low, far_low, far_high, high in zip(
        figures.limits.low, figures.limits.far_low, figures.limits.far_high, figures.limits.high, strict=True
    ):
        assert 0 <= far_low <= low <= high <= far_high <= 1


def test_points_are_told_apart_by_the_first_grouping_that_takes_no_batch_apart(paper: Paper) -> None:
    three_pens(paper)
    figures = compare_batches(paper.journal, Question("hen", groupings=(Grouping.SEASON, Grouping.MACHINE)))
    assert {point.group.name for point in figures.points if point.group} == {"Blue one", "Green one"}
    figures = compare_batches(paper.journal, Question("hen", groupings=(Grouping.SEASON,)))
    assert {point.group for point in figures.points} == {None}
    assert [point.season for point in figures.points] == sorted(point.season for point in figures.points)


def test_a_batch_of_two_pens_counts_for_each_by_its_own_eggs(hatchery: Any, paper: Paper) -> None:
    brook, orchard = paper.pen("Brook"), paper.pen("Orchard")
    paper.several("Orchard", [20, 22])
    batch = hatchery.add_batch(each_egg=[{"pen": brook}] * 4 + [{"pen": orchard}] * 6, source=EggSource.OWN)
    hatchery.candle(batch, 7, dict.fromkeys(range(1, 11), FindingCode.ALIVE))
    uids = hatchery.eggs(batch)
    hatched = [uids[number] for number in (1, 5, 6, 7)]
    hatchery.journal.hatchings.note_marks(batch.uid, hatched, HatchMark.HATCHED, SET_AT + 21 * DAY)
    hatchery.close(batch, 23)
    figures = compare_batches(hatchery.journal, BY_PEN)
    found = {
        point.group.name: (point.hits, point.trials)
        for point in figures.points
        if point.uid == batch.uid and point.group
    }
    assert found == {"Brook": (1, 4), "Orchard": (3, 6)}
    assert row(figures, Grouping.PEN, brook).eggs_set == 4
    assert figures.eggs_set == 70
    assert figures.batches == 3


def degenerate(name: str) -> list[dict[str, Any]]:
    """Batches of which hardly anything can be said."""
    one = {"hatched": 1, "fertile": 1, "eggs": 1}
    return {
        "no batch": [],
        "one batch": [{"hatched": 20}],
        "two batches": [{"hatched": 20}, {"hatched": 21, "pen": "Yard"}],
        "batches of one egg": [{**one, "pen": f"Pen {at % 3}"} for at in range(6)],
        "all hatched": [{"hatched": 27, "pen": f"Pen {at % 2}"} for at in range(8)],
        "none hatched": [{"hatched": 0, "pen": f"Pen {at % 2}"} for at in range(8)],
        "no fertile egg": [{"hatched": 0, "fertile": 0, "pen": f"Pen {at % 2}"} for at in range(8)],
        "one pen all, one none": [{"hatched": 27 * (at % 2), "pen": f"Pen {at % 2}"} for at in range(8)],
        "nothing counted": [{"hatched": 0, "counted": False, "pen": f"Pen {at % 2}"} for at in range(8)],
        "a group of one": [{"hatched": 20 + at % 3, "pen": "Orchard"} for at in range(5)] + [{"hatched": 10}],
        "a pen a batch": [{"hatched": 20 + at % 5, "pen": f"Pen {at}"} for at in range(8)],
    }[name]


@pytest.mark.parametrize(
    "name",
    [
        "no batch",
        "one batch",
        "two batches",
        "batches of one egg",
        "all hatched",
        "none hatched",
        "no fertile egg",
        "one pen all, one none",
        "nothing counted",
        "a group of one",
        "a pen a batch",
    ],
)
@pytest.mark.parametrize("outcome", [RateKind.HATCH_OF_FERTILE, RateKind.EARLY_DEAD])
def test_whatever_there_is_gives_a_sensible_answer(
    paper: Paper, name: str, outcome: RateKind, as_json: Any
) -> None:
    for at, fields in enumerate(degenerate(name)):
        given = {"pen": "Barn", "season": 2020 + at % 4, **fields}
        if not given.pop("counted", True):
            unknown = dict.fromkeys(("clear", "early_dead", "mid_dead", "late_dead", "pipped_dead"))
            paper.add(**{**given, **unknown, "hatched": 0})
            continue
        paper.add(**given)
    for groupings in ((Grouping.PEN, Grouping.SEASON), (Grouping.MACHINE,), (Grouping.EGG_AGE, Grouping.DAM)):
        figures = compare_batches(paper.journal, Question("hen", groupings=groupings, outcome=outcome))
        as_json(figures)
        for point in figures.points:
            assert 0 <= point.limit_low <= point.limit_high <= 1
        for section in figures.sections:
            for one in section.rows:
                for rate in one.rates.values():
                    assert 0 <= rate.low <= rate.high <= 1
                    assert rate.mean is None or rate.low - 1e-9 <= rate.mean <= rate.high + 1e-9
    if name in ("no batch", "one batch", "nothing counted", "batches of one egg"):
        assert not any(finding.kind is FindingKind.GROUP for finding in figures.findings)


def test_the_chance_told_is_corrected_for_all_that_is_looked_at(paper: Paper) -> None:
    three_pens(paper)

    def told(*groupings: Grouping) -> Finding:
        figures = compare_batches(paper.journal, Question("hen", groupings=groupings))
        return next(one for one in figures.findings if one.kind is FindingKind.GROUP)

    alone = told(Grouping.PEN).p
    beside = told(Grouping.PEN, Grouping.MACHINE).p
    with_trend = told(Grouping.PEN, Grouping.SEASON).p
    second = told(Grouping.SEASON, Grouping.PEN).p
    assert alone is not None
    # What was asked for first has two thirds of the chance of error; the seasons share theirs with their trend.
    assert beside == with_trend == pytest.approx(1.5 * alone)
    assert second == pytest.approx(3 * alone)


def test_a_batch_is_told_by_its_chance_among_the_others(paper: Paper) -> None:
    paper.several("Orchard", [22, 23, 24, 22, 23, 21, 24, 22])
    odd = paper.add("Brook", 9)
    usual = paper.add("Brook", 22)
    chance = batch_against_others(paper.journal, odd.uid)
    assert chance is not None
    assert chance.is_low
    assert chance.p < 0.02
    fine = batch_against_others(paper.journal, usual.uid)
    assert fine is not None
    assert fine.p > 0.2
    assert batch_against_others(paper.journal, "nobody") is None


def test_a_batch_is_not_told_among_too_few_others(paper: Paper) -> None:
    only = paper.add("Orchard", 20)
    assert batch_against_others(paper.journal, only.uid) is None
    paper.add("Pond", 20, species="duck")
    paper.add("Pond", 21, species="duck")
    assert batch_against_others(paper.journal, only.uid) is None
