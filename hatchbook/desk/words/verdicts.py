"""What the figures of a phase say: on aim, too dry, sliding since a day, what to hold."""

from __future__ import annotations

import math

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.numbers import duration_text, number, percent, range_text, share
from hatchbook.figures.guide_results import WantedFrom
from hatchbook.figures.results import Band, PhaseFigures, PhaseState
from hatchbook.figures.to_hold import ToHold
from hatchbook.statistics.averages import HoldReach
from hatchbook.statistics.drift import DriftDirection, DriftVerdict, PhaseDrift

#: Below this share the gaps are worth telling.
_MOSTLY_KNOWN = 0.9


def _tr(text: str, n: int = -1) -> str:
    return QCoreApplication.translate("Verdicts", text, "", n)


def band_text(band: Band, decimals: int = 0) -> str:
    """A band without its unit: 40–50."""
    return range_text(band.low, band.high, decimals)


def is_flagged(drift: PhaseDrift | None) -> bool:
    """Whether a verdict asks for a look."""
    return drift is not None and drift.verdict not in (DriftVerdict.ON_AIM, DriftVerdict.TOO_LITTLE_KNOWN)


def verdict_sentence(drift: PhaseDrift | None, band: Band, from_day: float = 0.0) -> str:
    """The verdict of a phase with the numbers it rests on; ``from_day``: the batch's day on which it began."""
    if drift is None or math.isnan(drift.mean):
        return _tr("no readings")
    off = drift.mean - band.aim
    since = ""
    if drift.since_day is not None:
        since = _tr(" since day {day}").format(day=number(from_day + drift.since_day, 0))
    match drift.verdict:
        case DriftVerdict.TOO_LITTLE_KNOWN if drift.stray_at_s is not None:
            return _tr("one stray reading pulls the mean: check it")
        case DriftVerdict.TOO_LITTLE_KNOWN:
            return _tr("too little known: readings cover {share} of the time").format(
                share=share(drift.known_share)
            )
        case DriftVerdict.LOW:
            return _tr("{off} under the band{since}").format(off=number(band.low - drift.mean), since=since)
        case DriftVerdict.HIGH:
            return _tr("{off} over the band{since}").format(off=number(drift.mean - band.high), since=since)
        case DriftVerdict.SLIDING:
            if drift.direction is DriftDirection.DOWN:
                return _tr("sliding drier{since}, still in the band").format(since=since)
            return _tr("sliding wetter{since}, still in the band").format(since=since)
        case DriftVerdict.SWINGING:
            return _tr("swinging: inside the band {share} of the time").format(
                share=share(drift.share_inside)
            )
    if abs(off) < 0.05:
        return _tr("in the band, on the aim")
    if off > 0:
        return _tr("in the band, {off} above the aim").format(off=number(off))
    return _tr("in the band, {off} below the aim").format(off=number(-off))


def mean_foot(phase: PhaseFigures) -> str:
    """The line under the phase's mean humidity."""
    if phase.state is PhaseState.TO_COME:
        return _tr("band {band} %, aim {aim}").format(
            band=band_text(phase.humidity_band), aim=number(phase.humidity_band.aim, 0)
        )
    if phase.humidity is None:
        return _tr("no readings yet: import or log one")
    sentence = verdict_sentence(phase.humidity, phase.humidity_band, phase.from_day)
    known = phase.humidity.known_share
    if known < _MOSTLY_KNOWN and phase.humidity.verdict is not DriftVerdict.TOO_LITTLE_KNOWN:
        if phase.humidity.verdict is DriftVerdict.ON_AIM:
            # Short enough to be read to its end in a narrow window; the aim stands in the picture above.
            return _tr("{share} of the time known; in the band").format(share=share(known))
        return _tr("{verdict}; {share} of the time known").format(verdict=sentence, share=share(known))
    return sentence


def hold_foot(phase: PhaseFigures, held: ToHold | None) -> str:
    """The line under what to hold from now on in a phase; ``held``: that, where the weight does not decide."""
    if phase.state is PhaseState.OVER:
        return _tr("the phase is over")
    if phase.state is PhaseState.TO_COME:
        return _tr("from the setting on")
    hold = phase.hold
    if hold is None or held is None:
        return _tr("needs readings to be reckoned")
    if not held.steers:
        return _tr("little left to steer: the band is enough")
    ends = "" if held.ends_on is None else percent(held.ends_on)
    if held.origin is WantedFrom.LOCKDOWN:
        return _tr("its aim; the mean ends on {ends}").format(ends=ends)
    if held.aim_takes is not None:
        return _tr("aim out of reach; ends on {ends}").format(ends=ends)
    if hold.reach is HoldReach.DRIER_THAN_EVER:
        return _tr("never so dry here: {lowest} % at the least").format(lowest=number(hold.reachable_low, 0))
    if hold.reach is HoldReach.MOISTER_THAN_EVER:
        return _tr("never so moist here: {highest} % at the most").format(
            highest=number(hold.reachable_high, 0)
        )
    low, high = max(hold.low, 0.0), min(hold.high, 100.0)
    return _tr("{band} % keeps it in the band").format(band=range_text(low, high))


def hold_for(phase: PhaseFigures) -> str:
    """For how long: for 6 d 19 h."""
    return _tr("for {time}").format(time=duration_text(phase.remaining_h * 3600))
