"""What is done with single eggs, each by the method that does it: for undo and redo."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from types import SimpleNamespace

from hatchbook.journal import BreakOut, Candling, Change, Egg, EggMass, Event, Hatching, Removal, Weighing
from hatchbook.trade.codes import (
    BreakOutResult,
    BreakOutSign,
    EventKind,
    FindingCode,
    HatchMark,
    Malposition,
    RemovalReason,
)

DAY = 86_400
SET_AT = 1_776_708_000
Of = SimpleNamespace

#: As in ``test_undo``: collection.method, what is called, the step's code.
OPERATIONS_ON_EGGS: dict[str, tuple[Callable[[Of], Change], str]] = {
    "eggs.add": (lambda of: of.eggs.add(Egg(of.batch.uid, 7)), "egg_added"),
    "eggs.replace": (lambda of: of.eggs.replace(replace(of.egg, remark="pointed")), "egg_changed"),
    "eggs.remove": (lambda of: of.eggs.remove(of.last_egg), "egg_removed"),
    "eggs.change_many": (
        lambda of: of.eggs.change_many([replace(egg, marked=True) for egg in (of.egg, of.last_egg)]),
        "eggs_changed",
    ),
    "eggs.move": (lambda of: of.eggs.move(of.egg, 1, 1, 2), "egg_moved"),
    "eggs.move_many": (
        lambda of: of.eggs.move_many(of.batch.uid, {of.egg.uid: (1, 1, 2), of.last_egg.uid: None}),
        "eggs_moved",
    ),
    "candlings.add": (
        lambda of: of.candlings.add(Candling(of.batch.uid, SET_AT + 14 * DAY)),
        "candling_added",
    ),
    "candlings.replace": (
        lambda of: of.candlings.replace(replace(of.candling, ended_at=of.candling.at + 900)),
        "candling_changed",
    ),
    "candlings.remove": (lambda of: of.candlings.remove(of.empty_candling), "candling_removed"),
    "candlings.note_finding": (
        lambda of: of.candlings.note_finding(of.candling, of.egg.uid, FindingCode.UNSURE, SET_AT + 8 * DAY),
        "findings_noted",
    ),
    "candlings.note_findings": (
        lambda of: of.candlings.note_findings(
            Candling(of.batch.uid, SET_AT + 14 * DAY),
            {of.egg.uid: FindingCode.ALIVE, of.last_egg.uid: FindingCode.DEAD},
            SET_AT + 14 * DAY,
        ),
        "findings_noted",
    ),
    "candlings.end": (
        lambda of: of.candlings.end(of.candling, of.candling.at + 900, of.duty),
        "candling_ended",
    ),
    "candlings.replace_finding": (
        lambda of: of.candlings.replace_finding(replace(of.finding, code=FindingCode.UNSURE)),
        "finding_changed",
    ),
    "candlings.remove_finding": (lambda of: of.candlings.remove_finding(of.finding), "finding_removed"),
    "candlings.remove_with_findings": (
        lambda of: of.candlings.remove_with_findings(of.candling),
        "candling_removed",
    ),
    "weighings.add": (lambda of: of.weighings.add(Weighing(of.batch.uid, SET_AT)), "weighing_added"),
    "weighings.replace": (
        lambda of: of.weighings.replace(replace(of.weighing, resolution_g=0.01)),
        "weighing_changed",
    ),
    "weighings.remove": (lambda of: of.weighings.remove(of.tray_weighing), "weighing_removed"),
    "weighings.note_weighing": (
        lambda of: of.weighings.note_weighing(
            Weighing(of.batch.uid, SET_AT + 14 * DAY, uid="w9"), [EggMass("w9", of.egg.uid, 55.0)]
        ),
        "weighed",
    ),
    "weighings.note_mass": (
        lambda of: of.weighings.note_mass(of.weighing, EggMass(of.weighing.uid, of.egg.uid, 53.0)),
        "egg_weighed",
    ),
    "weighings.replace_mass": (
        lambda of: of.weighings.replace_mass(replace(of.mass, mass_g=54.2)),
        "egg_mass_changed",
    ),
    "weighings.remove_mass": (lambda of: of.weighings.remove_mass(of.mass), "egg_mass_removed"),
    "weighings.remove_with_masses": (
        lambda of: of.weighings.remove_with_masses(of.weighing),
        "weighing_removed",
    ),
    "events.add": (
        lambda of: of.events.add(Event(SET_AT, EventKind.VENT, of.machine.uid, vent=0.5)),
        "event_added",
    ),
    "events.replace": (lambda of: of.events.replace(replace(of.event, water_ml=200.0)), "event_changed"),
    "events.note_eggs": (
        lambda of: of.events.note_eggs(of.batch.uid, [of.egg.uid, of.last_egg.uid], "thin shell", SET_AT),
        "eggs_noted",
    ),
    "events.log_setting": (
        lambda of: of.events.log_setting(of.machine.uid, SET_AT, channels=2, water_ml=300.0, vent=0.5),
        "setting_logged",
    ),
    "events.remove": (lambda of: of.events.remove(of.event), "event_removed"),
    "hatchings.add": (
        lambda of: of.hatchings.add(Hatching(of.egg.uid, SET_AT + 21 * DAY, HatchMark.HATCHED)),
        "hatching_added",
    ),
    "hatchings.replace": (
        lambda of: of.hatchings.replace(replace(of.hatching, mark=HatchMark.INTERNAL_PIP)),
        "hatching_changed",
    ),
    "hatchings.remove": (lambda of: of.hatchings.remove(of.hatching), "hatching_removed"),
    "hatchings.note": (
        lambda of: of.hatchings.note(
            of.batch.uid, [Hatching(of.egg.uid, SET_AT + 21 * DAY, HatchMark.HATCHED, 39.5, "blue")]
        ),
        "hatching_noted",
    ),
    "hatchings.note_marks": (
        lambda of: of.hatchings.note_marks(
            of.batch.uid, [of.egg.uid, of.last_egg.uid], HatchMark.HATCHED, SET_AT + 21 * DAY
        ),
        "hatching_noted",
    ),
    "removals.add": (
        lambda of: of.removals.add(Removal(of.last_egg.uid, SET_AT, RemovalReason.TAKEN_OUT_ALIVE)),
        "removal_added",
    ),
    "removals.note": (
        lambda of: of.removals.note(
            of.batch.uid,
            [
                Removal(egg, SET_AT, RemovalReason.TAKEN_OUT_ALIVE)
                for egg in (of.removal.egg, of.last_egg.uid)
            ],
        ),
        "removals_noted",
    ),
    "removals.replace": (
        lambda of: of.removals.replace(replace(of.removal, note="slipped")),
        "removal_changed",
    ),
    "removals.remove": (lambda of: of.removals.remove(of.removal), "removal_removed"),
    "break_outs.add": (
        lambda of: of.break_outs.add(BreakOut(of.last_egg.uid, SET_AT + 22 * DAY, BreakOutResult.INFERTILE)),
        "break_out_added",
    ),
    "break_outs.replace": (
        lambda of: of.break_outs.replace(replace(of.break_out, dead_day=20.0)),
        "break_out_changed",
    ),
    "break_outs.remove": (lambda of: of.break_outs.remove(of.plain_break_out), "break_out_removed"),
    "break_outs.keep": (
        lambda of: of.break_outs.keep(
            BreakOut(of.break_out.egg, SET_AT + 22 * DAY, BreakOutResult.PIPPED_DEAD),
            malpositions=[Malposition.VI_BEAK_OVER_RIGHT_WING],
            signs=[BreakOutSign.YOLK_OUTSIDE, BreakOutSign.WET],
        ),
        "break_out_noted",
    ),
    "break_outs.keep_all": (
        lambda of: of.break_outs.keep_all(
            of.batch.uid,
            [
                BreakOut(egg, SET_AT + 22 * DAY, BreakOutResult.EARLY_DEAD)
                for egg in (of.break_out.egg, of.last_egg.uid)
            ],
            signs=[BreakOutSign.WET],
        ),
        "break_out_noted",
    ),
    "break_outs.remove_with_marks": (
        lambda of: of.break_outs.remove_with_marks(of.break_out),
        "break_out_removed",
    ),
}
