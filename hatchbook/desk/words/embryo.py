"""The signs of an embryo's age in words, for one who has the opened egg before him."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.codes import species_word
from hatchbook.desk.words.lines import listed
from hatchbook.desk.words.noop import QT_TRANSLATE_NOOP
from hatchbook.desk.words.numbers import number
from hatchbook.trade.embryo import DaySigns, EmbryoSign

SIGN_WORDS: dict[EmbryoSign, str] = {
    EmbryoSign.BLASTODERM_AREAS: QT_TRANSLATE_NOOP("Embryo", "germ disc grown, in clear and dark rings"),
    EmbryoSign.YOLK_SAC_VESSELS: QT_TRANSLATE_NOOP("Embryo", "first blood vessels on the yolk"),
    EmbryoSign.TURNS_ONTO_LEFT_SIDE: QT_TRANSLATE_NOOP("Embryo", "begins to turn onto its left side"),
    EmbryoSign.HEART_BEATS: QT_TRANSLATE_NOOP("Embryo", "heart beats from hour 44"),
    EmbryoSign.NOSE_BEGINS: QT_TRANSLATE_NOOP("Embryo", "nose begins"),
    EmbryoSign.WINGS_AND_LEGS_BEGIN: QT_TRANSLATE_NOOP("Embryo", "buds of wings and legs"),
    EmbryoSign.ALLANTOIS_BEGINS: QT_TRANSLATE_NOOP("Embryo", "allantois begins"),
    EmbryoSign.AMNION_CLOSED: QT_TRANSLATE_NOOP("Embryo", "amnion all round it"),
    EmbryoSign.TONGUE_BEGINS: QT_TRANSLATE_NOOP("Embryo", "tongue begins"),
    EmbryoSign.FREE_OF_YOLK_SAC: QT_TRANSLATE_NOOP("Embryo", "lies free of the yolk sac"),
    EmbryoSign.GIZZARD_BEGINS: QT_TRANSLATE_NOOP("Embryo", "gizzard begins"),
    EmbryoSign.SEX_ORGANS_BEGIN: QT_TRANSLATE_NOOP("Embryo", "sex organs begin"),
    EmbryoSign.BEAK_BEGINS: QT_TRANSLATE_NOOP("Embryo", "beak begins"),
    EmbryoSign.EGG_TOOTH: QT_TRANSLATE_NOOP("Embryo", "egg tooth"),
    EmbryoSign.LIMBS_DIVIDED: QT_TRANSLATE_NOOP("Embryo", "limbs in their parts"),
    EmbryoSign.MOVES: QT_TRANSLATE_NOOP("Embryo", "moves of itself"),
    EmbryoSign.DIGITS_INDICATED: QT_TRANSLATE_NOOP("Embryo", "toes and wing tips hinted at"),
    EmbryoSign.BELLY_PROMINENT: QT_TRANSLATE_NOOP("Embryo", "belly stands out"),
    EmbryoSign.FEATHER_GERMS: QT_TRANSLATE_NOOP("Embryo", "dots where feathers will be"),
    EmbryoSign.BIRD_LIKE: QT_TRANSLATE_NOOP("Embryo", "looks like a bird"),
    EmbryoSign.MOUTH_OPENING: QT_TRANSLATE_NOOP("Embryo", "mouth opens"),
    EmbryoSign.BEAK_HARDENS: QT_TRANSLATE_NOOP("Embryo", "beak begins to harden"),
    EmbryoSign.DIGITS_APART: QT_TRANSLATE_NOOP("Embryo", "toes apart from each other"),
    EmbryoSign.TOES_FORMED: QT_TRANSLATE_NOOP("Embryo", "toes fully formed"),
    EmbryoSign.FIRST_FEATHERS: QT_TRANSLATE_NOOP("Embryo", "first down to be seen"),
    EmbryoSign.SCALES_AND_CLAWS: QT_TRANSLATE_NOOP("Embryo", "scales and claws"),
    EmbryoSign.FAIRLY_FEATHERED: QT_TRANSLATE_NOOP("Embryo", "down over most of the body"),
    EmbryoSign.HEAD_TURNS_TO_BLUNT_END: QT_TRANSLATE_NOOP("Embryo", "head turns to the blunt end"),
    EmbryoSign.GUT_TAKEN_IN: QT_TRANSLATE_NOOP("Embryo", "gut drawn into the belly"),
    EmbryoSign.FULLY_FEATHERED: QT_TRANSLATE_NOOP("Embryo", "down all over"),
    EmbryoSign.CLAWS_AND_BEAK_HORNY: QT_TRANSLATE_NOOP("Embryo", "claws and beak horny"),
    EmbryoSign.WHITE_NEARLY_GONE: QT_TRANSLATE_NOOP("Embryo", "white nearly used up"),
    EmbryoSign.BEAK_TURNS_TO_AIR_CELL: QT_TRANSLATE_NOOP("Embryo", "beak turns to the air cell"),
    EmbryoSign.GROWTH_NEARLY_DONE: QT_TRANSLATE_NOOP("Embryo", "nearly full grown"),
    EmbryoSign.YOLK_SAC_DRAWS_IN: QT_TRANSLATE_NOOP("Embryo", "yolk sac begins to go in"),
    EmbryoSign.FILLS_EGG_BUT_AIR_CELL: QT_TRANSLATE_NOOP("Embryo", "fills the egg but for the air cell"),
    EmbryoSign.YOLK_SAC_IN: QT_TRANSLATE_NOOP("Embryo", "yolk sac all in"),
    EmbryoSign.BREATHES_IN_AIR_CELL: QT_TRANSLATE_NOOP("Embryo", "beak in the air cell, breathes"),
    EmbryoSign.HATCHES: QT_TRANSLATE_NOOP("Embryo", "hatches"),
}


def _tr(text: str) -> str:
    return QCoreApplication.translate("Embryo", text)


def signs_sentence(day: DaySigns) -> str:
    """What a day brings: beak begins, egg tooth."""
    return listed([_tr(SIGN_WORDS[sign]) for sign in day.signs])


def sign_day_text(day: DaySigns) -> str:
    """The day of a sign in the batch's own days: 18, or 24.0 where it is a share."""
    return number(day.day, 0 if day.day == day.hen_day else 1)


def signs_of_day(day: DaySigns) -> str:
    """The signs beside their day; for another bird with the hen's day."""
    if day.day == day.hen_day:
        return signs_sentence(day)
    return _tr("{signs} (hen {hen_day})").format(hen_day=number(day.hen_day, 0), signs=signs_sentence(day))


def day_and_signs(day: DaySigns) -> str:
    """Day 16: down all over, claws and beak horny; for another bird with the hen's day."""
    if day.day == day.hen_day:
        return _tr("day {day}: {signs}").format(day=sign_day_text(day), signs=signs_sentence(day))
    return _tr("day {day} (a hen's {hen_day}): {signs}").format(
        day=sign_day_text(day), hen_day=number(day.hen_day, 0), signs=signs_sentence(day)
    )


def whose_signs(species: str, incubation_days: float, hen_days: float) -> str:
    """That the signs are the hen's, and how they were moved for another bird."""
    if incubation_days == hen_days:
        return _tr("Signs of the hen. An age is read to about a day.")
    return _tr(
        "Signs of the hen, moved to the same share of {days} days for the {species}: a guide only, go by "
        "the whole look."
    ).format(days=number(incubation_days, 0), species=species_word(species).lower())
