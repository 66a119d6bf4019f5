"""Machines in words: what one holds, how far its hygrometer can be trusted, how its batches fared, its care."""

from __future__ import annotations

import math
from zoneinfo import ZoneInfo

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.codes import event_word, in_sentence, machine_kind_word, phase_word, word
from hatchbook.desk.words.dates import date_time, local, short_month_year
from hatchbook.desk.words.holding import check_method, checked_value
from hatchbook.desk.words.noop import QT_TRANSLATE_NOOP
from hatchbook.desk.words.numbers import duration_text, number, percent, plus_minus, temperature
from hatchbook.desk.words.verdicts import band_text, verdict_sentence
from hatchbook.figures.care import CareEntry
from hatchbook.figures.machines import MachineBatch, MachineFigures, MachineProbe
from hatchbook.figures.probe_watch import ProbeFlags
from hatchbook.figures.results import BatchState, PhaseFigures, PhaseState
from hatchbook.journal import ProbeCheck
from hatchbook.statistics.drift import DriftVerdict
from hatchbook.trade.codes import EventKind, Quantity
from hatchbook.trade.instants import DAY_S

_OFF_BY = {
    Quantity.HUMIDITY: (
        QT_TRANSLATE_NOOP("Machines", "{off} high"),
        QT_TRANSLATE_NOOP("Machines", "{off} low"),
    ),
    Quantity.TEMPERATURE: (
        QT_TRANSLATE_NOOP("Machines", "{off} too warm"),
        QT_TRANSLATE_NOOP("Machines", "{off} too cold"),
    ),
}


def _tr(text: str, n: int = -1) -> str:
    return QCoreApplication.translate("Machines", text, "", n)


# ---------------------------------------------------------------- the header


def present_phase(batch: MachineBatch) -> PhaseFigures | None:
    """The phase that a batch spends in the machine now; None where it does not lie in it."""
    if batch.state is not BatchState.RUNNING:
        return None
    running = [phase for phase in batch.phases if phase.state is PhaseState.RUNNING]
    if running:
        return running[0]
    over = [phase for phase in batch.phases if phase.state is PhaseState.OVER]
    # Past the day of its hatch a batch stays where it was until it is closed.
    return over[-1] if over and len(over) == len(batch.phases) else None


def batch_text(batch: MachineBatch) -> str:
    """A batch by number and name."""
    return f"{batch.label} {batch.name}".strip()


def held_sentence(batch: MachineBatch, now: int, zone: ZoneInfo) -> str:
    """26-05 Orchard hens, day 11 of 21, incubation until Thu 21 May 09:00."""
    phase = present_phase(batch)
    assert phase is not None
    values = {
        "batch": batch_text(batch),
        "day": number((now - batch.set_at) // DAY_S, 0),
        "phase": in_sentence(phase_word(phase.kind)),
        "until": date_time(phase.end_at, zone),
    }
    if phase.state is PhaseState.OVER:
        return _tr("{batch}, day {day}, past the day of its hatch").format(**values)
    return _tr("{batch}, day {day}, {phase} until {until}").format(**values)


def holds_sentence(figures: MachineFigures, now: int, zone: ZoneInfo) -> str:
    """What a machine holds now."""
    held = [held_sentence(batch, now, zone) for batch in figures.batches if present_phase(batch) is not None]
    if not held:
        return _tr("Holds no eggs now.")
    return _tr("Holds {batches}.").format(batches=_tr("; ").join(held))


def capacity_sentence(figures: MachineFigures) -> str:
    """What a machine is: up to 42 eggs, forced air (with a fan), 4 water channels."""
    kind = in_sentence(machine_kind_word(figures.machine.kind))
    eggs = _tr("Up to %n egg(s), {kind}", figures.machine.places).format(kind=kind)
    if not figures.channels:
        return _tr("{eggs}.").format(eggs=eggs)
    return _tr("{eggs}, %n water channel(s).", len(figures.channels)).format(eggs=eggs)


def probe_sentence(one: MachineProbe, flags: ProbeFlags | None, zone: ZoneInfo) -> str:
    """How far a probe's humidity can be trusted, and since when; ``flags``: it, watched."""
    check = one.last_check
    half = None if flags is None else flags.plus_minus
    values = {
        "probe": one.probe.name,
        "half": "" if half is None else plus_minus(half, 0 if half == round(half) else 1),
        "date": "" if check is None else dated(check.at, zone),
        "check": "" if check is None else in_sentence(word(check.method)),
    }
    if check is None:
        if half is None:
            return _tr("{probe} was never checked: how true it reads is not known.").format(**values)
        return _tr("{probe} good to {half}\u00a0%, never checked.").format(**values)
    if half is None:
        return _tr("{probe} last checked {date} ({check}).").format(**values)
    return _tr("{probe} good to {half}\u00a0% since the {check} of {date}.").format(**values)


def dated(at: int, zone: ZoneInfo) -> str:
    """A day with its year, short: 2 May 2026."""
    moment = local(at, zone)
    return _tr("{day} {month}").format(day=moment.day, month=short_month_year(moment.date()))


# ---------------------------------------------------------------- its batches


def off_word(phase: PhaseFigures) -> str:
    """too humid, too dry; "" where the mean is inside its band or not enough is known."""
    if phase.humidity is None:
        return ""
    if phase.humidity.verdict is DriftVerdict.HIGH:
        return _tr("too humid")
    return _tr("too dry") if phase.humidity.verdict is DriftVerdict.LOW else ""


def phase_sentence(batch: MachineBatch, phase: PhaseFigures) -> str:
    """How a phase went: 26-05 Orchard hens, incubation: mean 46.8 %, days 44–49 %, band 40–50 %; in the band."""
    values = {
        "batch": batch_text(batch),
        "phase": in_sentence(phase_word(phase.kind)),
        "band": band_text(phase.humidity_band),
    }
    drift = phase.humidity
    if drift is None or math.isnan(drift.mean):
        return _tr("{batch}, {phase}: no readings of humidity").format(**values)
    values |= {
        "mean": percent(drift.mean),
        "verdict": verdict_sentence(drift, phase.humidity_band, phase.from_day),
    }
    if phase.temperature is not None and not math.isnan(phase.temperature.mean):
        values["warmth"] = temperature(phase.temperature.mean)
        return _tr("{batch}, {phase}: {mean}, band {band}\u00a0%: {verdict}; {warmth}").format(**values)
    return _tr("{batch}, {phase}: {mean}, band {band}\u00a0%: {verdict}").format(**values)


def phase_line(batch: MachineBatch, phase: PhaseFigures) -> str:
    """The same in a short line: 26-05, incubation: 46.8 %, in the band, 1.8 above the aim; 37.7 °C."""
    drift = phase.humidity
    if drift is None or math.isnan(drift.mean):
        return phase_sentence(batch, phase)
    values = {
        "batch": batch.label or batch.name,
        "phase": in_sentence(phase_word(phase.kind)),
        "mean": percent(drift.mean),
        "verdict": verdict_sentence(drift, phase.humidity_band, phase.from_day),
    }
    if phase.temperature is None or math.isnan(phase.temperature.mean):
        return _tr("{batch}, {phase}: {mean}, {verdict}").format(**values)
    values["warmth"] = temperature(phase.temperature.mean)
    return _tr("{batch}, {phase}: {mean}, {verdict}; {warmth}").format(**values)


def batches_sentence(figures: MachineFigures) -> str:
    """The chart of a machine's batches for those who cannot see it."""
    phases = [
        (phase.humidity, off_word(phase))
        for batch in figures.batches
        for phase in batch.phases
        if phase.humidity
    ]
    off = sum(bool(said) for _drift, said in phases)
    count = _tr("%n phase(s) with readings", len(phases))
    if not phases:
        return ""
    if not off:
        return _tr("{phases}, none outside its band").format(phases=count)
    return _tr("{phases}, {off} outside the band").format(phases=count, off=number(off, 0))


# ---------------------------------------------------------------- checks and care


def care_date(entry: CareEntry, zone: ZoneInfo) -> str:
    """When it was."""
    return dated(entry.at, zone)


def care_what(entry: CareEntry) -> str:
    """What was done."""
    if entry.check is not None:
        return _tr("{check}, {probe}").format(check=word(entry.check.method), probe=entry.probe_name)
    event = entry.event
    assert event is not None
    if event.kind is EventKind.CARE and event.text:
        return event.text
    return event_word(event.kind)


def check_result(check: ProbeCheck) -> str:
    """By how much a probe was off: 1.5 % high at 75.3 %."""
    off = check.shown_value - check.reference_value
    decimals = 0.05 if check.quantity is Quantity.HUMIDITY else 0.005
    if abs(off) < decimals:
        return _tr("true at {value}").format(value=checked_value(check.reference_value, check.quantity))
    high, low = _OFF_BY[check.quantity]
    text = high if off > 0 else low
    said = _tr(text).format(off=checked_value(abs(off), check.quantity))
    return _tr("{off} at {value}").format(
        off=said, value=checked_value(check.reference_value, check.quantity)
    )


def care_result(entry: CareEntry, dry_run: str = "") -> str:
    """What came of it; ``dry_run``: what a dry run measured, in words."""
    if entry.check is not None:
        result = check_result(entry.check)
        return (
            _tr("{result}; {note}").format(result=result, note=entry.check.note)
            if entry.check.note
            else result
        )
    event = entry.event
    assert event is not None
    text = "" if event.kind is EventKind.CARE else event.text
    came = dry_run if event.kind is EventKind.DRY_RUN else ""
    if not came and event.ends_at is not None and event.ends_at > event.at:
        came = duration_text(event.ends_at - event.at)
    return _tr("{result}; {note}").format(result=came, note=text) if came and text else came or text


def care_sentence(entry: CareEntry, zone: ZoneInfo, dry_run: str = "") -> str:
    """A line of the table as one sentence."""
    values = {"date": care_date(entry, zone), "what": care_what(entry), "result": care_result(entry, dry_run)}
    if not values["result"]:
        return _tr("{date}: {what}").format(**values)
    if entry.check is not None:
        values["what"] = _tr("{what} ({method})").format(
            what=values["what"], method=check_method(entry.check)
        )
    return _tr("{date}: {what}: {result}").format(**values)
