"""Fonts are the system's own, scaled."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from PySide6.QtGui import QFont
from PySide6.QtWidgets import QApplication


@pytest.fixture
def system_font(qapp: QApplication) -> Iterator[QFont]:
    before = QFont(qapp.font())
    yield QFont(before)
    qapp.setFont(before)


@pytest.mark.parametrize(
    ("role", "ratio", "bold"),
    [
        (TypeRole.CAPTION, 0.85, False),
        (TypeRole.BODY, 1.0, False),
        (TypeRole.SECTION, 1.08, True),
        (TypeRole.TITLE, 1.54, True),
        (TypeRole.FIGURE, 1.85, False),
    ],
)
def test_sizes_follow_the_systems_font(
    qapp: QApplication, system_font: QFont, role: TypeRole, ratio: float, bold: bool
) -> None:
    system_font.setPointSizeF(12.0)
    qapp.setFont(system_font)
    font = role_font(role)
    assert font.pointSizeF() == pytest.approx(12.0 * ratio, abs=0.05)
    assert font.bold() is bold
    assert font.family() == system_font.family()


def test_a_system_font_in_pixels_is_scaled_too(qapp: QApplication, system_font: QFont) -> None:
    system_font.setPixelSize(20)
    qapp.setFont(system_font)
    assert role_font(TypeRole.TITLE).pixelSize() == 31


def test_weight_can_be_chosen_apart_from_the_role(qapp: QApplication) -> None:
    assert not role_font(TypeRole.TITLE, bold=False).bold()
    assert role_font(TypeRole.BODY, bold=True).bold()


def test_figures_are_of_equal_width(qapp: QApplication) -> None:
    assert role_font(TypeRole.BODY).featureValue(QFont.Tag("tnum")) == 1
