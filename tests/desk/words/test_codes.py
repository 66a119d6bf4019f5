"""No code of the trade is without its word."""

from __future__ import annotations

import inspect
from enum import StrEnum

import pytest
from hatchbook.desk.words import codes as words
from hatchbook.desk.words.records import change_lines, kind_word
from hatchbook.figures.record_names import RecordNames
from hatchbook.journal import ChangeInfo, schema
from hatchbook.trade import codes
from hatchbook.trade.programmes import load_species
from PySide6.QtCore import QLocale
from tests.desk.conftest import ZONE, Desk

KINDS = [kind for _, kind in inspect.getmembers(codes, inspect.isclass) if issubclass(kind, StrEnum)]


@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind is not StrEnum])
def test_every_code_has_a_word_of_its_own(kind: type[StrEnum]) -> None:
    found = {code: words.word(code) for code in kind}
    assert all(found.values())
    assert len(set(found.values())) == len(found)


def test_every_species_of_the_trade_has_a_word() -> None:
    for species in load_species():
        assert words.species_word(species.code) == words._SPECIES[species.code]


def test_a_species_of_the_breeders_own_is_named_as_it_was_typed() -> None:
    assert words.species_word("red_junglefowl") == "Red junglefowl"


def test_words_within_a_sentence_begin_small() -> None:
    assert words.in_sentence("Dead early") == "dead early"
    assert words.in_sentence("II: head in the small end") == "II: head in the small end"


def test_every_table_of_the_journal_has_a_word() -> None:
    tables = [line.split()[2] for line in schema.VERSION_1.splitlines() if line.startswith("CREATE TABLE")]
    unnamed = {"import_reject", "history_step", "history_change"}
    for table in set(tables) - unnamed:
        assert kind_word(table) != table.replace("_", " "), table


def test_a_change_says_from_what_to_what(desk: Desk) -> None:
    QLocale.setDefault(QLocale(QLocale.Language.English, QLocale.Country.UnitedKingdom))
    names = RecordNames(desk.journal)
    change = ChangeInfo("batch", "x", {"name": "Old", "note": ""}, {"name": "New", "note": ""})
    assert change_lines(change, ZONE, names) == ["Batch, name: Old → New"]
    added = ChangeInfo("egg", "x", None, {"number": 7})
    assert change_lines(added, ZONE, names) == ["Egg 7 added"]
