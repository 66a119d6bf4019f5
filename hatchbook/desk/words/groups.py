"""What the groups of a comparison are called, by themselves and within sentences."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication, QLocale

from hatchbook.desk.words.codes import in_sentence, species_word, word
from hatchbook.desk.words.dates import season_word
from hatchbook.desk.words.noop import QT_TRANSLATE_NOOP
from hatchbook.figures.comparison_results import GroupName
from hatchbook.figures.comparison_rows import EggAge, Grouping
from hatchbook.statistics.tallies import RateKind
from hatchbook.trade.codes import EggSource


def _tr(text: str, n: int = -1) -> str:
    return QCoreApplication.translate("Groups", text, "", n)


_GROUPINGS = {
    Grouping.SEASON: QT_TRANSLATE_NOOP("Groups", "Season"),
    Grouping.MONTH: QT_TRANSLATE_NOOP("Groups", "Month"),
    Grouping.PEN: QT_TRANSLATE_NOOP("Groups", "Pen"),
    Grouping.DAM: QT_TRANSLATE_NOOP("Groups", "Dam"),
    Grouping.BREED: QT_TRANSLATE_NOOP("Groups", "Breed"),
    Grouping.MACHINE: QT_TRANSLATE_NOOP("Groups", "Machine"),
    Grouping.SPECIES: QT_TRANSLATE_NOOP("Groups", "Species"),
    Grouping.PROGRAMME: QT_TRANSLATE_NOOP("Groups", "Programme"),
    Grouping.EGG_AGE: QT_TRANSLATE_NOOP("Groups", "Age of eggs"),
    Grouping.SOURCE: QT_TRANSLATE_NOOP("Groups", "Own or shipped"),
}
_SECTIONS = {
    Grouping.SEASON: QT_TRANSLATE_NOOP("Groups", "By season"),
    Grouping.MONTH: QT_TRANSLATE_NOOP("Groups", "By month of setting"),
    Grouping.PEN: QT_TRANSLATE_NOOP("Groups", "By pen"),
    Grouping.DAM: QT_TRANSLATE_NOOP("Groups", "By dam"),
    Grouping.BREED: QT_TRANSLATE_NOOP("Groups", "By breed"),
    Grouping.MACHINE: QT_TRANSLATE_NOOP("Groups", "By machine"),
    Grouping.SPECIES: QT_TRANSLATE_NOOP("Groups", "By species"),
    Grouping.PROGRAMME: QT_TRANSLATE_NOOP("Groups", "By programme"),
    Grouping.EGG_AGE: QT_TRANSLATE_NOOP("Groups", "By age of the eggs when set"),
    Grouping.SOURCE: QT_TRANSLATE_NOOP("Groups", "By own and shipped eggs"),
}
_UNKNOWN = {
    Grouping.SEASON: QT_TRANSLATE_NOOP("Groups", "season not noted"),
    Grouping.MONTH: QT_TRANSLATE_NOOP("Groups", "date not noted"),
    Grouping.PEN: QT_TRANSLATE_NOOP("Groups", "no pen noted"),
    Grouping.DAM: QT_TRANSLATE_NOOP("Groups", "no dam noted"),
    Grouping.BREED: QT_TRANSLATE_NOOP("Groups", "no breed noted"),
    Grouping.MACHINE: QT_TRANSLATE_NOOP("Groups", "no machine noted"),
    Grouping.SPECIES: QT_TRANSLATE_NOOP("Groups", "no species noted"),
    Grouping.PROGRAMME: QT_TRANSLATE_NOOP("Groups", "no programme noted"),
    Grouping.EGG_AGE: QT_TRANSLATE_NOOP("Groups", "day of laying not noted"),
    Grouping.SOURCE: QT_TRANSLATE_NOOP("Groups", "not noted"),
}
#: Each names the groups of a grouping, as the subject of a sentence.
_PLURALS = {
    Grouping.SEASON: QT_TRANSLATE_NOOP("Groups", "The seasons"),
    Grouping.MONTH: QT_TRANSLATE_NOOP("Groups", "The months"),
    Grouping.PEN: QT_TRANSLATE_NOOP("Groups", "The pens"),
    Grouping.DAM: QT_TRANSLATE_NOOP("Groups", "The dams"),
    Grouping.BREED: QT_TRANSLATE_NOOP("Groups", "The breeds"),
    Grouping.MACHINE: QT_TRANSLATE_NOOP("Groups", "The machines"),
    Grouping.SPECIES: QT_TRANSLATE_NOOP("Groups", "The species"),
    Grouping.PROGRAMME: QT_TRANSLATE_NOOP("Groups", "The programmes"),
    Grouping.EGG_AGE: QT_TRANSLATE_NOOP("Groups", "The ages of the eggs"),
    Grouping.SOURCE: QT_TRANSLATE_NOOP("Groups", "Own and shipped eggs"),
}
_OWN_AGES = {
    EggAge.UP_TO_3: QT_TRANSLATE_NOOP("Groups", "up to 3 days"),
    EggAge.UP_TO_7: QT_TRANSLATE_NOOP("Groups", "4–7 days"),
    EggAge.UP_TO_14: QT_TRANSLATE_NOOP("Groups", "8–14 days"),
    EggAge.OLDER: QT_TRANSLATE_NOOP("Groups", "over 14 days"),
}
#: "… fewer of the fertile eggs hatch than …": where, with the name of the group.
_WHERE = {
    Grouping.SEASON: QT_TRANSLATE_NOOP("Groups", "in {group}"),
    Grouping.MONTH: QT_TRANSLATE_NOOP("Groups", "when set in {group}"),
    Grouping.PEN: QT_TRANSLATE_NOOP("Groups", "from {group}"),
    Grouping.DAM: QT_TRANSLATE_NOOP("Groups", "from {group}"),
    Grouping.BREED: QT_TRANSLATE_NOOP("Groups", "of {group}"),
    Grouping.MACHINE: QT_TRANSLATE_NOOP("Groups", "in {group}"),
    Grouping.SPECIES: QT_TRANSLATE_NOOP("Groups", "of {group}"),
    Grouping.PROGRAMME: QT_TRANSLATE_NOOP("Groups", "under {group}"),
    Grouping.EGG_AGE: QT_TRANSLATE_NOOP("Groups", "at an age of {group}"),
    Grouping.SOURCE: QT_TRANSLATE_NOOP("Groups", "among {group}"),
}
#: "All … went into one machine": the eggs of a group.
_EGGS = {
    Grouping.SEASON: QT_TRANSLATE_NOOP("Groups", "eggs of season {group}"),
    Grouping.MONTH: QT_TRANSLATE_NOOP("Groups", "eggs set in {group}"),
    Grouping.PEN: QT_TRANSLATE_NOOP("Groups", "{group} eggs"),
    Grouping.DAM: QT_TRANSLATE_NOOP("Groups", "eggs of {group}"),
    Grouping.BREED: QT_TRANSLATE_NOOP("Groups", "{group} eggs"),
    Grouping.MACHINE: QT_TRANSLATE_NOOP("Groups", "eggs in {group}"),
    Grouping.SPECIES: QT_TRANSLATE_NOOP("Groups", "{group} eggs"),
    Grouping.PROGRAMME: QT_TRANSLATE_NOOP("Groups", "eggs under {group}"),
    Grouping.EGG_AGE: QT_TRANSLATE_NOOP("Groups", "eggs of {group}"),
    Grouping.SOURCE: QT_TRANSLATE_NOOP("Groups", "{group}"),
}
_ELSEWHERE = {
    Grouping.SEASON: QT_TRANSLATE_NOOP("Groups", "in the other seasons"),
    Grouping.MONTH: QT_TRANSLATE_NOOP("Groups", "in the other months"),
    Grouping.PEN: QT_TRANSLATE_NOOP("Groups", "from the other pens"),
    Grouping.DAM: QT_TRANSLATE_NOOP("Groups", "from the other dams"),
    Grouping.BREED: QT_TRANSLATE_NOOP("Groups", "of the other breeds"),
    Grouping.MACHINE: QT_TRANSLATE_NOOP("Groups", "in the other machines"),
    Grouping.SPECIES: QT_TRANSLATE_NOOP("Groups", "of the other species"),
    Grouping.PROGRAMME: QT_TRANSLATE_NOOP("Groups", "under the other programmes"),
    Grouping.EGG_AGE: QT_TRANSLATE_NOOP("Groups", "at the other ages"),
    Grouping.SOURCE: QT_TRANSLATE_NOOP("Groups", "among the others"),
}
#: The same where groups that stand out themselves are not among the others.
_REMAINING = {
    Grouping.SEASON: QT_TRANSLATE_NOOP("Groups", "in the remaining seasons"),
    Grouping.MONTH: QT_TRANSLATE_NOOP("Groups", "in the remaining months"),
    Grouping.PEN: QT_TRANSLATE_NOOP("Groups", "from the remaining pens"),
    Grouping.DAM: QT_TRANSLATE_NOOP("Groups", "from the remaining dams"),
    Grouping.BREED: QT_TRANSLATE_NOOP("Groups", "of the remaining breeds"),
    Grouping.MACHINE: QT_TRANSLATE_NOOP("Groups", "in the remaining machines"),
    Grouping.SPECIES: QT_TRANSLATE_NOOP("Groups", "of the remaining species"),
    Grouping.PROGRAMME: QT_TRANSLATE_NOOP("Groups", "under the remaining programmes"),
    Grouping.EGG_AGE: QT_TRANSLATE_NOOP("Groups", "at the remaining ages"),
    Grouping.SOURCE: QT_TRANSLATE_NOOP("Groups", "among the others"),
}
_RATES = {
    RateKind.FERTILITY: QT_TRANSLATE_NOOP("Groups", "Fertile, of set"),
    RateKind.HATCH_OF_FERTILE: QT_TRANSLATE_NOOP("Groups", "Hatched, of fertile"),
    RateKind.HATCH_OF_SET: QT_TRANSLATE_NOOP("Groups", "Hatched, of set"),
    RateKind.EARLY_DEAD: QT_TRANSLATE_NOOP("Groups", "Dead early, of fertile"),
    RateKind.MID_DEAD: QT_TRANSLATE_NOOP("Groups", "Dead mid, of fertile"),
    RateKind.LATE_DEAD: QT_TRANSLATE_NOOP("Groups", "Dead late, of fertile"),
    RateKind.PIPPED_DEAD: QT_TRANSLATE_NOOP("Groups", "Died in pip, of fertile"),
}


def grouping_word(grouping: Grouping) -> str:
    """What batches are grouped by: Pen."""
    return _tr(_GROUPINGS[grouping])


def grouping_in_words(grouping: Grouping) -> str:
    """The same within a sentence: pen; where eggs were laid or bought is their origin."""
    return _tr("origin") if grouping is Grouping.SOURCE else in_sentence(grouping_word(grouping))


def section_title(grouping: Grouping) -> str:
    """Above the groups of a grouping: By pen."""
    return _tr(_SECTIONS[grouping])


def groups_word(grouping: Grouping) -> str:
    """All groups of a grouping, at the beginning of a sentence: The pens."""
    return _tr(_PLURALS[grouping])


def rate_word(kind: RateKind) -> str:
    """A rate with what it is a share of: Hatched, of fertile."""
    return _tr(_RATES[kind])


def group_word(group: GroupName, first_month: int = 1) -> str:
    """A group by itself: Brook pen; Season 2025/26; April; 4–7 days; Bramble, Orchard pen."""
    if group.key is None:
        return _tr(_UNKNOWN[group.grouping])
    match group.grouping:
        case Grouping.SEASON:
            return season_word(int(group.key), first_month)
        case Grouping.MONTH:
            return QLocale().standaloneMonthName(int(group.key))
        case Grouping.EGG_AGE:
            return _tr(_OWN_AGES[EggAge(group.key)])
        case Grouping.SOURCE:
            return word(EggSource(group.key))
        case Grouping.SPECIES:
            return species_word(group.key)
        case Grouping.DAM if group.within:
            return _tr("{dam}, {pen}").format(dam=group.name, pen=group.within)
    return group.name or _tr("no longer in the journal")


def group_in_words(group: GroupName, first_month: int = 1) -> str:
    """A group by itself within a sentence, where words begin with a small letter: shipped eggs."""
    name = group_word(group, first_month)
    coded = (Grouping.SOURCE, Grouping.SPECIES, Grouping.EGG_AGE)
    return in_sentence(name) if group.grouping in coded else name


def where(group: GroupName, first_month: int = 1) -> str:
    """A group within a sentence that says where something is so: from Brook pen; in season 2026."""
    name = group_in_words(group, first_month)
    if group.grouping is Grouping.SEASON:
        name = _tr("season {year}").format(year=name)
    return _tr(_WHERE[group.grouping]).format(group=name)


def eggs_of(group: GroupName, first_month: int = 1) -> str:
    """The eggs of a group within a sentence: Brook pen eggs; eggs of season 2026."""
    return _tr(_EGGS[group.grouping]).format(group=group_in_words(group, first_month))


def elsewhere(grouping: Grouping, *, remaining: bool = False) -> str:
    """The other groups within such a sentence: from the other pens."""
    return _tr((_REMAINING if remaining else _ELSEWHERE)[grouping])


#: By what tables of words are checked to be whole.
ALL_GROUP_WORDS = (_GROUPINGS, _SECTIONS, _UNKNOWN, _PLURALS, _WHERE, _EGGS, _ELSEWHERE, _REMAINING)
