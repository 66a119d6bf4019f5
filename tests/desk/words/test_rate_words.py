"""Whether chicks and losses add up, and what the rates leave out, word for word."""

from __future__ import annotations

from dataclasses import replace

from hatchbook.desk.words.batches import batch_facts
from hatchbook.desk.words.phase_checks import check_lines
from hatchbook.desk.words.rates import closing_sentence, left_out_sentences, no_losses_sentence, of_set_foot
from hatchbook.figures import batch_figures, batch_view
from hatchbook.figures.temperature import temperature_figures
from hatchbook.statistics.rates import batch_rates
from hatchbook.trade.codes import Fate
from hatchbook.trade.fates import EggOutcome
from tests.desk.conftest import DAY, NOW, SET_AT, ZONE, Desk

HATCHED = EggOutcome(Fate.HATCHED, candled=True, fertile=True)
EARLY = EggOutcome(Fate.EARLY_DEAD, candled=True, fertile=True)
CLEAR = EggOutcome(Fate.CLEAR, candled=True, candled_clear=True)
LOST_TRACK = EggOutcome(Fate.UNKNOWN, candled=True, fertile=True)
UNSURE = EggOutcome(Fate.UNKNOWN, candled=True)
NEVER_SEEN = EggOutcome(Fate.UNKNOWN)


def test_an_egg_of_unknown_fertility_does_not_keep_the_rest_from_adding_up() -> None:
    rates = batch_rates([HATCHED] * 7 + [EARLY] * 2 + [CLEAR] * 2 + [UNSURE])
    assert closing_sentence(rates) == "Chicks and losses add up to the 9 fertile egg(s)."
    assert left_out_sentences(rates) == [
        "1 egg(s) of unknown fertility: left out of the rates of fertile.",
        "2 clear egg(s) not opened: they may have died very early.",
    ]


def test_a_fertile_egg_that_was_lost_track_of_is_what_is_missing() -> None:
    rates = batch_rates([HATCHED] * 7 + [EARLY] * 2 + [LOST_TRACK])
    assert closing_sentence(rates) == "The percentages do not add up to 100: 1 egg(s) whose end is not known."


def test_a_batch_of_which_nothing_was_recorded_has_no_hatch_of_none() -> None:
    rates = batch_rates([NEVER_SEEN] * 20)
    assert of_set_foot(rates) == "no chick is recorded"
    assert closing_sentence(rates) == "No egg is known to have been fertile."
    assert no_losses_sentence(rates) == "No loss of a fertile egg is known."


def test_a_batch_that_lost_none_says_so() -> None:
    rates = batch_rates([HATCHED] * 7 + [CLEAR])
    assert no_losses_sentence(rates) == "No fertile egg was lost."


def test_turnings_without_an_entry_are_not_called_missed(desk: Desk) -> None:
    figures, curves = batch_view(desk.journal, desk.batch.uid, NOW)
    warmth = temperature_figures(figures, curves, ZONE)
    (turned,) = [line for line in check_lines(figures, warmth) if line.subject == "Turned"]
    due = sum(phase.turns_due for phase in figures.phases)
    assert (turned.value, turned.state) == ("–", "unknown")
    assert turned.verdict == f"no turning is logged, {due} were due"
    first = figures.phases[0]
    some = replace(figures, phases=(replace(first, turns_done=due - 10), *figures.phases[1:]))
    (turned,) = [line for line in check_lines(some, warmth) if line.subject == "Turned"]
    assert (turned.verdict, turned.state) == ("10 not logged", "flagged")


def test_a_batch_past_its_hatch_says_by_how_many_days(desk: Desk) -> None:
    figures = batch_figures(desk.journal, desk.batch.uid, SET_AT + 25 * DAY)
    facts = batch_facts(figures, ZONE)
    assert facts.startswith("4 day(s) past the hatch, day 25.")
    assert facts.endswith("hatch was due Sun 24 May.")
    on_time = batch_facts(batch_figures(desk.journal, desk.batch.uid, NOW), ZONE)
    assert on_time.startswith("Day 11 of 21.")
    assert on_time.endswith("hatch due Sun 24 May.")
