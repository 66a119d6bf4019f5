"""The checks of a probe as a table, newest first."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from zoneinfo import ZoneInfo

from PySide6.QtCore import QCoreApplication, QObject, Signal

from hatchbook.desk.dialogs.cells import CellModel, Column
from hatchbook.desk.words.dates import date_text
from hatchbook.desk.words.holding import check_method, checked_value, off_by
from hatchbook.journal import ProbeCheck


def _tr(text: str) -> str:
    return QCoreApplication.translate("CheckRows", text)


class CheckRows(CellModel):
    """For looking; Del asks for a check to be taken away.

    Signals:
        removal_wanted: the ``ProbeCheck`` that is to go.
    """

    removal_wanted = Signal(object)

    def __init__(self, zone: ZoneInfo, parent: QObject | None = None) -> None:
        super().__init__(
            (
                Column(_tr("When"), "", 96, editable=False),
                Column(_tr("How"), "", 190, editable=False),
                Column(_tr("Should be"), "", 78, number=True, editable=False),
                Column(_tr("Showed"), "", 70, number=True, editable=False),
                Column(_tr("Off by"), "", 60, number=True, editable=False),
            ),
            parent=parent,
        )
        self._zone = zone
        self._checks: list[ProbeCheck] = []

    def show_checks(self, checks: Sequence[ProbeCheck]) -> None:
        """Shows the checks of a probe."""
        self._checks = list(checks)
        self.set_texts(
            [
                (
                    date_text(datetime.fromtimestamp(check.at, self._zone).date(), _tr("d MMM yyyy")),
                    check_method(check),
                    checked_value(check.reference_value, check.quantity),
                    checked_value(check.shown_value, check.quantity),
                    off_by(check),
                )
                for check in checks
            ]
        )

    def check_at(self, row: int) -> ProbeCheck | None:
        """The check of a row."""
        return self._checks[row] if 0 <= row < len(self._checks) else None

    def remove_row(self, row: int) -> bool:
        """Asks for a check to be taken away; the journal has the last word."""
        check = self.check_at(row)
        if check is not None:
            self.removal_wanted.emit(check)
        return False
