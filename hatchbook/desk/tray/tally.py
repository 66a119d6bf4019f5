"""The tally: how many eggs met which fate, with the glyph that shows it; the key of the tray."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QWidget

from hatchbook.desk.widgets.labels import ElidedLabel, Label
from hatchbook.desk.widgets.pictures import EggGlyph
from hatchbook.desk.words.codes import fate_word
from hatchbook.desk.words.numbers import number
from hatchbook.trade.codes import Fate

_ORDER = (
    Fate.SET,
    Fate.CLEAR,
    Fate.INFERTILE,
    Fate.ALIVE,
    Fate.UNSURE,
    Fate.INTERNAL_PIP,
    Fate.EXTERNAL_PIP,
    Fate.EARLY_DEAD,
    Fate.MID_DEAD,
    Fate.LATE_DEAD,
    Fate.DEAD,
    Fate.PIPPED_DEAD,
    Fate.CRACKED,
    Fate.ROTTEN,
    Fate.HATCHED,
    Fate.HELPED,
    Fate.CULLED,
    Fate.TAKEN_OUT,
    Fate.UNKNOWN,
)
_GLYPH = 20


class Tally(QWidget):
    """One row a fate that occurs: glyph, count, word."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(8)
        self._grid.setVerticalSpacing(2)
        self._grid.setColumnStretch(2, 1)
        self.setAccessibleName(self.tr("Tally of the eggs"))

    def show_counts(self, counts: Mapping[Fate, int]) -> None:
        """Shows other counts."""
        while (item := self._grid.takeAt(0)) is not None:
            if (widget := item.widget()) is not None:
                widget.hide()
                widget.deleteLater()
        spoken = []
        for row, fate in enumerate(fate for fate in _ORDER if counts.get(fate)):
            count = number(counts[fate], 0)
            words = fate_word(fate)
            glyph = EggGlyph(fate, _GLYPH, words)
            self._grid.addWidget(glyph, row, 0)
            self._grid.addWidget(Label(count), row, 1, Qt.AlignmentFlag.AlignRight)
            self._grid.addWidget(ElidedLabel(words, ink="ink2"), row, 2)
            spoken.append(f"{count} {words}")
        self.setAccessibleDescription(", ".join(spoken))
