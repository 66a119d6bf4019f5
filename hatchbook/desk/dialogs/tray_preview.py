"""The tray as a batch will fill it: the letter of the pen on each egg, and which ones are marked for weighing."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from PySide6.QtCore import (
    QAbstractTableModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QPointF,
    QRectF,
    Qt,
)
from PySide6.QtGui import QFontMetricsF, QPainter, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QHeaderView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from hatchbook.desk.painting.glyphs import paint_egg
from hatchbook.desk.painting.marks import duty_mark, paint_mark
from hatchbook.desk.theme.theme import scheme_of
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.widgets.themed import paint_focus_ring
from hatchbook.desk.words.eggs import place_name
from hatchbook.figures.egg_places import Place, PlannedEgg
from hatchbook.figures.planning import PenRow
from hatchbook.journal import Machine
from hatchbook.trade.codes import DutyKind, Fate

Index = QModelIndex | QPersistentModelIndex

CELL_ROLE = Qt.ItemDataRole.UserRole + 1
_NOWHERE = QModelIndex()
_EGG_MOST, _EGG_LEAST = 28.0, 14.0
_HIGHEST = 190.0
_GAP = 3


@dataclass(frozen=True)
class PlaceCell:
    """A place on the tray: the egg planned for it, or one of another batch that lies there."""

    place: Place
    letter: str = ""
    pen_name: str = ""
    number: int = 0
    marked: bool = False
    others: bool = False

    @property
    def filled(self) -> bool:
        """Whether an egg of the planned batch comes here."""
        return self.number > 0


class TrayPreviewModel(QAbstractTableModel):
    """The places of all trays, one tray under the other."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._machine: Machine | None = None
        self._cells: dict[Place, PlaceCell] = {}

    def show_eggs(
        self,
        machine: Machine | None,
        rows: Sequence[PenRow],
        eggs: Sequence[PlannedEgg],
        taken: Collection[Place],
    ) -> None:
        """Shows where the eggs of a plan come to lie."""
        self.beginResetModel()
        self._machine = machine
        self._cells = {place: PlaceCell(place, others=True) for place in taken}
        for egg in eggs:
            if egg.place is not None:
                row = rows[egg.row]
                self._cells[egg.place] = PlaceCell(
                    egg.place, row.letter, row.pen_name, egg.number, egg.marked
                )
        self.endResetModel()

    def rowCount(self, parent: Index = _NOWHERE) -> int:
        """Rows of all trays."""
        if parent.isValid() or self._machine is None:
            return 0
        return self._machine.trays * self._machine.tray_rows

    def columnCount(self, parent: Index = _NOWHERE) -> int:
        """Eggs in a row."""
        return 0 if parent.isValid() or self._machine is None else self._machine.tray_columns

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """The place, or its sentence."""
        if not index.isValid() or self._machine is None:
            return None
        tray, row = divmod(index.row(), self._machine.tray_rows)
        place = (tray + 1, row + 1, index.column() + 1)
        cell = self._cells.get(place, PlaceCell(place))
        if role == CELL_ROLE:
            return cell
        if role in (Qt.ItemDataRole.AccessibleTextRole, Qt.ItemDataRole.ToolTipRole):
            return self._sentence(cell)
        return None

    def _sentence(self, cell: PlaceCell) -> str:
        trays = self._machine.trays if self._machine is not None else 1
        place = place_name(cell.place[1], cell.place[2], cell.place[0], trays)
        if cell.others:
            return self.tr("{place}, an egg of another batch").format(place=place)
        if not cell.filled:
            return self.tr("{place}, empty").format(place=place)
        parts = [place, self.tr("egg {number}").format(number=cell.number)]
        parts += [part for part in (cell.letter, cell.pen_name) if part]
        if cell.marked:
            parts.append(self.tr("marked for weighing"))
        return ", ".join(parts)


class TrayPreviewDelegate(QStyledItemDelegate):
    """Paints one place."""

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """An egg with its letter, a faint one of another batch, or a dot."""
        scheme = scheme_of(option.widget)
        cell: PlaceCell = index.data(CELL_ROLE)
        rect = QRectF(option.rect)
        side = min(rect.width(), rect.height()) - _GAP
        square = QRectF(0, 0, side, side)
        square.moveCenter(rect.center())
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if cell.filled:
            paint_egg(painter, square, Fate.SET, scheme)
            self._paint_letter(painter, square, cell, scheme_of(option.widget).ink.name())
            if cell.marked:
                corner = square.bottomRight() - QPointF(1, 2)
                paint_mark(painter, duty_mark(DutyKind.WEIGH), corner, side * 0.3, scheme.weight)
        elif cell.others:
            painter.setOpacity(0.4)
            paint_egg(painter, square, Fate.SET, scheme)
            painter.setOpacity(1.0)
        else:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(scheme.rule_strong)
            painter.drawEllipse(square.center(), 1.6, 1.6)
        if option.state & QStyle.StateFlag.State_HasFocus:
            paint_focus_ring(painter, rect, scheme, 2.0)
        painter.restore()

    @staticmethod
    def _paint_letter(painter: QPainter, square: QRectF, cell: PlaceCell, ink: str) -> None:
        letter = cell.letter[:2]
        if not letter or square.width() < 14:
            return
        font = role_font(TypeRole.CAPTION, bold=cell.marked)
        metrics = QFontMetricsF(font)
        room = square.width() * 0.72
        widest = max(metrics.horizontalAdvance(letter), 1.0)
        if widest > room:
            font.setPointSizeF(max(font.pointSizeF() * room / widest, 5.0))
        painter.setFont(font)
        painter.setPen(ink)
        painter.drawText(square.adjusted(0, 1, 0, 1), Qt.AlignmentFlag.AlignCenter, letter)


class TrayPreview(QTableView):
    """The trays, for looking only."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.tray = TrayPreviewModel(self)
        self.setModel(self.tray)
        self.setItemDelegate(TrayPreviewDelegate(self))
        self.setAccessibleName(self.tr("Tray, eggs by pen"))
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setShowGrid(False)
        self.setTabKeyNavigation(False)
        self.setSelectionMode(QAbstractItemView.SelectionMode.NoSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        for head in (self.horizontalHeader(), self.verticalHeader()):
            head.hide()
            head.setMinimumSectionSize(4)
            head.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.viewport().setAutoFillBackground(False)
        self.tray.modelReset.connect(self._fit)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """The eggs are as large as there is room for."""
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        columns, rows = self.tray.columnCount(), self.tray.rowCount()
        if not columns or not rows:
            self.setFixedHeight(round(_EGG_MOST))
            return
        # Many rows may scroll; a row never does.
        side = int(min(_EGG_MOST, self.width() / columns, max(_HIGHEST / rows, _EGG_LEAST)))
        if side * rows > _HIGHEST:
            side = min(side, (self.width() - self.verticalScrollBar().sizeHint().width()) // columns)
        self.horizontalHeader().setDefaultSectionSize(side)
        self.verticalHeader().setDefaultSectionSize(side)
        self.setFixedHeight(min(side * rows, round(_HIGHEST)) + 2)
