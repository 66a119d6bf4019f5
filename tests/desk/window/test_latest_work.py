"""Work of which only the latest counts."""

from __future__ import annotations

import threading

from hatchbook.desk.context import DeskContext
from hatchbook.desk.door import Door
from hatchbook.desk.latest_work import LatestWork
from hatchbook.desk.settings import DeskSettings
from hatchbook.desk.tasks import Task, ThreadWorker
from pytestqt.qtbot import QtBot
from tests.desk.conftest import Desk


def test_the_answer_to_an_earlier_question_is_not_told(qtbot: QtBot) -> None:
    worker = ThreadWorker()
    work = LatestWork(DeskContext(Door(), worker, DeskSettings()))
    told: list[object] = []
    work.answered.connect(told.append)
    held = threading.Event()

    def slow(_task: Task) -> str:
        held.wait(5)
        return "earlier"

    work.ask(slow)
    work.ask(lambda _task: "later")
    held.set()
    qtbot.waitUntil(lambda: told == ["later"])
    assert not work.is_busy
    worker.stop()


def test_it_reads_the_journal_over_a_connection_of_its_own(desk: Desk, qtbot: QtBot) -> None:
    work = LatestWork(desk.context)
    with qtbot.waitSignal(work.answered) as answer:
        work.read(lambda journal, _task: (journal is desk.journal, len(journal.batches.all())))
    assert answer.args == [(False, 1)]


def test_what_goes_wrong_is_told_and_an_empty_answer_is_not(desk: Desk, qtbot: QtBot) -> None:
    work = LatestWork(desk.context)
    told: list[object] = []
    work.answered.connect(told.append)

    def fail(_task: Task) -> None:
        raise ValueError("no")

    with qtbot.waitSignal(work.failed) as failure:
        work.ask(fail)
    assert isinstance(failure.args[0], ValueError)
    with qtbot.waitSignal(work.busy_changed, check_params_cb=lambda busy: not busy):
        work.ask(lambda _task: None)
    assert told == []


def test_what_is_stopped_tells_nothing(desk: Desk, qtbot: QtBot) -> None:
    work = LatestWork(desk.context)
    told: list[object] = []
    work.answered.connect(told.append)
    work.ask(lambda _task: "answer")
    work.stop()
    qtbot.wait(20)
    assert told == []
    assert not work.is_busy


def test_what_is_asked_while_it_rests_begins_the_rest_anew(desk: Desk, qtbot: QtBot) -> None:
    work = LatestWork(desk.context)
    told: list[object] = []
    work.answered.connect(told.append)
    work.read_soon(lambda _journal, _task: "first", 5)
    work.read_soon(lambda _journal, _task: "second", 5)
    qtbot.waitUntil(lambda: told == ["second"])
    work.read_soon(lambda _journal, _task: "third", 5)
    work.stop()
    qtbot.wait(30)
    assert told == ["second"]


def test_nothing_is_read_soon_of_a_journal_that_was_closed_meanwhile(desk: Desk, qtbot: QtBot) -> None:
    work = LatestWork(desk.context)
    told: list[object] = []
    work.answered.connect(told.append)
    work.read_soon(lambda _journal, _task: "late", 5)
    desk.context.door.take(None)
    qtbot.wait(40)
    assert told == []
