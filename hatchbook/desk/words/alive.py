"""How many eggs are alive, and what the others are."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.codes import fate_word, in_sentence
from hatchbook.trade.codes import Fate

#: The fates that count as alive: not looked into yet, seen alive, pipped, or out.
ALIVE_STILL = (
    Fate.SET,
    Fate.ALIVE,
    Fate.INTERNAL_PIP,
    Fate.EXTERNAL_PIP,
    Fate.HATCHED,
    Fate.HELPED,
)
_REST = tuple(fate for fate in Fate if fate not in ALIVE_STILL)
_SHOWN_TOO = (Fate.HATCHED, Fate.HELPED, Fate.EXTERNAL_PIP)


def _tr(text: str) -> str:
    return QCoreApplication.translate("Alive", text)


def rest_sentence(counts: Mapping[Fate, int]) -> str:
    """1 unsure, 1 dead early, 3 clear; or that nothing was looked into yet."""
    if {fate for fate, count in counts.items() if count} <= {Fate.SET}:
        return _tr("not candled yet")
    parts = [
        f"{counts[fate]} {in_sentence(fate_word(fate))}" for fate in (*_SHOWN_TOO, *_REST) if counts.get(fate)
    ]
    return ", ".join(parts) if parts else _tr("all alive")
