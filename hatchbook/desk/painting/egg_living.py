"""Drawings of eggs that live, may live, or have hatched.

Opaque shell: not looked into. Spider: living veins. Beak in the air cell, star hole in a living egg: the
pips. Head over a broken shell: out.
"""

from __future__ import annotations

from hatchbook.desk.painting.egg_layers import AIR_CELL, ALL, BODY, EGG, ML, SLASH, L, Layer, M, S
from hatchbook.desk.painting.paths import disc, discs, path_of, star
from hatchbook.trade.codes import Fate

_SPECKLES = discs(
    (12, 10, 0.5),
    (19, 8.2, 0.38),
    (21, 15, 0.55),
    (14.5, 18, 0.42),
    (10, 16.5, 0.35),
    (18.4, 23, 0.5),
    (16.8, 13, 0.3),
    (12.6, 23.2, 0.36),
)

_SET = (
    Layer(ALL, EGG, "shell", "shell_line"),
    Layer(L, _SPECKLES, "shell_line"),
)

_VEINS = path_of(
    "M16 16.6 C13.6 15.6 11.6 14.2 8.6 14.4 M16 16.6 C18.6 15.8 20.4 13.8 23.4 14"
    " M15.6 17.6 C13.2 19.4 12.2 22 10 23 M16.4 17.6 C18.8 19.4 19.8 22 22 23"
    " M16 16.4 C15.6 14.4 16.6 12.6 16 10.6 M16 18 C16.4 20.6 15.4 23.4 16 26.4"
)
_VEIN_FORKS = path_of(
    "M12.2 14.7 C11.2 13.6 11 12.6 9.8 11.8 M20 14.5 C20.8 13.4 21 12.6 22.2 11.8"
    " M12.9 20.3 C11.6 20.2 10.4 19.6 8.6 19.8 M19.1 20.3 C20.4 20.2 21.6 19.6 23.4 19.8"
)
_VEIN_TIPS = path_of(
    "M10.4 14.3 C9.6 15.2 8.6 15.6 7.6 17 M21.8 14 C22.6 15 23.6 15.4 24.4 16.8"
    " M11.6 22 C12 23.4 11.8 24.4 12.6 25.6 M20.4 22 C20 23.4 20.2 24.4 19.4 25.6"
    " M15.9 22.6 C14.9 23.6 14.4 24.6 13.9 26.6 M16.1 12.8 C17.2 12.2 17.6 11.8 18.6 11.6"
)
_SPIDER = path_of(
    "M16 16 L9 10.6 M16 16 L23 10.6 M16 16 L9.6 21.8 M16 16 L22.4 21.8 M16 16 L16 7.6 M16 16 L16 25.4"
)
_EMBRYO = path_of(
    "M15 17.2 L16.8 15.2 C18.2 14.6 18.4 17 17.4 17.6 C17.4 19.4 15.6 20 14.6 19 C13.6 18 14 17.4 15 17.2 Z"
)

_ALIVE = (
    Layer(ALL, EGG, "hollow", "live"),
    Layer(S, disc(16, 16, 3.3), "live"),
    Layer(S, _SPIDER, None, "live", 0.82),
    Layer(L, AIR_CELL, None, "live", 0.6),
    Layer(M, disc(16, 17, 2.2), "live", "live", 0.4),
    Layer(L, _EMBRYO, "live", "live", 0.4),
    Layer(ML, _VEINS, None, "live", 0.8),
    Layer(ML, _VEIN_FORKS, None, "live", 0.6),
    Layer(L, _VEIN_TIPS, None, "live", 0.4),
)

_QUESTION = path_of("M11.9 13.2 C11.9 7.9 20.1 7.9 20.1 13.2 C20.1 16.4 16 16.2 16 19.6")

_UNSURE = (
    Layer(S | M, EGG, "warn_fill", "unsure", 1.0, (2.6, 1.9)),
    Layer(L, EGG, "warn_fill", "unsure", 1.0, (4.0, 3.0)),
    Layer(S, _QUESTION, None, "unsure", 1.5),
    Layer(ML, _QUESTION, None, "unsure", 1.35),
    Layer(S, disc(16, 23.6, 1.9), "unsure"),
    Layer(ML, disc(16, 23.6, 1.5), "unsure"),
)

_INTERNAL_PIP = (
    Layer(ALL, EGG, "hollow"),
    Layer(ALL, BODY, "live_soft"),
    Layer(S, disc(15.4, 17.6, 5.8), "live"),
    Layer(S, path_of("M13 12.4 L18.4 3.8 L20.6 15.4 Z"), "live"),
    Layer(ML, disc(14.8, 16.4, 5.4), "live"),
    Layer(ML, path_of("M15.2 11 L19.8 5.6 L19.9 14.6 Z"), "live"),
    Layer(ALL, AIR_CELL, None, "live", 0.7),
    Layer(ALL, EGG, None, "live"),
    Layer(M, disc(15.6, 14.8, 1.15), "hollow"),
    Layer(L, disc(15.6, 14.8, 0.95), "hollow"),
    Layer(L, disc(15.6, 14.8, 0.45), "ink"),
    Layer(
        L, path_of("M9.3 20.4 C9.6 24.2 12.6 26.6 16 26.6 C19.6 26.6 22.2 24 22.9 20.6"), None, "live", 0.7
    ),
)

_EXTERNAL_PIP = (
    Layer(ALL, EGG, "live_soft", "live"),
    Layer(S, star(17, 11.6, 7.6, 3.0, 6), "live"),
    Layer(ML, star(18.2, 10.2, 5.6, 2.3, 6), "live"),
    Layer(ML, star(18.2, 10.2, 1.9, 0.9, 5), "hollow"),
    Layer(ML, path_of("M13.6 12.4 L11 13.4 M15.8 15.2 L14.8 18 M21.2 14.2 L22.4 16.6"), None, "live", 0.8),
    Layer(L, path_of("M9.4 20 C10.6 24 13.2 26.4 16 26.8"), None, "live", 0.6),
)

_HEAD_S = disc(15.2, 10.6, 7.2)
_HEAD = disc(15.2, 10.6, 6.9)
_BEAK = path_of("M21.4 8.2 L27 11.2 L21.2 13.4 Z")
_BROKEN_SHELL = path_of(
    "M4.9 17.6 L8.6 20.6 L12 16.2 L16 20.6 L20 16.2 L23.4 20.6 L27.1 17.6"
    " C27.3 24.6 22.3 29.8 16 29.8 C9.7 29.8 4.7 24.6 4.9 17.6 Z"
)
_CHICK = (
    Layer(S, _HEAD_S, "live"),
    Layer(ML, _HEAD, "live"),
    Layer(ALL, _BEAK, "live"),
    Layer(S, disc(17.4, 9.4, 1.5), "hollow"),
    Layer(ML, disc(17.4, 9.4, 1.15), "hollow"),
    Layer(L, disc(17.4, 9.4, 0.55), "ink"),
    Layer(ALL, _BROKEN_SHELL, "shell", "shell_line"),
    Layer(L, path_of("M9.6 7.6 C11 5.4 13 4.8 14.6 5"), None, "hollow", 0.7),
    Layer(L, path_of("M23.6 10.9 L26 11.2"), None, "hollow", 0.5),
)

_HATCHED = (
    *_CHICK,
    Layer(L, discs((8.6, 23.4, 0.45), (22.4, 24, 0.5), (12.2, 26.8, 0.4), (19.2, 27, 0.35)), "shell_line"),
)

_PLUS = path_of("M16 20.8 L16 28.2 M12.3 24.5 L19.7 24.5")

_HELPED = (
    *_CHICK,
    Layer(L, discs((8.6, 23.4, 0.45), (22.4, 24, 0.5)), "shell_line"),
    Layer(S, _PLUS, None, "ink", 1.6),
    Layer(ML, _PLUS, None, "ink", 1.6),
)

_CULLED = (
    Layer(S, _HEAD_S, "hollow", "gone"),
    Layer(ML, _HEAD, "hollow", "gone"),
    Layer(ALL, _BEAK, "gone"),
    Layer(ML, disc(17.4, 9.4, 1.0), "gone"),
    Layer(ALL, _BROKEN_SHELL, "shell", "gone"),
    Layer(ALL, SLASH, None, "page", 3.0),
    Layer(ALL, SLASH, None, "ink", 1.25),
)

DRAWINGS: dict[Fate, tuple[Layer, ...]] = {
    Fate.SET: _SET,
    Fate.ALIVE: _ALIVE,
    Fate.UNSURE: _UNSURE,
    Fate.INTERNAL_PIP: _INTERNAL_PIP,
    Fate.EXTERNAL_PIP: _EXTERNAL_PIP,
    Fate.HATCHED: _HATCHED,
    Fate.HELPED: _HELPED,
    Fate.CULLED: _CULLED,
}
