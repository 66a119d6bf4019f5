"""How the key figures are reckoned, in sentences with the batch's own numbers."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.codes import in_sentence, phase_word
from hatchbook.desk.words.dates import batch_day
from hatchbook.desk.words.numbers import (
    count_of,
    duration_text,
    number,
    percent,
    range_text,
    rate_text,
    share,
)
from hatchbook.desk.words.rates import closing_sentence, left_out_sentences
from hatchbook.desk.words.weights import advice_sentence, weight_explanation
from hatchbook.figures.guide_results import WantedFrom
from hatchbook.figures.results import BatchFigures, PhaseFigures
from hatchbook.figures.to_hold import to_hold
from hatchbook.statistics.rates import BatchRates


def _tr(text: str, n: int = -1) -> str:
    return QCoreApplication.translate("Explanations", text, "", n)


def explanation(name: str, figures: BatchFigures) -> tuple[str, list[str]]:
    """Title and sentences for a figure of a running or a finished batch, by its name."""
    phase = figures.phase
    if name == "mean":
        return _tr("How the mean humidity is reckoned"), _mean(figures, phase)
    if name == "hold":
        return _tr("How “hold from now on” is reckoned"), [*_hold(figures), *_by_weight(figures)]
    if name == "weight":
        return _tr("How the weight lost is reckoned"), _weight(figures)
    if name in _RATES:
        return rates_explanation(figures.rates)
    if name == "hatch":
        return _tr("How the hatch is timed"), _hatch(figures)
    return _tr("How the eggs are counted"), _alive(figures)


_RATES = frozenset({"fertility", "of_fertile", "of_set"})


def rates_explanation(rates: BatchRates) -> tuple[str, list[str]]:
    """Title and sentences for the rates of a batch, also of one of which only counts are known."""
    return _tr("How the rates are reckoned"), _rates(rates)


def _rates(rates: BatchRates) -> list[str]:
    sentences = [
        _tr(
            "Fertility is fertile of set, hatch of fertile is hatched of fertile, hatch of set is hatched of set. "
            "The range is the 95\u00a0% interval that such a count allows (Wilson); a small batch has a wide one."
        )
    ]
    if rates.candled_fertility.estimate is not None:
        sentences.append(
            _tr("As candled, with every clear egg taken as infertile: {rate}, {count}.").format(
                rate=rate_text(rates.candled_fertility),
                count=count_of(rates.candled_fertility.hits, rates.candled_fertility.trials),
            )
        )
    return [*sentences, closing_sentence(rates), *left_out_sentences(rates)]


def _hatch(figures: BatchFigures) -> list[str]:
    sentences = [
        _tr("From the first chick noted out of the shell to the last, by the times in the hatching record.")
    ]
    if figures.timing.first_pip_day is not None:
        sentences.append(
            _tr("First external pip: {day}.").format(day=batch_day(figures.timing.first_pip_day))
        )
    return sentences


def _mean(figures: BatchFigures, phase: PhaseFigures) -> list[str]:
    sentences = [
        _tr(
            "Eggs answer to the average over a phase, not to the reading of the moment. Between two readings the "
            "humidity is taken to run straight from one to the other; a long silence is left out, not guessed."
        )
    ]
    drift = phase.humidity
    if drift is not None:
        sentences.append(
            _tr(
                "{phase}: {known} of the time since its beginning is known, in stretches without a gap longer than "
                "{bridge}. Lowest {low}, highest {high}; inside the band {inside} of the known time."
            ).format(
                phase=phase_word(phase.kind),
                known=share(drift.known_share),
                bridge=duration_text(drift.average.longest_bridge_s),
                low=percent(drift.average.minimum),
                high=percent(drift.average.maximum),
                inside=share(drift.share_inside),
            )
        )
    if figures.probe_name:
        sentences.append(_tr("Readings of {probe}.").format(probe=figures.probe_name))
    if phase.plus_minus is not None:
        sentences.append(
            _tr(
                "± {half} is how far the hygrometer itself may be off: 2 % if a salt test is less than half a year "
                "old, else 5 % (from memory, no published source)."
            ).format(half=number(phase.plus_minus, 0))
        )
    return sentences


def _hold(figures: BatchFigures) -> list[str]:
    phase = figures.phase
    sentences = [
        _tr(
            "Aim times the length of the phase, less the mean so far times the time gone, shared over the time "
            "left: the average to hold so that the whole phase ends on its aim."
        )
    ]
    hold, drift = phase.hold, phase.humidity
    held = to_hold(figures.phases, None if figures.forecast is None else figures.forecast.advice)
    if hold is None or drift is None or held is None:
        return sentences
    values = {
        "phase": in_sentence(phase_word(phase.kind)),
        "mean": percent(drift.mean),
        "gone": duration_text(phase.elapsed_h * 3600),
        "left": duration_text(phase.remaining_h * 3600),
        "takes": percent(hold.aim),
        "aim": percent(phase.humidity_band.aim, 0),
        "band": range_text(max(hold.low, 0.0), min(hold.high, 100.0)),
        "held": percent(held.humidity, 0),
        "ends": "" if held.ends_on is None else percent(held.ends_on),
    }
    sentences.append(_tr("In {phase}: mean {mean} over {gone}, {left} left.").format(**values))
    if held.origin is WantedFrom.LOCKDOWN:
        text = _tr(
            "In lockdown its aim is held, {aim}: hours that were too dry are not made good by hours that are too "
            "moist. So the mean ends on {ends}."
        )
    elif not held.steers:
        text = _tr("So little time hardly moves the mean: anything in the band is enough.")
    elif held.aim_takes is not None:
        text = _tr("The aim of {aim} cannot be reached any more; holding {held} ends on {ends}.")
    else:
        text = _tr(
            "Hold {takes} to end on the aim of {aim}; anything in {band} % still ends inside the band."
        )
    sentences.append(text.format(**values))
    if hold.reachable_low > 0 or hold.reachable_high < 100:
        sentences.append(
            _tr("This machine has held daily means in {range} % so far.").format(
                range=range_text(hold.reachable_low, hold.reachable_high)
            )
        )
    return sentences


def _by_weight(figures: BatchFigures) -> list[str]:
    """What the eggs' weight asks for, where it asks for something else."""
    advice = figures.forecast.advice if figures.forecast is not None else None
    sentence = "" if advice is None else advice_sentence(advice)
    return [sentence] if sentence else []


def _weight(figures: BatchFigures) -> list[str]:
    if figures.forecast is not None:
        return weight_explanation(figures.forecast)
    sentences = [
        _tr(
            "Weight when set less weight now, as a share of the weight when set; the mean over the eggs weighed."
        )
    ]
    batch = figures.batch
    if (
        batch.loss_low_percent is not None
        and batch.loss_high_percent is not None
        and batch.loss_day is not None
    ):
        sentences.append(
            _tr("Wanted for this batch: {range} % by day {day}.").format(
                range=range_text(batch.loss_low_percent, batch.loss_high_percent, 1),
                day=number(batch.loss_day, 0),
            )
        )
    return sentences


def _alive(figures: BatchFigures) -> list[str]:
    sentences = [
        _tr("Each egg counts once, by the latest and strongest record of it: hatching, opening, candling.")
    ]
    fertility = figures.rates.candled_fertility
    if fertility.estimate is not None:
        sentences.append(
            _tr(
                "Fertile as candled: {count}, {rate} (the range that such a count allows, 95\u00a0%). A clear egg "
                "may have died very early; only opening it tells."
            ).format(count=count_of(fertility.hits, fertility.trials), rate=rate_text(fertility))
        )
    clashes = sum(bool(egg.outcome.contradictions) for egg in figures.eggs)
    if clashes:
        sentences.append(_tr("%n egg(s) with records that contradict each other.", clashes))
    return sentences
