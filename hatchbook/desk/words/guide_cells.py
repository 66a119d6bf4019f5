"""The cells of a machine's water and vent guide in words: short in the cell, in full sentences for all else."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication

from hatchbook.desk.words.codes import in_sentence, phase_word
from hatchbook.desk.words.guide import same_setting, setting_text, spread_text
from hatchbook.desk.words.lines import listed
from hatchbook.desk.words.numbers import number, percent, vent_text
from hatchbook.figures.guide_results import GuideCell, MachineGuide
from hatchbook.trade.codes import PhaseKind

_NAMED = 4
"""So many batches are named in which a setting was tried."""


def _tr(text: str, n: int = -1) -> str:
    return QCoreApplication.translate("GuideCells", text, "", n)


def channels_head(channels: int) -> str:
    """The head of a row: 0 channels, 1 channel."""
    return _tr("%n channel(s)", channels)


def vent_head(opening: float) -> str:
    """The head of a column: shut, 1/4, open."""
    return vent_text(opening)


def hours_text(cell: GuideCell) -> str:
    """How long a setting was seen: 212 h; not tried."""
    if not cell.hours:
        return _tr("not tried")
    return _tr("{hours} h").format(hours=number(max(cell.hours, 1), 0))


def hours_texts(cell: GuideCell) -> tuple[str, ...]:
    """The same, and a shorter form for a narrow cell."""
    return (hours_text(cell),) if cell.hours else (hours_text(cell), _tr("untried"))


def mark_texts(cell: GuideCell, guide: MachineGuide) -> tuple[str, ...]:
    """What marks a cell, the longer form first: now, keep; try this; now; not in lockdown. Empty for the others."""
    is_now, is_advised = is_setting(cell, guide), is_advice(cell, guide)
    if is_now and is_advised:
        return _tr("now, keep"), _tr("keep")
    if is_advised:
        return _tr("try this"), _tr("try")
    if is_now:
        return (_tr("now"),)
    if not cell.allowed:
        return _tr("not in lockdown"), _tr("not now")
    return ()


def is_setting(cell: GuideCell, guide: MachineGuide) -> bool:
    """Whether the machine stands so."""
    return same_setting(guide.setting, (cell.channels, cell.vent))


def is_advice(cell: GuideCell, guide: MachineGuide) -> bool:
    """Whether that is advised."""
    advised = guide.advised
    return advised is not None and same_setting((advised.channels, advised.vent), (cell.channels, cell.vent))


def cell_sentence(cell: GuideCell, guide: MachineGuide) -> str:
    """All there is to say of a cell: 3 channels, vent 1/2: 47 %, range 45 to 49 %. 119 h of readings, in 26-05."""
    parts = [
        _tr("{setting}: {mean} expected, range {range}.").format(
            setting=_first_large(setting_text((cell.channels, cell.vent))),
            mean=percent(cell.humidity.value, 0),
            range=spread_text(cell.humidity),
        )
    ]
    if not cell.hours:
        parts.append(_tr("Not tried yet."))
    elif cell.batches:
        parts.append(
            _tr("{hours} of readings, in {batches}.").format(hours=hours_text(cell), batches=_batches(cell))
        )
    else:
        parts.append(_tr("{hours} of readings.").format(hours=hours_text(cell)))
    parts += _fit_sentences(cell)
    if is_setting(cell, guide):
        parts.append(_tr("So it stands now."))
    if is_advice(cell, guide):
        parts.append(_tr("This is advised."))
    if not cell.allowed:
        parts.append(_tr("Not in lockdown: hatching chicks need air."))
    return " ".join(parts)


def _fit_sentences(cell: GuideCell) -> list[str]:
    return [
        _tr("In the band of {phase}.").format(phase=in_sentence(phase_word(phase)))
        for phase in (PhaseKind.INCUBATION, PhaseKind.LOCKDOWN)
        if phase in cell.fits
    ]


def _batches(cell: GuideCell) -> str:
    named = list(cell.batches[:_NAMED])
    left = len(cell.batches) - len(named)
    if not left:
        return listed(named)
    return _tr("{batches} and %n more", left).format(batches=listed(named))


def _first_large(text: str) -> str:
    return text[:1].upper() + text[1:]


def band_legend(phase: PhaseKind, low: float, high: float) -> str:
    """What a fill in the table stands for: incubation 40–50 %."""
    return _tr("{phase} {low}–{high}\u00a0%").format(
        phase=in_sentence(phase_word(phase)), low=number(low, 0), high=number(high, 0)
    )
