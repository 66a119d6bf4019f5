"""How many live on to each day: the product-limit estimate of Kaplan & Meier, and the log-rank test.

Standard errors are Greenwood's. The limits along the curve are symmetric on the scale of log(-log S); those of one
day (`SurvivalCurve.at`) are Rothman's, which without losses to follow-up are Wilson's limits of a plain proportion
(Rothman 1978, J. Chronic Dis. 31:557-560, as the documentation of the package km.ci gives it; both are the ones
that it finds to hold their level in small samples).

A death that nobody watched is known to a span of days only. The curve in the middle of `SurvivalBand` puts it
half way through its span, which is our choice; the two others put every death on the first and on the last day
that it can have fallen on, so that what the choice does to the curve is seen.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hatchbook.statistics.intervals import normal_quantile

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]


@dataclass(frozen=True)
class SurvivalAt:
    """How things stand after a day.

    Attributes:
        day: the day; deaths on it have happened.
        alive: still followed, and not dead.
        dead: died up to then.
        left: left alive up to then (censored).
        estimate: the share that lives on past the day; nan where nobody was followed.
        low, high: its limits, as shares between 0 and 1.
    """

    day: float
    alive: int
    dead: int
    left: int
    estimate: float
    low: float
    high: float

    def as_dict(self) -> dict[str, float | int | None]:
        """The fields as JSON-ready values."""
        plain = {name: getattr(self, name) for name in self.__dataclass_fields__}
        return plain | {"estimate": _number(self.estimate)}


@dataclass(frozen=True, eq=False)
class SurvivalCurve:
    """The product-limit estimate: a share of 1 that falls on each day on which somebody died.

    Attributes:
        subjects: how many were followed from day 0 on.
        days: the days with a death, ascending. The arrays below belong to them.
        at_risk: alive and followed just before the day; who leaves on the day still counts.
        deaths: how many died on it.
        survival: the share that lives on past it.
        standard_error: Greenwood's; nan once nobody is left.
        low, high: limits at `confidence`; nan once nobody is left.
        left_days: the days on which somebody left alive, ascending, one entry each.
        confidence: of all limits.
    """

    subjects: int
    days: FloatArray
    at_risk: IntArray
    deaths: IntArray
    survival: FloatArray
    standard_error: FloatArray
    low: FloatArray
    high: FloatArray
    left_days: FloatArray
    confidence: float

    @property
    def last_day(self) -> float:
        """The last day of which anything is known; 0 where nobody was followed."""
        last = [float(days[-1]) for days in (self.days, self.left_days) if days.size]
        return max(last, default=0.0)

    @property
    def median_day(self) -> float | None:
        """The first day past which half or less live on; None where more do to the end."""
        half = np.flatnonzero(self.survival <= 0.5 + 1e-12)
        return float(self.days[half[0]]) if half.size else None

    def share_after(self, days: ArrayLike) -> FloatArray:
        """The share that lives on past each of these days."""
        before = np.searchsorted(self.days, np.asarray(days, dtype=np.float64), side="right")
        result: FloatArray = np.concatenate(([1.0], self.survival))[before]
        return result

    def at(self, day: float) -> SurvivalAt:
        """How things stand after a day, with Rothman's limits.

        Before the first death, where Greenwood says nothing, those still followed count as the size of the sample;
        once nobody is left, the effective size from just before the last death.
        """
        steps = int(np.searchsorted(self.days, day, side="right"))
        left = int(np.searchsorted(self.left_days, day, side="right"))
        dead = int(self.deaths[:steps].sum())
        alive = self.subjects - dead - left
        if not self.subjects:
            return SurvivalAt(day, 0, 0, 0, math.nan, 0.0, 1.0)
        share = float(self.survival[steps - 1]) if steps else 1.0
        low, high = _wilson(share, self._effective_size(steps, alive), self.confidence)
        return SurvivalAt(day, alive, dead, left, share, low, high)

    def _effective_size(self, steps: int, alive: int) -> float:
        """The sample size at which a plain proportion would be as uncertain as the estimate."""
        known = steps - 1
        while known >= 0 and not self.standard_error[known] > 0.0:
            known -= 1
        if known < 0:
            # Nobody has died, or all on one day: then nothing but the deaths of that day was seen.
            return float(self.at_risk[0]) if steps else float(alive)
        share, error = float(self.survival[known]), float(self.standard_error[known])
        return share * (1.0 - share) / error**2

    def as_dict(self) -> dict[str, object]:
        """The fields as JSON-ready values."""
        plain: dict[str, object] = {name: getattr(self, name) for name in self.__dataclass_fields__}
        for name, value in plain.items():
            if isinstance(value, np.ndarray):
                plain[name] = [_number(one) for one in value.tolist()]
        return plain


@dataclass(frozen=True, eq=False)
class SurvivalBand:
    """The curve with every death half way through its span, on its first day, and on its last one."""

    middle: SurvivalCurve
    earliest: SurvivalCurve
    latest: SurvivalCurve

    def edges(self, days: ArrayLike) -> tuple[FloatArray, FloatArray]:
        """The lower and the upper one of the earliest and the latest curve after each of these days."""
        one, other = self.earliest.share_after(days), self.latest.share_after(days)
        return np.minimum(one, other), np.maximum(one, other)

    def as_dict(self) -> dict[str, object]:
        """The curves as JSON-ready values."""
        return {name: getattr(self, name).as_dict() for name in ("middle", "earliest", "latest")}


def kaplan_meier(days: ArrayLike, died: ArrayLike, confidence: float = 0.95) -> SurvivalCurve:
    """The product-limit estimate.

    Args:
        days: for each subject the day on which it died or was followed for the last time, 0 or more.
        died: whether it died then; a death comes before those who leave on the same day.
        confidence: of the limits.

    Raises:
        ValueError: lengths differ, a day is below 0 or not a number, the confidence is not between 0 and 1.
    """
    day, dead = _checked(days, died)
    z = normal_quantile(confidence)
    steps, deaths = np.unique(day[dead], return_counts=True)
    at_risk = day.size - np.searchsorted(np.sort(day), steps, side="left")
    survival = np.cumprod(1.0 - deaths / at_risk)
    some_left = at_risk > deaths
    # Once all are dead Greenwood's sum is infinite and says nothing of the error.
    terms = np.divide(deaths, at_risk * (at_risk - deaths), out=np.full(steps.shape, np.nan), where=some_left)
    root = np.sqrt(np.cumsum(terms))
    log_survival = np.log(survival, out=np.full(steps.shape, np.nan), where=some_left)
    spread = np.exp(z * root / -log_survival)
    return SurvivalCurve(
        subjects=int(day.size),
        days=steps,
        at_risk=at_risk.astype(np.int64),
        deaths=deaths.astype(np.int64),
        survival=np.where(some_left, survival, 0.0),
        standard_error=survival * root,
        low=np.exp(log_survival * spread),
        high=np.exp(log_survival / spread),
        left_days=np.sort(day[~dead]),
        confidence=confidence,
    )


def survival_band(
    from_days: ArrayLike, until_days: ArrayLike, died: ArrayLike, confidence: float = 0.95
) -> SurvivalBand:
    """The estimate where deaths are known to spans of days, with both ends of what can be.

    Args:
        from_days: for each subject the first day on which it can have died (it was seen alive then, or never).
        until_days: the last one, on which it was found dead; for who lives, the day of the last look at it.
        died: whether it died; of who lives, `until_days` alone counts.

    Raises:
        ValueError: a span ends before it begins, or as `kaplan_meier`.
    """
    first = np.asarray(from_days, dtype=np.float64)
    last, dead = _checked(until_days, died)
    if first.shape != last.shape:
        raise ValueError("Every subject has a first and a last day.")
    if not bool(np.all(first <= last)):
        raise ValueError("A span of days must not end before it begins.")
    first = np.where(dead, first, last)
    return SurvivalBand(
        middle=kaplan_meier((first + last) / 2.0, dead, confidence),
        earliest=kaplan_meier(first, dead, confidence),
        latest=kaplan_meier(last, dead, confidence),
    )


@dataclass(frozen=True)
class LogRank:
    """The log-rank test of two groups.

    Attributes:
        deaths: how many died in the first group.
        expected: how many would have, were both groups alike.
        z: (deaths - expected) over its standard error: below 0 where the first group lives longer; nan where
            nothing can be told (no death while both were followed).
        p: two-sided, by the normal distribution; nan likewise.
    """

    deaths: int
    expected: float
    z: float
    p: float

    @property
    def chi_square(self) -> float:
        """The statistic on one degree of freedom."""
        return self.z**2

    def as_dict(self) -> dict[str, float | int | None]:
        """The fields as JSON-ready values."""
        return {
            "deaths": self.deaths,
            "expected": self.expected,
            "z": _number(self.z),
            "chi_square": _number(self.chi_square),
            "p": _number(self.p),
        }


def log_rank(days_a: ArrayLike, died_a: ArrayLike, days_b: ArrayLike, died_b: ArrayLike) -> LogRank:
    """Whether two groups live equally long (Mantel 1966; hypergeometric variance); arguments as `kaplan_meier`.

    The egg is the trial: where eggs of one batch have their fate in common, p is too small.

    Raises:
        ValueError: as `kaplan_meier`.
    """
    day_a, dead_a = _checked(days_a, died_a)
    day_b, dead_b = _checked(days_b, died_b)
    steps = np.unique(np.concatenate((day_a[dead_a], day_b[dead_b])))
    risk_a, deaths_a = _counted(day_a, dead_a, steps)
    risk_b, deaths_b = _counted(day_b, dead_b, steps)
    risk, deaths = risk_a + risk_b, deaths_a + deaths_b
    share = risk_a / risk
    expected = float(np.sum(deaths * share))
    # One that is left alone can not be drawn another way.
    free = (risk - deaths) / np.maximum(risk - 1.0, 1.0)
    variance = float(np.sum(deaths * share * (1.0 - share) * free))
    observed = int(dead_a.sum())
    if variance <= 0.0:
        return LogRank(observed, expected, math.nan, math.nan)
    z = (observed - expected) / math.sqrt(variance)
    return LogRank(observed, expected, z, math.erfc(abs(z) / math.sqrt(2.0)))


def _counted(day: FloatArray, dead: NDArray[np.bool_], steps: FloatArray) -> tuple[FloatArray, FloatArray]:
    """How many of a group are at risk on each day, and how many die on it."""
    at_risk = day.size - np.searchsorted(np.sort(day), steps, side="left")
    deaths = np.searchsorted(np.sort(day[dead]), steps, side="right") - np.searchsorted(
        np.sort(day[dead]), steps, side="left"
    )
    return at_risk.astype(np.float64), deaths.astype(np.float64)


def _wilson(share: float, size: float, confidence: float) -> tuple[float, float]:
    """Wilson's limits for a share of a sample whose size need not be whole."""
    z2 = normal_quantile(confidence) ** 2
    if size <= 0.0:
        return 0.0, 1.0
    centre = (share + z2 / (2.0 * size)) / (1.0 + z2 / size)
    half = math.sqrt(z2 * (share * (1.0 - share) / size + z2 / (4.0 * size**2))) / (1.0 + z2 / size)
    low = 0.0 if share <= 0.0 else max(0.0, centre - half)
    high = 1.0 if share >= 1.0 else min(1.0, centre + half)
    return low, high


def _checked(days: ArrayLike, died: ArrayLike) -> tuple[FloatArray, NDArray[np.bool_]]:
    day = np.atleast_1d(np.asarray(days, dtype=np.float64))
    dead = np.atleast_1d(np.asarray(died, dtype=np.bool_))
    if day.ndim != 1 or day.shape != dead.shape:
        raise ValueError("Every subject has one day, and whether it died then.")
    if not bool(np.all(np.isfinite(day) & (day >= 0.0))):
        raise ValueError("The days must be plain numbers of 0 or more.")
    return day, dead


def _number(value: float) -> float | None:
    return value if math.isfinite(value) else None
