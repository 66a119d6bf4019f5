"""The sentences of a comparison that differ by rate or by grouping; what fills them is in ``words.seasons``."""

from __future__ import annotations

from hatchbook.desk.words.noop import QT_TRANSLATE_NOOP
from hatchbook.figures.comparison_rows import Grouping
from hatchbook.statistics.tallies import RateKind

#: A sentence begins with its first letter large: From Brook pen fewer of the fertile eggs hatch ….
FEWER = {
    RateKind.FERTILITY: QT_TRANSLATE_NOOP(
        "Seasons", "{where} fewer of the eggs set are fertile than {elsewhere}: {rate} against {other}."
    ),
    RateKind.HATCH_OF_FERTILE: QT_TRANSLATE_NOOP(
        "Seasons", "{where} fewer of the fertile eggs hatch than {elsewhere}: {rate} against {other}."
    ),
    RateKind.HATCH_OF_SET: QT_TRANSLATE_NOOP(
        "Seasons", "{where} fewer of the eggs set hatch than {elsewhere}: {rate} against {other}."
    ),
    RateKind.EARLY_DEAD: QT_TRANSLATE_NOOP(
        "Seasons", "{where} fewer of the fertile eggs die early than {elsewhere}: {rate} against {other}."
    ),
    RateKind.MID_DEAD: QT_TRANSLATE_NOOP(
        "Seasons",
        "{where} fewer of the fertile eggs die in the middle days than {elsewhere}: {rate} against {other}.",
    ),
    RateKind.LATE_DEAD: QT_TRANSLATE_NOOP(
        "Seasons", "{where} fewer of the fertile eggs die late than {elsewhere}: {rate} against {other}."
    ),
    RateKind.PIPPED_DEAD: QT_TRANSLATE_NOOP(
        "Seasons", "{where} fewer of the fertile eggs die in pip than {elsewhere}: {rate} against {other}."
    ),
}
MORE = {
    RateKind.FERTILITY: QT_TRANSLATE_NOOP(
        "Seasons", "{where} more of the eggs set are fertile than {elsewhere}: {rate} against {other}."
    ),
    RateKind.HATCH_OF_FERTILE: QT_TRANSLATE_NOOP(
        "Seasons", "{where} more of the fertile eggs hatch than {elsewhere}: {rate} against {other}."
    ),
    RateKind.HATCH_OF_SET: QT_TRANSLATE_NOOP(
        "Seasons", "{where} more of the eggs set hatch than {elsewhere}: {rate} against {other}."
    ),
    RateKind.EARLY_DEAD: QT_TRANSLATE_NOOP(
        "Seasons", "{where} more of the fertile eggs die early than {elsewhere}: {rate} against {other}."
    ),
    RateKind.MID_DEAD: QT_TRANSLATE_NOOP(
        "Seasons",
        "{where} more of the fertile eggs die in the middle days than {elsewhere}: {rate} against {other}.",
    ),
    RateKind.LATE_DEAD: QT_TRANSLATE_NOOP(
        "Seasons", "{where} more of the fertile eggs die late than {elsewhere}: {rate} against {other}."
    ),
    RateKind.PIPPED_DEAD: QT_TRANSLATE_NOOP(
        "Seasons", "{where} more of the fertile eggs die in pip than {elsewhere}: {rate} against {other}."
    ),
}
#: Of a trend: what goes from … to ….
OVER_TIME = {
    RateKind.FERTILITY: QT_TRANSLATE_NOOP(
        "Seasons", "From {first} to {last} the fertility went from {rate} to {other}"
    ),
    RateKind.HATCH_OF_FERTILE: QT_TRANSLATE_NOOP(
        "Seasons", "From {first} to {last} the hatch of fertile eggs went from {rate} to {other}"
    ),
    RateKind.HATCH_OF_SET: QT_TRANSLATE_NOOP(
        "Seasons", "From {first} to {last} the hatch of eggs set went from {rate} to {other}"
    ),
    RateKind.EARLY_DEAD: QT_TRANSLATE_NOOP(
        "Seasons", "From {first} to {last} early deaths went from {rate} to {other}"
    ),
    RateKind.MID_DEAD: QT_TRANSLATE_NOOP(
        "Seasons", "From {first} to {last} deaths in the middle days went from {rate} to {other}"
    ),
    RateKind.LATE_DEAD: QT_TRANSLATE_NOOP(
        "Seasons", "From {first} to {last} late deaths went from {rate} to {other}"
    ),
    RateKind.PIPPED_DEAD: QT_TRANSLATE_NOOP(
        "Seasons", "From {first} to {last} deaths in pip went from {rate} to {other}"
    ),
}
#: The same where both are one number.
STAYED = {
    RateKind.FERTILITY: QT_TRANSLATE_NOOP("Seasons", "From {first} to {last} the fertility stayed at {rate}"),
    RateKind.HATCH_OF_FERTILE: QT_TRANSLATE_NOOP(
        "Seasons", "From {first} to {last} the hatch of fertile eggs stayed at {rate}"
    ),
    RateKind.HATCH_OF_SET: QT_TRANSLATE_NOOP(
        "Seasons", "From {first} to {last} the hatch of eggs set stayed at {rate}"
    ),
    RateKind.EARLY_DEAD: QT_TRANSLATE_NOOP("Seasons", "From {first} to {last} early deaths stayed at {rate}"),
    RateKind.MID_DEAD: QT_TRANSLATE_NOOP(
        "Seasons", "From {first} to {last} deaths in the middle days stayed at {rate}"
    ),
    RateKind.LATE_DEAD: QT_TRANSLATE_NOOP("Seasons", "From {first} to {last} late deaths stayed at {rate}"),
    RateKind.PIPPED_DEAD: QT_TRANSLATE_NOOP(
        "Seasons", "From {first} to {last} deaths in pip stayed at {rate}"
    ),
}
NOT_KNOWN = {
    RateKind.FERTILITY: QT_TRANSLATE_NOOP(
        "Seasons", "Of none of these batches is it known how many eggs were fertile."
    ),
    RateKind.HATCH_OF_FERTILE: QT_TRANSLATE_NOOP(
        "Seasons", "Of none of these batches is it known how many of the fertile eggs hatched."
    ),
    RateKind.HATCH_OF_SET: QT_TRANSLATE_NOOP(
        "Seasons", "Of none of these batches is it known how many eggs hatched."
    ),
    RateKind.EARLY_DEAD: QT_TRANSLATE_NOOP(
        "Seasons", "Of none of these batches is it known how many eggs died early."
    ),
    RateKind.MID_DEAD: QT_TRANSLATE_NOOP(
        "Seasons", "Of none of these batches is it known how many eggs died in the middle days."
    ),
    RateKind.LATE_DEAD: QT_TRANSLATE_NOOP(
        "Seasons", "Of none of these batches is it known how many eggs died late."
    ),
    RateKind.PIPPED_DEAD: QT_TRANSLATE_NOOP(
        "Seasons", "Of none of these batches is it known how many eggs died in pip."
    ),
}
HOLDS = {
    Grouping.SEASON: QT_TRANSLATE_NOOP(
        "Seasons", "It holds with the seasons evened out: {rate} against {other}."
    ),
    Grouping.MONTH: QT_TRANSLATE_NOOP(
        "Seasons", "It holds with the months evened out: {rate} against {other}."
    ),
    Grouping.PEN: QT_TRANSLATE_NOOP("Seasons", "It holds with the pens evened out: {rate} against {other}."),
    Grouping.DAM: QT_TRANSLATE_NOOP("Seasons", "It holds with the dams evened out: {rate} against {other}."),
    Grouping.BREED: QT_TRANSLATE_NOOP(
        "Seasons", "It holds with the breeds evened out: {rate} against {other}."
    ),
    Grouping.MACHINE: QT_TRANSLATE_NOOP(
        "Seasons", "It holds with the machines evened out: {rate} against {other}."
    ),
    Grouping.SPECIES: QT_TRANSLATE_NOOP(
        "Seasons", "It holds with the species evened out: {rate} against {other}."
    ),
    Grouping.PROGRAMME: QT_TRANSLATE_NOOP(
        "Seasons", "It holds with the programmes evened out: {rate} against {other}."
    ),
    Grouping.EGG_AGE: QT_TRANSLATE_NOOP(
        "Seasons", "It holds with the ages of the eggs evened out: {rate} against {other}."
    ),
    Grouping.SOURCE: QT_TRANSLATE_NOOP(
        "Seasons", "It holds with own and shipped eggs evened out: {rate} against {other}."
    ),
}
FADES = {
    Grouping.SEASON: QT_TRANSLATE_NOOP(
        "Seasons", "With the seasons evened out it may be chance: {rate} against {other} ({odds})."
    ),
    Grouping.MONTH: QT_TRANSLATE_NOOP(
        "Seasons", "With the months evened out it may be chance: {rate} against {other} ({odds})."
    ),
    Grouping.PEN: QT_TRANSLATE_NOOP(
        "Seasons", "With the pens evened out it may be chance: {rate} against {other} ({odds})."
    ),
    Grouping.DAM: QT_TRANSLATE_NOOP(
        "Seasons", "With the dams evened out it may be chance: {rate} against {other} ({odds})."
    ),
    Grouping.BREED: QT_TRANSLATE_NOOP(
        "Seasons", "With the breeds evened out it may be chance: {rate} against {other} ({odds})."
    ),
    Grouping.MACHINE: QT_TRANSLATE_NOOP(
        "Seasons", "With the machines evened out it may be chance: {rate} against {other} ({odds})."
    ),
    Grouping.SPECIES: QT_TRANSLATE_NOOP(
        "Seasons", "With the species evened out it may be chance: {rate} against {other} ({odds})."
    ),
    Grouping.PROGRAMME: QT_TRANSLATE_NOOP(
        "Seasons", "With the programmes evened out it may be chance: {rate} against {other} ({odds})."
    ),
    Grouping.EGG_AGE: QT_TRANSLATE_NOOP(
        "Seasons", "With the ages of the eggs evened out it may be chance: {rate} against {other} ({odds})."
    ),
    Grouping.SOURCE: QT_TRANSLATE_NOOP(
        "Seasons", "With own and shipped eggs evened out it may be chance: {rate} against {other} ({odds})."
    ),
}
#: What can not be told from what, where all eggs of a group went into one other; ``two``: The two; Pen and machine.
ONE_ONLY = {
    Grouping.SEASON: QT_TRANSLATE_NOOP(
        "Seasons", "{two} can not be told apart: all {eggs} were set in season {other}."
    ),
    Grouping.MONTH: QT_TRANSLATE_NOOP(
        "Seasons", "{two} can not be told apart: all {eggs} were set in {other}."
    ),
    Grouping.PEN: QT_TRANSLATE_NOOP("Seasons", "{two} can not be told apart: all {eggs} came from {other}."),
    Grouping.DAM: QT_TRANSLATE_NOOP("Seasons", "{two} can not be told apart: all {eggs} came from {other}."),
    Grouping.BREED: QT_TRANSLATE_NOOP(
        "Seasons", "{two} can not be told apart: all {eggs} were of one breed, {other}."
    ),
    Grouping.MACHINE: QT_TRANSLATE_NOOP(
        "Seasons", "{two} can not be told apart: all {eggs} went into one machine, {other}."
    ),
    Grouping.SPECIES: QT_TRANSLATE_NOOP(
        "Seasons", "{two} can not be told apart: all {eggs} were of one species, {other}."
    ),
    Grouping.PROGRAMME: QT_TRANSLATE_NOOP(
        "Seasons", "{two} can not be told apart: all {eggs} had one programme, {other}."
    ),
    Grouping.EGG_AGE: QT_TRANSLATE_NOOP(
        "Seasons", "{two} can not be told apart: all {eggs} were of one age, {other}."
    ),
    Grouping.SOURCE: QT_TRANSLATE_NOOP("Seasons", "{two} can not be told apart: all {eggs} were {other}."),
}
#: The same where its eggs went into several, but hardly any with the eggs of other groups.
MIXED = {
    Grouping.SEASON: QT_TRANSLATE_NOOP(
        "Seasons", "{two} can not be told apart: {group} hardly shared a season with the others."
    ),
    Grouping.MONTH: QT_TRANSLATE_NOOP(
        "Seasons", "{two} can not be told apart: {group} hardly shared a month with the others."
    ),
    Grouping.PEN: QT_TRANSLATE_NOOP(
        "Seasons", "{two} can not be told apart: {group} hardly shared a pen with the others."
    ),
    Grouping.DAM: QT_TRANSLATE_NOOP(
        "Seasons", "{two} can not be told apart: {group} hardly shared a dam with the others."
    ),
    Grouping.BREED: QT_TRANSLATE_NOOP(
        "Seasons", "{two} can not be told apart: {group} hardly shared a breed with the others."
    ),
    Grouping.MACHINE: QT_TRANSLATE_NOOP(
        "Seasons", "{two} can not be told apart: {group} hardly shared a machine with the others."
    ),
    Grouping.SPECIES: QT_TRANSLATE_NOOP(
        "Seasons", "{two} can not be told apart: {group} hardly shared a species with the others."
    ),
    Grouping.PROGRAMME: QT_TRANSLATE_NOOP(
        "Seasons", "{two} can not be told apart: {group} hardly shared a programme with the others."
    ),
    Grouping.EGG_AGE: QT_TRANSLATE_NOOP(
        "Seasons", "{two} can not be told apart: {group} hardly shared an age of the eggs with the others."
    ),
    Grouping.SOURCE: QT_TRANSLATE_NOOP(
        "Seasons",
        "{two} can not be told apart: {group} hardly shared an origin of the eggs with the others.",
    ),
}
TOO_FEW = {
    Grouping.SEASON: QT_TRANSLATE_NOOP("Seasons", "The seasons have too few batches or eggs to be compared."),
    Grouping.MONTH: QT_TRANSLATE_NOOP("Seasons", "The months have too few batches or eggs to be compared."),
    Grouping.PEN: QT_TRANSLATE_NOOP("Seasons", "The pens have too few batches or eggs to be compared."),
    Grouping.DAM: QT_TRANSLATE_NOOP("Seasons", "The dams have too few batches or eggs to be compared."),
    Grouping.BREED: QT_TRANSLATE_NOOP("Seasons", "The breeds have too few batches or eggs to be compared."),
    Grouping.MACHINE: QT_TRANSLATE_NOOP(
        "Seasons", "The machines have too few batches or eggs to be compared."
    ),
    Grouping.SPECIES: QT_TRANSLATE_NOOP(
        "Seasons", "The species have too few batches or eggs to be compared."
    ),
    Grouping.PROGRAMME: QT_TRANSLATE_NOOP(
        "Seasons", "The programmes have too few batches or eggs to be compared."
    ),
    Grouping.EGG_AGE: QT_TRANSLATE_NOOP(
        "Seasons", "The ages of the eggs have too few batches or eggs to be compared."
    ),
    Grouping.SOURCE: QT_TRANSLATE_NOOP(
        "Seasons", "Own and shipped eggs have too few batches or eggs to be compared."
    ),
}

ONLY_ONE = {
    Grouping.SEASON: QT_TRANSLATE_NOOP("Seasons", "All these batches are of one season, {group}."),
    Grouping.MONTH: QT_TRANSLATE_NOOP("Seasons", "All these batches were set in one month, {group}."),
    Grouping.PEN: QT_TRANSLATE_NOOP(
        "Seasons", "Only one pen is noted here, {group}: there is nothing to compare it with."
    ),
    Grouping.DAM: QT_TRANSLATE_NOOP(
        "Seasons", "Only one dam is noted here, {group}: there is nothing to compare it with."
    ),
    Grouping.BREED: QT_TRANSLATE_NOOP(
        "Seasons", "Only one breed is noted here, {group}: there is nothing to compare it with."
    ),
    Grouping.MACHINE: QT_TRANSLATE_NOOP(
        "Seasons", "Only one machine is noted here, {group}: there is nothing to compare it with."
    ),
    Grouping.SPECIES: QT_TRANSLATE_NOOP("Seasons", "All these batches are of one species, {group}."),
    Grouping.PROGRAMME: QT_TRANSLATE_NOOP(
        "Seasons", "Only one programme is noted here, {group}: there is nothing to compare it with."
    ),
    Grouping.EGG_AGE: QT_TRANSLATE_NOOP("Seasons", "All eggs with a day of laying are of one age, {group}."),
    Grouping.SOURCE: QT_TRANSLATE_NOOP("Seasons", "All these batches are {group}."),
}
NOT_NOTED = {
    Grouping.SEASON: QT_TRANSLATE_NOOP("Seasons", "No season is noted for these batches."),
    Grouping.MONTH: QT_TRANSLATE_NOOP("Seasons", "No date of setting is noted for these batches."),
    Grouping.PEN: QT_TRANSLATE_NOOP("Seasons", "No pen is noted for these eggs."),
    Grouping.DAM: QT_TRANSLATE_NOOP("Seasons", "No dam is noted for these eggs."),
    Grouping.BREED: QT_TRANSLATE_NOOP("Seasons", "No breed is noted for these batches."),
    Grouping.MACHINE: QT_TRANSLATE_NOOP("Seasons", "No machine is noted for these batches."),
    Grouping.SPECIES: QT_TRANSLATE_NOOP("Seasons", "No species is noted for these batches."),
    Grouping.PROGRAMME: QT_TRANSLATE_NOOP("Seasons", "No programme is noted for these batches."),
    Grouping.EGG_AGE: QT_TRANSLATE_NOOP("Seasons", "No day of laying is noted for these eggs."),
    Grouping.SOURCE: QT_TRANSLATE_NOOP("Seasons", "It is not noted whether these eggs were own or shipped."),
}
#: Behind so many more batches: of what.
OF_EACH = {
    Grouping.SEASON: QT_TRANSLATE_NOOP("Seasons", "of each season"),
    Grouping.MONTH: QT_TRANSLATE_NOOP("Seasons", "of each month"),
    Grouping.PEN: QT_TRANSLATE_NOOP("Seasons", "of each pen"),
    Grouping.DAM: QT_TRANSLATE_NOOP("Seasons", "of each dam"),
    Grouping.BREED: QT_TRANSLATE_NOOP("Seasons", "of each breed"),
    Grouping.MACHINE: QT_TRANSLATE_NOOP("Seasons", "in each machine"),
    Grouping.SPECIES: QT_TRANSLATE_NOOP("Seasons", "of each species"),
    Grouping.PROGRAMME: QT_TRANSLATE_NOOP("Seasons", "under each programme"),
    Grouping.EGG_AGE: QT_TRANSLATE_NOOP("Seasons", "of each age of eggs"),
    Grouping.SOURCE: QT_TRANSLATE_NOOP("Seasons", "each of own and of shipped eggs"),
}

#: By what tables of sentences are checked to be whole.
ALL_RATE_SENTENCES = (FEWER, MORE, OVER_TIME, STAYED, NOT_KNOWN)
ALL_GROUPING_SENTENCES = (HOLDS, FADES, ONE_ONLY, MIXED, TOO_FEW, ONLY_ONE, NOT_NOTED, OF_EACH)
