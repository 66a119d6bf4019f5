"""The batches that are over, with all that they may be grouped by."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from hatchbook.figures.comparison_rows import EggAge, Grouping, compared_batches, egg_age
from hatchbook.journal import PastBatch, Pen, PenMember
from hatchbook.statistics.tallies import RateKind, counts
from hatchbook.trade.codes import EggSource, FindingCode, HatchMark

DAY = 86_400
SET_AT = 1_777_917_600


def finished(hatchery: Any, each_egg: list[dict[str, Any]], hatched: int, **fields: Any) -> Any:
    """A closed batch of whose eggs the first hatched and the rest were clear."""
    batch = hatchery.add_batch(fields.pop("set_at", SET_AT), each_egg=each_egg, **fields)
    count = len(each_egg)
    codes = {n: FindingCode.ALIVE if n <= hatched else FindingCode.CLEAR for n in range(1, count + 1)}
    hatchery.candle(batch, 7, codes)
    uids = hatchery.eggs(batch)
    marked = [uids[n] for n in range(1, hatched + 1)]
    hatchery.journal.hatchings.note_marks(batch.uid, marked, HatchMark.HATCHED, batch.set_at + 21 * DAY)
    hatchery.close(batch, 23)
    return batch


@pytest.fixture
def pens(hatchery: Any) -> dict[str, Any]:
    """Two pens, one with two dams."""
    brook, orchard = Pen("Brook", species="hen"), Pen("Orchard", species="hen")
    sedge, cress = PenMember(brook.uid, "Sedge", "female"), PenMember(brook.uid, "Cress", "female")
    for pen in (brook, orchard):
        hatchery.journal.pens.add(pen)
    for dam in (sedge, cress):
        hatchery.journal.pens.add_member(dam)
    return {"brook": brook.uid, "orchard": orchard.uid, "sedge": sedge.uid, "cress": cress.uid}


def test_a_batch_carries_what_it_may_be_grouped_by(hatchery: Any) -> None:
    batch = finished(
        hatchery, [{}] * 4, 3, breed=" Quillet  Buff ", source=EggSource.SHIPPED, programme='{"code": "dry"}'
    )
    (row,) = compared_batches(hatchery.journal)
    assert (row.uid, row.label, row.eggs_set, row.counts_only) == (batch.uid, batch.label, 4, False)
    assert row.keys == {
        Grouping.SEASON: "2026",
        Grouping.MONTH: "5",
        Grouping.BREED: "Quillet Buff",
        Grouping.MACHINE: hatchery.machine.uid,
        Grouping.SPECIES: "hen",
        Grouping.PROGRAMME: "dry",
        Grouping.SOURCE: "shipped",
    }
    assert counts(row.tally, RateKind.HATCH_OF_SET) == (3, 4)
    assert counts(row.tally, RateKind.HATCH_OF_FERTILE) == (3, 3)
    assert counts(row.tally, RateKind.FERTILITY) == (3, 4)


def test_running_and_planned_batches_and_those_without_eggs_are_left_out(hatchery: Any) -> None:
    hatchery.add_batch(SET_AT, eggs=9)
    empty = hatchery.add_batch(SET_AT - 90 * DAY, eggs=0)
    hatchery.close(empty, 22)
    assert compared_batches(hatchery.journal) == ()


def test_eggs_of_several_pens_dams_and_ages_stand_apart(hatchery: Any, pens: dict[str, Any]) -> None:
    # Set on 4 May 2026. The first four hatch.
    eggs = [
        {"pen": pens["brook"], "dam": pens["sedge"], "laid_on": "2026-05-03"},
        {"pen": pens["brook"], "dam": pens["cress"], "laid_on": "2026-04-28"},
        {"pen": pens["orchard"], "laid_on": "2026-04-28"},
        {"pen": pens["orchard"]},
        {"pen": pens["brook"], "dam": pens["sedge"], "laid_on": "2026-05-03"},
        {"laid_on": "2026-04-01"},
    ]
    finished(hatchery, eggs, 4)
    (row,) = compared_batches(hatchery.journal)

    def split(*groupings: Grouping) -> dict[Any, tuple[int, tuple[int, int]]]:
        return {
            keys: (count, counts(tally, RateKind.HATCH_OF_SET))
            for keys, (count, tally) in row.split(groupings).items()
        }

    assert split(Grouping.PEN) == {
        (pens["brook"],): (3, (2, 3)),
        (pens["orchard"],): (2, (2, 2)),
        (None,): (1, (0, 1)),
    }
    assert split(Grouping.DAM)[(pens["sedge"],)] == (2, (1, 2))
    assert split(Grouping.EGG_AGE) == {
        (EggAge.UP_TO_3.value,): (2, (1, 2)),
        (EggAge.UP_TO_7.value,): (2, (2, 2)),
        (EggAge.OLDER.value,): (1, (0, 1)),
        (None,): (1, (1, 1)),
    }
    assert split(Grouping.PEN, Grouping.SEASON)[(pens["brook"], "2026")] == (3, (2, 3))
    assert split(Grouping.SEASON) == {("2026",): (6, (4, 6))}


def test_a_batch_from_paper_stays_whole(hatchery: Any, pens: dict[str, Any]) -> None:
    hatchery.journal.past_batches.add(
        PastBatch("p", 2020, "hen", 30, pen=pens["brook"], clear=5, early_dead=2, late_dead=3, hatched=18)
    )
    (row,) = compared_batches(hatchery.journal)
    assert row.counts_only
    assert row.keys[Grouping.SEASON] == "2020"
    assert row.keys[Grouping.MONTH] is None
    assert row.keys[Grouping.MACHINE] is None
    ((keys, (eggs, tally)),) = row.split((Grouping.PEN, Grouping.EGG_AGE)).items()
    assert (keys, eggs) == ((pens["brook"], None), 30)
    assert counts(tally, RateKind.HATCH_OF_FERTILE) == (18, 25)
    assert counts(tally, RateKind.EARLY_DEAD) == (2, 25)
    assert counts(tally, RateKind.MID_DEAD) == (0, 0)  # was not counted, which is not none


def test_breeds_that_differ_by_capitals_alone_are_one(hatchery: Any) -> None:
    for number, breed in enumerate(("Marl speckle", "marl Speckle")):
        finished(hatchery, [{}] * 2, 1, breed=breed, set_at=SET_AT - number * 40 * DAY)
    assert len({row.keys[Grouping.BREED] for row in compared_batches(hatchery.journal)}) == 1


def test_what_happened_to_eggs_since_is_seen(hatchery: Any) -> None:
    batch = finished(hatchery, [{}] * 4, 3)
    compared_batches(hatchery.journal)
    uids = hatchery.eggs(batch)
    mark = next(one for one in hatchery.journal.hatchings.all() if one.egg == uids[1])
    hatchery.journal.hatchings.remove(mark)
    (row,) = compared_batches(hatchery.journal)
    assert counts(row.tally, RateKind.HATCH_OF_SET) == (2, 4)


def test_progress_goes_up_to_the_end_and_can_stop_the_work(hatchery: Any) -> None:
    finished(hatchery, [{}] * 2, 1)
    shares: list[float] = []
    compared_batches(hatchery.journal, shares.append)
    assert shares == sorted(shares)
    assert all(0 <= share <= 1 for share in shares)

    class StoppedError(Exception):
        pass

    def stop(_share: float) -> None:
        raise StoppedError

    with pytest.raises(StoppedError):
        compared_batches(hatchery.journal, stop)


@pytest.mark.parametrize(
    ("laid_on", "age"),
    [
        ("2026-05-04", EggAge.UP_TO_3),
        ("2026-05-01", EggAge.UP_TO_3),
        ("2026-04-30", EggAge.UP_TO_7),
        ("2026-04-27", EggAge.UP_TO_7),
        ("2026-04-26", EggAge.UP_TO_14),
        ("2026-04-20", EggAge.UP_TO_14),
        ("2026-04-19", EggAge.OLDER),
        ("2026-05-05", None),
        (None, None),
    ],
)
def test_the_age_of_an_egg_is_counted_in_days_before_setting(laid_on: str | None, age: EggAge | None) -> None:
    assert egg_age(laid_on, date(2026, 5, 4)) == age
