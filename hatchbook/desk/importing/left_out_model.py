"""The lines that do not come in as they stand, one row a run of one reason."""

from __future__ import annotations

from PySide6.QtCore import QAbstractTableModel, QLocale, QModelIndex, QObject, QPersistentModelIndex, Qt

from hatchbook.desk.words.imports import reject_reason
from hatchbook.exchange.left_out import LeftOut, LeftOutRun

RUN_ROLE = Qt.ItemDataRole.UserRole + 1
SORT_ROLE = Qt.ItemDataRole.UserRole + 2

_NOWHERE = QModelIndex()
Index = QModelIndex | QPersistentModelIndex

LINE, TEXT, WHY = range(3)


class LeftOutModel(QAbstractTableModel):
    """Line numbers, what they say, why. ``RUN_ROLE``: the ``LeftOutRun``; ``SORT_ROLE``: its first line."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._left_out = LeftOut()

    def show_lines(self, left_out: LeftOut) -> None:
        """Shows other lines."""
        self.beginResetModel()
        self._left_out = left_out
        self.endResetModel()

    def as_text(self) -> str:
        """Every line with number, text and reason, tabs between them: what is copied."""
        rows = [self.tr("Line\tWhat it says\tWhy")]
        rows += [
            f"{line.number}\t{line.text}\t{reject_reason(line.code, line.fields)}"
            for line in self._left_out.lines
        ]
        return "\n".join(rows)

    def rowCount(self, parent: Index = _NOWHERE) -> int:
        """How many runs there are."""
        return 0 if parent.isValid() else len(self._left_out.runs)

    def columnCount(self, parent: Index = _NOWHERE) -> int:
        """Line, text, reason."""
        return 0 if parent.isValid() else 3

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        """What the columns hold."""
        if orientation != Qt.Orientation.Horizontal:
            return None
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
        if role == Qt.ItemDataRole.DisplayRole:
            return (self.tr("Line"), self.tr("What it says"), self.tr("Why"))[section]
        return None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Texts; the tooltip has the whole row."""
        if not index.isValid():
            return None
        run = self._left_out.runs[index.row()]
        if role == Qt.ItemDataRole.DisplayRole:
            return self._text(run, index.column())
        if role in (Qt.ItemDataRole.ToolTipRole, Qt.ItemDataRole.AccessibleTextRole):
            return self.tr("line {line}: {text}: {why}").format(
                line=self._text(run, LINE), text=self._text(run, TEXT), why=self._text(run, WHY)
            )
        if role == RUN_ROLE:
            return run
        if role == SORT_ROLE:
            return run.first
        return None

    def _text(self, run: LeftOutRun, column: int) -> str:
        if column == LINE:
            first, last = QLocale().toString(run.first), QLocale().toString(run.last)
            return first if run.count == 1 else f"{first}–{last}"
        if column == TEXT:
            return run.text if run.count == 1 and run.text else self.tr("%Ln line(s)", "", run.count)
        return reject_reason(run.code, run.fields)
