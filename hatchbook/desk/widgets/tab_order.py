"""In which order Tab goes over the parts of a window, where it is not the one in which they were made."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget


def tab_stops(part: QWidget) -> list[QWidget]:
    """The widgets within a part, itself among them, at which Tab stops, in its order."""
    return [one for one in _chain(part) if (one is part or part.isAncestorOf(one)) and _is_stop(one)]


def tab_through(parts: Iterable[QWidget]) -> None:
    """Lets Tab go from part to part, within each as before."""
    for before, after in pairwise([stop for part in parts for stop in tab_stops(part)]):
        QWidget.setTabOrder(before, after)


def stop_before(part: QWidget) -> QWidget | None:
    """The last widget before a part at which Tab stops; None where there is none."""
    found = [one for one in _chain(part) if not (one is part or part.isAncestorOf(one)) and _is_stop(one)]
    return found[-1] if found else None


def _chain(begin: QWidget) -> Iterator[QWidget]:
    """All widgets of the window in the order of focus, from one on."""
    one: QWidget | None = begin
    while one is not None:
        yield one
        one = one.nextInFocusChain()
        if one is begin:
            return


def _is_stop(widget: QWidget) -> bool:
    """Whether Tab stops at a widget itself, not at one that it hands the focus to."""
    return bool(widget.focusPolicy() & Qt.FocusPolicy.TabFocus) and widget.focusProxy() is None
