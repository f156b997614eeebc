"""Currents and voltages of a drive against the circuit solved node by node."""

from typing import Any

import numpy as np
import pytest

from ohmsworth.errors import ArgumentFault
from ohmsworth.materials import DRY_VOLTAGE
from ohmsworth.resistance.impedance.circuit import Circuit, Shunt
from ohmsworth.resistance.impedance.drive import one_period
from ohmsworth.resistance.impedance.levels import (
    FULLEST,
    amplitudes_for,
    dry_bridge,
    largest_current,
    largest_series,
    level_of,
)
from ohmsworth.resistance.impedance.wishes import Wishes, plan_for

SHUNT = Shunt(0.1)
BRIDGED = Circuit(SHUNT, 47.0, 1.4, 0.82)
PLAIN = Circuit(SHUNT, 47.0, 1.4)


def solved(circuit: Circuit, contact: float, volts: Any) -> tuple[Any, Any]:
    """Current through the contact and power in the series resistor, by Kirchhoff's laws."""
    bridge = circuit.bridge if circuit.bridge is not None else 1e12
    conductance = 1 / circuit.series + 1 / bridge + 1 / (SHUNT.resistance + contact)
    node = volts / circuit.series / conductance
    return node / (SHUNT.resistance + contact), (volts - node) ** 2 / circuit.series


@pytest.mark.parametrize("circuit", [BRIDGED, PLAIN])
@pytest.mark.parametrize("way", ["together", "in turn"])
@pytest.mark.parametrize("rms", [True, False])
def test_the_wished_current_flows(circuit: Circuit, way: str, rms: bool) -> None:
    wished = 0.004
    plan = plan_for(Wishes(circuit, 0.01, wished, rms, tones=5, way=way, seconds=10.0))  # type: ignore[arg-type]
    waves = [one_period(plan)] if way == "together" else [one_period(plan, k) for k in range(5)]
    currents = solved(circuit, 0.01, circuit.output * np.concatenate(waves))[0]
    level = level_of(plan, circuit, 0.01)
    if rms:
        assert level.current_rms == pytest.approx(wished)
        assert np.sqrt(np.mean(currents**2)) == pytest.approx(wished)
    else:
        assert level.current == pytest.approx(wished)
        # The samples come close to the peak of what sounds between them, which test_peak.py looks for, and never above.
        assert 0.99 * wished < np.abs(currents).max() <= wished * (1 + 1e-6)
    peak_power = solved(circuit, 0.01, level.output)[1]
    assert level.series_power == pytest.approx(peak_power / 2)
    assert level.shunt_power == pytest.approx(level.current_rms**2 * 0.1)
    assert level.contact_voltage == pytest.approx(level.current * 0.01)
    assert level.shunt_voltage == pytest.approx(level.current * 0.1)


def test_tones_share_the_current() -> None:
    together = plan_for(Wishes(PLAIN, 0.01, 0.02, tones=5))
    level = level_of(together, PLAIN, 0.01)
    assert np.sqrt(np.sum(level.tone_currents**2) / 2) == pytest.approx(level.current_rms)
    in_turn = plan_for(Wishes(PLAIN, 0.01, 0.02, tones=5, way="in turn"))
    assert level_of(in_turn, PLAIN, 0.01).tone_currents == pytest.approx(np.full(5, 0.02))


@pytest.mark.parametrize("circuit", [BRIDGED, PLAIN])
def test_no_more_than_the_output_can_give(circuit: Circuit) -> None:
    most = largest_current(circuit, 0.01)
    assert most == pytest.approx(solved(circuit, 0.01, FULLEST * 1.4)[0])
    fitting = amplitudes_for(circuit, 0.01, most, np.sqrt(2), np.ones(1))
    assert fitting == pytest.approx([FULLEST])
    with pytest.raises(ArgumentFault) as refused:
        amplitudes_for(circuit, 0.01, most * 1.001, np.sqrt(2), np.ones(1))
    assert refused.value.name == "current"
    less = largest_series(circuit, 0.01, 2 * most)
    mended = Circuit(SHUNT, less, 1.4, circuit.bridge)
    assert largest_current(mended, 0.01) == pytest.approx(2 * most)


def test_a_bridge_makes_the_circuit_dry() -> None:
    bridge = dry_bridge(PLAIN, 0.01, 0.02)
    assert bridge is not None
    circuit = Circuit(SHUNT, 47.0, 1.4, bridge)
    level = level_of(plan_for(Wishes(circuit, 0.01, 0.02, tones=3)), circuit, 0.01)
    assert level.current == pytest.approx(0.02)
    assert level.open_circuit == pytest.approx(DRY_VOLTAGE)
    assert not level_of(plan_for(Wishes(PLAIN, 0.01, 0.02, tones=3)), PLAIN, 0.01).dry
    smaller = Circuit(SHUNT, 47.0, 1.4, 0.99 * bridge)
    assert level_of(plan_for(Wishes(smaller, 0.01, 0.02, tones=3)), smaller, 0.01).dry


def test_no_bridge_where_none_is_needed_or_none_helps() -> None:
    assert dry_bridge(PLAIN, 0.01, 0.02 / 47.11) == np.inf
    assert dry_bridge(PLAIN, 0.01, 0.02 / 0.11) is None
    assert dry_bridge(PLAIN, 0.01, 0.99 * 0.02 / 0.11) is not None


def test_too_much_current_is_not_dry_whatever_the_voltage() -> None:
    circuit = Circuit(Shunt(0.01), 8.0, 2.0, 0.1)
    plan = plan_for(Wishes(circuit, 0.001, 0.11, tones=3))
    level = level_of(plan, circuit, 0.001)
    assert level.open_circuit <= DRY_VOLTAGE
    assert not level.dry
