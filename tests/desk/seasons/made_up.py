"""A made-up comparison for the widgets that show one, without a journal."""

from __future__ import annotations

from dataclasses import replace

from hatchbook.figures.comparison_results import (
    BatchPoint,
    ComparisonFigures,
    CountOfBatches,
    Finding,
    FindingKind,
    GroupName,
    GroupRate,
    GroupRow,
    Limits,
    Place,
    Question,
    Section,
    Standing,
)
from hatchbook.figures.comparison_rows import Grouping

PENS = tuple(
    GroupName(Grouping.PEN, key, name) for key, name in (("b", "Brook"), ("o", "Orchard"), ("y", "Yard"))
)
SEASONS = tuple(GroupName(Grouping.SEASON, str(year)) for year in (2024, 2025))
LOW = Finding(FindingKind.GROUP, Grouping.PEN, PENS[:1], PENS[1:], mean=0.64, rest_mean=0.83, p=0.0004)


def rate(mean: float | None, standing: Standing = Standing.WITHIN, p: float | None = 0.4) -> GroupRate:
    """A rate of 100 eggs."""
    if mean is None:
        return GroupRate(0, 0, 0, None, 0.0, 1.0, None, Standing.NOT_COMPARED)
    low, high = max(0.0, mean - 0.07), min(1.0, mean + 0.07)
    return GroupRate(4, round(mean * 100), 100, mean, low, high, mean, standing, p)


def row(group: GroupName | None, means: tuple[float | None, ...], *uids: str, **told: object) -> GroupRow:
    """A row with these means of the three rates."""
    rates = dict(zip(Question().rates, (rate(mean, **told) for mean in means), strict=True))  # type: ignore[arg-type]
    return GroupRow(group, len(uids), 30 * len(uids), rates, frozenset(uids))


def point(number: int, group: GroupName, share: float, place: Place = Place.INSIDE) -> BatchPoint:
    """The batch of this number, with 25 eggs."""
    return BatchPoint(
        uid=f"u{number}",
        label=f"24-{number:02}",
        name=f"{group.name} hens",
        set_at=1_700_000_000 + number * 2_000_000,
        season=2024 if number < 3 else 2025,
        counts_only=number == 4,
        group=group,
        machine="Dairy",
        hits=round(25 * share),
        trials=20 + number,
        share=share,
        low=share - 0.15,
        high=min(1.0, share + 0.15),
        limit_low=0.55,
        limit_high=0.95,
        place=place,
        p=0.03 if place is Place.INSIDE else 0.0005,
    )


POINTS = (
    point(1, PENS[1], 0.85),
    point(2, PENS[0], 0.35, Place.FAR_LOW),
    point(3, PENS[1], 0.80),
    point(4, PENS[2], 0.70),
)
LIMITS = Limits(0.76, 0.02, (1, 20, 30), (0.2, 0.5, 0.6), (1.0, 0.95, 0.9), (0.0, 0.4, 0.5), (1.0, 1.0, 0.98))


def figures(**changes: object) -> ComparisonFigures:
    """Three pens and two seasons, Brook low."""
    low = row(PENS[0], (0.84, 0.64, 0.54), "u2", standing=Standing.LOWER, p=0.0004)
    pens = (low, row(PENS[1], (0.85, 0.83, 0.71), "u1", "u3"), row(PENS[2], (0.79, None, None), "u4"))
    seasons = (row(SEASONS[0], (0.83, 0.72, 0.6), "u1", "u2"), row(SEASONS[1], (0.86, 0.8, 0.7), "u3", "u4"))
    made = ComparisonFigures(
        question=Question(species="hen"),
        batches=4,
        eggs_set=120,
        fertile=CountOfBatches(100, 4),
        hatched=CountOfBatches(74, 4),
        running=1,
        species_known=("duck", "hen"),
        seasons_known=(2024, 2025),
        season_first_month=1,
        overall=row(None, (0.84, 0.74, 0.63), "u1", "u2", "u3", "u4"),
        sections=(Section(Grouping.PEN, pens), Section(Grouping.SEASON, seasons)),
        findings=(LOW,),
        points=POINTS,
        limits=LIMITS,
    )
    return replace(made, **changes)  # type: ignore[arg-type]
