"""Which setting is advised: the nearest to what is wanted, with a liking for what is known and for few changes."""

from __future__ import annotations

from hatchbook.figures.guide_results import GuideCell, Wanted, WantedFrom

NOTHING_NEAR = 12.0
"""A setting farther than this from what is wanted, % RH, is not advised (our choice)."""
MOVE, UNTRIED, UNUSUAL, SHUT, NO_WATER = 0.4, 0.5, 1.2, 4.0, 1.0
"""By how much nearer, % RH, a setting must come to be worth each change of channels or vent; to be taken though
never tried; to stand apart from the usual opening by the whole of it; to have the vent shut; to run without any
water, which works less well where the air is dry (our choice). So it decides only between settings that are nearly
equal: it is less than what a range leaves open."""
USUAL_VENT, LOCKDOWN_VENT = 0.5, 1 / 3
"""*Common practice, no source*: about half open up to lockdown, then at most a third, never shut."""
SAME_VENT = 0.02
"""Openings no farther apart than this are one: a hand sets it no finer (our choice)."""


def is_allowed(vent: float, *, lockdown: bool) -> bool:
    """Whether an opening may be advised: in lockdown the vent is never shut, hatching chicks need air."""
    return not lockdown or vent > 0


def advised_cell(
    cells: tuple[tuple[GuideCell, ...], ...],
    wanted: Wanted | None,
    setting: tuple[int, float] | None,
    *,
    lockdown: bool,
) -> GuideCell | None:
    """The cell to choose; None where nothing is wanted or nothing comes near.

    Where the band is enough, a setting that stands and gives it is kept.

    Args:
        setting: channels and vent as they stand.
    """
    if wanted is None:
        return None
    allowed = [cell for row in cells for cell in row if cell.allowed]
    if wanted.origin is WantedFrom.BAND:
        stands = next((cell for cell in allowed if _is(cell, setting)), None)
        if stands is not None and wanted.low <= stands.humidity.value <= wanted.high:
            return stands
    near = [cell for cell in allowed if abs(cell.humidity.value - wanted.humidity) <= NOTHING_NEAR]
    return min(near, key=lambda cell: _cost(cell, wanted, setting, lockdown=lockdown), default=None)


def _is(cell: GuideCell, setting: tuple[int, float] | None) -> bool:
    return setting is not None and cell.channels == setting[0] and abs(cell.vent - setting[1]) <= SAME_VENT


def _cost(
    cell: GuideCell, wanted: Wanted, setting: tuple[int, float] | None, *, lockdown: bool
) -> tuple[float, int, float]:
    off = abs(cell.humidity.value - wanted.humidity)
    if setting is not None:
        off += MOVE * (cell.channels != setting[0]) + MOVE * (abs(cell.vent - setting[1]) > SAME_VENT)
    off += UNTRIED * (cell.hours == 0) + NO_WATER * (cell.channels == 0)
    if lockdown:
        off += UNUSUAL * max(cell.vent - LOCKDOWN_VENT, 0.0)
    else:
        off += UNUSUAL * abs(cell.vent - USUAL_VENT) + SHUT * (cell.vent == 0)
    # Of equals the one with less water is less to fill.
    return off, cell.channels, cell.vent
