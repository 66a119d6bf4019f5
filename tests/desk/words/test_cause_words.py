"""Causes and their evidence, word for word."""

from __future__ import annotations

from typing import Any
from zoneinfo import ZoneInfo

import pytest
from hatchbook.desk.words.causes import (
    cause_word,
    caution_sentences,
    explains_sentence,
    never_sentence,
    record_sentence,
    said,
    sign_text,
    strength_spoken,
    strength_word,
    summary_sentence,
    unknown_sentence,
)
from hatchbook.desk.words.evidence import evidence_sentence, never_recorded, subject_text
from hatchbook.figures.cause_results import (
    BatchCauses,
    CauseFigures,
    Caution,
    EvidenceItem,
    RecordRef,
    SeenSign,
    Strength,
)
from hatchbook.trade.cause_codes import CauseCode, CauseSign, FactCode, FactKind, NotRecorded
from hatchbook.trade.causes import CauseLink
from hatchbook.trade.sources import SourceMark

NB = "\u00a0"
ZONE = ZoneInfo("Europe/Lisbon")
PEN = {"pen": "Brook", "hits": 64, "trials": 100, "other_hits": 83, "other_trials": 100, "batches": 7}
LOSS = {"count": 8, "of": 33, "usual": 9.4, "batches": 12, "chance": 0.04}
ALIKE = {"labels": ("25-08",), "hits": 20, "trials": 30, "other_hits": 80, "other_trials": 100}


def item(code: FactCode, **values: Any) -> EvidenceItem:
    return EvidenceItem(code, FactKind.CONDITION, 1, values, (), "", SourceMark.OURS)


@pytest.mark.parametrize(
    ("code", "values", "sentence"),
    [
        (
            FactCode.HUMIDITY_BEFORE_LOCKDOWN,
            {"value": 3.1, "mean": 53.1, "low": 40.0, "high": 50.0},
            f"Mean humidity 53.1{NB}% against 40–50.",
        ),
        (
            FactCode.HUMIDITY_BEFORE_LOCKDOWN,
            {"value": 0.0, "mean": 45.0, "low": 40.0, "high": 50.0},
            f"Mean humidity 45.0{NB}%, in 40–50.",
        ),
        (
            FactCode.WEIGHT_LOSS,
            {"value": -1.4, "loss": 9.3, "low": 11.0, "high": 13.0},
            f"Only 9.3{NB}% of weight lost against 11–13.",
        ),
        (
            FactCode.WEIGHT_LOSS,
            {"value": 0.0, "loss": 10.9, "low": 11.0, "high": 13.0},
            f"10.9{NB}% of weight lost, not surely outside 11–13.",
        ),
        (
            FactCode.TEMPERATURE_BEFORE_LOCKDOWN,
            {"value": 0.0, "mean": 37.7, "low": 37.5, "high": 37.9},
            f"Mean 37.7{NB}°C, in 37.5–37.9.",
        ),
        (FactCode.WITHOUT_HEAT, {"value": 0.0, "cuts": 0, "hours": 0.0, "lowest_c": None}, "No power cut."),
        (
            FactCode.WITHOUT_HEAT,
            {"value": 2.0, "cuts": 1, "hours": 2.0, "lowest_c": 31.5},
            f"Power off 2{NB}h, down to 31.5{NB}°C.",
        ),
        (
            FactCode.TURNS_MISSED,
            {"value": 0.05, "missed": 3, "due": 54, "done": 51},
            "3 of 54 turnings not logged.",
        ),
        (FactCode.AGE_OLDEST, {"value": 9.0, "days": 9}, "Oldest eggs 9 day(s) old when set."),
        (FactCode.WET, {"value": 0.67, "count": 4, "of": 6}, "4 of 6 opened late ones wet."),
        (FactCode.WET, {"value": 0.0, "count": 0, "of": 6}, "None of 6 opened late ones was wet."),
        (
            FactCode.LATE_LOSS_CHANCE,
            {"value": 0.04, **LOSS},
            f"8 of 33 fertile dead late, usual here 9{NB}%: 1 in 25 by chance.",
        ),
        (
            FactCode.LATE_LOSS_CHANCE,
            {"value": 0.6, **LOSS, "chance": 0.6},
            f"8 of 33 fertile dead late, usual here 9{NB}%.",
        ),
        (
            FactCode.WEIGHT_LOSS,
            {"value": 0.01, "loss": 13.5, "low": 11.0, "high": 13.0},
            f"13.5{NB}% of weight lost, not surely outside 11–13.",
        ),
        (
            FactCode.PEN_HATCH,
            {"value": -19.0, **PEN},
            f"Brook eggs hatch 64{NB}% of fertile against 83{NB}% of other pens, over 7 other batch(es).",
        ),
        (
            FactCode.PEN_HATCH_SURE,
            {"value": -5.0, "low": -20.6, "high": -4.6},
            "That is more than batches differ by chance: 5–21 points.",
        ),
        (
            FactCode.MOIST_BATCHES,
            {"value": -13.0, **ALIKE},
            f"25-08 ran as moist and hatched 67{NB}% of fertile, those in the band 80{NB}%.",
        ),
        (FactCode.HATCH_LATE, {"value": 14.0, "hours": 14.0}, "Hatched 14 h later than usual here."),
        (FactCode.HATCH_LATE, {"value": 0.2, "hours": 0.2}, "Hatched when batches here usually do."),
        (
            FactCode.VENT_SHUT_IN_LOCKDOWN,
            {"value": 0.0, "hours": 0.0},
            "The vent was never shut in lockdown.",
        ),
    ],
)
def test_a_fact_is_a_sentence_with_its_numbers(
    code: FactCode, values: dict[str, Any], sentence: str, qapp: Any
) -> None:
    assert evidence_sentence(item(code, **values)) == sentence


#: Values that every sentence can be made of.
EVERYTHING: dict[str, Any] = {
    **PEN,
    **LOSS,
    **ALIKE,
    "mean": 50.0,
    "aim": 37.5,
    "days": 4.0,
    "low": -20.0,
    "high": -4.0,
    "loss": 10.0,
    "cuts": 1,
    "hours": 14.0,
    "lowest_c": 31.5,
    "times": 2,
    "missed": 3,
    "due": 54,
    "done": 51,
    "turns": 3,
    "clear": 0,
}


@pytest.mark.parametrize("value", [-2.0, 0.0, 2.0])
@pytest.mark.parametrize("code", list(FactCode))
def test_every_fact_has_its_words(code: FactCode, value: float, qapp: Any) -> None:
    sentence = evidence_sentence(item(code, **EVERYTHING, value=value))
    assert sentence.endswith(".")
    assert "{" not in sentence
    assert subject_text(code)


def test_every_code_has_its_words(qapp: Any) -> None:
    assert all(cause_word(code) for code in CauseCode)
    assert all(strength_word(strength) for strength in Strength)
    assert all("{" not in sign_text(SeenSign(sign, 2, 9)) for sign in CauseSign)
    assert all(never_recorded(code) for code in NotRecorded)
    assert len({cause_word(code) for code in CauseCode}) == len(CauseCode)


WET = FactCode.WET
LINK = CauseLink((CauseCode.TOO_HUMID,), "moist", "Someone 1999; Other", SourceMark.PUBLISHED)
RECALLED = CauseLink((CauseCode.TOO_HUMID,), "moist", "", SourceMark.FROM_MEMORY)


def cause(**given: Any) -> CauseFigures:
    values: dict[str, Any] = {
        "code": CauseCode.TOO_HUMID,
        "strength": Strength.STRONG,
        "points_for": 5,
        "points_against": 0,
        "for_": (),
        "against": (),
        "unknown": (),
        "not_recorded": (),
        "explains": (SeenSign(CauseSign.WET, 4, 6, (LINK,)),),
        "memory_alone": False,
    }
    return CauseFigures(**{**values, **given})


def causes(*each: CauseFigures, **given: Any) -> BatchCauses:
    values: dict[str, Any] = {
        "batch": "b",
        "lost": 14,
        "fertile": 33,
        "signs": (),
        "causes": each,
        "chance": 0.2,
        "other_batches": 12,
        "cautions": (),
    }
    return BatchCauses(**{**values, **given})


def test_where_nothing_stands_out_the_chance_is_told(qapp: Any) -> None:
    weak = cause(strength=Strength.WEAK)
    assert summary_sentence(causes(weak)) == (
        "Nothing in this journal explains the losses; a batch of this size can lose that many by chance (1 in 5)."
    )
    assert "too few other batches" in summary_sentence(causes(weak, chance=None))


def test_where_something_stands_out_the_chance_stands_beside_it(qapp: Any) -> None:
    assert summary_sentence(causes(cause(), chance=1 / 30)) == (
        "14 of 33 fertile eggs were lost. Chance alone does that or worse 1 in 30 times, "
        "going by 12 other batch(es)."
    )
    assert summary_sentence(causes(cause(), chance=None)) == ""


def test_without_losses_there_is_nothing_to_explain(qapp: Any) -> None:
    assert summary_sentence(causes(lost=0)) == "No fertile egg was lost: there is nothing to explain."
    assert summary_sentence(causes(unknown=15)).startswith("Of 15 egg(s) the end is not known")
    assert (
        summary_sentence(causes(lost=0, fertile=0))
        == "This batch shows nothing that is known to have a cause."
    )
    assert summary_sentence(causes(cause(strength=Strength.WEAK), lost=0)) == (
        "Nothing in this journal stands out."
    )


def test_a_cell_holds_three_sentences_and_counts_the_rest(qapp: Any) -> None:
    wet = item(WET, value=0.5, count=3, of=6)
    assert said((wet,) * 2) == "  ".join(["3 of 6 opened late ones wet."] * 2)
    assert said((wet,) * 5).endswith("  2 more below.")


def test_what_a_cause_explains_says_who_says_so_and_what_is_from_memory(qapp: Any) -> None:
    assert explains_sentence(cause()) == "Can be behind: 4 of 6 wet. Published: Someone 1999; Other."
    recalled = (SeenSign(CauseSign.WET, 4, 6, (RECALLED,)),)
    assert explains_sentence(cause(explains=recalled)) == (
        "Can be behind: 4 of 6 wet. From memory, no source; so never more than weak."
    )
    both = (SeenSign(CauseSign.WET, 4, 6, (LINK, RECALLED)),)
    assert "for some of it from memory" in explains_sentence(cause(explains=both))


def test_what_is_not_known_and_what_never_is(qapp: Any) -> None:
    found = cause(
        unknown=(item(FactCode.WEIGHT_LOSS, value=None), item(FactCode.WET, value=None)),
        not_recorded=(NotRecorded.FEED,),
    )
    assert unknown_sentence(found) == (
        "Not known: weight lost by lockdown; whether late ones were wet: none opened."
    )
    assert never_sentence(found) == "Never in the journal: the breeders' feed."
    assert (unknown_sentence(cause()), never_sentence(cause())) == ("", "")


def test_cautions_and_boxes_are_read_aloud(qapp: Any) -> None:
    assert strength_spoken(cause()) == "strong, 3 of 3"
    assert "veterinarian" in caution_sentences(causes(cautions=(Caution.VETERINARIAN,)))[0]


@pytest.mark.parametrize(
    ("record", "sentence"),
    [
        (
            RecordRef("event", "e", 0, {"kind": "vent", "vent": 0.25, "vent_before": 0.75, "change": 18.0}),
            "Vent 3/4 to 1/4; humidity +18 %",
        ),
        (RecordRef("weighing", "w", 0, {"eggs": 10, "loss_percent": 9.3}), f"9.3{NB}% lost by lockdown"),
        (
            RecordRef("break_out", "b", 0, {"number": 3, "result": "late_dead", "marks": ("wet", "IV")}),
            "Egg 3, opened: dead late, wet, IV: beak away from the air cell",
        ),
        (RecordRef("egg", "x", 0, {"number": 7, "age_days": 9}), "Egg 7: 9 day(s) old when set"),
        (
            RecordRef(
                "batch", "y", 0, {"label": "25-08", "name": "Brook", "hits": 2, "trials": 3, "humidity": 51.0}
            ),
            f"25-08 Brook: 2 of 3 fertile hatched, at 51.0{NB}%",
        ),
        (RecordRef("instant", "", 0, {"since": True, "day": 6.0}), "from here on it drifted, day 6"),
        (
            RecordRef("instant", "", 0, {"seconds": 7200, "lowest_c": 31.5}),
            f"power off 2{NB}h, down to 31.5{NB}°C: found in the curve",
        ),
    ],
)
def test_a_record_is_a_line(record: RecordRef, sentence: str, qapp: Any) -> None:
    assert record_sentence(record, ZONE).endswith(sentence)
