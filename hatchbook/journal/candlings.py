"""Candlings and what was seen in each egg."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any, ClassVar

from hatchbook.journal.collection import Collection
from hatchbook.journal.duties import Duty
from hatchbook.journal.eggs import number_of, of_eggs_in
from hatchbook.journal.events import Event
from hatchbook.journal.history import Change, Step
from hatchbook.journal.table import new_uid
from hatchbook.trade.codes import FindingCode

SAME_CANDLING_S = 3 * 3600
"""What is seen within three hours of the beginning of a candling belongs to it (our choice)."""


@dataclass(frozen=True)
class Candling:
    """One looking-through of a batch, from ``at`` until ``ended_at`` (None: not ended)."""

    KIND: ClassVar[str] = "candling"
    KEY: ClassVar[tuple[str, ...]] = ("uid",)

    batch: str
    at: int
    ended_at: int | None = None
    by_whom: str = ""
    note: str = ""
    uid: str = field(default_factory=new_uid)


@dataclass(frozen=True)
class Finding:
    """What was seen in one egg at a candling."""

    KIND: ClassVar[str] = "finding"
    KEY: ClassVar[tuple[str, ...]] = ("uid",)

    candling: str
    egg: str
    at: int
    code: FindingCode
    note: str = ""
    uid: str = field(default_factory=new_uid)


_IN_TIME = "at, (SELECT number FROM egg WHERE egg.uid = finding.egg)"


class Candlings(Collection[Candling]):
    """The candlings of a journal."""

    record_class = Candling
    order = "at"

    def of_batch(self, batch: str) -> list[Candling]:
        """The candlings of a batch, oldest first."""
        return self._where("batch = ?", (batch,))

    def findings_in(self, batches: Sequence[str] | None = None) -> list[tuple[str, int, str]]:
        """(egg, instant, finding) for the eggs of these batches, or for all, in no order."""
        condition, parameters = of_eggs_in(batches)
        return self._store.rows(f"SELECT egg, at, code FROM finding WHERE {condition}", parameters)

    def findings(self, batch: str) -> list[Finding]:
        """All findings of a batch, oldest first, those of one instant by the eggs' numbers."""
        return self._store.records(
            Finding, "candling IN (SELECT uid FROM candling WHERE batch = ?)", (batch,), _IN_TIME
        )

    def findings_of(self, candling: str) -> list[Finding]:
        """The findings of one candling, in the same order."""
        return self._store.records(Finding, "candling = ?", (candling,), _IN_TIME)

    def findings_of_egg(self, egg: str) -> list[Finding]:
        """The findings of one egg, oldest first."""
        return self._store.records(Finding, "egg = ?", (egg,), "at")

    def note_finding(
        self,
        candling: Candling,
        egg: str,
        code: FindingCode,
        at: int,
        note: str = "",
        *,
        lid: Event | None = None,
    ) -> Change:
        """Stores what was seen in one egg, at once; a second look at the same candling replaces the first."""
        return self.note_findings(candling, {egg: code}, at, note, lid=lid)

    def note_findings(
        self,
        candling: Candling,
        codes: Mapping[str, FindingCode],
        at: int,
        note: str = "",
        *,
        lid: Event | None = None,
    ) -> Change:
        """Stores what was seen in several eggs (uid → code) as one step; begins the candling if it is new.

        Args:
            candling: which candling; it need not be stored yet.
            codes: what was seen, by the uid of the egg.
            at: UTC seconds.
            note: of the findings; an empty one keeps the earlier note.
            lid: how long the lid has been open until now, added or kept in place of the event with its uid, so
                that taking the step back takes that back, too.
        """
        listed = json.dumps(list(codes))
        known = {
            finding.egg: finding
            for finding in self._store.records(
                Finding, "candling = ? AND egg IN (SELECT value FROM json_each(?))", (candling.uid, listed)
            )
        }
        details: dict[str, Any] = {"count": len(codes)}
        if len(codes) == 1:
            egg, code = next(iter(codes.items()))
            row = self._store.one("SELECT number FROM egg WHERE uid = ?", (egg,))
            details = {"count": 1, "number": row[0] if row else None, "finding": str(code)}
        with self._history.step("findings_noted", batch=candling.batch, **details) as step:
            if self.find(candling.uid) is None:
                step.add(candling)
            for egg, code in codes.items():
                if egg in known:
                    step.replace(replace(known[egg], code=code, at=at, note=note or known[egg].note))
                else:
                    step.add(Finding(candling.uid, egg, at, code, note))
            if lid is not None:
                self._keep(step, lid)
        return step.done

    def _keep(self, step: Step, event: Event) -> None:
        if self._store.one("SELECT 1 FROM event WHERE uid = ?", (event.uid,)) is None:
            step.add(event)
        else:
            step.replace(event)

    def end(self, candling: Candling, at: int, duty: Duty | None = None) -> Change:
        """Ends a candling as one step; the duty that asked for it, if it is given, is then done.

        Raises:
            RecordMissingError: nothing of the candling is stored.
        """
        with self._history.step("candling_ended", batch=candling.batch) as step:
            step.replace(replace(self.get(candling.uid), ended_at=max(at, candling.at)))
            if duty is not None:
                step.replace(replace(duty, done_at=at))
        return step.done

    def going_on(self, batch: str, at: int) -> Candling | None:
        """The candling that a look at an egg at an instant still belongs to; None where a new one begins."""
        found = self._where("batch = ? AND at BETWEEN ? AND ?", (batch, at - SAME_CANDLING_S, at))
        return found[-1] if found else None

    def replace_finding(self, finding: Finding) -> Change:
        """Stores a finding that was corrected, as one step."""
        with self._history.step("finding_changed", **self._of_finding(finding)) as step:
            step.replace(finding)
        return step.done

    def remove_finding(self, finding: Finding) -> Change:
        """Removes a finding as one step, and its candling if that is then empty and without a note."""
        candling = self.get(finding.candling)
        with self._history.step("finding_removed", **self._of_finding(finding)) as step:
            step.remove(finding)
            if not self.findings_of(candling.uid) and not candling.note:
                step.remove(candling)
        return step.done

    def _of_finding(self, finding: Finding) -> dict[str, Any]:
        return {
            "batch": self.get(finding.candling).batch,
            "number": number_of(self._store, finding.egg),
            "finding": str(finding.code),
        }

    def remove_with_findings(self, candling: Candling) -> Change:
        """Removes a candling with all its findings as one step."""
        with self._history.step("candling_removed", batch=candling.batch) as step:
            for finding in self.findings_of(candling.uid):
                step.remove(finding)
            step.remove(candling)
        return step.done
