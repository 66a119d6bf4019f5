"""What the middle of the room shows: the egg before the lamp, or what was found when all are done."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.candling_room.egg_face import Face
from hatchbook.desk.candling_room.round_state import RoundEgg
from hatchbook.desk.candling_room.sitting import Sitting
from hatchbook.desk.words.candling import egg_details, last_seen, seen_now, summary_sentence
from hatchbook.desk.words.codes import fate_word
from hatchbook.figures import last_finding


def _tr(text: str) -> str:
    return QCoreApplication.translate("Faces", text)


def egg_face(sitting: Sitting, egg: RoundEgg, title: str, note: str) -> Face:
    """An egg as it was seen last, or now; ``note``: what was noted of it latest."""
    figures = sitting.eggs[egg.uid]
    last, now = last_finding(figures), sitting.state.verdicts.get(egg.uid)
    below = [line for line in egg_details(figures) if line]
    if note:
        below.append(_tr("Noted: {text}").format(text=note))
    if now is not None:
        before = [] if last is None else [last_seen(last)]
        return Face(title, sitting.fate_of(now), (seen_now(now), *before, *below), bright=True)
    fate = figures.outcome.fate
    if egg.left:
        return Face(title, fate, (fate_word(fate), *below))
    if egg.passed:
        return Face(title, fate, (last_seen(last), _tr("counted as out"), *below))
    return Face(title, fate, (last_seen(last), *below))


def number_face(typed: str) -> Face:
    """A number that is being typed and that no egg has."""
    return Face(typed, None, (_tr("No egg has this number"), _tr("Backspace corrects it, Esc gives it up")))


def summary_face(sitting: Sitting) -> Face:
    """What was found, and what to do now."""
    state = sitting.state
    if not state.eggs:
        return Face(_tr("No eggs"), None, (_tr("This batch has no eggs."), _tr("Esc leaves the room")))
    if not state.total:
        return Face(_tr("No egg left"), None, (_tr("All eggs are out."), _tr("Esc leaves the room")))
    return Face(
        _tr("All done"),
        None,
        (
            summary_sentence(state.counts),
            _tr("Enter ends the candling"),
            _tr("Backspace takes the last one back"),
            _tr("Wash your hands"),
        ),
        bright=True,
    )
