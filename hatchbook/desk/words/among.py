"""A batch's rate among those of the breeder's other batches, in words."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.numbers import count_of, percent
from hatchbook.desk.words.rates import range_note
from hatchbook.desk.words.seasons import odds_text
from hatchbook.figures.among_others import RateAmong


def _tr(text: str, n: int = -1) -> str:
    return QCoreApplication.translate("Among", text, "", n)


def among_foot(among: RateAmong, own: str) -> list[str]:
    """Under a rate: what the others do, and the odds of one so low or so high; else what else there is to say.

    The same again, shorter and shorter, for where there is little room.
    """
    usual, odds = percent(100 * among.usual, 0), _odds(among)
    if among.is_low:
        texts = [
            _tr("others {usual}; low, {odds} by chance"),
            _tr("others {usual}; low, {odds}"),
            _tr("low, {odds}"),
        ]
    elif among.is_high:
        texts = [
            _tr("others {usual}; high, {odds} by chance"),
            _tr("others {usual}; high, {odds}"),
            _tr("high, {odds}"),
        ]
    elif own and own != range_note():
        texts = [_tr("others {usual}; {remark}"), _tr("others {usual}")]
    else:
        texts = [_tr("others {usual}")]
    return [text.format(usual=usual, odds=odds, remark=own) for text in texts]


def among_sentence(among: RateAmong) -> str:
    """The same in full: of how many batches and eggs, and what the odds are of."""
    text = _tr("Other batches of the species: {usual}, {count} eggs in %n batch(es).", among.batches)
    said = text.format(usual=percent(100 * among.usual, 0), count=count_of(among.hits, among.trials))
    if among.chance is None:
        return said
    if among.chance.low < among.chance.high:
        odds = _tr("A batch as low as this one or lower: {odds} by chance.")
    else:
        odds = _tr("A batch as high as this one or higher: {odds} by chance.")
    return f"{said} {odds.format(odds=_odds(among))}"


def _odds(among: RateAmong) -> str:
    return "" if among.one_sided is None else odds_text(among.one_sided)
