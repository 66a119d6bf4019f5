"""The colour roles: complete, readable, and apart for colour-blind eyes."""

from __future__ import annotations

import itertools
from typing import Any

import numpy as np
import pytest
from hatchbook.desk.painting import egg_living, egg_lost
from hatchbook.desk.theme import tokens as tokens_module
from hatchbook.desk.theme.tokens import CANDLING_LEVELS, COLOUR_ROLES, SCHEME_NAMES, load_scheme, tokens
from PySide6.QtGui import QColor

TEXT_ROLES = ("ink", "ink2", "ink3", "accent", "warn", "bad", "ok", "heat", "weight", "water")
TEXT_PAIRS = [
    *itertools.product(TEXT_ROLES, ("page", "desk", "inset")),
    *itertools.product(("ink", "ink2", "ink3"), ("field",)),
    *itertools.product(("ink", "ink2"), ("select", "band2")),
    *itertools.product(("ink", "water_deep"), ("band", "band2")),
    *itertools.product(("ink", "accent", "warn"), ("warn_fill",)),
    *itertools.product(("ink", "accent", "bad"), ("bad_fill",)),
    ("ok", "ok_fill"),
    ("weight", "weight_band"),
    ("heat", "heat_band"),
    ("accent_ink", "accent"),
]


def luminance(colour: QColor) -> float:
    """Relative luminance (WCAG 2.2, https://www.w3.org/TR/WCAG22/#dfn-relative-luminance)."""
    channels = np.array([colour.redF(), colour.greenF(), colour.blueF()])
    linear = np.where(channels <= 0.04045, channels / 12.92, ((channels + 0.055) / 1.055) ** 2.4)
    return float(linear @ np.array([0.2126, 0.7152, 0.0722]))


def contrast(one: QColor, other: QColor) -> float:
    """Contrast ratio (WCAG 2.2, https://www.w3.org/TR/WCAG22/#dfn-contrast-ratio)."""
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def test_contrast_of_black_on_white_is_21() -> None:
    assert contrast(QColor("#000000"), QColor("#ffffff")) == pytest.approx(21.0)


@pytest.mark.parametrize("name", SCHEME_NAMES)
def test_text_is_easy_to_read(name: tokens_module.SchemeName) -> None:
    scheme = load_scheme(name)
    low = {
        (text, ground): round(contrast(scheme.colour(text), scheme.colour(ground)), 2)
        for text, ground in TEXT_PAIRS
        if contrast(scheme.colour(text), scheme.colour(ground)) < 4.5
    }
    assert low == {}


@pytest.mark.parametrize("name", SCHEME_NAMES)
def test_the_outlines_of_eggs_stand_out_from_the_page(name: tokens_module.SchemeName) -> None:
    scheme = load_scheme(name)
    layers = itertools.chain(*egg_living.DRAWINGS.values(), *egg_lost.DRAWINGS.values())
    # White lines lie on dark fills, and the page-coloured one is the halo of the slash.
    strokes = {layer.stroke for layer in layers if layer.stroke} - {"hollow", "page"}
    assert strokes >= {"live", "dead2", "dead3", "dead4", "clear", "gone", "shell_line", "unsure"}
    low = [role for role in strokes if contrast(scheme.colour(role), scheme.page) < 3.0]
    assert low == []


@pytest.mark.parametrize("name", ["light", "dark"])
def test_what_is_drawn_into_an_egg_stands_out_from_its_fill(name: tokens_module.SchemeName) -> None:
    scheme = load_scheme(name)
    pairs = [
        ("hollow", "live"),
        ("hollow", "dead3"),
        ("hollow", "dead4"),
        ("unsure", "warn_fill"),
        ("live", "live_soft"),
        ("shell_line", "shell"),
        ("ink", "shell"),
        ("dead4", "gap"),
    ]
    assert [pair for pair in pairs if contrast(scheme.colour(pair[0]), scheme.colour(pair[1])) < 3.0] == []


@pytest.mark.parametrize("name", SCHEME_NAMES)
def test_the_focus_ring_stands_out_wherever_it_is_drawn(name: tokens_module.SchemeName) -> None:
    scheme = load_scheme(name)
    for ground in ("page", "desk", "inset", "select", "warn_fill", "bad_fill"):
        assert contrast(scheme.focus, scheme.colour(ground)) >= 3.0, ground


# Full dichromacy. Machado, Oliveira & Fernandes 2009, IEEE Trans. Vis. Comput. Graph. 15(6):1291-1298, Table 1.
EYES = {
    "usual": np.eye(3),
    "protan": [
        [0.152286, 1.052583, -0.204868],
        [0.114503, 0.786281, 0.099216],
        [-0.003882, -0.048116, 1.051998],
    ],
    "deutan": [
        [0.367322, 0.860646, -0.227968],
        [0.280085, 0.672501, 0.047413],
        [-0.011820, 0.042940, 0.968881],
    ],
    "tritan": [
        [1.255528, -0.076749, -0.178779],
        [-0.078411, 0.930809, 0.147602],
        [0.004733, 0.691367, 0.303900],
    ],
}


def lab(colour: QColor, eye: Any) -> np.ndarray[Any, np.dtype[np.float64]]:
    """CIELAB under D65 of a colour as an eye sees it (sRGB matrix of IEC 61966-2-1)."""
    channels = np.array([colour.redF(), colour.greenF(), colour.blueF()])
    linear = np.where(channels <= 0.04045, channels / 12.92, ((channels + 0.055) / 1.055) ** 2.4)
    seen = np.clip(np.asarray(eye) @ linear, 0, 1)
    to_xyz = np.array(
        [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]],
    )
    xyz = to_xyz @ seen / np.array([0.95047, 1.0, 1.08883])
    f = np.where(xyz > 216 / 24389, np.cbrt(xyz), 841 / 108 * xyz + 4 / 29)
    return np.array([116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])])


@pytest.mark.parametrize("eye", EYES)
@pytest.mark.parametrize("name", ["light", "dark"])
def test_the_fills_of_eggs_stay_apart_for_every_eye(name: tokens_module.SchemeName, eye: str) -> None:
    scheme = load_scheme(name)
    fills = ("live", "live_soft", "dead1", "dead2", "dead3", "dead4", "hollow", "shell")
    seen = {role: lab(scheme.colour(role), EYES[eye]) for role in fills}
    distances = {
        (a, b): float(np.linalg.norm(seen[a] - seen[b])) for a, b in itertools.combinations(fills, 2)
    }
    assert min(distances.values()) >= 10.0, min(distances, key=lambda pair: distances[pair])


@pytest.mark.parametrize("name", CANDLING_LEVELS)
def test_the_candling_room_is_lit_by_long_waves_only(name: tokens_module.SchemeName) -> None:
    scheme = load_scheme(name)
    for role in COLOUR_ROLES:
        colour = scheme.colour(role)
        assert colour.blueF() < 0.3, role
        assert colour.greenF() <= 0.5, role
        assert colour.redF() >= colour.greenF() >= colour.blueF(), role


def test_each_light_level_of_the_candling_room_is_brighter_than_the_one_before() -> None:
    levels = [load_scheme(name) for name in CANDLING_LEVELS]
    for role in ("page", "ink", "ink2", "ink3", "live", "shell_line", "dead3"):
        light = [luminance(level.colour(role)) for level in levels]
        assert light == sorted(light), role
        assert len(set(light)) == 3, role


def test_alpha_gives_a_copy() -> None:
    scheme = load_scheme("light")
    pale = scheme.alpha("water", 0.25)
    assert pale.alphaF() == pytest.approx(0.25, abs=0.01)
    assert pale.name() == scheme.hex("water")
    assert scheme.water.alphaF() == 1.0


@pytest.mark.parametrize("role", ["name", "mauve", "hex"])
def test_a_role_that_is_no_colour_is_refused(role: str) -> None:
    with pytest.raises(KeyError):
        load_scheme("light").colour(role)


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"mauve": "#112233"}, "mauve"),
        ({"ink": "blackish"}, "not a colour: ink"),
    ],
)
def test_a_token_file_that_does_not_fit_is_refused(
    monkeypatch: pytest.MonkeyPatch, change: dict[str, str], message: str
) -> None:
    content = tokens_module._content()
    schemes = {**content["schemes"], "light": {**content["schemes"]["light"], **change}}
    monkeypatch.setattr(tokens_module, "_content", lambda: {**content, "schemes": schemes})
    with pytest.raises(ValueError, match=message):
        load_scheme.__wrapped__("light")


def test_lengths_are_read_from_the_file() -> None:
    assert tokens().sizes.left_min < tokens().sizes.left_column < tokens().sizes.left_max
    assert tokens().spacing.x1 < tokens().spacing.x6
    assert tokens().lines.focus == 2
