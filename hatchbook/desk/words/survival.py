"""How a batch's fertile eggs lived on, in words; and the days that part early, mid and late."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.dates import batch_day
from hatchbook.desk.words.numbers import count_of, number, range_text, share
from hatchbook.figures.survival import BatchSurvival, FollowEnd
from hatchbook.statistics.survival import SurvivalAt
from hatchbook.trade.stages import StageBounds


def _tr(text: str, n: int = -1) -> str:
    return QCoreApplication.translate("Survival", text, "", n)


def share_text(at: SurvivalAt) -> str:
    """The share alive with its range: 85 % 69–93."""
    return f"{share(at.estimate)} {range_text(at.low * 100, at.high * 100)}"


def alive_sentence(survival: BatchSurvival) -> str:
    """28 of 33 fertile eggs alive at lockdown (85 % 69–93); 1 taken out before."""
    at = survival.at_lockdown
    if not survival.eggs:
        return _tr("No egg is known to have been fertile.")
    if at is None:
        return _tr("Lockdown has not begun.")
    sentence = _tr("{count} fertile eggs alive at lockdown ({share})").format(
        count=count_of(at.alive, len(survival.eggs)), share=share_text(at)
    )
    if at.left:
        return _tr("{sentence}; %n left alive before", at.left).format(sentence=sentence)
    return sentence


def span_sentence(survival: BatchSurvival) -> str:
    """How well the days of death are known; "" where all are."""
    spans = [egg for egg in survival.eggs if egg.end is FollowEnd.DIED and egg.until_day > egg.from_day]
    if not spans:
        return ""
    sentence = _tr(
        "Known only to a span: %n loss(es). The line takes the middle, the shade the first and the last day.",
        len(spans),
    )
    if survival.at_lockdown is not None and survival.alive_least < survival.alive_most:
        least, most = number(survival.alive_least, 0), number(survival.alive_most, 0)
        sentence = _tr("{sentence} {least} to {most} can have been alive at lockdown.").format(
            sentence=sentence, least=least, most=most
        )
    return sentence


def left_sentence(survival: BatchSurvival) -> str:
    """Which eggs are not followed to the end, and which not at all; "" where all are."""
    parts = []
    if taken := survival.count(FollowEnd.TAKEN_OUT):
        parts.append(_tr("%n egg(s) taken out or broken count until then", taken))
    if lost := survival.count(FollowEnd.NOT_KNOWN):
        parts.append(_tr("%n egg(s) whose end is not known count until the last sign of life", lost))
    left_out = []
    if survival.unopened_clears:
        left_out.append(_tr("%n clear egg(s) not opened", survival.unopened_clears))
    if survival.fertility_unknown:
        left_out.append(_tr("%n egg(s) whose fertility is not known", survival.fertility_unknown))
    if left_out:
        parts.append(_tr("left out: {eggs}").format(eggs=", ".join(left_out)))
    sentence = "; ".join(parts)
    return f"{sentence[:1].upper()}{sentence[1:]}." if sentence else ""


def steps_sentence(survival: BatchSurvival) -> str:
    """The curve read aloud: day 6.5: 31 of 33; …"""
    curve = survival.band.middle
    parts = []
    for day in curve.days.tolist():
        at = curve.at(day)
        parts.append(
            _tr("{day}: {count} alive, {share}").format(
                day=batch_day(day), count=count_of(at.alive, at.alive + at.dead), share=share(at.estimate)
            )
        )
    return "; ".join(parts)


# ---------------------------------------------------------------- the stages


def bounds_sentence(bounds: StageBounds) -> str:
    """Which days are early, mid and late: early: days 1–7, mid: 8–14, late: 15–21."""
    edges = (bounds.early_until_day, bounds.mid_until_day, bounds.incubation_days)
    if all(edge == int(edge) for edge in edges):
        early, mid, late = (
            range_text(first, last) if last > first else number(last, 0)
            for first, last in zip((1, edges[0] + 1, edges[1] + 1), edges, strict=True)
        )
        return _tr("Early: days {early}, mid: {mid}, late: {late}").format(early=early, mid=mid, late=late)
    return _tr("Early: up to day {early}, mid: up to day {mid}, late: from then on").format(
        early=number(edges[0]), mid=number(edges[1])
    )
