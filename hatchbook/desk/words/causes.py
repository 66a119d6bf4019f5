"""Causes of losses in words: what they are called, how much speaks for them, and the lines they rest on."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.codes import break_out_word, in_sentence, malposition_word, sign_word
from hatchbook.desk.words.dates import date_time
from hatchbook.desk.words.effects import signed
from hatchbook.desk.words.evidence import evidence_sentence, never_recorded, subject_text
from hatchbook.desk.words.lines import line_sentence, listed
from hatchbook.desk.words.noop import QT_TRANSLATE_NOOP
from hatchbook.desk.words.numbers import count_of, duration_text, number, percent, temperature
from hatchbook.desk.words.seasons import odds_text
from hatchbook.figures.cause_results import (
    BatchCauses,
    CauseFigures,
    Caution,
    EvidenceItem,
    RecordRef,
    SeenSign,
    Strength,
)
from hatchbook.figures.results import JournalLine, LineKind
from hatchbook.trade.cause_codes import CauseCode, CauseSign
from hatchbook.trade.codes import BreakOutResult, BreakOutSign, Malposition
from hatchbook.trade.sources import SourceMark

#: So many sentences stand in a cell; the others stand in the lines below.
SENTENCES_SHOWN = 3

_CAUSES: dict[CauseCode, str] = {
    CauseCode.TOO_HUMID: QT_TRANSLATE_NOOP("Causes", "Too humid before lockdown"),
    CauseCode.TOO_DRY: QT_TRANSLATE_NOOP("Causes", "Too dry before lockdown"),
    CauseCode.HATCH_TOO_DRY: QT_TRANSLATE_NOOP("Causes", "Too dry at the hatch"),
    CauseCode.TOO_WARM: QT_TRANSLATE_NOOP("Causes", "Too warm"),
    CauseCode.TOO_COOL: QT_TRANSLATE_NOOP("Causes", "Too cool"),
    CauseCode.CHILLED: QT_TRANSLATE_NOOP("Causes", "Eggs chilled"),
    CauseCode.TURNING: QT_TRANSLATE_NOOP("Causes", "Turned too little"),
    CauseCode.STORAGE: QT_TRANSLATE_NOOP("Causes", "Old or badly kept eggs"),
    CauseCode.SHIPPING: QT_TRANSLATE_NOOP("Causes", "Shaken or chilled on the way"),
    CauseCode.VENTILATION: QT_TRANSLATE_NOOP("Causes", "Too little fresh air"),
    CauseCode.STOCK: QT_TRANSLATE_NOOP("Causes", "Something in the breeders"),
    CauseCode.INFERTILITY: QT_TRANSLATE_NOOP("Causes", "Something in the mating"),
    CauseCode.DIRT: QT_TRANSLATE_NOOP("Causes", "Dirty or cracked eggs"),
}
_STRENGTHS: dict[Strength, str] = {
    Strength.STRONG: QT_TRANSLATE_NOOP("Causes", "strong"),
    Strength.SOME: QT_TRANSLATE_NOOP("Causes", "some"),
    Strength.WEAK: QT_TRANSLATE_NOOP("Causes", "weak"),
    Strength.UNLIKELY: QT_TRANSLATE_NOOP("Causes", "unlikely"),
    Strength.NOT_KNOWN: QT_TRANSLATE_NOOP("Causes", "not known"),
}
_SIGNS: dict[CauseSign, str] = {
    CauseSign.INFERTILE: QT_TRANSLATE_NOOP("Causes", "{count} clear or infertile"),
    CauseSign.NO_DEVELOPMENT: QT_TRANSLATE_NOOP("Causes", "{count} without development"),
    CauseSign.EARLY_DEATHS: QT_TRANSLATE_NOOP("Causes", "{count} dead early"),
    CauseSign.MID_DEATHS: QT_TRANSLATE_NOOP("Causes", "{count} dead in the middle"),
    CauseSign.LATE_DEATHS: QT_TRANSLATE_NOOP("Causes", "{count} dead late"),
    CauseSign.PIPPED_DEAD: QT_TRANSLATE_NOOP("Causes", "{count} died in the pip"),
    CauseSign.DRY_AND_STUCK: QT_TRANSLATE_NOOP("Causes", "{count} dry and stuck"),
    CauseSign.WET: QT_TRANSLATE_NOOP("Causes", "{count} wet"),
    CauseSign.LARGE_AIR_CELL: QT_TRANSLATE_NOOP("Causes", "{count} with a large air cell"),
    CauseSign.SMALL_AIR_CELL: QT_TRANSLATE_NOOP("Causes", "{count} with a small air cell"),
    CauseSign.MALFORMED: QT_TRANSLATE_NOOP("Causes", "{count} malformed"),
    CauseSign.MALPOSITIONS: QT_TRANSLATE_NOOP("Causes", "{count} lying wrong"),
    CauseSign.YOLK_OUTSIDE: QT_TRANSLATE_NOOP("Causes", "{count} with yolk outside"),
    CauseSign.DRAWN_OUT: QT_TRANSLATE_NOOP("Causes", "a drawn-out hatch"),
    CauseSign.EARLY_HATCH: QT_TRANSLATE_NOOP("Causes", "an early hatch"),
    CauseSign.LATE_HATCH: QT_TRANSLATE_NOOP("Causes", "a late hatch"),
    CauseSign.ROTTEN: QT_TRANSLATE_NOOP("Causes", "{count} rotten"),
    CauseSign.UNHEALED_NAVELS: QT_TRANSLATE_NOOP("Causes", "{count} with unhealed navels"),
    CauseSign.ODD_LIMBS: QT_TRANSLATE_NOOP("Causes", "{count} with odd limbs"),
}
_CAUTIONS: dict[Caution, str] = {
    Caution.VETERINARIAN: QT_TRANSLATE_NOOP(
        "Causes",
        "Sudden deaths, nervous signs or swellings among birds or chicks: call a veterinarian or the authority.",
    ),
    Caution.BEGAN_EARLIER: QT_TRANSLATE_NOOP(
        "Causes", "What is wrong with a flock began at least four weeks before the hatch that shows it."
    ),
    Caution.ROTTEN_EGGS: QT_TRANSLATE_NOOP(
        "Causes", "Rotten eggs can burst: bag them before they are moved."
    ),
}


def _tr(text: str, n: int = -1) -> str:
    return QCoreApplication.translate("Causes", text, "", n)


def cause_word(code: CauseCode) -> str:
    """What a cause is called."""
    return _tr(_CAUSES[code])


def strength_word(strength: Strength) -> str:
    """How much speaks for a cause."""
    return _tr(_STRENGTHS[strength])


def strength_spoken(cause: CauseFigures) -> str:
    """The same as it is read aloud, with the boxes."""
    text = _tr("{strength}, {level} of 3")
    return text.format(strength=strength_word(cause.strength), level=number(cause.level, 0))


def said(items: tuple[EvidenceItem, ...]) -> str:
    """What speaks for a cause, or against it, the weightiest first, as far as it fits a cell."""
    sentences = [evidence_sentence(item) for item in items[:SENTENCES_SHOWN]]
    if len(items) > SENTENCES_SHOWN:
        sentences.append(_tr("%n more below.", len(items) - SENTENCES_SHOWN))
    return "  ".join(sentences)


def summary_sentence(causes: BatchCauses) -> str:
    """What stands above the table: how probable such losses are by chance, and whether anything explains them."""
    if not causes.causes:
        return _nothing_to_weigh(causes)
    if causes.stands_out:
        if causes.chance is None or not causes.lost:
            return ""
        text = _tr(
            "{count} fertile eggs were lost. Chance alone does that or worse {odds} times, "
            "going by %n other batch(es).",
            causes.other_batches,
        )
        return text.format(count=count_of(causes.lost, causes.fertile), odds=odds_text(causes.chance))
    if not causes.lost:
        return _tr("Nothing in this journal stands out.")
    if causes.chance is None:
        return _tr(
            "Nothing in this journal explains the losses, and too few other batches tell how often chance does it."
        )
    text = _tr(
        "Nothing in this journal explains the losses; a batch of this size can lose that many by chance ({odds})."
    )
    return text.format(odds=odds_text(causes.chance))


def _nothing_to_weigh(causes: BatchCauses) -> str:
    """In place of causes where the batch shows nothing that has any."""
    if causes.unknown:
        return _tr(
            "Of %n egg(s) the end is not known: open what does not hatch, and causes can be weighed.",
            causes.unknown,
        )
    if causes.fertile and not causes.lost:
        return _tr("No fertile egg was lost: there is nothing to explain.")
    return _tr("This batch shows nothing that is known to have a cause.")


def more_causes_text(count: int, *, shown: bool) -> str:
    """On the link that shows the causes for which nothing speaks, or hides them."""
    if shown:
        return _tr("Hide the causes that nothing speaks for")
    return _tr("Show %n cause(s) more that nothing speaks for", count)


def caution_sentences(causes: BatchCauses) -> list[str]:
    """What is to be said beside the causes."""
    return [_tr(_CAUTIONS[caution]) for caution in causes.cautions]


def signs_text(signs: tuple[SeenSign, ...]) -> str:
    """8 dead late, 9 of 9 wet."""
    return listed([sign_text(sign) for sign in signs])


def sign_text(sign: SeenSign) -> str:
    """8 of 36 dead late."""
    return _tr(_SIGNS[sign.code]).format(count=count_of(sign.count, sign.of))


def sources_text(cause: CauseFigures) -> str:
    """Who connects these signs with this cause; what is from memory says so."""
    links = list(dict.fromkeys(link for sign in cause.explains for link in sign.links))
    named = "; ".join(link.source for link in links if link.mark is SourceMark.PUBLISHED)
    published = list(dict.fromkeys(name for name in named.split("; ") if name))
    parts = []
    if published:
        parts.append(_tr("published: {sources}").format(sources="; ".join(published)))
    if any(link.mark is SourceMark.FROM_MEMORY for link in links):
        if published:
            parts.append(_tr("for some of it from memory, no source"))
        else:
            parts.append(_tr("from memory, no source; so never more than weak"))
    return "; ".join(parts)


def explains_sentence(cause: CauseFigures) -> str:
    """What a cause can be behind, and who says so."""
    text = _tr("Can be behind: {signs}. {sources}.")
    sources = sources_text(cause)
    if not sources:
        return _tr("Can be behind: {signs}.").format(signs=signs_text(cause.explains))
    return text.format(signs=signs_text(cause.explains), sources=sources[:1].upper() + sources[1:])


def unknown_sentence(cause: CauseFigures) -> str:
    """What would tell and is not known; "" where all of it is."""
    subjects = list(dict.fromkeys(subject_text(item.code) for item in cause.unknown))
    if not subjects:
        return ""
    return _tr("Not known: {subjects}.").format(subjects="; ".join(subjects))


def never_sentence(cause: CauseFigures) -> str:
    """What would tell and is never in the journal."""
    if not cause.not_recorded:
        return ""
    return _tr("Never in the journal: {subjects}.").format(
        subjects="; ".join(never_recorded(code) for code in cause.not_recorded)
    )


# -------------------------------------------------------------------- the lines it rests on


def record_sentence(record: RecordRef, zone: ZoneInfo) -> str:
    """The line of a record that evidence rests on."""
    values = record.values
    match record.kind:
        case "event":
            sentence = line_sentence(JournalLine(record.at, LineKind.EVENT, dict(values), None))
            if values.get("change") is not None:
                change = _tr("humidity {change} %").format(change=signed(values["change"]))
                sentence = _tr("{event}; {change}").format(event=sentence.rstrip("."), change=change)
            return _dated(record, sentence, zone)
        case "weighing":
            text = _tr("Weighed %n egg(s): {loss} lost by lockdown", int(values["eggs"] or 0))
            return _dated(record, text.format(loss=percent(values["loss_percent"])), zone)
        case "break_out":
            return _opened(record)
        case "egg":
            text = _tr("Egg {number}: %n day(s) old when set", int(values["age_days"]))
            return text.format(number=number(values["number"], 0))
        case "batch" | "past_batch":
            return _batch(record)
    if values.get("since"):
        return _dated(
            record, _tr("from here on it drifted, day {day}").format(day=number(values["day"], 0)), zone
        )
    text = _tr("power off {time}, down to {lowest}: found in the curve")
    lowest = temperature(values.get("lowest_c"))
    return _dated(record, text.format(time=duration_text(values.get("seconds") or 0), lowest=lowest), zone)


def _dated(record: RecordRef, sentence: str, zone: ZoneInfo) -> str:
    return _tr("{date}: {line}").format(date=date_time(record.at, zone), line=sentence)


def _opened(record: RecordRef) -> str:
    found = [in_sentence(break_out_word(BreakOutResult(record.values["result"])))]
    signs, lies = {str(sign) for sign in BreakOutSign}, {str(lie) for lie in Malposition}
    for code in record.values["marks"]:
        if code in signs:
            found.append(in_sentence(sign_word(BreakOutSign(code))))
        elif code in lies:
            found.append(in_sentence(malposition_word(Malposition(code))))
    text = _tr("Egg {number}, opened: {found}")
    return text.format(number=number(record.values["number"], 0), found=listed(found))


def _batch(record: RecordRef) -> str:
    values = record.values
    text = _tr("{label} {name}: {count} fertile hatched")
    if values.get("humidity") is not None:
        text = _tr("{label} {name}: {count} fertile hatched, at {humidity}")
    return text.format(
        label=values["label"],
        name=values["name"],
        count=count_of(values["hits"], values["trials"]),
        humidity=percent(values.get("humidity")),
    )
