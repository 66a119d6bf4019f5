"""From the start of the process to the first painted window of the demo, against a bare window with one plot.

Both are fresh processes with an empty home; each ends itself with the first paint of its window.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile

from result import Result, best_of, seconds

_ROUNDS = 5

_PAINTED = """
from PySide6.QtCore import QEvent, QObject, QTimer

class FirstPaint(QObject):
    def eventFilter(self, watched, event):
        if event.type() == QEvent.Type.Paint:
            QTimer.singleShot(0, leave)
        return False

def leave():
    import os
    os._exit(0)
"""

_BARE = f"""
from PySide6.QtWidgets import QApplication, QMainWindow
import pyqtgraph
{_PAINTED}
application = QApplication([])
window = QMainWindow()
plot = pyqtgraph.PlotWidget()
plot.plot([1, 2, 3], [1, 3, 2])
window.setCentralWidget(plot)
window.resize(1360, 860)
watch = FirstPaint()
plot.viewport().installEventFilter(watch)
window.show()
application.exec()
"""

_BEGIN = f"""
import sys
from hatchbook.desk.demo_making import DemoMaking
making = DemoMaking()
making.begin()
from hatchbook.desk.start import build_application, build_window
{_PAINTED}
application = build_application(["hatchbook"])
window = build_window(making=making)
watch = FirstPaint()
"""

_OURS = f"""{_BEGIN}
window.installEventFilter(watch)
window.show()
application.exec()
"""

# The same up to the batch with its figures; pyqtgraph's first chart follows it.
_WITH_BATCH = f"""{_BEGIN}
window.batch_pages.journal_page.figures.mean.installEventFilter(watch)
window.show()
application.exec()
"""


def _run(script: str) -> float:
    with tempfile.TemporaryDirectory() as home:
        environment = {
            **os.environ,
            "QT_QPA_PLATFORM": "offscreen",
            "HOME": home,
            "XDG_CONFIG_HOME": home,
            "TZ": "Europe/Lisbon",
        }
        return seconds(
            lambda: subprocess.run([sys.executable, "-c", script], env=environment, check=True, timeout=60)
        )


def run() -> list[Result]:
    """The demo's start against the bare window's: the window alone, and with the figures of its batch."""
    _run(_OURS)
    bare, ours, whole = best_of(_ROUNDS, lambda: _run(_BARE), lambda: _run(_OURS), lambda: _run(_WITH_BATCH))
    return [
        Result("start to first painted window of the demo", ours, bare, 2.0),
        Result("start to the demo's batch painted with its figures", whole, bare),
    ]
