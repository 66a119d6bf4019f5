from __future__ import annotations

from collections.abc import Iterator

import pytest
from hatchbook.desk.theme.dress import ENTRY_CLASSES
from hatchbook.desk.theme.theme import SchemeChoice, Theme, current_theme
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QApplication


@pytest.fixture
def theme(qapp: QApplication) -> Iterator[Theme]:
    """The application's theme, on light; the application is undressed afterwards."""
    theme = current_theme()
    theme.choose(SchemeChoice.LIGHT)
    theme.apply(qapp)
    yield theme
    theme.choose(SchemeChoice.SYSTEM)
    qapp.setStyleSheet("")
    qapp.setPalette(QPalette())
    for name in ENTRY_CLASSES:
        qapp.setPalette(QPalette(), name)
