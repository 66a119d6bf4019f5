"""From the bytes of a file to UTF-8 with plain line ends, and the question whether it is text at all."""

from __future__ import annotations

import codecs
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from hatchbook.exchange.loggers.errors import LoggerFileError, LoggerFileProblem
from hatchbook.exchange.loggers.layout import Basis, Encoding

LARGEST_BYTES = 1 << 30
_HEAD_BYTES = 1 << 16
_PIECE_BYTES = 1 << 18
# Zero bytes after a power cut spoil single lines; in a file that is not text most lines hold such bytes, or a
# tenth of all bytes other than zero are control characters.
_MOST_LINES_WITH_CONTROL_BYTES = 0.5
_MOST_CONTROL_BYTES = 0.03

_MARKS = (
    (codecs.BOM_UTF8, Encoding.UTF_8),
    (codecs.BOM_UTF16_LE, Encoding.UTF_16_LE),
    (codecs.BOM_UTF16_BE, Encoding.UTF_16_BE),
)


@dataclass(frozen=True, slots=True)
class DecodedText:
    """UTF-8 bytes in which every line, the last too, ends in one line feed.

    `ended` tells whether the file itself ended its last line; `control_at` where bytes stand that text does not
    hold (control characters other than tab, line feed, form feed).
    """

    data: bytes
    encoding: Encoding
    basis: Basis
    ended: bool
    control_at: NDArray[np.intp]


def read_text(path: Path, encoding: Encoding | None = None) -> DecodedText:
    """Reads and decodes a file; raises LoggerFileError if it cannot be opened or is not text."""
    try:
        with path.open("rb") as file:
            head = file.read(_HEAD_BYTES)
            if len(head) == _HEAD_BYTES:
                _decode(head, encoding)  # a film dropped by mistake is refused before it fills the memory
                if path.stat().st_size > LARGEST_BYTES:
                    raise LoggerFileError(LoggerFileProblem.TOO_LARGE)
            raw = head + file.read()
    except OSError as error:
        raise LoggerFileError(LoggerFileProblem.CANNOT_BE_OPENED, error.strerror or str(error)) from error
    return _decode(raw, encoding)


_WORKBOOKS = (b"PK\x03\x04", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1")
"""How spreadsheet programs' own files begin: a zip archive (xlsx, ods), or the older compound file (xls)."""


def _decode(raw: bytes, chosen: Encoding | None) -> DecodedText:
    if raw.startswith(_WORKBOOKS):
        raise LoggerFileError(LoggerFileProblem.WORKBOOK)
    guessed, basis = _guess_encoding(raw)
    encoding = chosen or guessed
    for mark, _ in _MARKS:
        if raw.startswith(mark):
            raw = raw[len(mark) :]
            break
    data = _to_utf8(raw, encoding)
    if b"\r" in data:
        data = data.replace(b"\r\n", b"\n").replace(b"\r", b"\n")
    control_at = _control_bytes(data)
    if data.isspace() or not data or _looks_binary(data, control_at):
        raise LoggerFileError(LoggerFileProblem.NOT_TEXT_OR_EMPTY)
    ended = data.endswith(b"\n")
    return DecodedText(
        data if ended else data + b"\n", encoding, Basis.GIVEN if chosen else basis, ended, control_at
    )


def _guess_encoding(raw: bytes) -> tuple[Encoding, Basis]:
    for mark, encoding in _MARKS:
        if raw.startswith(mark):
            return encoding, Basis.STATED
    head = raw[:_HEAD_BYTES]
    # Digits and separators in UTF-16 are every second byte zero.
    half = len(head) // 2
    if half >= 2:
        even, odd = head[0 : 2 * half : 2].count(0), head[1 : 2 * half : 2].count(0)
        if odd > 0.7 * half and even < 0.1 * half:
            return Encoding.UTF_16_LE, Basis.VALUES
        if even > 0.7 * half and odd < 0.1 * half:
            return Encoding.UTF_16_BE, Basis.VALUES
    if raw.isascii():
        return Encoding.UTF_8, Basis.VALUES
    try:
        raw.decode("utf-8")
    except UnicodeDecodeError:
        # One broken byte in a file that is otherwise UTF-8 must not turn every degree sign into two letters.
        text = raw.decode("utf-8", errors="replace")
        broken = text.count("\ufffd")
        whole = sum(1 for letter in text if letter > "\x7f") - broken
        return (Encoding.UTF_8 if whole >= broken else Encoding.LATIN_1), Basis.VALUES
    return Encoding.UTF_8, Basis.VALUES


def _to_utf8(raw: bytes, encoding: Encoding) -> bytes:
    if encoding is Encoding.UTF_8:
        if raw.isascii():
            return raw
        return raw.decode("utf-8", errors="replace").encode("utf-8")
    if encoding is Encoding.LATIN_1:
        try:
            text = raw.decode("cp1252")  # Latin-1 as it is really written, with dashes and curly quotes
        except UnicodeDecodeError:
            text = raw.decode("latin-1")
        return text.encode("utf-8")
    return raw.decode(encoding.value, errors="replace").encode("utf-8")


_CONTROL = np.zeros(256, dtype=bool)
_CONTROL[:32] = True
_CONTROL[[9, 10, 11, 12, 26]] = False  # 26 closes files of old loggers
_CONTROL[127] = True


def _control_bytes(data: bytes) -> NDArray[np.intp]:
    array = np.frombuffer(data, dtype=np.uint8)
    found: list[NDArray[np.intp]] = []
    for start in range(0, array.size, _PIECE_BYTES):  # pieces that stay in the processor's cache
        piece = array[start : start + _PIECE_BYTES]
        rare = np.flatnonzero(((piece < 32) & (piece != 10)) | (piece == 127))
        rare = rare[_CONTROL[piece[rare]]]
        if rare.size:
            found.append(rare + start)
    return np.concatenate(found) if found else np.empty(0, dtype=np.intp)


def _looks_binary(data: bytes, control_at: NDArray[np.intp]) -> bool:
    if not control_at.size:
        return False
    array = np.frombuffer(data, dtype=np.uint8)
    zeros = int((array[control_at] == 0).sum())
    if control_at.size - zeros > _MOST_CONTROL_BYTES * (array.size - zeros):
        return True
    line_ends = np.flatnonzero(array == 10)
    touched = np.unique(np.searchsorted(line_ends, control_at)).size
    lines = line_ends.size + (0 if data.endswith(b"\n") else 1)
    return bool(touched > _MOST_LINES_WITH_CONTROL_BYTES * lines)
