"""When to fill next, what a dry run showed, and the cells of the guide, word for word."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import pytest
from hatchbook.desk.words.guide_cells import band_legend, cell_sentence, hours_text, mark_texts
from hatchbook.desk.words.guide_water import (
    dry_run_result,
    dry_run_sentence,
    fill_headline,
    fill_sentence,
    fill_span,
    water_sentence,
)
from hatchbook.figures.guide_results import DryRun
from hatchbook.figures.weight_results import Estimate
from hatchbook.trade.codes import PhaseKind
from tests.desk.english import english_plurals
from tests.desk.machines.guides import NOW, ROOM, ZONE, cell, fill, guide


@pytest.fixture(autouse=True)
def english(qapp: object) -> Iterator[None]:
    with english_plurals():
        yield


def plain(text: str) -> str:
    return text.replace("\u00a0", " ")


def test_the_next_fill_is_told_as_closely_as_it_is_known() -> None:
    assert fill_headline(guide(), NOW, ZONE) == "Fri 15 May, evening"
    assert fill_sentence(guide(), ZONE) == (
        "With 2 channels filled Wed 13 May, afternoon the water lasts about 2.1 days (1.6–2.6), as it did before."
    )
    assert fill_sentence(guide(next_fill=fill(origin="model", channels=1)), ZONE) == (
        "With 1 channel filled Wed 13 May, afternoon the water lasts about 2.1 days (1.6–2.6), by what a channel "
        "holds and what evaporates."
    )
    assert fill_span(guide(), ZONE) == "between Fri 15 May, morning and Sat 16 May, morning"


def test_channels_that_may_be_dry_ask_for_a_look() -> None:
    assert fill_headline(guide(next_fill=fill(at=NOW - 60)), NOW, ZONE) == "Look now: they may be dry"


def test_without_water_or_volumes_that_is_said() -> None:
    assert fill_headline(guide(next_fill=None), NOW, ZONE) == "No channel holds water"
    assert fill_sentence(guide(next_fill=None), ZONE) == "There is nothing to fall dry."
    unknown = guide(next_fill=fill(at=None, days=None, origin="unknown"))
    assert fill_headline(unknown, NOW, ZONE) == "Not known"
    assert fill_sentence(unknown, ZONE).startswith(
        "When 2 filled channels fall dry can be told once fillings"
    )
    assert fill_span(unknown, ZONE) == ""
    unnoted = guide(setting=None, next_fill=None)
    assert fill_headline(unnoted, NOW, ZONE) == "Not known"
    assert fill_sentence(unnoted, ZONE) == "How many channels hold water is not noted: log the setting."


def test_water_of_a_day_is_rounded_and_has_its_range() -> None:
    assert water_sentence(guide()) == "About 180 ml of water evaporate a day (150–210)."
    assert water_sentence(guide(water_ml_a_day=None)) == ""


def test_what_came_of_a_dry_run_is_short_in_a_list() -> None:
    assert plain(dry_run_result(DryRun(NOW, 18.6, 18.1, ROOM))) == "18.6 %, room air 18.1 %"
    assert plain(dry_run_result(DryRun(NOW, 24.6, 18.1, ROOM))) == "24.6 %, but room air 18.1 %"


def test_water_that_is_hardly_known_is_told_as_a_range_alone() -> None:
    wide = guide(water_ml_a_day=Estimate(90.0, 22.0, 371.0))
    assert water_sentence(wide) == "20–370 ml of water evaporate a day: more closely it is not known yet."


def test_a_dry_run_agrees_or_asks_for_a_look() -> None:
    assert plain(dry_run_sentence(DryRun(NOW, 18.6, 18.1, ROOM), ZONE)) == (
        "Dry run of 14 May: 18.6 %, and the room air alone should give 18.1 %. They agree."
    )
    assert plain(dry_run_sentence(DryRun(NOW, 24.6, 18.1, ROOM), ZONE)) == (
        "Dry run of 14 May: 24.6 %, but the room air alone should give 18.1 %, 6.5 % apart: check the hygrometers, "
        "and whether the machine was dry."
    )


def test_a_cell_is_read_out_in_sentences() -> None:
    tried = cell(3, 0.5, hours=119.4, batches=("26-05", "25-06"))
    assert plain(cell_sentence(tried, guide())) == (
        "3 channels, vent 1/2: 48 % expected, range 46 to 50 %. 119 h of readings, in 26-05, 25-06. In the band of "
        "incubation."
    )
    now = guide().now_cell
    assert now is not None
    assert plain(cell_sentence(now, guide())) == (
        "2 channels, vent 1/2: 38 % expected, range 36 to 40 %. Not tried yet. So it stands now. This is advised."
    )
    dry = cell(0, 0.0, allowed=False, hours=0.4)
    assert plain(cell_sentence(dry, guide())) == (
        "No water, vent shut: 18 % expected, range 16 to 20 %. 1 h of readings. Not in lockdown: hatching chicks "
        "need air."
    )
    many = cell(3, 0.5, hours=900.0, batches=("1", "2", "3", "4", "5", "6"))
    assert "in 1, 2, 3, 4 and 2 more." in cell_sentence(many, guide())


def test_marks_say_what_a_frame_means() -> None:
    apart = guide(advised=(1, 0.25))
    assert mark_texts(cell(2, 0.5), guide()) == ("now, keep", "keep")
    assert mark_texts(cell(2, 0.5), apart) == ("now",)
    assert mark_texts(cell(1, 0.25), apart) == ("try this", "try")
    assert mark_texts(cell(1, 0.0, allowed=False), apart) == ("not in lockdown", "not now")
    assert mark_texts(cell(3, 0.0), apart) == ()


def test_hours_and_bands_are_short_in_the_table() -> None:
    assert hours_text(cell(1, 0.5)) == "not tried"
    assert hours_text(replace(cell(1, 0.5), hours=3328.2)) == "3328 h"
    assert plain(band_legend(PhaseKind.LOCKDOWN, 60, 70)) == "lockdown 60–70 %"
