"""The key of the event marks: what each shape means. It shortens its words, then gives way."""

from __future__ import annotations

from enum import IntEnum

from PySide6.QtCore import QCoreApplication, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from hatchbook.desk.charts.inks import Inks
from hatchbook.desk.painting.marks import event_mark, event_role, paint_mark
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.widgets.themed import ThemedWidget
from hatchbook.desk.words.codes import event_word
from hatchbook.trade.codes import EventKind

_MARK = 11.5
_TEXT_AT = 16.0
_APART = 12.0
_USUAL = (EventKind.WATER, EventKind.VENT, EventKind.LID, EventKind.POWER_CUT)


class KeyForm(IntEnum):
    """How much room the key takes."""

    HIDDEN = 0
    SHORT = 1
    FULL = 2


def _long_words() -> dict[EventKind, str]:
    return {
        EventKind.WATER: QCoreApplication.translate("Chart", "water added"),
        EventKind.VENT: QCoreApplication.translate("Chart", "vent moved"),
        EventKind.LID: QCoreApplication.translate("Chart", "lid open >10 min"),
        EventKind.POWER_CUT: QCoreApplication.translate("Chart", "power cut"),
        EventKind.MISTED: QCoreApplication.translate("Chart", "misted"),
        EventKind.NOTE: QCoreApplication.translate("Chart", "note"),
    }


def _short_words() -> dict[EventKind, str]:
    return {
        **_long_words(),
        EventKind.WATER: QCoreApplication.translate("Chart", "water"),
        EventKind.VENT: QCoreApplication.translate("Chart", "vent"),
        EventKind.LID: QCoreApplication.translate("Chart", "lid"),
    }


class EventKey(ThemedWidget):
    """The marks that occur in the batch, each with its word, and the plate of a gap where there is one."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._kinds: tuple[EventKind, ...] = _USUAL
        self._gaps = False
        self._form = KeyForm.FULL
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self._say()

    def show_kinds(self, kinds: frozenset[EventKind], gaps: bool) -> None:
        """Explains these marks; the usual ones where there are none yet."""
        self._kinds = tuple(kind for kind in EventKind if kind in kinds) or _USUAL
        self._gaps = gaps
        self._say()
        self.updateGeometry()
        self.update()

    @property
    def form(self) -> KeyForm:
        """How much room it takes."""
        return self._form

    def set_form(self, form: KeyForm) -> None:
        """Takes more or less room."""
        if form is not self._form:
            self._form = form
            self.setVisible(form is not KeyForm.HIDDEN)
            self.updateGeometry()
            self.update()

    def width_of(self, form: KeyForm) -> int:
        """How wide it would be."""
        if form is KeyForm.HIDDEN:
            return 0
        metrics = QFontMetricsF(role_font(TypeRole.CAPTION))
        entries = self._entries(form)
        return round(sum(_TEXT_AT + metrics.horizontalAdvance(word) + _APART for _kind, word in entries))

    def sizeHint(self) -> QSize:
        """As wide as its words."""
        height = max(20, round(QFontMetricsF(role_font(TypeRole.CAPTION)).height()) + 4)
        return QSize(self.width_of(self._form), height)

    def _entries(self, form: KeyForm) -> list[tuple[EventKind | None, str]]:
        words = _short_words() if form is KeyForm.SHORT else _long_words()
        entries: list[tuple[EventKind | None, str]] = [
            (kind, words.get(kind) or event_word(kind).lower()) for kind in self._kinds
        ]
        if self._gaps:
            entries.append((None, QCoreApplication.translate("Chart", "no readings")))
        return entries

    def _say(self) -> None:
        words = ", ".join(word for _kind, word in self._entries(KeyForm.FULL))
        self.setAccessibleName(
            QCoreApplication.translate("Chart", "Marks in the chart: {words}").format(words=words)
        )
        self.setToolTip(words)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Marks and words."""
        scheme = self.scheme
        inks = Inks(scheme, self.devicePixelRatioF())
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setFont(inks.small)
            middle, x = self.height() / 2, 0.0
            for kind, word in self._entries(self._form):
                if kind is None:
                    painter.setPen(inks.pen("rule_strong", 1.0, (1.0, 2.0)))
                    painter.setBrush(scheme.gap)
                    painter.drawRect(QRectF(x + 0.5, middle - 5.5, 11, 11))
                else:
                    colour = scheme.colour(event_role(kind))
                    paint_mark(painter, event_mark(kind), QPointF(x + 6, middle), _MARK, colour)
                painter.setPen(scheme.ink2)
                width = inks.width(inks.small, word)
                place = QRectF(x + _TEXT_AT, 0, width + 1, self.height())
                painter.drawText(place, Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextDontClip, word)
                x += _TEXT_AT + width + _APART
