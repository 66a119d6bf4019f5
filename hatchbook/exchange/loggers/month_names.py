"""Month and weekday names as loggers and spreadsheets write them, in the larger European languages.

The words are from memory.
"""

from __future__ import annotations

_NAMES = (
    "january jan januar janvier janv enero ene gennaio gen januari janeiro stycznia sty",
    "february feb februar februari février févr fév fevrier febrero febbraio fevereiro fev lutego lut",
    "march mar märz mär mrz mars marzo maart mrt março mars marca",
    "april apr avril avr abril abr aprile kwietnia kwi",
    "may mai mayo maggio mag mei maio maja maj",
    "june jun juni juin junio giugno giu junho czerwca cze",
    "july jul juli juillet juil julio luglio lug julho lipca lip",
    "august aug août aou aoû agosto ago augustus augusti sierpnia sie",
    "september sep sept septembre septiembre settembre set setembro wrzesień września wrz",
    "october oct oktober okt octobre octubre ottobre ott outubro out października paź",
    "november nov novembre noviembre novembro listopada lis",
    "december dec dezember dez décembre déc decembre diciembre dic dicembre dezembro grudnia gru",
)

MONTHS: dict[str, int] = {name: number for number, names in enumerate(_NAMES, 1) for name in names.split()}
"""Month number by lower-case name."""

_WEEKDAYS = (
    "monday tuesday wednesday thursday friday saturday sunday mon tue tues wed thu thur thurs fri sat sun "
    "montag dienstag mittwoch donnerstag freitag samstag sonnabend sonntag mo di mi do fr sa so"
)

WEEKDAYS: tuple[bytes, ...] = tuple(
    form.encode() for name in _WEEKDAYS.split() for form in (name, name.capitalize(), name.upper())
)
"""Weekday names in small, capitalised and capital letters; what they say is passed over."""
