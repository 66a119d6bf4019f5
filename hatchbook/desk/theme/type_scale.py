"""Fonts by role: always the system's own UI font, scaled, with figures of equal width."""

from __future__ import annotations

from enum import StrEnum

from PySide6.QtGui import QFont
from PySide6.QtWidgets import QApplication

from hatchbook.desk.theme.tokens import tokens


class TypeRole(StrEnum):
    """The sizes of text the program uses."""

    CAPTION = "caption"
    BODY = "body"
    SECTION = "section"
    TITLE = "title"
    FIGURE = "figure"
    CANDLE_BODY = "candle_body"
    CANDLE_VERDICT = "candle_verdict"
    CANDLE_BIG = "candle_big"


BOLD_ROLES = frozenset({TypeRole.SECTION, TypeRole.TITLE, TypeRole.CANDLE_VERDICT, TypeRole.CANDLE_BIG})


def role_font(role: TypeRole = TypeRole.BODY, *, bold: bool | None = None) -> QFont:
    """The font of a role, derived from the application's present font.

    `bold` overrides the role's own weight. Figures are tabular, so that numbers below each other line up
    and a counting number does not jiggle.
    """
    font = QFont(QApplication.font())
    ratio: float = getattr(tokens().type_ratios, role.value)
    # A font has either a point size or a pixel size; the other one is -1.
    if font.pointSizeF() > 0:
        font.setPointSizeF(font.pointSizeF() * ratio)
    else:
        font.setPixelSize(max(1, round(font.pixelSize() * ratio)))
    font.setBold(role in BOLD_ROLES if bold is None else bold)
    for tag in ("tnum", "lnum"):
        font.setFeature(QFont.Tag(tag), 1)
    return font
