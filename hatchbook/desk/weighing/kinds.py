"""What is weighed, and what the weights are."""

from __future__ import annotations

from enum import StrEnum

from hatchbook.trade.codes import WeighPlan


class Scope(StrEnum):
    """What lies on the scale."""

    MARKED = "marked"
    EVERY_EGG = "every_egg"
    TRAY = "tray"


class Meaning(StrEnum):
    """What a weight is: of this day, or one of the two that an egg has for good."""

    TODAY = "today"
    SET = "set"
    LAID = "laid"


def usual_scope(plan: WeighPlan, *, any_marked: bool) -> Scope:
    """What a batch's plan wants weighed; every egg where it wants marked ones and none is."""
    if plan is WeighPlan.WHOLE_TRAY:
        return Scope.TRAY
    if plan is WeighPlan.MARKED and any_marked:
        return Scope.MARKED
    return Scope.EVERY_EGG
