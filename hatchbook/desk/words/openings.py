"""What is known of an egg before it is opened, and how far the opening is, in words."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.codes import break_out_word, fate_word, in_sentence
from hatchbook.desk.words.dates import batch_day
from hatchbook.desk.words.lines import listed
from hatchbook.desk.words.noop import QT_TRANSLATE_NOOP
from hatchbook.desk.words.numbers import number
from hatchbook.figures.openings import KnownBefore, OpeningEgg, Openings, OpeningState
from hatchbook.journal import BreakOut
from hatchbook.trade.codes import BreakOutResult, FindingCode

#: A finding on one day and on several.
_SEEN: dict[FindingCode, tuple[str, str]] = {
    FindingCode.ALIVE: (
        QT_TRANSLATE_NOOP("Openings", "alive on day {days}"),
        QT_TRANSLATE_NOOP("Openings", "alive on days {days}"),
    ),
    FindingCode.CLEAR: (
        QT_TRANSLATE_NOOP("Openings", "clear on day {days}"),
        QT_TRANSLATE_NOOP("Openings", "clear on days {days}"),
    ),
    FindingCode.UNSURE: (
        QT_TRANSLATE_NOOP("Openings", "unsure on day {days}"),
        QT_TRANSLATE_NOOP("Openings", "unsure on days {days}"),
    ),
    FindingCode.EARLY_DEAD: (
        QT_TRANSLATE_NOOP("Openings", "blood ring on day {days}"),
        QT_TRANSLATE_NOOP("Openings", "blood ring on days {days}"),
    ),
    FindingCode.DEAD: (
        QT_TRANSLATE_NOOP("Openings", "dead on day {days}"),
        QT_TRANSLATE_NOOP("Openings", "dead on days {days}"),
    ),
    FindingCode.CRACKED: (
        QT_TRANSLATE_NOOP("Openings", "cracked on day {days}"),
        QT_TRANSLATE_NOOP("Openings", "cracked on days {days}"),
    ),
    FindingCode.ROTTEN: (
        QT_TRANSLATE_NOOP("Openings", "rotten on day {days}"),
        QT_TRANSLATE_NOOP("Openings", "rotten on days {days}"),
    ),
}
#: How an opened egg looks that shows this.
_HINTS = {
    BreakOutResult.INFERTILE: QT_TRANSLATE_NOOP("Openings", "yolk only, a small white spot, no blood"),
    BreakOutResult.EARLY_DEAD: QT_TRANSLATE_NOOP("Openings", "blood, a ring, an eye as a dark spot"),
    BreakOutResult.MID_DEAD: QT_TRANSLATE_NOOP(
        "Openings", "looks like a bird, first down, does not fill the egg"
    ),
    BreakOutResult.LATE_DEAD: QT_TRANSLATE_NOOP("Openings", "down all over, fills the egg"),
    BreakOutResult.PIPPED_DEAD: QT_TRANSLATE_NOOP("Openings", "beak through the membrane or the shell, dead"),
    BreakOutResult.ROTTEN: QT_TRANSLATE_NOOP("Openings", "dark, gas, bad smell"),
    BreakOutResult.UNKNOWN: QT_TRANSLATE_NOOP("Openings", "nothing can be made out"),
}


def _tr(text: str, n: int = -1) -> str:
    return QCoreApplication.translate("Openings", text, "", n)


def result_hint(result: BreakOutResult) -> str:
    """How an opened egg looks that shows a result."""
    return _tr(_HINTS[result])


def with_and(parts: list[str]) -> str:
    """7, 14 and 18."""
    if len(parts) < 2:
        return "".join(parts)
    return _tr("{parts} and {last}").format(parts=listed(parts[:-1]), last=parts[-1])


def looks_sentence(egg: OpeningEgg) -> str:
    """Alive on days 7 and 14, dead on day 18; or that it was never looked into."""
    runs: list[tuple[FindingCode, list[str]]] = []
    for day, code in egg.looks:
        if runs and runs[-1][0] is code:
            runs[-1][1].append(number(day, 0))
        else:
            runs.append((code, [number(day, 0)]))
    parts = []
    for code, days in runs:
        one, many = _SEEN[code]
        text = one if len(days) == 1 else many
        parts.append(_tr(text).format(days=with_and(days)))
    if egg.pipped_day is not None:
        parts.append(_tr("pipped on day {day}").format(day=number(egg.pipped_day)))
    return listed(parts) if parts else _tr("never looked into")


def known_sentence(egg: OpeningEgg) -> str:
    """Alive on days 7, 14 and 18: died on day 18 to 21."""
    return _tr("{looks}: {conclusion}").format(looks=looks_sentence(egg), conclusion=_conclusion(egg))


def _conclusion(egg: OpeningEgg) -> str:
    if egg.state is OpeningState.GONE:
        return in_sentence(fate_word(egg.egg.outcome.fate))
    if egg.state is OpeningState.NOT_YET:
        return _tr("may still hatch")
    match egg.known:
        case KnownBefore.CLEAR:
            return _tr("infertile, or dead before day {day}").format(day=number(egg.until_day, 0))
        case KnownBefore.PIPPED:
            return _tr("died in the pip")
        case KnownBefore.NOTHING:
            return _tr("may have died on any day")
    return died_sentence(egg.from_day, egg.until_day)


def died_sentence(from_day: float, until_day: float) -> str:
    """Died on day 18 to 21."""
    first, last = number(from_day, 0), number(until_day, 0)
    if first == last:
        return _tr("died about day {day}").format(day=last)
    return _tr("died on day {first} to {last}").format(first=first, last=last)


def open_days_text(from_day: float, until_day: float) -> str:
    """By the candlings 18 to 21."""
    first, last = number(from_day, 0), number(until_day, 0)
    if first == last:
        return _tr("by the candlings about {day}").format(day=last)
    return _tr("by the candlings {first} to {last}").format(first=first, last=last)


def opened_sentence(record: BreakOut) -> str:
    """Opened by Ana: dead late, day 19."""
    found = in_sentence(break_out_word(record.result))
    if record.dead_day is not None:
        found = listed(
            [found, batch_day(record.dead_day, 0 if record.dead_day == int(record.dead_day) else 1)]
        )
    if record.by_whom:
        return _tr("Opened by {name}: {found}").format(name=record.by_whom, found=found)
    return _tr("Opened: {found}").format(found=found)


def progress_sentence(openings: Openings) -> str:
    """8 of 13 opened."""
    opened = openings.count(OpeningState.OPENED)
    total = opened + openings.count(OpeningState.TO_OPEN)
    return _tr("{opened} of {total} opened").format(opened=number(opened, 0), total=number(total, 0))


def _counted_as(openings: Openings) -> str:
    """What eggs that nobody opens are counted as: 2 counted as not known, 2 counted as clear."""
    kinds = (
        (openings.left_unknown, _tr("{n} counted as not known")),
        (openings.left_clear, _tr("{n} counted as clear")),
        (openings.left_dead, _tr("{n} counted as the candlings say")),
    )
    return listed([text.format(n=number(count, 0)) for count, text in kinds if count])


def left_sentence(openings: Openings) -> str:
    """4 eggs not opened: 2 counted as not known, 2 counted as clear."""
    left = openings.count(OpeningState.TO_OPEN)
    parts = []
    if left:
        parts.append(_tr("%n egg(s) not opened: {counted}.", left).format(counted=_counted_as(openings)))
    elif openings.count(OpeningState.OPENED):
        parts.append(_tr("Every egg that did not hatch is opened."))
    else:
        parts.append(_tr("There is no egg to open."))
    if openings.clears_opened:
        parts.append(
            _tr(
                "%n clear egg(s) opened: {infertile} infertile, {early} dead early.", openings.clears_opened
            ).format(
                infertile=number(openings.clears_infertile, 0), early=number(openings.clears_early_dead, 0)
            )
        )
    waiting = openings.count(OpeningState.NOT_YET)
    if waiting:
        parts.append(_tr("%n egg(s) may still hatch.", waiting))
    return " ".join(parts)
