"""Results as plain JSON values."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Mapping
from datetime import date
from enum import Enum
from typing import Any

import numpy as np


def plain(value: object) -> Any:
    """A result as values that JSON knows.

    Codes become text, dates ISO text, arrays lists, sets lists in order; what is not a number becomes None.
    What gives itself ``as_dict`` is taken by that.

    Raises:
        TypeError: for a value that is none of these.
    """
    if isinstance(value, Enum):
        return value.value
    if value is None or isinstance(value, bool | int | str):
        return value
    if isinstance(value, float):
        return value if math.isfinite(value) else None
    if isinstance(value, np.ndarray | np.generic):
        return plain(value.tolist())
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, Mapping):
        return {_key(key): plain(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [plain(inner) for inner in value]
    if isinstance(value, frozenset):
        return sorted(plain(inner) for inner in value)
    if hasattr(value, "as_dict"):
        return plain(value.as_dict())
    if dataclasses.is_dataclass(value):
        return plain_fields(value)
    raise TypeError(f"{type(value).__name__} has no plain form")


def plain_fields(value: Any) -> dict[str, Any]:
    """The fields of a dataclass as plain JSON values, without asking for its own ``as_dict``."""
    return {field.name: plain(getattr(value, field.name)) for field in dataclasses.fields(value)}


def _key(key: object) -> str:
    if isinstance(key, date):
        return key.isoformat()
    return "" if key is None else str(key.value if isinstance(key, Enum) else key)
