"""What is said of a capacitance holds: intervals over many benches with everything off that may be off."""

from dataclasses import replace
from functools import lru_cache

import numpy as np
from tests.unit.resistance.admittance.behind import PLAN, TURN, TrueDivider
from tests.unit.resistance.admittance.test_wire import lossy

from ohmsworth.cables.distance import Quantity, by_capacitance_from_both_ends
from ohmsworth.resistance.admittance.divider import Divider, admittance
from ohmsworth.resistance.admittance.wire import OpenWire, wire_of
from ohmsworth.work.capacitance.found import FoundWire, without_resistor
from ohmsworth.work.capacitance.loaded import MeasuredWire

DRAWS = 400
STATED = Divider(10e3, 0.01, 2e-12, 1e-4)


def any_bench(rng: np.random.Generator) -> TrueDivider:
    """Everything within what is stated, rectangles as rectangles, and crosstalk anywhere in its disc."""

    def disc() -> complex:
        return complex(STATED.crosstalk * np.sqrt(rng.random()) * np.exp(2j * np.pi * rng.random()))

    return TrueDivider(
        resistance=STATED.resistance * (1 + STATED.tolerance * rng.uniform(-1, 1)),
        own=1 / np.exp(rng.uniform(np.log(5e3), np.log(1e6))) + TURN * rng.uniform(50e-12, 600e-12),
        gain=complex(1 + 0.03 * rng.normal() + 0.01j * rng.normal()),
        onto=disc(),
        back=disc(),
        noise=float(np.exp(rng.uniform(np.log(1e-7), np.log(3e-6)))),
    )


def read(true: TrueDivider, farad: float, angle: float, rng: np.random.Generator) -> OpenWire:
    """A wire read while the leads lie elsewhere than in the take of nothing."""
    moved = replace(true, own=true.own + TURN * STATED.leads * rng.uniform(-1, 1))
    wire = wire_of(
        admittance(
            PLAN, STATED, moved.behind(lossy(farad, angle), rng), true.joined(rng), [true.behind(0.0, rng)]
        )
    )
    assert isinstance(wire, OpenWire)
    return wire


@lru_cache(maxsize=1)
def draws() -> tuple[float, float]:
    """The share of intervals that hold the truth, and the size of errors over what is told of them."""
    rng = np.random.default_rng(4)
    hits, sizes = [], []
    for _ in range(DRAWS):
        farad = float(np.exp(rng.uniform(np.log(50e-12), np.log(20e-9))))
        found = read(any_bench(rng), farad, rng.uniform(0, 0.06), rng).capacitance
        low, high = found.interval()
        hits.append(low <= farad <= high)
        sizes.append((found.value - farad) / found.uncertainty)
    return float(np.mean(hits)), float(np.sqrt(np.mean(np.square(sizes))))


def test_intervals_from_50_pf_to_20_nf_hold_the_truth() -> None:
    # Rectangles rule, whose 1.96 standard uncertainties are more than their half-width: more than 95 % is right.
    assert draws()[0] >= 0.96


def test_errors_have_the_size_that_is_told_of_them() -> None:
    # 400 draws know a root mean square to 4 %.
    assert 0.88 <= draws()[1] <= 1.12


def test_a_break_from_both_ends_holds_and_does_not_mind_the_resistor() -> None:
    rng = np.random.default_rng(9)
    hits, halves = [], []
    for _ in range(150):
        true, place, whole = any_bench(rng), rng.uniform(0.05, 0.95), rng.uniform(1e-9, 8e-9)
        ends = [
            without_resistor(FoundWire(MeasuredWire("t", "w", "s", end), read(true, farad, 0.02, rng)))
            for end, farad in (("A", place * whole), ("B", (1 - place) * whole))
        ]
        found = by_capacitance_from_both_ends(*ends, Quantity(1.0))
        hits.append(abs(found.metres - place) <= 2 * found.uncertainty)
        halves.append(2 * found.uncertainty)
    assert np.mean(hits) >= 0.94
    # With the resistor's 1 % counted at both ends it would be 0.4 % of the length in the middle.
    assert np.median(halves) < 0.002
