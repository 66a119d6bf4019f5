"""The lines of a table that stay out, one row a run of one reason."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QAbstractTableModel, QLocale, QModelIndex, QObject, QPersistentModelIndex, Qt

from hatchbook.desk.words.past_seasons import refusal_sentence, run_sentence
from hatchbook.exchange.past_seasons.refusals import RefusedLine, RefusedRun, refused_runs

RUN_ROLE = Qt.ItemDataRole.UserRole + 1

_NOWHERE = QModelIndex()
Index = QModelIndex | QPersistentModelIndex

LINE, WHY, TEXT = range(3)


class RefusedModel(QAbstractTableModel):
    """Line numbers, why, what they say. ``RUN_ROLE``: the ``RefusedRun``."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._lines: tuple[RefusedLine, ...] = ()
        self._runs: tuple[RefusedRun, ...] = ()

    @property
    def lines(self) -> tuple[RefusedLine, ...]:
        """Every refused line."""
        return self._lines

    def show_lines(self, lines: Sequence[RefusedLine]) -> None:
        """Shows other lines."""
        self.beginResetModel()
        self._lines = tuple(lines)
        self._runs = refused_runs(lines)
        self.endResetModel()

    def as_text(self) -> str:
        """Every line with number, reason and text, tabs between them: what is copied."""
        rows = [self.tr("Line\tWhy\tWhat it says")]
        rows += [f"{line.number}\t{refusal_sentence(line.why)}\t{line.text}" for line in self._lines]
        return "\n".join(rows)

    def rowCount(self, parent: Index = _NOWHERE) -> int:
        """How many runs there are."""
        return 0 if parent.isValid() else len(self._runs)

    def columnCount(self, parent: Index = _NOWHERE) -> int:
        """Line, reason, text."""
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
            return (self.tr("Line"), self.tr("Why"), self.tr("What it says"))[section]
        return None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Texts; the tooltip has the whole row."""
        if not index.isValid():
            return None
        run = self._runs[index.row()]
        if role == Qt.ItemDataRole.DisplayRole:
            return self._text(run, index.column())
        if role in (Qt.ItemDataRole.ToolTipRole, Qt.ItemDataRole.AccessibleTextRole):
            return self.tr("line {line}: {why}: {text}").format(
                line=self._text(run, LINE), why=self._text(run, WHY), text=self._text(run, TEXT)
            )
        return run if role == RUN_ROLE else None

    def _text(self, run: RefusedRun, column: int) -> str:
        if column == LINE:
            first, last = (QLocale().toString(run.lines[place].number) for place in (0, -1))
            return first if len(run.lines) == 1 else f"{first}–{last}"
        if column == WHY:
            return run_sentence(run)
        if len(run.lines) > 1:
            return self.tr("%Ln line(s)", "", len(run.lines))
        return "  ".join(run.lines[0].text.split("\t")).replace("\n", " ")
