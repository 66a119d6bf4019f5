"""Events of the chart in words: the sentences of the journal's lines."""

from __future__ import annotations

from collections.abc import Sequence
from zoneinfo import ZoneInfo

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.dates import date_time
from hatchbook.desk.words.lines import line_sentence
from hatchbook.figures.results import JournalLine, LineKind
from hatchbook.journal import Event
from hatchbook.trade.codes import EventKind


def event_sentence(event: Event, events: Sequence[Event]) -> str:
    """What happened, as its journal line says it; `events` tell how the vent stood before."""
    values = {
        "kind": event.kind,
        "text": event.text,
        "channels_filled": event.channels_filled,
        "water_ml": event.water_ml,
        "vent": event.vent,
        "vent_before": _vent_before(event, events),
        "seconds": None if event.ends_at is None else event.ends_at - event.at,
    }
    return line_sentence(JournalLine(event.at, LineKind.EVENT, values, (Event.KIND, event.uid)))


def event_tip(event: Event, events: Sequence[Event], zone: ZoneInfo) -> str:
    """When it happened and what."""
    return QCoreApplication.translate("Chart", "{date}: {event}").format(
        date=date_time(event.at, zone), event=event_sentence(event, events)
    )


def _vent_before(event: Event, events: Sequence[Event]) -> float | None:
    before = [
        other.vent
        for other in events
        if other.kind is EventKind.VENT and other.vent is not None and other.at < event.at
    ]
    return before[-1] if before and event.kind is EventKind.VENT else None
