"""Line icons tinted to a scheme, and the application's own icon.

The SVG files in `resources/icons` are drawn in one colour; what counts is their shape, which is filled
with the colour of a role.
"""

from __future__ import annotations

from functools import cache

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QIcon, QImage, QPainter, QPixmap
from PySide6.QtSvg import QSvgRenderer

from hatchbook.desk.theme.tokens import Scheme
from hatchbook.trade.resources import resource_path

APP_ICON = "app-hatchbook"
APP_ICON_SMALL = "app-hatchbook-small"

# Device pixels: 16, 18 and 24 px at one and at two device pixels to a pixel; others are scaled down to.
_SIZES = (16, 18, 24, 32, 36, 48)
_APP_SIZES_SMALL = (16, 24, 32)
_APP_SIZES = (48, 64, 128, 256)


@cache
def icon_names() -> frozenset[str]:
    """The names of all line icons."""
    files = resource_path("icons").glob("*.svg")
    return frozenset(file.stem for file in files if not file.stem.startswith("app-"))


def icon(name: str, scheme: Scheme, role: str = "ink2") -> QIcon:
    """A line icon in a role's colour; pointed at or checked it turns to `ink`, disabled it fades.

    KeyError for a name that does not exist.
    """
    return _icon(name, scheme.hex(role), scheme.hex("ink"), scheme.hex("rule_strong"))


@cache
def _icon(name: str, normal: str, strong: str, faint: str) -> QIcon:
    result = QIcon()
    for size in _SIZES:
        shape = _shape(name, size)
        at_rest, pointed_at, disabled = (_tinted(shape, QColor(c)) for c in (normal, strong, faint))
        result.addPixmap(at_rest, QIcon.Mode.Normal, QIcon.State.Off)
        result.addPixmap(pointed_at, QIcon.Mode.Normal, QIcon.State.On)
        result.addPixmap(pointed_at, QIcon.Mode.Active, QIcon.State.Off)
        result.addPixmap(disabled, QIcon.Mode.Disabled, QIcon.State.Off)
    return result


def icon_pixmap(name: str, colour: QColor, size: int, device_pixel_ratio: float = 1.0) -> QPixmap:
    """A line icon as a picture `size` px wide, for places that paint themselves."""
    shape = _shape(name, max(1, round(size * device_pixel_ratio)))
    pixmap = _tinted(shape, colour)
    pixmap.setDevicePixelRatio(device_pixel_ratio)
    return pixmap


@cache
def _shape(name: str, size: int) -> QImage:
    if name not in icon_names():
        raise KeyError(name)
    return _rendered(name, size)


@cache
def _drawing(name: str) -> QSvgRenderer:
    renderer = QSvgRenderer(str(resource_path("icons", f"{name}.svg")))
    if not renderer.isValid():
        raise ValueError(f"The picture {name}.svg cannot be read")
    return renderer


def _rendered(name: str, size: int) -> QImage:
    image = QImage(QSize(size, size), QImage.Format.Format_ARGB32_Premultiplied)
    image.fill(Qt.GlobalColor.transparent)
    with QPainter(image) as painter:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        _drawing(name).render(painter, QRectF(0, 0, size, size))
    return image


def _tinted(shape: QImage, colour: QColor) -> QPixmap:
    image = QImage(shape)
    with QPainter(image) as painter:
        painter.setCompositionMode(QPainter.CompositionMode.CompositionMode_SourceIn)
        painter.fillRect(image.rect(), colour)
    return QPixmap.fromImage(image)


@cache
def app_icon() -> QIcon:
    """The application's icon, with a plainer drawing for small sizes."""
    result = QIcon()
    for name, sizes in ((APP_ICON_SMALL, _APP_SIZES_SMALL), (APP_ICON, _APP_SIZES)):
        for size in sizes:
            result.addPixmap(QPixmap.fromImage(_rendered(name, size)))
    return result
