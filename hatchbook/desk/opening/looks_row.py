"""What was seen of an egg, look by look, up to now: a glyph and its day."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from hatchbook.desk.painting.glyphs import paint_egg
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.widgets.themed import ThemedWidget
from hatchbook.desk.words.dates import batch_day
from hatchbook.desk.words.openings import looks_sentence
from hatchbook.figures.openings import OpeningEgg, OpeningState
from hatchbook.trade.codes import Fate, FindingCode

_GLYPH, _STEP_LEAST, _STEP_MOST = 38, 46, 72
_FATES = {
    FindingCode.ALIVE: Fate.ALIVE,
    FindingCode.CLEAR: Fate.CLEAR,
    FindingCode.UNSURE: Fate.UNSURE,
    FindingCode.EARLY_DEAD: Fate.EARLY_DEAD,
    FindingCode.DEAD: Fate.DEAD,
    FindingCode.CRACKED: Fate.CRACKED,
    FindingCode.ROTTEN: Fate.ROTTEN,
}


class LooksRow(ThemedWidget):
    """The latest looks where there is no room for all; the words for all of them are read aloud."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._looks: list[tuple[Fate, str]] = []
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_egg(self, egg: OpeningEgg | None) -> None:
        """Shows the looks at another egg; None shows nothing."""
        self._looks = []
        self.setAccessibleName("")
        if egg is not None:
            looks = [(day, _FATES[code]) for day, code in egg.looks]
            if egg.pipped_day is not None:
                looks.append((egg.pipped_day, Fate.EXTERNAL_PIP))
            self._looks = [(fate, batch_day(day, 0)) for day, fate in sorted(looks)]
            opened = egg.state is not OpeningState.TO_OPEN
            self._looks.append((egg.egg.outcome.fate if opened else Fate.SET, self.tr("now")))
            self.setAccessibleName(looks_sentence(egg))
        self.update()

    def sizeHint(self) -> QSize:
        """A glyph with its day below it."""
        return QSize(4 * _STEP_MOST, _GLYPH + 4 + round(QFontMetricsF(role_font(TypeRole.CAPTION)).height()))

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The glyphs and their days."""
        if not self._looks:
            return
        fitting = max(1, self.width() // _STEP_LEAST)
        looks = self._looks[-fitting:]
        step = min(_STEP_MOST, self.width() / len(looks))
        with QPainter(self) as painter:
            painter.setFont(role_font(TypeRole.CAPTION))
            for position, (fate, day) in enumerate(looks):
                cell = QRectF(position * step, 0, step, _GLYPH)
                paint_egg(painter, cell, fate, self.scheme)
                painter.setPen(self.scheme.ink2)
                below = QRectF(cell.left(), _GLYPH + 2, step, self.height() - _GLYPH - 2)
                painter.drawText(below, Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop, day)
