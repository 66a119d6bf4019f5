"""What scales send."""

from __future__ import annotations

import pytest
from hatchbook.trade.scale_text import read_scale
from hatchbook.trade.units import GRAMS_PER_OUNCE, NumberError, Unit


@pytest.mark.parametrize(
    ("text", "mass_g", "resolution_g"),
    [
        ("58.4", 58.4, 0.1),
        ("58", 58.0, 1.0),
        ("58.00", 58.0, 0.01),
        ("58,4 g", 58.4, 0.1),
        ("ST,GS,+0058.4 g", 58.4, 0.1),
        ("  + 58.40g  ", 58.4, 0.01),
        ("N   58.4 g", 58.4, 0.1),
        ("2.06 oz", 2.06 * GRAMS_PER_OUNCE, 0.01 * GRAMS_PER_OUNCE),
        ("US,NT, 0002.06oz", 2.06 * GRAMS_PER_OUNCE, 0.01 * GRAMS_PER_OUNCE),
    ],
)
def test_a_mass_is_read_with_how_finely_the_scale_shows(
    text: str, mass_g: float, resolution_g: float
) -> None:
    found = read_scale(text, Unit.GRAM, below=3000)
    assert found.mass_g == pytest.approx(mass_g)
    assert found.resolution_g == pytest.approx(resolution_g)
    assert found.typed.text == text


@pytest.mark.parametrize("text", ["heavy", "58.4.1", "58 %", "ST,GS", "", "error 12 34", "58 hens"])
def test_what_is_no_mass_is_refused(text: str) -> None:
    with pytest.raises(NumberError):
        read_scale(text, Unit.GRAM, below=3000)
