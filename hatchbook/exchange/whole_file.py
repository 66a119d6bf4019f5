"""A text file that is there whole or not at all."""

from __future__ import annotations

import secrets
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TextIO


class NothingWrittenError(Exception):
    """What was to be written is not wanted any more; raised by the writer, told to nobody."""


@contextmanager
def whole_file(path: Path | str, encoding: str = "utf-8") -> Iterator[TextIO]:
    """A file to write to, line ends as they are written; it stands under its name once all is written.

    A file of that name stays as it was when something goes wrong, and with ``NothingWrittenError``.

    Raises:
        OSError: the file cannot be written there.
    """
    target = Path(path)
    part = target.with_name(f".{target.name}.{secrets.token_hex(4)}.part")
    try:
        with part.open("x", encoding=encoding, newline="") as file:
            yield file
        part.replace(target)
    except NothingWrittenError:
        part.unlink(missing_ok=True)
    except BaseException:
        part.unlink(missing_ok=True)
        raise
