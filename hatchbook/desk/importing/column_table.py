"""Lines of a file to look at, with a box above each column that says what it holds."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from itertools import pairwise
from typing import Any

from PySide6.QtCore import QEvent, QObject, QRect, QSize, Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHeaderView, QSizePolicy, QVBoxLayout, QWidget

from hatchbook.desk.importing.choice_combo import ChoiceCombo
from hatchbook.desk.importing.preview_model import LINE_COLUMN, PreviewLines, PreviewModel
from hatchbook.desk.importing.ruled_table import CELL_INDENT, RuledTable
from hatchbook.desk.theme.theme import LOOK_EVENTS, scheme_of
from hatchbook.desk.widgets.labels import ElidedLabel

_LINE_WIDTH = 76
_LEAST, _MOST = 126, 260
_LEAST_LEFT_OUT, _MOST_LEFT_OUT = 104, 130


class ColumnTable(QWidget):
    """The table and its boxes, which move with the columns. ``with_role`` says what a choice does to the others.

    Signals:
        roles_chosen: what each column holds now, a tuple of what the boxes offer.
    """

    roles_chosen = Signal(object)

    def __init__(
        self,
        with_role: Callable[[tuple[Any, ...], int, Any], tuple[Any, ...]],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._with_role = with_role
        self.model = PreviewModel(scheme_of(self), self)
        self.table = RuledTable(self.tr("First lines of the file, with lines that cannot be read"))
        self.table.setModel(self.model)
        self.table.setIconSize(QSize(16, 16))
        self._strip = QWidget()
        self._strip.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self._title = ElidedLabel(self.tr("Columns"), role="section", parent=self._strip)
        self._title.setAutoFillBackground(True)
        self.combos: list[ChoiceCombo] = []
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(self._strip)
        column.addWidget(self.table, 1)
        head = self.table.horizontalHeader()
        head.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        head.setMinimumSectionSize(60)
        head.sectionResized.connect(lambda *_: self._place_combos())
        self.table.horizontalScrollBar().valueChanged.connect(lambda _value: self._place_combos())

    def show_columns(self, lines: PreviewLines, choices: Iterable[tuple[object, str]]) -> None:
        """Shows a file, or the same one read otherwise, with what its columns can hold in words."""
        before = self.model.lines
        self.model.show_lines(lines)
        self._make_combos(lines, tuple(choices))
        if (before.width, before.names, before.roles) != (lines.width, lines.names, lines.roles):
            self._share_width()
        self._place_combos()

    def _make_combos(self, lines: PreviewLines, choices: tuple[tuple[object, str], ...]) -> None:
        while len(self.combos) > lines.width:
            spare = self.combos.pop()
            spare.hide()
            spare.deleteLater()
        while len(self.combos) < lines.width:
            self.combos.append(self._new_combo(len(self.combos)))
        for before, after in pairwise([self._before_boxes(), *self.combos, self.table]):
            QWidget.setTabOrder(before, after)
        for place, (combo, role) in enumerate(zip(self.combos, lines.roles, strict=True)):
            combo.set_choices(choices)
            combo.show_value(role)
            combo.setAccessibleName(
                self.tr("What column {name} holds").format(name=self.model.column_name(place))
            )

    def _before_boxes(self) -> QWidget:
        """What Tab comes from: new boxes stand at the end of the window's order."""
        before = self.table.previousInFocusChain()
        while before is not None and (
            before in self.combos or before.focusPolicy() == Qt.FocusPolicy.NoFocus
        ):
            before = before.previousInFocusChain()
        return before or self.table

    def _new_combo(self, place: int) -> ChoiceCombo:
        combo = ChoiceCombo("", self._strip)
        combo.picked.connect(lambda role: self._choose(place, role))
        combo.installEventFilter(self)
        combo.show()
        self._strip.setFixedHeight(combo.sizeHint().height())
        return combo

    def _choose(self, place: int, role: object) -> None:
        self.roles_chosen.emit(self._with_role(self.model.lines.roles, place, role))

    # ---------------------------------------------------------------- places

    def _share_width(self) -> None:
        """As wide as what the columns hold, and the rest shared among them."""
        places = range(1, self.model.columnCount())
        if not places:
            return
        head = self.table.horizontalHeader()
        wanted = [self._wanted_width(place, head.sectionSizeHint(place)) for place in places]
        room = self.table.viewport().width() - _LINE_WIDTH - sum(wanted)
        more = max(0, room) // len(wanted)
        self.table.setColumnWidth(LINE_COLUMN, _LINE_WIDTH)
        for place, width in zip(places, wanted, strict=True):
            self.table.setColumnWidth(place, width + more)

    def _wanted_width(self, place: int, head: int) -> int:
        """As wide as its texts, and where it comes in as wide as its box."""
        cells = self.table.sizeHintForColumn(place) + 2 * CELL_INDENT
        if place - 1 in self.model.lines.unread:
            return min(_MOST_LEFT_OUT, max(_LEAST_LEFT_OUT, cells, head))
        return min(_MOST, max(_LEAST, cells, head))

    def _place_combos(self) -> None:
        """Each box over its column; those of columns that are scrolled away lie outside."""
        head = self.table.horizontalHeader()
        left = self.table.frameWidth()
        self._title.setGeometry(QRect(0, 0, left + head.sectionSize(LINE_COLUMN) - 4, self._strip.height()))
        for place, combo in enumerate(self.combos):
            section = place + 1
            x = left + head.sectionViewportPosition(section)
            width = head.sectionSize(section)
            combo.setGeometry(QRect(x, 0, width - 1, self._strip.height()))
        # What is scrolled to the left goes under the title.
        self._title.raise_()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Shares the new width out."""
        super().resizeEvent(event)
        self._share_width()
        self._place_combos()

    def changeEvent(self, event: QEvent) -> None:
        """Notices a change of scheme."""
        super().changeEvent(event)
        if event.type() in LOOK_EVENTS:
            self.model.set_scheme(scheme_of(self))

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """A box that gets the focus comes into view."""
        if event.type() == QEvent.Type.FocusIn and watched in self.combos and self.model.rowCount():
            column = self.combos.index(watched) + 1
            self.table.scrollTo(self.model.index(0, column))
        return super().eventFilter(watched, event)

    def minimumSizeHint(self) -> QSize:
        """The boxes, the head and a few lines."""
        return QSize(320, self._strip.height() + 5 * self.table.verticalHeader().defaultSectionSize())
