"""Counts-only batches of past seasons, from paper or a table."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Any, ClassVar

from hatchbook.journal.collection import Collection
from hatchbook.journal.history import Change
from hatchbook.journal.imports import ImportCancelledError
from hatchbook.journal.machines import Machine
from hatchbook.journal.pens import Pen
from hatchbook.journal.table import new_uid
from hatchbook.trade.codes import EggSource

#: Batches stored between two looks at whether the breeder wants to stop.
_PORTION = 200


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

    def by_label(self, label: str) -> PastBatch | None:
        """The past batch with this label, or None."""
        found = self._where("label = ?", (label,))
        return found[0] if found else None

    def bring_in(
        self,
        batches: Sequence[PastBatch],
        *,
        file: str,
        pens: Sequence[Pen] = (),
        machines: Sequence[Machine] = (),
        progress: Callable[[float], None] | None = None,
        cancelled: Callable[[], bool] | None = None,
    ) -> Change:
        """Stores the batches of a table as one step, with the pens and machines that come with them.

        Args:
            batches: what is stored.
            file: the name of the table's file, for history.
            pens, machines: new ones that the batches refer to.
            progress: told the share done, 0 to 1.
            cancelled: asked between portions, and once more after the end was told.

        Raises:
            ImportCancelledError: ``cancelled`` said so; nothing is stored.
            RecordRefusedError: a batch cannot be stored, say for a label that is taken; nothing is stored.
        """
        with self._history.step("past_batches_imported", file=file, stored=len(batches)) as step:
            for pen in pens:
                step.add(pen)
            for machine in machines:
                step.add(machine)
            for number, batch in enumerate(batches):
                if number % _PORTION == 0:
                    if cancelled is not None and cancelled():
                        raise ImportCancelledError
                    if progress is not None:
                        progress(number / len(batches))
                step.add(batch)
            if progress is not None:
                progress(1.0)
            if cancelled is not None and cancelled():
                raise ImportCancelledError
        return step.done

    def named(self, record: PastBatch) -> dict[str, Any]:
        """The batch's label and name."""
        return {"label": record.label, "name": record.name}
