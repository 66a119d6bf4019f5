"""The lower half of the page: the batches in the machine, its checks and care."""

from __future__ import annotations

from collections.abc import Sequence
from zoneinfo import ZoneInfo

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from hatchbook.desk.charts.machine_history import MachineHistory
from hatchbook.desk.machines.care_table import CareTable
from hatchbook.desk.widgets.buttons import FlatButton
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.widgets.notes import InlineNote
from hatchbook.desk.widgets.readout import Readout
from hatchbook.desk.words.guide_water import dry_run_result
from hatchbook.desk.words.machines import batches_sentence
from hatchbook.desk.words.probe_flags import watch_sentences
from hatchbook.figures.care import CareEntry
from hatchbook.figures.guide_results import DryRun
from hatchbook.figures.machines import MachineFigures
from hatchbook.figures.probe_watch import ProbeWatch


class HistoryPane(QWidget):
    """The chart of a machine's batches, and above it what is pointed at.

    Signals:
        batch_opened: the uid of a batch.
    """

    batch_opened = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._resting = ""
        self.chart = MachineHistory()
        self.readout = Readout(name=self.tr("Batch"))
        self.chart.pointed.connect(self._tell)
        self.chart.batch_opened.connect(self.batch_opened)
        head = QHBoxLayout()
        head.setSpacing(12)
        head.addWidget(Label(self.tr("Batches in this machine"), role="section"))
        head.addWidget(self.readout, 1)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(16, 10, 12, 8)
        rows.setSpacing(6)
        rows.addLayout(head)
        rows.addWidget(self.chart, 1)

    def show_figures(self, figures: MachineFigures) -> None:
        """Shows the batches of a machine."""
        self._resting = batches_sentence(figures)
        self.chart.show_batches(figures.batches)
        self._tell(self.chart.said())

    def _tell(self, sentence: str) -> None:
        self.readout.set_reading(sentence or self._resting, pointed=bool(sentence))


class CarePane(QWidget):
    """The table of checks and care, what is odd about the probes, and what adds an entry.

    Signals:
        entry_opened, removal_wanted: a ``CareEntry``.
        add_wanted: another entry is to be noted.
    """

    entry_opened = Signal(object)
    removal_wanted = Signal(object)
    add_wanted = Signal()

    def __init__(self, zone: ZoneInfo, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.zone = zone
        self.table = CareTable(zone)
        self.table.opening_wanted.connect(lambda: self.entry_opened.emit(self.table.current_entry()))
        self.table.removal_wanted.connect(lambda: self.removal_wanted.emit(self.table.current_entry()))
        self.empty = Label(
            self.tr("Nothing noted yet. A salt test of the hygrometer is the best beginning."),
            ink="ink2",
            wraps=True,
        )
        self.flags = InlineNote("")
        self.add = FlatButton(self.tr("Add…"))
        self.add.setAccessibleName(self.tr("Add a check or care"))
        self.add.clicked.connect(self.add_wanted)
        head = QHBoxLayout()
        head.addWidget(Label(self.tr("Checks and care"), role="section"))
        head.addStretch(1)
        head.addWidget(self.add)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(16, 6, 12, 8)
        rows.setSpacing(6)
        rows.addLayout(head)
        rows.addWidget(self.flags)
        rows.addWidget(self.empty)
        rows.addWidget(self.table, 1)
        rows.addStretch(0)

    def show_care(self, entries: Sequence[CareEntry], dry_runs: Sequence[DryRun], watch: ProbeWatch) -> None:
        """Shows the care of a machine."""
        said = {run.at: dry_run_result(run) for run in dry_runs}
        self.table.show_entries(entries, said)
        self.table.setVisible(bool(entries))
        self.empty.setVisible(not entries)
        flags = " ".join(watch_sentences(watch, self.zone))
        if flags != self.flags.text():
            self.flags.set_note(flags, "warn")
        self.flags.setVisible(bool(flags))
