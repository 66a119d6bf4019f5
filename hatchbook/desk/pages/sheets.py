"""How the pages of batches that are over are put together: columns of parts, scrolled as a whole."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QLayout, QScrollArea, QVBoxLayout, QWidget

_ALL_ROOM = 100


def column(*parts: QWidget | QLayout, spacing: int = 6, grows: QWidget | None = None) -> QWidget:
    """Parts below each other; what room is left goes to the one that grows, else below them all."""
    whole = QWidget()
    rows = QVBoxLayout(whole)
    rows.setContentsMargins(0, 0, 0, 0)
    rows.setSpacing(spacing)
    for part in parts:
        if isinstance(part, QLayout):
            rows.addLayout(part)
        else:
            rows.addWidget(part, _ALL_ROOM if part is grows else 0)
    rows.addStretch(1)
    return whole


def scrolled(content: QWidget, name: str) -> QScrollArea:
    """Content that scrolls up and down and never sideways; ``name`` is read aloud."""
    content.setObjectName("sheet")
    area = QScrollArea()
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setWidgetResizable(True)
    area.setAccessibleName(name)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.setWidget(content)
    return area
