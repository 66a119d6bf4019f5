"""The phases of a batch as a check list: what each held, against what was wanted; the flagged ones first seen."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QGridLayout, QLabel, QSizePolicy, QWidget

from hatchbook.desk.painting.icons import icon_pixmap
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.widgets.themed import ThemedWidget
from hatchbook.desk.words.phase_checks import CheckLine

_ICON = 16


@dataclass
class _Row:
    line: CheckLine
    icon: QLabel


class PhaseChecks(ThemedWidget):
    """Rows of icon, subject, value and verdict; a flagged row carries a flag and bold words."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(self.tr("Checks of the phases"))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(8)
        self._grid.setVerticalSpacing(6)
        self._grid.setColumnStretch(3, 1)
        self._rows: list[_Row] = []

    def show_lines(self, lines: Sequence[CheckLine]) -> None:
        """Shows other checks."""
        while (item := self._grid.takeAt(0)) is not None:
            if (widget := item.widget()) is not None:
                widget.hide()
                widget.deleteLater()
        self._rows = []
        for row, line in enumerate(lines):
            icon = QLabel()
            icon.setFixedSize(QSize(_ICON, _ICON))
            ink = "bad" if line.flagged else "ink2"
            verdict = Label(line.verdict, ink=ink, wraps=True)
            self._grid.addWidget(icon, row, 0, Qt.AlignmentFlag.AlignTop)
            subject, value = Label(line.subject, bold=line.flagged), Label(line.value, bold=line.flagged)
            for label in (icon, subject, value, verdict):
                label.setToolTip(line.more)
            top = Qt.AlignmentFlag.AlignTop
            self._grid.addWidget(subject, row, 1, top)
            self._grid.addWidget(value, row, 2, top | Qt.AlignmentFlag.AlignRight)
            self._grid.addWidget(verdict, row, 3)
            self._rows.append(_Row(line, icon))
        self.setAccessibleDescription("; ".join(line.sentence() for line in lines))
        self.restyle()

    def restyle(self) -> None:
        """Flags and ticks in the scheme's colours."""
        ratio = self.devicePixelRatioF()
        for row in getattr(self, "_rows", ()):
            name, role = _PICTURES[row.line.state]
            row.icon.setPixmap(icon_pixmap(name, self.scheme.colour(role), _ICON, ratio))


_PICTURES = {"flagged": ("flag", "bad"), "fine": ("check", "ok"), "unknown": ("info", "ink2")}
