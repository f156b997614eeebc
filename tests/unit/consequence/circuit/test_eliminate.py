"""All frequencies solved in one order, against the equations themselves and against each frequency solved alone."""

import numpy as np
import pytest

from ohmsworth.consequence.circuit import (
    Amperes,
    Block,
    Capacitor,
    Circuit,
    Contact,
    CurrentSource,
    Impedance,
    Inductor,
    Line,
    Resistor,
    Transfer,
    Transformer,
    VoltageSource,
    Volts,
    cable_of,
    plain_resistance,
    solve,
    transfers,
)
from ohmsworth.consequence.circuit.eliminate import Row, eliminate
from ohmsworth.errors import ArgumentFault

MANY = np.logspace(1, 6, 90)
CABLE = cable_of(
    (plain_resistance(0.08), plain_resistance(0.02)), (4e-7, 0), [[0, 7e-11], [7e-11, 0]], 1e-3, common=1e-6
)
TRIPLE = cable_of(
    (plain_resistance(0.08),) * 2 + (plain_resistance(0.02),),
    (3e-7, 3e-7, 0),
    [[0, 1e-10, 2e-10], [1e-10, 0, 2e-10], [2e-10, 2e-10, 0]],
)
#: One of every kind of part, a far one floating behind a transformer.
EVERYTHING = Circuit(
    (
        VoltageSource("in", "a"),
        Contact("one", "a", "b"),
        Line(("b", "0"), ("c", "s"), CABLE, 30.0),
        Resistor("s", "0", 0.01),
        Contact("two", "c", "d", ohm=0.1),
        Block(("d", "s"), ("e", "f"), lambda f: np.array([[1.5, 10.0], [0.05, 1.0]]) + np.zeros((len(f), 1, 1))),
        Resistor("f", "0", 47.0),
        Inductor("e", "g", 1e-3),
        Capacitor("g", "f", 1e-8),
        Impedance("g", "h", lambda f: 3.0 + 2e-3j * f),
        Transformer(("h", "f"), ("i", "j"), 4.0),
        Resistor("j", "0", 1e6),
        Line(("i", "j", "k"), ("l", "m", "n"), TRIPLE, 10.0),
        Resistor("k", "0", 100.0),
        Contact("three", "l", "o"),
        Resistor("o", "m", 600.0),
        Resistor("n", "0", 2.0),
        CurrentSource("hum", "n", "s"),
    )
)  # fmt: skip


def drawn_rows(seed: int, count: int, sides: int) -> list[Row]:
    """Sparse equations, half of the coefficients the same at all frequencies, of sizes over four decades."""
    rng = np.random.default_rng(seed)
    size = int(rng.integers(1, 13))

    def entry() -> complex | np.ndarray:
        values = 10 ** rng.uniform(-2, 2) * (rng.standard_normal(count) + 1j * rng.standard_normal(count))
        return values * 0.1 + values[0] if rng.random() < 0.5 else complex(values[0])

    rows: list[Row] = [{i: entry()} for i in range(size)]
    for _ in range(2 * size):
        rows[rng.integers(size)][int(rng.integers(size))] = entry()
    for s in range(sides):
        rows[rng.integers(size)][~s] = entry()
    return rows


def matrix_of(rows: list[Row], sides: int, count: int) -> tuple[np.ndarray, np.ndarray]:
    full = np.zeros((count, len(rows), len(rows) + sides), dtype=complex)
    for i, row in enumerate(rows):
        for j, entry in row.items():
            full[:, i, j if j >= 0 else len(rows) + ~j] = entry
    return full[:, :, : len(rows)], full[:, :, len(rows) :]


def test_what_it_finds_solves_the_equations() -> None:
    """What each equation leaves over is rounding of its largest term, all unknowns in units of their largest coefficient."""
    count, sides, solved = 7, 2, 0
    for seed in range(200):
        rows = drawn_rows(seed, count, sides)
        matrix, side = matrix_of(rows, sides, count)
        found = eliminate(rows, sides, range(len(rows)), count)
        np.testing.assert_array_equal(matrix_of(rows, sides, count)[0], matrix)
        if found is None:
            continue
        solved += 1
        unit = np.abs(matrix).max(axis=(0, 1))
        largest = (np.abs(matrix) / unit).max(2)[:, :, None] * (np.abs(found) * unit[:, None]).max(1)[:, None]
        assert np.all(np.abs(matrix @ found - side) <= 1e-12 * (largest + np.abs(side)))
    assert solved > 100


def test_only_what_is_wanted_comes_in_the_order_asked_for() -> None:
    rows: list[Row] = [{0: 2.0, 1: 1.0, ~0: 4.0}, {1: np.array([1.0, 2.0], dtype=complex), ~1: 6.0}]
    found = eliminate(rows, 2, [1, 0], 2)
    assert found is not None
    np.testing.assert_allclose(found[0], [[0, 6], [2, -3]], rtol=1e-15)
    np.testing.assert_allclose(found[1], [[0, 3], [2, -1.5]], rtol=1e-15)


@pytest.mark.parametrize(
    "rows",
    [
        [{0: np.array([1, 0j]), 1: np.array([0j, 1])}, {0: np.array([0j, 1]), 1: np.array([1, 0j]), ~0: 1.0}],
        [{0: 1.0, 1: 1.0}, {0: 1.0, 1: 1.0, ~0: 1.0}],
        [{0: 1.0, 1: 1 / 3}, {0: 1 / 3, 1: 1 / 9 + 1e-17, ~0: 1.0}],
        [{0: 1.0}, {0: 1.0, ~0: 1.0}],
        [{0: np.array([1.0, np.nan], dtype=complex), ~0: 1.0}],
    ],
    ids=["no order for both", "one twice", "one twice but for rounding", "an unknown in none", "no number"],
)
def test_without_a_safe_order_it_finds_nothing(rows: list[Row]) -> None:
    assert eliminate(rows, 1, [0], 2) is None


def test_all_frequencies_at_once_are_each_of_them_alone() -> None:
    drive, asked = {"in": 1.0, "hum": 1e-3}, [Volts("o", "m"), Amperes("two"), Volts("e"), Amperes("in")]
    together = transfers(EVERYTHING, MANY, drive, asked)
    for place in (0, 30, 60, 89):
        alone = transfers(EVERYTHING, MANY[place], drive, asked)
        for one, other in zip(together, alone, strict=True):
            for name in ("ideal", "through", "carried", "seen"):
                many, single = getattr(one, name)[place], getattr(other, name)[0]
                np.testing.assert_allclose(many, single, rtol=1e-9, atol=1e-12 * np.abs(single).max())


def test_without_a_safe_order_each_frequency_is_solved_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    (before,) = transfers(EVERYTHING, MANY, {"in": 1.0}, [Volts("o", "m")])
    monkeypatch.setattr(solve, "eliminate", lambda *_: None)
    (after,) = transfers(EVERYTHING, MANY, {"in": 1.0}, [Volts("o", "m")])
    assert not np.array_equal(after.ideal, before.ideal)
    np.testing.assert_allclose(after.ideal, before.ideal, rtol=1e-11)
    np.testing.assert_allclose(after.seen, before.seen, rtol=1e-9, atol=1e-12 * np.abs(before.seen).max())


def divider(impedance: np.ndarray) -> Transfer:
    """A part that is told at each frequency, in series with 50 Ω."""
    parts = (VoltageSource("in", "a"), Impedance("a", "b", lambda _: impedance), Resistor("b", "0", 50.0))
    return transfers(Circuit(parts), MANY, {"in": 1.0}, [Volts("b")])[0]


def test_a_part_that_is_nothing_at_one_frequency_and_all_at_another() -> None:
    impedance = np.zeros(len(MANY), dtype=complex)
    impedance[1::2] = 1e9j
    np.testing.assert_allclose(divider(impedance).ideal, 50 / (50 + impedance), rtol=1e-13)


def test_a_sharp_resonance_between_the_frequencies_looked_at_first() -> None:
    impedance = 1 / (1 / 1e12 + 1j * (MANY / MANY[20] - MANY[20] / MANY))
    np.testing.assert_allclose(divider(impedance).ideal, 50 / (50 + impedance), rtol=1e-12)


def test_one_frequency_without_a_solution_refuses_all() -> None:
    circuit = Circuit((VoltageSource("in", "a"), Inductor("a", "0", 1e-3), Resistor("a", "0", 1.0)))
    assert transfers(circuit, MANY, {"in": 1.0}, [Volts("a")])[0].ideal[0] == 1
    with pytest.raises(ArgumentFault, match="coils do not"):
        transfers(circuit, np.concatenate((MANY, [0.0])), {"in": 1.0}, [Volts("a")])


def test_what_only_the_ground_answers_is_nothing() -> None:
    circuit = Circuit((VoltageSource("in", "a"), Resistor("a", "0", 1.0)))
    for frequency in (MANY, MANY[:2]):
        (nothing,) = transfers(circuit, frequency, {"in": 1.0}, [Volts("0")])
        np.testing.assert_array_equal(nothing.ideal, np.zeros(len(frequency)))
