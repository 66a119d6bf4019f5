"""What a check of the journal found, and what the journal holds, in sentences."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import QCoreApplication, QLocale

from hatchbook.desk.words.lines import listed
from hatchbook.desk.words.noop import QT_TRANSLATE_NOOP
from hatchbook.journal import Problem

_SENTENCES = {
    "cannot_open": QT_TRANSLATE_NOOP("Problems", "{sentence}"),
    "unreadable": QT_TRANSLATE_NOOP("Problems", "The file cannot be read to its end: {sentence}"),
    "damaged": QT_TRANSLATE_NOOP("Problems", "The file is damaged: {found}."),
    "misfit": QT_TRANSLATE_NOOP("Problems", "An entry holds a value that does not belong there: {found}."),
    "reference": QT_TRANSLATE_NOOP(
        "Problems", "{count} entries of {table} refer to entries of {parent} that are not there."
    ),
    "time_zone": QT_TRANSLATE_NOOP("Problems", "The home time zone {name} is not known on this computer."),
    "history_order": QT_TRANSLATE_NOOP(
        "Problems", "A step of history that was taken back ({number}) stands before one that was not."
    ),
    "run_missing": QT_TRANSLATE_NOOP(
        "Problems", "{count} readings belong to an import ({number}) that is not there."
    ),
    "run_count": QT_TRANSLATE_NOOP(
        "Problems", "The import of {file} counts {expected} readings, but {count} are there."
    ),
    "reject_count": QT_TRANSLATE_NOOP(
        "Problems",
        "The import of {file} counts {expected} lines that were not stored, but {count} are there.",
    ),
    "egg_outside": QT_TRANSLATE_NOOP(
        "Problems", "Egg {egg} of batch {batch} lies outside the trays of its machine."
    ),
    "phases_missing": QT_TRANSLATE_NOOP("Problems", "Batch {batch} has no phases."),
    "phases_gap": QT_TRANSLATE_NOOP(
        "Problems", "The phases of batch {batch} leave a gap or overlap at day {day}."
    ),
    "finding_elsewhere": QT_TRANSLATE_NOOP(
        "Problems", "A candling of batch {batch} has a finding for egg {egg} of batch {other}."
    ),
    "mass_elsewhere": QT_TRANSLATE_NOOP(
        "Problems", "A weighing of batch {batch} has a mass for egg {egg} of batch {other}."
    ),
    "event_elsewhere": QT_TRANSLATE_NOOP(
        "Problems", "An event of batch {batch} is about egg {egg} of batch {other}."
    ),
    "hatching_before_set": QT_TRANSLATE_NOOP(
        "Problems", "Egg {egg} of batch {batch} has a hatching record from before it was set."
    ),
    "break_out_before_set": QT_TRANSLATE_NOOP(
        "Problems", "Egg {egg} of batch {batch} was opened before it was set."
    ),
    "probe_in_two_places": QT_TRANSLATE_NOOP("Problems", "Probe {probe} hangs in two places at one time."),
    "overfull": QT_TRANSLATE_NOOP(
        "Problems", "In {machine} lie {eggs} eggs at one time, and it holds {places}."
    ),
}


def _tr(text: str, n: int = -1) -> str:
    return QCoreApplication.translate("Problems", text, "", n)


def problem_sentence(problem: Problem) -> str:
    """What was found, with its numbers as the locale writes them."""
    known = _SENTENCES.get(problem.code)
    if known is None:
        return str(problem)
    return _tr(known).format(**{name: _value(value) for name, value in problem.fields.items()})


def _value(value: object) -> str:
    return QLocale().toString(value) if isinstance(value, int | float) else str(value)


def held_sentence(counts: Mapping[str, int]) -> str:
    """What a journal holds, of the kinds a breeder counts."""
    parts = [
        text
        for kind, text in (
            ("batch", _tr("%Ln batch(es)", counts.get("batch", 0))),
            ("past_batch", _tr("%Ln batch(es) of past seasons", counts.get("past_batch", 0))),
            ("egg", _tr("%Ln egg(s)", counts.get("egg", 0))),
            ("reading", _tr("%Ln reading(s)", counts.get("reading", 0))),
            ("candling", _tr("%Ln candling(s)", counts.get("candling", 0))),
            ("weighing", _tr("%Ln weighing(s)", counts.get("weighing", 0))),
            ("event", _tr("%Ln event(s)", counts.get("event", 0))),
            ("machine", _tr("%Ln machine(s)", counts.get("machine", 0))),
            ("probe", _tr("%Ln probe(s)", counts.get("probe", 0))),
            ("pen", _tr("%Ln pen(s)", counts.get("pen", 0))),
        )
        if counts.get(kind)
    ]
    if not parts:
        return _tr("It holds nothing yet.")
    return _tr("It holds {parts}.").format(parts=listed(parts))
