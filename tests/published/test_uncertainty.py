"""Uncertainty of readings against worked examples.

Status beside each: published (read or quoted), memory (recalled, then reproduced), exact mathematics,
reference software (GTC), second computation.
"""

import json
import math

import GTC
import numpy as np
import pytest
from tests.published.data_files import FOLDER, numbers
from tests.published.printed import assert_printed
from tests.tables import known_resistances, reading_table

from ohmsworth.inference.conditions import condition_result
from ohmsworth.inference.estimate import Estimate, welch_satterthwaite
from ohmsworth.inference.kenward_roger import SmallSample, variance_freedom
from ohmsworth.inference.measured import measure
from ohmsworth.inference.specimens import coverage_factor
from ohmsworth.readings import Accuracy, Bench
from ohmsworth.readings.meters import half_width, independent_uncertainty, shared_uncertainties
from ohmsworth.resistance import reduce_readings

# ------------------------------------------------------------------ statements of meters


def test_voltmeter_of_the_gum() -> None:
    """GUM 4.3.7 example 2 and 5.1.5, memory: 14e-6 × reading + 2e-6 × range (1 V) at 0.928 571 V."""
    meter, reading = Accuracy(gain=14e-6, counts=2, resolution=1e-6), np.array([0.928571])
    assert_printed("15", 1e6 * half_width(meter, reading)[0])
    whole = math.hypot(
        shared_uncertainties(meter, reading)["gain"][0], independent_uncertainty(meter, reading)[0]
    )
    assert_printed("8.7", 1e6 * whole)
    # With the observed s = 12 µV of the mean: combined 15 µV.
    assert_printed("15", 1e6 * math.hypot(12e-6, whole))


def test_one_dominant_rectangle() -> None:
    """EA-4/02 supplement S9, memory: k = 1.65, not 2. Exact mathematics: 0.95 √3 = 1.6454."""
    found = coverage_factor(np.array([1.0]), np.array([np.inf]), np.array([1.0]), 0.95)
    assert_printed("1.65", found[0])
    assert found[0] == pytest.approx(0.95 * math.sqrt(3), rel=1e-12)


# ------------------------------------------------------------------ degrees of freedom

# GUM Table G.2, memory: t for 95 %, 95.45 %, 99 %.
TABLE_G2 = {
    1: ("12.71", "13.97", "63.66"), 2: ("4.30", "4.53", "9.92"), 3: ("3.18", "3.31", "5.84"),
    4: ("2.78", "2.87", "4.60"), 5: ("2.57", "2.65", "4.03"), 6: ("2.45", "2.52", "3.71"),
    7: ("2.36", "2.43", "3.50"), 8: ("2.31", "2.37", "3.36"), 9: ("2.26", "2.32", "3.25"),
    10: ("2.23", "2.28", "3.17"), 16: ("2.12", "2.17", "2.92"), 20: ("2.09", "2.13", "2.85"),
    50: ("2.01", "2.05", "2.68"), 100: ("1.984", "2.025", "2.626"),
}  # fmt: skip


@pytest.mark.parametrize(("freedom", "printed"), TABLE_G2.items())
def test_coverage_factors(freedom: int, printed: tuple[str, str, str]) -> None:
    for text, coverage in zip(printed, (0.95, 0.9545, 0.99), strict=True):
        low, high = Estimate(0.0, 1.0, freedom).interval(coverage)
        assert_printed(text, high)
        assert low == -high


@pytest.mark.parametrize(("doubt", "printed"), [(0.10, "50"), (0.25, "8"), (0.50, "2")])
def test_freedom_of_a_stated_uncertainty(doubt: float, printed: str) -> None:
    """GUM G.4.2 equation G.3, exact mathematics: ν = ½ (Δu/u)^−2, here with u² = 9 of variance (2uΔu)²."""
    u = 3.0
    parts = SmallSample(np.eye(1), np.eye(1), np.array([[(2 * u * doubt * u) ** 2]]), np.zeros((1, 1, 1)))
    found = variance_freedom(parts, np.array([1.0]), u**2)
    assert_printed(printed, found)
    assert found == pytest.approx(0.5 / doubt**2, rel=1e-12)


def test_effective_freedom() -> None:
    """GUM G.4.1 example, memory: 0.25 % (9), 0.57 % (4), 0.82 % (14) give 1.03 % with 19.0."""
    squares = [0.25**2, 0.57**2, 0.82**2]
    assert_printed("1.03", math.sqrt(sum(squares)))
    assert_printed("19.0", welch_satterthwaite(squares, [9, 4, 14]))


# ------------------------------------------------------------------ simultaneous readings, GUM H.2


def h2() -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    return tuple(np.array(numbers("gum_h2.csv", name)) for name in ("V_volt", "I_ampere", "phi_radian"))


def test_resistance_of_simultaneous_readings() -> None:
    """GUM H.2, approach 2 (Table H.5), memory: R = 127.732 Ω, u = 0.071 Ω.

    Each set's V cos φ and I are one pair of readings; reducing pair by pair keeps their correlation.
    """
    v, i, phi = h2()
    table = reading_table("+" * 5, voltage=v * np.cos(phi), current=i, specimen="abcde")
    resistances = reduce_readings(table, Bench(emf_allowance=0.0), np.arange(5))
    found = condition_result(measure(resistances, "linear", "auto"), 0, None, 0.95)
    assert_printed("127.732", found.value)
    assert found.uncertainty is not None
    assert_printed("0.071", found.uncertainty)
    assert found.freedom == pytest.approx(4)


def test_law_of_propagation_gives_the_same_and_only_with_correlation() -> None:
    """GUM H.2, approach 1 (Table H.4), memory; reference software GTC: 127.732 Ω, 0.071 Ω.

    Without the correlations u would be 0.195 Ω, which is the trap of F.1.2.
    """
    v, i, phi = GTC.type_a.multi_estimate_real([column.tolist() for column in h2()])
    r = v * GTC.cos(phi) / i
    assert_printed("127.732", r.x)
    assert_printed("0.071", r.u)
    apart = [GTC.ureal(q.x, q.u, 4) for q in (v, i, phi)]
    assert (apart[0] * GTC.cos(apart[2]) / apart[1]).u == pytest.approx(0.1945, abs=5e-4)


def test_pair_by_pair_and_by_propagation_agree() -> None:
    """Second computation: both approaches of H.2 differ only in second order (0.3 % of u)."""
    v, i, phi = h2()
    each = v * np.cos(phi) / i
    quantities = GTC.type_a.multi_estimate_real([column.tolist() for column in (v, i, phi)])
    r = quantities[0] * GTC.cos(quantities[2]) / quantities[1]
    assert each.std(ddof=1) / math.sqrt(5) == pytest.approx(r.u, rel=4e-3)


# ------------------------------------------------------------------ days, GUM H.5


def test_between_days() -> None:
    """GUM H.5, memory: mean 10.000 097 V; u = 18 µV with 9 degrees of freedom, from the days' means."""
    days = numbers("gum_h5.csv", "mean_V")
    found = condition_result(measure(known_resistances(days, range(10)), "linear", "auto"), 0, None, 0.95)
    assert_printed("10.000097", found.value)
    assert found.uncertainty is not None
    assert_printed("18", 1e6 * found.uncertainty)
    assert found.freedom == pytest.approx(9)


# ------------------------------------------------------------------ four wires


def test_four_wire_reversal() -> None:
    """Made-up example with the meters' statements as standard uncertainties common to both polarities.

    Second computation: R = 10.056 43 mΩ, u = 13.7239 µΩ; reversal does not average a common error down.
    """
    made = json.loads((FOLDER / "own_fourwire_example.json").read_text(encoding="utf-8"))
    table = reading_table("+-", voltage=[made["Vplus"], made["Vminus"]], current=[made["I"], -made["I"]])
    bench = Bench(voltmeter=Accuracy(standard=made["uV"]), ammeter=Accuracy(standard=made["uI"]))
    found = reduce_readings(table, bench, np.arange(2))
    assert found.value[0] == pytest.approx(made["R"], rel=1e-12)
    u = math.hypot(*(part[0] for part in found.shared.values()))
    assert u == pytest.approx(made["u"], rel=1e-9)
    assert_printed("1.37239e-5", u)
    assert found.independent[0] == pytest.approx(0, abs=1e-15)


def test_the_statements_of_that_example_as_gain_and_counts() -> None:
    """Reference software GTC, by its own law of propagation with each error as one quantity.

    50 ppm + 5 counts of 0.1 µV; 0.2 % + 3 counts of 10 µA: gain errors are one quantity for both polarities, count
    errors one for each reading.
    """
    made = json.loads((FOLDER / "own_fourwire_example.json").read_text(encoding="utf-8"))
    meters = {"V": Accuracy(50e-6, 5, 1e-7), "I": Accuracy(0.002, 3, 1e-5)}
    readings = {"V": (made["Vplus"], made["Vminus"]), "I": (made["I"], -made["I"])}
    ends = {}
    for name, meter in meters.items():
        gain = GTC.ureal(0, meter.gain / math.sqrt(3))
        news = independent_uncertainty(meter, np.array(readings[name]))
        ends[name] = [
            x * (1 + gain) + GTC.ureal(0, float(u)) for x, u in zip(readings[name], news, strict=True)
        ]
    r = (ends["V"][0] - ends["V"][1]) / (ends["I"][0] - ends["I"][1])
    table = reading_table("+-", voltage=readings["V"], current=readings["I"])
    found = reduce_readings(table, Bench(voltmeter=meters["V"], ammeter=meters["I"]), np.arange(2))
    parts = [*(float(part[0]) for part in found.shared.values()), float(found.independent[0])]
    assert math.hypot(*parts) == pytest.approx(r.u, rel=1e-9)
