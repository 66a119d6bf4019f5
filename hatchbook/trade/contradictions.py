"""Records of one egg that can not both be true.

The fate follows the stronger record; the contradiction is handed on, so that the breeder sees it and can mend it.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from hatchbook.trade.codes import BreakOutResult, FindingCode, HatchMark, RemovalReason

RecordCode = FindingCode | HatchMark | BreakOutResult | RemovalReason


class ContradictionCode(StrEnum):
    """How two records of one egg disagree."""

    CLEAR_BUT_DEVELOPED = "clear_but_developed"
    CLEAR_BUT_HATCHED = "clear_but_hatched"
    DEVELOPED_THEN_CLEAR = "developed_then_clear"
    DEVELOPED_BUT_INFERTILE = "developed_but_infertile"
    DEAD_THEN_ALIVE = "dead_then_alive"
    DEAD_BUT_HATCHED = "dead_but_hatched"
    ALIVE_AFTER_STAGE = "alive_after_stage"
    DEAD_BEFORE_STAGE = "dead_before_stage"
    DAY_OUTSIDE_STAGE = "day_outside_stage"
    PIPPED_BUT_CALLED_EARLIER = "pipped_but_called_earlier"
    HATCHED_AND_DIED_IN_PIP = "hatched_and_died_in_pip"
    HATCHED_AND_BROKEN_OUT = "hatched_and_broken_out"
    HATCHED_AND_REMOVED = "hatched_and_removed"
    SEEN_AFTER_HATCH = "seen_after_hatch"
    OPENED_THEN_SEEN = "opened_then_seen"
    BREAK_OUTS_DISAGREE = "break_outs_disagree"
    REMOVED_THEN_SEEN = "removed_then_seen"
    TAKEN_OUT_ALIVE_BUT_DEAD = "taken_out_alive_but_dead"


_SENTENCES = {
    ContradictionCode.CLEAR_BUT_DEVELOPED: "Candled clear, but there was an embryo in it.",
    ContradictionCode.CLEAR_BUT_HATCHED: "Candled clear, but it hatched.",
    ContradictionCode.DEVELOPED_THEN_CLEAR: "Candled clear after an embryo had been seen in it.",
    ContradictionCode.DEVELOPED_BUT_INFERTILE: "An embryo was seen in it, but it was opened as infertile.",
    ContradictionCode.DEAD_THEN_ALIVE: "Called dead, but it was alive later.",
    ContradictionCode.DEAD_BUT_HATCHED: "Called dead, but it hatched.",
    ContradictionCode.ALIVE_AFTER_STAGE: "Seen alive after the days in which it is said to have died.",
    ContradictionCode.DEAD_BEFORE_STAGE: "Seen dead before the days in which it is said to have died.",
    ContradictionCode.DAY_OUTSIDE_STAGE: "The day of death does not belong to the stage that was noted.",
    ContradictionCode.PIPPED_BUT_CALLED_EARLIER: "It pipped, but was later said never to have come that far.",
    ContradictionCode.HATCHED_AND_DIED_IN_PIP: "Noted both as out of the shell and as dead in the pip.",
    ContradictionCode.HATCHED_AND_BROKEN_OUT: "It hatched, but was also opened as unhatched.",
    ContradictionCode.HATCHED_AND_REMOVED: "It hatched, but was also taken out as an egg.",
    ContradictionCode.SEEN_AFTER_HATCH: "Candled as an egg after it had hatched.",
    ContradictionCode.OPENED_THEN_SEEN: "Candled after it had been opened.",
    ContradictionCode.BREAK_OUTS_DISAGREE: "Opened twice, with different results.",
    ContradictionCode.REMOVED_THEN_SEEN: "Taken out, but seen in the machine afterwards.",
    ContradictionCode.TAKEN_OUT_ALIVE_BUT_DEAD: "Taken out as alive, but it was dead or infertile.",
}


@dataclass(frozen=True)
class Contradiction:
    """Two records that disagree, and which of them stands.

    For `DAY_OUTSIDE_STAGE` both sides are the same break-out: its result stands over its own day.
    Instants are UTC seconds.
    """

    code: ContradictionCode
    overruled: RecordCode
    overruled_at_s: int
    standing: RecordCode
    standing_at_s: int

    def __str__(self) -> str:
        return _SENTENCES[self.code]

    def as_dict(self) -> dict[str, object]:
        """The fields as JSON-ready values."""
        return {
            "code": self.code.value,
            "overruled": self.overruled.value,
            "overruled_at_s": self.overruled_at_s,
            "standing": self.standing.value,
            "standing_at_s": self.standing_at_s,
        }
