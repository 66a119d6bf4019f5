"""The chart pane of a batch: the bar, the plot, and what can be done with them."""

from __future__ import annotations

import math

from PySide6.QtCore import QPoint, Qt, Signal
from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QMenu, QVBoxLayout, QWidget

from hatchbook.desk.actions import Actions
from hatchbook.desk.charts.bar import BATCH, DAYS, ChartBar
from hatchbook.desk.charts.batch_graph import BatchGraph
from hatchbook.desk.charts.keeping import ChartKeeping
from hatchbook.desk.charts.material import BatchMaterial, bare_curves
from hatchbook.desk.charts.readout_words import description, pointed_text, resting_text
from hatchbook.desk.context import DeskContext
from hatchbook.desk.widgets.notes import InlineNote
from hatchbook.figures.results import BatchFigures, BatchState, Curves

_NOW_AT_SHARE = 0.75


class ChartPane(QWidget):
    """Shows the humidity and temperature of a batch by day.

    Signals:
        event_chosen: the uid of the event whose mark was chosen.
    """

    event_chosen = Signal(str)

    def __init__(self, context: DeskContext, actions: Actions) -> None:
        super().__init__()
        self._context = context
        self._actions = actions
        self._figures: BatchFigures | None = None
        self.bar = ChartBar()
        self.note = InlineNote("")
        self.note.setVisible(False)
        self.graph = BatchGraph(context.zone)
        self.graph.setAccessibleName(self.tr("Chart: humidity, temperature and weight by day"))
        self.keeping = ChartKeeping(context, self.graph, self.note)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(4)
        rows.addWidget(self.bar)
        rows.addWidget(self.note)
        rows.addWidget(self.graph, 1)
        self.bar.days_chosen.connect(self.show_scale)
        self.graph.cursor_of_days.moved.connect(self._read_out)
        self.graph.view_changed.connect(self._name_scale)
        self.graph.event_chosen.connect(self.event_chosen)
        self.graph.menu_wanted.connect(self._open_menu)
        self.graph.left.connect(self._leave)

    # ---------------------------------------------------------------- showing

    def show_view(self, figures: BatchFigures | None, curves: Curves | None) -> None:
        """Shows a batch: its bands and aims, and its curves where there are any. None shows nothing."""
        if curves is None and figures is not None:
            curves = bare_curves(figures)
        weight = None if figures is None else figures.forecast
        material = None if curves is None else BatchMaterial(curves, weight)
        before = self.graph.material
        same = material is not None and before is not None and _uid(before) == _uid(material)
        self._figures = figures
        if not same:
            self.note.setVisible(False)
            self.bar.days.choose(BATCH)
        self.graph.humidity.say(self._empty_sentence(material))
        self.graph.show_material(material, self._context.zone, same_batch=same)
        self.graph.setAccessibleDescription(description(material))
        kinds = frozenset(event.kind for event in material.events) if material else frozenset()
        self.bar.key.show_kinds(kinds, bool(material and material.gaps and material.has_readings))
        self.bar.set_resting(resting_text(figures, self._context.zone))
        self.bar.share_room()

    def show_instant(self, at: int) -> None:
        """Brings an instant (UTC seconds) into view and points at it."""
        self.graph.show_instant(at)

    def focus_chart(self) -> None:
        """Puts the focus into the plot."""
        self.graph.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def show_table(self) -> None:
        """Shows the chart as a table."""
        from hatchbook.desk.charts.day_table import ChartTableDialog

        if self.graph.material is not None:
            ChartTableDialog(self.graph.material, self._context.zone, self).open()

    def _empty_sentence(self, material: BatchMaterial | None) -> str:
        if material is None or material.has_readings:
            return ""
        state = self._figures.state if self._figures is not None else BatchState.RUNNING
        if state is BatchState.CLOSED:
            return self.tr("No readings were kept of this batch.")
        keys = {
            name: self._actions[name].shortcut().toString(QKeySequence.SequenceFormat.NativeText)
            for name in ("import_readings", "add_reading")
        }
        if state is BatchState.PLANNED:
            text = self.tr("Not set yet. Once it is, import readings ({import_key}) or log them ({log_key}).")
        else:
            text = self.tr("No readings yet. Import ({import_key}) or log one ({log_key}).")
        return text.format(import_key=keys["import_readings"], log_key=keys["add_reading"])

    # ---------------------------------------------------------------- days in view

    def show_scale(self, key: object) -> None:
        """Shows the whole batch, a week or two days: round what is pointed at, else with now near the right."""
        scale, material = self.graph.scale_of_days, self.graph.material
        if key not in DAYS or material is None:
            self.graph.show_all()
            return
        days = DAYS[str(key)]
        at = self.graph.cursor_of_days.at
        if at is not None:
            low = scale.day_of(at) - days / 2
        elif material.running is not None:
            low = scale.day_of(material.now) - days * _NOW_AT_SHARE
        elif material.has_readings:
            low = scale.day_of(int(material.curves.at[-1])) - days
        else:
            low = scale.first
        self.graph.show_days(low, low + days)

    def _name_scale(self) -> None:
        """Keeps the choice in the bar nearest to what the wheel made of it."""
        scale = self.graph.scale_of_days
        spans = {BATCH: scale.whole, **DAYS}
        nearest = min(spans, key=lambda key: abs(math.log(spans[key] / scale.span)))
        if self.bar.days.current() != nearest:
            self.bar.days.choose(nearest)

    # ---------------------------------------------------------------- read-out and menu

    def _read_out(self) -> None:
        material, cursor = self.graph.material, self.graph.cursor_of_days
        if material is None or cursor.at is None:
            self.bar.show_reading("")
            return
        text = pointed_text(material, cursor.at, cursor.index, cursor.of_event, self._context.zone)
        self.bar.show_reading(text)

    def _leave(self) -> None:
        chosen = next(segment for segment in self.bar.days.segments() if segment.isChecked())
        chosen.setFocus(Qt.FocusReason.OtherFocusReason)

    def menu(self) -> QMenu:
        """The context menu."""
        menu = QMenu(self)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        for segment, key in zip(self.bar.days.segments(), (BATCH, *DAYS), strict=True):
            action = menu.addAction(segment.text())
            action.triggered.connect(lambda _checked=False, key=key: self._choose_scale(key))
        menu.addSeparator()
        menu.addAction(self._actions["chart_table"])
        menu.addSeparator()
        shown = self.graph.material is not None
        menu.addAction(self.tr("Save picture…"), self.keeping.save_picture).setEnabled(shown)
        menu.addAction(self.tr("Copy picture"), self.keeping.copy_picture).setEnabled(shown)
        export = menu.addAction(self.tr("Export readings…"), self.keeping.export_readings)
        export.setEnabled(bool(self.graph.material and self.graph.material.has_readings))
        return menu

    def _choose_scale(self, key: str) -> None:
        self.bar.days.choose(key)
        self.show_scale(key)

    def _open_menu(self, where: QPoint) -> None:
        self.menu().popup(where)


def _uid(material: BatchMaterial) -> str:
    return material.curves.batch.uid
