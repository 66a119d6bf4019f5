"""The command line: what it understands, and the commands that need no screen.

Exit codes of ``figures`` and ``check``: 0 done and sound; 1 the check found problems, or there is no such batch;
2 the file cannot be opened, or the command was not understood.
"""

from __future__ import annotations

import argparse
import io
import json
import os
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Any
from zoneinfo import ZoneInfo

import hatchbook

if TYPE_CHECKING:
    from hatchbook.journal import Journal

DONE, PROBLEMS, CANNOT_OPEN = 0, 1, 2

_COMMANDS = """\
without a screen:
  hatchbook figures FILE [--batch LABEL]   print the figures as JSON (--demo for FILE: of the demo)
  hatchbook check FILE                     check a journal and say what was found

A journal named like a command is opened as ./figures or ./check.
"""


def build_parser() -> argparse.ArgumentParser:
    """What the program understands when it opens its window: ``file`` and ``demo``."""
    parser = argparse.ArgumentParser(
        prog="hatchbook",
        description="A hatch journal for small breeders.",
        epilog=_COMMANDS,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument(
        "file", nargs="?", metavar="FILE", help="the journal to open; without one, the journal open last"
    )
    parser.add_argument(
        "--demo", action="store_true", help="open a copy of the demo journal; nothing is kept"
    )
    parser.add_argument("--version", action="version", version=f"Hatchbook {hatchbook.__version__}")
    return parser


def run_command(arguments: list[str]) -> int | None:
    """Runs a command that needs no screen; its exit code, or None where the window is wanted.

    Raises:
        SystemExit: the command was not understood (2), or its help was asked for (0), as argparse does.
    """
    runners: dict[str, Callable[[list[str]], int]] = {"figures": _run_figures, "check": _run_check}
    if not arguments or arguments[0] not in runners:
        return None
    try:
        code = runners[arguments[0]](arguments[1:])
        sys.stdout.flush()
    except BrokenPipeError:
        # Whoever reads has seen enough (``| head``). Python would complain once more when it ends.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return DONE
    return code


# -------------------------------------------------------------------- figures


def _run_figures(arguments: list[str]) -> int:
    parser = argparse.ArgumentParser(
        prog="hatchbook figures",
        description="Prints the figures of a journal, or of one batch, as JSON. Instants are UTC seconds, "
        "temperatures °C, humidities % RH, masses g.",
    )
    parser.add_argument("file", nargs="?", metavar="FILE", help="the journal")
    parser.add_argument("--batch", metavar="LABEL", help="the figures of this batch alone")
    parser.add_argument("--demo", action="store_true", help="of the demo journal, instead of a file")
    options = parser.parse_args(arguments)
    if options.demo == (options.file is not None):
        parser.error("name either a journal or --demo")

    from hatchbook.journal import JournalError

    try:
        with _opened(options.file) as journal:
            figures = _all_figures(journal) if options.batch is None else _of_batch(journal, options.batch)
            if figures is None:
                kept, past = journal.batches.lines(), journal.past_batches.all()
                labels = ", ".join([*(one.label for one in kept), *(one.label for one in past)]) or "none"
                return _complain(f"There is no batch {options.batch}. The batches are: {labels}.", PROBLEMS)
    except JournalError as error:
        return _complain(str(error), CANNOT_OPEN)
    _say(json.dumps(figures, ensure_ascii=False, allow_nan=False, indent=1))
    return DONE


@contextmanager
def _opened(file: str | None) -> Iterator[Journal]:
    """A journal opened for reading, or a demo that goes afterwards."""
    from hatchbook.journal import Journal

    if file is not None:
        with Journal.open(Path(file), read_only=True) as journal:
            yield journal
        return
    from hatchbook.exchange.demo import create_demo_journal

    with TemporaryDirectory(prefix="hatchbook-demo-", ignore_cleanup_errors=True) as folder:
        path = Path(folder) / "demo.hatchbook"
        with create_demo_journal(path, now=int(time.time()), zone=ZoneInfo("UTC")) as journal:
            yield journal


def _of_batch(journal: Journal, label: str) -> dict[str, Any] | None:
    """A batch's figures, of one that is over with its causes; of one from paper what its counts say."""
    from hatchbook.figures import BatchState, batch_view, past_figures
    from hatchbook.figures.causes import causes_of

    batch = journal.batches.by_label(label)
    if batch is None:
        past = journal.past_batches.by_label(label)
        return None if past is None else past_figures(journal, past.uid).as_dict()
    figures, curves = batch_view(journal, batch.uid)
    if figures.state is not BatchState.CLOSED:
        return figures.as_dict()
    return figures.as_dict() | {"causes": causes_of(journal, figures, curves).as_dict()}


def _all_figures(journal: Journal) -> dict[str, Any]:
    from hatchbook.figures import (
        batch_figures,
        machine_figures,
        machine_guide,
        overview,
        past_figures,
        season_figures,
    )
    from hatchbook.figures.comparison import compare_batches
    from hatchbook.figures.comparison_results import Question

    groups = overview(journal).seasons
    machines = journal.machines.all()
    return {
        "journal": journal.path.name,
        "time_zone": journal.zone.key,
        "seasons": [season_figures(journal, group.season).as_dict() for group in groups],
        "comparison": compare_batches(journal, Question()).as_dict(),
        "machines": [machine_figures(journal, machine.uid).as_dict() for machine in machines],
        "guides": [machine_guide(journal, machine.uid).as_dict() for machine in machines],
        "batches": [batch_figures(journal, line.uid).as_dict() for line in journal.batches.lines()],
        "past_batches": [past_figures(journal, past.uid).as_dict() for past in journal.past_batches.all()],
    }


# -------------------------------------------------------------------- check


def _run_check(arguments: list[str]) -> int:
    parser = argparse.ArgumentParser(
        prog="hatchbook check",
        description="Checks a journal, which may be open elsewhere, and says what it found; changes nothing.",
    )
    parser.add_argument("file", metavar="FILE", help="the journal")
    options = parser.parse_args(arguments)

    from hatchbook.journal.check import check_file

    path = Path(options.file)
    report = check_file(path)
    cannot_open = [problem for problem in report.problems if problem.code == "cannot_open"]
    if cannot_open:
        return _complain(str(cannot_open[0]), CANNOT_OPEN)
    held = ", ".join(f"{kind} {count}" for kind, count in sorted(report.counts.items()) if count)
    _say(f"{path.name} holds: {held or 'nothing'}.")
    for problem in report.problems:
        _say(f"Problem: {problem}")
    for remark in report.remarks:
        _say(f"Worth a look: {remark}")
    if report.problems:
        return PROBLEMS
    _say("Nothing is wrong with it.")
    return DONE


# -------------------------------------------------------------------- saying


def _say(text: str) -> None:
    if isinstance(sys.stdout, io.TextIOWrapper):
        sys.stdout.reconfigure(encoding="utf-8")  # JSON is, and names may need it
    sys.stdout.write(text + "\n")


def _complain(sentence: str, code: int) -> int:
    sys.stderr.write(sentence + "\n")
    return code
