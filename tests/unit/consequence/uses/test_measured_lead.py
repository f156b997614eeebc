"""A measured lead between any source and load."""

import numpy as np
import pytest

from ohmsworth.consequence import (
    TwoPort,
    cascade,
    effects,
    insertion_loss,
    make_use,
    response,
    return_loss,
    series,
    thresholds,
)
from ohmsworth.errors import ArgumentFault
from ohmsworth.readings.lead import MeasuredLead

FREQUENCY = np.linspace(1e6, 200e6, 200)
GAMMA = (0.01 * np.sqrt(FREQUENCY / 1e8) + 2j * np.pi * FREQUENCY / 2e8) * 3.0
CHAIN = np.moveaxis(
    np.array([[np.cosh(GAMMA), 75 * np.sinh(GAMMA)], [np.sinh(GAMMA) / 75, np.cosh(GAMMA)]]), -1, 0
)
LEAD = MeasuredLead(FREQUENCY, CHAIN)
VALUES: dict[str, float | str] = {
    "touchstone": "lead.s2p", "source_impedance": 75.0, "load_impedance": 100.0, "contacts_near": 1, "contacts_far": 3,
    "at": 100e6,
}  # fmt: skip


def test_contacts_come_on_top_of_what_was_measured() -> None:
    """Two-ports one behind another, told by their own losses."""
    use = make_use("measured lead", values=VALUES, lead=LEAD)
    lead = TwoPort(FREQUENCY, CHAIN)
    whole = cascade(series(FREQUENCY, 2.0), lead, series(FREQUENCY, 6.0))
    found = response(use, [2.0], FREQUENCY)
    change = insertion_loss(lead, 75.0, 100.0) - insertion_loss(whole, 75.0, 100.0)
    np.testing.assert_allclose(found["level_change"][0], change, atol=1e-9)
    np.testing.assert_allclose(found["return_loss"][0], return_loss(whole, 75.0, 100.0), rtol=1e-6)


def test_effects_are_told_at_the_nearest_measured_frequency() -> None:
    use = make_use("measured lead", values={**VALUES, "at": 99.7e6}, lead=LEAD)
    level = effects(use, 1.0)[0]
    assert level.frequency == pytest.approx(100e6)
    assert "100 MHz" in level.words
    assert float(level.value) == pytest.approx(response(use, [1.0], [100e6])["level_change"][0, 0])


def test_without_a_file_only_the_contacts_are_left() -> None:
    use = make_use("measured lead")
    level = effects(use, 0.25)[0]
    assert float(level.value) == pytest.approx(20 * np.log10(100 / 101))
    (first, reflected) = thresholds(use)
    assert first.resistance == pytest.approx(100 * (10 ** (0.1 / 20) - 1) / 4, rel=1e-6)
    # Γ = r/(r + 100) of four contacts.
    assert reflected.resistance == pytest.approx(100 / (10 ** (15 / 20) - 1) / 4, rel=1e-6)


def test_nothing_is_told_beyond_what_was_measured() -> None:
    use = make_use("measured lead", values=VALUES, lead=LEAD)
    with pytest.raises(ArgumentFault, match="between which the two-port is known"):
        response(use, [1.0], [300e6])


def test_a_file_that_was_not_read_is_refused() -> None:
    with pytest.raises(ArgumentFault, match="touchstone"):
        make_use("measured lead", values=VALUES)
    with pytest.raises(ArgumentFault, match="contact"):
        make_use("measured lead", values={"contacts_near": 0, "contacts_far": 0})
