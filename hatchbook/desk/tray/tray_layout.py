"""How large the places of a tray are drawn, and where its headings stand."""

from __future__ import annotations

from PySide6.QtGui import QFontMetricsF
from PySide6.QtWidgets import QTableView

from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.tray.tray_model import TrayModel

_LARGEST, _LARGEST_FIXED, _LEAST = 56, 34, 11
_HEADING_AIR = 6


def side_for(model: TrayModel, width: int, height: int, *, fixed: bool) -> int:
    """The side of a place, px, so that all places fit into a room; never so small that nothing can be told.

    Args:
        fixed: the room is one of many on a page, and the eggs are not to dominate it.
    """
    headings = len(model.heading_rows())
    rows, columns = max(model.rowCount() - headings, 1), max(model.columnCount(), 1)
    side = min(width // columns, (height - headings * heading_height()) // rows)
    return max(_LEAST, min(_LARGEST_FIXED if fixed else _LARGEST, side))


def lay_out(view: QTableView, side: int) -> int:
    """Sets all places to a side and the headings over the whole width; gives the height of all rows, px."""
    model = view.model()
    if not isinstance(model, TrayModel):
        return 0
    view.horizontalHeader().setDefaultSectionSize(side)
    head = view.verticalHeader()
    head.setDefaultSectionSize(side)
    view.clearSpans()
    headings = model.heading_rows()
    for row in range(model.rowCount()):
        # A section that was resized once keeps its size when the default changes.
        head.resizeSection(row, heading_height() if row in headings else side)
    if model.columnCount() > 1:
        for row in headings:
            view.setSpan(row, 0, 1, model.columnCount())
    return side * (model.rowCount() - len(headings)) + heading_height() * len(headings)


def heading_height() -> int:
    """The height of a heading, px."""
    return round(QFontMetricsF(role_font(TypeRole.CAPTION)).height()) + _HEADING_AIR
