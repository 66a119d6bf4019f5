"""Slow work: its outcome comes back to the window's thread; cancelled work tells nothing."""

from __future__ import annotations

import threading

import pytest
from hatchbook.desk.tasks import InlineWorker, Task, ThreadWorker
from pytestqt.qtbot import QtBot


@pytest.fixture(params=[ThreadWorker, InlineWorker])
def worker(request: pytest.FixtureRequest) -> object:
    made = request.param()
    yield made
    made.stop()


def test_the_outcome_comes_to_the_windows_thread(worker: ThreadWorker, qtbot: QtBot) -> None:
    threads: list[int] = []
    task = worker.start(lambda _task: 6 * 7)
    task.finished.connect(lambda _value: threads.append(threading.get_ident()))
    with qtbot.waitSignal(task.finished) as done:
        pass
    assert done.args == [42]
    assert threads == [threading.get_ident()]


def test_a_failure_is_told_as_what_it_is(worker: ThreadWorker, qtbot: QtBot) -> None:
    def fail(_task: Task) -> None:
        raise ValueError("no")

    task = worker.start(fail)
    with qtbot.waitSignal(task.failed) as failed:
        pass
    assert isinstance(failed.args[0], ValueError)


def test_progress_is_told_on_the_way(qtbot: QtBot) -> None:
    worker = ThreadWorker()
    seen: list[float] = []

    def work(task: Task) -> str:
        for share in (0.25, 0.5, 1.0):
            task.report(share)
        return "done"

    task = worker.start(work)
    task.progressed.connect(seen.append)
    with qtbot.waitSignal(task.finished):
        pass
    worker.stop()
    assert seen[-1:] == [1.0]


def test_cancelled_work_tells_nothing_and_the_next_one_runs(qtbot: QtBot) -> None:
    worker = ThreadWorker()
    began, go_on = threading.Event(), threading.Event()

    def wait(task: Task) -> str:
        began.set()
        go_on.wait(5)
        return "cancelled" if task.cancelled else "ran on"

    told: list[object] = []
    first = worker.start(wait)
    first.finished.connect(told.append)
    assert began.wait(5)
    first.cancel()
    go_on.set()
    second = worker.start(lambda _task: "second")
    with qtbot.waitSignal(second.finished) as done:
        pass
    worker.stop()
    assert done.args == ["second"]
    assert told == []
