"""The words of an egg: its places, its story, and records that contradict each other."""

from __future__ import annotations

import pytest
from hatchbook.desk.egg.glyphs import fate_of_code
from hatchbook.desk.words.egg_story import age_sentence, contradiction_sentence, kind_word
from hatchbook.desk.words.eggs import PlaceError, parse_place
from hatchbook.desk.words.lines import line_sentence
from hatchbook.desk.words.numbers import mass_in, typed_text
from hatchbook.figures import JournalLine, LineKind, StoryKind
from hatchbook.trade.codes import BreakOutResult, Fate, FindingCode, HatchMark, RemovalReason
from hatchbook.trade.contradictions import Contradiction, ContradictionCode
from hatchbook.trade.units import Unit
from PySide6.QtCore import QLocale
from pytestqt.qtbot import QtBot
from tests.desk.conftest import DAY, SET_AT


@pytest.mark.parametrize(
    ("text", "trays", "place"),
    [
        ("C2", 1, (1, 3, 2)),
        (" c 2 ", 1, (1, 3, 2)),
        ("1 C 2", 1, (1, 3, 2)),
        ("2C2", 3, (2, 3, 2)),
        ("3 ab 12", 3, (3, 28, 12)),
    ],
)
def test_a_place_is_read_as_breeders_write_it(text: str, trays: int, place: tuple[int, int, int]) -> None:
    assert parse_place(text, trays, 30, 12) == place


@pytest.mark.parametrize("text", ["", "2", "C", "C 2 3 4", "C-2", "7 C", "C 2"])
def test_what_is_no_place_is_said_with_an_example(text: str) -> None:
    with pytest.raises(PlaceError, match=r"is no place\. Write it like 2 C 2"):
        parse_place(text, 2, 4, 6)


@pytest.mark.parametrize(
    ("text", "named"), [("Z 1", "Z 1"), ("A 7", "A 7"), ("2 A 1", "2 A 1"), ("A 0", "A 0")]
)
def test_a_place_that_there_is_not_is_said_with_the_last_one(text: str, named: str) -> None:
    with pytest.raises(PlaceError, match=f"There is no {named}: the last place is D 6"):
        parse_place(text, 1, 4, 6)


@pytest.mark.parametrize("code", ContradictionCode)
def test_every_contradiction_has_a_sentence_with_what_counts(code: ContradictionCode, qtbot: QtBot) -> None:
    clash = Contradiction(code, FindingCode.CLEAR, SET_AT + 7 * DAY, HatchMark.HATCHED, SET_AT + 21 * DAY)
    sentence = contradiction_sentence(clash, SET_AT)
    assert sentence.endswith(".")
    assert "{" not in sentence
    if code is ContradictionCode.CLEAR_BUT_HATCHED:
        assert sentence == (
            "Candled clear, but it hatched: “hatched” on day 21 counts, “clear” on day 7 does not."
        )
    if code is ContradictionCode.DAY_OUTSIDE_STAGE:
        assert sentence.endswith("The stage counts.")


def test_every_kind_of_entry_and_every_code_has_its_word_and_glyph() -> None:
    assert all(kind_word(kind) for kind in StoryKind)
    codes = [*FindingCode, *HatchMark, *BreakOutResult, *RemovalReason]
    assert all(isinstance(fate_of_code(code), Fate) for code in codes)


def test_the_age_of_an_egg_is_told(qtbot: QtBot) -> None:
    assert age_sentence(None) == ""
    assert age_sentence(0) == "set on the day it was laid"
    assert age_sentence(5) == "5 day(s) old when set"


def test_masses_are_told_in_the_unit_that_is_chosen() -> None:
    assert mass_in(58.4, Unit.GRAM) == "58.4\u00a0g"
    assert mass_in(58.4, Unit.OUNCE) == "2.06\u00a0oz"  # 58.4 / 28.349523125 = 2.05999


def test_a_number_in_a_field_can_be_typed_again() -> None:
    assert [typed_text(value) for value in (None, 58.0, 58.4, 0.125, 1450.0)] == [
        "",
        "58",
        "58.4",
        "0.125",
        "1450",
    ]
    QLocale.setDefault(QLocale(QLocale.Language.German))
    assert typed_text(1450.5) == "1450,5"


def test_a_note_on_eggs_names_them_in_the_journal() -> None:
    def said(eggs: list[int]) -> str:
        values = {"kind": "note", "text": "thin shell", "eggs": eggs}
        return line_sentence(JournalLine(SET_AT, LineKind.EVENT, values, None))

    assert said([14]) == "Egg 14: thin shell"
    assert said([3, 7, 12]) == "Eggs 3, 7, 12: thin shell"
    assert said(list(range(1, 9))) == "8 egg(s): thin shell"
    assert said([]) == "thin shell"
