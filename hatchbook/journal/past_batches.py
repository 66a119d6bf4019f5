"""Counts-only batches of past seasons, from paper or a table."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, ClassVar

from hatchbook.journal.collection import Collection
from hatchbook.journal.table import new_uid
from hatchbook.trade.codes import EggSource


@dataclass(frozen=True)
class PastBatch:
    """A batch of which only counts are known; None: not counted. ``season`` is the season's year.

    ``infertile_opened``: of the clear ones, how many were opened and found infertile.
    ``hatched`` counts chicks that lived, ``culled`` those that hatched and did not.
    """

    KIND: ClassVar[str] = "past_batch"
    KEY: ClassVar[tuple[str, ...]] = ("uid",)

    label: str
    season: int
    species: str
    eggs_set: int
    name: str = ""
    set_on: str | None = None
    breed: str = ""
    pen: str | None = None
    machine: str | None = None
    programme_code: str = ""
    source: EggSource = EggSource.OWN
    clear: int | None = None
    infertile_opened: int | None = None
    early_dead: int | None = None
    mid_dead: int | None = None
    late_dead: int | None = None
    pipped_dead: int | None = None
    culled: int | None = None
    rotten: int | None = None
    taken_out: int | None = None
    hatched: int | None = None
    note: str = ""
    uid: str = field(default_factory=new_uid)


class PastBatches(Collection[PastBatch]):
    """The counts-only batches of a journal."""

    record_class = PastBatch
    order = "season DESC, set_on DESC, label DESC"

    def named(self, record: PastBatch) -> dict[str, Any]:
        """The batch's label and name."""
        return {"label": record.label, "name": record.name}
