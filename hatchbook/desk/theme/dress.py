"""Palette and style sheet of a scheme.

No style is ever set: push buttons, combo boxes, menus and scroll bars stay the system's own and take
their colours from the palette. The style sheet speaks only to named widgets of ours (`desk`, `sheet`,
`tools`, `status`, `page`, `flat`, `head`, `columns`).
"""

from __future__ import annotations

from PySide6.QtGui import QPalette

from hatchbook.desk.theme.tokens import Scheme, tokens

_PALETTE_ROLES: tuple[tuple[QPalette.ColorRole, str], ...] = (
    (QPalette.ColorRole.Window, "desk"),
    (QPalette.ColorRole.WindowText, "ink"),
    (QPalette.ColorRole.Base, "page"),
    (QPalette.ColorRole.AlternateBase, "inset"),
    (QPalette.ColorRole.Text, "ink"),
    (QPalette.ColorRole.Button, "desk"),
    (QPalette.ColorRole.ButtonText, "ink"),
    (QPalette.ColorRole.BrightText, "bad"),
    (QPalette.ColorRole.Highlight, "accent"),
    (QPalette.ColorRole.HighlightedText, "accent_ink"),
    (QPalette.ColorRole.ToolTipBase, "page"),
    (QPalette.ColorRole.ToolTipText, "ink"),
    (QPalette.ColorRole.PlaceholderText, "ink3"),
    (QPalette.ColorRole.Link, "accent"),
    (QPalette.ColorRole.LinkVisited, "accent"),
    (QPalette.ColorRole.Light, "page"),
    (QPalette.ColorRole.Midlight, "inset"),
    (QPalette.ColorRole.Mid, "rule_strong"),
    (QPalette.ColorRole.Dark, "rule_strong"),
    (QPalette.ColorRole.Shadow, "rule_strong"),
    (QPalette.ColorRole.Accent, "accent"),
)

_DISABLED_ROLES = (
    QPalette.ColorRole.Text,
    QPalette.ColorRole.WindowText,
    QPalette.ColorRole.ButtonText,
    QPalette.ColorRole.PlaceholderText,
)


def scheme_palette(scheme: Scheme) -> QPalette:
    """The palette that carries a scheme's colours into the native controls."""
    palette = QPalette()
    for palette_role, role in _PALETTE_ROLES:
        palette.setColor(palette_role, scheme.colour(role))
    disabled = QPalette.ColorGroup.Disabled
    for palette_role in _DISABLED_ROLES:
        palette.setColor(disabled, palette_role, scheme.rule_strong)
    palette.setColor(disabled, QPalette.ColorRole.Highlight, scheme.rule_strong)
    return palette


ENTRY_CLASSES = (
    "QLineEdit",
    "QAbstractSpinBox",
    "QComboBox",
    "QCheckBox",
    "QRadioButton",
    "QTextEdit",
    "QPlainTextEdit",
)
"""Native controls that are filled in; they stand out from the sheet by their ground."""


def entry_palette(scheme: Scheme) -> QPalette:
    """The palette of what is filled in. Some styles outline it barely in the dark."""
    palette = scheme_palette(scheme)
    palette.setColor(QPalette.ColorRole.Base, scheme.field)
    return palette


def scheme_style_sheet(scheme: Scheme) -> str:
    """The rules for our named widgets."""
    c = scheme.hex
    radius = tokens().radii.control
    ring = f"{tokens().lines.focus:g}px solid {c('focus')}"
    return f"""
QWidget#desk {{ background: {c("desk")}; }}
QWidget#sheet {{ background: {c("page")}; }}
QToolBar#tools {{ background: {c("desk")}; border: none; border-bottom: 1px solid {c("rule_strong")};
    spacing: 2px; padding: 4px; }}
QStatusBar#status {{ background: {c("desk")}; color: {c("ink2")}; border-top: 1px solid {c("rule_strong")}; }}
QStatusBar#status::item {{ border: none; }}
QSplitter#columns::handle {{ background: {c("rule_strong")}; }}
QSplitter#columns::handle:horizontal {{ width: 1px; }}
QSplitter#columns::handle:vertical {{ height: 1px; }}
QHeaderView#head::section {{ background: {c("inset")}; color: {c("ink2")}; border: none;
    border-bottom: 1px solid {c("rule_strong")}; padding: 4px 6px; }}
QTableView#tray {{ background: transparent; }}
QTableView#tray QTableCornerButton::section {{ background: {c("page")}; border: none; }}
QHeaderView#tray_head {{ background: {c("page")}; border: none; }}
QHeaderView#tray_head::section {{ background: {c("page")}; color: {c("ink2")}; border: none; padding: 0; }}
QToolButton#page {{ border: 2px solid transparent; padding: 3px 9px 3px 6px; color: {c("ink2")}; }}
QToolButton#page:hover {{ background: {c("select")}; }}
QToolButton#page:checked {{ color: {c("ink")}; border-bottom: 2px solid {c("accent")}; }}
QToolButton#page:focus {{ border: {ring}; border-radius: {radius}px; }}
QToolButton#page:disabled, QToolButton#flat:disabled {{ color: {c("rule_strong")}; }}
QToolButton#flat {{ border: 2px solid transparent; border-radius: {radius}px; padding: 2px 7px;
    color: {c("ink")}; background: transparent; }}
QToolButton#flat:hover {{ background: {c("inset")}; border: 1px solid {c("rule_strong")}; padding: 3px 8px; }}
QToolButton#flat:pressed, QToolButton#flat:checked {{ background: {c("select")}; }}
QToolButton#flat:focus {{ border: {ring}; padding: 2px 7px; }}
QToolButton#flat::menu-indicator {{ image: none; }}
"""
