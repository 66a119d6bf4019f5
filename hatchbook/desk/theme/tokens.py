"""The design tokens of `resources/look/tokens.json`, typed.

Colours are roles ("water", "ink2"), never hues, so that a widget reads the same in every scheme.
Lengths are device-independent pixels. Start-up reads this module, so the classes do without the methods
that nobody calls: there is one of each, compared by identity.
"""

from __future__ import annotations

import json
from dataclasses import dataclass, fields
from functools import cache
from typing import Any, Literal, TypeVar

from PySide6.QtGui import QColor

from hatchbook.trade.resources import resource_path

SchemeName = Literal["light", "dark", "candling", "candling_2", "candling_3"]
SCHEME_NAMES: tuple[SchemeName, ...] = ("light", "dark", "candling", "candling_2", "candling_3")
CANDLING_LEVELS: tuple[SchemeName, ...] = ("candling", "candling_2", "candling_3")
"""The candling room at its three light levels, the dimmest first."""


@dataclass(frozen=True, eq=False, repr=False)
class Scheme:
    """One set of colours, by role. Treat the colours as constants; `alpha` gives a copy to change."""

    name: str
    # surfaces: window, main sheet, table heads and strips, entry fields; hairlines, control edges
    desk: QColor
    page: QColor
    inset: QColor
    field: QColor
    rule: QColor
    rule_strong: QColor
    # text, from the strongest to the faintest that is still easy to read
    ink: QColor
    ink2: QColor
    ink3: QColor
    # action
    accent: QColor
    accent_ink: QColor
    select: QColor
    focus: QColor
    # humidity: hold line, readings, running mean; set band, its edge, lockdown band
    water: QColor
    water_raw: QColor
    water_deep: QColor
    band: QColor
    band_edge: QColor
    band2: QColor
    # temperature
    heat: QColor
    heat_band: QColor
    # weight
    weight: QColor
    weight_band: QColor
    weight_fan: QColor
    weight_edge: QColor
    # attention
    warn: QColor
    warn_fill: QColor
    warn_edge: QColor
    bad: QColor
    bad_fill: QColor
    bad_edge: QColor
    ok: QColor
    ok_fill: QColor
    gap: QColor
    # eggs: shell, light shining through, living, the four stages of death, and what was taken out
    shell: QColor
    shell_line: QColor
    hollow: QColor
    live: QColor
    live_soft: QColor
    dead1: QColor
    dead2: QColor
    dead3: QColor
    dead4: QColor
    clear: QColor
    unsure: QColor
    gone: QColor
    chip_text: QColor

    def colour(self, role: str) -> QColor:
        """The colour of a role. KeyError for a role that does not exist."""
        value = self.__dict__[role]
        if not isinstance(value, QColor):
            raise KeyError(role)
        return value

    def hex(self, role: str) -> str:
        """The colour of a role as "#rrggbb", for style sheets."""
        return self.colour(role).name()

    def alpha(self, role: str, share: float) -> QColor:
        """A copy of a role's colour with the given opacity, 0 to 1."""
        colour = QColor(self.colour(role))
        colour.setAlphaF(share)
        return colour


COLOUR_ROLES: tuple[str, ...] = tuple(field.name for field in fields(Scheme) if field.name != "name")


@dataclass(frozen=True, eq=False, repr=False)
class Spacing:
    """Steps of white space."""

    x1: int
    x2: int
    x3: int
    x4: int
    x5: int
    x6: int


@dataclass(frozen=True, eq=False, repr=False)
class Radii:
    """Corner radii."""

    control: int
    box: int
    sheet: int
    calendar_day: int


@dataclass(frozen=True, eq=False, repr=False)
class TypeRatios:
    """Text sizes as ratios of the system's UI font."""

    caption: float
    body: float
    section: float
    title: float
    figure: float
    candle_body: float
    candle_verdict: float
    candle_big: float


@dataclass(frozen=True, eq=False, repr=False)
class Lines:
    """Line widths."""

    hair: float
    axis: float
    reading: float
    mean: float
    halo: float
    hold: float
    mean_path: float
    aim: float
    fan: float
    chosen_egg: float
    weight_mean: float
    forecast: float
    whisker: float
    interval: float
    dot: float
    now: float
    focus: float


@dataclass(frozen=True, eq=False, repr=False)
class Sizes:
    """Fixed heights and widths of regions and rows."""

    left_column: int
    left_min: int
    left_max: int
    side_pane: int
    side_min: int
    side_wide: int
    batch_row: int
    season_row: int
    duty_row: int
    calendar_cell: int
    calendar_cell_low: int
    tool_bar: int
    status: int
    header: int
    key_figures: int
    chart_bar: int
    phase_lane: int
    events_lane: int
    temperature_strip: int
    left_axis: int
    tray_egg: int
    tray_egg_narrow: int
    tray_egg_wide: int
    candle_egg: int
    icon: int
    hit_min: int
    window_min_width: int
    window_min_height: int


@dataclass(frozen=True, eq=False, repr=False)
class Tokens:
    """Everything in the token file but the schemes, which `load_scheme` gives."""

    spacing: Spacing
    radii: Radii
    type_ratios: TypeRatios
    lines: Lines
    sizes: Sizes


@cache
def tokens() -> Tokens:
    """The lengths, line widths and text ratios; read once."""
    content = _content()
    return Tokens(
        spacing=_typed(Spacing, content["spacing"]),
        radii=_typed(Radii, content["radii"]),
        type_ratios=_typed(TypeRatios, content["type"]),
        lines=_typed(Lines, content["lines"]),
        sizes=_typed(Sizes, content["sizes"]),
    )


@cache
def load_scheme(name: SchemeName) -> Scheme:
    """The colours of a scheme; read once. ValueError when the file and the roles do not fit together."""
    colours = {role: QColor(value) for role, value in _content()["schemes"][name].items()}
    broken = [role for role, colour in colours.items() if not colour.isValid()]
    if broken:
        raise ValueError(f"Scheme {name}: not a colour: {', '.join(broken)}")
    return _typed(Scheme, {"name": name, **colours})


@cache
def _content() -> dict[str, Any]:
    content: dict[str, Any] = json.loads(resource_path("look", "tokens.json").read_text(encoding="utf-8"))
    return content


Group = TypeVar("Group")


def _typed(kind: type[Group], values: dict[str, Any]) -> Group:
    wanted = {field.name for field in fields(kind)}  # type: ignore[arg-type]
    if wanted != set(values):
        odd = ", ".join(sorted(wanted ^ set(values)))
        raise ValueError(f"{kind.__name__}: the token file and the program differ in: {odd}")
    return kind(**values)
