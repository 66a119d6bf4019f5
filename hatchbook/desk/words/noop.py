"""Marks a text for translation where it stands in a table; typed, unlike Qt's own function of this name."""

from __future__ import annotations


def QT_TRANSLATE_NOOP(context: str, text: str) -> str:  # the name by which the texts are collected
    """The text as it is; it is translated in ``context`` when it is shown."""
    del context
    return text
