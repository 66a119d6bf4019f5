"""The tray weighed as one: with its eggs, empty, and how many lie on it."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFormLayout, QHBoxLayout, QPushButton, QSpinBox, QVBoxLayout, QWidget

from hatchbook.desk.weighing.mass_edit import MassEdit
from hatchbook.desk.widgets.labels import Label
from hatchbook.journal import Weighing
from hatchbook.trade.units import Unit

_HEAVIEST_TRAY_G = 1e6


class TrayPane(QWidget):
    """Two masses and a count.

    Signals:
        store_wanted: the tray is to be stored.
    """

    store_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.whole = MassEdit(Unit.GRAM, self.tr("Mass of the tray with its eggs"), below=_HEAVIEST_TRAY_G)
        self.tare = MassEdit(Unit.GRAM, self.tr("Mass of the empty tray"), below=_HEAVIEST_TRAY_G)
        self.eggs = QSpinBox()
        self.eggs.setRange(1, 5000)
        self.eggs.setAccessibleName(self.tr("Eggs on the tray"))
        self.store = QPushButton(self.tr("&Store the tray"))
        self.store.setAutoDefault(False)
        self.store.clicked.connect(self.store_wanted)
        self.told = Label("", wraps=True)
        form = QFormLayout()
        form.setLabelAlignment(Qt.AlignmentFlag.AlignLeft)
        form.addRow(self.tr("With &eggs"), self.whole)
        form.addRow(self.tr("E&mpty"), self.tare)
        form.addRow(self.tr("E&ggs on it"), self.eggs)
        button = QHBoxLayout()
        button.addWidget(self.store)
        button.addStretch(1)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(8)
        rows.addWidget(
            Label(
                self.tr(
                    "One number for all eggs that lie on it. Eggs taken out later do not count as lost weight, "
                    "as long as the count is right; single eggs cannot be told apart."
                ),
                ink="ink2",
                wraps=True,
            )
        )
        rows.addLayout(form)
        rows.addLayout(button)
        rows.addWidget(self.told)
        rows.addStretch(1)
        self.setFocusProxy(self.whole)

    def set_unit(self, unit: Unit) -> None:
        """Means another unit from now on."""
        self.whole.set_unit(unit)
        self.tare.set_unit(unit)

    def weighing(self, batch: str, at: int) -> Weighing | None:
        """The weighing that is typed; None where something is missing or wrong, which is then said."""
        whole, tare = self.whole.read(), self.tare.read()
        if (whole is None and not self.whole.is_empty()) or (tare is None and not self.tare.is_empty()):
            return None
        if whole is None:
            self.whole.tell(self.tr("Type the mass of the tray with its eggs."))
            return None
        if tare is not None and tare.mass_g >= whole.mass_g:
            self.tare.tell(self.tr("The empty tray cannot weigh more than the full one."))
            return None
        return Weighing(
            batch,
            at,
            resolution_g=whole.resolution_g,
            tray_mass_g=whole.mass_g,
            tare_g=None if tare is None else tare.mass_g,
            eggs_on_tray=self.eggs.value(),
            entered=whole.typed.to_json(),
        )
