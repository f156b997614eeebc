"""Scatter at several levels against published analyses.

Status beside each: published (read or quoted), memory (recalled, then reproduced), exact mathematics,
reference software (R packages lme4 1.1-31 and pbkrtest 0.5.2).
"""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest
from tests.published.data_files import columns, numbers
from tests.published.printed import assert_printed
from tests.tables import design_of

from ohmsworth.inference.design import Design
from ohmsworth.inference.engine import condition_mean, difference, make_engine
from ohmsworth.inference.reml import Fit, fit_reml
from ohmsworth.inference.unequal import level_squares

# ------------------------------------------------------------------ balanced, one level: Dyestuff


def dyestuff() -> Design:
    return design_of(numbers("lme4_Dyestuff.csv", "Yield"), columns("lme4_Dyestuff.csv")["Batch"])


def test_dyestuff() -> None:
    """Box & Tiao 1973 and the lme4 documentation, memory; exact mathematics: (MSB − MSW)/5 and MSW."""
    fit = fit_reml(dyestuff())
    assert_printed("1764", fit.of("specimen", 0))
    assert_printed("2451", fit.of("reading", 0))
    assert_printed("319.65", fit.criterion)
    assert fit.of("specimen", 0) == pytest.approx((11271.5 - 2451.25) / 5, rel=1e-8)
    assert fit.of("reading", 0) == pytest.approx(2451.25, rel=1e-8)
    assert fit.criterion == pytest.approx(319.654276842257, rel=1e-10)  # reference software, lme4


def test_dyestuff_mean() -> None:
    """Memory: 1527.5, 19.38; reference software pbkrtest: 5 degrees of freedom, 19.383 412.

    Exact mathematics: a balanced one-way mean is Student's on the six batch means.
    """
    mean = condition_mean(make_engine(dyestuff(), "auto"), 0)
    assert_printed("1527.5", mean.value)
    assert_printed("19.38", mean.standard_error)
    assert mean.standard_error == pytest.approx(19.383412178753, rel=1e-6)
    assert mean.freedom == pytest.approx(5, rel=1e-8)
    assert mean.interval(0.95) == pytest.approx((1477.6733528, 1577.3266472), abs=1e-4)


# ------------------------------------------------------------------ balanced, two levels: Pastes


def pastes() -> Design:
    data = columns("lme4_Pastes.csv")
    return design_of(numbers("lme4_Pastes.csv", "strength"), data["batch"], contact=data["cask"])


def test_pastes() -> None:
    """Exact mathematics (expected mean squares 27.489, 17.545, 0.678); reference software lme4.

    The lme4 documentation prints 8.434, 1.657, 0.678 (memory).
    """
    fit = fit_reml(pastes())
    for level, printed, exact, software in (
        ("contact", "8.434", 8.433666666666666, 8.433665931295),
        ("specimen", "1.657", 1.6573086419752983, 1.657310911834),
        ("reading", "0.678", 0.678, 0.6779999496688),
    ):
        assert_printed(printed, fit.of(level, 0))
        assert fit.of(level, 0) == pytest.approx(exact, rel=1e-7)
        assert fit.of(level, 0) == pytest.approx(software, rel=2e-4)
    assert_printed("246.99", fit.criterion)


def test_pastes_mean() -> None:
    """Memory: 60.0533, 0.67687; reference software pbkrtest: 9 degrees of freedom."""
    mean = condition_mean(make_engine(pastes(), "auto"), 0)
    assert_printed("60.0533", mean.value)
    assert_printed("0.67687", mean.standard_error)
    assert mean.freedom == pytest.approx(8.999999999999, rel=1e-6)
    batches = np.array(numbers("lme4_Pastes.csv", "strength")).reshape(10, 6).mean(1)
    assert mean.standard_error == pytest.approx(batches.std(ddof=1) / np.sqrt(10), rel=1e-8)


# ------------------------------------------------------------------ split plot: oats


def test_oats_varieties() -> None:
    """Yates 1935 in Venables & Ripley, MASS, chapter 10, memory: F = 1.485 with 2 and 10 degrees of freedom.

    Varieties are compared within blocks against the whole-plot error. Nitrogen is taken out by its means, which
    in a balanced trial leaves the varieties' test as it is. The three pairwise t² add up to 3 F.
    """
    data, y = columns("mass_oats.csv"), np.array(numbers("mass_oats.csv", "Y"))
    nitrogen = np.array(data["N"])
    for amount in np.unique(nitrogen):
        y[nitrogen == amount] -= y[nitrogen == amount].mean()
    engine = make_engine(design_of(y, data["B"], data["V"]), "equal")
    assert not engine.fit.at_bound
    pairs = [difference(engine, of, against) for of, against in ((0, 1), (0, 2), (1, 2))]
    for pair in pairs:
        assert pair.freedom == pytest.approx(10, rel=1e-6)
    assert_printed("1.485", sum(pair.value**2 / pair.variance for pair in pairs) / 3)


# ------------------------------------------------------------------ certified: NIST StRD

# Between and within mean square and F, certified to 15 digits, published; observations a group.
CERTIFIED = {
    "SiRstv": (1.27865654000000e-02, 1.08318280000000e-02, 1.18046237440255, 5),
    "SmLs01": (2.10000000000000e-01, 1.00000000000000e-02, 2.10000000000000e01, 21),
    "SmLs04": (2.10000000000000e-01, 1.00000000000000e-02, 2.10000000000000e01, 21),
    "SmLs07": (2.10000000000000e-01, 1.00000000000000e-02, 2.10000000000000e01, 21),
}
# What the data allow: a value of 1e6 + 0.4 is stored to 1e-10, one of 1e12 + 0.4 to 1e-4.
RELATIVE = {"SiRstv": 1e-9, "SmLs01": 1e-9, "SmLs04": 1e-8, "SmLs07": 3e-2}


def one_way(name: str) -> Design:
    file = f"anova_{name}.csv"
    return design_of(numbers(file, "y"), columns(file)["treatment"])


@pytest.mark.parametrize("name", CERTIFIED)
def test_certified_mean_squares(name: str) -> None:
    between, within, f, each = CERTIFIED[name]
    squares = level_squares(one_way(name))
    assert squares["reading"][0][0] == pytest.approx(within, rel=RELATIVE[name])
    assert each * squares["specimen"][0][0] == pytest.approx(between, rel=RELATIVE[name])
    assert each * squares["specimen"][0][0] / squares["reading"][0][0] == pytest.approx(f, rel=RELATIVE[name])


@pytest.mark.parametrize("name", CERTIFIED)
def test_certified_scatter(name: str) -> None:
    """In a balanced layout REML is the analysis of variance: MSW, and (MSB − MSW)/n."""
    between, within, f, each = CERTIFIED[name]
    fit = fit_reml(one_way(name))
    reading, specimen = fit.of("reading", 0), fit.of("specimen", 0)
    assert reading == pytest.approx(within, rel=RELATIVE[name])
    assert reading + each * specimen == pytest.approx(between, rel=RELATIVE[name])
    assert (reading + each * specimen) / reading == pytest.approx(f, rel=RELATIVE[name])


def exact_mean_squares(name: str) -> tuple[float, float]:
    """Between and within mean square of the numbers as a computer stores them, in exact fractions."""
    y = [Fraction(value) for value in numbers(f"anova_{name}.csv", "y")]
    treatment = columns(f"anova_{name}.csv")["treatment"]
    groups = [
        [v for v, t in zip(y, treatment, strict=True) if t == label] for label in sorted(set(treatment))
    ]
    means = [sum(g) / len(g) for g in groups]
    grand = sum(y) / len(y)
    between = sum(len(g) * (m - grand) ** 2 for g, m in zip(groups, means, strict=True)) / (len(groups) - 1)
    within = sum((v - m) ** 2 for g, m in zip(groups, means, strict=True) for v in g) / (len(y) - len(groups))
    return float(between), float(within)


@pytest.mark.parametrize("name", CERTIFIED)
def test_no_digit_is_lost_beyond_those_that_storing_loses(name: str) -> None:
    """Exact mathematics: the offset of 1e12 costs nothing more than it cost the data."""
    between, within = exact_mean_squares(name)
    fit, each = fit_reml(one_way(name)), CERTIFIED[name][3]
    assert fit.of("reading", 0) == pytest.approx(within, rel=1e-6)
    assert fit.of("reading", 0) + each * fit.of("specimen", 0) == pytest.approx(between, rel=1e-6)


# ------------------------------------------------------------------ crossed: parts × appraisers


def appraised() -> Fit:
    data = columns("aiag_gage.csv")
    pair = [f"{p}×{a}" for p, a in zip(data["part"], data["appraiser"], strict=True)]
    return fit_reml(
        design_of(numbers("aiag_gage.csv", "value"), pair, plug=data["part"], socket=data["appraiser"])
    )


def test_parts_by_appraisers() -> None:
    """AIAG MSA 4th ed., analysis of variance, memory: sums of squares 88.3619, 3.1673, 0.3590, 2.7589.

    The interaction's mean square lies below the error's, so its scatter is zero and the two are pooled, as the
    manual does: EV 0.199933, AV 0.226838, PV 1.042327 (memory).
    """
    fit = appraised()
    assert fit.of("specimen", 0) == 0
    assert_printed("0.199933", np.sqrt(fit.of("reading", 0)))
    assert_printed("0.226838", np.sqrt(fit.of("socket", 0)))
    assert_printed("1.042327", np.sqrt(fit.of("plug", 0)))


def test_parts_by_appraisers_from_the_sums_of_squares() -> None:
    """Exact mathematics: expected mean squares of the additive layout, 10 parts × 3 appraisers × 3 trials."""
    y = np.array(numbers("aiag_gage.csv", "value"))
    data = columns("aiag_gage.csv")

    def square(label: list[str]) -> float:
        names = np.array(label)
        return sum((names == n).sum() * (y[names == n].mean() - y.mean()) ** 2 for n in np.unique(names))

    part, appraiser = square(data["part"]), square(data["appraiser"])
    assert_printed("88.3619", part)
    assert_printed("3.1673", appraiser)
    error = (((y - y.mean()) ** 2).sum() - part - appraiser) / (89 - 9 - 2)
    fit = appraised()
    assert fit.of("reading", 0) == pytest.approx(error, rel=1e-7)
    assert fit.of("plug", 0) == pytest.approx((part / 9 - error) / 9, rel=1e-7)
    assert fit.of("socket", 0) == pytest.approx((appraiser / 2 - error) / 30, rel=1e-7)


# ------------------------------------------------------------------ machines

# NIST/SEMATECH e-Handbook 3.2.3.1: five diameters from each of five machines.
MACHINES = {
    1: (0.125, 0.127, 0.125, 0.126, 0.128), 2: (0.118, 0.122, 0.120, 0.124, 0.119),
    3: (0.123, 0.125, 0.125, 0.124, 0.126), 4: (0.126, 0.128, 0.126, 0.127, 0.129),
    5: (0.118, 0.129, 0.127, 0.120, 0.121),
}  # fmt: skip


def test_machines() -> None:
    """NIST/SEMATECH e-Handbook 3.2.3.1, memory: sums of squares 0.000137 and 0.000132.

    The page prints F = 4.86, the quotient of mean squares rounded to 0.000034 and 0.000007. From the data it is
    exactly 5.20606...; that is what is held here.
    """
    fit = fit_reml(
        design_of([d for each in MACHINES.values() for d in each], [m for m in MACHINES for _ in range(5)])
    )
    within = fit.of("reading", 0)
    between = within + 5 * fit.of("specimen", 0)
    assert_printed("0.000132", 20 * within)
    assert_printed("0.000137", 4 * between)
    exact = [[Fraction(str(d)) for d in each] for each in MACHINES.values()]
    means = [sum(g) / 5 for g in exact]
    msb = 5 * sum((m - sum(means) / 5) ** 2 for m in means) / 4
    msw = sum((d - m) ** 2 for g, m in zip(exact, means, strict=True) for d in g) / 20
    assert between / within == pytest.approx(float(msb / msw), rel=1e-6)
    assert_printed("5.20606", float(msb / msw))
    assert_printed("4.86", 0.000034 / 0.000007)  # where the printed value comes from
