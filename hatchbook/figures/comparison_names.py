"""How the groups of a comparison are called, and in which order they stand."""

from __future__ import annotations

from collections.abc import Iterable

from hatchbook.figures.comparison_results import GroupName
from hatchbook.figures.comparison_rows import EggAge, Grouping, Key
from hatchbook.figures.record_names import RecordNames
from hatchbook.journal import Journal
from hatchbook.trade.codes import EggSource

_CODED: dict[Grouping, tuple[str, ...]] = {
    Grouping.EGG_AGE: tuple(EggAge),
    Grouping.SOURCE: tuple(EggSource),
}


class GroupNames:
    """Names the groups of a journal; each record is read once."""

    def __init__(self, journal: Journal) -> None:
        self._records = RecordNames(journal)
        self._pens = {pen.uid: pen.name for pen in journal.pens.all()}
        self._dams = {
            bird.uid: (bird.name, self._pens.get(bird.pen, "")) for bird in journal.pens.all_members()
        }
        self._machines = {machine.uid: machine.name for machine in journal.machines.all()}
        self._first_month = journal.settings.season_first_month

    def group(self, grouping: Grouping, key: Key) -> GroupName:
        """The name of a group."""
        if key is None:
            return GroupName(grouping, None)
        match grouping:
            case Grouping.PEN:
                return GroupName(grouping, key, self._pens.get(key, ""))
            case Grouping.DAM:
                return GroupName(grouping, key, *self._dams.get(key, ("", "")))
            case Grouping.MACHINE:
                return GroupName(grouping, key, self._machines.get(key, ""))
            case Grouping.PROGRAMME:
                return GroupName(grouping, key, self._records.programme_coded(key))
            case Grouping.BREED:
                return GroupName(grouping, key, key)
        return GroupName(grouping, key)

    def in_order(self, grouping: Grouping, keys: Iterable[Key]) -> list[GroupName]:
        """The groups in their own order, months as they follow in a season; what was not noted last."""
        names = [self.group(grouping, key) for key in keys]
        return sorted(names, key=lambda group: (group.key is None, _place(group, self._first_month)))


def _place(group: GroupName, first_month: int) -> tuple[int, str, str]:
    key = group.key or ""
    match group.grouping:
        case Grouping.SEASON:
            return (int(key or 0), "", "")
        case Grouping.MONTH:
            return ((int(key or 0) - first_month) % 12, "", "")
    codes = _CODED.get(group.grouping, ())
    at = codes.index(key) if key in codes else 0
    return (at, (group.within or group.name or key).casefold(), group.name.casefold())
