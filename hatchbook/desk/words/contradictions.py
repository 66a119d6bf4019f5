"""Records of one egg that can not both be true, in plain sentences."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.noop import QT_TRANSLATE_NOOP
from hatchbook.trade.contradictions import Contradiction, ContradictionCode

_SENTENCES = {
    ContradictionCode.CLEAR_BUT_DEVELOPED: QT_TRANSLATE_NOOP(
        "Contradictions", "Candled clear, but there was an embryo in it."
    ),
    ContradictionCode.CLEAR_BUT_HATCHED: QT_TRANSLATE_NOOP(
        "Contradictions", "Candled clear, but it hatched."
    ),
    ContradictionCode.DEVELOPED_THEN_CLEAR: QT_TRANSLATE_NOOP(
        "Contradictions", "Candled clear after an embryo had been seen in it."
    ),
    ContradictionCode.DEVELOPED_BUT_INFERTILE: QT_TRANSLATE_NOOP(
        "Contradictions", "An embryo was seen in it, but it was opened as infertile."
    ),
    ContradictionCode.DEAD_THEN_ALIVE: QT_TRANSLATE_NOOP(
        "Contradictions", "Called dead, but it was alive later."
    ),
    ContradictionCode.DEAD_BUT_HATCHED: QT_TRANSLATE_NOOP("Contradictions", "Called dead, but it hatched."),
    ContradictionCode.ALIVE_AFTER_STAGE: QT_TRANSLATE_NOOP(
        "Contradictions", "Seen alive after the days in which it is said to have died."
    ),
    ContradictionCode.DEAD_BEFORE_STAGE: QT_TRANSLATE_NOOP(
        "Contradictions", "Seen dead before the days in which it is said to have died."
    ),
    ContradictionCode.DAY_OUTSIDE_STAGE: QT_TRANSLATE_NOOP(
        "Contradictions", "The day of death does not belong to the stage that was noted."
    ),
    ContradictionCode.PIPPED_BUT_CALLED_EARLIER: QT_TRANSLATE_NOOP(
        "Contradictions", "It pipped, but was later said never to have come that far."
    ),
    ContradictionCode.HATCHED_AND_DIED_IN_PIP: QT_TRANSLATE_NOOP(
        "Contradictions", "Noted both as out of the shell and as dead in the pip."
    ),
    ContradictionCode.HATCHED_AND_BROKEN_OUT: QT_TRANSLATE_NOOP(
        "Contradictions", "It hatched, but was also opened as unhatched."
    ),
    ContradictionCode.HATCHED_AND_REMOVED: QT_TRANSLATE_NOOP(
        "Contradictions", "It hatched, but was also taken out as an egg."
    ),
    ContradictionCode.SEEN_AFTER_HATCH: QT_TRANSLATE_NOOP(
        "Contradictions", "Candled as an egg after it had hatched."
    ),
    ContradictionCode.OPENED_THEN_SEEN: QT_TRANSLATE_NOOP(
        "Contradictions", "Candled after it had been opened."
    ),
    ContradictionCode.BREAK_OUTS_DISAGREE: QT_TRANSLATE_NOOP(
        "Contradictions", "Opened twice, with different results."
    ),
    ContradictionCode.REMOVED_THEN_SEEN: QT_TRANSLATE_NOOP(
        "Contradictions", "Taken out, but seen in the machine afterwards."
    ),
    ContradictionCode.TAKEN_OUT_ALIVE_BUT_DEAD: QT_TRANSLATE_NOOP(
        "Contradictions", "Taken out as alive, but it was dead or infertile."
    ),
}


def contradiction_sentence(clash: Contradiction) -> str:
    """How two records of an egg disagree."""
    return QCoreApplication.translate("Contradictions", _SENTENCES[clash.code])
