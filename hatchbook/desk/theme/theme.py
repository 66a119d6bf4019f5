"""The scheme in force: it follows the system unless the breeder chose light or dark."""

from __future__ import annotations

from enum import StrEnum

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QGuiApplication, QPalette
from PySide6.QtWidgets import QApplication, QWidget

from hatchbook.desk.theme.dress import ENTRY_CLASSES, entry_palette, scheme_palette, scheme_style_sheet
from hatchbook.desk.theme.tokens import Scheme, SchemeName, load_scheme

# The dynamic property that gives a window and everything in it a scheme of its own.
_OWN_SCHEME = "hatchbook_scheme"

LOOK_EVENTS = frozenset(
    {
        QEvent.Type.PaletteChange,
        QEvent.Type.StyleChange,
        QEvent.Type.FontChange,
        QEvent.Type.ApplicationFontChange,
        QEvent.Type.ParentChange,
    }
)
"""The events after which a widget may have to look different."""


class SchemeChoice(StrEnum):
    """What the breeder chose under View."""

    SYSTEM = "system"
    LIGHT = "light"
    DARK = "dark"


class Theme(QObject):
    """Holds the scheme in force and dresses the application in it.

    Signals:
        scheme_changed: another scheme is in force, and the application already wears it.
    """

    scheme_changed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._choice = SchemeChoice.SYSTEM
        self._application: QApplication | None = None
        self._scheme = load_scheme("dark" if system_is_dark() else "light")
        hints = QGuiApplication.styleHints()
        if hints is not None:
            hints.colorSchemeChanged.connect(self._follow)

    @property
    def scheme(self) -> Scheme:
        """The colours in force."""
        return self._scheme

    @property
    def choice(self) -> SchemeChoice:
        """What the breeder chose."""
        return self._choice

    def choose(self, choice: SchemeChoice) -> None:
        """Follow the system, or keep to light or dark; native controls and title bars come along."""
        self._choice = choice
        hints = QGuiApplication.styleHints()
        if choice is SchemeChoice.SYSTEM:
            hints.unsetColorScheme()
        else:
            dark = choice is SchemeChoice.DARK
            hints.setColorScheme(Qt.ColorScheme.Dark if dark else Qt.ColorScheme.Light)
        self._follow()

    def apply(self, application: QApplication) -> None:
        """Dress the application: palette and the rules for our named widgets. Never a style."""
        self._application = application
        application.setPalette(scheme_palette(self._scheme))
        for name in ENTRY_CLASSES:
            # The stub asks for bytes; the call itself takes only text.
            application.setPalette(entry_palette(self._scheme), name)  # type: ignore[arg-type]
        application.setStyleSheet(scheme_style_sheet(self._scheme))

    def _follow(self) -> None:
        if self._choice is SchemeChoice.SYSTEM:
            name: SchemeName = "dark" if system_is_dark() else "light"
        else:
            name = "dark" if self._choice is SchemeChoice.DARK else "light"
        if name == self._scheme.name:
            return
        self._scheme = load_scheme(name)
        if self._application is not None:
            self.apply(self._application)
        self.scheme_changed.emit()


def system_is_dark() -> bool:
    """Whether the system asks for dark; where it does not say, the style's own palette decides."""
    scheme = QGuiApplication.styleHints().colorScheme()
    if scheme != Qt.ColorScheme.Unknown:
        return scheme == Qt.ColorScheme.Dark
    window = QApplication.style().standardPalette().color(QPalette.ColorRole.Window)
    return window.lightness() < 128


_theme: Theme | None = None


def current_theme() -> Theme:
    """The one theme of the application; made at the first call, after the QApplication."""
    global _theme
    if _theme is None:
        _theme = Theme()
    return _theme


def wear_scheme(window: QWidget, scheme: Scheme) -> None:
    """Give a window a scheme of its own: the candling room is red whatever the system says.

    What is put into the window later is dressed when the window is shown next, or by calling this again.
    """
    window.setProperty(_OWN_SCHEME, scheme.name)
    window.setStyleSheet(scheme_style_sheet(scheme))
    wearer = window.findChild(_Wearer, options=Qt.FindChildOption.FindDirectChildrenOnly)
    if wearer is None:
        wearer = _Wearer(window)
        window.installEventFilter(wearer)
    wearer.dress()


class _Wearer(QObject):
    """Hands a window's palette down to everything in it.

    Qt does not do that itself where the application has a style sheet, and the attribute that tells it to
    would also hand down the grounds of our named widgets, to entry fields in a tool bar for instance.
    """

    def __init__(self, window: QWidget) -> None:
        super().__init__(window)
        self._window = window

    def dress(self) -> None:
        scheme = scheme_of(self._window)
        plain, entry = scheme_palette(scheme), entry_palette(scheme)
        for widget in (self._window, *self._window.findChildren(QWidget)):
            is_entry = any(widget.inherits(name) for name in ENTRY_CLASSES)
            widget.setPalette(entry if is_entry else plain)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Show:
            self.dress()
        return super().eventFilter(watched, event)


def scheme_of(widget: QWidget) -> Scheme:
    """The scheme a widget is painted in: the nearest one worn above it, else the theme's."""
    above: QWidget | None = widget
    while above is not None:
        own = above.property(_OWN_SCHEME)
        if own is not None:
            return load_scheme(own)
        above = above.parentWidget()
    return current_theme().scheme
