"""What the water and vent guide of a machine advises, and why, in sentences."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.codes import in_sentence
from hatchbook.desk.words.dates import day_month, local, weekday_date
from hatchbook.desk.words.numbers import number, percent, range_text, temperature, vent_text
from hatchbook.figures.guide_advice import SAME_VENT
from hatchbook.figures.guide_results import (
    MachineGuide,
    RoomAir,
    RoomAirFrom,
    Wanted,
    WantedFrom,
    WeatherEffect,
)
from hatchbook.figures.results import Band
from hatchbook.figures.to_hold import SAME_AIM
from hatchbook.figures.weight_results import Estimate
from hatchbook.trade.codes import PhaseKind

Setting = tuple[int, float]
"""Filled channels and the vent's opening."""

DRIEST, MOISTEST = 5.0, 97.0
"""Beyond these (% RH) no machine is held: what is wanted is out of reach, mostly since little time is left."""


def _tr(text: str, n: int = -1) -> str:
    return QCoreApplication.translate("Guide", text, "", n)


# ---------------------------------------------------------------- numbers


def half_text(estimate: Estimate) -> str:
    """Half the range of an expected humidity, never below one: ± 2 %."""
    return _tr("±\u00a0{half}\u00a0%").format(half=number(max(round(estimate.half_width), 1), 0))


def expected_text(estimate: Estimate) -> str:
    """An expected humidity with its range: 41 ± 2 %."""
    return _tr("{mean}\u00a0±\u00a0{half}\u00a0%").format(
        mean=number(estimate.value, 0), half=number(max(round(estimate.half_width), 1), 0)
    )


def spread_text(estimate: Estimate) -> str:
    """The range of an expected humidity: 39 to 43 %."""
    return _tr("{low} to {high}\u00a0%").format(low=number(estimate.low, 0), high=number(estimate.high, 0))


# ---------------------------------------------------------------- the advice


def _vent_stands(opening: float) -> str:
    """How a vent stands, behind the word vent: at 1/2, shut, open."""
    return (
        vent_text(opening)
        if opening in (0.0, 1.0)
        else _tr("at {opening}").format(opening=vent_text(opening))
    )


def setting_text(setting: Setting) -> str:
    """A setting as one names it: 2 channels, vent 1/2."""
    channels, vent = setting
    if not channels:
        return _tr("no water, vent {opening}").format(opening=vent_text(vent))
    return _tr("%n channel(s), vent {opening}", channels).format(opening=vent_text(vent))


def _same_vent(one: float, other: float) -> bool:
    return abs(one - other) <= SAME_VENT


def same_setting(one: Setting | None, other: Setting | None) -> bool:
    """Whether two settings are the same; what is not known is the same as nothing."""
    return one is not None and other is not None and one[0] == other[0] and _same_vent(one[1], other[1])


def _keep(setting: Setting) -> str:
    channels, vent = setting
    if not channels:
        return _tr("Keep the channels empty and the vent {vent}").format(vent=_vent_stands(vent))
    return _tr("Keep %n channel(s) and the vent {vent}", channels).format(vent=_vent_stands(vent))


def _only_vent(before: float, after: float) -> str:
    if after >= 1.0:
        return _tr("Open the vent fully")
    if after <= 0.0:
        return _tr("Shut the vent")
    sentence = _tr("Open the vent to {opening}") if after > before else _tr("Close the vent to {opening}")
    return sentence.format(opening=vent_text(after))


def _more_water(more: int, before: float, after: float) -> str:
    if _same_vent(after, before):
        return _tr("Fill %n more channel(s)", more)
    if after >= 1.0:
        return _tr("Fill %n more channel(s) and open the vent fully", more)
    if after <= 0.0:
        return _tr("Fill %n more channel(s) and shut the vent", more)
    if after > before:
        return _tr("Fill %n more channel(s) and open the vent to {opening}", more).format(
            opening=vent_text(after)
        )
    return _tr("Fill %n more channel(s) and close the vent to {opening}", more).format(
        opening=vent_text(after)
    )


def _less_water(fewer: int, before: float, after: float) -> str:
    if _same_vent(after, before):
        return _tr("Take out %n channel(s)", fewer)
    if after >= 1.0:
        return _tr("Take out %n channel(s) and open the vent fully", fewer)
    if after <= 0.0:
        return _tr("Take out %n channel(s) and shut the vent", fewer)
    if after > before:
        return _tr("Take out %n channel(s) and open the vent to {opening}", fewer).format(
            opening=vent_text(after)
        )
    return _tr("Take out %n channel(s) and close the vent to {opening}", fewer).format(
        opening=vent_text(after)
    )


def move_sentence(before: Setting | None, after: Setting) -> str:
    """What to do to come from one setting to another; where the first is not known, what to try."""
    if before is None:
        channels, vent = after
        if not channels:
            return _tr("Try it without water, the vent {vent}").format(vent=_vent_stands(vent))
        return _tr("Try %n channel(s) and the vent {vent}", channels).format(vent=_vent_stands(vent))
    if same_setting(before, after):
        return _keep(after)
    more = after[0] - before[0]
    if more > 0:
        return _more_water(more, before[1], after[1])
    if more < 0:
        return _less_water(-more, before[1], after[1])
    return _only_vent(before[1], after[1])


def advice_headline(guide: MachineGuide) -> str:
    """What is advised, in a few words."""
    if guide.wanted is None:
        return _tr("Nothing to hold in this machine now")
    if guide.advised is None:
        batch = guide.wanted.batch_label or guide.wanted.batch_name
        if guide.wanted.humidity <= DRIEST:
            return _tr("No air is as dry as {batch} would need").format(batch=batch)
        if guide.wanted.humidity >= MOISTEST:
            return _tr("No air is as moist as {batch} would need").format(batch=batch)
        return _tr("No setting comes near {wanted}").format(wanted=percent(guide.wanted.humidity))
    return move_sentence(guide.setting, (guide.advised.channels, guide.advised.vent))


def wanted_sentence(wanted: Wanted, zone: ZoneInfo) -> str:
    """What the batch wants, until when, and by what: 26-05 wants 40.1 % until Thu 21 May, by the humidity band."""
    if wanted.origin is WantedFrom.WEIGHT:
        sentence = _tr("{batch} wants {humidity} until {until}, by the eggs' weight")
    elif wanted.origin is WantedFrom.LOCKDOWN:
        sentence = _tr("{batch} wants {humidity} in lockdown, until {until}")
    elif wanted.origin is WantedFrom.AIM:
        sentence = _tr("{batch} has no reading yet; the aim until {until} is {humidity}")
    elif wanted.origin is WantedFrom.BAND:
        sentence = _tr("little is left to steer until {until}: the band of {batch}, {band}\u00a0%, is enough")
    else:
        sentence = _tr("{batch} wants {humidity} until {until}, by the humidity band")
    return sentence.format(
        batch=wanted.batch_label or wanted.batch_name,
        humidity=percent(wanted.humidity),
        until=weekday_date(wanted.until_at, zone),
        band=range_text(wanted.low, wanted.high),
    )


def is_out_of_reach(wanted: Wanted) -> bool:
    """Whether no machine can be held so dry or so moist."""
    return not DRIEST < wanted.humidity < MOISTEST


def aimed_at(guide: MachineGuide) -> float | None:
    """The humidity to mark as wanted; None where there is none to aim at."""
    wanted = guide.wanted
    if wanted is None or is_out_of_reach(wanted) or wanted.origin is WantedFrom.BAND:
        return None
    return wanted.humidity


def advice_reason(guide: MachineGuide, zone: ZoneInfo, band: Band | None = None) -> str:
    """Why that is advised; ``band``: that of the batch's phase, to fall back to."""
    if guide.wanted is None:
        return _tr(
            "No batch lies in it. The table shows what each setting would give with the room air below."
        )
    wants = wanted_sentence(guide.wanted, zone)
    if guide.advised is None and is_out_of_reach(guide.wanted):
        sentence = _tr("{wants}: that cannot be reached any more.").format(wants=wants)
        if band is None:
            return sentence
        return _tr("{sentence} Hold the band of its phase, {band}\u00a0%.").format(
            sentence=sentence, band=range_text(band.low, band.high)
        )
    if guide.advised is None:
        return _tr("{wants}. None of the settings in the table gives that with this room air.").format(
            wants=wants
        )
    parts = [
        _tr("That should hold {expected}; {wants}.").format(
            expected=expected_text(guide.advised.humidity), wants=wants
        )
    ]
    given, wanted = guide.advised.humidity.value, guide.wanted
    enough = wanted.origin is WantedFrom.BAND and wanted.low <= given <= wanted.high
    off = 0.0 if enough else given - wanted.humidity
    if abs(off) >= SAME_AIM:
        sentence = (
            _tr("No setting comes nearer: this is {off}\u00a0% too humid.")
            if off > 0
            else _tr("No setting comes nearer: this is {off}\u00a0% too dry.")
        )
        parts.append(sentence.format(off=number(abs(off), 0)))
    return " ".join(parts)


def standing_sentence(guide: MachineGuide, zone: ZoneInfo) -> str:
    """How the machine stands and what that should hold; "" where it stands as advised."""
    if guide.setting is None:
        return _tr("How it stands now is not noted: log the setting.")
    advised = guide.advised
    if advised is not None and same_setting(guide.setting, (advised.channels, advised.vent)):
        return ""
    since = "" if guide.setting_since is None else day_month(guide.setting_since, zone)
    values = {"setting": setting_text(guide.setting), "since": since}
    if guide.now_cell is None:
        return _tr("As it stands: {setting}.").format(**values)
    values["expected"] = expected_text(guide.now_cell.humidity)
    if since:
        return _tr("As it stands since {since}, with {setting}, it should hold {expected}.").format(**values)
    return _tr("As it stands, with {setting}, it should hold {expected}.").format(**values)


def impossible_sentence(guide: MachineGuide) -> str:
    """Fillings that cannot have been; "" where there are none."""
    if not guide.impossible_fillings:
        return ""
    has = _tr("%n channel(s)", len(guide.cells) - 1)
    text = _tr(
        "%n filling(s) of more channels than it has ({channels}) left out: correct the journal, or how many "
        "channels it has.",
        guide.impossible_fillings,
    )
    return text.format(channels=has)


def evidence_sentence(guide: MachineGuide) -> str:
    """What the guide rests on."""
    if not guide.stretches:
        return _tr(
            "Nothing of this machine is known yet: the numbers are those of such machines in general, hence the "
            "wide ranges. They narrow with every day of readings at a logged setting."
        )
    text = _tr(
        "From %n stretch(es) of its own history in which water and vent stood still, {hours} h in all.",
        guide.stretches,
    ).format(hours=number(guide.hours, 0))
    if guide.enough:
        return text
    return _tr(
        "{evidence} That is little yet: the ranges are mostly those of such machines in general."
    ).format(evidence=text)


# ---------------------------------------------------------------- the room air


def room_origin(room: RoomAir, zone: ZoneInfo, *, learned: bool = False) -> str:
    """Where the room air comes from; ``learned``: one that was not measured follows from the machine's readings."""
    if room.origin is RoomAirFrom.TYPED:
        return _tr("as typed")
    if room.origin is RoomAirFrom.ASSUMED or room.at is None:
        if learned:
            return _tr("reckoned, not measured")
        return _tr("assumed, not measured")
    at = local(room.at, zone)
    when = _tr("{date} {time}").format(date=day_month(room.at, zone), time=f"{at:%H:%M}")
    if not room.probe_name:
        return _tr("read {when}").format(when=when)
    return _tr("{probe}, {when}").format(probe=room.probe_name, when=when)


def room_sentence(guide: MachineGuide) -> str:
    """What the room air alone gives."""
    return _tr("Warmed to {warmth} this air alone reads {alone}.").format(
        warmth=temperature(guide.machine_c), alone=percent(guide.room_only, 0)
    )


def ask_for_room(guide: MachineGuide) -> str:
    """Asks for the room air where nobody measured it; "" elsewhere."""
    if guide.room.origin is not RoomAirFrom.ASSUMED:
        return ""
    return _tr("Type what a hygrometer shows in the room: every number on this page depends on it.")


def weather_sentence(effect: WeatherEffect, guide: MachineGuide) -> str:
    """What a dry or a damp day would change."""
    values = {
        "warmth": temperature(effect.room.temperature_c, 0),
        "humidity": percent(effect.room.humidity, 0),
        "expected": expected_text(effect.humidity),
    }
    base = guide.advised or guide.now_cell
    if effect.code == "damp":
        sentence = _tr("On a damp day ({warmth}, {humidity}) this would give {expected}: {then}.")
    else:
        sentence = _tr("On a dry day ({warmth}, {humidity}) this would give {expected}: {then}.")
    if base is None or same_setting((effect.channels, effect.vent), (base.channels, base.vent)):
        values["then"] = _tr("nothing to change")
    else:
        move = move_sentence((base.channels, base.vent), (effect.channels, effect.vent))
        values["then"] = _tr("then {move}").format(move=in_sentence(move))
    return sentence.format(**values)


def cautions(guide: MachineGuide) -> tuple[str, ...]:
    """What must not be forgotten while water and vent are seen to."""
    lines = [_tr("Unplug the machine before you work with water near its mains parts.")]
    if guide.wanted is not None and guide.wanted.phase is PhaseKind.LOCKDOWN:
        lines.append(_tr("At lockdown never shut the vent: hatching chicks need air."))
    return tuple(lines)
