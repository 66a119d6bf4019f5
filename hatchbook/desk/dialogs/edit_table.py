"""A small table of a form that is edited in place: type, Tab along, Del takes a row away."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QAbstractItemModel, QModelIndex, QPersistentModelIndex, QRectF, QSize, Qt
from PySide6.QtGui import QFocusEvent, QFontMetricsF, QKeyEvent, QPainter, QPen
from PySide6.QtWidgets import (
    QAbstractItemDelegate,
    QAbstractItemView,
    QComboBox,
    QFrame,
    QHeaderView,
    QLineEdit,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from hatchbook.desk.dialogs.cells import CHOICES_ROLE, GHOST_ROLE, TROUBLE_ROLE, CellModel
from hatchbook.desk.theme.theme import scheme_of
from hatchbook.desk.theme.type_scale import role_font
from hatchbook.desk.widgets.themed import paint_focus_ring

Index = QModelIndex | QPersistentModelIndex

_PADDING = 7.0
_ROW_AIR = 9
_LONGEST_TEXT = 200
_LEAST_WINDOW = QSize(1100, 700)


class CellDelegate(QStyledItemDelegate):
    """Paints a cell on its rule, red-edged where something is wrong; edits it in a line or an editable list."""

    def sizeHint(self, option: QStyleOptionViewItem, _index: Index) -> QSize:
        """A line of text and some air."""
        return QSize(option.rect.width(), row_height())

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """One cell."""
        view = option.widget
        scheme = scheme_of(view)
        rect = QRectF(option.rect)
        painter.save()
        chosen = bool(option.state & QStyle.StateFlag.State_Selected) and view.hasFocus()
        painter.fillRect(rect, scheme.select if chosen else scheme.field)
        painter.fillRect(QRectF(rect.left(), rect.bottom() - 1, rect.width(), 1), scheme.rule)
        ghost, trouble = bool(index.data(GHOST_ROLE)), str(index.data(TROUBLE_ROLE) or "")
        painter.setFont(role_font())
        painter.setPen(scheme.ink3 if ghost else scheme.bad if trouble else scheme.ink)
        room = rect.adjusted(_PADDING, 0, -_PADDING, -1)
        text = QFontMetricsF(role_font()).elidedText(
            str(index.data() or ""), Qt.TextElideMode.ElideRight, room.width()
        )
        painter.drawText(room, index.data(Qt.ItemDataRole.TextAlignmentRole), text)
        if trouble:
            painter.setPen(QPen(scheme.bad, 1.5))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(rect.adjusted(1, 1, -1.5, -2))
        if option.state & QStyle.StateFlag.State_HasFocus:
            paint_focus_ring(painter, rect.adjusted(0, 0, 0, -1), scheme, 2.0)
        painter.restore()

    def createEditor(self, parent: QWidget, _option: QStyleOptionViewItem, index: Index) -> QWidget:
        """A line, or an editable list where there is something to choose from."""
        model = index.model()
        choices: Sequence[str] | None = index.data(CHOICES_ROLE)
        editor: QLineEdit | QComboBox
        if choices is None:
            editor = QLineEdit(parent)
            editor.setMaxLength(_LONGEST_TEXT)
            editor.setAlignment(Qt.AlignmentFlag(index.data(Qt.ItemDataRole.TextAlignmentRole)))
            scheme = scheme_of(parent)
            edge, ground = scheme.hex("focus"), scheme.hex("field")
            editor.setStyleSheet(
                f"QLineEdit {{ border: 2px solid {edge}; background: {ground}; padding: 0 3px; }}"
            )
        else:
            editor = QComboBox(parent)
            editor.setEditable(True)
            editor.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
            editor.addItems(list(choices))
            editor.setCurrentIndex(-1)
        editor.setFont(role_font())
        title = str(model.headerData(index.column(), Qt.Orientation.Horizontal))
        editor.setAccessibleName(self.tr("{column}, row {row}").format(column=title, row=index.row() + 1))
        return editor

    def setEditorData(self, editor: QWidget, index: Index) -> None:
        """Shows what was typed before."""
        text = str(index.data(Qt.ItemDataRole.EditRole) or "")
        if isinstance(editor, QComboBox):
            editor.setEditText(text)
            line = editor.lineEdit()
            if line is not None:
                line.selectAll()
        elif isinstance(editor, QLineEdit):
            editor.setText(text)
            editor.selectAll()

    def setModelData(self, editor: QWidget, model: QAbstractItemModel, index: Index) -> None:
        """Hands on what is typed now."""
        if isinstance(editor, QComboBox):
            model.setData(_plain(index), editor.currentText())
        elif isinstance(editor, QLineEdit):
            model.setData(_plain(index), editor.text())


_USUAL_LINE = 18.0
"""The height of a line of text, px, for which widths are given."""


def text_scale() -> float:
    """How much wider than usual a dialog has to be for the size of the text."""
    return max(QFontMetricsF(role_font()).height() / _USUAL_LINE, 1.0)


def dialog_size(usual: QSize, screen: QSize) -> QSize:
    """The size of a dialog for the size of the text; on a small screen no larger than the window's least size."""
    return (usual * text_scale()).boundedTo(screen.expandedTo(_LEAST_WINDOW))


def row_height() -> int:
    """The height of a row, px."""
    return round(QFontMetricsF(role_font()).height()) + _ROW_AIR


def _plain(index: Index) -> QModelIndex:
    return index.model().index(index.row(), index.column(), index.parent())


class EditTable(QTableView):
    """Typing, F2 or Enter edits a cell; Tab goes on to the next one and out of the table behind the last.

    Without an editor Tab leaves the table at once, arrows move in it, Del takes the row away.
    """

    def __init__(
        self, model: CellModel, name: str, *, rows_shown: int = 4, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._rows_shown = rows_shown
        self.setModel(model)
        self.setItemDelegate(CellDelegate(self))
        self.setAccessibleName(name)
        self.setShowGrid(False)
        self.setFrameShape(QFrame.Shape.Box)
        self.setTabKeyNavigation(False)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setEditTriggers(
            QAbstractItemView.EditTrigger.AnyKeyPressed
            | QAbstractItemView.EditTrigger.EditKeyPressed
            | QAbstractItemView.EditTrigger.DoubleClicked
            | QAbstractItemView.EditTrigger.SelectedClicked
        )
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerItem)
        self.verticalHeader().hide()
        self.verticalHeader().setDefaultSectionSize(row_height())
        self.verticalHeader().setMinimumSectionSize(row_height())
        head = self.horizontalHeader()
        head.setObjectName("head")
        head.setHighlightSections(False)
        head.setFixedHeight(row_height())
        head.setSectionsClickable(False)
        for column, spec in enumerate(model.columns):
            self.setColumnWidth(column, round(spec.width * text_scale()))
        head.setStretchLastSection(True)
        model.rowsInserted.connect(self._fit)
        model.rowsRemoved.connect(self._fit)
        model.modelReset.connect(self._fit)
        self._fit()

    @property
    def cells(self) -> CellModel:
        """The model."""
        model = self.model()
        assert isinstance(model, CellModel)
        return model

    def edit_cell(self, row: int, column: int) -> None:
        """Puts the focus into a cell and opens it."""
        self.setFocus(Qt.FocusReason.TabFocusReason)
        index = self.model().index(row, column)
        self.setCurrentIndex(index)
        self.edit(index)

    def _fit(self) -> None:
        """As high as its rows, up to so many."""
        rows = min(max(self.model().rowCount(), 1), self._rows_shown)
        self.setFixedHeight((1 + rows) * row_height() + 2 * self.frameWidth())

    # ---------------------------------------------------------------- keys

    def focusInEvent(self, event: QFocusEvent) -> None:
        """There is always a cell that the keyboard is at."""
        super().focusInEvent(event)
        if not self.currentIndex().isValid() and self.model().rowCount():
            self.setCurrentIndex(self.model().index(0, 0))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter edits rather than pressing the dialog's button; Del takes the row away."""
        key, index = event.key(), self.currentIndex()
        editing = self.state() == QAbstractItemView.State.EditingState
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            if not editing and index.isValid() and index.flags() & Qt.ItemFlag.ItemIsEditable:
                self.edit(index)
            event.accept()
        elif key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace) and not editing and index.isValid():
            row, column = index.row(), index.column()
            if self.cells.remove_row(row):
                rows = self.model().rowCount()
                self.setCurrentIndex(self.model().index(min(row, rows - 1), column if row < rows - 1 else 0))
            event.accept()
        else:
            super().keyPressEvent(event)

    def closeEditor(self, editor: QWidget, hint: QAbstractItemDelegate.EndEditHint) -> None:
        """After Tab the next cell is opened; behind the last one Tab leaves the table."""
        step = {
            QAbstractItemDelegate.EndEditHint.EditNextItem: 1,
            QAbstractItemDelegate.EndEditHint.EditPreviousItem: -1,
        }.get(hint)
        if step is None:
            super().closeEditor(editor, hint)
            return
        super().closeEditor(editor, QAbstractItemDelegate.EndEditHint.NoHint)
        following = self._neighbour(self.currentIndex(), step)
        if following.isValid():
            self.setCurrentIndex(following)
            self.edit(following)
        else:
            self.focusNextPrevChild(step > 0)

    def _neighbour(self, index: QModelIndex, step: int) -> QModelIndex:
        """The next cell that can be typed into, in reading order; none behind the last."""
        model = self.model()
        columns = model.columnCount()
        at = index.row() * columns + index.column() + step
        while 0 <= at < model.rowCount() * columns:
            found = model.index(*divmod(at, columns))
            if found.flags() & Qt.ItemFlag.ItemIsEditable:
                return found
            at += step
        return QModelIndex()


def stretch_column(table: EditTable, column: int) -> None:
    """Lets one column take the room that is left, instead of the last one."""
    head = table.horizontalHeader()
    head.setStretchLastSection(False)
    head.setSectionResizeMode(column, QHeaderView.ResizeMode.Stretch)
