"""The command line without a screen."""

from __future__ import annotations

import json
import sqlite3
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from hatchbook.commands import build_parser, run_command
from hatchbook.journal import Batch, BatchPhase, Egg, Journal, Machine, NewReadings, PastBatch
from hatchbook.trade.codes import HatchMark, PhaseKind

DAY = 86_400
SET_AT = 1_777_917_600


def fill(path: Path) -> None:
    """A journal with a closed batch that has readings and no record of its eggs, and one of which three hatched."""
    with Journal.create(path, time_zone="Europe/Lisbon") as journal:
        machine = Machine("Blå", 3, 4)
        journal.machines.add(machine)
        journal.probes.add_to("P1", machine=machine.uid, from_at=SET_AT - DAY)
        for label, set_at in (("26-01", SET_AT), ("26-02", SET_AT + 30 * DAY)):
            batch = Batch(label, "hen", machine.uid, set_at, 21.0, "{}", 7.0, 14.0)
            bands = (40.0, 45.0, 50.0, 37.2, 37.5, 37.8)
            phases = [
                BatchPhase(batch.uid, PhaseKind.INCUBATION, 0.0, 18.0, *bands),
                BatchPhase(batch.uid, PhaseKind.LOCKDOWN, 18.0, 21.0, *bands),
            ]
            eggs = [Egg(batch.uid, number) for number in range(1, 5)]
            journal.batches.set_batch(batch, phases, [], eggs)
            if label == "26-02":
                hatched = [egg.uid for egg in eggs[:3]]
                journal.hatchings.note_marks(batch.uid, hatched, HatchMark.HATCHED, set_at + 21 * DAY)
            journal.batches.close(batch, set_at + 22 * DAY)
        probe = journal.probes.by_name("P1")
        assert probe is not None
        at = np.arange(SET_AT, SET_AT + 21 * DAY, 900, dtype=np.int64)
        readings = NewReadings(
            "a.csv", "d", "{}", at.size, at, np.full(at.size, 37.5), np.full(at.size, 46.0)
        )
        journal.imports.bring_in(probe, readings, SET_AT + 22 * DAY)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    file = tmp_path / "My hens.hatchbook"
    fill(file)
    return file


@pytest.mark.parametrize(
    "arguments",
    [[], ["my.hatchbook"], ["--demo"], ["./check"], ["--help"], ["--version"], ["my.hatchbook", "figures"]],
)
def test_anything_but_a_command_is_for_the_window(arguments: list[str]) -> None:
    assert run_command(arguments) is None


def test_the_parser_knows_the_file_and_the_demo() -> None:
    assert build_parser().parse_args([]).file is None
    assert build_parser().parse_args(["a.hatchbook"]).file == "a.hatchbook"
    assert build_parser().parse_args(["--demo"]).demo is True


def test_help_names_the_commands(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        build_parser().parse_args(["--help"])
    assert ended.value.code == 0
    text = capsys.readouterr().out
    assert "hatchbook figures FILE [--batch LABEL]" in text
    assert "hatchbook check FILE" in text


def test_the_figures_of_a_batch_are_printed_as_json(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = path.read_bytes()
    assert run_command(["figures", str(path), "--batch", "26-01"]) == 0
    out, err = capsys.readouterr()
    figures = json.loads(out, parse_constant=pytest.fail)
    assert err == ""
    assert figures["batch"]["label"] == "26-01"
    assert figures["machine_name"] == "Blå"
    assert figures["phases"][0]["humidity"]["average"]["mean"] == pytest.approx(46.0)
    assert figures["phases"][0]["humidity"]["verdict"] == "on_aim"
    assert figures["counts"] == {"unknown": 4}
    assert path.read_bytes() == before


def test_the_figures_of_the_journal_are_those_of_all_it_holds(
    path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run_command(["figures", str(path)]) == 0
    figures = json.loads(capsys.readouterr().out, parse_constant=pytest.fail)
    assert figures["journal"] == "My hens.hatchbook"
    assert [batch["batch"]["label"] for batch in figures["batches"]] == ["26-02", "26-01"]
    assert figures["seasons"][0]["season"] == 2026
    # A batch of whose eggs nothing was recorded has no hatch of none.
    hatch = figures["seasons"][0]["overall"]["hatch_of_set"]
    assert (hatch["hits"], hatch["trials"]) == (3, 4)
    assert figures["machines"][0]["batches"][1]["phases"][0]["humidity"]["verdict"] == "on_aim"
    assert figures["guides"][0]["machine_name"] == figures["machines"][0]["machine"]["name"]
    assert figures["comparison"]["batches"] == sum(batch["state"] == "closed" for batch in figures["batches"])


def test_the_demo_has_figures_too(capsys: pytest.CaptureFixture[str]) -> None:
    assert run_command(["figures", "--demo"]) == 0
    figures = json.loads(capsys.readouterr().out, parse_constant=pytest.fail)
    states = [batch["state"] for batch in figures["batches"]]
    assert states.count("running") == 2
    assert len(figures["seasons"]) == 5


def test_a_batch_from_paper_is_understood_too(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with Journal.open(path) as journal:
        journal.past_batches.add(PastBatch("19-01", 2019, "hen", 24, clear=4, hatched=15))
    assert run_command(["figures", str(path), "--batch", "19-01"]) == 0
    figures = json.loads(capsys.readouterr().out)
    assert figures["batch"]["label"] == "19-01"
    assert figures["rates"]["hatch_of_set"]["hits"] == 15
    assert run_command(["figures", str(path)]) == 0
    figures = json.loads(capsys.readouterr().out)
    assert [past["batch"]["label"] for past in figures["past_batches"]] == ["19-01"]
    assert run_command(["figures", str(path), "--batch", "nothing"]) == 1
    assert "19-01" in capsys.readouterr().err


def test_a_batch_that_is_over_comes_with_what_its_losses_may_be_of(
    path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run_command(["figures", str(path), "--batch", "26-02"]) == 0
    causes = json.loads(capsys.readouterr().out)["causes"]
    assert (causes["lost"], causes["unknown"]) == (0, 1)
    assert causes["causes"] == []


def test_an_unknown_batch_is_answered_with_those_there_are(
    path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run_command(["figures", str(path), "--batch", "nine"]) == 1
    out, err = capsys.readouterr()
    assert out == ""
    assert err == "There is no batch nine. The batches are: 26-02, 26-01.\n"


@pytest.mark.parametrize("command", ["figures", "check"])
def test_a_file_that_can_not_be_opened_is_named(
    command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    missing, text = tmp_path / "none.hatchbook", tmp_path / "text.hatchbook"
    text.write_text("12 eggs, set on Sunday")
    for file in (missing, text):
        assert run_command([command, str(file)]) == 2
        out, err = capsys.readouterr()
        assert out == ""
        assert file.name in err
        assert err.endswith(".\n")
    assert not missing.exists()
    assert text.read_text() == "12 eggs, set on Sunday"


@pytest.mark.parametrize(
    "arguments",
    [["figures"], ["figures", "a", "--demo"], ["check"], ["figures", "a", "--eggs"], ["check", "a", "b"]],
)
def test_a_command_not_understood_ends_with_two(
    arguments: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as ended:
        run_command(arguments)
    assert ended.value.code == 2
    assert f"hatchbook {arguments[0]}" in capsys.readouterr().err


def test_a_sound_journal_is_said_to_be_sound(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run_command(["check", str(path)]) == 0
    out = capsys.readouterr().out
    assert out.startswith("My hens.hatchbook holds: ")
    assert "batch 2" in out
    assert "reading 2016" in out
    assert out.endswith("Nothing is wrong with it.\n")


def test_problems_are_told_and_end_with_one(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with sqlite3.connect(path) as connection:
        connection.execute(
            "DELETE FROM batch_phase WHERE batch = (SELECT uid FROM batch WHERE label = '26-02')"
        )
    connection.close()
    assert run_command(["check", str(path)]) == 1
    out = capsys.readouterr().out
    assert "Problem: Batch 26-02 has no phases.\n" in out
    assert "Nothing is wrong" not in out


def test_figures_of_a_batch_without_phases_do_not_fail(
    path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with sqlite3.connect(path) as connection:
        connection.execute("DELETE FROM batch_phase")
    connection.close()
    assert run_command(["figures", str(path)]) == 0
    figures = json.loads(capsys.readouterr().out)
    assert [batch["phases"] for batch in figures["batches"]] == [[], []]


def test_commands_need_neither_qt_nor_a_screen(path: Path) -> None:
    code = """
import sys
from hatchbook.app import main
slow, *arguments = sys.argv[1:]
code = main(arguments)
wrong = sorted({"PySide6", "pyqtgraph", *slow.split()} & {name.split(".")[0] for name in sys.modules})
sys.exit(f"imported: {wrong}" if wrong else code)
"""
    # Comparing batches and fitting machines takes scipy; nothing else does.
    for slow, *arguments in (
        ["", "figures", str(path)],
        ["scipy openpyxl", "figures", str(path), "--batch", "26-01"],
        ["scipy openpyxl", "check", str(path)],
    ):
        run = subprocess.run(
            [sys.executable, "-c", code, slow, *arguments],
            capture_output=True,
            text=True,
            check=False,
            env={"PATH": "", "QT_QPA_PLATFORM": "none"},
        )
        assert (run.returncode, run.stderr) == (0, "")


def test_a_reader_that_has_seen_enough_is_no_trouble(path: Path) -> None:
    code = "import sys\nfrom hatchbook.commands import run_command\nsys.exit(run_command(sys.argv[1:]))"
    run = subprocess.Popen(
        [sys.executable, "-c", code, "figures", str(path)], stdout=subprocess.PIPE, stderr=subprocess.PIPE
    )
    assert run.stdout is not None
    run.stdout.readline()
    run.stdout.close()
    assert run.stderr is not None
    assert run.stderr.read() == b""
    run.stderr.close()
    assert run.wait() == 0
