"""Opens the record that evidence rests on."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.edit_line import edit_line
from hatchbook.figures.cause_results import RecordRef
from hatchbook.figures.results import JournalLine, LineKind


def open_record(context: DeskContext, record: RecordRef, parent: QWidget) -> None:
    """An egg's sheet, another batch, the form of an event; anything else is shown in the chart at its instant."""
    journal = context.door.journal
    if record.kind in ("batch", "past_batch"):
        kept = journal.batches if record.kind == "batch" else journal.past_batches
        if kept.find(record.uid) is not None:
            context.choose_batch(record.uid)
    elif record.kind in ("egg", "break_out"):
        _open_egg(context, record, parent)
    elif record.kind == "event":
        edit_line(context, JournalLine(record.at, LineKind.EVENT, {}, (record.kind, record.uid)), parent)
    else:
        context.show_instant(record.at)


def _open_egg(context: DeskContext, record: RecordRef, parent: QWidget) -> None:
    from hatchbook.desk.dialogs.egg_sheet import EggSheet

    journal, uid = context.door.journal, record.uid
    if record.kind == "break_out":
        break_out = journal.break_outs.find(uid)
        if break_out is None:
            return
        uid = break_out.egg
    if journal.eggs.find(uid) is not None:
        EggSheet(context, uid, parent).open()
