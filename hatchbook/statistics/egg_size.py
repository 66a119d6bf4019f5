"""What the measures of an egg tell of its mass.

Hoyt 1979, The Auk 96:73-77: W = 0.548 L B^2 for a fresh egg (g, cm). The coefficient is *from memory*, not seen in
a retrieved text; eggs of other shapes than a hen's depart from it, so that what comes of it is an estimate.
"""

from __future__ import annotations

import math

HOYT_G_PER_CM3 = 0.548  # from memory
_MM_PER_CM = 10.0


def fresh_mass_g(length_mm: float, breadth_mm: float) -> float:
    """The estimated mass of a fresh egg, g, by its greatest length and breadth in mm.

    Raises:
        ValueError: when a measure is not a number above 0.
    """
    if not all(math.isfinite(measure) and measure > 0 for measure in (length_mm, breadth_mm)):
        raise ValueError("Length and breadth of an egg are numbers above 0.")
    return HOYT_G_PER_CM3 * (length_mm / _MM_PER_CM) * (breadth_mm / _MM_PER_CM) ** 2
