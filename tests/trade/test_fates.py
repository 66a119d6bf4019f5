"""The fate of an egg from its records, contradictions included."""

from __future__ import annotations

import pytest
from hatchbook.trade.codes import BreakOutResult, Fate, FindingCode, HatchMark, RemovalReason
from hatchbook.trade.contradictions import ContradictionCode
from hatchbook.trade.fates import (
    EggOutcome,
    SeenBreakOut,
    SeenFinding,
    SeenHatch,
    SeenRemoval,
    derive_fate,
)
from hatchbook.trade.stages import StageBounds

SET_AT_S = 1_700_000_000
BOUNDS = StageBounds.for_incubation(21)
C = ContradictionCode


def at(day: float) -> int:
    return SET_AT_S + round(day * 86_400)


def fate_of(*records: tuple[str, float] | tuple[str, float, float], closed: bool = True) -> EggOutcome:
    """Records as ("see clear", day), ("mark hatched", day), ("open mid_dead", day, dead_day)."""
    findings, marks, break_outs, removals = [], [], [], []
    for text, day, *dead_day in records:
        kind, code = text.split()
        match kind:
            case "see":
                findings.append(SeenFinding(at(day), FindingCode(code)))
            case "mark":
                marks.append(SeenHatch(at(day), HatchMark(code)))
            case "open":
                break_outs.append(SeenBreakOut(at(day), BreakOutResult(code), *dead_day))
            case "take":
                removals.append(SeenRemoval(at(day), RemovalReason(code)))
            case _:
                raise AssertionError(kind)
    return derive_fate(findings, marks, break_outs, removals, set_at_s=SET_AT_S, bounds=BOUNDS, closed=closed)


ALIVE7, ALIVE14, ALIVE18 = ("see alive", 7), ("see alive", 14), ("see alive", 18)
CLEAR7, CLEAR14 = ("see clear", 7), ("see clear", 14)
DEAD5, DEAD10, DEAD18 = ("see dead", 5), ("see dead", 10), ("see dead", 18)
RING7, RING18 = ("see early_dead", 7), ("see early_dead", 18)
UNSURE7, UNSURE14 = ("see unsure", 7), ("see unsure", 14)
CRACK10, ROT10, ROT18 = ("see cracked", 10), ("see rotten", 10), ("see rotten", 18)
OUT, HELPED, WEAK, CULLED = (
    ("mark hatched", 21),
    ("mark helped", 21),
    ("mark weak", 21),
    ("mark culled", 21.5),
)
INPIP, EXPIP, DIEDPIP = ("mark internal_pip", 20), ("mark external_pip", 20.5), ("mark died_in_pip", 21.5)
TAKEN12, BROKEN12 = ("take taken_out_alive", 12), ("take broken", 12)
INF, OEARLY, OMID, OLATE = (
    ("open infertile", 23),
    ("open early_dead", 23),
    ("open mid_dead", 23),
    ("open late_dead", 23),
)
OPIP, OROT, OUNK = ("open pipped_dead", 23), ("open rotten", 23), ("open unknown", 23)

# records, closed, fate, fertile, contradictions in order
TABLE = [
    # nothing, and candlings alone
    ((), False, Fate.SET, None, ()),
    ((), True, Fate.UNKNOWN, None, ()),
    ((ALIVE7,), False, Fate.ALIVE, True, ()),
    ((ALIVE7,), True, Fate.UNKNOWN, True, ()),
    ((UNSURE7,), False, Fate.UNSURE, None, ()),
    ((UNSURE7,), True, Fate.UNKNOWN, None, ()),
    ((ALIVE7, UNSURE14), False, Fate.UNSURE, True, ()),
    ((ALIVE7, UNSURE14), True, Fate.UNKNOWN, True, ()),
    ((CLEAR7,), False, Fate.CLEAR, None, ()),
    ((CLEAR7,), True, Fate.CLEAR, None, ()),
    ((CLEAR7, UNSURE14), False, Fate.UNSURE, None, ()),
    ((CLEAR7, UNSURE14), True, Fate.CLEAR, None, ()),
    ((UNSURE7, CLEAR14), True, Fate.CLEAR, None, ()),
    ((UNSURE7, ALIVE14), False, Fate.ALIVE, True, ()),
    ((CLEAR7, ALIVE14), False, Fate.ALIVE, True, (C.CLEAR_BUT_DEVELOPED,)),
    ((ALIVE7, CLEAR14), True, Fate.CLEAR, None, (C.DEVELOPED_THEN_CLEAR,)),
    ((DEAD10, CLEAR14), True, Fate.CLEAR, None, (C.DEVELOPED_THEN_CLEAR,)),
    ((RING7, CLEAR14), True, Fate.EARLY_DEAD, True, ()),
    ((ROT10, CLEAR14), True, Fate.CLEAR, None, (C.DEVELOPED_THEN_CLEAR,)),
    ((RING7,), True, Fate.EARLY_DEAD, True, ()),
    ((RING18,), True, Fate.EARLY_DEAD, True, ()),
    ((CLEAR7, RING18), True, Fate.EARLY_DEAD, True, ()),
    ((ALIVE14, RING18), True, Fate.EARLY_DEAD, True, (C.ALIVE_AFTER_STAGE,)),
    ((DEAD5,), True, Fate.EARLY_DEAD, True, ()),
    ((DEAD10,), True, Fate.MID_DEAD, True, ()),
    ((DEAD18,), True, Fate.LATE_DEAD, True, ()),
    ((DEAD10, DEAD18), True, Fate.MID_DEAD, True, ()),
    ((RING7, DEAD10), True, Fate.EARLY_DEAD, True, ()),
    ((ALIVE7, DEAD18), True, Fate.LATE_DEAD, True, ()),
    ((CLEAR7, DEAD10), True, Fate.MID_DEAD, True, (C.CLEAR_BUT_DEVELOPED,)),
    ((DEAD10, UNSURE14), False, Fate.UNSURE, True, ()),
    ((DEAD10, UNSURE14), True, Fate.MID_DEAD, True, ()),
    ((DEAD10, ALIVE14), False, Fate.ALIVE, True, (C.DEAD_THEN_ALIVE,)),
    ((RING7, ALIVE14), True, Fate.UNKNOWN, True, (C.DEAD_THEN_ALIVE,)),
    ((DEAD10, ALIVE14, DEAD18), True, Fate.LATE_DEAD, True, (C.DEAD_THEN_ALIVE,)),
    ((ROT10,), True, Fate.ROTTEN, None, ()),
    ((ALIVE7, ROT10), True, Fate.ROTTEN, True, ()),
    ((CLEAR7, ROT10), True, Fate.ROTTEN, None, ()),
    ((RING7, ROT10), True, Fate.ROTTEN, True, ()),
    ((ROT10, ALIVE14), False, Fate.ALIVE, True, (C.DEAD_THEN_ALIVE,)),
    ((CRACK10,), True, Fate.CRACKED, None, ()),
    ((ALIVE7, CRACK10), True, Fate.CRACKED, True, ()),
    ((CRACK10, ALIVE14), False, Fate.ALIVE, True, ()),
    ((RING7, CRACK10), True, Fate.EARLY_DEAD, True, ()),
    ((CLEAR7, CRACK10), True, Fate.CRACKED, None, ()),
    # hatching record
    ((ALIVE18, OUT), False, Fate.HATCHED, True, ()),
    ((OUT,), True, Fate.HATCHED, True, ()),
    ((INPIP, EXPIP, OUT), True, Fate.HATCHED, True, ()),
    ((WEAK,), True, Fate.HATCHED, True, ()),
    ((HELPED,), True, Fate.HELPED, True, ()),
    ((OUT, HELPED), True, Fate.HELPED, True, ()),
    ((CULLED,), True, Fate.CULLED, True, ()),
    ((HELPED, WEAK, CULLED), True, Fate.CULLED, True, ()),
    ((CLEAR7, OUT), True, Fate.HATCHED, True, (C.CLEAR_BUT_HATCHED,)),
    ((CLEAR7, ALIVE14, OUT), True, Fate.HATCHED, True, (C.CLEAR_BUT_DEVELOPED,)),
    ((DEAD18, OUT), True, Fate.HATCHED, True, (C.DEAD_BUT_HATCHED,)),
    ((ROT18, HELPED), True, Fate.HELPED, True, (C.DEAD_BUT_HATCHED,)),
    ((CRACK10, OUT), True, Fate.HATCHED, True, ()),
    ((OUT, OLATE), True, Fate.HATCHED, True, (C.HATCHED_AND_BROKEN_OUT,)),
    ((CLEAR7, OUT, INF), True, Fate.HATCHED, True, (C.CLEAR_BUT_HATCHED, C.HATCHED_AND_BROKEN_OUT)),
    ((OUT, ("see clear", 22)), True, Fate.HATCHED, True, (C.SEEN_AFTER_HATCH,)),
    ((OUT, ("take broken", 22)), True, Fate.HATCHED, True, (C.HATCHED_AND_REMOVED,)),
    ((("mark died_in_pip", 20.8), OUT), True, Fate.HATCHED, True, (C.HATCHED_AND_DIED_IN_PIP,)),
    ((OUT, DIEDPIP), True, Fate.PIPPED_DEAD, True, (C.HATCHED_AND_DIED_IN_PIP,)),
    ((INPIP,), False, Fate.INTERNAL_PIP, True, ()),
    ((EXPIP,), False, Fate.EXTERNAL_PIP, True, ()),
    ((INPIP, EXPIP), False, Fate.EXTERNAL_PIP, True, ()),
    ((("mark external_pip", 20), ("mark internal_pip", 20.5)), False, Fate.EXTERNAL_PIP, True, ()),
    ((EXPIP,), True, Fate.UNKNOWN, True, ()),
    ((EXPIP, ("see dead", 21.5)), False, Fate.PIPPED_DEAD, True, ()),
    ((EXPIP, ("see alive", 21)), False, Fate.EXTERNAL_PIP, True, ()),
    ((EXPIP, ("see clear", 21)), False, Fate.EXTERNAL_PIP, True, (C.PIPPED_BUT_CALLED_EARLIER,)),
    ((CLEAR7, EXPIP), False, Fate.EXTERNAL_PIP, True, (C.CLEAR_BUT_DEVELOPED,)),
    ((DEAD18, EXPIP), False, Fate.EXTERNAL_PIP, True, (C.DEAD_THEN_ALIVE,)),
    ((EXPIP, DIEDPIP), False, Fate.PIPPED_DEAD, True, ()),
    ((DIEDPIP,), True, Fate.PIPPED_DEAD, True, ()),
    ((DIEDPIP, ("see alive", 22)), True, Fate.PIPPED_DEAD, True, (C.ALIVE_AFTER_STAGE,)),
    # hatching record and break-out
    ((EXPIP, OPIP), True, Fate.PIPPED_DEAD, True, ()),
    ((EXPIP, OLATE), True, Fate.PIPPED_DEAD, True, ()),
    ((EXPIP, OROT), True, Fate.PIPPED_DEAD, True, ()),
    ((EXPIP, OUNK), True, Fate.PIPPED_DEAD, True, ()),
    ((EXPIP, OMID), True, Fate.PIPPED_DEAD, True, (C.PIPPED_BUT_CALLED_EARLIER,)),
    ((DIEDPIP, INF), True, Fate.PIPPED_DEAD, True, (C.PIPPED_BUT_CALLED_EARLIER,)),
    # break-out and candling
    ((INF,), True, Fate.INFERTILE, False, ()),
    ((CLEAR7, INF), True, Fate.INFERTILE, False, ()),
    ((CLEAR7, OEARLY), True, Fate.EARLY_DEAD, True, ()),
    ((CLEAR7, OMID), True, Fate.MID_DEAD, True, (C.CLEAR_BUT_DEVELOPED,)),
    ((CLEAR7, OROT), True, Fate.ROTTEN, None, ()),
    ((CLEAR7, OUNK), True, Fate.CLEAR, None, ()),
    ((OUNK,), False, Fate.UNKNOWN, None, ()),
    ((ALIVE7, OUNK), False, Fate.UNKNOWN, True, ()),
    ((DEAD10, OUNK), True, Fate.MID_DEAD, True, ()),
    ((ALIVE7, INF), True, Fate.INFERTILE, False, (C.DEVELOPED_BUT_INFERTILE,)),
    ((RING7, INF), True, Fate.INFERTILE, False, (C.DEVELOPED_BUT_INFERTILE,)),
    ((("open infertile", 23, 4),), True, Fate.INFERTILE, False, (C.DAY_OUTSIDE_STAGE,)),
    ((ALIVE14, OEARLY), True, Fate.EARLY_DEAD, True, (C.ALIVE_AFTER_STAGE,)),
    ((("see alive", 7.4), OEARLY), True, Fate.EARLY_DEAD, True, ()),
    ((ALIVE14, OLATE), True, Fate.LATE_DEAD, True, ()),
    ((RING7, OLATE), True, Fate.LATE_DEAD, True, (C.DEAD_BEFORE_STAGE,)),
    ((DEAD18, OMID), True, Fate.MID_DEAD, True, ()),
    ((ROT10, OEARLY), True, Fate.EARLY_DEAD, True, ()),
    ((ALIVE7, DEAD18, OROT), True, Fate.ROTTEN, True, ()),
    ((ALIVE18, OPIP), True, Fate.PIPPED_DEAD, True, ()),
    ((("open early_dead", 23, 12),), True, Fate.EARLY_DEAD, True, (C.DAY_OUTSIDE_STAGE,)),
    ((("open early_dead", 23, 8),), True, Fate.EARLY_DEAD, True, ()),
    ((ALIVE14, ("open mid_dead", 23, 10)), True, Fate.MID_DEAD, True, (C.ALIVE_AFTER_STAGE,)),
    ((OEARLY, ("open mid_dead", 24)), True, Fate.MID_DEAD, True, (C.BREAK_OUTS_DISAGREE,)),
    ((OEARLY, ("open unknown", 24)), True, Fate.EARLY_DEAD, True, ()),
    ((("open early_dead", 10), ALIVE14), True, Fate.EARLY_DEAD, True, (C.OPENED_THEN_SEEN,)),
    # taken out
    ((TAKEN12,), False, Fate.TAKEN_OUT, True, ()),
    ((BROKEN12,), False, Fate.TAKEN_OUT, None, ()),
    ((ALIVE7, BROKEN12), True, Fate.TAKEN_OUT, True, ()),
    ((UNSURE7, BROKEN12), True, Fate.TAKEN_OUT, None, ()),
    ((CLEAR7, BROKEN12), True, Fate.CLEAR, None, ()),
    ((CLEAR7, TAKEN12), True, Fate.TAKEN_OUT, True, (C.CLEAR_BUT_DEVELOPED,)),
    ((DEAD10, BROKEN12), True, Fate.MID_DEAD, True, ()),
    ((DEAD10, TAKEN12), True, Fate.TAKEN_OUT, True, (C.DEAD_THEN_ALIVE,)),
    ((ROT10, BROKEN12), True, Fate.ROTTEN, None, ()),
    ((CRACK10, BROKEN12), True, Fate.CRACKED, None, ()),
    ((BROKEN12, ("open infertile", 12)), True, Fate.INFERTILE, False, ()),
    ((CLEAR7, BROKEN12, ("open early_dead", 12)), True, Fate.EARLY_DEAD, True, ()),
    ((BROKEN12, ("open unknown", 12)), True, Fate.TAKEN_OUT, None, ()),
    ((TAKEN12, ("open early_dead", 12)), True, Fate.EARLY_DEAD, True, (C.TAKEN_OUT_ALIVE_BUT_DEAD,)),
    ((TAKEN12, ALIVE14), False, Fate.ALIVE, True, (C.REMOVED_THEN_SEEN,)),
    ((BROKEN12, OUT), True, Fate.HATCHED, True, (C.REMOVED_THEN_SEEN,)),
    ((BROKEN12, ALIVE14, ("take taken_out_alive", 16)), True, Fate.TAKEN_OUT, True, (C.REMOVED_THEN_SEEN,)),
    # at the same instant: what was seen came first
    ((("see clear", 12), ("open early_dead", 12)), True, Fate.EARLY_DEAD, True, ()),
    ((("see alive", 12), TAKEN12), True, Fate.TAKEN_OUT, True, ()),
    ((("see dead", 12), BROKEN12), True, Fate.MID_DEAD, True, ()),
    ((OUT, ("see clear", 21)), True, Fate.HATCHED, True, (C.CLEAR_BUT_HATCHED,)),
    ((OUT, ("take broken", 21)), True, Fate.HATCHED, True, (C.HATCHED_AND_REMOVED,)),
    ((EXPIP, ("take taken_out_alive", 21)), True, Fate.TAKEN_OUT, True, ()),
    ((EXPIP, ("take broken", 21)), True, Fate.TAKEN_OUT, True, ()),
    ((EXPIP, ("see dead", 21), ("take broken", 22)), True, Fate.PIPPED_DEAD, True, ()),
    ((EXPIP, ("see dead", 21), ("take taken_out_alive", 22)), True, Fate.TAKEN_OUT, True, (C.DEAD_THEN_ALIVE,)),
    ((DIEDPIP, ("take taken_out_alive", 22)), True, Fate.PIPPED_DEAD, True, (C.TAKEN_OUT_ALIVE_BUT_DEAD,)),
    ((DIEDPIP, ("take broken", 22)), True, Fate.PIPPED_DEAD, True, ()),
]  # fmt: skip


@pytest.mark.parametrize(("records", "closed", "fate", "fertile", "clashes"), TABLE)
def test_stronger_and_later_record_stands_and_the_contradiction_is_shown(
    records: tuple[tuple[str, float], ...],
    closed: bool,
    fate: Fate,
    fertile: bool | None,
    clashes: tuple[ContradictionCode, ...],
) -> None:
    outcome = fate_of(*records, closed=closed)
    assert outcome.fate is fate
    assert outcome.fertile is fertile
    assert tuple(clash.code for clash in outcome.contradictions) == clashes


def test_every_kind_of_contradiction_is_in_the_table() -> None:
    assert {code for row in TABLE for code in row[4]} == set(ContradictionCode)


def test_a_contradiction_names_both_records_and_which_stands() -> None:
    (clash,) = fate_of(CLEAR7, OUT).contradictions
    assert (clash.overruled, clash.overruled_at_s) == (FindingCode.CLEAR, at(7))
    assert (clash.standing, clash.standing_at_s) == (HatchMark.HATCHED, at(21))
    assert str(clash) == "Candled clear, but it hatched."


@pytest.mark.parametrize(
    ("records", "candled", "clear", "opened"),
    [
        ((), False, False, False),
        ((UNSURE7,), False, False, False),
        ((CLEAR7,), True, True, False),
        ((CLEAR7, UNSURE14), True, True, False),
        ((CLEAR7, ALIVE14), True, False, False),
        ((ALIVE7, CLEAR14), True, True, False),
        ((CLEAR7, RING18), True, False, False),
        ((CLEAR7, ROT10), True, True, False),
        ((CLEAR7, OUT), True, True, False),
        ((CLEAR7, OEARLY), True, True, True),
        ((("see clear", 23), OEARLY), True, True, True),
        ((OUNK,), False, False, True),
    ],
)
def test_the_last_candling_that_judged_says_clear_or_not(
    records: tuple[tuple[str, float], ...], candled: bool, clear: bool, opened: bool
) -> None:
    outcome = fate_of(*records)
    assert (outcome.candled, outcome.candled_clear, outcome.opened) == (candled, clear, opened)


@pytest.mark.parametrize(
    ("records", "span"),
    [
        ((ALIVE7, ALIVE14, DEAD18), (14, 18)),
        ((DEAD18,), (0, 18)),
        ((DEAD10, DEAD18), (0, 10)),
        ((RING7,), (0, 7)),
        ((RING18,), (0, 7)),
        ((("see alive", 5), ("see early_dead", 6)), (5, 6)),
        # the overruled "alive" of day 14 does not reach into the early days
        ((ALIVE14, RING18), (0, 7)),
        # an embryo called dead, alive later, dead again
        ((DEAD10, ALIVE14, DEAD18), (14, 18)),
        # break-outs narrow it
        ((CLEAR7, OEARLY), (0, 7)),
        ((ALIVE7, ALIVE18, OLATE), (18, 23)),
        ((OMID,), (7, 14)),
        ((DEAD10, OMID), (7, 10)),
        ((ALIVE7, DEAD18, OMID), (7, 14)),
        ((ALIVE7, ("open mid_dead", 23, 11)), (11, 11)),
        ((RING7, OLATE), (14, 23)),
        # in the pip
        ((ALIVE18, EXPIP, DIEDPIP), (20.5, 21.5)),
        ((EXPIP, OLATE), (20.5, 23)),
        ((EXPIP, ("open mid_dead", 23, 10)), (20.5, 23)),
        ((DEAD18, EXPIP, DIEDPIP), (20.5, 21.5)),
        ((ALIVE18, OPIP), (18, 23)),
        # rotten: only what was seen
        ((ALIVE7, ROT10), (7, 10)),
        ((RING7, ROT18), (0, 7)),
        ((CLEAR7, OROT), (None, None)),
        ((("open rotten", 23, 16),), (16, 16)),
        # no death, no span
        ((OUT,), (None, None)),
        ((CLEAR7,), (None, None)),
        ((ALIVE7, CRACK10), (None, None)),
        ((ALIVE7,), (None, None)),
    ],
)
def test_span_of_death_is_what_candlings_and_break_out_leave_open(
    records: tuple[tuple[str, float], ...], span: tuple[float | None, float | None]
) -> None:
    outcome = fate_of(*records)
    assert (outcome.dead_from_day, outcome.dead_until_day) == pytest.approx(span)


def test_a_stage_that_the_span_crosses_is_chosen_by_the_day_the_egg_was_seen_dead() -> None:
    outcome = fate_of(("see alive", 5), ("see dead", 10))
    assert outcome.fate is Fate.MID_DEAD
    assert (outcome.dead_from_day, outcome.dead_until_day) == (5, 10)


def test_instants_of_pip_and_hatch_are_kept() -> None:
    outcome = fate_of(INPIP, EXPIP, OUT, CULLED, WEAK)
    assert outcome.internal_pip_at_s == at(20)
    assert outcome.pipped_at_s == at(20.5)
    assert outcome.hatched_at_s == at(21)
    assert outcome.weak
    assert fate_of(INPIP, closed=False).pipped_at_s is None
    assert fate_of(OUT, DIEDPIP).hatched_at_s is None


@pytest.mark.parametrize("day", [-1.0, float("nan"), float("inf")])
def test_an_impossible_day_of_death_is_refused(day: float) -> None:
    with pytest.raises(ValueError, match="day an embryo died can not be"):
        SeenBreakOut(at(23), BreakOutResult.EARLY_DEAD, day)
