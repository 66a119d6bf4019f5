"""What is said of the eggs' weight: where it is heading, what to hold for it, and what it rests on."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.noop import QT_TRANSLATE_NOOP
from hatchbook.desk.words.numbers import number, percent, plus_minus, range_text, share
from hatchbook.figures.to_hold import weight_decides
from hatchbook.figures.weight_results import (
    AdviceReason,
    Estimate,
    HoldAdvice,
    LossTarget,
    MassBase,
    WeightBasis,
    WeightForecast,
)

_MOSTLY_KNOWN = 0.95


def _tr(text: str, count: int = -1) -> str:
    return QCoreApplication.translate("Weights", text, "", count)


def estimate_text(estimate: Estimate, decimals: int = 1) -> str:
    """A number with what stands after its plus-minus sign, without unit: 11.5 ± 0.6."""
    return f"{number(estimate.value, decimals)} {plus_minus(estimate.half_width, decimals)}"


def corridor_text(target: LossTarget) -> str:
    """From the least to the most that should be lost, without unit: 11–13."""
    whole = float(target.low).is_integer() and float(target.high).is_integer()
    return range_text(target.low, target.high, 0 if whole else 1)


def weight_foot(forecast: WeightForecast) -> tuple[str, bool]:
    """The line under the weight of a running batch, short, and whether it needs attention."""
    target, end = forecast.target, forecast.at_target
    if end is None or target is None:
        if forecast.basis is WeightBasis.PRIOR:
            return _tr("not weighed: by the species alone"), False
        return _tr("%n egg(s) weighed; no target is set", forecast.weighed_eggs), False
    value, corridor = estimate_text(end), corridor_text(target)
    if forecast.basis is WeightBasis.PRIOR:
        return _tr("not weighed; by species {value} %").format(value=value), False
    if end.high < target.low:
        return _tr("too little: {value}, not {corridor} %").format(value=value, corridor=corridor), True
    if end.low > target.high:
        return _tr("too much: {value}, not {corridor} %").format(value=value, corridor=corridor), True
    if forecast.path_ahead is None:
        text = _tr("{value} % by day {day}")
    else:
        text = _tr("heading for {value} % on day {day}")
    return text.format(value=value, day=number(target.day, 0)), False


def weight_heading(forecast: WeightForecast) -> str:
    """The same in full; "" where nothing is estimated for a target."""
    target, end = forecast.target, forecast.at_target
    if end is None or target is None:
        return ""
    values = {
        "value": estimate_text(end),
        "day": number(target.day, 0),
        "corridor": corridor_text(target),
    }
    if forecast.basis is WeightBasis.PRIOR:
        return _tr(
            "Not weighed: by what is known of the species alone heading for {value} % on day {day}; wanted "
            "are {corridor} %."
        ).format(**values)
    if forecast.path_ahead is None:
        return _tr("It had lost {value} % by day {day}; wanted were {corridor} %.").format(**values)
    return _tr("Heading for {value} % on day {day}; wanted are {corridor} %.").format(**values)


def weighed_to_target(forecast: WeightForecast) -> bool:
    """Whether weighings tell what a batch that is over had lost by the day of its target."""
    return (
        forecast.basis is not WeightBasis.PRIOR
        and forecast.target is not None
        and forecast.at_target is not None
    )


def reached_foot(forecast: WeightForecast) -> tuple[str, bool]:
    """Under the weight lost of a batch that is over: whether it fitted the corridor, and whether it missed it."""
    target, end = forecast.target, forecast.at_target
    if target is None or end is None:
        return "", False
    wanted = corridor_text(target)
    if end.high < target.low:
        return _tr("too little: {corridor} % wanted").format(corridor=wanted), True
    if end.low > target.high:
        return _tr("too much: {corridor} % wanted").format(corridor=wanted), True
    if not target.low <= end.value <= target.high:
        return _tr("{corridor} % wanted; not surely outside").format(corridor=wanted), False
    return _tr("{corridor} % wanted").format(corridor=wanted), False


def advice_sentence(advice: HoldAdvice) -> str:
    """Which of the two aims asks for what, and which to go by; "" where they agree or only one speaks."""
    by_weight = weight_decides(advice)
    if not (advice.disagree or by_weight) or advice.by_band is None or advice.by_weight is None:
        return ""
    values = {
        "band": percent(advice.by_band, 0),
        "weight": asked_text(advice.by_weight),
        "day": number(advice.until_day, 0),
        "hold": percent(advice.humidity, 0),
    }
    if by_weight and advice.reachable:
        text = _tr(
            "The humidity band asks for {band}, the eggs’ weight for {weight}. Go by the weight: hold {hold} until "
            "day {day}."
        )
    elif by_weight:
        text = _tr(
            "The humidity band asks for {band}, the eggs’ weight for {weight}, which no machine can hold. Go by "
            "the weight as far as it goes: hold {hold} until day {day}."
        )
    elif advice.reason is AdviceReason.UNVERIFIED:
        text = _tr(
            "The humidity band asks for {band}, the eggs’ weight for {weight}. But what such eggs should lose is "
            "given from memory, nobody has published it: go by the band."
        )
    else:
        text = _tr(
            "The humidity band asks for {band}; what is known of such eggs would ask for {weight}. Too little was "
            "weighed, so go by the band. Weighing some eggs decides it."
        )
    return text.format(**values)


def asked_text(asked: Estimate) -> str:
    """A humidity that the weight asks for, with its range where a hygrometer could show it: 36 % (33–39)."""
    if asked.value < 0:
        return _tr("less than {least}").format(least=percent(0.0, 0))
    if asked.value > 100:
        return _tr("more than {most}").format(most=percent(100.0, 0))
    spread = range_text(max(asked.low, 0.0), min(asked.high, 100.0))
    return _tr("{value} ({range})").format(value=percent(asked.value, 0), range=spread)


def hold_caption(*, by_weight: bool) -> str:
    """What the figure of the humidity to hold is, with what it goes by where the two aims part."""
    return _tr("Hold from now on, by the weight") if by_weight else _tr("Hold from now on")


def by_weight_foot(advice: HoldAdvice) -> str:
    """The line under a humidity that is advised by the weight."""
    if not advice.reachable:
        return _tr("as far as it goes; the weight cannot be reached")
    if advice.by_band is None:
        return _tr("the weight decides")
    return _tr("the band alone would ask for {band}").format(band=percent(advice.by_band, 0))


_BASES = {
    MassBase.SET: QT_TRANSLATE_NOOP("Weights", "The loss is a share of each egg’s weight when set."),
    MassBase.LAID: QT_TRANSLATE_NOOP(
        "Weights", "The loss is a share of the weight when laid: what was lost in storage counts in."
    ),
    MassBase.FIRST_WEIGHING: QT_TRANSLATE_NOOP(
        "Weights", "No weight when set is known: it is reckoned back from the first weighing."
    ),
    MassBase.ESTIMATED: QT_TRANSLATE_NOOP(
        "Weights", "The weight when set is estimated from length and breadth (Hoyt), not weighed."
    ),
}

_APART = {
    "conductance_below_published": QT_TRANSLATE_NOOP(
        "Weights",
        "These eggs let less water through than is published of such eggs: at one humidity they lose less. Go by "
        "these eggs.",
    ),
    "conductance_above_published": QT_TRANSLATE_NOOP(
        "Weights",
        "These eggs let more water through than is published of such eggs: at one humidity they lose more. Go by "
        "these eggs.",
    ),
    "band_and_target_disagree": QT_TRANSLATE_NOOP(
        "Weights",
        "The humidity band and the wanted loss of weight do not agree for such eggs: with the published "
        "conductance the band would end outside the corridor. Publications differ; these eggs’ weight decides.",
    ),
}


def weight_explanation(forecast: WeightForecast) -> list[str]:
    """How the weight is reckoned, with the batch's own numbers."""
    sentences = [_tr(_BASES[forecast.base])]
    if forecast.basis is WeightBasis.PRIOR:
        sentences.append(_tr("No egg was weighed: all rests on what is known of the species."))
    elif forecast.basis is WeightBasis.TRAY:
        sentences.append(_tr("The tray was weighed as one: single eggs cannot be told apart."))
    sentences.append(
        _tr(
            "An egg loses water as the air round it is drier than its inside: so much a day for every torr of "
            "difference (its conductance). The difference comes from this journal’s readings; {known} of the time "
            "is known, the rest is taken as the phase’s mean."
        ).format(known=share(forecast.exposure_known))
        if forecast.exposure_known < _MOSTLY_KNOWN
        else _tr(
            "An egg loses water as the air round it is drier than its inside: so much a day for every torr of "
            "difference (its conductance). The difference comes from this journal’s readings."
        )
    )
    sentences.append(
        _tr(
            "Conductance of these eggs: {own} mg a day, gram and torr at sea level ({range}); of the species "
            "{prior} ({prior_range}), {source}."
        ).format(
            own=number(forecast.conductance.value, 3),
            range=range_text(forecast.conductance.low, forecast.conductance.high, 3),
            prior=number(forecast.prior.value, 2),
            prior_range=range_text(forecast.prior.low, forecast.prior.high, 2),
            source=forecast.prior_source or _tr("no source"),
        )
    )
    sentences += _forecast_sentences(forecast)
    sentences += [_tr(_APART[code]) for code in forecast.published_apart if code in _APART]
    return sentences


def _forecast_sentences(forecast: WeightForecast) -> list[str]:
    target, end = forecast.target, forecast.at_target
    if target is None or end is None:
        return []
    sentences = [
        _tr("Wanted: {corridor} % by day {day}.").format(
            corridor=corridor_text(target), day=number(target.day, 0)
        )
        if not target.source
        else _tr("Wanted: {corridor} % by day {day} ({source}).").format(
            corridor=corridor_text(target), day=number(target.day, 0), source=target.source
        )
    ]
    if forecast.path_ahead is not None:
        sentences.append(
            _tr("If the humidity stays at {humidity}, {value} % will be lost by then.").format(
                humidity=percent(forecast.assumed_humidity, 0), value=estimate_text(end)
            )
        )
    if forecast.straight_line is not None:
        sentences.append(
            _tr("A straight line through the weights, as handbooks draw it, ends on {value}.").format(
                value=percent(forecast.straight_line)
            )
        )
    sentences += _single_eggs(forecast)
    advice = forecast.advice
    if advice is not None and advice.by_weight is not None:
        text = _tr("For {aim} by day {day} hold {asked} from now on.")
        if not 0 <= advice.by_weight.value <= 100:
            text = _tr("No humidity brings it to {aim} by day {day} any more.")
        sentences.append(
            text.format(
                aim=percent(target.aim), day=number(target.day, 0), asked=asked_text(advice.by_weight)
            )
        )
    elif advice is not None and advice.reason is AdviceReason.LITTLE_LEFT:
        sentences.append(
            _tr(
                "Until day {day} no humidity changes much of that any more: its band is enough to keep to."
            ).format(day=number(target.day, 0))
        )
    return sentences


def _single_eggs(forecast: WeightForecast) -> list[str]:
    """How many eggs leave what a single egg bears, which is more than the corridor of their mean."""
    bears = forecast.egg_corridor
    if forecast.too_little is None or forecast.too_much is None or bears is None or not forecast.weighed_eggs:
        return []
    over = forecast.path_ahead is None
    text = _tr(
        "Of {eggs} eggs about {little} will lose less than {least} and {much} more than {most}. So much a single "
        "egg bears; the corridor is for their mean."
    )
    if over:
        text = _tr(
            "Of {eggs} eggs about {little} lost less than {least} and {much} more than {most}. So much a single "
            "egg bears; the corridor is for their mean."
        )
    return [
        text.format(
            eggs=number(forecast.egg_count, 0),
            little=number(forecast.too_little, 0),
            much=number(forecast.too_much, 0),
            least=percent(bears[0]),
            most=percent(bears[1]),
        )
    ]
