"""Water and dry runs of a machine in sentences: how much evaporates, when to fill next, whether it was true."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.dates import day_month, local, weekday_date
from hatchbook.desk.words.numbers import number, percent, range_text
from hatchbook.figures.guide_results import DryRun, MachineGuide
from hatchbook.trade.instants import DAY_S

APART = 3.0
"""A dry run this far (% RH) from what the room air should give asks for a look at the hygrometer."""
_NEAREST_ML = 10.0
_HARDLY_KNOWN = 6.0
"""Where the most is so many times the least, no number between them is worth telling."""


def _tr(text: str, n: int = -1) -> str:
    return QCoreApplication.translate("Guide", text, "", n)


def water_sentence(guide: MachineGuide) -> str:
    """How much water a day evaporates as it stands; "" without water."""
    water = guide.water_ml_a_day
    if water is None:
        return ""
    low, high = (max(round(value / _NEAREST_ML) * _NEAREST_ML, 0.0) for value in (water.low, water.high))
    if water.high > _HARDLY_KNOWN * water.low:
        return _tr("{range} ml of water evaporate a day: more closely it is not known yet.").format(
            range=range_text(low, high)
        )
    return _tr("About {ml} ml of water evaporate a day ({range}).").format(
        ml=number(round(water.value / _NEAREST_ML) * _NEAREST_ML, 0), range=range_text(low, high)
    )


def part_of_day(at: int, zone: ZoneInfo) -> str:
    """An instant as closely as a guess deserves: Fri 15 May, evening."""
    hour = local(at, zone).hour
    date = weekday_date(at, zone)
    if hour < 5:
        return _tr("{date}, in the night").format(date=date)
    if hour < 11:
        return _tr("{date}, morning").format(date=date)
    if hour < 14:
        return _tr("{date}, midday").format(date=date)
    if hour < 18:
        return _tr("{date}, afternoon").format(date=date)
    return _tr("{date}, evening").format(date=date)


def fill_headline(guide: MachineGuide, now: int, zone: ZoneInfo) -> str:
    """When to fill next."""
    fill = guide.next_fill
    if guide.setting is None:
        return _tr("Not known")
    if fill is None or not fill.channels:
        return _tr("No channel holds water")
    if fill.at is None:
        return _tr("Not known")
    if fill.at <= now:
        return _tr("Look now: they may be dry")
    return part_of_day(fill.at, zone)


def fill_sentence(guide: MachineGuide, zone: ZoneInfo) -> str:
    """What that rests on, with its range."""
    fill = guide.next_fill
    if guide.setting is None:
        return _tr("How many channels hold water is not noted: log the setting.")
    if fill is None or not fill.channels:
        return _tr("There is nothing to fall dry.")
    if fill.at is None or fill.days is None or fill.filled_at is None:
        return _tr(
            "When %n filled channel(s) fall dry can be told once fillings are logged, or what a channel holds "
            "is noted.",
            fill.channels,
        )
    if fill.origin == "dried":
        sentence = _tr(
            "With %n channel(s) filled {when} the water lasts about {days} days ({range}), as it did before.",
            fill.channels,
        )
    else:
        sentence = _tr(
            "With %n channel(s) filled {when} the water lasts about {days} days ({range}), by what a channel holds "
            "and what evaporates.",
            fill.channels,
        )
    return sentence.format(
        when=part_of_day(fill.filled_at, zone),
        days=number(fill.days.value),
        range=range_text(fill.days.low, fill.days.high, 1),
    )


def fill_span(guide: MachineGuide, zone: ZoneInfo) -> str:
    """From when to when they may fall dry; "" where that is not known."""
    fill = guide.next_fill
    if fill is None or fill.at is None or fill.days is None or fill.filled_at is None:
        return ""
    early, late = (fill.filled_at + round(days * DAY_S) for days in (fill.days.low, fill.days.high))
    return _tr("between {early} and {late}").format(
        early=part_of_day(early, zone), late=part_of_day(late, zone)
    )


def dry_run_result(run: DryRun) -> str:
    """The same as the result in a list: 18.8 %, room air 18.7 %."""
    values = {"measured": percent(run.measured), "expected": percent(run.expected)}
    if abs(run.measured - run.expected) < APART:
        return _tr("{measured}, room air {expected}").format(**values)
    return _tr("{measured}, but room air {expected}").format(**values)


def dry_run_sentence(run: DryRun, zone: ZoneInfo) -> str:
    """What a dry run showed, against what the room air alone should give."""
    values = {
        "date": day_month(run.at, zone),
        "measured": percent(run.measured),
        "expected": percent(run.expected),
        "off": number(abs(run.measured - run.expected)),
    }
    if abs(run.measured - run.expected) < APART:
        return _tr(
            "Dry run of {date}: {measured}, and the room air alone should give {expected}. They agree."
        ).format(**values)
    return _tr(
        "Dry run of {date}: {measured}, but the room air alone should give {expected}, {off}\u00a0% apart: check "
        "the hygrometers, and whether the machine was dry."
    ).format(**values)
