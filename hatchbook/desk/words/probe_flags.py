"""What is odd about the probes of a machine, in sentences: one that stands still, drifts, or stands apart."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.dates import date_time
from hatchbook.desk.words.holding import checked_value
from hatchbook.desk.words.numbers import duration_text, percent, temperature
from hatchbook.figures.probe_watch import ProbeFlags, ProbeWatch
from hatchbook.statistics.probe_difference import ProbeDifference
from hatchbook.statistics.same_value import SameValue
from hatchbook.trade.codes import Quantity


def _tr(text: str, n: int = -1) -> str:
    return QCoreApplication.translate("ProbeFlags", text, "", n)


def watch_sentences(watch: ProbeWatch, zone: ZoneInfo) -> list[str]:
    """All that is odd about the probes that are watched; empty where nothing is."""
    two = [probe for probe in watch.probes if probe.apart and not probe.drifting]
    if len(watch.probes) == len(two) == 2 and two[0].difference is not None:
        # Of two probes that stand apart each says the same of the other.
        high, low = sorted(two, key=_apart, reverse=True)
        told = _tr("{probe} reads {off} above {other}, more than both may be off: check them.").format(
            probe=high.name, off=checked_value(_apart(high), Quantity.HUMIDITY), other=low.name
        )
        return [*(one for probe in watch.probes for one in _stuck(probe, zone)), told]
    return [sentence for probe in watch.probes for sentence in flag_sentences(probe, zone)]


def _apart(probe: ProbeFlags) -> float:
    return 0.0 if probe.difference is None else probe.difference.difference


def _stuck(probe: ProbeFlags, zone: ZoneInfo) -> list[str]:
    stuck = probe.stuck_now
    if stuck is not None:
        return [
            _tr("{probe} has shown the same for {time} ({value}): is it frozen, or cut off?").format(
                probe=probe.name, time=duration_text(stuck.seconds), value=_value(stuck)
            )
        ]
    if probe.stuck:
        last = probe.stuck[-1]
        return [
            _tr("{probe} showed the same for {time} from {when} on ({value}).").format(
                probe=probe.name,
                time=duration_text(last.seconds),
                when=date_time(last.start_at, zone),
                value=_value(last),
            )
        ]
    return []


def flag_sentences(probe: ProbeFlags, zone: ZoneInfo) -> list[str]:
    """What is odd about one probe."""
    sentences = _stuck(probe, zone)
    both = (probe.difference, probe.temperature_difference)
    drifting = next((one for one in both if one is not None and one.drifting), None)
    if drifting is not None:
        sentences.append(_drift(probe, drifting))
    elif probe.apart and probe.difference is not None:
        apart = probe.difference
        text = (
            _tr("{probe} reads {off} above the other probes, more than both may be off: check them.")
            if apart.difference > 0
            else _tr("{probe} reads {off} below the other probes, more than both may be off: check them.")
        )
        off = checked_value(abs(apart.difference), apart.quantity)
        sentences.append(text.format(probe=probe.name, off=off))
    return sentences


def _drift(probe: ProbeFlags, difference: ProbeDifference) -> str:
    change = difference.change or 0.0
    text = (
        _tr(
            "{probe} moved up by {change} against the other probes within %n day(s): check it.",
            difference.span_days,
        )
        if change > 0
        else _tr(
            "{probe} moved down by {change} against the other probes within %n day(s): check it.",
            difference.span_days,
        )
    )
    return text.format(probe=probe.name, change=checked_value(abs(change), difference.quantity))


def _value(stuck: SameValue) -> str:
    return percent(stuck.humidity) if stuck.humidity == stuck.humidity else temperature(stuck.temperature_c)
