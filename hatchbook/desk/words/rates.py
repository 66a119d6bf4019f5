"""The rates of a batch in a line: what each counts, and what is left out."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.codes import fate_word
from hatchbook.desk.words.numbers import count_of, number, range_text, rate_text
from hatchbook.figures.results import BatchFigures, HatchTiming
from hatchbook.statistics.rates import BatchRates
from hatchbook.trade.codes import Fate


def _tr(text: str, n: int = -1) -> str:
    return QCoreApplication.translate("Rates", text, "", n)


def fertility_foot(rates: BatchRates) -> str:
    """Under the fertility: that as candled, and the clears that were not opened."""
    if rates.fertility.estimate is None:
        return _tr("needs a candling or opened eggs")
    if rates.unopened_clears:
        return _tr("%n clear egg(s) not opened", rates.unopened_clears)
    if rates.candled_fertility.estimate is not None and rates.candled_fertility.hits != rates.fertility.hits:
        return _tr("as candled {count}").format(
            count=count_of(rates.candled_fertility.hits, rates.candled_fertility.trials)
        )
    return _tr("clear eggs were opened") if rates.counts[Fate.INFERTILE] else range_note()


def range_note() -> str:
    """Under a rate of which there is nothing else to say."""
    return _tr("range: 95 %")


def of_fertile_foot(rates: BatchRates) -> str:
    """Under the hatch of fertile: what it counts beside the chicks that lived."""
    if rates.hatch_of_fertile.estimate is None:
        return _tr("no chick is recorded")
    culled = rates.counts[Fate.CULLED]
    return _tr("%n chick(s) culled among them", culled) if culled else _tr("every chick that came out")


def of_set_foot(rates: BatchRates) -> str:
    """Under the hatch of set."""
    if rates.hatch_of_set.estimate is None:
        return _tr("no chick is recorded")
    helped = rates.counts[Fate.HELPED]
    return _tr("%n chick(s) helped out", helped) if helped else _tr("none helped out")


def loss_foot(figures: BatchFigures) -> tuple[str, bool]:
    """Under the weight lost: whether it fits the corridor, and whether that asks for a look."""
    weight, batch = figures.weight, figures.batch
    low, high = batch.loss_low_percent, batch.loss_high_percent
    if weight is None or low is None or high is None or batch.loss_day is None:
        return "", False
    wanted = range_text(low, high)
    if abs(weight.day - batch.loss_day) > 1.0:
        return _tr("wanted {range} % by day {day}").format(range=wanted, day=number(batch.loss_day, 0)), False
    if weight.mean_loss_percent < low:
        return _tr("too little: {range} % wanted").format(range=wanted), True
    if weight.mean_loss_percent > high:
        return _tr("too much: {range} % wanted").format(range=wanted), True
    return _tr("{range} % wanted").format(range=wanted), False


def hatch_foot(timing: HatchTiming) -> str:
    """Under the hatch: from which day to which, and when it was due."""
    due = number(timing.due_day, 0)
    if timing.first_day is None or timing.last_day is None:
        return _tr("no time is recorded; due on day {due}").format(due=due)
    first, last = number(timing.first_day), number(timing.last_day)
    if first == last:
        return _tr("all on day {day}; due {due}").format(day=first, due=due)
    return _tr("day {first} to {last}; due {due}").format(first=first, last=last, due=due)


def loss_lines(rates: BatchRates) -> list[tuple[Fate, str, str, str]]:
    """Losses of the fertile eggs: fate, word, count, rate with its range; only those that occurred."""
    return [
        (fate, fate_word(fate), count_of(rate.hits, rate.trials), rate_text(rate))
        for fate, rate in rates.losses.items()
        if rate.hits
    ]


def closing_sentence(rates: BatchRates) -> str:
    """Whether chicks and losses add up to the fertile eggs, and if not why."""
    fertile = rates.saleable_of_fertile
    if not rates.fertile:
        return _tr("No egg is known to have been fertile.")
    lost = sum(rate.hits for fate, rate in rates.losses.items() if fate is not Fate.UNKNOWN)
    if fertile.trials and fertile.hits + lost == rates.fertile:
        return _tr("Chicks and losses add up to the %n fertile egg(s).", rates.fertile)
    reasons = []
    if rates.losses[Fate.UNKNOWN].hits:
        reasons.append(_tr("%n egg(s) whose end is not known", rates.losses[Fate.UNKNOWN].hits))
    if rates.pending:
        reasons.append(_tr("%n egg(s) still without an end", rates.pending))
    if not reasons:
        return _tr("Too little is known of these eggs for rates of fertile.")
    return _tr("The percentages do not add up to 100: {reasons}.").format(reasons=", ".join(reasons))


def no_losses_sentence(rates: BatchRates) -> str:
    """In place of the losses where none is known."""
    if rates.fertile and rates.losses[Fate.EARLY_DEAD].trials:
        return _tr("No fertile egg was lost.")
    return _tr("No loss of a fertile egg is known.")


def left_out_sentences(rates: BatchRates) -> list[str]:
    """What the rates leave out, named."""
    sentences = []
    if rates.taken_out:
        sentences.append(
            _tr("%n egg(s) taken out or broken: left out of the rates of fertile.", rates.taken_out)
        )
    if rates.fertility_unknown:
        sentences.append(
            _tr(
                "%n egg(s) of unknown fertility: left out of the rates of fertile.",
                rates.fertility_unknown,
            )
        )
    if rates.rotten_taken_as_fertile:
        sentences.append(
            _tr("%n rotten egg(s) counted as fertile, as is customary.", rates.rotten_taken_as_fertile)
        )
    if rates.unopened_clears:
        sentences.append(
            _tr("%n clear egg(s) not opened: they may have died very early.", rates.unopened_clears)
        )
    return sentences
