"""What one logs on the Machines page: settings, checks and care, each in its dialog and through the door."""

from __future__ import annotations

from PySide6.QtCore import QObject, QPoint
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QMenu, QWidget

from hatchbook.desk.context import DeskContext
from hatchbook.desk.machines.reckoning import Reckoned
from hatchbook.figures.care import CareEntry
from hatchbook.figures.results import PhaseState
from hatchbook.journal import Probe
from hatchbook.trade.codes import EventKind, PhaseKind


class MachineLogging(QObject):
    """Opens the dialogs over the machine that is shown."""

    def __init__(self, context: DeskContext, page: QWidget) -> None:
        super().__init__(page)
        self._context = context
        self._page = page

    # ---------------------------------------------------------------- settings

    def log_setting(self, shown: Reckoned, channels: int | None = None, vent: float | None = None) -> None:
        """Logs how the machine is set; begins with the setting given, or as it stands."""
        from hatchbook.desk.dialogs.machine_setting import MachineSettingDialog

        MachineSettingDialog(
            self._context,
            shown.figures.machine,
            self._page,
            channels=channels,
            vent=vent,
            in_lockdown=is_in_lockdown(shown),
        ).open()

    # ---------------------------------------------------------------- checks and care

    def log_check(self, shown: Reckoned, button: QWidget) -> None:
        """Notes a check of the machine's probe; asks which where there are several."""
        probes = [one.probe for one in shown.figures.probes]
        if len(probes) == 1:
            self._check(probes[0])
            return
        menu = QMenu(self._page)
        for probe in probes:
            self._offer_check(menu, probe)
        self._show(menu, button)

    def add_care(self, shown: Reckoned, button: QWidget) -> None:
        """Offers all that can be noted of a machine."""
        menu = QMenu(self._page)
        for one in shown.figures.probes:
            self._offer_check(menu, one.probe)
        reading = QAction(self.tr("&Reading…"), menu)
        reading.triggered.connect(lambda: self._reading(shown))
        menu.addAction(reading)
        menu.addSeparator()
        for kind, text in (
            (EventKind.CLEANED, self.tr("C&leaned…")),
            (EventKind.DRY_RUN, self.tr("&Dry run…")),
            (EventKind.POWER_CUT, self.tr("&Power cut…")),
            (EventKind.CARE, self.tr("&Other care…")),
        ):
            action = QAction(text, menu)
            action.triggered.connect(lambda _checked=False, kind=kind: self._care(shown, kind))
            menu.addAction(action)
        self._show(menu, button)

    def open_entry(self, shown: Reckoned, entry: CareEntry) -> None:
        """Opens the record of a line of the table."""
        if entry.event is not None:
            from hatchbook.desk.dialogs.care import CareDialog

            CareDialog(self._context, shown.figures.machine, self._page, event=entry.event).open()
        elif entry.check is not None:
            from hatchbook.desk.dialogs.probe_check import ProbeCheckDialog

            probe = self._context.door.journal.probes.get(entry.check.probe)
            ProbeCheckDialog(self._context, probe, self._page, check=entry.check).open()

    def remove_entry(self, entry: CareEntry) -> None:
        """Takes an entry away; undo brings it back."""
        door = self._context.door
        if door.journal.read_only:
            return
        event, check = entry.event, entry.check
        if event is not None:
            door.run(lambda journal: journal.events.remove(event))
        elif check is not None:
            door.run(lambda journal: journal.probes.remove_check(check))

    def keep_holding(self) -> None:
        """Opens machines, probes and pens, where channels are measured."""
        from hatchbook.desk.dialogs.holding import HoldingDialog

        HoldingDialog(self._context, self._page).open()

    # ---------------------------------------------------------------- helpers

    def _offer_check(self, menu: QMenu, probe: Probe) -> None:
        name = probe.name.replace("&", "&&")
        action = QAction(self.tr("&Check of {probe}…").format(probe=name), menu)
        action.triggered.connect(lambda _checked=False: self._check(probe))
        menu.addAction(action)

    def _check(self, probe: Probe) -> None:
        from hatchbook.desk.dialogs.probe_check import ProbeCheckDialog

        ProbeCheckDialog(self._context, probe, self._page).open()

    def _reading(self, shown: Reckoned) -> None:
        from hatchbook.desk.dialogs.reading import ReadingDialog

        ReadingDialog(self._context, shown.figures.machine, self._page).open()

    def _care(self, shown: Reckoned, kind: EventKind) -> None:
        from hatchbook.desk.dialogs.care import CareDialog

        CareDialog(self._context, shown.figures.machine, self._page, kind=kind).open()

    @staticmethod
    def _show(menu: QMenu, button: QWidget) -> None:
        menu.aboutToHide.connect(menu.deleteLater)
        menu.popup(button.mapToGlobal(QPoint(0, button.height())))


def is_in_lockdown(shown: Reckoned) -> bool:
    """Whether a batch is in lockdown in the machine."""
    return any(
        phase.kind is PhaseKind.LOCKDOWN and phase.state is PhaseState.RUNNING
        for batch in shown.figures.batches
        for phase in batch.phases
    )
