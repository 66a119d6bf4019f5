"""What a scale shows or sends: a mass with what stands round it, and how finely the scale reads.

A scale that types like a keyboard sends more than the number: a word for whether it stands still, zeros in front,
blanks before the unit. All of it is kept as typed; the number and the unit are read out of it.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from hatchbook.trade.units import NumberError, Typed, Unit, parse_typed, to_stored

_SENT = re.compile(
    r"\s*(?:[A-Za-z]{1,3}\s*[,;:]?\s*){0,3}(?P<sign>[+\-\u2212]?)\s*0*(?P<number>[0-9]+(?:[.,][0-9]+)?)\s*"
    r"(?P<unit>g|oz)?\s*(?:[A-Za-z]{1,2})?\s*",
    re.IGNORECASE,
)
"""Up to three short words, a sign, the number with zeros in front, and the unit."""


@dataclass(frozen=True)
class ScaleMass:
    """A mass as typed, and the last figure that was shown, in grams: 0.1 for "58.0 g"."""

    typed: Typed
    resolution_g: float

    @property
    def mass_g(self) -> float:
        """The mass in grams."""
        return self.typed.stored


def read_scale(text: str, unit: Unit, *, below: float) -> ScaleMass:
    """A mass typed by hand or by a scale: "58.4", "58,40 g", "ST,GS,+0058.4 g".

    Args:
        text: what came; it is kept as it is.
        unit: the unit that is meant where none is written.
        below: as in ``parse_number``, in the unit typed.

    Raises:
        NumberError: it is no mass.
    """
    try:
        typed = parse_typed(text, unit, below=below)
    except NumberError:
        found = _SENT.fullmatch(text)
        if found is None:
            raise
        bare = f"{found['sign']}{found['number']} {found['unit'] or ''}".strip()
        plain = parse_typed(bare, unit, below=below)
        typed = Typed(plain.value, plain.unit, text)
    return ScaleMass(typed, to_stored(10.0 ** -_decimals(text), typed.unit))


def _decimals(text: str) -> int:
    """How many figures stand behind the mark."""
    found = re.search(r"[0-9]*[.,](?P<part>[0-9]+)", text)
    return len(found["part"]) if found else 0
