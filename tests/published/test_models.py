"""Several factors, their interaction, and scatter beside them, against published analyses.

Oats: Yates 1935 as analysed in Venables & Ripley, Modern Applied Statistics with S, chapter 10 (memory, reproduced).
Machines and coolants: NIST/SEMATECH e-Handbook 3.2.3.2 (memory, reproduced).
Tukey: table of the studentized range, 5 % (memory), which scipy computes too.
"""

from __future__ import annotations

import re

import numpy as np
import pytest
from scipy import stats
from tests.published.data_files import FOLDER, columns, numbers
from tests.published.printed import assert_printed

from ohmsworth.inference.model import Model, fit_model

OATS = "mass_oats.csv"


def oats(**more: object) -> Model:
    data = columns(OATS)
    return fit_model(
        numbers(OATS, "Y"),
        groups={"block": data["B"], "plot": (data["B"], data["V"])},
        **{"factors": {"V": data["V"], "N": data["N"]}, **more},  # type: ignore[arg-type]
    )


def test_the_split_plot() -> None:
    """Varieties are judged by whole plots (10 degrees of freedom), nitrogen by what is within them (45)."""
    model = oats()
    for factors, statistic, above, below in (
        (["V"], "1.4853", 2, 10),
        (["N"], "37.686", 3, 45),
        (["V", "N"], "0.3028", 6, 45),
    ):
        found = model.test(*factors)
        assert_printed(statistic, found.statistic)
        assert found.above == above
        assert found.below == pytest.approx(below, rel=1e-6)
    assert model.variances == pytest.approx(
        {"block": 214.4771, "plot": 106.0618, "reading": 177.0833}, rel=1e-6
    )


def test_without_the_interaction() -> None:
    """The additive model: nitrogen then has 51 degrees of freedom."""
    model = oats(terms=[("V",), ("N",)])
    assert_printed("41.05", model.test("N").statistic)
    assert model.test("N").below == pytest.approx(51, rel=1e-6)
    assert_printed("1.485", model.test("V").statistic)


def test_a_slope() -> None:
    """Yield on nitrogen as a quantity: 73.67, standard error 6.78, 53 degrees of freedom."""
    data = columns(OATS)
    slope = oats(factors={"V": data["V"]}, covariates={"nitrogen": [float(n[:3]) for n in data["N"]]}).slope(
        "nitrogen"
    )
    assert_printed("73.67", slope.value)
    assert_printed("6.78", slope.standard_error)
    assert slope.freedom == pytest.approx(53, rel=1e-6)


def test_every_two_levels_together() -> None:
    """Tukey: half-width over standard error is q/√2, q(5 %; 4, 45) between the printed 3.79 (40) and 3.74 (60)."""
    for pair in oats().comparisons("N"):
        low, high = pair.together
        q = (high - low) / 2 / pair.estimate.standard_error * np.sqrt(2)
        assert 3.737 < q < 3.791
        assert q == pytest.approx(stats.studentized_range.ppf(0.95, 4, 45), rel=1e-5)


@pytest.mark.parametrize(
    ("groups", "each", "printed"), [(3, 5, "3.77"), (4, 6, "3.96"), (5, 13, "3.98"), (3, 3, "4.34")]
)
def test_tukeys_table(groups: int, each: int, printed: str) -> None:
    """One-way, equal numbers: q at 12, 20, 60 and 6 degrees of freedom."""
    level = [chr(65 + g) for g in range(groups) for _ in range(each)]
    model = fit_model(np.random.default_rng(groups).normal(0, 1, len(level)), factors={"kind": level})
    for pair in model.comparisons("kind"):
        assert_printed(
            printed, (pair.together[1] - pair.together[0]) / 2 / pair.estimate.standard_error * np.sqrt(2)
        )


def test_crossed_factors_without_groups() -> None:
    """Machines × coolants: F 8.8, 0.45 and 0.42 in the analysis of variance (exact: 8.766, 0.453, 0.424)."""
    lines = (FOLDER / "nist_CHARACTERIZE-3_2_3_2.DAT").read_text("utf-8").splitlines()
    rows = [line.split() for line in lines if re.fullmatch(r"[AB]\s+\d\s+0\.[0-9]+\s*", line)]
    assert len(rows) == 50
    coolant, machine, value = ([row[i] for row in rows] for i in range(3))
    model = fit_model([float(v) for v in value], factors={"machine": machine, "coolant": coolant})
    assert_printed("8.8", model.test("machine").statistic)
    assert_printed("0.45", model.test("coolant").statistic)
    assert_printed("0.42", model.test("machine", "coolant").statistic)
    assert model.test("machine").statistic == pytest.approx(8.766473988439335, rel=1e-7)
    assert model.test("machine").below == pytest.approx(40)
