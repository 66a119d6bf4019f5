"""Candlings in the demo: what the breeder sees in each egg, right mostly, and which eggs he takes out."""

from __future__ import annotations

from dataclasses import replace

from hatchbook.exchange.demo.diary import Diary
from hatchbook.exchange.demo.eggs import TrueEgg
from hatchbook.exchange.demo.rounds import CANDLING_S_AN_EGG, Round
from hatchbook.journal import Candling, Finding, Removal
from hatchbook.trade.codes import EventKind, FindingCode, RemovalReason
from hatchbook.trade.instants import DAY_S

_OUT_OF_TRAY = frozenset(
    {
        FindingCode.CLEAR,
        FindingCode.EARLY_DEAD,
        FindingCode.DEAD,
        FindingCode.ROTTEN,
        FindingCode.CRACKED,
    }
)
_CLEAR_LIKE_DAY = 0.14  # an embryo dead before this part of the incubation looks clear
_MISCALLED = {"clear_hatched": FindingCode.CLEAR, "early_dead_hatched": FindingCode.EARLY_DEAD}
_MISCALLED_NOTES = {
    "clear_hatched": "{mark}, called clear on the first candling and left in the corner of the tray, has hatched.",
    "early_dead_hatched": "{mark} had a ring on the first candling, as I thought. It has hatched.",
}


def write_candlings(diary: Diary) -> None:
    """The candlings so far, the eggs lost by accident or given away, and a mistake where the story has one."""
    miscalled = _miscalled(diary)
    for order, round_ in enumerate(diary.run.rounds.candlings):
        _lose_some(diary, round_.at)
        _candle(diary, round_, order, miscalled)
    _lose_some(diary, diary.run.until)


def _miscalled(diary: Diary) -> int | None:
    """The egg that is called clear or dead and hatches all the same."""
    contradiction = diary.run.story.contradiction
    if not contradiction:
        return None
    hatching = [at for at, true in enumerate(diary.run.eggs) if true.hatches_day is not None]
    egg = hatching[int(diary.rng.integers(len(hatching)))]
    hatches_day = diary.run.eggs[egg].hatches_day or 0.0
    text = _MISCALLED_NOTES[contradiction].format(mark=diary.eggs[egg].mark or str(egg + 1))
    diary.note(diary.batch.set_at + round((hatches_day + 0.3) * DAY_S), text, diary.eggs[egg].uid)
    return egg


def _candle(diary: Diary, round_: Round, order: int, miscalled: int | None) -> None:
    candling = Candling(diary.batch.uid, round_.at, round_.ends_at, uid=next(diary.uid))
    diary.records.append(candling)
    diary.add_event(round_.at, EventKind.LID, machine=diary.machine, ends_at=round_.ends_at)
    day = diary.day(round_.at)
    draws = diary.rng.random(len(diary.eggs)).tolist()
    at = round_.at
    for egg in diary.in_tray(round_.at):
        if egg == miscalled:
            if order:
                continue
            code = _MISCALLED[diary.run.story.contradiction]
        else:
            code = _seen(diary, diary.run.eggs[egg], day, order, draws[egg])
        at = min(at + CANDLING_S_AN_EGG, round_.ends_at)
        diary.records.append(Finding(candling.uid, diary.eggs[egg].uid, at, code, uid=next(diary.uid)))
        if code in _OUT_OF_TRAY and egg != miscalled:
            diary.gone[egg] = round_.ends_at


def _seen(diary: Diary, egg: TrueEgg, day: float, order: int, draw: float) -> FindingCode:
    """What is seen in an egg; ``draw`` from 0 to 1 decides where it could be taken for something else."""
    if order == 1 and draw < 0.008:
        return FindingCode.CRACKED
    unsure = draw > (0.955 if order == 0 else 0.985)
    if egg.alive_on(day):
        return FindingCode.UNSURE if unsure else FindingCode.ALIVE
    if not egg.fertile:
        return FindingCode.UNSURE if order == 0 and draw > 0.9 else FindingCode.CLEAR
    dies_day = egg.dies_day or 0.0
    if dies_day <= diary.bounds.early_until_day:
        if dies_day < _CLEAR_LIKE_DAY * diary.bounds.incubation_days:
            return FindingCode.CLEAR if draw < 0.65 else FindingCode.EARLY_DEAD
        if order and draw < 0.25:
            return FindingCode.ROTTEN
        return FindingCode.UNSURE if unsure else FindingCode.EARLY_DEAD
    return FindingCode.UNSURE if draw > 0.85 else FindingCode.DEAD


def _lose_some(diary: Diary, before_at: int) -> None:
    """The egg that is broken, and the one that goes under a broody hen, each once its day has come."""
    story = diary.run.story
    for day, reason, note in (
        (story.broken_day, RemovalReason.BROKEN, "Slipped out of the hand while turning."),
        (story.taken_out_day, RemovalReason.TAKEN_OUT_ALIVE, "Under the broody hen in the lower yard."),
    ):
        if day is None:
            continue
        at = diary.batch.set_at + day * DAY_S + 9 * 3600
        told = {record.reason for record in diary.records if isinstance(record, Removal)}
        if at >= before_at or reason in told:
            continue
        egg = next(one for one in diary.in_tray(at)[4:] if diary.run.eggs[one].alive_on(day + 1))
        diary.records.append(Removal(diary.eggs[egg].uid, at, reason, note, next(diary.uid)))
        diary.gone[egg] = at
        diary.eggs = tuple(
            replace(one, remark="broken") if at_ == egg and reason is RemovalReason.BROKEN else one
            for at_, one in enumerate(diary.eggs)
        )
