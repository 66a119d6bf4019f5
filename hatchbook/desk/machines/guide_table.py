"""The table of the guide: what each number of filled channels gives with each opening of the vent."""

from __future__ import annotations

from PySide6.QtCore import (
    QAbstractTableModel,
    QEvent,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QRectF,
    Qt,
    Signal,
)
from PySide6.QtGui import QFontMetricsF, QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QAbstractItemView, QFrame, QHeaderView, QSizePolicy, QTableView, QWidget

from hatchbook.desk.machines.guide_delegate import CELL_ROLE, GUIDE_ROLE, GuideDelegate
from hatchbook.desk.theme.theme import LOOK_EVENTS
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.widgets.themed import ThemedWidget
from hatchbook.desk.words.guide import expected_text
from hatchbook.desk.words.guide_cells import cell_sentence, channels_head, hours_text, vent_head
from hatchbook.figures.guide_results import GuideCell, MachineGuide

Index = QModelIndex | QPersistentModelIndex

_NOWHERE = QModelIndex()
_LEAST_ROW, _MOST_ROW, _USUAL_HEIGHT = 44, 64, 250


class GuideTableModel(QAbstractTableModel):
    """Rows by filled channels, columns by the vent.

    Roles: ``CELL_ROLE`` the ``GuideCell``, ``GUIDE_ROLE`` the guide it belongs to.
    """

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._guide: MachineGuide | None = None

    @property
    def guide(self) -> MachineGuide | None:
        """What is shown."""
        return self._guide

    def show_guide(self, guide: MachineGuide | None) -> None:
        """Shows another guide; a cursor stays on its cell where the table keeps its shape."""
        before = self._guide
        same = (
            before is not None
            and guide is not None
            and before.vents == guide.vents
            and len(before.cells) == len(guide.cells)
        )
        if same:
            self._guide = guide
            self.dataChanged.emit(self.index(0, 0), self.index(self.rowCount() - 1, self.columnCount() - 1))
            return
        self.beginResetModel()
        self._guide = guide
        self.endResetModel()

    def cell(self, index: Index) -> GuideCell | None:
        """The cell at an index."""
        if self._guide is None or not index.isValid():
            return None
        return self._guide.cells[index.row()][index.column()]

    def rowCount(self, parent: Index = _NOWHERE) -> int:
        """Numbers of filled channels."""
        return 0 if parent.isValid() or self._guide is None else len(self._guide.cells)

    def columnCount(self, parent: Index = _NOWHERE) -> int:
        """Openings of the vent."""
        return 0 if parent.isValid() or self._guide is None else len(self._guide.vents)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """The cell in words, or itself."""
        cell = self.cell(index)
        if cell is None or self._guide is None:
            return None
        if role == CELL_ROLE:
            return cell
        if role == GUIDE_ROLE:
            return self._guide
        if role == Qt.ItemDataRole.DisplayRole:
            return self.tr("{expected}, {hours}").format(
                expected=expected_text(cell.humidity), hours=hours_text(cell)
            )
        if role in (Qt.ItemDataRole.ToolTipRole, Qt.ItemDataRole.AccessibleTextRole):
            return cell_sentence(cell, self._guide)
        return None

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        """Openings across, channels down."""
        if self._guide is None:
            return None
        across = orientation is Qt.Orientation.Horizontal
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole):
            return vent_head(self._guide.vents[section]) if across else channels_head(section)
        if role == Qt.ItemDataRole.TextAlignmentRole:
            side = Qt.AlignmentFlag.AlignHCenter if across else Qt.AlignmentFlag.AlignLeft
            return Qt.AlignmentFlag.AlignVCenter | side
        return None


class _Corner(ThemedWidget):
    """Says what runs across and what down."""

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The ground of the heads, and the word for the columns."""
        with QPainter(self) as painter:
            painter.fillRect(self.rect(), self.scheme.inset)
            painter.fillRect(QRectF(0, self.height() - 1, self.width(), 1), self.scheme.rule_strong)
            painter.setFont(role_font(TypeRole.CAPTION))
            painter.setPen(self.scheme.ink2)
            place = QRectF(self.rect()).adjusted(6, 0, -8, 0)
            painter.drawText(
                place, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight, self.tr("vent →")
            )


class GuideTable(QTableView):
    """Arrows move, Enter or a double click logs the setting under the cursor.

    Signals:
        setting_chosen: channels and vent of the cell that the breeder wants to log.
    """

    setting_chosen = Signal(int, float)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.cells = GuideTableModel(self)
        self.setModel(self.cells)
        self.setItemDelegate(GuideDelegate(self))
        self.setAccessibleName(self.tr("Water and vent guide"))
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setShowGrid(False)
        self.setTabKeyNavigation(False)
        self.setCornerButtonEnabled(False)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.viewport().setAttribute(Qt.WidgetAttribute.WA_Hover)
        self.setMouseTracking(True)
        for head in (self.horizontalHeader(), self.verticalHeader()):
            head.setObjectName("head")
            head.setSectionsClickable(False)
            head.setHighlightSections(False)
            head.setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        self.corner = _Corner(self)
        self.doubleClicked.connect(lambda _index: self._choose())
        self.cells.modelReset.connect(self._fit)

    def show_guide(self, guide: MachineGuide | None) -> None:
        """Shows another guide; the cursor begins on the advised cell."""
        self.cells.show_guide(guide)
        if guide is not None and not self.currentIndex().isValid():
            self._go_to(guide.advised or guide.now_cell)

    def _go_to(self, cell: GuideCell | None) -> None:
        for row in range(self.cells.rowCount()):
            for column in range(self.cells.columnCount()):
                if cell is None or self.cells.cell(self.cells.index(row, column)) == cell:
                    self.setCurrentIndex(self.cells.index(row, column))
                    return

    def _fit(self) -> None:
        """As high as its rows, so that the page scrolls and not the table."""
        body = QFontMetricsF(role_font(TypeRole.BODY)).height()
        caption = QFontMetricsF(role_font(TypeRole.CAPTION)).height()
        big = QFontMetricsF(role_font(TypeRole.TITLE)).height()
        least = max(round(big + caption + 12), _LEAST_ROW)
        # Few rows are higher, so that the table has its weight on the page.
        row = max(least, min(_MOST_ROW, _USUAL_HEIGHT // max(self.cells.rowCount(), 1)))
        head = max(26, round(body + 10))
        self.horizontalHeader().setFixedHeight(head)
        self.verticalHeader().setMinimumSectionSize(row)
        self.setFixedHeight(head + row * self.cells.rowCount() + 2)

    def changeEvent(self, event: QEvent) -> None:
        """Larger text takes higher rows."""
        super().changeEvent(event)
        if event.type() in LOOK_EVENTS:
            self._fit()

    def updateGeometries(self) -> None:
        """The corner is ours."""
        super().updateGeometries()
        self.corner.setGeometry(0, 0, self.verticalHeader().width(), self.horizontalHeader().height())
        self.corner.raise_()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter logs the setting under the cursor."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._choose()
        else:
            super().keyPressEvent(event)

    def _choose(self) -> None:
        cell = self.cells.cell(self.currentIndex())
        if cell is not None:
            self.setting_chosen.emit(cell.channels, cell.vent)
