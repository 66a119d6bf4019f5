"""English plural forms for tests, made by the rule by which the translation file gets them: "%n egg(s)"."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager

from PySide6.QtCore import QCoreApplication, QTranslator


class EnglishPlurals(QTranslator):
    """Takes the letters in brackets for the plural's; all other texts stay as they are."""

    def isEmpty(self) -> bool:
        """There is something to translate."""
        return False

    def translate(
        self, _context: str, text: str, _disambiguation: str | None = None, n: int = -1
    ) -> str | None:
        """The text with its plural resolved; None for one without a count."""
        if n < 0:
            return None
        return re.sub(r"\((e?s)\)", "" if n == 1 else r"\1", text)


@contextmanager
def english_plurals() -> Iterator[None]:
    """Texts with counts are English while it lasts."""
    translator = EnglishPlurals()
    QCoreApplication.installTranslator(translator)
    try:
        yield
    finally:
        QCoreApplication.removeTranslator(translator)
