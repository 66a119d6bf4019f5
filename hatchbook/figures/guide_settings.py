"""How water and vent of a machine stood at any time, as its events tell."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass

from hatchbook.journal import Event
from hatchbook.statistics.settled import Disturbance
from hatchbook.trade.codes import EventKind
from hatchbook.trade.instants import DAY_S

WATER_KNOWN_BEFORE_S = 2 * DAY_S
"""A filling so long before a batch was set still tells how its water stood; an older one was of another batch."""
_LASTING = frozenset({EventKind.LID, EventKind.POWER_CUT})
_UNTIMED_CUT_S = 6 * 3600
"""So long a power cut whose end was not noted is taken to have moved the air (our choice)."""
_UNTIMED_LID_S = 600


@dataclass(frozen=True)
class Setting:
    """Channels filled and vent from an instant on; None where not known, or noted as what cannot be."""

    at: int
    channels: int | None
    vent: float | None


@dataclass(frozen=True)
class SettingLine:
    """The settings of a machine in the order of time, and all that disturbed its air."""

    settings: tuple[Setting, ...]
    disturbances: tuple[Disturbance, ...]
    impossible: int

    def at(self, instant: int) -> Setting | None:
        """The setting that stood at an instant; None before the first."""
        position = bisect_right(self.settings, instant, key=lambda one: one.at)
        return self.settings[position - 1] if position else None

    def since(self, instant: int) -> int | None:
        """Since when the setting of an instant has stood unchanged; None where it is not known."""
        position = bisect_right(self.settings, instant, key=lambda one: one.at) - 1
        if position < 0:
            return None
        now = self.settings[position]
        while position and self._same(self.settings[position - 1], now):
            position -= 1
        return self.settings[position].at

    @staticmethod
    def _same(one: Setting, other: Setting) -> bool:
        return (one.channels, one.vent) == (other.channels, other.vent)


def setting_line(events: Sequence[Event], channels: int) -> SettingLine:
    """The settings that follow from a machine's events, oldest first.

    Args:
        channels: how many it has; 0 where that is not known. A filling of more than there are tells nothing.
    """
    settings: list[Setting] = []
    disturbances: list[Disturbance] = []
    impossible = 0
    filled: int | None = None
    vent: float | None = None
    for event in events:
        if event.kind is EventKind.WATER:
            if event.channels_filled is not None and channels and event.channels_filled > channels:
                impossible += 1
                filled = None
            elif event.channels_filled is not None:
                filled = event.channels_filled
        elif event.kind is EventKind.VENT:
            vent = event.vent if event.vent is None or 0 <= event.vent <= 1 else None
        elif event.kind is EventKind.CLEANED:
            filled = None
        elif event.kind not in _LASTING and event.kind is not EventKind.MISTED:
            continue
        disturbances.append(Disturbance(event.at, _until(event)))
        if event.kind in (EventKind.WATER, EventKind.VENT, EventKind.CLEANED):
            settings.append(Setting(event.at, filled, vent))
    return SettingLine(tuple(settings), tuple(disturbances), impossible)


def _until(event: Event) -> int:
    if event.kind not in _LASTING:
        return event.at
    untimed = _UNTIMED_CUT_S if event.kind is EventKind.POWER_CUT else _UNTIMED_LID_S
    return event.at + untimed if event.ends_at is None else max(event.at, event.ends_at)
