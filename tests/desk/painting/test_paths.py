"""The reader of path descriptions."""

from __future__ import annotations

import pytest
from hatchbook.desk.painting.paths import disc, discs, path_of, star
from PySide6.QtCore import QPointF, QRectF


def test_a_description_becomes_a_path() -> None:
    path = path_of("M0 0 L10 0 L10 10 L0 10 Z")
    assert path.boundingRect() == QRectF(0, 0, 10, 10)
    assert path.contains(QPointF(5, 5))


def test_pairs_after_a_move_are_lines() -> None:
    assert path_of("M0 0 10 0 10 5") == path_of("M0 0 L10 0 L10 5")


def test_a_repeated_command_may_drop_its_letter() -> None:
    assert path_of("M0 0 L10 0 10 5") == path_of("M0 0 L10 0 L10 5")


def test_curves_and_negative_and_fractional_numbers_are_read() -> None:
    path = path_of("M-1.5 -2 C0 .5 1 1 2 0 Q3 -1 4 0")
    assert path.elementAt(0).x == -1.5
    assert path.elementAt(2).y == 1
    assert path.currentPosition() == QPointF(4, 0)


@pytest.mark.parametrize(
    ("description", "message"),
    [
        ("M0 0 H10", "command H"),
        ("M0 0 L10", "missing at the end"),
        ("M0 L10 0", "missing before L"),
        ("10 0 L5 5", "without a command"),
        ("M0 0 Z 5 5", "without a command"),
    ],
)
def test_a_broken_description_is_refused(description: str, message: str) -> None:
    with pytest.raises(ValueError, match=message):
        path_of(description)


def test_shapes_have_the_size_asked_for() -> None:
    assert disc(5, 6, 2, 3).boundingRect() == QRectF(3, 3, 4, 6)
    assert discs((0, 0, 1), (10, 0, 1)).boundingRect() == QRectF(-1, -1, 12, 2)
    assert star(0, 0, 4, 1, 4, turn=0.0).boundingRect().width() == pytest.approx(8)
