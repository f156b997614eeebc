"""Which specimen, left out, would change a verdict: held to Student's and Welch's t of a general library without each."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats
from tests.tables import known_resistances

from ohmsworth.inference.comparisons import compare, comparison_verdict
from ohmsworth.inference.conditions import chance_within, condition_result
from ohmsworth.inference.conformity import verdict
from ohmsworth.inference.equivalence import ENOUGH, OPEN, TOO_SMALL
from ohmsworth.inference.measured import measure
from ohmsworth.inference.sensitivity import (
    MOST_CONDITIONS,
    MOST_DROPPED,
    MOST_PARTS,
    Sensitivity,
    sensitivity,
)
from ohmsworth.readings.study import Limit, Study
from ohmsworth.resistance import Resistances

NEW = [2.42e-3, 2.51e-3, 2.38e-3, 2.47e-3, 2.45e-3]
WORN = [2.61e-3, 2.55e-3, 2.66e-3, 2.58e-3, 3.30e-3]
MARGIN, LIMIT = 0.4e-3, 2.8e-3


def study(limit: float | None = LIMIT) -> Study:
    return Study("?", "new", scale="linear", limit=Limit(limit, "datasheet") if limit else None)


def two(new: list[float], worn: list[float]) -> Resistances:
    names = [f"N{i}" for i in range(len(new))] + [f"W{i}" for i in range(len(worn))]
    return known_resistances([*new, *worn], names, ["new"] * len(new) + ["worn"] * len(worn))


def found(
    resistances: Resistances,
    limit: float | None = LIMIT,
    margin: float | None = MARGIN,
    against: int | None = 0,
) -> tuple[Sensitivity, ...]:
    asked = study(limit)
    pairs = (
        []
        if against is None
        else [(of, against) for of in range(int(resistances.condition.codes.max()) + 1) if of != against]
    )
    return sensitivity(resistances, measure(resistances, "linear", "auto"), asked, margin, pairs)


def by_welch(new: list[float], worn: list[float]) -> str:
    """The verdict of two one-sided Welch tests at 5 %."""
    low, high = stats.ttest_ind(worn, new, equal_var=False).confidence_interval(0.90)
    return TOO_SMALL if low > -MARGIN and high < MARGIN else ENOUGH if low > MARGIN else OPEN


def by_student(values: list[float]) -> str:
    """The verdict of a mean against the limit."""
    chance = stats.t.cdf((LIMIT - np.mean(values)) / stats.sem(values), len(values) - 1)
    return verdict(float(chance), 0.95)


def without(values: list[float], i: int) -> list[float]:
    return values[:i] + values[i + 1 :]


@pytest.mark.parametrize("last", [3.30e-3, 3.05e-3, 2.90e-3, 2.75e-3])
def test_each_is_left_out_as_a_general_library_would(last: float) -> None:
    """scipy's Welch and Student intervals without each specimen in turn."""
    worn = [*WORN[:-1], last]
    compared, of_new, of_worn = found(two(NEW, worn))
    assert compared.verdict == by_welch(NEW, worn)
    expected = {f"N{i}": by_welch(without(NEW, i), worn) for i in range(5)}
    expected |= {f"W{i}": by_welch(NEW, without(worn, i)) for i in range(5)}
    assert {c.name: c.verdict for c in compared.changes} == {
        name: said for name, said in expected.items() if said != compared.verdict
    }
    for one, values, letter in ((of_new, NEW, "N"), (of_worn, worn, "W")):
        assert (one.against, one.verdict) == (None, by_student(values))
        alone = {f"{letter}{i}": by_student(without(values, i)) for i in range(5)}
        assert {c.name: c.verdict for c in one.changes} == {
            name: said for name, said in alone.items() if said != one.verdict
        }
    assert {(s.dropped, s.kept) for s in (compared, of_new, of_worn)} == {(10, 0)}


def test_one_strange_specimen_keeps_a_verdict_open() -> None:
    compared = found(two(NEW, WORN))[0]
    assert compared.verdict == OPEN
    assert [(c.kind, c.name, c.verdict) for c in compared.changes] == [("specimen", "W4", TOO_SMALL)]


def test_a_pair_goes_from_both_conditions() -> None:
    names, shift = [f"S{i}" for i in range(4)], [0.30e-3, 0.31e-3, 0.29e-3, 0.90e-3]
    values = [*NEW[:4], *(a + b for a, b in zip(NEW[:4], shift, strict=True))]
    paired = known_resistances(values, names * 2, ["new"] * 4 + ["worn"] * 4)
    (compared,) = found(paired, limit=None)
    low, high = stats.t.interval(0.90, 2, np.mean(shift[:3]), stats.sem(shift[:3]))
    assert low > -MARGIN
    assert high < MARGIN
    assert (compared.verdict, compared.dropped) == (OPEN, 4)
    assert [(c.name, c.verdict) for c in compared.changes] == [("S3", TOO_SMALL)]


def test_two_of_a_condition_are_never_made_one() -> None:
    assert found(two(NEW[:2], WORN[:2])) == ()
    compared = found(two(NEW[:2], WORN[:4]))[0]
    assert (compared.dropped, compared.kept) == (4, 2)
    assert {c.name for c in compared.changes} <= {"W0", "W1", "W2", "W3"}


def test_nothing_asked_nothing_left_out() -> None:
    assert found(two(NEW, WORN), limit=None, margin=None) == ()
    assert {s.against for s in found(two(NEW, WORN), margin=None)} == {None}
    assert {s.against for s in found(two(NEW, WORN), limit=None)} == {0}
    assert found(two(NEW, WORN), limit=None, against=None) == ()


def test_large_studies_are_not_fitted_again() -> None:
    rng = np.random.default_rng(4)

    def of(specimens: int, conditions: int) -> Resistances:
        labels = [i % conditions for i in range(specimens)]
        return known_resistances(2e-3 + 1e-4 * rng.standard_normal(specimens), range(specimens), labels)

    assert found(of(MOST_DROPPED, 2))
    assert found(of(MOST_DROPPED + 1, 2)) == ()
    assert found(of(4 * MOST_CONDITIONS, MOST_CONDITIONS))
    assert found(of(4 * MOST_CONDITIONS + 4, MOST_CONDITIONS + 1)) == ()
    assert found(crossed(MOST_PARTS // 2, MOST_PARTS // 2), against=None)
    assert found(crossed(MOST_PARTS // 2 + 1, MOST_PARTS // 2), against=None) == ()


def test_readings_without_scatter_carry_nothing() -> None:
    assert found(two([2.5e-3] * 3, [2.6e-3] * 3)) == ()


def crossed(plugs: int, sockets: int) -> Resistances:
    """Every plug with every socket, twice; the last plug is high."""
    rng = np.random.default_rng(2)
    rows = [(p, s, m) for p in range(plugs) for s in range(sockets) for m in range(2)]
    value = [2.3e-3 * np.exp(0.02 * p + 0.01 * s + 0.5 * (p == plugs - 1)) for p, s, _ in rows]
    value = np.array(value) * np.exp(0.02 * rng.standard_normal(len(rows)))
    return known_resistances(
        value, [f"P{p} × S{s}" for p, s, _ in rows], mating=[m for *_, m in rows],
        plug=[f"P{p}" for p, *_ in rows], socket=[f"S{s}" for _, s, _ in rows],
    )  # fmt: skip


def test_of_re_paired_parts_one_part_is_left_out() -> None:
    resistances = crossed(4, 3)
    asked = study(2.7e-3)
    (one,) = sensitivity(resistances, measure(resistances, "linear", "auto"), asked, None, [])
    assert (one.dropped, one.kept) == (7, 0)
    expected = []
    for kind, column in (("plug", resistances.plug), ("socket", resistances.socket)):
        assert column is not None
        for code, name in enumerate(column.names):
            rest = measure(resistances.take(np.flatnonzero(column.codes != code)), "linear", "auto")
            said = verdict(condition_result(rest, 0, 2.7e-3, 0.95).probability_within, 0.95)
            if said != one.verdict:
                expected.append((kind, name, said))
    assert ("plug", "P3", "within") in expected
    assert [(c.kind, c.name, c.verdict) for c in one.changes] == expected


@pytest.mark.parametrize("scale", ["linear", "log"])
@pytest.mark.parametrize("margin", [0.1e-3, 0.4e-3, 1.2e-3, None])
def test_a_verdict_alone_is_that_of_the_whole_comparison(scale: str, margin: float | None) -> None:
    for resistances in (two(NEW, WORN), two(NEW, WORN[:1]), crossed(4, 3)):
        measured = measure(resistances, scale, "auto")
        results = [condition_result(measured, c, LIMIT, 0.95) for c in range(measured.design.conditions)]
        for result in results:
            chance = chance_within(measured, result.condition, LIMIT)
            assert chance == result.probability_within
        for result in results[1:]:
            whole = compare(measured, result, results[0], margin, 0.95, 1)
            assert whole is not None
            assert comparison_verdict(measured, result.condition, 0, margin, 0.95) == whole.verdict


@pytest.mark.parametrize("scale", ["linear", "log"])
def test_one_specimen_of_its_kind_is_judged_by_nobody(scale: str) -> None:
    """However far off it is: the others' scatter is not its own."""
    measured = measure(two(NEW, [9e-3]), scale, "auto")
    assert comparison_verdict(measured, 1, 0, MARGIN, 0.95) == OPEN
    assert comparison_verdict(measure(two(NEW, [9e-3, 9.1e-3]), scale, "auto"), 1, 0, MARGIN, 0.95) == ENOUGH
