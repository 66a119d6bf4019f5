"""Why a line of a file stayed out, as the column ``reason`` keeps it.

A code, then what belongs to it as ``name=number``, parted by spaces: ``time_runs_backwards by_s=3600``. It can be
read with any SQLite tool; the desk makes the sentence.
"""

from __future__ import annotations

#: The journal holds other values at that instant, which it keeps.
DIFFERS = "differs_from_journal"


def coded_reason(code: str, **fields: float | None) -> str:
    """A code with its numbers; those that are None or NaN are left out."""
    parts = [
        f"{name}={_text(value)}" for name, value in fields.items() if value is not None and value == value
    ]
    return " ".join([code, *parts])


def read_reason(text: str) -> tuple[str, dict[str, float]]:
    """The code and its numbers; a part that is no number is passed over."""
    code, *parts = text.split(" ")
    fields: dict[str, float] = {}
    for part in parts:
        name, _, value = part.partition("=")
        try:
            fields[name] = float(value)
        except ValueError:
            continue
    return code, fields


def _text(value: float) -> str:
    return str(int(value)) if value == int(value) and abs(value) < 1e15 else repr(float(value))
