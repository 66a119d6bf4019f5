"""The words of the candling room: what the keys say, what was done, why something was not done."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.candling_room.hands import Hand
from hatchbook.desk.candling_room.round_state import Order
from hatchbook.desk.candling_room.sitting import Given, Refusal, Refused
from hatchbook.desk.words.codes import fate_word, in_sentence
from hatchbook.desk.words.contradictions import contradiction_sentence
from hatchbook.desk.words.dates import batch_day, date_text
from hatchbook.desk.words.eggs import egg_sentence, place_name
from hatchbook.desk.words.noop import QT_TRANSLATE_NOOP
from hatchbook.desk.words.numbers import duration_text, mass, number
from hatchbook.figures.results import EggFigures
from hatchbook.trade.candling import CandlingLook
from hatchbook.trade.codes import FindingCode

_TITLES = {
    FindingCode.ALIVE: QT_TRANSLATE_NOOP("Candling", "Alive"),
    FindingCode.CLEAR: QT_TRANSLATE_NOOP("Candling", "Clear"),
    FindingCode.UNSURE: QT_TRANSLATE_NOOP("Candling", "Unsure"),
    FindingCode.EARLY_DEAD: QT_TRANSLATE_NOOP("Candling", "Dead early"),
    FindingCode.DEAD: QT_TRANSLATE_NOOP("Candling", "Dead later"),
    FindingCode.CRACKED: QT_TRANSLATE_NOOP("Candling", "Cracked"),
    FindingCode.ROTTEN: QT_TRANSLATE_NOOP("Candling", "Rotten"),
}
_HINTS = {
    FindingCode.CLEAR: QT_TRANSLATE_NOOP("Candling", "even glow"),
    FindingCode.UNSURE: QT_TRANSLATE_NOOP("Candling", "look again"),
    FindingCode.EARLY_DEAD: QT_TRANSLATE_NOOP("Candling", "blood ring"),
    FindingCode.DEAD: QT_TRANSLATE_NOOP("Candling", "no veins"),
    FindingCode.CRACKED: QT_TRANSLATE_NOOP("Candling", "take it out"),
    FindingCode.ROTTEN: QT_TRANSLATE_NOOP("Candling", "bag it first"),
}
_LOOKS = {
    CandlingLook.TOO_EARLY: QT_TRANSLATE_NOOP("Candling", "a dark eye"),
    CandlingLook.VEINS: QT_TRANSLATE_NOOP("Candling", "veins, it moves"),
    CandlingLook.FULL: QT_TRANSLATE_NOOP("Candling", "dark, it moves"),
}
_HANDS = {
    Hand.RIGHT: QT_TRANSLATE_NOOP("Candling", "right hand"),
    Hand.LEFT: QT_TRANSLATE_NOOP("Candling", "left hand"),
    Hand.PAD: QT_TRANSLATE_NOOP("Candling", "number pad"),
}
_UNDER = {
    Hand.RIGHT: QT_TRANSLATE_NOOP("Candling", "Keys lie under the right hand"),
    Hand.LEFT: QT_TRANSLATE_NOOP("Candling", "Keys lie under the left hand"),
    Hand.PAD: QT_TRANSLATE_NOOP("Candling", "Keys lie on the number pad"),
}
_ORDERS = {
    Order.ROWS: QT_TRANSLATE_NOOP("Candling", "row by row"),
    Order.COLUMNS: QT_TRANSLATE_NOOP("Candling", "column by column"),
    Order.SNAKE: QT_TRANSLATE_NOOP("Candling", "to and fro"),
}
#: As last time, skip, take back: what is printed on the keys that lie best under a hand.
_DEED_KEYS = {
    Hand.RIGHT: (
        QT_TRANSLATE_NOOP("Candling", "Space"),
        QT_TRANSLATE_NOOP("Candling", "Enter"),
        QT_TRANSLATE_NOOP("Candling", "Backspace"),
    ),
    Hand.LEFT: (
        QT_TRANSLATE_NOOP("Candling", "Space"),
        QT_TRANSLATE_NOOP("Candling", "Tab"),
        QT_TRANSLATE_NOOP("Candling", "left of 1"),
    ),
    Hand.PAD: ("0", QT_TRANSLATE_NOOP("Candling", "Enter"), QT_TRANSLATE_NOOP("Candling", ".")),
}
_SUMMARY = (
    FindingCode.ALIVE,
    FindingCode.CLEAR,
    FindingCode.EARLY_DEAD,
    FindingCode.DEAD,
    FindingCode.CRACKED,
    FindingCode.ROTTEN,
    FindingCode.UNSURE,
)


def _tr(text: str, n: int = -1) -> str:
    return QCoreApplication.translate("Candling", text, "", n)


def verdict_title(code: FindingCode) -> str:
    """A verdict as its key says it."""
    return _tr(_TITLES[code])


def verdict_hint(code: FindingCode, look: CandlingLook) -> str:
    """What the egg looks like then, or what is to be done with it."""
    hint = _LOOKS[look] if code is FindingCode.ALIVE else _HINTS[code]
    return _tr(hint)


def hand_word(hand: Hand) -> str:
    """Right hand, left hand, number pad."""
    return _tr(_HANDS[hand])


def hand_sentence(hand: Hand) -> str:
    """Where the keys lie."""
    return _tr(_UNDER[hand])


def order_word(order: Order) -> str:
    """Row by row, column by column, to and fro."""
    return _tr(_ORDERS[order])


def deed_keys(hand: Hand) -> tuple[str, str, str]:
    """The keys for "as last time", "skip" and "take back" that lie best under a hand."""
    as_last, skip, take_back = _DEED_KEYS[hand]
    return _tr(as_last), _tr(skip), _tr(take_back)


def as_last_words(last: FindingCode | None) -> str:
    """As last time: alive."""
    if last is None:
        return _tr("as last time")
    return _tr("as last time: {seen}").format(seen=in_sentence(verdict_title(last)))


# ---------------------------------------------------------------- the egg


def egg_place(egg: EggFigures, trays: int = 1) -> str:
    """C 5, or its number where it has no place."""
    place = egg.egg.place
    if place is None:
        return _tr("Egg {number}").format(number=egg.egg.number)
    tray, row, column = place
    return place_name(row, column, tray, trays)


def last_seen(last: tuple[float, FindingCode] | None) -> str:
    """Day 7: alive; or that it was never candled."""
    if last is None:
        return _tr("not candled before")
    day, code = last
    return _tr("On {day}: {seen}").format(day=batch_day(day, 0), seen=in_sentence(verdict_title(code)))


def seen_now(code: FindingCode) -> str:
    """Now: alive."""
    return _tr("Now: {seen}").format(seen=in_sentence(verdict_title(code)))


def egg_details(egg: EggFigures) -> tuple[str, str]:
    """Egg 17, O10, Orchard pen; and laid 29 Apr, 58.1 g when set. Either can be empty."""
    who = [] if egg.egg.place is None else [_tr("Egg {number}").format(number=egg.egg.number)]
    who += [part for part in (egg.egg.mark, egg.pen_name) if part]
    what = []
    if egg.egg.laid_on:
        laid = date.fromisoformat(egg.egg.laid_on)
        what.append(_tr("laid {date}").format(date=date_text(laid, "d MMM")))
    if egg.egg.set_mass_g is not None:
        what.append(_tr("{mass} when set").format(mass=mass(egg.egg.set_mass_g)))
    return ", ".join(who), ", ".join(what)


def egg_spoken(egg: EggFigures, place: str, now: FindingCode | None, *, due: bool) -> str:
    """An egg for a screen reader: all that is known of it, and whether it was candled now."""
    state = _tr("not candled yet now") if due else _tr("passed over")
    if now is not None:
        state = in_sentence(seen_now(now))
    return _tr("{egg}; {state}").format(egg=egg_sentence(egg, place), state=state)


# ---------------------------------------------------------------- what was done


def given_sentence(given: Given, place: str) -> str:
    """C 4: alive; with what contradicts it, or what is to be done now."""
    seen = in_sentence(verdict_title(given.code))
    if given.contradictions:
        return _tr("{place}: {seen}. {clash} Look again?").format(
            place=place, seen=seen, clash=contradiction_sentence(given.contradictions[-1])
        )
    if given.code is FindingCode.ROTTEN:
        return _tr("{place}: rotten. It can burst: bag it before you lift it, and wash your hands.").format(
            place=place
        )
    if given.before is not None and given.before is not given.code:
        return _tr("{place}: {seen}, no longer {before}. Backspace takes it back.").format(
            place=place, seen=seen, before=in_sentence(verdict_title(given.before))
        )
    return _tr("{place}: {seen}. Backspace takes it back.").format(place=place, seen=seen)


_REFUSALS = {
    Refusal.NO_EGG: QT_TRANSLATE_NOOP("Candling", "This batch has no eggs."),
    Refusal.NOT_SET: QT_TRANSLATE_NOOP("Candling", "This batch is not set yet: there is nothing to candle."),
    Refusal.NO_LAST: QT_TRANSLATE_NOOP("Candling", "{place} was not candled before: press its verdict."),
    Refusal.LEFT: QT_TRANSLATE_NOOP("Candling", "{place} has left the batch ({fate}): no verdict is stored."),
    Refusal.NOTHING_TO_TAKE_BACK: QT_TRANSLATE_NOOP("Candling", "There is nothing to take back."),
    Refusal.NOT_STORED: QT_TRANSLATE_NOOP("Candling", "Nothing was stored."),
}


def refused_sentence(refused: Refused, place: str, egg: EggFigures | None, step: str) -> str:
    """Why nothing was done; ``step`` names what lies above the steps of this candling."""
    if refused.why is Refusal.OTHER_STEP:
        return _tr("The latest entry is not of this candling ({step}): it is left alone.").format(step=step)
    fate = "" if egg is None else in_sentence(fate_word(egg.outcome.fate))
    return _tr(_REFUSALS[refused.why]).format(place=place, fate=fate)


# ---------------------------------------------------------------- the whole


def progress_sentence(done: int, total: int, seconds_left: float | None) -> str:
    """14 of 32 done, about 5 min to go."""
    counted = _tr("{done} of {total} done").format(done=number(done, 0), total=number(total, 0))
    if seconds_left is None or done == total:
        return counted
    if seconds_left < 60:
        return _tr("{counted}, under a minute to go").format(counted=counted)
    return _tr("{counted}, about {time} to go").format(counted=counted, time=duration_text(seconds_left))


def lid_sentence(seconds: int, *, counts: bool) -> str:
    """Lid open 6 min."""
    if not counts:
        return (
            _tr("Lid shut after {time}").format(time=duration_text(seconds)) if seconds else _tr("Lid shut")
        )
    if seconds < 60:
        return _tr("Lid open under a minute")
    return _tr("Lid open {time}").format(time=duration_text(seconds))


def summary_sentence(counts: Mapping[FindingCode, int]) -> str:
    """29 alive, 2 dead later, 1 unsure."""
    return ", ".join(
        _tr("{count} {seen}").format(count=number(counts[code], 0), seen=in_sentence(verdict_title(code)))
        for code in _SUMMARY
        if counts.get(code)
    )
