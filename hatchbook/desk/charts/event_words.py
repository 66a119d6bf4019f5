"""Events of the chart in words: the sentences of the journal's lines."""

from __future__ import annotations

from collections.abc import Sequence
from zoneinfo import ZoneInfo

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.charts.material import BatchMaterial
from hatchbook.desk.words.dates import date_time
from hatchbook.desk.words.effects import effect_sentence, found_cut_sentence
from hatchbook.desk.words.lines import line_sentence
from hatchbook.figures.results import JournalLine, LineKind
from hatchbook.journal import Event
from hatchbook.trade.codes import EventKind


def event_sentence(event: Event, material: BatchMaterial) -> str:
    """What happened, as its journal line says it; or that the curve tells of a power cut."""
    cut = material.found_cuts.get(event.uid)
    if cut is not None:
        return found_cut_sentence(cut)
    values = {
        "kind": event.kind,
        "text": event.text,
        "channels_filled": event.channels_filled,
        "water_ml": event.water_ml,
        "vent": event.vent,
        "vent_before": _vent_before(event, material.events),
        "seconds": None if event.ends_at is None else event.ends_at - event.at,
    }
    return line_sentence(JournalLine(event.at, LineKind.EVENT, values, (Event.KIND, event.uid)))


def event_with_effect(event: Event, material: BatchMaterial) -> str:
    """What happened, and what it did to the humidity where that can be told."""
    sentence, effect = event_sentence(event, material), material.curves.effects.get(event.uid)
    if effect is None:
        return sentence
    return QCoreApplication.translate("Chart", "{event}; {effect}").format(
        event=sentence.rstrip("."), effect=effect_sentence(effect)
    )


def event_tip(event: Event, material: BatchMaterial, zone: ZoneInfo) -> str:
    """When it happened, what, and what it did."""
    return QCoreApplication.translate("Chart", "{date}: {event}").format(
        date=date_time(event.at, zone), event=event_with_effect(event, material)
    )


def _vent_before(event: Event, events: Sequence[Event]) -> float | None:
    before = [
        other.vent
        for other in events
        if other.kind is EventKind.VENT and other.vent is not None and other.at < event.at
    ]
    return before[-1] if before and event.kind is EventKind.VENT else None
