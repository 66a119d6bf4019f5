"""The guide: its table, what fills and frames stand for, when to fill next."""

from __future__ import annotations

from dataclasses import dataclass
from zoneinfo import ZoneInfo

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QBrush, QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from hatchbook.desk.machines.fill_pane import FillPane
from hatchbook.desk.machines.guide_table import GuideTable
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.widgets.labels import ElidedLabel, Label
from hatchbook.desk.widgets.notes import InlineNote
from hatchbook.desk.widgets.rules import HLine
from hatchbook.desk.widgets.themed import ThemedWidget
from hatchbook.desk.words.guide import evidence_sentence
from hatchbook.desk.words.guide_cells import band_legend
from hatchbook.figures.guide_results import MachineGuide
from hatchbook.figures.results import Band
from hatchbook.trade.codes import PhaseKind

_SWATCH_WIDTH, _SWATCH_HEIGHT = 18.0, 12.0
_GAP, _APART = 6.0, 18.0


@dataclass(frozen=True)
class _Entry:
    look: str
    text: str


class GuideLegend(ThemedWidget):
    """Swatches with their words, in as many lines as the width asks for."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._entries: tuple[_Entry, ...] = ()
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def show_bands(self, bands: tuple[tuple[PhaseKind, Band], ...], *, stands: bool, advised: bool) -> None:
        """Explains the fills by the bands of a batch, and the frames."""
        entries = [_Entry(str(kind), band_legend(kind, band.low, band.high)) for kind, band in bands]
        if stands:
            entries.append(_Entry("now", self.tr("as it stands now")))
        if advised:
            entries.append(_Entry("advised", self.tr("advised")))
        self._entries = tuple(entries)
        self.setAccessibleName(", ".join(entry.text for entry in entries))
        self.updateGeometry()
        self.update()

    def _places(self, width: float) -> list[tuple[_Entry, QPointF]]:
        metrics = QFontMetricsF(role_font(TypeRole.CAPTION))
        x, y, places = 0.0, 0.0, []
        for entry in self._entries:
            wide = _SWATCH_WIDTH + _GAP + metrics.horizontalAdvance(entry.text)
            if x and x + wide > width:
                x, y = 0.0, y + metrics.height() + 4
            places.append((entry, QPointF(x, y)))
            x += wide + _APART
        return places

    def hasHeightForWidth(self) -> bool:
        """More lines where it is narrow."""
        return True

    def heightForWidth(self, width: int) -> int:
        """As high as its lines."""
        places = self._places(width)
        line = QFontMetricsF(role_font(TypeRole.CAPTION)).height()
        return round((places[-1][1].y() if places else 0.0) + line + 2)

    def sizeHint(self) -> QSize:
        """One or two lines."""
        return QSize(400, self.heightForWidth(400))

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Swatches and words."""
        scheme = self.scheme
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setFont(role_font(TypeRole.CAPTION))
            metrics = QFontMetricsF(painter.font())
            for entry, place in self._places(self.width()):
                top = place.y() + (metrics.height() - _SWATCH_HEIGHT) / 2
                box = QRectF(place.x() + 1, top, _SWATCH_WIDTH - 2, _SWATCH_HEIGHT)
                self._paint_swatch(painter, box, entry.look)
                painter.setPen(scheme.ink2)
                start = QPointF(place.x() + _SWATCH_WIDTH + _GAP, place.y() + metrics.ascent())
                painter.drawText(start, entry.text)

    def _paint_swatch(self, painter: QPainter, box: QRectF, look: str) -> None:
        scheme = self.scheme
        painter.setBrush(Qt.BrushStyle.NoBrush)
        if look == PhaseKind.INCUBATION:
            painter.fillRect(box, scheme.band)
        elif look == PhaseKind.LOCKDOWN:
            painter.fillRect(box, scheme.band2)
            edge = QRectF(box.right() - 8, box.top(), 8, box.height())
            painter.fillRect(edge, QBrush(scheme.water_deep, Qt.BrushStyle.BDiagPattern))
        elif look == "now":
            painter.setPen(QPen(scheme.accent, 2.2))
            painter.drawRect(box)
            return
        else:
            painter.setPen(QPen(scheme.accent, 1.4, Qt.PenStyle.DashLine))
            painter.drawRect(box)
            return
        painter.setPen(QPen(scheme.rule_strong, 1.0))
        painter.drawRect(box)


class GuidePane(QWidget):
    """The right side of the page.

    Signals:
        setting_chosen: channels and vent that the breeder wants to log.
    """

    setting_chosen = Signal(int, float)

    def __init__(self, zone: ZoneInfo, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.zone = zone
        self.table = GuideTable()
        self.table.setting_chosen.connect(self.setting_chosen)
        self.legend = GuideLegend()
        self.little = InlineNote("", "info")
        self.fill = FillPane()
        head = QHBoxLayout()
        head.setSpacing(12)
        head.addWidget(Label(self.tr("What each setting is expected to give"), role="section"))
        head.addStretch(1)
        axes = ElidedLabel(self.tr("vent across, channels down; Enter logs a setting"), "caption", "ink2")
        head.addWidget(axes, 0, Qt.AlignmentFlag.AlignBottom)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(16, 10, 12, 10)
        rows.setSpacing(8)
        rows.addLayout(head)
        for part in (self.table, self.legend, self.little):
            rows.addWidget(part)
        rows.addWidget(HLine())
        rows.addWidget(self.fill)
        rows.addStretch(1)

    def show_guide(self, guide: MachineGuide, bands: tuple[tuple[PhaseKind, Band], ...], now: int) -> None:
        """Shows a guide as it is at an instant, with the bands of the batch that it is for."""
        self.fill.show_guide(guide, now, self.zone)
        self.table.show_guide(guide)
        apart = guide.advised is not None and guide.advised != guide.now_cell
        self.legend.show_bands(bands, stands=guide.now_cell is not None, advised=apart)
        self.legend.setVisible(bool(bands) or guide.now_cell is not None)
        evidence = "" if guide.enough else evidence_sentence(guide)
        if evidence != self.little.text():
            self.little.set_note(evidence, "info")
        self.little.setVisible(bool(evidence))
