"""What holds for the whole journal: the time zone in which it is shown, the month a season begins with."""

from __future__ import annotations

from zoneinfo import available_timezones

from PySide6.QtCore import QLocale, QSize, Qt
from PySide6.QtWidgets import QComboBox, QCompleter, QFormLayout, QVBoxLayout, QWidget

from hatchbook.desk.context import DeskContext
from hatchbook.desk.dialogs.frame import FramedDialog
from hatchbook.desk.widgets.labels import Label


class JournalSettingsDialog(FramedDialog):
    """Each change is a step of its own and can be undone."""

    def __init__(self, context: DeskContext, parent: QWidget | None) -> None:
        super().__init__(self.tr("Settings of this journal"), parent, QSize(480, 0))
        self._context = context
        settings = context.door.journal.settings
        self.zone = QComboBox()
        self.zone.setEditable(True)
        self.zone.addItems(sorted(available_timezones()))
        self.zone.setCurrentText(settings.zone.key)
        self.zone.setAccessibleName(self.tr("Home time zone"))
        completer = self.zone.completer()
        if completer is not None:
            completer.setFilterMode(Qt.MatchFlag.MatchContains)
            completer.setCompletionMode(QCompleter.CompletionMode.PopupCompletion)
        self.month = QComboBox()
        locale = QLocale()
        for month in range(1, 13):
            self.month.addItem(locale.standaloneMonthName(month), month)
        self.month.setCurrentIndex(settings.season_first_month - 1)
        self.month.setAccessibleName(self.tr("First month of a season"))
        form = QFormLayout()
        form.setLabelAlignment(Qt.AlignmentFlag.AlignLeft)
        form.addRow(self.tr("&Home time zone"), self.zone)
        form.addRow(self.tr("A season begins &with"), self.month)
        rows = QVBoxLayout()
        rows.setSpacing(10)
        rows.addLayout(form)
        rows.addWidget(
            Label(
                self.tr("Instants are stored without a zone; another zone shows the same ones differently."),
                "caption",
                "ink2",
                wraps=True,
            )
        )
        self.set_content(rows)
        keep = self.add_main_button(self.tr("Keep the settings"))
        keep.setEnabled(not context.door.journal.read_only)
        keep.clicked.connect(self._keep)
        self.add_leave_button(self.tr("Cancel"))

    def _keep(self) -> None:
        door = self._context.door
        settings = door.journal.settings
        name = self.zone.currentText().strip()
        if name not in available_timezones():
            self.tell(self.tr("There is no time zone “{name}”. Choose one of the list.").format(name=name))
            self.zone.setFocus()
            return
        month = int(self.month.currentData())
        if name != settings.zone.key and door.run(lambda journal: journal.settings.set_zone(name)) is None:
            return
        if month != settings.season_first_month:
            change = door.run(lambda journal: journal.settings.set_season_first_month(month))
            if change is None:
                return
        self.accept()
