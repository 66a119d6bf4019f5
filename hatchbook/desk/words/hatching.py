"""The hatch in words: who has pipped and since when, when it was due, what was noted of an egg."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.codes import hatch_mark_word
from hatchbook.desk.words.dates import batch_day, clock_time, date_time
from hatchbook.desk.words.eggs import short_title
from hatchbook.desk.words.lines import listed
from hatchbook.desk.words.numbers import count_of, duration_text, mass, number, percent
from hatchbook.figures.hatch_curve import HatchCurve, PippedEgg
from hatchbook.journal import Hatching


def _tr(text: str, n: int = -1) -> str:
    return QCoreApplication.translate("Hatching", text, "", n)


def due_sentence(due_at: int, now: int, zone: ZoneInfo) -> str:
    """Due Sun 24 May 09:00, in 9 h."""
    when, apart = date_time(due_at, zone), duration_text(due_at - now)
    if abs(due_at - now) < 60:
        return _tr("due now, {when}").format(when=when)
    sentence = _tr("due {when}, in {time}") if due_at > now else _tr("was due {when}, {time} ago")
    return sentence.format(when=when, time=apart)


def against_due(at: int, due_at: int) -> str:
    """9 h before it was due, 2 h after."""
    if abs(at - due_at) < 1800:
        return _tr("as due")
    sentence = _tr("{time} before due") if at < due_at else _tr("{time} after due")
    # To the hour: nobody times a hatch closer.
    return sentence.format(time=duration_text(round((at - due_at) / 3600) * 3600))


def waited_sentence(pipped: PippedEgg, now: int, zone: ZoneInfo, trays: int = 1) -> str:
    """B 3: external pip for 5 h 15 min, since 09:30."""
    sentence = (
        _tr("{egg}: external pip for {time}, since {when}")
        if pipped.external
        else _tr("{egg}: internal pip for {time}, since {when}")
    )
    when = clock_time(pipped.since, zone) if now - pipped.since < 12 * 3600 else date_time(pipped.since, zone)
    return sentence.format(
        egg=short_title(pipped.egg, trays), time=duration_text(max(0, now - pipped.since)), when=when
    )


def mark_sentence(record: Hatching, zone: ZoneInfo) -> str:
    """Hatched, Sun 24 May 14:10, ring B17, 41.2 g."""
    parts = [hatch_mark_word(record.mark), date_time(record.at, zone)]
    if record.ring:
        parts.append(_tr("ring {ring}").format(ring=record.ring))
    if record.chick_mass_g is not None:
        parts.append(mass(record.chick_mass_g))
    if record.note:
        parts.append(record.note)
    return listed(parts)


def first_pip_text(curve: HatchCurve, set_at: int) -> str:
    """Day 20.3, 12 h before due."""
    if curve.first_pip_at is None:
        return _tr("not noted") if curve.chicks else _tr("none yet")
    day = batch_day((curve.first_pip_at - set_at) / 86_400)
    return listed([day, against_due(curve.first_pip_at, curve.due_at)])


def chicks_text(curve: HatchCurve) -> str:
    """12 of 24 eggs."""
    return _tr("{count} eggs").format(count=count_of(curve.chicks, curve.eggs_in_question))


def spread_text(curve: HatchCurve) -> str:
    """14 h, first to last."""
    if curve.spread_h is None:
        return _tr("no chick yet")
    return _tr("{time}, first to last").format(time=duration_text(curve.spread_h * 3600))


def yield_text(curve: HatchCurve) -> str:
    """68.4 %, mean of 9 chicks; or what is missing for it."""
    found = curve.chick_yield
    if found is not None:
        return _tr("{share}, mean of %n chick(s)", found.chicks_counted).format(
            share=percent(found.mean_percent)
        )
    if curve.weighed:
        return _tr("no egg mass at setting")
    return _tr("no chick weighed")


def curve_sentence(curve: HatchCurve, zone: ZoneInfo) -> str:
    """The hatch curve for those who do not see it: how many chicks there were at the end of each hour."""
    if not curve.hours:
        return _tr("No pip and no chick yet.")
    parts = [
        _tr("{time}: {pips} pipped, {chicks} hatched").format(
            time=date_time(curve.due_at + (hour.from_h + 1) * 3600, zone),
            pips=number(hour.pips_so_far, 0),
            chicks=number(hour.chicks_so_far, 0),
        )
        for hour in curve.hours
        if hour.chicks or hour.pips
    ]
    return "; ".join(parts)
