"""Every step that the program writes has a sentence for undo."""

from __future__ import annotations

import re
from pathlib import Path

import hatchbook
from hatchbook.desk.words.history import STEP_CODES, change_sentence, step_sentence
from hatchbook.journal import Change, StepInfo
from tests.desk.conftest import ZONE, Desk

_PACKAGE = Path(hatchbook.__file__).parent
_STEP = re.compile(r"""\bstep\(\s*"([a-z_]+)\"""")
#: The collections whose records are added, changed and removed by the common operations.
_PLAIN_KINDS = {
    "machine", "probe", "pen", "programme", "batch", "duty", "egg", "candling", "event", "hatching", "removal",
    "reading", "past_batch",
}  # fmt: skip


def step(code: str, **details: object) -> StepInfo:
    return StepInfo(1, "u", 0, code, None, dict(details), "done")


def test_no_step_of_the_program_is_without_words() -> None:
    written = {
        code
        for file in [*(_PACKAGE / "journal").rglob("*.py"), *(_PACKAGE / "exchange").rglob("*.py")]
        for code in _STEP.findall(file.read_text(encoding="utf-8"))
    }
    assert len(written) > 15
    assert written <= STEP_CODES, written - STEP_CODES
    common = {f"{kind}_{what}" for kind in _PLAIN_KINDS for what in ("added", "changed", "removed")}
    assert common <= STEP_CODES, common - STEP_CODES


def test_the_values_of_a_step_stand_in_its_sentence() -> None:
    assert step_sentence(step("batch_renamed", label="26-05", name="Hens"), ZONE) == (
        "batch 26-05 renamed to Hens"
    )
    assert step_sentence(step("findings_noted", number=7, finding="alive"), ZONE) == "egg 7: alive"
    assert step_sentence(step("event_added", kind="vent", vent=0.25), ZONE) == "vent 1/4 logged"
    assert (
        step_sentence(step("break_out_noted", number=3, result="early_dead"), ZONE)
        == "egg 3 opened: dead early"
    )


def test_a_value_that_an_older_step_did_not_note_stays_blank() -> None:
    assert step_sentence(step("machine_added"), ZONE) == "machine  added"


def test_each_step_of_a_real_journal_has_a_sentence_without_gaps(desk: Desk) -> None:
    for info in desk.journal.history.steps():
        sentence = step_sentence(info, ZONE)
        assert "{" not in sentence
        assert "%n" not in sentence
        assert "  " not in sentence, sentence


def test_the_status_line_says_what_was_taken_back() -> None:
    change = Change(step("pen_added", name="Brook"), frozenset({"pen"}), "undone")
    assert change_sentence(change, ZONE) == "Taken back: pen Brook added"
