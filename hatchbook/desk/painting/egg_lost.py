"""Drawings of eggs that were clear, died, or left the batch.

Hollow: the light shines through. Ring, half full, full, full with a star hole: how far it got before it
died; a cross: dead, but nobody knows when. Two halves apart: opened, and nothing had begun. Forked crack,
blots with a bead, slash: taken out. A broken outline with a dash: not known.
"""

from __future__ import annotations

from PySide6.QtGui import QPainterPath, QTransform

from hatchbook.desk.painting.egg_layers import (
    AIR_CELL,
    ALL,
    BODY,
    EGG,
    ML,
    SLASH,
    SM,
    L,
    Layer,
    S,
    above,
    below,
)
from hatchbook.desk.painting.paths import disc, discs, path_of, star
from hatchbook.trade.codes import Fate

_CLEAR = (
    Layer(ALL, EGG, "hollow", "clear"),
    Layer(S, AIR_CELL, None, "clear", 0.9),
    Layer(ML, AIR_CELL, None, "clear", 0.8),
    Layer(ML, disc(16, 18.6, 4.6, 4.3), "shell"),
    Layer(L, path_of("M9.2 16.2 C9.4 20.2 11 23.4 12.9 25.4"), None, "clear", 0.7),
)


def _lifted_cap() -> QPainterPath:
    """The blunt end of an opened egg, tipped open to the right."""
    tip = QTransform().translate(25.6, 11.2).rotate(10).translate(-25.6, -9.4)
    return tip.map(above("M-2 9.4 L34 9.4"))


_CAP = _lifted_cap()
_CUP = below("M-2 17 L34 17")

_INFERTILE = (
    Layer(ALL, _CUP, "hollow"),
    Layer(ALL, _CUP, None, "clear"),
    Layer(ML, disc(16, 18.2, 4.6, 4.2), "shell", "clear", 0.6),
    Layer(L, disc(16.8, 17, 0.7), "clear"),
    Layer(ALL, _CAP, "hollow", "clear"),
)

_RING = path_of(
    "M10.2 18.2 C10 14.6 12.6 12.4 16.2 12.6 C19.8 12.6 22 15 21.8 18.2"
    " C21.6 21.6 19 23.6 15.8 23.4 C12.4 23.4 10.4 21.4 10.2 18.2 Z"
)

_EARLY_DEAD = (
    Layer(ALL, EGG, "hollow", "dead2"),
    Layer(ML, AIR_CELL, None, "dead2", 0.7),
    Layer(S, disc(16, 17.4, 5.6, 5.4), None, "dead2", 1.9),
    Layer(ML, _RING, None, "dead2", 1.9),
    Layer(L, disc(14.4, 19.2, 0.75), "dead2"),
    Layer(
        L,
        path_of("M11.2 21.6 C10.2 22.2 9.8 23 9.4 23.6 M21.2 14.4 C22 13.9 22.5 13.5 23 12.8"),
        None,
        "dead2",
        0.6,
    ),
)

_HALF = below("M-2 17.2 L5 17.2 C9 14.6 12 19.8 16 17.2 C20 14.6 23 19.8 27 17.2 L34 17.2")

_MID_DEAD = (
    Layer(ALL, EGG, "hollow"),
    Layer(ALL, _HALF, "dead2"),
    Layer(ML, AIR_CELL, None, "dead2", 0.7),
    Layer(ALL, EGG, None, "dead2"),
    Layer(
        L,
        path_of("M9.2 21.4 C11.2 20 12.6 22.8 14.8 21.8 M17.8 24.4 C19.4 23.4 20.4 25.2 21.8 24.4"),
        None,
        "hollow",
        0.6,
    ),
)

_CURLED = path_of(
    "M21.6 14.6 C23.2 17.4 22.4 21.6 19.4 24 C17 25.8 13.4 25.4 11.6 23"
    " M18.6 14 C15.4 12.8 11.6 14.6 11.2 17.8 C10.9 20.2 12.8 21.8 15 21 L17.4 19.4"
)

_LATE_DEAD = (
    Layer(ALL, EGG, "hollow"),
    Layer(ALL, BODY, "dead3"),
    Layer(ALL, EGG, None, "dead3"),
    Layer(L, _CURLED, None, "hollow", 0.6),
)

_CROSS = path_of("M11.4 13.6 L20.6 23.6 M20.6 13.6 L11.4 23.6")

_DEAD = (
    Layer(ALL, EGG, "hollow", "dead2"),
    Layer(ML, AIR_CELL, None, "dead2", 0.7),
    Layer(SM, _CROSS, None, "dead2", 1.7),
    Layer(L, _CROSS, None, "dead2", 1.9),
)

_PIPPED_DEAD = (
    Layer(ALL, EGG, "dead4", "dead4"),
    Layer(S, star(17, 11.6, 7.6, 3.0, 6), "hollow"),
    Layer(ML, star(18.2, 10.2, 5.6, 2.3, 6), "hollow"),
    Layer(ML, path_of("M13.2 13 L10.4 14.2 M15.6 16 L14.6 19 M21.2 14.8 L22.4 17.4"), None, "hollow", 0.8),
    Layer(ML, disc(18.2, 10.2, 1.0), "dead4"),
)

_CRACK = path_of("M26.6 10.6 L21.6 12.2 L22 16 L17 16.4 L15.4 20 L10.4 22.2 M17 16.4 L13.4 14.4 L11.4 10.8")

_CRACKED = (
    Layer(ALL, EGG, "shell", "gone"),
    Layer(S, path_of("M27 10.5 L20.4 13 L21.4 17 L14 17.4 L9.5 22 M14 17.4 L10 13.6"), None, "ink", 1.05),
    Layer(ML, _CRACK, None, "ink", 1.1),
    Layer(
        L,
        path_of("M22 16 L24.2 18.4 L24 20.6 M15.4 20 L16.6 23.6 L15.4 25.8 M13.4 14.4 L9.6 15.2"),
        None,
        "ink",
        0.7,
    ),
)

_BLOTS = discs(
    (11.4, 11, 3.1),
    (19.6, 9.4, 1.7),
    (20.8, 15.8, 2.7),
    (14.2, 19.4, 3.2),
    (18.6, 24, 1.9),
    (9.4, 17.2, 1.2),
    (15.8, 13.8, 1.2),
)
_BEAD = path_of(
    "M26.6 23.2 C28.4 25.8 28.8 26.8 28.8 27.6 C28.8 30.4 24.6 30.4 24.6 27.6 C24.6 26.8 25 25.6 26.6 23.2 Z"
)

_ROTTEN = (
    Layer(S, EGG, "hollow", "gone"),
    Layer(ML, EGG, "gap", "gone"),
    Layer(S, discs((11.5, 11.5, 3.4), (20.4, 14.4, 3.2), (14.4, 21.4, 3.5)), "gone"),
    Layer(ML, _BLOTS, "dead4"),
    Layer(ALL, _BEAD, "gone", "hollow", 0.5),
)

_TAKEN_OUT = (
    Layer(ALL, EGG, "shell", "gone"),
    Layer(ALL, SLASH, None, "page", 3.0),
    Layer(ALL, SLASH, None, "ink", 1.25),
)

_DASH = path_of("M11.6 16.4 L20.4 16.4")

_UNKNOWN = (
    Layer(SM, EGG, "hollow", "gone", 1.0, (2.6, 1.9)),
    Layer(L, EGG, "hollow", "gone", 1.0, (4.0, 3.0)),
    Layer(ALL, _DASH, None, "gone", 1.5),
)

DRAWINGS: dict[Fate, tuple[Layer, ...]] = {
    Fate.CLEAR: _CLEAR,
    Fate.INFERTILE: _INFERTILE,
    Fate.EARLY_DEAD: _EARLY_DEAD,
    Fate.MID_DEAD: _MID_DEAD,
    Fate.LATE_DEAD: _LATE_DEAD,
    Fate.DEAD: _DEAD,
    Fate.PIPPED_DEAD: _PIPPED_DEAD,
    Fate.CRACKED: _CRACKED,
    Fate.ROTTEN: _ROTTEN,
    Fate.TAKEN_OUT: _TAKEN_OUT,
    Fate.UNKNOWN: _UNKNOWN,
}
