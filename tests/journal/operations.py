"""An operation by each method of the journal that changes something."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

from hatchbook.journal import (
    Change,
    Duty,
    Egg,
    Journal,
    Machine,
    OwnProgramme,
    PastBatch,
    Pen,
    PenMember,
    Reading,
)
from hatchbook.trade.codes import (
    DutyKind,
)
from tests.journal.operations_on_eggs import OPERATIONS_ON_EGGS

DAY = 86_400
SET_AT = 1_776_708_000
Of = SimpleNamespace
Contents = Callable[[Journal], dict[str, list[tuple[Any, ...]]]]

#: collection.method → what is called, and the step's code.
OPERATIONS: dict[str, tuple[Callable[[Of], Change], str]] = {
    "settings.set_zone": (lambda of: of.settings.set_zone("Europe/Berlin"), "setting_changed"),
    "settings.set_season_first_month": (lambda of: of.settings.set_season_first_month(3), "setting_changed"),
    "settings.mark_as_demo": (lambda of: of.settings.mark_as_demo(), "setting_changed"),
    "machines.add": (lambda of: of.machines.add(Machine("Third", 1, 1)), "machine_added"),
    "machines.replace": (
        lambda of: of.machines.replace(replace(of.machine, name="Green one")),
        "machine_changed",
    ),
    "machines.remove": (lambda of: of.machines.remove(of.other_machine), "machine_removed"),
    "machines.keep": (lambda of: of.machines.keep(replace(of.machine, trays=2), 1), "machine_changed"),
    "machines.replace_channel": (
        lambda of: of.machines.replace_channel(replace(of.channel, name="short")),
        "machine_changed",
    ),
    "probes.add": (lambda of: of.probes.add(replace(of.probe, uid="p9", name="P9", number=9)), "probe_added"),
    "probes.replace": (lambda of: of.probes.replace(replace(of.probe, name="P0")), "probe_changed"),
    "probes.remove": (lambda of: of.probes.remove(of.room_probe), "probe_removed"),
    "probes.add_to": (lambda of: of.probes.add_to("P3", machine=None, from_at=SET_AT), "probe_added"),
    "probes.move": (lambda of: of.probes.move(of.probe, machine=None, at=SET_AT + DAY), "probe_moved"),
    "probes.add_check": (
        lambda of: of.probes.add_check(replace(of.check, uid="c9", at=SET_AT)),
        "probe_check_added",
    ),
    "probes.add_checks": (
        lambda of: of.probes.add_checks([replace(of.check, uid=uid, at=SET_AT) for uid in ("c8", "c9")]),
        "probe_check_added",
    ),
    "probes.replace_check": (
        lambda of: of.probes.replace_check(replace(of.check, shown_value=74.0)),
        "probe_check_changed",
    ),
    "probes.remove_check": (lambda of: of.probes.remove_check(of.check), "probe_check_removed"),
    "pens.add": (lambda of: of.pens.add(Pen("South pen")), "pen_added"),
    "pens.replace": (lambda of: of.pens.replace(replace(of.pen, letter="S")), "pen_changed"),
    "pens.remove": (lambda of: of.pens.remove(of.spare_pen), "pen_removed"),
    "pens.add_member": (
        lambda of: of.pens.add_member(PenMember(of.pen.uid, "Emma", "female")),
        "pen_member_added",
    ),
    "pens.replace_member": (
        lambda of: of.pens.replace_member(replace(of.member, ring="N 13")),
        "pen_member_changed",
    ),
    "pens.remove_member": (lambda of: of.pens.remove_member(of.spare_member), "pen_member_removed"),
    "programmes.add": (lambda of: of.programmes.add(OwnProgramme("b", "duck", "B", "{}")), "programme_added"),
    "programmes.replace": (
        lambda of: of.programmes.replace(replace(of.programme, title="Mine")),
        "programme_changed",
    ),
    "programmes.remove": (lambda of: of.programmes.remove(of.programme), "programme_removed"),
    "batches.add": (lambda of: of.batches.add(replace(of.batch, uid="b9", label="2026-09")), "batch_added"),
    "batches.replace": (lambda of: of.batches.replace(replace(of.batch, note="windy")), "batch_changed"),
    "batches.remove": (lambda of: of.batches.remove(of.empty_batch), "batch_removed"),
    "batches.set_batch": (
        lambda of: of.batches.set_batch(
            replace(of.batch, uid="b8", label="2026-08"),
            [replace(of.phases[0], uid="ph8", batch="b8")],
            [replace(of.duty, uid="d8", batch="b8")],
            [Egg("b8", number) for number in range(1, 13)],
        ),
        "batch_set",
    ),
    "batches.replan": (
        lambda of: of.batches.replan(
            replace(of.batch, incubation_days=20.0),
            [replace(of.phases[0], uid="ph7", to_day=20.0)],
            [Duty(DutyKind.CANDLE, SET_AT + 8 * DAY, of.batch.uid, 8.0)],
        ),
        "batch_changed",
    ),
    "batches.rename": (lambda of: of.batches.rename(of.batch, "Late spring"), "batch_renamed"),
    "batches.close": (lambda of: of.batches.close(of.batch, SET_AT + 21 * DAY), "batch_closed"),
    "batches.reopen": (lambda of: of.batches.reopen(of.empty_batch), "batch_reopened"),
    "batches.delete": (lambda of: of.batches.delete(of.batch), "batch_removed"),
    "duties.add": (lambda of: of.duties.add(Duty(DutyKind.OTHER, SET_AT, text="buy salt")), "duty_added"),
    "duties.replace": (
        lambda of: of.duties.replace(replace(of.duty, due_at=SET_AT + 2 * DAY)),
        "duty_changed",
    ),
    "duties.remove": (lambda of: of.duties.remove(of.duty), "duty_removed"),
    "duties.tick": (lambda of: of.duties.tick(of.duty, SET_AT + DAY), "duty_ticked"),
    "duties.untick": (lambda of: of.duties.untick(of.ticked), "duty_unticked"),
    "readings.add": (
        lambda of: of.readings.add(Reading(of.probe.number, SET_AT, humidity=44.0)),
        "reading_added",
    ),
    "readings.add_with_probe": (
        lambda of: of.readings.add_with_probe(
            Reading(0, SET_AT, humidity=44.0), "P7", of.other_machine.uid, SET_AT
        ),
        "reading_added",
    ),
    "readings.replace": (
        lambda of: of.readings.replace(replace(of.reading, temperature_c=None)),
        "reading_changed",
    ),
    "readings.remove": (lambda of: of.readings.remove(of.imported_reading), "reading_removed"),
    "readings.move": (
        lambda of: of.readings.move(of.imported_reading, replace(of.imported_reading, at=SET_AT)),
        "reading_changed",
    ),
    "imports.bring_in": (
        lambda of: of.imports.bring_in(of.probe, of.readings_of(SET_AT + 2 * DAY - 300, 80), SET_AT),
        "readings_imported",
    ),
    "imports.take_back": (lambda of: of.imports.take_back(of.run), "import_taken_back"),
    "imports.remove": (lambda of: of.imports.remove(of.run), "import_taken_back"),
    "imports.add": (
        lambda of: of.imports.add(replace(of.run, uid="r9", number=9, stored=0, rejected=0)),
        "import_run_added",
    ),
    "imports.replace": (
        lambda of: of.imports.replace(replace(of.run, file_name="a.csv")),
        "import_run_changed",
    ),
    "past_batches.add": (
        lambda of: of.past_batches.add(PastBatch("1999-1", 1999, "duck", 12)),
        "past_batch_added",
    ),
    "past_batches.bring_in": (
        lambda of: of.past_batches.bring_in(
            [PastBatch("1999-1", 1999, "duck", 12), PastBatch("1999-2", 1999, "duck", 9, pen="n9")],
            file="old book.xlsx",
            pens=[Pen("Pond", uid="n9")],
            machines=[Machine("Cupboard", 3, 4)],
        ),
        "past_batches_imported",
    ),
    "past_batches.replace": (
        lambda of: of.past_batches.replace(replace(of.past_batch, hatched=18)),
        "past_batch_changed",
    ),
    "past_batches.remove": (lambda of: of.past_batches.remove(of.past_batch), "past_batch_removed"),
    **OPERATIONS_ON_EGGS,
}
