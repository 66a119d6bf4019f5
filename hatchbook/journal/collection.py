"""What the collections of every kind of record share."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Generic, TypeVar

from hatchbook.journal.errors import RecordMissingError
from hatchbook.journal.history import Change, History
from hatchbook.journal.store import Store
from hatchbook.journal.table import Record

R = TypeVar("R", bound=Record)


class Collection(Generic[R]):
    """The records of one kind in a journal.

    Reading gives frozen records; every change is one step of history and returns its ``Change``.
    """

    record_class: type[R]
    order = ""

    def __init__(self, store: Store, history: History) -> None:
        self._store = store
        self._history = history

    def get(self, uid: str) -> R:
        """The record with this uid.

        Raises:
            RecordMissingError: there is none.
        """
        record = self.find(uid)
        if record is None:
            raise RecordMissingError(
                "That entry is no longer in the journal.", kind=self.record_class.KIND, record=uid
            )
        return record

    def find(self, uid: str) -> R | None:
        """The record with this uid, or None."""
        found = self._where("uid = ?", (uid,))
        return found[0] if found else None

    def all(self) -> list[R]:
        """Every record of the kind, in its customary order."""
        return self._where("")

    def add(self, record: R) -> Change:
        """Stores a new record as one step."""
        with self._history.step(
            f"{record.KIND}_added", batch=self.batch_of(record), **self.named(record)
        ) as step:
            step.add(record)
        return step.done

    def replace(self, record: R) -> Change:
        """Stores a record in place of the one with the same uid, as one step.

        Raises:
            RecordMissingError: there is none.
        """
        with self._history.step(
            f"{record.KIND}_changed", batch=self.batch_of(record), **self.named(record)
        ) as step:
            step.replace(record)
        return step.done

    def remove(self, record: R) -> Change:
        """Removes a record as one step; one that others refer to is refused.

        Raises:
            RecordMissingError: there is none.
            RecordRefusedError: other records refer to it.
        """
        with self._history.step(
            f"{record.KIND}_removed", batch=self.batch_of(record), **self.named(record)
        ) as step:
            step.remove(record)
        return step.done

    def batch_of(self, record: R) -> str | None:
        """The uid of the batch whose history the record's changes belong to."""
        batch = getattr(record, "batch", None)
        return batch if isinstance(batch, str) else None

    def named(self, record: R) -> dict[str, Any]:
        """The values by which history names the record."""
        return {"name": record.name} if hasattr(record, "name") else {}

    def _where(self, condition: str, parameters: Sequence[object] = ()) -> list[R]:
        return self._store.records(self.record_class, condition, parameters, self.order)
