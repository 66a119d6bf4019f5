"""An egg in words: for tooltips and screen readers."""

from __future__ import annotations

import re
from datetime import date

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.codes import ALL_WORDS, fate_word, in_sentence
from hatchbook.desk.words.dates import batch_day, date_text
from hatchbook.desk.words.numbers import number, percent
from hatchbook.figures.results import EggFigures
from hatchbook.journal import Egg
from hatchbook.trade.codes import BreakOutResult, FindingCode, HatchMark, RemovalReason

_SEEN = {
    str(code): words[code]
    for kind in (FindingCode, HatchMark, RemovalReason)
    for words in (ALL_WORDS[kind],)
    for code in kind
}
_PLACE = re.compile(r"(?:(?P<tray>[0-9]{1,3})\s*)?(?P<row>[A-Za-z]{1,2})\s*(?P<column>[0-9]{1,3})")


def row_letter(row: int) -> str:
    """A, B, … Z, AA, … for the rows of a tray, from 1."""
    letters = ""
    while row > 0:
        row, rest = divmod(row - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters


def place_name(row: int, column: int, tray: int = 1, trays: int = 1) -> str:
    """C 2, or 2 C 2 where there are several trays."""
    name = f"{row_letter(row)} {column}"
    return name if trays == 1 else f"{tray} {name}"


class PlaceError(ValueError):
    """A text that is no place of the trays; ``str(error)`` says so to the breeder."""


def parse_place(text: str, trays: int, rows: int, columns: int) -> tuple[int, int, int]:
    """Tray, row and column of a place as it is typed: C2, c 2, or 2 C 2 where there are several trays.

    Raises:
        PlaceError: it is no place, or one that these trays do not have.
    """
    found = _PLACE.fullmatch(text.strip())
    if found is None or (trays > 1 and found["tray"] is None):
        example = place_name(min(rows, 3), min(columns, 2), min(trays, 2), trays)
        sentence = _tr("“{text}” is no place. Write it like {example}.")
        raise PlaceError(sentence.format(text=text.strip(), example=example))
    tray, column, row = int(found["tray"] or 1), int(found["column"]), 0
    for letter in found["row"].upper():
        row = row * 26 + ord(letter) - ord("A") + 1
    if not (1 <= tray <= trays and row <= rows and 1 <= column <= columns):
        last = place_name(rows, columns, trays, trays)
        sentence = _tr("There is no {place}: the last place is {last}.")
        raise PlaceError(sentence.format(place=place_name(row, column, tray, max(trays, tray)), last=last))
    return tray, row, column


def _tr(text: str) -> str:
    return QCoreApplication.translate("Eggs", text)


def seen_word(code: str) -> str:
    """The word for anything that was seen of an egg, by its code."""
    if code.startswith("opened:"):
        result = BreakOutResult(code.removeprefix("opened:"))
        found = in_sentence(QCoreApplication.translate("Codes", ALL_WORDS[BreakOutResult][result]))
        return _tr("opened: {result}").format(result=found)
    known = _SEEN.get(code)
    return code if known is None else in_sentence(QCoreApplication.translate("Codes", known))


def egg_sentence(egg: EggFigures, place: str) -> str:
    """C 2, egg 14, Brook pen, laid 29 Apr; alive; day 7: alive."""
    parts = [place, _tr("egg {number}").format(number=egg.egg.number)]
    if egg.egg.mark:
        parts.append(egg.egg.mark)
    if egg.pen_name:
        parts.append(egg.pen_name)
    if egg.egg.laid_on:
        laid = date.fromisoformat(egg.egg.laid_on)
        parts.append(_tr("laid {date}").format(date=date_text(laid, "d MMM")))
    sentence = ", ".join(parts)
    story = [in_sentence(fate_word(egg.outcome.fate))]
    story += seen_parts(egg)
    if egg.outcome.contradictions:
        story.append(_tr("the records contradict each other"))
    sentence = "; ".join([sentence, *story])
    if egg.lost_percent is not None:
        sentence += "; " + _tr("{loss} lost").format(loss=percent(egg.lost_percent))
    elif egg.egg.set_mass_g is not None:
        sentence += "; " + _tr("{mass} g when set").format(mass=number(egg.egg.set_mass_g))
    if egg.egg.marked:
        sentence += "; " + _tr("marked for weighing")
    if egg.egg.remark:
        sentence += "; " + egg.egg.remark
    return sentence


def egg_title(egg: EggFigures, trays: int = 1) -> str:
    """Egg 14, C 2."""
    return title_of(egg.egg, trays)


def title_of(egg: Egg, trays: int = 1) -> str:
    """Egg 14, C 2; where there are several trays with the number of the tray."""
    if egg.place is None:
        return _tr("Egg {number}").format(number=egg.number)
    tray, row, column = egg.place
    place = place_name(row, column, tray, trays)
    return _tr("Egg {number}, {place}").format(number=egg.number, place=place)


def short_title(egg: EggFigures, trays: int = 1) -> str:
    """C 2, or its number where it has no place; where there are several trays with the number of the tray."""
    if egg.egg.place is None:
        return _tr("egg {number}").format(number=egg.egg.number)
    tray, row, column = egg.egg.place
    return place_name(row, column, tray, trays)


def story_sentence(egg: EggFigures) -> str:
    """What is known of an egg: pen, laying date, and every look at it."""
    parts = [part for part in (egg.egg.mark, egg.pen_name) if part]
    if egg.egg.laid_on:
        laid = date.fromisoformat(egg.egg.laid_on)
        parts.append(_tr("laid {date}").format(date=date_text(laid, "d MMM")))
    parts += seen_parts(egg)
    return "; ".join(parts) if parts else _tr("nothing is recorded of it yet")


def seen_parts(egg: EggFigures) -> list[str]:
    """Every look at an egg: day 7: alive."""
    return [
        _tr("{day}: {seen}").format(day=batch_day(day, 0), seen=seen_word(code)) for day, code in egg.seen
    ]
