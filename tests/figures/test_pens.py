"""What came of a pen's eggs, and of each hen's."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from hatchbook.figures.pens import PenFigures, pen_figures
from hatchbook.journal import PastBatch, Pen, PenMember, RecordMissingError
from hatchbook.statistics.intervals import wilson
from hatchbook.trade.codes import FindingCode
from tests.figures.conftest import DAY, SET_AT, Hatchery

ALIVE, CLEAR = FindingCode.ALIVE, FindingCode.CLEAR


@pytest.fixture
def pens(hatchery: Hatchery) -> tuple[Pen, Pen, PenMember, PenMember]:
    """Two pens; the first has two hens."""
    first, second = Pen("Brook"), Pen("Orchard")
    hens = PenMember(first.uid, "Sedge", "female", ring="B1"), PenMember(first.uid, "Mallow", "female")
    for pen in (first, second):
        hatchery.journal.pens.add(pen)
    for hen in hens:
        hatchery.journal.pens.add_member(hen)
    return first, second, *hens


def filled(hatchery: Hatchery, pens: tuple[Pen, Pen, PenMember, PenMember]) -> None:
    """A closed batch: Sedge 3 eggs (2 fertile), Mallow 1 (fertile), one of an unknown hen, two of the other pen."""
    first, second, sedge, mallow = pens
    origins: list[dict[str, Any]] = [
        {"pen": first.uid, "dam": sedge.uid},
        {"pen": first.uid, "dam": sedge.uid},
        {"pen": first.uid, "dam": sedge.uid},
        {"pen": first.uid, "dam": mallow.uid},
        {"pen": first.uid},
        {"pen": second.uid},
        {"pen": second.uid},
    ]
    batch = hatchery.add_batch(SET_AT, each_egg=origins)
    hatchery.candle(batch, 8, {1: ALIVE, 2: ALIVE, 3: CLEAR, 4: ALIVE, 5: CLEAR, 6: ALIVE, 7: ALIVE})
    hatchery.close(batch, 22)


def test_rates_are_told_by_hen_the_unknown_ones_last(
    hatchery: Hatchery, pens: tuple[Pen, Pen, PenMember, PenMember]
) -> None:
    filled(hatchery, pens)
    figures: PenFigures = pen_figures(hatchery.journal, pens[0].uid)
    assert [(one.name, one.eggs) for one in figures.dams] == [("Sedge", 3), ("Mallow", 1), ("", 1)]
    sedge = figures.dams[0].fertility
    assert (sedge.hits, sedge.trials) == (2, 3)
    assert (sedge.low, sedge.high) == pytest.approx(wilson(2, 3))
    assert (figures.whole.eggs, figures.whole.batches) == (5, 1)
    assert (figures.whole.fertility.hits, figures.whole.fertility.trials) == (3, 5)


def test_a_pen_whose_hens_are_not_noted_is_told_as_a_whole(
    hatchery: Hatchery, pens: tuple[Pen, Pen, PenMember, PenMember]
) -> None:
    filled(hatchery, pens)
    figures = pen_figures(hatchery.journal, pens[1].uid)
    assert figures.dams == ()
    assert figures.whole.eggs == 2


def test_running_batches_do_not_count_and_those_from_paper_do(
    hatchery: Hatchery, pens: tuple[Pen, Pen, PenMember, PenMember], as_json: Callable[[Any], Any]
) -> None:
    pen = pens[1]
    hatchery.add_batch(SET_AT + 9 * DAY, each_egg=[{"pen": pen.uid}])
    past = PastBatch("19-01", 2019, "hen", 20, pen=pen.uid, clear=4, infertile_opened=4, hatched=12)
    hatchery.journal.past_batches.add(past)
    figures = pen_figures(hatchery.journal, pen.uid)
    assert (figures.whole.eggs, figures.whole.batches) == (20, 1)
    assert (figures.whole.hatch_of_set.hits, figures.whole.hatch_of_set.trials) == (12, 20)
    assert as_json(figures)["whole"]["eggs"] == 20


def test_a_pen_without_eggs_has_no_rates_and_one_that_is_not_there_is_said_so(
    hatchery: Hatchery, pens: tuple[Pen, Pen, PenMember, PenMember]
) -> None:
    figures = pen_figures(hatchery.journal, pens[0].uid)
    assert (figures.whole.eggs, figures.whole.fertility.estimate, figures.dams) == (0, None, ())
    with pytest.raises(RecordMissingError):
        pen_figures(hatchery.journal, "nowhere")
