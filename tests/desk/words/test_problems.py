"""What a check found, word for word."""

from __future__ import annotations

from hatchbook.desk.words.problems import _SENTENCES, held_sentence, problem_sentence
from hatchbook.journal import Problem
from hatchbook.journal import problems as known


def test_every_problem_has_a_sentence_of_the_desk() -> None:
    assert set(_SENTENCES) == set(known._SENTENCES)


def test_it_says_what_the_journal_itself_says() -> None:
    problem = Problem("egg_outside", {"egg": 12, "batch": "26-05"})
    assert problem_sentence(problem) == str(problem)
    gap = Problem("phases_gap", {"batch": "26-05", "day": 18.5})
    assert problem_sentence(gap) == str(gap)


def test_a_journal_is_told_by_what_a_breeder_counts() -> None:
    counts = {"batch": 2, "egg": 36, "history_step": 90, "reading": 40_586, "pen": 0}
    assert held_sentence(counts) == "It holds 2 batch(es), 36 egg(s), 40586 reading(s)."
    assert held_sentence({"setting": 1}) == "It holds nothing yet."
