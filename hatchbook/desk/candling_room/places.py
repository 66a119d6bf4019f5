"""The place of a key on the keyboard, whatever letter is printed on it.

Places have the names of the `code` values of W3C UI Events (https://www.w3.org/TR/uievents-code/). The numbers are
those of the first scan code set, which Windows reports. Linux counts these keys the same (see
`linux/input-event-codes.h`); X11 and Wayland add 8.
"""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

_X_OFFSET = 8
#: Windows marks keys that came later than the first set (arrows, Home, …) with this bit.
_EXTENDED = 0x100

_SCAN: dict[int, str] = {
    **{2 + at: f"Digit{(at + 1) % 10}" for at in range(10)},
    **{16 + at: f"Key{letter}" for at, letter in enumerate("QWERTYUIOP")},
    **{30 + at: f"Key{letter}" for at, letter in enumerate("ASDFGHJKL")},
    **{44 + at: f"Key{letter}" for at, letter in enumerate("ZXCVBNM")},
    12: "Minus",
    13: "Equal",
    26: "BracketLeft",
    27: "BracketRight",
    39: "Semicolon",
    40: "Quote",
    43: "Backslash",
    51: "Comma",
    52: "Period",
    53: "Slash",
    86: "IntlBackslash",
    15: "Tab",
    41: "Backquote",
    55: "NumpadMultiply",
    **{71 + at: f"Numpad{digit}" for at, digit in enumerate("789")},
    74: "NumpadSubtract",
    **{75 + at: f"Numpad{digit}" for at, digit in enumerate("456")},
    78: "NumpadAdd",
    **{79 + at: f"Numpad{digit}" for at, digit in enumerate("123")},
    82: "Numpad0",
    83: "NumpadDecimal",
}
#: What the keys of the number pad say when NumLock is off.
_PAD_MOVES: dict[Qt.Key, str] = {
    Qt.Key.Key_Insert: "Numpad0",
    Qt.Key.Key_End: "Numpad1",
    Qt.Key.Key_Down: "Numpad2",
    Qt.Key.Key_PageDown: "Numpad3",
    Qt.Key.Key_Left: "Numpad4",
    Qt.Key.Key_Clear: "Numpad5",
    Qt.Key.Key_Right: "Numpad6",
    Qt.Key.Key_Home: "Numpad7",
    Qt.Key.Key_Up: "Numpad8",
    Qt.Key.Key_PageUp: "Numpad9",
    Qt.Key.Key_Delete: "NumpadDecimal",
}
_PAD_SIGNS = {
    "+": "NumpadAdd",
    "-": "NumpadSubtract",
    "*": "NumpadMultiply",
    ".": "NumpadDecimal",
    ",": "NumpadDecimal",
}


class KeyPlaces:
    """Tells where on the keyboard a key lies: by its scan code where the platform has one, else by its letter.

    Args:
        platform: Qt's name of the platform: ``xcb``, ``wayland``, ``windows``, or any other.
    """

    def __init__(self, platform: str) -> None:
        self._offset = _X_OFFSET if platform in ("xcb", "wayland") else 0
        self._has_scan_codes = platform in ("xcb", "wayland", "windows")
        # Apple's keyboards have no NumLock, and Qt counts their arrows to the number pad.
        self._has_num_lock = platform != "cocoa"

    def place(self, event: QKeyEvent) -> str:
        """The place of the key, or "" for one that is none of those known here."""
        scan = event.nativeScanCode()
        if self._has_scan_codes and scan & _EXTENDED:
            return ""
        # What is not in the table is no letter; or the keyboard is one that counts its keys in another way.
        known = _SCAN.get(scan - self._offset) if self._has_scan_codes and scan else None
        return _place_by_letter(event, has_num_lock=self._has_num_lock) if known is None else known


def _place_by_letter(event: QKeyEvent, *, has_num_lock: bool) -> str:
    key, text = Qt.Key(event.key()), event.text()
    on_pad = bool(event.modifiers() & Qt.KeyboardModifier.KeypadModifier)
    if on_pad and has_num_lock and key in _PAD_MOVES:
        return _PAD_MOVES[key]
    if on_pad and text in _PAD_SIGNS:
        return _PAD_SIGNS[text]
    if len(text) == 1 and text in "0123456789":
        return f"Numpad{text}" if on_pad else f"Digit{text}"
    if Qt.Key.Key_A <= key <= Qt.Key.Key_Z:
        return f"Key{chr(key)}"
    if key in (Qt.Key.Key_Tab, Qt.Key.Key_Backtab):
        return "Tab"
    return "Backquote" if key == Qt.Key.Key_QuoteLeft else ""
