"""The door holds changes back for a screen that covers the others, and tells them as one."""

from __future__ import annotations

from hatchbook.journal import Change, Pen
from tests.desk.conftest import Desk


def told(desk: Desk) -> list[Change]:
    changes: list[Change] = []
    desk.door.changed.connect(changes.append)
    return changes


def add_pen(desk: Desk, name: str) -> Change | None:
    return desk.door.run(lambda journal: journal.pens.add(Pen(name)))


def test_what_was_held_back_is_told_once_with_all_its_kinds(desk: Desk) -> None:
    changes = told(desk)
    with desk.door.hold_back():
        first = add_pen(desk, "South")
        note = desk.door.run(
            lambda journal: journal.events.note_eggs(desk.batch.uid, [desk.eggs[0].uid], "x", 9)
        )
        assert first is not None
        assert note is not None
        assert changes == []
        assert desk.door.saved_at == desk.clock.at
        assert desk.journal.pens.by_name("South") is not None
    assert [(change.step, change.kinds) for change in changes] == [(note.step, frozenset({"pen", "event"}))]
    add_pen(desk, "West")
    assert len(changes) == 2


def test_nothing_is_told_where_nothing_was_changed(desk: Desk) -> None:
    changes = told(desk)
    desk.door.hold_back().release()
    assert changes == []


def test_it_is_told_when_the_last_of_several_holdings_ends(desk: Desk) -> None:
    changes = told(desk)
    outer, inner = desk.door.hold_back(), desk.door.hold_back()
    add_pen(desk, "South")
    outer.release()
    outer.release()
    assert changes == []
    inner.release()
    assert len(changes) == 1


def test_what_was_held_back_of_one_journal_is_not_told_of_another(desk: Desk) -> None:
    changes = told(desk)
    holding = desk.door.hold_back()
    add_pen(desk, "South")
    desk.door.take(None)
    holding.release()
    assert changes == []
