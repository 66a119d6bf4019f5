"""Every row of statistics.csv that the comparison answers, and why each other is not for us (see SOURCES.md)."""

from __future__ import annotations

import csv
import re
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from hatchbook.statistics.beta_binomial import log_coefficients, most_likely_rho
from hatchbook.statistics.comparison import beta_binomial, shrunken_share
from hatchbook.statistics.control_limits import sigma_limits
from hatchbook.statistics.group_tests import chi_square, cochran_armitage, fisher_exact, likelihood_ratio
from hatchbook.statistics.logit_model import fit, log_likelihood
from hatchbook.statistics.spread import Tally

Row = dict[str, str]

with (Path(__file__).parent / "statistics.csv").open(encoding="utf-8", newline="") as file:
    ROWS: list[Row] = list(csv.DictReader(file))

NONE = np.zeros(1)

# Crowder 1978, Appl. Statist. 27:34-37, Table 3: 21 plates, seed O75 then O73, each bean then cucumber extract
SEEDS_Y = np.array([10, 23, 23, 26, 17, 5, 53, 55, 32, 46, 10, 8, 10, 8, 23, 0, 3, 22, 15, 32, 3])
SEEDS_N = np.array([39, 62, 81, 51, 39, 6, 74, 72, 51, 79, 13, 16, 30, 28, 45, 4, 12, 41, 30, 51, 7])
SEED = np.repeat([0, 1], [11, 10])
EXTRACT = np.repeat([0, 1, 0, 1], [5, 6, 5, 5])
ONE = np.ones(21)
FULL = np.column_stack([ONE, SEED, EXTRACT, SEED * EXTRACT])
ADDITIVE = np.column_stack([ONE, SEED, EXTRACT])

# Tarone 1982 as in Gelman et al., Bayesian Data Analysis, Table 5.1: tumours of 71 groups of rats
_TUMOURS = (
    (0, 14), (1, 8), (2, 9), (1, 1), (5, 1), (2, 1), (5, 1), (3, 1), (2, 1), (7, 2), (3, 2), (2, 1),
    (9, 1), (10, 1), (4, 7), (10, 1), (4, 3), (5, 1), (11, 1), (12, 1), (5, 2), (6, 1), (5, 1), (6, 4),
    (16, 1), (15, 2), (9, 1), (4, 1),
)  # fmt: skip
_RATS = (
    (20, 7), (19, 4), (18, 2), (17, 1), (20, 4), (19, 2), (18, 2), (25, 1), (24, 1), (23, 1), (20, 6), (10, 1),
    (49, 1), (19, 1), (46, 1), (27, 1), (17, 1), (49, 1), (47, 1), (20, 2), (13, 1), (48, 1), (50, 1), (20, 7),
    (48, 1), (19, 3), (22, 1), (46, 1), (49, 1), (20, 2), (23, 1), (19, 1), (22, 1), (20, 3), (52, 1), (46, 1),
    (47, 1), (24, 1), (14, 1),
)  # fmt: skip
TUMOURS, RATS = (np.repeat(*zip(*runs, strict=True)) for runs in (_TUMOURS, _RATS))

SMOKERS = [83, 90, 129, 70], [86, 93, 136, 82]
MALFORMED = [48, 38, 5, 1, 1], [17066 + 48, 14464 + 38, 788 + 5, 126 + 1, 37 + 1]
TWO_BY_THREE = [10, 10, 20], [30, 30, 40]


def seeds(design: np.ndarray) -> tuple[np.ndarray, np.ndarray, float]:
    """Coefficients, standard errors and log likelihood of a design without a spread."""
    fitted = fit(design, SEEDS_Y.astype(float), SEEDS_N.astype(float), NONE)
    errors = np.sqrt(np.diag(np.linalg.inv(fitted.information[0])))
    fits = log_likelihood(SEEDS_Y.astype(float), SEEDS_N.astype(float), fitted.shares, NONE)
    return fitted.coefficients[0], errors, float(fits[0]) + log_coefficients(SEEDS_Y, SEEDS_N)


def seeds_deviance(design: np.ndarray) -> float:
    saturated = log_likelihood(SEEDS_Y.astype(float), SEEDS_N.astype(float), (SEEDS_Y / SEEDS_N)[None], NONE)
    return 2 * (float(saturated[0]) + log_coefficients(SEEDS_Y, SEEDS_N) - seeds(design)[2])


def seeds_pearson(rho: float) -> float:
    """Pearson's statistic of the full model with the weights of a spread."""
    fitted = fit(FULL, SEEDS_Y.astype(float), SEEDS_N.astype(float), np.array([rho]))
    p, worth = fitted.shares[0], 1 / (1 + (SEEDS_N - 1) * rho)
    return float((worth * (SEEDS_Y - SEEDS_N * p) ** 2 / (SEEDS_N * p * (1 - p))).sum())


def seeds_beta_binomial() -> dict[str, float]:
    """Maximum likelihood with one mean for each of the four cells, as coefficients."""
    tally = Tally.of(SEEDS_Y, SEEDS_N, 2 * SEED + EXTRACT, 4)
    rho = most_likely_rho(tally)
    a, b, c, d = (float(np.log(p / (1 - p))) for p in tally.best_means(np.array([rho]))[0])
    return {"phi": rho, "a0": a, "a1": c - a, "a2": b - a, "a12": d - c - b + a}


def seeds_coefficient(design: np.ndarray, which: int, column: int) -> Callable[[], float]:
    return lambda: float(seeds(design)[which][column])


CHECKS: dict[str, Callable[[], float]] = {
    "k_proportions_chi2_smokers": lambda: chi_square(*SMOKERS).statistic,
    "k_proportions_p_smokers": lambda: chi_square(*SMOKERS).p,
    "cochran_armitage_smokers_chi2": lambda: cochran_armitage(*SMOKERS, [1, 2, 3, 4]).statistic,
    "cochran_armitage_smokers_p": lambda: cochran_armitage(*SMOKERS, [1, 2, 3, 4]).p,
    # Agresti's M² has N - 1 where the others have N
    "agresti_malformation_M2": lambda: (
        cochran_armitage(*MALFORMED, [0, 0.5, 1.5, 4, 7]).statistic * (1 - 1 / sum(MALFORMED[1]))
    ),
    "agresti_malformation_X2": lambda: chi_square(*MALFORMED).statistic,
    "agresti_malformation_G2": lambda: likelihood_ratio(*MALFORMED).statistic,
    "rosner_trend_A": lambda: rosner_numerator(),
    "chi2_contingency_2x3": lambda: chi_square(*TWO_BY_THREE).statistic,
    "chi2_contingency_2x3_p": lambda: chi_square(*TWO_BY_THREE).p,
    "g_test_2x3": lambda: likelihood_ratio(*TWO_BY_THREE).statistic,
    "chi2_2x2_uncorrected_p": lambda: chi_square([12, 17], [15, 33]).p,
    "fisher_exact_8_2_1_5_p": lambda: fisher_exact(8, 10, 1, 6),
    "fisher_tea_two_sided": lambda: fisher_exact(3, 4, 1, 4),
    "fisher_convictions_two_sided": lambda: fisher_exact(1, 10, 11, 14),
    "seeds_glm_a0": seeds_coefficient(FULL, 0, 0),
    "seeds_glm_a1": seeds_coefficient(FULL, 0, 1),
    "seeds_glm_a2": seeds_coefficient(FULL, 0, 2),
    "seeds_glm_a12": seeds_coefficient(FULL, 0, 3),
    "seeds_glm_a0_se": seeds_coefficient(FULL, 1, 0),
    "seeds_glm_a1_se": seeds_coefficient(FULL, 1, 1),
    "seeds_glm_a2_se": seeds_coefficient(FULL, 1, 2),
    "seeds_glm_a12_se": seeds_coefficient(FULL, 1, 3),
    "seeds_glm_deviance": lambda: seeds_deviance(FULL),
    "seeds_null_deviance": lambda: seeds_deviance(ONE[:, None]),
    "seeds_glm_aic": lambda: 2 * 4 - 2 * seeds(FULL)[2],
    "seeds_glm_additive_b0": seeds_coefficient(ADDITIVE, 0, 0),
    "seeds_glm_additive_b1": seeds_coefficient(ADDITIVE, 0, 1),
    "seeds_glm_additive_b2": seeds_coefficient(ADDITIVE, 0, 2),
    "seeds_glm_additive_b0_se": seeds_coefficient(ADDITIVE, 1, 0),
    "seeds_glm_additive_b1_se": seeds_coefficient(ADDITIVE, 1, 1),
    "seeds_glm_additive_b2_se": seeds_coefficient(ADDITIVE, 1, 2),
    "seeds_glm_additive_deviance": lambda: seeds_deviance(ADDITIVE),
    "seeds_glm_additive_aic": lambda: 2 * 3 - 2 * seeds(ADDITIVE)[2],
    "seeds_quasi_dispersion": lambda: seeds_pearson(0.0) / 17,
    "seeds_betabinomial_phi": lambda: seeds_beta_binomial()["phi"],
    "seeds_betabinomial_a0": lambda: seeds_beta_binomial()["a0"],
    "seeds_betabinomial_a1": lambda: seeds_beta_binomial()["a1"],
    "seeds_betabinomial_a2": lambda: seeds_beta_binomial()["a2"],
    "seeds_betabinomial_a12": lambda: seeds_beta_binomial()["a12"],
    "rats_betabinomial_ML_alpha": lambda: rats_beta()[0],
    "rats_betabinomial_ML_beta": lambda: rats_beta()[1],
    "rats_posterior_mean_4_14": lambda: shrunken_share(4, 14, 1.4 / 10, 1 / 11),
    "pchart_ucl": lambda: float(sigma_limits(347 / 1500, 0.0, 50)[1]),
    "pchart_lcl": lambda: float(sigma_limits(347 / 1500, 0.0, 50)[0]),
}

ELSEWHERE = r"wilson95_|newcombe10_|closure_fertile_|ogunwande_"
"""Checked in test_statistics_csv.py."""

NOT_FOR_US = {
    r"clopper_pearson|binomtest": "the exact interval is too wide for few eggs; Wilson's is used throughout",
    r"wilson_cc|newcombe11cc": "the continuity correction is too wide; the uncorrected ranges are used",
    r"agresti_caffo|miettinen_nurminen": "other ranges of a difference; Newcombe's is used throughout",
    r"fisher_tea_one_sided": "nobody knows beforehand which group will be better: two-sided throughout",
    r"seeds_glmm_": "scatter that is normal on the logit scale; the model here is beta-binomial",
    r"seeds_williams_phi": "the spread by moments; here by likelihood (the weights are Williams's: see below)",
    r"rats_moment_": "the spread by moments; here by likelihood",
    r"rats_posterior_(alpha|beta|sd)": "parts of the mean after the data, which is checked",
    r"pchart_(total|centre)": "what the chart is given",
    r"cchart_|ichart_|mrchart_|ewma_|laney_": "charts of counts and measurements; a batch is a share",
    r"km_|logrank_": "survival: tests/statistics/test_survival.py",
    r"twa_|mkt_": "averages of readings: tests/statistics/test_averages.py",
    r"taulo_|eighty_percent_": "sums and a rule, nothing to compute",
}


def rosner_numerator() -> float:
    """The numerator of the trend, of which the statistic is the square over its variance."""
    hits, trials = np.array([320, 1206, 1011, 463, 220]), np.array([1742, 5638, 3904, 1555, 626])
    share, score = hits.sum() / trials.sum(), np.arange(1, 6)
    off = score - (trials * score).sum() / trials.sum()
    variance = share * (1 - share) * (trials * off**2).sum()
    return float(np.sqrt(cochran_armitage(hits, trials, score).statistic * variance))


def rats_beta() -> tuple[float, float]:
    result = beta_binomial(TUMOURS, RATS)
    assert result.mean is not None
    size = 1 / result.rho - 1
    return result.mean * size, (1 - result.mean) * size


def test_every_row_is_checked_or_has_a_reason_not_to_be() -> None:
    for row in ROWS:
        name = row["name"]
        places = [
            name in CHECKS,
            bool(re.match(ELSEWHERE, name)),
            *(bool(re.match(pattern, name)) for pattern in NOT_FOR_US),
        ]
        assert sum(places) == 1, name


@pytest.mark.parametrize("row", [pytest.param(row, id=row["name"]) for row in ROWS if row["name"] in CHECKS])
def test_row(row: Row) -> None:
    if row["mark"] == "COMPUTED-ONLY":  # nobody published it; the table was made with another program
        assert CHECKS[row["name"]]() == pytest.approx(float(row["our_value"]), rel=1e-4)
    else:
        tolerance = float(row["tolerance"])
        assert CHECKS[row["name"]]() == pytest.approx(float(row["published_value"]), abs=tolerance)


def test_the_weights_of_the_logit_model_are_williams() -> None:
    # Williams 1982: with the right spread Pearson's statistic is its degrees of freedom; Collett gives 0.0249
    (row,) = (row for row in ROWS if row["name"] == "seeds_williams_phi")
    assert seeds_pearson(float(row["our_value"])) == pytest.approx(17, abs=0.35)
