"""Line icons and the application's icon."""

from __future__ import annotations

import pytest
from hatchbook.desk.painting.icons import app_icon, icon, icon_names, icon_pixmap
from hatchbook.desk.theme.tokens import load_scheme
from PySide6.QtCore import QSize
from PySide6.QtGui import QColor, QIcon, QImage
from PySide6.QtWidgets import QApplication


def inks(image: QImage) -> set[str]:
    """The colours of the fully covered pixels."""
    pixels = (image.pixelColor(x, y) for x in range(image.width()) for y in range(image.height()))
    return {pixel.name() for pixel in pixels if pixel.alpha() == 255}


def test_the_icons_are_there() -> None:
    assert icon_names() >= {
        "journal",
        "seasons",
        "machine",
        "candle",
        "weigh",
        "water",
        "flag",
        "info",
        "undo",
    }
    assert not any(name.startswith("app-") for name in icon_names())


@pytest.mark.parametrize("name", sorted(icon_names()))
def test_every_icon_is_drawn_in_the_schemes_colours(qapp: QApplication, name: str) -> None:
    scheme = load_scheme("dark")
    made = icon(name, scheme, "water")
    size = QSize(48, 48)
    assert inks(made.pixmap(size, QIcon.Mode.Normal).toImage()) == {scheme.hex("water")}
    assert inks(made.pixmap(size, QIcon.Mode.Active).toImage()) == {scheme.hex("ink")}
    assert inks(made.pixmap(size, QIcon.Mode.Normal, QIcon.State.On).toImage()) == {scheme.hex("ink")}
    assert inks(made.pixmap(size, QIcon.Mode.Disabled).toImage()) == {scheme.hex("rule_strong")}


@pytest.mark.parametrize("name", sorted(icon_names()))
def test_an_icon_keeps_off_the_edge(qapp: QApplication, name: str) -> None:
    image = icon_pixmap(name, QColor("#000000"), 48).toImage()
    edge = [image.pixelColor(x, y).alpha() for x in range(48) for y in (0, 47)]
    edge += [image.pixelColor(x, y).alpha() for y in range(48) for x in (0, 47)]
    assert max(edge) == 0


def test_no_two_icons_look_alike(qapp: QApplication) -> None:
    pictures = {
        bytes(icon_pixmap(name, QColor("#000000"), 32).toImage().constBits()) for name in icon_names()
    }
    assert len(pictures) == len(icon_names())


def test_a_picture_is_sharp_on_a_fine_screen(qapp: QApplication) -> None:
    pixmap = icon_pixmap("flag", QColor("#8f2d2a"), 14, 2.0)
    assert pixmap.size() == QSize(28, 28)
    assert pixmap.deviceIndependentSize().toSize() == QSize(14, 14)


def test_an_icon_that_does_not_exist_is_refused(qapp: QApplication) -> None:
    with pytest.raises(KeyError):
        icon("unicorn", load_scheme("light"))


def test_the_applications_icon_has_all_usual_sizes(qapp: QApplication) -> None:
    sizes = {size.width() for size in app_icon().availableSizes()}
    assert sizes == {16, 24, 32, 48, 64, 128, 256}
    small, large = (app_icon().pixmap(QSize(side, side)).toImage() for side in (16, 256))
    assert len(inks(small)) >= 3
    assert len(inks(large)) >= 4
