"""Control charts and repeatability studies against published analyses.

Status beside each: published (read or quoted), memory (recalled, then reproduced), exact mathematics, second
computation.
"""

from __future__ import annotations

import json
import math

import numpy as np
import pytest
from scipy import stats
from tests.published.data_files import FOLDER, columns, numbers
from tests.published.printed import assert_printed

from ohmsworth.inference.control import (
    Limits,
    c4,
    cusum_run_length,
    d2,
    d3,
    ewma,
    ewma_run_length,
    individuals,
    limits_from,
    shewhart_run_length,
)
from ohmsworth.inference.gauge import (
    GaugeResult,
    crossed_anova,
    gauge,
    level_deviations,
    pooled_deviation,
)
from ohmsworth.readings import Labels

# ------------------------------------------------------------------ constants

#: ISO 7870-2 Table 2 and ASTM MNL7, memory: c4, d2, d3 (0.853 where exact mathematics gives 0.8525), D4.
CONSTANTS = {
    2: ("0.7979", "1.128", "3.267"), 3: ("0.8862", "1.693", "2.574"),
    4: ("0.9213", "2.059", "2.282"), 5: ("0.9400", "2.326", "2.114"),
}  # fmt: skip
RANGE_SPREAD = {3: "0.888", 4: "0.880", 5: "0.864"}


@pytest.mark.parametrize(("n", "printed"), CONSTANTS.items())
def test_constants(n: int, printed: tuple[str, str, str]) -> None:
    assert_printed(printed[0], c4(n))
    assert_printed(printed[1], d2(n))
    # The tables multiply constants that were rounded before: one unit of the last digit.
    assert 1 + 3 * d3(n) / d2(n) == pytest.approx(float(printed[2]), abs=1e-3)
    if n in RANGE_SPREAD:
        assert_printed(RANGE_SPREAD[n], d3(n))


def test_constants_of_two_are_exact() -> None:
    """Exact mathematics."""
    assert c4(2) == pytest.approx(math.sqrt(2 / math.pi), rel=1e-13)
    assert d2(2) == pytest.approx(2 / math.sqrt(math.pi), rel=1e-12)
    assert d3(2) == pytest.approx(math.sqrt(2 - 4 / math.pi), rel=1e-11)


# ------------------------------------------------------------------ charts


def test_individuals() -> None:
    """NIST/SEMATECH e-Handbook 6.3.2.2, flow rates of ten batches, memory: 50.81, 1.8778, 55.8041, 45.8159.

    The page divides by 1.128; with d2 = 1.12838 the limits move by 0.0017.
    """
    flow = np.array([49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1])
    limits = limits_from(flow, 10)
    assert_printed("50.81", limits.centre)
    assert_printed("1.8778", limits.range)
    rounded = Limits(limits.centre, limits.range / 1.128, limits.range, 10)
    chart = individuals(flow, rounded)
    assert_printed("55.8041", chart.upper)
    assert_printed("45.8159", chart.lower)
    assert not chart.beyond.any()
    assert individuals(flow, limits).upper == pytest.approx(55.8041, abs=0.002)


def test_ewma() -> None:
    """NIST/SEMATECH e-Handbook 6.3.2.4, published: twenty averages; limits 52.5884 and 47.4115.

    The page takes λ = 0.3, centre 50, s = 2.0539, and the factor √(0.3/1.7) rounded to 0.4201.
    """
    values = np.array(numbers("nist_ewma_6324.csv", "x"))
    chart = ewma(values, Limits(50.0, 2.0539, 0.0, 20), weight=0.3, width=3.0)
    for printed, value in zip(columns("nist_ewma_6324.csv")["ewma_printed"], chart.value, strict=True):
        assert_printed(printed, value)
    assert not chart.beyond.any()
    assert chart.upper[-1] == pytest.approx(52.5884, abs=3e-4)
    assert chart.lower[-1] == pytest.approx(47.4115, abs=3e-4)
    assert pytest.approx(52.5884, abs=2e-4) == 50 + 3 * 0.4201 * 2.0539


def test_check_standard_137() -> None:
    """NIST/SEMATECH e-Handbook 2.6.2.2, memory: mean 97.07, level-2 0.0268 (24), level-1 0.0614 (125)."""
    value = np.array(numbers("nist_mpc62_check137.csv", "value"))
    within, freedom = pooled_deviation(
        np.array(numbers("nist_mpc62_check137.csv", "sd6")),
        np.array(numbers("nist_mpc62_check137.csv", "df")),
    )
    between, runs = level_deviations(value, np.zeros(len(value), np.int64))
    assert_printed("97.07", value.mean())
    assert_printed("0.0268", between[0])
    assert_printed("0.0614", within)
    assert freedom == 125
    assert runs is None


def test_check_standard_140_in_three_levels() -> None:
    """NIST/SEMATECH e-Handbook 2.4.4.1, data published, results a second computation."""
    lines = (FOLDER / "nist_MPC441.DAT").read_text("ascii").splitlines()
    rows = [line.split() for line in lines if line.strip()[:1] in ("1", "2") and "140" in line.split()[1:2]]
    assert len(rows) == 12
    run = np.array([int(row[0]) - 1 for row in rows])
    average, deviation, freedom = (np.array([float(row[i]) for row in rows]) for i in (7, 8, 9))
    second, third = level_deviations(average, run)
    assert pooled_deviation(deviation, freedom)[0] == pytest.approx(0.0787143517197891, abs=1e-10)
    assert second == pytest.approx((0.0272793450556763, 0.027563067076557198), abs=1e-10)
    assert third == pytest.approx(0.028849956672414242, abs=1e-10)


# ------------------------------------------------------------------ run lengths


def test_shewhart_run_lengths() -> None:
    """Exact mathematics; NIST/SEMATECH e-Handbook 6.3.2 prints 370."""
    for offset, printed in ((0, "370.4"), (1, "43.9"), (2, "6.3"), (3, "2.0")):
        assert_printed(printed, shewhart_run_length(offset))
        p = stats.norm.sf(3 - offset) + stats.norm.cdf(-3 - offset)
        assert shewhart_run_length(offset) == pytest.approx(1 / p, rel=1e-12)


SHIFTS = (0, 0.25, 0.5, 0.75, 1, 1.5, 2, 2.5, 3, 4)
#: Lucas 1976, as in Montgomery, Introduction to Statistical Quality Control, Table 9.3, memory: k = 0.5.
CUSUM = {
    4: (168, 74.2, 26.6, 13.3, 8.38, 4.75, 3.34, 2.62, 2.19, 1.71),
    5: (465, 139, 38.0, 17.0, 10.4, 5.75, 4.01, 3.11, 2.57, 2.01),
}


@pytest.mark.parametrize("h", CUSUM)
def test_cusum_run_lengths(h: int) -> None:
    second = np.array(json.loads((FOLDER / "spc_arl.json").read_text("ascii"))["cusum"])[:, h - 4]
    for offset, printed, exact in zip(SHIFTS, CUSUM[h], second, strict=True):
        found = cusum_run_length(offset, 0.5, h)
        assert found == pytest.approx(printed, rel=6e-3)
        assert found == pytest.approx(exact, rel=1e-7)  # second computation


def test_ewma_run_lengths() -> None:
    """Lucas & Saccucci 1990, memory: every scheme of the table has 500 in control; digits a second computation."""
    second = json.loads((FOLDER / "spc_arl.json").read_text("ascii"))["ewma"]
    schemes = ((0.4, 3.054), (0.25, 2.998), (0.2, 2.962), (0.1, 2.814), (0.05, 2.615))
    for offset, row in zip(SHIFTS, second, strict=True):
        for (weight, width), exact in zip(schemes, row, strict=True):
            assert ewma_run_length(offset, weight, width) == pytest.approx(exact, rel=1e-7)
    for scheme in schemes:
        assert ewma_run_length(0, *scheme) == pytest.approx(500, rel=2e-3)


# ------------------------------------------------------------------ repeatability study


def study() -> tuple[np.ndarray, Labels, Labels]:
    data = columns("aiag_gage.csv")
    return np.array(numbers("aiag_gage.csv", "value")), Labels.of(data["part"]), Labels.of(data["appraiser"])


def test_anova_of_parts_and_appraisers() -> None:
    """AIAG MSA 4th ed., memory: sums of squares, and F against the equipment's mean square 34.44, 213.52, 0.434.

    Parts and appraisers are random, so that here they are tested against the interaction; the manual's F are the
    quotients by the row below.
    """
    y, part, appraiser = study()
    rows = crossed_anova(y, part.codes, appraiser.codes)
    assert rows is not None
    for row, printed in zip(rows, ("88.3619", "3.1673", "0.3590", "2.7589"), strict=True):
        assert_printed(printed, row.squares)
    assert [row.freedom for row in rows] == [9, 2, 18, 60]
    error = rows[3].mean_square
    assert_printed("213.52", rows[0].mean_square / error)
    assert_printed("34.44", rows[1].mean_square / error)
    assert_printed("0.434", rows[2].mean_square / error)
    assert rows[0].f == pytest.approx(rows[0].mean_square / rows[2].mean_square)
    assert rows[2].raw < 0 == rows[2].variance


def result() -> GaugeResult:
    found = gauge(*study())
    assert found is not None
    return found


def test_components_of_parts_and_appraisers() -> None:
    """AIAG MSA 4th ed., memory: EV 0.199933, AV 0.226838, GRR 0.302373, PV 1.042327, ndc 4."""
    found = result()
    assert_printed("0.199933", found.repeatability)
    assert found.operator is not None
    assert found.reproducibility is not None
    assert found.specimen is not None
    assert_printed("0.226838", found.reproducibility)
    assert_printed("1.042327", found.specimen)
    assert found.bench == pytest.approx(0.302373, abs=2e-6)
    assert found.categories == 4
    assert found.interaction == 0
    assert found.form == "crossed"
