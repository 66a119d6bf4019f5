"""What is said beside the findings of a comparison: what was compared, its cells, its batches."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hatchbook.desk.words.comparison_table import batch_sentence, rate_cell_sentence
from hatchbook.desk.words.dates import season_word
from hatchbook.desk.words.groups import group_word
from hatchbook.desk.words.season_facts import (
    asked_sentence,
    facts_sentence,
    running_sentence,
    too_few_for_charts,
)
from hatchbook.figures.comparison_results import CountOfBatches, GroupName, Question, Standing
from hatchbook.figures.comparison_rows import Grouping
from hatchbook.statistics.tallies import RateKind
from tests.desk.seasons.made_up import POINTS, figures, rate, row

pytestmark = pytest.mark.usefixtures("qtbot")


def test_the_facts_count_what_was_compared_and_what_was_left_out() -> None:
    assert facts_sentence(figures()) == "4 finished batch(es): 120 egg(s) set, 100 fertile, 74 hatched."
    assert facts_sentence(figures(batches=1, eggs_set=1)).startswith("1 finished batch(es): 1 egg(s) set")
    assert facts_sentence(figures(batches=0)) == ""
    partly = figures(fertile=CountOfBatches(0, 0), hatched=CountOfBatches(60, 3))
    assert facts_sentence(partly) == (
        "4 finished batch(es): 120 egg(s) set, 60 hatched (known of 3 batch(es))."
    )
    assert running_sentence(figures()) == "1 still running."
    assert running_sentence(figures(running=2)) == "2 still running."
    assert running_sentence(figures(running=0)) == ""


def test_a_picture_says_what_was_asked() -> None:
    assert asked_sentence(figures()).startswith("Hen, seasons 2024 to 2025. 4 finished batch(es)")
    one = figures(question=Question(None, seasons=(2025, 2025)))
    assert asked_sentence(one).startswith("All species, season 2025. ")


def test_too_few_batches_for_charts_are_counted() -> None:
    def known(batches: int, of: int) -> str:
        overall = row(None, (0.8, 0.8 if batches else None, 0.6), "u1")
        rates = {kind: replace(one, batches=batches) for kind, one in overall.rates.items()}
        return too_few_for_charts(figures(batches=of, overall=replace(overall, rates=rates)))

    assert known(1, 1) == "3 finished batches are needed before they can be compared; you have 1."
    assert known(2, 7) == "3 finished batches are needed before they can be compared; of 2 this is known."
    assert known(0, 7) == "Of none of these batches is it known how many of the fertile eggs hatched."


def test_a_cell_is_read_with_its_counts_and_how_it_stands() -> None:
    assert rate_cell_sentence(RateKind.HATCH_OF_FERTILE, rate(0.64, Standing.LOWER, 0.0004)) == (
        "Hatched, of fertile: 64\u00a0%, range 57–71, 64 of 100, "
        "lower than the others by more than chance (less than 1 in 1000)"
    )
    assert rate_cell_sentence(RateKind.FERTILITY, rate(0.9, Standing.TOO_FEW, None)) == (
        "Fertile, of set: 90\u00a0%, range 83–97, 90 of 100, too few to say"
    )
    small = replace(rate(0.4, Standing.TOO_FEW, None), drawn=0.68)
    assert rate_cell_sentence(RateKind.FERTILITY, small) == (
        "Fertile, of set: by itself 40\u00a0%, drawn towards the others 68\u00a0%, range 33–47, 40 of 100, "
        "too few to say"
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
