"""The eggs that have pipped and are waited for, longest first."""

from __future__ import annotations

from collections.abc import Sequence
from zoneinfo import ZoneInfo

from PySide6.QtCore import QAbstractListModel, QModelIndex, QObject, QPersistentModelIndex, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QListView, QWidget

from hatchbook.desk.words.hatching import waited_sentence
from hatchbook.figures.hatch_curve import PippedEgg

PIPPED_ROLE = Qt.ItemDataRole.UserRole + 1
_NOWHERE = QModelIndex()
Index = QModelIndex | QPersistentModelIndex


class WaitingModel(QAbstractListModel):
    """One row an egg; ``PIPPED_ROLE`` gives the ``PippedEgg``."""

    def __init__(self, zone: ZoneInfo, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._zone = zone
        self._eggs: tuple[PippedEgg, ...] = ()
        self._now, self._trays = 0, 1

    def show_eggs(self, eggs: Sequence[PippedEgg], now: int, trays: int = 1) -> None:
        """Shows who is waited for at an instant, in a machine of so many trays."""
        self.beginResetModel()
        self._eggs, self._now, self._trays = tuple(eggs), now, trays
        self.endResetModel()

    def rowCount(self, parent: Index = _NOWHERE) -> int:
        """How many eggs are waited for."""
        return 0 if parent.isValid() else len(self._eggs)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """The egg, or its sentence."""
        if not index.isValid():
            return None
        pipped = self._eggs[index.row()]
        if role == PIPPED_ROLE:
            return pipped
        if role in (
            Qt.ItemDataRole.DisplayRole,
            Qt.ItemDataRole.AccessibleTextRole,
            Qt.ItemDataRole.ToolTipRole,
        ):
            return waited_sentence(pipped, self._now, self._zone, self._trays)
        return None


class WaitingView(QListView):
    """Enter or a click goes to the egg on the tray.

    Signals:
        egg_wanted: the uid of the egg.
    """

    egg_wanted = Signal(str)

    def __init__(self, zone: ZoneInfo, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.eggs = WaitingModel(zone, self)
        self.setModel(self.eggs)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setUniformItemSizes(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName(self.tr("Pipped and waited for"))
        self.clicked.connect(self._want)

    def show_eggs(self, eggs: Sequence[PippedEgg], now: int, trays: int = 1) -> None:
        """Shows who is waited for at an instant; the cursor stays on its egg."""
        chosen: PippedEgg | None = self.currentIndex().data(PIPPED_ROLE)
        self.eggs.show_eggs(eggs, now, trays)
        for row, pipped in enumerate(eggs):
            if chosen is not None and pipped.egg.egg.uid == chosen.egg.egg.uid:
                self.setCurrentIndex(self.eggs.index(row))

    def sizeHint(self) -> QSize:
        """Room for four eggs; more scroll."""
        return QSize(200, 4 * (self.fontMetrics().height() + 4) + 4)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter goes to the egg."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._want(self.currentIndex())
        else:
            super().keyPressEvent(event)

    def _want(self, index: QModelIndex) -> None:
        pipped: PippedEgg | None = index.data(PIPPED_ROLE)
        if pipped is not None:
            self.egg_wanted.emit(pipped.egg.egg.uid)
