"""What a check of a journal can find, each with its values and a plain sentence."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

_SENTENCES = {
    # the file
    "cannot_open": "{sentence}",
    "unreadable": "The file cannot be read to its end: {sentence}",
    "damaged": "The file is damaged: {found}.",
    "misfit": "An entry holds a value that does not belong there: {found}.",
    "reference": "{count} entries of {table} refer to entries of {parent} that are not there.",
    "time_zone": "The home time zone {name} is not known on this computer.",
    "history_order": "A step of history that was taken back ({number}) stands before one that was not.",
    # the records among each other
    "run_missing": "{count} readings belong to an import ({number}) that is not there.",
    "run_count": "The import of {file} counts {expected} readings, but {count} are there.",
    "reject_count": "The import of {file} counts {expected} lines that were not stored, but {count} are there.",
    "egg_outside": "Egg {egg} of batch {batch} lies outside the trays of its machine.",
    "phases_missing": "Batch {batch} has no phases.",
    "phases_gap": "The phases of batch {batch} leave a gap or overlap at day {day:g}.",
    "finding_elsewhere": "A candling of batch {batch} has a finding for egg {egg} of batch {other}.",
    "mass_elsewhere": "A weighing of batch {batch} has a mass for egg {egg} of batch {other}.",
    "event_elsewhere": "An event of batch {batch} is about egg {egg} of batch {other}.",
    "hatching_before_set": "Egg {egg} of batch {batch} has a hatching record from before it was set.",
    "break_out_before_set": "Egg {egg} of batch {batch} was opened before it was set.",
    "probe_in_two_places": "Probe {probe} hangs in two places at one time.",
    # worth a look, and possible
    "overfull": "In {machine} lie {eggs} eggs at one time, and it holds {places}.",
}


@dataclass(frozen=True)
class Problem:
    """Something that a check found: what kind of thing, and the values that name it; ``str`` is a sentence.

    Batches are named by their labels, eggs by their numbers, machines, probes and files by their names.
    """

    code: str
    fields: Mapping[str, object] = field(default_factory=dict)

    def __str__(self) -> str:
        return _SENTENCES[self.code].format(**self.fields)
