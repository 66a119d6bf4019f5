"""The breeder's own programmes; those of the trade come with the program."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, ClassVar

from hatchbook.journal.collection import Collection
from hatchbook.journal.table import new_uid


@dataclass(frozen=True)
class OwnProgramme:
    """A programme of the breeder's own; ``definition`` is its JSON."""

    KIND: ClassVar[str] = "programme"
    KEY: ClassVar[tuple[str, ...]] = ("uid",)

    code: str
    species: str
    title: str
    definition: str
    uid: str = field(default_factory=new_uid)


class OwnProgrammes(Collection[OwnProgramme]):
    """The breeder's own programmes in a journal."""

    record_class = OwnProgramme
    order = "species, title"

    def named(self, record: OwnProgramme) -> dict[str, Any]:
        """The programme's title."""
        return {"name": record.title}
