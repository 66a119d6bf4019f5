"""The fields of a batch that is entered by its counts: what it was, and how its eggs ended."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QLineEdit, QWidget

from hatchbook.desk.dialogs.with_trouble import WithTrouble
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.words.past_seasons import typed_sentence
from hatchbook.exchange.past_seasons.cells import parse_count
from hatchbook.exchange.past_seasons.refusals import Refusal
from hatchbook.figures.past_batches import COUNTS

_WIDTH = 64
_LONGEST = 8


class CountFields(QWidget):
    """A field for each count, empty where nothing was counted.

    Signals:
        edited: a count was changed.
    """

    edited = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.fields: dict[str, QLineEdit] = {}
        self._lines: dict[str, WithTrouble] = {}
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(10)
        self._grid.setVerticalSpacing(6)
        columns: tuple[tuple[tuple[str, str], ...], ...] = (
            (
                ("eggs_set", self.tr("E&ggs set")),
                ("clear", self.tr("C&lear")),
                ("infertile_opened", self.tr("of these opened, in&fertile")),
                ("hatched", self.tr("&Hatched, alive")),
                ("culled", self.tr("Hatched and c&ulled")),
            ),
            (
                ("early_dead", self.tr("Dead earl&y")),
                ("mid_dead", self.tr("Dead mi&d")),
                ("late_dead", self.tr("Dead la&te")),
                ("pipped_dead", self.tr("Died in p&ip")),
                ("rotten", self.tr("&Rotten")),
                ("taken_out", self.tr("Ta&ken out or broken")),
            ),
        )
        for column, fields in enumerate(columns):
            for row, (name, text) in enumerate(fields):
                self._add(name, text, row, 2 * column)
            self._grid.setColumnStretch(2 * column + 1, 1)
        assert {*self.fields} == {*COUNTS}

    def _add(self, name: str, text: str, row: int, column: int) -> None:
        field = QLineEdit()
        field.setMaxLength(_LONGEST)
        field.setFixedWidth(_WIDTH)
        field.setAlignment(Qt.AlignmentFlag.AlignRight)
        field.setAccessibleName(text.replace("&", ""))
        if name != "eggs_set":
            field.setPlaceholderText("–")
            field.setToolTip(self.tr("Empty: not counted"))
        label = Label(text)
        label.setBuddy(field)
        label.setContentsMargins(0, 4, 0, 0)
        line = WithTrouble(field)
        self.fields[name], self._lines[name] = field, line
        self._grid.addWidget(label, row, column, Qt.AlignmentFlag.AlignTop)
        self._grid.addWidget(line, row, column + 1, Qt.AlignmentFlag.AlignTop)
        field.textEdited.connect(lambda _text: self.edited.emit())

    def show_counts(self, counts: dict[str, int | None]) -> None:
        """Shows counts, and nothing wrong with them."""
        for name, field in self.fields.items():
            count = counts.get(name)
            field.setText("" if count is None else str(count))
            self.tell(name, "")

    def read(self) -> dict[str, int | None] | None:
        """The counts that were typed; None where one is none, which is then said beside it."""
        counts: dict[str, int | None] = {}
        good = True
        for name, field in self.fields.items():
            try:
                counts[name] = parse_count(field.text())
            except Refusal as refusal:
                self.tell(name, typed_sentence(refusal.why))
                good = False
            else:
                self.tell(name, "")
        return counts if good else None

    def tell(self, name: str, text: str) -> None:
        """Says what is wrong with a count."""
        self._lines[name].tell(text)

    def first_trouble(self) -> QLineEdit | None:
        """The first field with which something is wrong."""
        return next((self.fields[name] for name, line in self._lines.items() if line.trouble()), None)
