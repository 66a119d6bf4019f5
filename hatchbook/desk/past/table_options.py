"""How a table is read, and what holds for lines that do not say it: every guess in a box that can be changed."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QSpinBox, QWidget

from hatchbook.desk.importing.choice_combo import ChoiceCombo
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.words import file_layout as words
from hatchbook.desk.words.codes import species_word
from hatchbook.exchange.loggers.layout import Basis, DateForm, DateOrder, Encoding, Separator
from hatchbook.exchange.past_seasons.fields import PastField
from hatchbook.exchange.past_seasons.reading import PastSeasonsTable

_GAP = 8
_LAST_LINE = 9_999
_OLDEST_OFFERED = 60
_CALENDAR = DateForm.CALENDAR


class _Boxes(QWidget):
    """A row of boxes with their labels, which come and go together.

    Signals:
        hinted: what the breeder chose, as a dict of the fields of ``PastHints``.
    """

    hinted = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._pairs: dict[QWidget, QWidget] = {}
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(0, 0, 0, 0)
        self._row.setSpacing(2 * _GAP)

    def add(self, text: str, box: QWidget) -> None:
        """Another box behind its label."""
        label = Label(text, ink="ink2")
        label.setBuddy(box)
        box.setAccessibleName(text.replace("&", ""))
        pair = QWidget()
        row = QHBoxLayout(pair)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(_GAP)
        row.addWidget(label)
        row.addWidget(box)
        self._row.addWidget(pair)
        self._pairs[box] = pair

    def end(self) -> None:
        """The boxes stand to the left."""
        self._row.addStretch(1)

    def show_box(self, box: QWidget, shown: bool) -> None:
        """Shows a box with its label, or neither."""
        self._pairs[box].setVisible(shown)


class TableReadAs(_Boxes):
    """Sheet of a workbook, or separator and letters of a text; the line of names; the order of dates."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.sheet = ChoiceCombo("")
        self.separator = ChoiceCombo("")
        self.separator.set_choices(
            (sign, words.separator_word(sign)) for sign in Separator if sign is not Separator.SPACES
        )
        self.encoding = ChoiceCombo("")
        self.encoding.set_choices((encoding, words.encoding_word(encoding)) for encoding in Encoding)
        self.header = QSpinBox()
        self.header.setRange(0, _LAST_LINE)
        self.header.setSpecialValueText(self.tr("none"))
        self.header.setKeyboardTracking(False)
        self.dates = ChoiceCombo("")
        self.dates.set_choices((order, words.date_word(_CALENDAR, order)) for order in DateOrder)
        self.add(self.tr("&Sheet"), self.sheet)
        self.add(self.tr("&Parted by"), self.separator)
        self.add(self.tr("&Letters"), self.encoding)
        self.add(self.tr("&Names in line"), self.header)
        self.add(self.tr("&Dates"), self.dates)
        self.end()
        for box in (self.sheet, self.separator, self.encoding, self.dates):
            self.show_box(box, False)
        # Other cells under other names: what was chosen for the columns no longer fits.
        self.sheet.picked.connect(lambda sheet: self._hint(sheet=sheet, header=None, columns=None))
        self.separator.picked.connect(lambda sign: self._hint(separator=sign, header=None, columns=None))
        self.encoding.picked.connect(lambda encoding: self._hint(encoding=encoding))
        self.header.valueChanged.connect(lambda line: self._hint(header=line, columns=None))
        self.dates.picked.connect(lambda order: self._hint(date_order=order))
        self.setEnabled(False)

    def _hint(self, **chosen: object) -> None:
        self.hinted.emit(chosen)

    def show_table(self, table: PastSeasonsTable) -> None:
        """Shows how a table was read."""
        grid = table.grid
        self.sheet.set_choices((name, name) for name in grid.sheets)
        self.sheet.show_value(grid.sheet)
        self.separator.show_value(grid.separator)
        self.encoding.show_value(grid.encoding)
        self.show_box(self.sheet, len(grid.sheets) > 1)
        for box in (self.separator, self.encoding):
            self.show_box(box, not grid.is_workbook)
        blocked = self.header.blockSignals(True)
        self.header.setValue(table.header)
        self.header.blockSignals(blocked)
        open_order = table.order.basis is not Basis.STATED
        self.show_box(self.dates, open_order and PastField.SET_ON in table.columns)
        self.dates.show_value(table.order.order)
        self.dates.explain(words.basis_sentence(table.order.basis))
        self.setEnabled(True)


class WhereUnsaid(_Boxes):
    """Species and season of lines that do not say theirs."""

    def __init__(self, species: Iterable[str], this_year: int, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        unsaid = (None, self.tr("not given"))
        self.species = ChoiceCombo("")
        self.species.set_choices([unsaid, *((code, species_word(code)) for code in species)])
        self.species.show_value(None)
        self.season = ChoiceCombo("")
        years = range(this_year, this_year - _OLDEST_OFFERED, -1)
        self.season.set_choices([unsaid, *((year, str(year)) for year in years)])
        self.season.show_value(None)
        self.add(self.tr("Spe&cies"), self.species)
        self.add(self.tr("S&eason"), self.season)
        self.end()
        self.species.picked.connect(lambda code: self.hinted.emit({"species": code}))
        self.season.picked.connect(lambda year: self.hinted.emit({"season": year}))
        self.setEnabled(False)

    def show_given(self, species: str | None, season: int | None) -> None:
        """Shows what holds."""
        self.species.show_value(species)
        self.season.show_value(season)
        self.setEnabled(True)
