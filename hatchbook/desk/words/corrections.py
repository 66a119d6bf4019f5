"""What the checks of a probe correct, in plain sentences."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.dates import date_text, day_month, local
from hatchbook.desk.words.holding import checked_value
from hatchbook.desk.words.numbers import plus_minus
from hatchbook.figures.corrections import CorrectionNow
from hatchbook.statistics.calibration import Correction, CorrectionKind
from hatchbook.trade.codes import Quantity

_SHOWN_ALONG = {Quantity.HUMIDITY: (30.0, 45.0, 65.0), Quantity.TEMPERATURE: (20.0, 37.5)}
"""Where a line is said by what becomes of some readings: those between which it matters."""
_HARDLY = {Quantity.HUMIDITY: 10.0, Quantity.TEMPERATURE: 2.0}
"""So far off it is likelier that the check went wrong (our choice)."""


def _tr(text: str) -> str:
    return QCoreApplication.translate("Corrections", text)


def preview_sentences(now: CorrectionNow, zone: ZoneInfo, new_at: int) -> str:
    """What would be corrected if checks were stored; ``new_at``: the instant of the new ones."""
    correction = now.correction
    if correction is None:
        return ""
    if correction.kind is CorrectionKind.REFUSED:
        return _tr(
            "These do not go together: no hygrometer is that far from even. Were the salts interchanged? "
            "Stored like this they correct nothing."
        )
    parts = [_what(correction, zone, from_now_on=True)]
    others = [point for point in correction.points if point.at != new_at]
    if others:
        on = day_month(others[0].at, zone)
        parts.append(_tr("It goes together with the check of {date}.").format(date=on))
    if now.plus_minus is not None:
        parts.append(_right_to(now))
    if any(abs(point.shown - point.known) > _HARDLY[now.quantity] for point in correction.points):
        parts.append(
            _tr("So far off, a check often went wrong: is it the right salt, and did it stand long enough?")
        )
    return " ".join(parts)


def state_sentence(now: CorrectionNow, zone: ZoneInfo) -> str:
    """What is corrected of a probe's humidity or temperature now, and how right it is then."""
    correction = now.correction
    if correction is None:
        if now.plus_minus is None:
            return (
                _tr("Humidity was never checked: the readings count as they are.")
                if now.quantity is Quantity.HUMIDITY
                else _tr("Temperature was never checked: the readings count as they are.")
            )
        text = (
            _tr("Humidity was never checked: the readings count as they are, {half} by its accuracy.")
            if now.quantity is Quantity.HUMIDITY
            else _tr("Temperature was never checked: the readings count as they are, {half} by its accuracy.")
        )
        return text.format(half=_half(now.plus_minus, now.quantity))
    parts = []
    if correction.kind is CorrectionKind.REFUSED:
        parts.append(
            _tr("The checks of {date} do not go together and correct nothing: remove the wrong one.").format(
                date=_dated(correction.from_at, zone)
            )
        )
        if correction.changes:
            parts.append(_tr("What was corrected before them still is."))
    else:
        parts.append(_what(correction, zone, from_now_on=False))
    if now.old:
        parts.append(_tr("That check is more than half a year old: check again."))
    elif now.plus_minus is not None and correction.kind is not CorrectionKind.REFUSED:
        parts.append(_right_to(now))
    return " ".join(parts)


def _what(correction: Correction, zone: ZoneInfo, *, from_now_on: bool) -> str:
    date = day_month(correction.from_at, zone) if from_now_on else _dated(correction.from_at, zone)
    quantity = correction.quantity
    if correction.kind is CorrectionKind.LINE:
        pairs = ", ".join(
            _tr("{shown} as {true}").format(
                shown=checked_value(value, quantity),
                true=checked_value(correction.corrected(value), quantity),
            )
            for value in _SHOWN_ALONG[quantity]
        )
        text = (
            _tr("From {date} on this probe's readings are set right along a line: {pairs}.")
            if from_now_on
            else _tr("Since {date} its readings are set right along a line: {pairs}.")
        )
        return text.format(date=date, pairs=pairs)
    off = round(correction.offset, 1)
    values = {"date": date, "off": checked_value(abs(off), quantity)}
    humidity = quantity is Quantity.HUMIDITY
    if not off:
        text = (
            _tr("It showed what it should: from {date} on its readings stay as they are.")
            if from_now_on
            else _tr("Since {date} its readings stay as they are: it showed what it should.")
        )
    elif off < 0:
        if from_now_on:
            text = (
                _tr("From {date} on {off} will be taken off this hygrometer's readings.")
                if humidity
                else _tr("From {date} on {off} will be taken off this thermometer's readings.")
            )
        else:
            text = (
                _tr("Since {date} {off} are taken off its humidity.")
                if humidity
                else _tr("Since {date} {off} are taken off its temperature.")
            )
    elif from_now_on:
        text = (
            _tr("From {date} on {off} will be added to this hygrometer's readings.")
            if humidity
            else _tr("From {date} on {off} will be added to this thermometer's readings.")
        )
    else:
        text = (
            _tr("Since {date} {off} are added to its humidity.")
            if humidity
            else _tr("Since {date} {off} are added to its temperature.")
        )
    if from_now_on and correction.until_at is not None:
        until = _tr("The next check ends that on {date}.").format(date=day_month(correction.until_at, zone))
        return f"{text.format(**values)} {until}"
    return text.format(**values)


def _right_to(now: CorrectionNow) -> str:
    assert now.plus_minus is not None
    return _tr("At {value} they are then right to about {half}.").format(
        value=checked_value(now.value, now.quantity), half=_half(now.plus_minus, now.quantity)
    )


def _half(half: float, quantity: Quantity) -> str:
    if quantity is Quantity.HUMIDITY:
        return _tr("{half} %").format(half=plus_minus(half, 1)).replace(" ", "\u00a0")
    return _tr("{half} °C").format(half=plus_minus(half, 1)).replace(" ", "\u00a0")


def _dated(at: int, zone: ZoneInfo) -> str:
    return date_text(local(at, zone).date(), _tr("d MMM yyyy"))
