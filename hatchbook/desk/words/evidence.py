"""What one fact says of a cause, as a sentence with its numbers; and what is not known, in short."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.noop import QT_TRANSLATE_NOOP
from hatchbook.desk.words.numbers import (
    count_of,
    duration_text,
    number,
    percent,
    range_text,
    share,
    temperature,
)
from hatchbook.desk.words.seasons import odds_text
from hatchbook.figures.cause_results import EvidenceItem
from hatchbook.trade.cause_codes import FactCode, NotRecorded

Values = Mapping[str, Any]


def _tr(text: str, n: int = -1) -> str:
    return QCoreApplication.translate("Evidence", text, "", n)


def _humidity(values: Values) -> str:
    text = (
        _tr("Mean humidity {mean} against {band}.")
        if values["value"]
        else _tr("Mean humidity {mean}, in {band}.")
    )
    return text.format(mean=percent(values["mean"]), band=range_text(values["low"], values["high"]))


def _lockdown_humidity(values: Values) -> str:
    text = (
        _tr("In lockdown {mean} against {band}.")
        if values["value"]
        else _tr("In lockdown {mean}, in {band}.")
    )
    return text.format(mean=percent(values["mean"]), band=range_text(values["low"], values["high"]))


#: Points of weight outside the corridor from which on it is said to be outside.
_SURELY = 0.05


def _weight(values: Values) -> str:
    loss, low, high = values["loss"], values["low"], values["high"]
    if values["value"] <= -_SURELY:
        text = _tr("Only {loss} of weight lost against {corridor}.")
    elif values["value"] >= _SURELY:
        text = _tr("{loss} of weight lost against {corridor}.")
    elif low <= round(loss, 1) <= high:
        text = _tr("{loss} of weight lost, in {corridor}.")
    else:
        text = _tr("{loss} of weight lost, not surely outside {corridor}.")
    return text.format(loss=percent(loss), corridor=range_text(low, high))


def _early_warmth(values: Values) -> str:
    return _tr("The first {days} days {mean} against an aim of {aim}.").format(
        days=number(values["days"], 0), mean=temperature(values["mean"]), aim=temperature(values["aim"])
    )


def _warmth(values: Values) -> str:
    text = _tr("Mean {mean} against {band}.") if values["value"] else _tr("Mean {mean}, in {band}.")
    return text.format(mean=temperature(values["mean"]), band=range_text(values["low"], values["high"], 1))


def _lockdown_warmth(values: Values) -> str:
    text = (
        _tr("In lockdown {mean} against {band}.")
        if values["value"]
        else _tr("In lockdown {mean}, in {band}.")
    )
    return text.format(mean=temperature(values["mean"]), band=range_text(values["low"], values["high"], 1))


def _without_heat(values: Values) -> str:
    if not values["cuts"]:
        return _tr("No power cut.")
    if not values["value"]:
        return _tr("No sure power cut.")
    off = duration_text(values["hours"] * 3600)
    if values["lowest_c"] is None:
        return _tr("Power off {time}.").format(time=off)
    return _tr("Power off {time}, down to {lowest}.").format(time=off, lowest=temperature(values["lowest_c"]))


def _lid(values: Values) -> str:
    if not values["times"]:
        return _tr("The lid was not logged open in lockdown.")
    return _tr("Lid open %n time(s) in lockdown, {time} in all.", values["times"]).format(
        time=duration_text(values["hours"] * 3600)
    )


def _vent(values: Values) -> str:
    if not values["hours"]:
        return _tr("The vent was never shut in lockdown.")
    return _tr("Vent shut {time} in lockdown.").format(time=duration_text(values["hours"] * 3600))


def _turns_missed(values: Values) -> str:
    if not values["missed"]:
        return _tr("Every turning is logged.")
    return _tr("{missed} turnings not logged.").format(missed=count_of(values["missed"], values["due"]))


def _age_mean(values: Values) -> str:
    return _tr("Eggs {days} days old on average when set.").format(days=number(values["days"]))


def _share(shown: str, none: str) -> Callable[[Values], str]:
    """Counts of eggs: how many show it, or that none of so many does."""

    def sentence(values: Values) -> str:
        text = _tr(shown) if values["count"] else _tr(none)
        of = number(values["of"], 0)
        return text.format(count=count_of(values["count"], values["of"]), of=of)

    return sentence


def _spread(values: Values) -> str:
    return _tr("{hours} h from the first chick to the last.").format(hours=number(values["hours"], 0))


def _hatch_late(values: Values) -> str:
    hours = values["hours"]
    if abs(hours) < 1:
        return _tr("Hatched when batches here usually do.")
    text = (
        _tr("Hatched {hours} h later than usual here.")
        if hours > 0
        else _tr("Hatched {hours} h earlier than usual here.")
    )
    return text.format(hours=number(abs(hours), 0))


#: From which chance on a loss is nothing out of the way, so that its odds would only puzzle.
_USUAL_CHANCE = 0.3


def _loss_chance(stage: str) -> Callable[[Values], str]:
    """A loss at a stage against the usual one; how likely by chance only where it is worth a thought."""

    def sentence(values: Values) -> str:
        text = _tr(stage).format(
            count=count_of(values["count"], values["of"]), usual=percent(values["usual"], 0)
        )
        if values["chance"] >= _USUAL_CHANCE:
            return _tr("{loss}.").format(loss=text)
        return _tr("{loss}: {odds} by chance.").format(loss=text, odds=odds_text(values["chance"]))

    return sentence


def _alike(moist: str) -> Callable[[Values], str]:
    def sentence(values: Values) -> str:
        return _tr(moist).format(
            labels=", ".join(values["labels"]),
            rate=share(values["hits"] / values["trials"]),
            other=share(values["other_hits"] / values["other_trials"]),
        )

    return sentence


def _pen_hatch(values: Values) -> str:
    text = _tr(
        "{pen} eggs hatch {rate} of fertile against {other} of other pens, over %n other batch(es).",
        values["batches"],
    )
    return _pen_rates(text, values)


def _pen_fertility(values: Values) -> str:
    text = _tr(
        "{pen} eggs are {rate} fertile against {other} of other pens, over %n other batch(es).",
        values["batches"],
    )
    return _pen_rates(text, values)


def _pen_elsewhere(values: Values) -> str:
    text = _tr("In other machines {pen} eggs hatch {rate} of fertile, in this one {other}.")
    return _pen_rates(text, values)


def _pen_rates(text: str, values: Values) -> str:
    return text.format(
        pen=values["pen"],
        rate=share(values["hits"] / values["trials"]),
        other=share(values["other_hits"] / values["other_trials"]),
    )


def _pen_sure(values: Values) -> str:
    text = _tr("That is more than batches differ by chance: {range} points.")
    low, high = sorted((abs(values["low"]), abs(values["high"])))
    return text.format(range=range_text(low, high))


_SENTENCES: dict[FactCode, Callable[[Values], str]] = {
    FactCode.HUMIDITY_BEFORE_LOCKDOWN: _humidity,
    FactCode.HUMIDITY_IN_LOCKDOWN: _lockdown_humidity,
    FactCode.WEIGHT_LOSS: _weight,
    FactCode.HYGROMETER_CHECKED: lambda _values: _tr("The hygrometer was checked."),
    FactCode.THERMOMETER_CHECKED: lambda _values: _tr("The thermometer was checked."),
    FactCode.TEMPERATURE_EARLY: _early_warmth,
    FactCode.TEMPERATURE_BEFORE_LOCKDOWN: _warmth,
    FactCode.TEMPERATURE_IN_LOCKDOWN: _lockdown_warmth,
    FactCode.WITHOUT_HEAT: _without_heat,
    FactCode.LID_OPEN_IN_LOCKDOWN: _lid,
    FactCode.VENT_SHUT_IN_LOCKDOWN: _vent,
    FactCode.TURNS_MISSED: _turns_missed,
    FactCode.TURNS_A_DAY: lambda values: _tr("Turned %n time(s) a day by plan.", int(values["turns"])),
    FactCode.AGE_MEAN: _age_mean,
    FactCode.AGE_OLDEST: lambda values: _tr("Oldest eggs %n day(s) old when set.", int(values["days"])),
    FactCode.SHIPPED: lambda _values: _tr("The eggs were shipped."),
    FactCode.WET: _share(
        QT_TRANSLATE_NOOP("Evidence", "{count} opened late ones wet."),
        QT_TRANSLATE_NOOP("Evidence", "None of {of} opened late ones was wet."),
    ),
    FactCode.DRY_AND_STUCK: _share(
        QT_TRANSLATE_NOOP("Evidence", "{count} opened late ones dry and stuck."),
        QT_TRANSLATE_NOOP("Evidence", "None of {of} opened late ones was dry or stuck."),
    ),
    FactCode.SMALL_AIR_CELL: _share(
        QT_TRANSLATE_NOOP("Evidence", "{count} with a small air cell."),
        QT_TRANSLATE_NOOP("Evidence", "None of {of} with a small air cell."),
    ),
    FactCode.LARGE_AIR_CELL: _share(
        QT_TRANSLATE_NOOP("Evidence", "{count} with a large air cell."),
        QT_TRANSLATE_NOOP("Evidence", "None of {of} with a large air cell."),
    ),
    FactCode.YOLK_OUTSIDE: _share(
        QT_TRANSLATE_NOOP("Evidence", "{count} with yolk outside."),
        QT_TRANSLATE_NOOP("Evidence", "None of {of} with yolk outside."),
    ),
    FactCode.MALFORMED: _share(
        QT_TRANSLATE_NOOP("Evidence", "{count} opened late ones malformed."),
        QT_TRANSLATE_NOOP("Evidence", "None of {of} opened late ones was malformed."),
    ),
    FactCode.UNTURNED_LIES: _share(
        QT_TRANSLATE_NOOP(
            "Evidence", "{count} lying as unturned ones do: beak away from the air cell or over the wing."
        ),
        QT_TRANSLATE_NOOP("Evidence", "None of {of} lay as unturned ones do."),
    ),
    FactCode.ROTTEN: _share(
        QT_TRANSLATE_NOOP("Evidence", "{count} eggs rotten."),
        QT_TRANSLATE_NOOP("Evidence", "None of {of} eggs was rotten."),
    ),
    FactCode.INFERTILE: _share(
        QT_TRANSLATE_NOOP("Evidence", "{count} eggs infertile."),
        QT_TRANSLATE_NOOP("Evidence", "None of {of} eggs was infertile."),
    ),
    FactCode.SPREAD: _spread,
    FactCode.HATCH_LATE: _hatch_late,
    FactCode.EARLY_LOSS_CHANCE: _loss_chance(
        QT_TRANSLATE_NOOP("Evidence", "{count} fertile dead early, usual here {usual}")
    ),
    FactCode.MID_LOSS_CHANCE: _loss_chance(
        QT_TRANSLATE_NOOP("Evidence", "{count} fertile dead in the middle, usual here {usual}")
    ),
    FactCode.LATE_LOSS_CHANCE: _loss_chance(
        QT_TRANSLATE_NOOP("Evidence", "{count} fertile dead late, usual here {usual}")
    ),
    FactCode.PIPPED_LOSS_CHANCE: _loss_chance(
        QT_TRANSLATE_NOOP("Evidence", "{count} fertile died in the pip, usual here {usual}")
    ),
    FactCode.INFERTILE_CHANCE: _loss_chance(
        QT_TRANSLATE_NOOP("Evidence", "{count} not fertile, usual here {usual}")
    ),
    FactCode.MOIST_BATCHES: _alike(
        QT_TRANSLATE_NOOP(
            "Evidence", "{labels} ran as moist and hatched {rate} of fertile, those in the band {other}."
        )
    ),
    FactCode.DRY_BATCHES: _alike(
        QT_TRANSLATE_NOOP(
            "Evidence", "{labels} ran as dry and hatched {rate} of fertile, those in the band {other}."
        )
    ),
    FactCode.PEN_HATCH: _pen_hatch,
    FactCode.PEN_HATCH_SURE: _pen_sure,
    FactCode.PEN_FERTILITY: _pen_fertility,
    FactCode.PEN_FERTILITY_SURE: _pen_sure,
    FactCode.PEN_ELSEWHERE: _pen_elsewhere,
}

_SUBJECTS: dict[FactCode, str] = {
    FactCode.HUMIDITY_BEFORE_LOCKDOWN: QT_TRANSLATE_NOOP("Evidence", "humidity before lockdown"),
    FactCode.HUMIDITY_IN_LOCKDOWN: QT_TRANSLATE_NOOP("Evidence", "humidity in lockdown"),
    FactCode.WEIGHT_LOSS: QT_TRANSLATE_NOOP("Evidence", "weight lost by lockdown"),
    FactCode.HYGROMETER_CHECKED: QT_TRANSLATE_NOOP(
        "Evidence", "whether the hygrometer reads true: no check within half a year"
    ),
    FactCode.THERMOMETER_CHECKED: QT_TRANSLATE_NOOP(
        "Evidence", "whether the thermometer reads true: no check within half a year"
    ),
    FactCode.TEMPERATURE_EARLY: QT_TRANSLATE_NOOP("Evidence", "temperature of the first days"),
    FactCode.TEMPERATURE_BEFORE_LOCKDOWN: QT_TRANSLATE_NOOP("Evidence", "temperature before lockdown"),
    FactCode.TEMPERATURE_IN_LOCKDOWN: QT_TRANSLATE_NOOP("Evidence", "temperature in lockdown"),
    FactCode.WITHOUT_HEAT: QT_TRANSLATE_NOOP(
        "Evidence", "power cuts: none logged, and no curve to find one in"
    ),
    FactCode.LID_OPEN_IN_LOCKDOWN: QT_TRANSLATE_NOOP("Evidence", "how long the lid stood open in lockdown"),
    FactCode.VENT_SHUT_IN_LOCKDOWN: QT_TRANSLATE_NOOP("Evidence", "how the vent stood in lockdown"),
    FactCode.TURNS_MISSED: QT_TRANSLATE_NOOP("Evidence", "turnings: none is logged"),
    FactCode.TURNS_A_DAY: QT_TRANSLATE_NOOP("Evidence", "how often it was turned"),
    FactCode.AGE_MEAN: QT_TRANSLATE_NOOP("Evidence", "how old the eggs were"),
    FactCode.AGE_OLDEST: QT_TRANSLATE_NOOP("Evidence", "how old the oldest eggs were"),
    FactCode.SHIPPED: QT_TRANSLATE_NOOP("Evidence", "where the eggs came from"),
    FactCode.WET: QT_TRANSLATE_NOOP("Evidence", "whether late ones were wet: none opened"),
    FactCode.DRY_AND_STUCK: QT_TRANSLATE_NOOP("Evidence", "whether late ones were dry: none opened"),
    FactCode.SMALL_AIR_CELL: QT_TRANSLATE_NOOP("Evidence", "air cells of late ones: none opened"),
    FactCode.LARGE_AIR_CELL: QT_TRANSLATE_NOOP("Evidence", "air cells of late ones: none opened"),
    FactCode.YOLK_OUTSIDE: QT_TRANSLATE_NOOP("Evidence", "yolk of late ones: none opened"),
    FactCode.MALFORMED: QT_TRANSLATE_NOOP("Evidence", "whether late ones were malformed: none opened"),
    FactCode.UNTURNED_LIES: QT_TRANSLATE_NOOP("Evidence", "how late ones lay: none opened"),
    FactCode.ROTTEN: QT_TRANSLATE_NOOP("Evidence", "rotten eggs"),
    FactCode.INFERTILE: QT_TRANSLATE_NOOP("Evidence", "what the clear eggs were: most not opened"),
    FactCode.SPREAD: QT_TRANSLATE_NOOP("Evidence", "how long the hatch took"),
    FactCode.HATCH_LATE: QT_TRANSLATE_NOOP("Evidence", "when batches here usually hatch: too few others"),
    FactCode.EARLY_LOSS_CHANCE: QT_TRANSLATE_NOOP(
        "Evidence", "how many usually die early here: too few other batches"
    ),
    FactCode.MID_LOSS_CHANCE: QT_TRANSLATE_NOOP(
        "Evidence", "how many usually die in the middle here: too few other batches"
    ),
    FactCode.LATE_LOSS_CHANCE: QT_TRANSLATE_NOOP(
        "Evidence", "how many usually die late here: too few other batches"
    ),
    FactCode.PIPPED_LOSS_CHANCE: QT_TRANSLATE_NOOP(
        "Evidence", "how many usually die in the pip here: too few other batches"
    ),
    FactCode.INFERTILE_CHANCE: QT_TRANSLATE_NOOP(
        "Evidence", "how many are usually infertile here: too few other batches"
    ),
    FactCode.MOIST_BATCHES: QT_TRANSLATE_NOOP(
        "Evidence", "how other batches as moist hatched: there is none"
    ),
    FactCode.DRY_BATCHES: QT_TRANSLATE_NOOP("Evidence", "how other batches as dry hatched: there is none"),
    FactCode.PEN_HATCH: QT_TRANSLATE_NOOP("Evidence", "how the pen's other eggs hatch"),
    FactCode.PEN_HATCH_SURE: QT_TRANSLATE_NOOP("Evidence", "how the pen's other eggs hatch"),
    FactCode.PEN_FERTILITY: QT_TRANSLATE_NOOP("Evidence", "how fertile the pen's other eggs are"),
    FactCode.PEN_FERTILITY_SURE: QT_TRANSLATE_NOOP("Evidence", "how fertile the pen's other eggs are"),
    FactCode.PEN_ELSEWHERE: QT_TRANSLATE_NOOP("Evidence", "how the pen's eggs hatch in another machine"),
}

_NEVER: dict[NotRecorded, str] = {
    NotRecorded.FEED: QT_TRANSLATE_NOOP("Evidence", "the breeders' feed"),
    NotRecorded.BREEDERS_HEALTH: QT_TRANSLATE_NOOP("Evidence", "the breeders' health"),
    NotRecorded.FRESH_AIR: QT_TRANSLATE_NOOP("Evidence", "how fresh the air was"),
    NotRecorded.STORE_CLIMATE: QT_TRANSLATE_NOOP(
        "Evidence", "how warm and moist the eggs were kept before setting"
    ),
    NotRecorded.JOURNEY: QT_TRANSLATE_NOOP("Evidence", "how the journey was"),
    NotRecorded.MALES: QT_TRANSLATE_NOOP(
        "Evidence", "how many males there are for the hens, and how they do"
    ),
    NotRecorded.NESTS: QT_TRANSLATE_NOOP("Evidence", "how clean nests and eggs were"),
    NotRecorded.EVENNESS_OF_HEAT: QT_TRANSLATE_NOOP(
        "Evidence", "whether all places in the machine are as warm"
    ),
}


def evidence_sentence(item: EvidenceItem) -> str:
    """What a fact says, with its numbers."""
    return _SENTENCES[item.code](item.values)


def subject_text(code: FactCode) -> str:
    """What is not known, in short."""
    return _tr(_SUBJECTS[code])


def never_recorded(code: NotRecorded) -> str:
    """What the journal has no place for, in short."""
    return _tr(_NEVER[code])
