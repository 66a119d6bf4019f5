from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QImage, QPainter
from PySide6.QtWidgets import QApplication

Pixels = np.ndarray[Any, np.dtype[np.uint8]]
Draw = Callable[[QPainter, QRectF], None]
MARGIN = 12


def drawn(draw: Draw, width: int, height: int, ground: QColor | None) -> Pixels:
    """What is drawn into a rectangle, with a margin round it; rows × columns × (b, g, r, a)."""
    image = QImage(width + 2 * MARGIN, height + 2 * MARGIN, QImage.Format.Format_ARGB32)
    image.fill(Qt.GlobalColor.transparent if ground is None else ground)
    with QPainter(image) as painter:
        draw(painter, QRectF(MARGIN, MARGIN, width, height))
    return np.frombuffer(image.constBits(), np.uint8).reshape(image.height(), image.width(), 4).copy()


@pytest.fixture
def picture(qapp: QApplication) -> Callable[..., Pixels]:
    """Call it with a drawing function and a size: the pixels of the rectangle alone."""

    def of(draw: Draw, width: int, height: int, ground: QColor | None = None) -> Pixels:
        return drawn(draw, width, height, ground)[MARGIN:-MARGIN, MARGIN:-MARGIN]

    return of


@pytest.fixture
def spilled(qapp: QApplication) -> Callable[..., int]:
    """Call it with a drawing function and a size: how many pixels outside the rectangle were touched."""

    def of(draw: Draw, width: int, height: int) -> int:
        touched = drawn(draw, width, height, None)[:, :, 3] > 0
        touched[MARGIN:-MARGIN, MARGIN:-MARGIN] = False
        return int(touched.sum())

    return of
