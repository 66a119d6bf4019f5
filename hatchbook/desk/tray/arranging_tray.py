"""The tray on which eggs are moved: dragged, shifted by a place, or taken up and carried by key."""

from __future__ import annotations

from PySide6.QtCore import QItemSelectionModel, QModelIndex, QPersistentModelIndex, QPoint, Qt, Signal
from PySide6.QtGui import QContextMenuEvent, QFocusEvent, QKeyEvent, QMouseEvent, QStatusTipEvent
from PySide6.QtWidgets import QApplication, QWidget

from hatchbook.desk.tray.carry import Place
from hatchbook.desk.tray.tray_model import EGG_ROLE, PLACE_ROLE
from hatchbook.desk.tray.tray_view import TrayView
from hatchbook.desk.widgets.announce import announce
from hatchbook.figures.results import EggFigures

Index = QModelIndex | QPersistentModelIndex


class ArrangingTray(TrayView):
    """Dragging moves eggs, Ctrl+arrows move them by one place.

    M takes the chosen eggs up: arrows carry them, Enter puts them down, Esc lets them go.

    Signals:
        eggs_moved: several eggs, or one that is to be without a place: a dict of uid → place or None.
        menu_wanted: the point on the screen at which the menu of the chosen eggs is wanted.
        said: what the hand that carries eggs would do now; "" when it is empty again.
    """

    eggs_moved = Signal(object)
    menu_wanted = Signal(object)
    said = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._pressed: tuple[QPoint, EggFigures] | None = None
        self._dragged = False
        self._fixed_because = ""

    def fix(self, reason: str) -> None:
        """Keeps all eggs where they are, and says why to whoever wants to move one; "" lets them be moved."""
        self._fixed_because = reason

    # ---------------------------------------------------------------- keys

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """M and Ctrl+arrows move eggs; while they are carried, arrows carry them on."""
        key, modifiers = Qt.Key(event.key()), event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
        step = _STEPS.get(key)
        if self.hand.is_full:
            self._carry_by_key(key, step)
        elif step and modifiers == Qt.KeyboardModifier.ControlModifier:
            self._shift(step)
        elif key == Qt.Key.Key_M and modifiers == Qt.KeyboardModifier.NoModifier:
            self.take_up()
        else:
            super().keyPressEvent(event)

    def _keep_chosen(self) -> None:
        self._let_go()
        super()._keep_chosen()

    def take_up(self) -> None:
        """Takes up the chosen eggs, to be carried by arrows."""
        egg: EggFigures | None = self.currentIndex().data(EGG_ROLE)
        if egg is None or self._is_fixed():
            return
        self._take_up(egg)
        if egg.egg.place is None:
            free = next(
                (place for place in self.tray.space.places() if place not in self.tray.space.lying), None
            )
            if free is not None:
                self._aim_at(self.tray.index_at(free))
        self._say(self.tr("{what}: arrows carry, Enter puts down, Esc lets go"))

    def _carry_by_key(self, key: Qt.Key, step: tuple[int, int] | None) -> None:
        if step is not None and not self._dragged:
            target = self._neighbour(self.currentIndex(), step)
            if target.isValid():
                self._aim_at(target)
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space, Qt.Key.Key_M):
            if not self._dragged:
                self._put_down()
        elif key == Qt.Key.Key_Escape:
            self._let_go()

    def _neighbour(self, index: Index, step: tuple[int, int]) -> QModelIndex:
        """The next cell in a direction that is a place."""
        row, column = index.row() + step[0], index.column() + step[1]
        while 0 <= row < self.tray.rowCount() and 0 <= column < self.tray.columnCount():
            candidate = self.tray.index(row, column)
            if candidate.data(PLACE_ROLE) is not None:
                return candidate
            row, column = row + step[0], column + step[1]
        return QModelIndex()

    def _shift(self, step: tuple[int, int]) -> None:
        """Moves the chosen eggs by one place."""
        current = self.currentIndex()
        target = self._neighbour(current, step)
        if current.data(EGG_ROLE) is None or not target.isValid() or self._is_fixed():
            return
        self._take_up(current.data(EGG_ROLE))
        self.hand.aim(target.data(PLACE_ROLE))
        if self.hand.plan is None:
            announce(self, self.hand.words())
            self._let_go()
        else:
            self._put_down()

    # ---------------------------------------------------------------- the hand

    def _take_up(self, egg: EggFigures) -> None:
        chosen = self.chosen()
        together = chosen if any(one.egg.uid == egg.egg.uid for one in chosen) else [egg]
        self.hand.take_up(together, egg)

    def _aim_at(self, index: Index) -> None:
        """Holds the eggs over a cell, or over none."""
        place: Place | None = index.data(PLACE_ROLE) if index.isValid() else None
        if index.isValid() and place is None and not self.tray.tray_row(index.row()).tray:
            self.hand.aim_off_tray()
        else:
            self.hand.aim(place)
        if place is not None and not self._dragged:
            self.selectionModel().setCurrentIndex(index, self.selectionModel().SelectionFlag.NoUpdate)
        self._say("{what}")

    def _put_down(self) -> None:
        plan, still, anchor = self.hand.plan, self.hand.changes_nothing(), self.hand.anchor
        if plan is None and not self._dragged:
            announce(self, self.hand.words())
            return
        egg = self.tray.egg(anchor)
        self._let_go()
        if plan is None or still or egg is None:
            return
        place = plan[anchor]
        if len(plan) == 1 and place is not None:
            self.egg_moved.emit(egg, place)
        else:
            self.eggs_moved.emit(plan)

    def _let_go(self) -> None:
        """Empties the hand; the cursor is on the egg that was held."""
        self._pressed = None
        if not self.hand.is_full:
            return
        anchor = self.tray.index_of(self.hand.anchor)
        self.hand.let_go()
        self._dragged = False
        self.viewport().unsetCursor()
        if anchor.isValid():
            self.selectionModel().setCurrentIndex(anchor, self.selectionModel().SelectionFlag.NoUpdate)
        self._say("")

    def _say(self, pattern: str) -> None:
        """Tells what the hand would do."""
        words = self.hand.words()
        self.said.emit(words)
        self._tell(pattern.format(what=words) if words else "")
        self.viewport().update()

    def _is_fixed(self) -> bool:
        """Whether nothing can be moved; why is said then."""
        if self._fixed_because:
            self._tell(self._fixed_because)
        return bool(self._fixed_because)

    def _tell(self, text: str) -> None:
        """In the status bar, and to screen readers."""
        announce(self, text)
        QApplication.sendEvent(self, QStatusTipEvent(text))

    # ---------------------------------------------------------------- mouse

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """A press on an egg may become a drag."""
        if self.hand.is_full:
            self._let_go()
        egg: EggFigures | None = self.indexAt(event.position().toPoint()).data(EGG_ROLE)
        super().mousePressEvent(event)
        plain = event.modifiers() == Qt.KeyboardModifier.NoModifier
        if egg is not None and plain and event.button() == Qt.MouseButton.LeftButton:
            self._pressed = event.position().toPoint(), egg

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Carries eggs, or chooses those under a band drawn from an empty place."""
        at = event.position().toPoint()
        if self._dragged:
            self._drag_to(at)
        elif self._pressed is not None and event.buttons() & Qt.MouseButton.LeftButton:
            far = (at - self._pressed[0]).manhattanLength() >= QApplication.startDragDistance()
            if far and self._is_fixed():
                self._pressed = None
            elif far:
                self._take_up(self._pressed[1])
                self._dragged = True
                self._drag_to(at)
        else:
            super().mouseMoveEvent(event)

    def _drag_to(self, at: QPoint) -> None:
        bar, height = self.verticalScrollBar(), self.viewport().height()
        if at.y() < 0 or at.y() > height:
            bar.setValue(bar.value() + (at.y() if at.y() < 0 else at.y() - height))
        inside = self.viewport().rect().contains(at)
        self._aim_at(self.indexAt(at) if inside else QModelIndex())
        can = self.hand.plan is not None
        self.viewport().setCursor(Qt.CursorShape.ClosedHandCursor if can else Qt.CursorShape.ForbiddenCursor)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Puts carried eggs down."""
        self._pressed = None
        if self._dragged:
            self._put_down()
        else:
            super().mouseReleaseEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Eggs that are carried are let go."""
        super().focusOutEvent(event)
        if event.reason() not in (Qt.FocusReason.PopupFocusReason, Qt.FocusReason.ActiveWindowFocusReason):
            self._let_go()

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """The menu of the chosen eggs, by mouse at the pointer, by key at the cursor."""
        point = event.globalPos()
        if event.reason() is QContextMenuEvent.Reason.Keyboard and self.currentIndex().isValid():
            if not self.selectedIndexes():
                # The egg under the cursor carries the ring: it is the one that is meant.
                self.selectionModel().select(
                    self.currentIndex(), QItemSelectionModel.SelectionFlag.ClearAndSelect
                )
            point = self.viewport().mapToGlobal(self.visualRect(self.currentIndex()).center())
        self.menu_wanted.emit(point)


_STEPS = {
    Qt.Key.Key_Left: (0, -1),
    Qt.Key.Key_Right: (0, 1),
    Qt.Key.Key_Up: (-1, 0),
    Qt.Key.Key_Down: (1, 0),
}
