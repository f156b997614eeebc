"""What must not change an answer, and what must change it in a known way."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.tables import known_resistances, reading_table

from ohmsworth.inference.comparisons import ComparisonResult, compare
from ohmsworth.inference.conditions import ConditionResult, condition_result
from ohmsworth.inference.means import specimen_means
from ohmsworth.inference.measured import measure
from ohmsworth.inference.specimens import SpecimenResults, specimen_results
from ohmsworth.readings import Accuracy, Bench, Labels
from ohmsworth.resistance import Resistances, reduce_readings

SEEDS = st.integers(0, 2**32 - 1)
SCALES = st.sampled_from(["log", "linear"])
LIMIT, MARGIN = 4e-3, 8e-4


@dataclass(frozen=True)
class Answer:
    conditions: tuple[ConditionResult, ...]
    comparison: ComparisonResult
    specimens: SpecimenResults


def answer(resistances: Resistances, scale: str, factor: float = 1.0) -> Answer:
    measured = measure(resistances, scale, "auto")
    conditions = tuple(condition_result(measured, c, LIMIT * factor, 0.95) for c in range(2))
    comparison = compare(measured, conditions[1], conditions[0], MARGIN * factor, 0.95, 0)
    assert comparison is not None
    specimens = specimen_results(measured, specimen_means(measured.design).value, LIMIT * factor, 0.95)
    return Answer(conditions, comparison, specimens)


def study(seed: int) -> Resistances:
    """Two conditions, specimens of their own or shared, unbalanced matings, meters with accuracy."""
    rng = np.random.default_rng(seed)
    paired = rng.random() < 0.5
    rows = [
        (c, s if paired else 10 * c + s, m)
        for c in range(2)
        for s in range(rng.integers(3, 5) if not paired else 3)
        for m in range(rng.integers(1, 4))
        for _ in range(rng.integers(1, 4))
    ]
    condition, specimen, mating = np.array(rows).T
    cell = np.unique(np.array(rows)[:, :2], axis=0, return_inverse=True)[1].ravel()
    logs = np.log(2.6e-3) + 0.3 * condition + rng.normal(0, 0.2, 50)[specimen] + rng.normal(0, 0.1, 50)[cell]
    value = np.exp(logs + rng.normal(0, 0.05, len(rows)))
    return known_resistances(
        value, specimen, condition, mating=mating, gain=0.005, independent=1e-5, emf=2e-6 * rng.integers(0, 2)
    )


def assert_same(one: Answer, other: Answer, factor: float = 1.0) -> None:
    """`other` is `one` with every resistance times `factor`."""
    for a, b in zip(one.conditions, other.conditions, strict=True):
        for name in ("value", "uncertainty", "low", "high", "tolerance"):
            assert getattr(b, name) == pytest.approx(factor * getattr(a, name), rel=1e-6), name
        for name in ("freedom", "probability_within", "probability_over"):
            assert getattr(b, name) == pytest.approx(getattr(a, name), rel=1e-5, abs=1e-9), name
        assert (a.specimens, a.readings) == (b.specimens, b.readings)
    a, b = one.comparison, other.comparison
    tiny = 1e-9 * factor
    assert b.difference == pytest.approx(factor * a.difference, rel=1e-6, abs=tiny)
    assert b.difference_interval == pytest.approx(
        [factor * x for x in a.difference_interval], rel=1e-5, abs=tiny
    )
    assert b.ratio == pytest.approx(a.ratio, rel=1e-6)
    assert b.ratio_interval == (
        None if a.ratio_interval is None else pytest.approx(a.ratio_interval, rel=1e-5)
    )
    assert b.p_value == pytest.approx(a.p_value, rel=1e-4, abs=1e-9)
    assert b.exact == a.exact
    assert b.verdict == a.verdict
    assert [n.specimens for n in b.settle] == [n.specimens for n in a.settle]
    assert sorted(other.specimens.value) == pytest.approx(sorted(factor * one.specimens.value), rel=1e-6)
    assert sorted(other.specimens.probability) == pytest.approx(
        sorted(one.specimens.probability), rel=1e-4, abs=1e-9
    )


@given(SEEDS, SCALES, st.sampled_from([1e-6, 1e-3, 0.5, 1e3, 1e9]))
@settings(max_examples=25)
def test_all_resistances_in_another_unit(seed: int, scale: str, factor: float) -> None:
    one = study(seed)
    other = replace(
        one,
        value=factor * one.value,
        independent=factor * one.independent,
        emf=factor * one.emf,
        shared={name: factor * part for name, part in one.shared.items()},
    )
    assert_same(answer(one, scale), answer(other, scale, factor), factor)


@given(SEEDS, SCALES)
@settings(max_examples=25)
def test_rows_in_another_order(seed: int, scale: str) -> None:
    one = study(seed)
    order = np.random.default_rng(seed).permutation(len(one))
    assert_same(answer(one, scale), answer(one.take(order), scale))


@given(SEEDS, SCALES)
@settings(max_examples=25)
def test_specimens_and_matings_by_other_names(seed: int, scale: str) -> None:
    one, rng = study(seed), np.random.default_rng(seed)

    def renamed(labels: Labels) -> Labels:
        number = rng.permutation(len(labels.names) + 3)[: len(labels.names)]
        return Labels(number[labels.codes], tuple(f"new {i}" for i in range(len(labels.names) + 3)))

    assert one.mating is not None
    other = replace(one, specimen=renamed(one.specimen), mating=renamed(one.mating))
    assert_same(answer(one, scale), answer(other, scale))


@given(SEEDS, SCALES)
@settings(max_examples=25)
def test_conditions_exchanged(seed: int, scale: str) -> None:
    """Labels exchanged: differences change their sign, ratios are turned upside down, p-values stay."""
    one = study(seed)
    other = replace(one, condition=Labels(1 - one.condition.codes, one.condition.names))
    a, b = answer(one, scale).comparison, answer(other, scale).comparison
    assert b.difference == pytest.approx(-a.difference, rel=1e-6, abs=1e-12)
    assert b.difference_interval == pytest.approx(
        [-x for x in a.difference_interval[::-1]], rel=1e-5, abs=1e-10
    )
    assert a.ratio is not None
    assert b.ratio == pytest.approx(1 / a.ratio, rel=1e-6)
    if scale == "log":
        assert a.ratio_interval is not None
        assert b.ratio_interval == pytest.approx([1 / x for x in a.ratio_interval[::-1]], rel=1e-5)
    assert b.p_value == pytest.approx(a.p_value, rel=1e-4, abs=1e-9)
    assert b.exact == a.exact
    assert b.verdict == a.verdict


@given(SEEDS)
@settings(max_examples=25)
def test_logarithms_shift(seed: int) -> None:
    """On the logarithmic scale a common factor moves medians and leaves scatter, ratio and freedom alone."""
    one = study(seed)
    a = measure(one, "log", "auto").engine
    b = measure(replace(one, value=7 * one.value), "log", "auto").engine
    assert a is not None
    assert b is not None
    assert b.fit.mean - a.fit.mean == pytest.approx(np.full(2, np.log(7)), rel=1e-7)
    assert b.fit.variance == pytest.approx(a.fit.variance, rel=1e-5, abs=1e-10)


@given(SEEDS, st.sampled_from([1e-3, 1.0, 1e3]), st.sampled_from([1e-3, 1.0, 1e3]))
@settings(max_examples=25)
def test_volts_and_amperes_in_other_units(seed: int, volt: float, ampere: float) -> None:
    """The reduction has no unit of its own: only V/I counts, for the value and every part of its uncertainty."""
    rng = np.random.default_rng(seed)
    polarity = "".join(rng.choice(list("+-0"), 12))
    sign = np.array([{"+": 1, "-": -1, "0": 0}[p] for p in polarity])
    current = 0.1 * sign * (1 + rng.normal(0, 0.01, 12))
    voltage = 2.6e-3 * current + rng.normal(3e-6, 1e-6, 12)

    def reduced(v: float, i: float) -> Resistances:
        table = reading_table(polarity, voltage=v * voltage, current=i * current, specimen="aaaaaabbbbbb")
        bench = Bench(Accuracy(0.005, 3, v * 1e-7), Accuracy(0.002, 2, i * 1e-4), emf_allowance=v * 3e-6)
        return reduce_readings(table, bench, np.arange(12))

    one, other = reduced(1, 1), reduced(volt, ampere)
    unit = volt / ampere
    assert other.form.tolist() == one.form.tolist()
    assert other.rows.tolist() == one.rows.tolist()
    for a, b in ((one.value, other.value), (one.independent, other.independent), (one.emf, other.emf)):
        assert b == pytest.approx(unit * a, rel=1e-9)
    for name in one.shared:
        assert other.shared[name] == pytest.approx(unit * one.shared[name], rel=1e-9)


@given(SEEDS)
@settings(max_examples=25)
def test_leads_exchanged(seed: int) -> None:
    """Current and voltage leads both turned round, every sign changes and no resistance does."""
    rng = np.random.default_rng(seed)
    polarity = "+-+--+"
    current = 0.1 * np.array([1, -1, 1, -1, -1, 1])
    voltage = 2.6e-3 * current * (1 + rng.normal(0, 0.02, 6)) + 4e-6
    turned = polarity.translate(str.maketrans("+-", "-+"))
    one = reading_table(polarity, voltage=voltage, current=current)
    other = reading_table(turned, voltage=-voltage, current=-current)
    a, b = (reduce_readings(t, Bench(), np.arange(6)) for t in (one, other))
    assert sorted(b.value) == pytest.approx(sorted(a.value), rel=1e-12)
