"""Takes as resistances at a tone: what each part of their uncertainty becomes."""

from dataclasses import replace

import numpy as np
import pytest

from ohmsworth.errors import ArgumentFault
from ohmsworth.inference.measured import difference_parts, measure, meter_parts
from ohmsworth.readings.table import UNSTATED, Labels, ReadingTable
from ohmsworth.resistance import TONES
from ohmsworth.resistance.impedance.curve import Curve
from ohmsworth.resistance.impedance.of_contacts import (
    NOISE,
    gathered,
    nearest_tone,
    reactances_at,
    resistances_at,
)

FREQUENCY = np.array([100.0, 1e3, 1e4])
TABLE = ReadingTable(
    np.arange(2, 6), Labels.of(["a", "b", "c", "d"]), Labels.of(["x", "x", "y", "y"]), None, None, None, None,
    np.full(4, UNSTATED, np.int8), None, None, None, None, None,
)  # fmt: skip


def curve(ohm: float, leak: bool = True) -> Curve:
    z = np.full(3, ohm) + 2j * np.pi * FREQUENCY * 1e-8
    random = np.tile(np.diag([4e-12, 9e-12]), (3, 1, 1))
    shared = {"shunt": 0.01 * z} | ({"crosstalk in step": np.full(3, -2e-6 + 0j)} if leak else {})
    return Curve(FREQUENCY, z, random, np.full(3, 50.0), shared)


FOUND = gathered(TABLE, [curve(1e-3), curve(1.1e-3), curve(2e-3), curve(2.2e-3, leak=False)])


def test_r_and_x_take_their_own_parts() -> None:
    used = np.array([1, 3])
    r, x = resistances_at(FOUND, 1, used), reactances_at(FOUND, 1, used)
    np.testing.assert_allclose(r.value, [1.1e-3, 2.2e-3])
    np.testing.assert_allclose(x.value, 2 * np.pi * 1e3 * 1e-8)
    np.testing.assert_allclose(r.independent, 2e-6)
    np.testing.assert_allclose(x.independent, 3e-6)
    np.testing.assert_allclose(r.shared["shunt"], [1.1e-5, 2.2e-5])
    # With its sign, and nothing where a take is free of it.
    np.testing.assert_allclose(r.shared["crosstalk in step"], [-2e-6, 0])
    assert "crosstalk in step" not in x.shared
    assert (r.form == TONES).all()
    assert r.specimen.names[r.specimen.codes[0]] == "b"
    assert r.take(np.array([0])).independent_source == NOISE


def test_what_is_common_counts_in_full_and_cancels_in_a_ratio() -> None:
    measured = measure(resistances_at(FOUND, 0, np.arange(4)), "log", "auto")
    alone = {part.source: part.uncertainty for part in meter_parts(measured, np.array([0, 1]))}
    apart = {
        part.source: part.uncertainty
        for part in difference_parts(measured, np.array([0, 1]), np.array([2, 3]))
    }
    assert alone["shunt"] == pytest.approx(0.01)
    assert "shunt" not in apart or apart["shunt"] < 1e-15
    # A negative effect counts as much as a positive one.
    assert alone["crosstalk in step"] == pytest.approx(np.mean([2e-3, 2e-6 / 1.1e-3]))
    assert apart["crosstalk in step"] > 0


def test_other_tones_or_too_few_curves_are_refused() -> None:
    other = replace(curve(1e-3), frequency=FREQUENCY + 1)
    with pytest.raises(ArgumentFault):
        gathered(TABLE, [curve(1e-3)])
    with pytest.raises(ArgumentFault):
        gathered(TABLE, [curve(1e-3), other, curve(1e-3), curve(1e-3)])


def test_the_nearest_tone_is_so_on_a_logarithmic_scale() -> None:
    assert nearest_tone(FREQUENCY, 300.0) == 0
    assert nearest_tone(FREQUENCY, 330.0) == 1
