"""The cautions of the trade. Local rules and licensed practice go first."""

from __future__ import annotations

from PySide6.QtCore import QSize
from PySide6.QtWidgets import QVBoxLayout, QWidget

from hatchbook.desk.dialogs.frame import FramedDialog
from hatchbook.desk.widgets.labels import Label


class CautionsDialog(FramedDialog):
    """What can hurt a person or an animal, and whom to ask."""

    def __init__(self, parent: QWidget | None) -> None:
        super().__init__(self.tr("Cautions"), parent, QSize(560, 0))
        rows = QVBoxLayout()
        rows.setSpacing(10)
        for text in self.cautions():
            rows.addWidget(Label(text, wraps=True))
        rows.addStretch(1)
        self.set_content(rows)
        self.add_leave_button(self.tr("Close"))

    def cautions(self) -> tuple[str, ...]:
        """The sentences, one a subject."""
        return (
            self.tr(
                "Hands: wash them after eggs, chicks and gear, and keep small children and food away. Eggs and "
                "birds can carry Salmonella. Clean the gear outdoors."
            ),
            self.tr("Rotten eggs can burst: take them out when candling, bag them first, mind your eyes."),
            self.tr("Water and mains power: unplug the machine before you work with water near its cable."),
            self.tr(
                "Late embryos can feel pain. This program gives no method: ask a veterinarian. Hatched chicks are "
                "animals under the law."
            ),
            self.tr(
                "Sudden deaths, nervous signs, swellings, a fall in laying: call a veterinarian or the authority. "
                "A journal does not diagnose a disease."
            ),
            self.tr("Fumigation is for licensed people. There is no recipe here."),
            self.tr("Local rules and licensed practice go before anything this program says."),
        )
