"""One sitting at the lamp: the round of a candling, and each verdict in the journal as it is given."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import StrEnum

from hatchbook.desk.candling_room.lid_clock import LidClock
from hatchbook.desk.candling_room.round_state import Order, RoundEgg, RoundState
from hatchbook.figures import EggFigures, eggs_before, last_finding, outcome_of_egg
from hatchbook.figures.course import Course
from hatchbook.figures.outcomes import bounds_of
from hatchbook.journal import Batch, Candling, Change, ChangeInfo, Journal, StepInfo
from hatchbook.trade.candling import STILL_CANDLED, has_left
from hatchbook.trade.codes import Fate, FindingCode
from hatchbook.trade.fates import Contradiction
from hatchbook.trade.instants import day_number

Operation = Callable[[Journal], Change]


class Refusal(StrEnum):
    """Why nothing was done."""

    NO_EGG = "no_egg"
    NOT_SET = "not_set"
    LEFT = "left"
    NO_LAST = "no_last"
    NOTHING_TO_TAKE_BACK = "nothing_to_take_back"
    OTHER_STEP = "other_step"
    NOT_STORED = "not_stored"


@dataclass(frozen=True)
class Given:
    """A verdict was stored; ``before``: what this candling had noted of the egg until then.

    ``contradictions``: of all that is recorded of the egg now.
    """

    egg: RoundEgg
    code: FindingCode
    before: FindingCode | None
    contradictions: tuple[Contradiction, ...]


@dataclass(frozen=True)
class TakenBack:
    """A step was taken back; ``egg``: the one whose verdict it was, None where it was none."""

    step: StepInfo
    egg: RoundEgg | None


@dataclass(frozen=True)
class Refused:
    """Nothing was done; ``step``: the one that lies above those of this candling."""

    why: Refusal
    egg: RoundEgg | None = None
    step: StepInfo | None = None


def open_candling(journal: Journal, batch: Batch, at: int) -> Candling | None:
    """The candling that can be gone on with at an instant: begun in the last hours, and not ended."""
    candling = journal.candlings.going_on(batch.uid, at)
    return None if candling is None or candling.ended_at is not None else candling


class Sitting:
    """Goes on with the candling of the last hours, or begins one with its first verdict.

    Args:
        journal: the open journal.
        run: carries out an operation and gives its change, or None where the journal refused it.
        batch: whose eggs are candled.
        now: tells the instant, UTC seconds.
        order: in which order the eggs are gone through.
        by_whom: who candles.
    """

    def __init__(
        self,
        journal: Journal,
        run: Callable[[Operation], Change | None],
        batch: Batch,
        now: Callable[[], int],
        *,
        order: Order = Order.ROWS,
        by_whom: str = "",
    ) -> None:
        self._journal, self._run, self._now = journal, run, now
        self.batch = batch
        at = now()
        known = open_candling(journal, batch, at)
        self.candling = Candling(batch.uid, at, by_whom=by_whom) if known is None else known
        self.lid = LidClock.open_from(at)
        self.machine = journal.machines.get(Course(journal, batch.uid, at).machine_at(at))
        self._own: dict[str, LidClock | None] = {}
        self.eggs: dict[str, EggFigures] = {
            egg.egg.uid: egg for egg in eggs_before(journal, batch, self.candling.uid)
        }
        found = journal.candlings.findings_of(self.candling.uid)
        self.state = RoundState(
            [_round_egg(egg) for egg in self.eggs.values()],
            {finding.egg: finding.code for finding in found},
            order=order,
            at=at,
        )

    @property
    def begun(self) -> bool:
        """Whether anything of the candling is stored."""
        return self._journal.candlings.find(self.candling.uid) is not None

    @property
    def day(self) -> float:
        """Days since setting."""
        return day_number(self._now(), self.batch.set_at)

    def fate_of(self, code: FindingCode) -> Fate:
        """The glyph that shows a verdict given now: "dead later" by the stage that the day falls into."""
        if code is FindingCode.DEAD:
            stage = bounds_of(self.batch).stage_of(max(self.day, 0.0))
            return Fate.MID_DEAD if stage is Fate.EARLY_DEAD else stage
        return Fate(code.value)

    # ---------------------------------------------------------------- verdicts

    def give(self, code: FindingCode) -> Given | Refused:
        """Stores what is seen in the egg under the cursor, and goes on to the next."""
        egg = self.state.current
        if egg is None:
            return Refused(Refusal.NO_EGG)
        at = self._now()
        if at < self.batch.set_at:
            return Refused(Refusal.NOT_SET, egg)
        if egg.left:
            return Refused(Refusal.LEFT, egg)
        if not self.begun:
            self.candling = replace(self.candling, at=at)
        candling, lid = self.candling, self.lid.worked(at)
        before = self.state.verdicts.get(egg.uid)
        stored = self._do(
            lambda journal: journal.candlings.note_finding(
                candling, egg.uid, code, at, lid=lid.event(self.machine.uid)
            )
        )
        if not stored:
            return Refused(Refusal.NOT_STORED, egg)
        self.lid = lid
        self.state.note(egg.uid, code, at)
        self.state.go_on()
        outcome = outcome_of_egg(self._journal, self.batch, egg.uid)
        return Given(egg, code, before, outcome.contradictions)

    def give_last(self) -> Given | Refused:
        """Stores that the egg under the cursor is as it was the last time."""
        egg = self.state.current
        if egg is None:
            return Refused(Refusal.NO_EGG)
        return self.give(egg.last) if egg.last is not None else Refused(Refusal.NO_LAST, egg)

    def take_back(self) -> TakenBack | Refused:
        """Takes back the latest step, if it is one of this candling, and no other."""
        step = self._journal.history.next_undo()
        if step is None:
            return Refused(Refusal.NOTHING_TO_TAKE_BACK)
        changes = self._journal.history.changes(step.number)
        if not self._is_own(step, changes):
            return Refused(Refusal.OTHER_STEP, step=step)
        # "only": a worker can have stored something since.
        if self._run(lambda journal: journal.history.undo(only=step.number)) is None:
            return Refused(Refusal.NOT_STORED)
        self.lid = self._own.pop(step.uid, None) or self.lid
        self.candling = self._journal.candlings.find(self.candling.uid) or self.candling
        egg = None
        for change in changes:
            row = change.after or change.before or {}
            if change.kind == "finding":
                egg = self.state.egg(row["egg"])
                code = None if change.before is None else FindingCode(change.before["code"])
                self.state.take_back(egg.uid, code, self._now())
        return TakenBack(step, egg)

    def _is_own(self, step: StepInfo, changes: list[ChangeInfo]) -> bool:
        """Whether a step is of this sitting, or a single verdict of an earlier one of the same candling."""
        if step.uid in self._own:
            return True
        if step.code != "findings_noted" or step.details.get("count") != 1:
            return False
        rows = [change.after or {} for change in changes if change.kind == "finding"]
        return bool(rows) and all(row.get("candling") == self.candling.uid for row in rows)

    def _do(self, operation: Operation, lid: LidClock | None = None) -> bool:
        """Runs an operation and keeps in mind that its step is ours; ``lid``: the clock to go back to with it."""
        change = self._run(operation)
        if change is None:
            return False
        if change.step.number:
            self._own[change.step.uid] = lid
        return True

    # ---------------------------------------------------------------- besides the verdicts

    def note(self, text: str) -> bool:
        """Stores a note on the egg under the cursor, at once; False where there is no egg or nothing was stored."""
        egg = self.state.current
        if egg is None or not text.strip():
            return False
        batch, at = self.batch.uid, self._now()
        return self._do(lambda journal: journal.events.note_eggs(batch, [egg.uid], text.strip(), at))

    def toggle_lid(self) -> bool:
        """The lid was shut, or opened anew. What was counted of an opening without a verdict was none."""
        at = self._now()
        before, after = self.lid, self.lid.toggled(at)
        if after.shut_at is not None and self._journal.events.find(before.uid) is not None:
            event = after.event(self.machine.uid)
            if not self._do(lambda journal: journal.events.replace(event), before):
                return False
        self.lid = after
        return True

    def set_observer(self, name: str) -> bool:
        """Who candles, from now on noted with this candling."""
        named = replace(self.candling, by_whom=name.strip())
        if self.begun and not self._do(lambda journal: journal.candlings.replace(named)):
            return False
        self.candling = named
        return True

    def end(self) -> bool:
        """Ends the candling, which ticks the duty that asked for it; False where nothing of it is stored."""
        if not self.begun:
            return False
        at, candling = self._now(), self.candling
        duty = self._journal.duties.candle_due(self.batch.uid, at)
        return self._do(lambda journal: journal.candlings.end(candling, at, duty))


def _round_egg(egg: EggFigures) -> RoundEgg:
    last = last_finding(egg)
    return RoundEgg(
        uid=egg.egg.uid,
        number=egg.egg.number,
        place=egg.egg.place,
        passed=egg.outcome.fate not in STILL_CANDLED,
        left=has_left(egg.outcome),
        last=None if last is None else last[1],
    )
