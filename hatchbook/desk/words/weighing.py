"""What is said while eggs are weighed."""

from __future__ import annotations

from collections.abc import Sequence
from zoneinfo import ZoneInfo

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.dates import weekday_date
from hatchbook.desk.words.eggs import egg_title
from hatchbook.desk.words.lines import listed
from hatchbook.desk.words.numbers import mass_in, percent
from hatchbook.figures.to_weigh import EggToWeigh, OddMass
from hatchbook.trade.units import Unit


def _tr(text: str, count: int = -1) -> str:
    return QCoreApplication.translate("Weighing", text, "", count)


def not_to_be_weighed() -> str:
    """Of an egg that is not marked, or that has left the machine or died."""
    return _tr("not to be weighed")


def none_to_weigh(*, marked_only: bool) -> str:
    """Where there is no egg to weigh at all."""
    if marked_only:
        return _tr("No marked egg is left to be weighed: choose every egg, or mark some on the tray.")
    return _tr("No egg is left to be weighed: none is known to live.")


def last_weight(egg: EggToWeigh, zone: ZoneInfo, unit: Unit = Unit.GRAM) -> str:
    """What an egg weighed last, and when; by its size where it never was weighed."""
    if egg.last_mass_g is not None and egg.last_at is not None:
        return _tr("{mass} on {date}").format(
            mass=mass_in(egg.last_mass_g, unit), date=weekday_date(egg.last_at, zone)
        )
    if egg.estimated_mass_g is not None:
        return _tr("not weighed yet; by length and breadth about {mass} when laid (estimated)").format(
            mass=mass_in(egg.estimated_mass_g, unit)
        )
    return _tr("not weighed yet")


def stored_sentence(egg: EggToWeigh, mass_g: float, unit: Unit = Unit.GRAM) -> str:
    """An egg with its mass, and what it has lost by it."""
    loss = egg.loss_percent(mass_g)
    if loss is None:
        return _tr("{egg}: {mass}").format(egg=egg_title(egg.figures), mass=mass_in(mass_g, unit))
    return _tr("{egg}: {mass}, {loss} lost").format(
        egg=egg_title(egg.figures), mass=mass_in(mass_g, unit), loss=percent(loss)
    )


def loss_sentence(egg: EggToWeigh, mass_g: float) -> str:
    """What an egg has lost by the mass that is being typed; "" where that is not known."""
    loss = egg.loss_percent(mass_g)
    if loss is None:
        return ""
    if loss < 0:
        return _tr("{gain} more than at first").format(gain=percent(-loss))
    return _tr("{loss} lost").format(loss=percent(loss))


def odd_sentence(egg: EggToWeigh, odd: OddMass, unit: Unit = Unit.GRAM) -> str:
    """Why a mass is asked about."""
    last = mass_in(egg.last_mass_g, unit)
    if odd is OddMass.HEAVIER:
        return _tr("heavier than before ({last})").format(last=last)
    return _tr("lighter than can be ({last} before)").format(last=last)


def odd_question(egg: EggToWeigh, odd: OddMass, unit: Unit = Unit.GRAM) -> str:
    """The same, with the way to keep it."""
    last = mass_in(egg.last_mass_g, unit)
    if odd is OddMass.HEAVIER:
        return _tr("Heavier than before ({last}). Enter again keeps it.").format(last=last)
    return _tr("Lighter than can be ({last} before). Enter again keeps it.").format(last=last)


def odd_list(eggs: Sequence[str]) -> str:
    """Weights of a list that are asked about before they are stored."""
    text = _tr("%n weight(s) cannot well be right: {eggs}. Store again to keep what is typed.", len(eggs))
    return text.format(eggs=listed(list(eggs)))
