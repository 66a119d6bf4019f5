"""Single batches: by their size, and in order of setting; one read-out for both."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QCoreApplication, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent, QPixmap
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QStackedLayout, QVBoxLayout, QWidget

from hatchbook.desk.charts.funnel_chart import FunnelChart
from hatchbook.desk.charts.order_chart import OrderChart
from hatchbook.desk.charts.point_material import PointCursor, PointMaterial, material_of
from hatchbook.desk.painting.group_shapes import GroupShape, paint_shape
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.widgets.labels import ElidedLabel, Label
from hatchbook.desk.widgets.readout import Readout
from hatchbook.desk.widgets.rules import VLine
from hatchbook.desk.widgets.themed import ThemedWidget
from hatchbook.desk.words.comparison_table import batch_sentence, charts_at_rest
from hatchbook.desk.words.groups import group_word, rate_word
from hatchbook.desk.words.season_facts import too_few_for_charts
from hatchbook.figures.comparison_results import BatchPoint, ComparisonFigures, GroupName

_SHAPE, _GAP, _BETWEEN = 9.0, 5.0, 14.0
_LEAST_NAME = 44.0
"""A name is not cut to less than these pixels; before that the last entries are left out."""


class ShapeLegend(ThemedWidget):
    """Which shape stands for which group; what does not fit is left out, and named in the tooltip."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._entries: tuple[tuple[GroupShape, str], ...] = ()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_entries(self, entries: Sequence[tuple[GroupShape, str]]) -> None:
        """Shows other groups."""
        self._entries = tuple(entries)
        text = ", ".join(name for _shape, name in entries)
        self.setToolTip(text)
        self.setAccessibleName(self.tr("Shapes: {groups}").format(groups=text) if text else "")
        self.update()

    def sizeHint(self) -> QSize:
        """One line."""
        return QSize(60, round(QFontMetricsF(role_font(TypeRole.CAPTION)).height()) + 2)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The entries, at the right."""
        with QPainter(self) as painter:
            self.paint_entries(painter, QRectF(self.rect()))

    def paint_entries(self, painter: QPainter, area: QRectF) -> None:
        """Paints the entries at the right of an area; names that are too long for it are cut."""
        metrics = QFontMetricsF(role_font(TypeRole.CAPTION))
        fitting, names = _cut_to(area.width() - 2, self._entries, metrics)
        widths = [_SHAPE + _GAP + metrics.horizontalAdvance(name) for name in names]
        x = area.right() - 2 - sum(widths) - _BETWEEN * max(0, len(names) - 1)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setFont(role_font(TypeRole.CAPTION))
        for (shape, _whole), name, width in zip(fitting, names, widths, strict=True):
            centre = QPointF(x + _SHAPE / 2, area.center().y())
            paint_shape(painter, shape, centre, _SHAPE, self.scheme.water_deep, self.scheme.page)
            painter.setPen(self.scheme.ink2)
            place = QRectF(x + _SHAPE + _GAP, area.top(), width, area.height())
            painter.drawText(place, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, name)
            x += width + _BETWEEN


Entry = tuple[GroupShape, str]


def _cut_to(width: float, entries: Sequence[Entry], metrics: QFontMetricsF) -> tuple[list[Entry], list[str]]:
    """As many entries as can be shown side by side, and their names, of which the long ones are cut.

    What all others have in common stays to the last.
    """
    left = list(entries)
    while left:
        names = [name for _shape, name in left]
        room = width - len(left) * (_SHAPE + _GAP) - (len(left) - 1) * _BETWEEN
        most = _most_each(room, sorted(metrics.horizontalAdvance(name) for name in names))
        if most is None:
            return left, names
        if most >= _LEAST_NAME:
            return left, [metrics.elidedText(name, Qt.TextElideMode.ElideRight, most) for name in names]
        left.pop(-2 if left[-1][0] is GroupShape.DOT and len(left) > 1 else -1)
    return [], []


def _most_each(room: float, wanted: Sequence[float]) -> float | None:
    """How wide a name may be so that all fit and the short ones stay whole; None where all fit as they are."""
    for taken, one in enumerate(wanted):
        most = (room - sum(wanted[:taken])) / (len(wanted) - taken)
        if one > most:
            return most
    return None


class ChartsPane(QWidget):
    """Both charts, or what is said in their place.

    Signals:
        batch_chosen: the uid of a batch that was clicked.
        batch_opened: the uid of a batch that is to be opened.
    """

    batch_chosen = Signal(str)
    batch_opened = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.points = PointCursor(self)
        self.funnel = FunnelChart(self.points)
        self.order = OrderChart(self.points)
        self.legend = ShapeLegend()
        self.readout = Readout("", name=self.tr("Batch pointed at"))
        self.too_few = Label("", ink="ink2", wraps=True)
        self._title = ElidedLabel("", role="section")
        self._order_title = ElidedLabel(self.tr("In order of setting"), role="section")
        self._build()
        self.points.moved.connect(self._read)
        for chart in (self.funnel, self.order):
            chart.batch_chosen.connect(self.batch_chosen)
            chart.batch_opened.connect(self.batch_opened)

    def _build(self) -> None:
        caption = ElidedLabel(self.tr("by size of batch; filled: outside the band"), "caption", "ink2")
        left = _column([self._title, caption], self.funnel)
        right = _column([self._order_title, self.legend], self.order)
        both = QHBoxLayout()
        both.setContentsMargins(0, 0, 0, 0)
        both.setSpacing(0)
        both.addWidget(left, 1)
        both.addWidget(VLine())
        both.addWidget(right, 1)
        charts = QWidget()
        rows = QVBoxLayout(charts)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(0)
        rows.addLayout(both, 1)
        line = QHBoxLayout()
        line.setContentsMargins(16, 2, 12, 5)
        line.addWidget(self.readout)
        rows.addLayout(line)
        instead = QWidget()
        words = QVBoxLayout(instead)
        words.setContentsMargins(16, 14, 12, 12)
        words.addWidget(self.too_few)
        words.addStretch(1)
        self._places = QStackedLayout(self)
        self._places.addWidget(charts)
        self._places.addWidget(instead)
        self._charts = charts

    @property
    def has_charts(self) -> bool:
        """Whether there are enough batches for charts."""
        return self._places.currentWidget() is self._charts

    # ---------------------------------------------------------------- showing

    def show_figures(self, figures: ComparisonFigures, only: Sequence[BatchPoint] | None = None) -> None:
        """Shows the batches of a comparison, or those that a filter leaves."""
        material = material_of(figures, only)
        self._first_month = figures.season_first_month
        self.points.take(material)
        if material is None:
            self.too_few.setText(too_few_for_charts(figures))
            self._places.setCurrentIndex(1)
            return
        self._places.setCurrentIndex(0)
        self._title.setText(rate_word(figures.question.outcome))
        self.legend.show_entries(_entries(material, figures))
        self._read()

    def show_no_figures(self) -> None:
        """Shows nothing at all."""
        self.points.take(None)
        self.too_few.setText("")
        self.readout.set_reading("", pointed=False)
        self._places.setCurrentIndex(1)

    def choose(self, uid: str | None) -> None:
        """Rings the batch that the window shows."""
        self.points.choose(uid)

    def _read(self) -> None:
        material, point = self.points.material, self.points.point
        if material is None:
            return
        if point is None:
            text = charts_at_rest(len({one.uid for one in material.points}))
        else:
            text = batch_sentence(point, material.kind, material.first_month)
        self.readout.set_reading(text, pointed=point is not None)
        for chart in (self.funnel, self.order):
            chart.setAccessibleDescription(text)

    def pictures(self) -> tuple[tuple[str, QPixmap], ...]:
        """Both charts with their titles, as they stand."""
        return (
            (self._title.text(), self.funnel.picture()),
            (self._order_title.text(), self.order.picture()),
        )


def _column(head: Sequence[QWidget], chart: QWidget) -> QWidget:
    column = QWidget()
    column.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
    rows = QVBoxLayout(column)
    rows.setContentsMargins(12, 7, 6, 0)
    rows.setSpacing(2)
    line = QHBoxLayout()
    line.setContentsMargins(4, 0, 4, 0)
    line.setSpacing(10)
    for widget in head:
        line.addWidget(widget)
    if not isinstance(head[-1], ShapeLegend):
        line.addStretch(1)
    rows.addLayout(line)
    rows.addWidget(chart, 1)
    return column


def _entries(material: PointMaterial, figures: ComparisonFigures) -> list[tuple[GroupShape, str]]:
    month = figures.season_first_month
    named = [
        (shape, group_word(group, month))
        for group, shape in material.shapes.items()
        if isinstance(group, GroupName)
    ]
    if any(material.shape(point) is GroupShape.DOT for point in material.points):
        named.append((GroupShape.DOT, QCoreApplication.translate("ChartsPane", "others")))
    return named
