"""What the room looks like and says: contrast at every light, no white, texts for screen readers, sizes."""

from __future__ import annotations

import pytest
from hatchbook.desk.candling_room.number_entry import NumberEntry
from hatchbook.desk.candling_room.room import CandlingRoom
from hatchbook.desk.theme.theme import scheme_of
from hatchbook.desk.theme.tokens import CANDLING_LEVELS, load_scheme
from hatchbook.trade.codes import FindingCode
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QImage
from PySide6.QtTest import QAbstractItemModelTester
from PySide6.QtWidgets import QLabel, QWidget
from tests.desk.candling_room.conftest import House
from tests.desk.theme.test_tokens import contrast

ALIVE = FindingCode.ALIVE


def brightest_blue_and_green(image: QImage) -> tuple[int, int]:
    """The most blue and the most green that any point of a picture has, 0 to 255."""
    blue = green = 0
    for y in range(0, image.height(), 2):
        for x in range(0, image.width(), 2):
            point = image.pixelColor(x, y)
            blue, green = max(blue, point.blue()), max(green, point.green())
    return blue, green


@pytest.mark.parametrize("level", range(1, len(CANDLING_LEVELS) + 1))
def test_text_can_be_read_at_every_light_level(house: House, level: int) -> None:
    house.set_batch(2, 3)
    house.candle(7, {1: ALIVE})
    room = house.open()
    house.press(room, *"+" * (level - 1), "P", "h", "9")
    scheme = load_scheme(CANDLING_LEVELS[level - 1])
    assert scheme_of(room.view.tray) is scheme
    labels = [label for label in room.findChildren(QLabel) if label.text()]
    assert len(labels) > 8
    for label in labels:
        ink = label.palette().color(label.foregroundRole())
        assert contrast(ink, scheme.page) >= 4.5, label.text()
    assert contrast(scheme.ink3, scheme.page) >= 4.5
    for ink in ("ink", "ink2", "warn"):
        # A key that is lit, and the egg under the ring, lie on a ground of their own.
        assert contrast(scheme.colour(ink), scheme.page) >= 4.5, ink
        assert contrast(scheme.colour(ink), scheme.select) >= 4.5, ink


@pytest.mark.parametrize("size", [(1360, 860), (1100, 700)])
def test_nothing_white_nor_blue_is_on_the_screen(house: House, size: tuple[int, int]) -> None:
    house.set_batch(3, 4)
    room = house.open(size=size)
    house.press(room, *"JKLUIOP", "n")
    house.qtbot.keyClicks(room.view.foot.entry, "typed")
    blue, green = brightest_blue_and_green(room.grab().toImage())
    assert blue < 0.3 * 255
    assert green <= 0.5 * 255


@pytest.mark.parametrize("size", [(1360, 860), (1100, 700), (1920, 1080)])
@pytest.mark.parametrize(("rows", "columns"), [(2, 3), (6, 7), (10, 12)])
def test_everything_has_its_room(house: House, size: tuple[int, int], rows: int, columns: int) -> None:
    house.set_batch(rows, columns)
    room = house.open(size=size)
    house.press(room, "J")
    view = room.view
    assert room.width() == size[0]
    parts: list[QWidget] = [view.head, view.left, view.face, view.keys, view.hints, view.foot]
    boxes = [part.rect().translated(part.mapTo(view, QPoint(0, 0))) for part in parts]
    for at, box in enumerate(boxes):
        assert view.rect().contains(box)
        assert not any(box.intersects(other) for other in boxes[at + 1 :])
    tray = view.tray
    last = tray.visualRect(tray.eggs.index(rows - 1, columns - 1))
    assert tray.viewport().rect().contains(last), "an egg is out of sight"
    assert last.width() >= 22
    for key in view.keys.all():
        assert view.keys.rect().contains(key.geometry())
        assert min(key.width(), key.height()) >= 80
    for label in (view.head.title, view.head.lid, view.head.light, view.head.progress):
        assert label.width() >= label.sizeHint().width()
    assert not view.head.facts.is_elided()
    assert not view.foot.message.is_elided()


def spoken(room: CandlingRoom, row: int, column: int) -> str:
    text = room.view.tray.eggs.index(row, column).data(Qt.ItemDataRole.AccessibleTextRole)
    assert isinstance(text, str)
    return text


def test_every_egg_can_be_heard(house: House) -> None:
    house.set_batch(1, 4, empty=(2,))
    house.candle(7, {1: ALIVE, 3: FindingCode.CLEAR})
    room = house.open()
    house.press(room, "J")
    assert spoken(room, 0, 0) == ("A 1, egg 1, laid 29 Apr; alive; day 7: alive; 58.1 g when set; now: alive")
    assert spoken(room, 0, 1).endswith("; not candled yet now")
    assert spoken(room, 0, 2) == "A 3, empty"
    assert spoken(room, 0, 3).endswith("; passed over")


def test_the_parts_of_the_room_have_names(house: House) -> None:
    house.set_batch(1, 3)
    house.candle(7, {1: ALIVE})
    room = house.open()
    house.press(room, "J", Qt.Key.Key_Left)
    view = room.view
    assert room.windowTitle() == f"Candling on day 14, {room.sitting.batch.label} Orchard hens"
    assert view.tray.accessibleName() == "Tray"
    assert view.face.accessibleName() == "A 1"
    assert view.face.accessibleDescription().startswith("Now: alive. On day 7: alive. Egg 1")
    assert view.head.cells.accessibleName() == "1 of 3 done"
    assert [key.accessibleName() for key in view.keys.all()][4:] == [
        "Alive, J, 1",
        "Clear, K, 0",
        "Unsure, L, 0",
    ]
    assert view.keys.key(ALIVE).accessibleDescription() == "veins, it moves"
    assert view.hints.hint("Backspace").accessibleName() == "take it back, Backspace"


@pytest.mark.parametrize(
    ("day", "hint"), [(3.0, "a dark eye"), (7.0, "veins, it moves"), (18.0, "dark, it moves")]
)
def test_a_living_egg_is_described_by_the_day(house: House, day: float, hint: str) -> None:
    house.set_batch(1, 3, day=day)
    assert house.open().view.keys.key(ALIVE).hint == hint


def test_the_tray_is_a_sound_model(house: House) -> None:
    house.set_batch(2, 3, empty=(4,))
    room = house.open()
    tester = QAbstractItemModelTester(
        room.view.tray.eggs, QAbstractItemModelTester.FailureReportingMode.Fatal
    )
    house.press(room, "J", Qt.Key.Key_Backspace, "K", Qt.Key.Key_Down)
    assert tester.model() is room.view.tray.eggs


def test_the_pointer_hides_until_it_is_moved(house: House) -> None:
    house.set_batch(1, 3)
    room = house.open()
    room._pointer.hide()
    assert room.cursor().shape() == Qt.CursorShape.BlankCursor
    house.qtbot.mouseMove(room.view.face, QPoint(20, 20))
    house.qtbot.mouseMove(room.view.face, QPoint(40, 40))
    assert room.cursor().shape() == Qt.CursorShape.ArrowCursor
    room._pointer.hide()
    house.press(room, Qt.Key.Key_Escape)
    assert room.cursor().shape() == Qt.CursorShape.ArrowCursor


def test_the_room_covers_the_screen_without_a_frame(house: House) -> None:
    house.set_batch(1, 3)
    room = house.open()
    room.hide()
    room.enter()
    house.qtbot.waitUntil(room.isFullScreen)
    assert room.windowFlags() & Qt.WindowType.FramelessWindowHint
    assert room.isModal()


def test_a_number_is_begun_anew_after_a_pause() -> None:
    entry = NumberEntry()
    entry.type("1", 10.0, "a")
    entry.type("2", 10.5, "b")
    assert (entry.number, entry.origin) == (12, "a")
    entry.type("3", 13.0, "c")
    assert (entry.number, entry.origin) == (3, "a")
    entry.take_back()
    assert (entry.number, entry.text) == (None, "")
    entry.type("7", 13.1, "d")
    assert (entry.number, entry.origin) == (7, "d")
    for _ in range(6):
        entry.type("1", 13.2, "e")
    assert len(entry.text) <= 5
    entry.close()
    assert entry.number is None
