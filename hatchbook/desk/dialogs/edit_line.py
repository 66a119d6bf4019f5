"""Opens the dialog that edits what a line of the journal stands for."""

from __future__ import annotations

import json

from PySide6.QtWidgets import QWidget

from hatchbook.desk.context import DeskContext
from hatchbook.figures.results import JournalLine
from hatchbook.journal import Batch, Event
from hatchbook.trade.codes import EventKind

_CARE = frozenset({EventKind.CLEANED, EventKind.DRY_RUN, EventKind.CARE})


def edit_line(context: DeskContext, line: JournalLine, parent: QWidget) -> None:
    """Opens a line; one that stands for many records shows its instant in the chart instead."""
    journal = context.door.journal
    batch = None if context.batch is None else journal.batches.find(context.batch)
    if line.record is None or batch is None:
        context.show_instant(line.at)
        return
    kind, uid = line.record
    if kind == "event":
        event = journal.events.find(uid)
        if event is not None:
            _edit_event(context, event, batch, parent)
    elif kind == "candling":
        from hatchbook.desk.dialogs.candling import CandlingDialog

        candling = journal.candlings.find(uid)
        if candling is not None:
            CandlingDialog(context, batch, parent, candling=candling).open()
    elif kind == "reading":
        from hatchbook.desk.dialogs.reading import ReadingDialog

        probe, at = json.loads(uid)
        reading = journal.readings.at(probe, at)
        if reading is not None:
            ReadingDialog(context, batch, parent, reading=reading).open()
    else:
        context.show_instant(line.at)


def _edit_event(context: DeskContext, event: Event, batch: Batch, parent: QWidget) -> None:
    """Care of the machine has a form of its own; all else that happens is logged in one."""
    if event.kind in _CARE and event.machine is not None:
        from hatchbook.desk.dialogs.care import CareDialog

        machine = context.door.journal.machines.get(event.machine)
        CareDialog(context, machine, parent, event=event).open()
    else:
        from hatchbook.desk.dialogs.log_event import LogEventDialog

        LogEventDialog(context, batch, parent, event=event).open()
