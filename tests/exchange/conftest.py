"""A logger file from its text, read."""

from __future__ import annotations

from pathlib import Path
from typing import Any, Protocol

import pytest
from hatchbook.exchange.logger_file import LoggerTable, read_logger_file


class ReadText(Protocol):
    """Writes text (or bytes) to a file and reads it as a logger file."""

    def __call__(self, text: str | bytes, *, encoding: str = "utf-8", **options: Any) -> LoggerTable: ...


@pytest.fixture
def read_text(tmp_path: Path) -> ReadText:
    """Reads text as a logger file, and holds every file to the account of its lines."""

    def read(text: str | bytes, *, encoding: str = "utf-8", **options: Any) -> LoggerTable:
        path = tmp_path / "logger.txt"
        path.write_bytes(text.encode(encoding) if isinstance(text, str) else text)
        table = read_logger_file(path, **options)
        accounted = (
            table.header
            + table.preamble
            + table.blank
            + table.stored
            + len(table.rejected)
            + table.duplicates
        )
        assert table.lines == accounted
        return table

    return read
