"""What an import would bring: each season with batches, eggs and chicks, and the pens and machines to be made."""

from __future__ import annotations

from PySide6.QtCore import QAbstractTableModel, QLocale, QModelIndex, QObject, QPersistentModelIndex, Qt
from PySide6.QtWidgets import QHeaderView, QVBoxLayout, QWidget

from hatchbook.desk.importing.ruled_table import RuledTable
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.words.past_seasons import label_sentence, made_sentences, remarks
from hatchbook.exchange.past_seasons.bringing_in import PastPlan, SeasonShare
from hatchbook.exchange.past_seasons.reading import PastSeasonsTable

SHARE_ROLE = Qt.ItemDataRole.UserRole + 1

_NOWHERE = QModelIndex()
Index = QModelIndex | QPersistentModelIndex

SEASON, BATCHES, EGGS, HATCHED = range(4)


class SeasonsModel(QAbstractTableModel):
    """Season, batches, eggs set, hatched. ``SHARE_ROLE``: the ``SeasonShare``."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._shares: tuple[SeasonShare, ...] = ()

    def show_shares(self, shares: tuple[SeasonShare, ...]) -> None:
        """Shows other seasons."""
        self.beginResetModel()
        self._shares = shares
        self.endResetModel()

    def rowCount(self, parent: Index = _NOWHERE) -> int:
        """How many seasons there are."""
        return 0 if parent.isValid() else len(self._shares)

    def columnCount(self, parent: Index = _NOWHERE) -> int:
        """Season, batches, eggs, chicks."""
        return 0 if parent.isValid() else 4

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        """What the columns hold."""
        if orientation != Qt.Orientation.Horizontal:
            return None
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return _alignment(section)
        if role == Qt.ItemDataRole.DisplayRole:
            return (self.tr("Season"), self.tr("Batches"), self.tr("Eggs set"), self.tr("Hatched"))[section]
        return None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Texts, and each row as a sentence."""
        if not index.isValid():
            return None
        share = self._shares[index.row()]
        if role == Qt.ItemDataRole.DisplayRole:
            return self._text(share, index.column())
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return _alignment(index.column())
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return self.tr(
                "season {season}; batches: {batches}; eggs set: {eggs}; hatched: {hatched}"
            ).format(
                season=share.season,
                batches=self._text(share, BATCHES),
                eggs=self._text(share, EGGS),
                hatched=self._text(share, HATCHED),
            )
        return share if role == SHARE_ROLE else None

    def _text(self, share: SeasonShare, column: int) -> str:
        if column == SEASON:
            return str(share.season)
        if column == BATCHES:
            return QLocale().toString(share.batches)
        if column == EGGS:
            return QLocale().toString(share.eggs_set)
        return self.tr("not counted") if share.hatched is None else QLocale().toString(share.hatched)


def _alignment(column: int) -> Qt.AlignmentFlag:
    side = Qt.AlignmentFlag.AlignLeft if column == SEASON else Qt.AlignmentFlag.AlignRight
    return side | Qt.AlignmentFlag.AlignVCenter


class ComesIn(QWidget):
    """Title, table of seasons, and what comes with them."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.model = SeasonsModel(self)
        self.table = RuledTable(self.tr("What comes in, by season"))
        self.table.setModel(self.model)
        self.table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        self.made = Label("", ink="ink2", wraps=True)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addWidget(Label(self.tr("What comes in"), role="section"))
        column.addWidget(self.table, 1)
        column.addWidget(self.made)

    def show_plan(self, plan: PastPlan, table: PastSeasonsTable) -> None:
        """Shows what an import would bring, and what of the table was understood beyond what stands there."""
        self.model.show_shares(plan.seasons)
        sentences = [*made_sentences(plan), label_sentence(plan), *remarks(table)]
        text = " ".join(sentence for sentence in sentences if sentence)
        self.made.setText(text)
        self.made.setVisible(bool(text))
