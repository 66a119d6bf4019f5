"""The corrections of a probe, from the checks in the journal; the readings themselves stay as they were noted.

Which numbers are corrected: all that is computed (means, verdicts, what to hold, weight loss, the water guide, the
air of the room) and all that is drawn or said of it (chart, table of days, last reading). Which are not: what was
typed, in its dialog and in the journal's lines; a file before it is imported; and the file of exported readings, so
that it can be imported again without being corrected twice.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from hatchbook.journal import Journal, Probe, ProbeCheck, ReadingSeries
from hatchbook.statistics.calibration import (
    REFERENCE,
    CheckPoint,
    Correction,
    CorrectionKind,
    apply_corrections,
    correction_at,
    corrections,
)
from hatchbook.trade.codes import CheckMethod, Quantity
from hatchbook.trade.instants import DAY_S
from hatchbook.trade.salts import Salt, fixed_points

UNCHECKED_PLUS_MINUS = 5.0
"""How far a humidity may be off because of a hygrometer of which nothing is known, % RH: low-cost capacitive
sensors, typically 2 to 5 % with a slow drift upwards. *From memory*: no source for it was found."""
CHECK_HOLDS_S = 183 * DAY_S
"""A check tells how right a probe is for half a year (our choice); its correction holds until the next one."""
USUAL = {Quantity.HUMIDITY: 45.0, Quantity.TEMPERATURE: 37.5}
"""At what value it is said how right a probe is, % RH and °C: about the middle of what machines hold."""
_SALT_UNKNOWN = 0.5
"""Half-width of a salt's fixed point that stands in no row of the table, % RH (our choice)."""


@dataclass(frozen=True)
class ProbeCorrections:
    """What corrects a probe, oldest first."""

    humidity: tuple[Correction, ...] = ()
    temperature: tuple[Correction, ...] = ()

    def of(self, quantity: Quantity) -> tuple[Correction, ...]:
        """Those of one quantity."""
        return self.humidity if quantity is Quantity.HUMIDITY else self.temperature

    def corrected(self, readings: ReadingSeries) -> ReadingSeries:
        """Readings as they are corrected; the very same where nothing changes."""
        humidity = apply_corrections(self.humidity, readings.at, readings.humidity)
        temperature_c = apply_corrections(self.temperature, readings.at, readings.temperature_c)
        if humidity is readings.humidity and temperature_c is readings.temperature_c:
            return readings
        return replace(readings, humidity=humidity, temperature_c=temperature_c)


def probe_corrections(journal: Journal, probe: Probe) -> ProbeCorrections:
    """The corrections of a probe by all its checks."""
    return corrections_of(journal.probes.checks(probe.uid))


def corrections_of(checks: Iterable[ProbeCheck]) -> ProbeCorrections:
    """The corrections that checks of one probe give."""
    known = list(checks)
    return ProbeCorrections(
        *(
            corrections(quantity, [_point(check) for check in known if check.quantity is quantity])
            for quantity in (Quantity.HUMIDITY, Quantity.TEMPERATURE)
        )
    )


def correction_with(journal: Journal, checks: Sequence[ProbeCheck], without: str = "") -> Correction:
    """What would correct a probe from some new checks on, were they stored.

    Args:
        checks: the new ones, of one probe and one quantity.
        without: the uid of a stored check that they replace.
    """
    first = checks[0]
    stored = [check for check in journal.probes.checks(first.probe) if check.uid != without]
    of_probe = corrections_of([*stored, *checks]).of(first.quantity)
    found = correction_at(of_probe, max(check.at for check in checks))
    assert found is not None
    return found


@dataclass(frozen=True)
class CorrectionNow:
    """What holds for a probe's quantity at an instant.

    correction: None before any check. plus_minus: how far a reading of ``value`` may be off, % RH or °C; None where
    nothing is known. old: its check was longer ago than it tells anything.
    """

    quantity: Quantity
    correction: Correction | None
    plus_minus: float | None
    value: float
    old: bool


def correction_preview(journal: Journal, checks: Sequence[ProbeCheck], without: str = "") -> CorrectionNow:
    """``correction_with`` with how right the probe would be then, for showing before the checks are stored."""
    correction = correction_with(journal, checks, without)
    value = USUAL[correction.quantity]
    refused = correction.kind is CorrectionKind.REFUSED
    half = None if refused else correction.residual(value)
    return CorrectionNow(correction.quantity, correction, half, value, old=False)


def correction_now(journal: Journal, probe: Probe, quantity: Quantity, now: int) -> CorrectionNow:
    """What corrects a probe at an instant, and how right it is then at what is usual in a machine."""
    accuracies = (probe.accuracy_humidity, probe.accuracy_temperature_c)
    accuracy = accuracies[quantity is Quantity.TEMPERATURE]
    of_probe = probe_corrections(journal, probe).of(quantity)
    correction = correction_at(of_probe, now)
    value = USUAL[quantity]
    old = correction is not None and now - correction.checked_at > CHECK_HOLDS_S
    half = accuracy
    if correction is not None and not old:
        half = plus_minus_between(of_probe, accuracy, now, now, value, 0.0, now)
    return CorrectionNow(quantity, correction, half, value, old)


def counts_as(journal: Journal, probe: Probe, quantity: Quantity, at: int, shown: float) -> float:
    """As what a value that a probe showed counts in all figures; the same where nothing corrects it."""
    correction = correction_at(probe_corrections(journal, probe).of(quantity), at)
    return shown if correction is None or not correction.changes else correction.corrected(shown)


def plus_minus_between(
    of_probe: Sequence[Correction],
    accuracy: float | None,
    start_at: int,
    end_at: int,
    mean: float,
    resolution: float,
    now: int,
) -> float:
    """How far the mean of a stretch may be off because of the probe, plus or minus.

    For the part that a correction covers: what it leaves uncertain, for half a year after its check. Before the
    first check: by what that check found, where it was within half a year, since the probe may have been as far
    off all along. Else the probe's accuracy, where it is known. Parts count by their time, as the errors of one
    probe do not cancel out.

    Args:
        of_probe: its corrections of the quantity.
        accuracy: of the probe, plus or minus; None: nothing is known.
        start_at: the begin of the stretch; end_at: its end, UTC seconds.
        mean: of the stretch, corrected.
        resolution: the step the probe shows; 0: not known.
        now: checks after it are not known yet.
    """
    known = [one for one in of_probe if one.from_at <= now]
    edges = [
        start_at,
        *(one.from_at for one in known if start_at < one.from_at < end_at),
        max(end_at, start_at),
    ]
    halves = [
        _half_width(known, accuracy, begin, end, mean, resolution) for begin, end in itertools.pairwise(edges)
    ]
    if end_at <= start_at:
        return halves[-1]
    seconds = [end - begin for begin, end in itertools.pairwise(edges)]
    return sum(half * part for half, part in zip(halves, seconds, strict=True)) / (end_at - start_at)


def _half_width(
    known: Sequence[Correction], accuracy: float | None, begin: int, end: int, mean: float, resolution: float
) -> float:
    holding = correction_at(known, begin)
    if holding is not None and end - holding.checked_at <= CHECK_HOLDS_S:
        residual = holding.residual(mean, resolution)
        if residual < float("inf"):
            return residual
    if holding is None and known and known[0].from_at - end <= CHECK_HOLDS_S:
        found = known[0]
        residual = found.residual(mean, resolution)
        if residual < float("inf"):
            return residual + abs(found.corrected(mean) - mean)
    return UNCHECKED_PLUS_MINUS if accuracy is None else accuracy


def _point(check: ProbeCheck) -> CheckPoint:
    return CheckPoint(check.at, check.reference_value, check.shown_value, _uncertainty(check))


def _uncertainty(check: ProbeCheck) -> float:
    """Of the known value of a check: by the salt's table, or as a good instrument's."""
    if check.method is not CheckMethod.SALT:
        return REFERENCE[check.quantity]
    if check.salt in set(Salt):
        for point in fixed_points(Salt(check.salt)):
            if point.temperature_c == check.temperature_c:
                return point.uncertainty
    return _SALT_UNKNOWN
