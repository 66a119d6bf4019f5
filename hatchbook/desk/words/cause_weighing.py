"""How causes are weighed, in words: what counts, by whose bounds, and what none of it can say."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.numbers import number
from hatchbook.trade.causes import load_causes


def _tr(text: str, n: int = -1) -> str:
    return QCoreApplication.translate("CauseWeighing", text, "", n)


def weighing_explanation() -> tuple[str, list[str]]:
    """Title and sentences; the bounds are those of the table that is weighed by."""
    strong, some, weak = load_causes().ranks
    return _tr("How causes are weighed"), [
        _tr(
            "A cause is looked at where the literature connects it with something that this batch shows: eggs "
            "dead at a stage, wet or stuck chicks, a late hatch. Open a cause to see with what, and who says so."
        ),
        _tr(
            "Each fact of this journal counts 1 to 3 points for a cause or against it, or nothing. How "
            "many, and nearly always from which value on, is chosen for this program: nobody has published such "
            "weights."
        ),
        _tr(
            "Strong: {points} points or more for it, {net} more than against it, and of {kinds} kinds: how the "
            "eggs were kept, what they showed, what your other batches did."
        ).format(**_shown(strong.points_for, strong.net, strong.kinds)),
        _tr("Some: {net} points more for it than against it. Weak: {least}.").format(
            net=number(some.net, 0), least=number(weak.net, 0)
        ),
        _tr("What is known from memory alone, without a source, never makes a cause more than weak."),
        _tr(
            "More losses at a stage than usual would speak for many causes: they count only where another fact "
            "speaks for the same one. What the journal does not know counts nothing, and is named."
        ),
        _tr(
            "How likely chance alone is goes by your own other finished batches of the species, with their spread "
            "from batch to batch, never by numbers of the industry."
        ),
        _tr(
            "None of this is a diagnosis. Several causes can be at work, and the true one may not be in the "
            "journal at all: feed, health and disease are not. Of disease only a veterinarian can tell."
        ),
    ]


def _shown(points: int, net: int, kinds: int) -> dict[str, str]:
    return {"points": number(points, 0), "net": number(net, 0), "kinds": number(kinds, 0)}
