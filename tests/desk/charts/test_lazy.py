"""The chart comes after the window."""

from __future__ import annotations

import subprocess
import sys
import textwrap
from types import SimpleNamespace
from typing import Any

from hatchbook.desk.actions import Actions
from hatchbook.desk.charts.lazy import LazyChartPane, LazyPhasesChart
from hatchbook.figures.results import BatchFigures, Curves
from PySide6.QtWidgets import QMainWindow

ORDER = """
    import sys
    from types import SimpleNamespace
    from zoneinfo import ZoneInfo
    from PySide6.QtWidgets import QApplication, QMainWindow
    application = QApplication([])
    from hatchbook.desk.actions import Actions
    from hatchbook.desk.charts.lazy import LazyChartPane

    class Window(QMainWindow):
        pass

    class Pane(LazyChartPane):
        def paintEvent(self, event):
            seen.append(("painted", "pyqtgraph" in sys.modules))
            super().paintEvent(event)

    seen = []
    window = Window()
    pane = Pane(SimpleNamespace(zone=ZoneInfo("UTC"), worker=None), Actions(window))
    window.setCentralWidget(pane)
    pane.show_view(None, None)
    window.show()
    seen.append(("shown", "pyqtgraph" in sys.modules))
    for _ in range(20):
        application.processEvents()
    print(seen[:2], pane.is_built, "pyqtgraph" in sys.modules)
"""


def test_pyqtgraph_is_imported_after_the_window_is_painted() -> None:
    run = subprocess.run(
        [sys.executable, "-c", textwrap.dedent(ORDER)], capture_output=True, text=True, check=False
    )
    assert run.stdout.strip() == "[('shown', False), ('painted', False)] True True", run.stdout + run.stderr


def test_what_was_asked_before_is_shown_once_it_is_there(
    window: QMainWindow, context: SimpleNamespace, figures: BatchFigures, sample: Curves, qtbot: Any
) -> None:
    pane = LazyChartPane(context, Actions(window))  # type: ignore[arg-type]
    window.setCentralWidget(pane)
    pane.show_view(figures, sample)
    assert not pane.is_built
    window.show()
    qtbot.waitUntil(lambda: pane.is_built)
    assert pane.chart.graph.material is not None
    with qtbot.waitSignal(pane.event_chosen) as chosen:
        pane.chart.event_chosen.emit("power0")
    assert chosen.args == ["power0"]
    pane.show_view(None, None)
    assert pane.chart.graph.material is None


def test_asking_for_something_builds_it_at_once(
    window: QMainWindow, context: SimpleNamespace, figures: BatchFigures, sample: Curves
) -> None:
    pane = LazyChartPane(context, Actions(window))  # type: ignore[arg-type]
    window.setCentralWidget(pane)
    pane.show_view(figures, sample)
    pane.show_instant(sample.start_at + 86_400)
    assert pane.chart.graph.cursor_of_days.index is not None


def test_the_phases_of_a_finished_batch_come_as_late(
    window: QMainWindow, context: SimpleNamespace, sample: Curves, qtbot: Any
) -> None:
    chart = LazyPhasesChart()
    window.setCentralWidget(chart)
    chart.show_view(sample, context.zone, [(sample.start_at, "from day 0")])
    assert not chart.is_built
    window.show()
    qtbot.waitUntil(lambda: chart.is_built)
    assert "from day 0" in chart.chart.accessibleDescription()
