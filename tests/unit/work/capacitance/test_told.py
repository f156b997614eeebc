"""What is said of wires, of takes that the lock-in has read already."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from tests.unit.resistance.admittance.behind import PLAN, TURN, TrueDivider
from tests.unit.resistance.admittance.test_wire import lossy

from ohmsworth.report.capacitance.answer import CapacitanceAnswer
from ohmsworth.report.capacitance.sentences import locate_table
from ohmsworth.resistance.admittance.divider import Divider
from ohmsworth.resistance.impedance.circuit import Circuit, Shunt
from ohmsworth.resistance.impedance.curve import Complex
from ohmsworth.resistance.impedance.wishes import Wishes
from ohmsworth.work.capacitance import told
from ohmsworth.work.capacitance.heard import HeardTakes
from ohmsworth.work.capacitance.loaded import LoadedCapacitance, MeasuredWire

_CIRCUIT = Circuit(Shunt(1e4), series=1e4, output=1.0)
WISHES = Wishes(
    _CIRCUIT, 0.0, _CIRCUIT.current(0.25, 0.0), low=200.0, high=12e3, tones=9, seconds=10.0, level=4.0
)
TRUE = TrueDivider(own=1 / 21e3 + TURN * 230e-12, noise=3e-7)
NEAR = MeasuredWire("near", "core 2", "the screen", "A")
FAR = MeasuredWire("far", "core 2", "the screen", "B")

#: The answer about wires of so many siemens each.
Tell = Callable[[dict[MeasuredWire, Complex]], CapacitanceAnswer]


@pytest.fixture
def tell(monkeypatch: pytest.MonkeyPatch) -> Tell:
    def answer(wires: dict[MeasuredWire, Complex]) -> CapacitanceAnswer:
        rng = np.random.default_rng(2)
        takes = {"both": TRUE.joined(rng), "open": TRUE.behind(0.0, rng)}
        takes |= {one.take: TRUE.behind(siemens, rng) for one, siemens in wires.items()}
        monkeypatch.setattr(told, "hear", lambda loaded, plan: HeardTakes(takes, ()))
        loaded = LoadedCapacitance(WISHES, Divider(1e4, 0.02), tuple(wires), None, PLAN, {}, (), ())
        return told.tell_capacitance(loaded).answer

    return answer


def test_a_capacitance_is_told_with_its_half_interval(tell: Tell) -> None:
    answer = tell({NEAR: lossy(1.42e-9, 0.03)})
    assert answer.sentence == "1.420 ± 0.032 nF between core 2 and the screen from end A."
    assert "The insulation of core 2 from end A has a loss factor of 0.03." in answer.findings
    assert answer.warnings == ()


def test_what_no_insulation_has_is_doubted(tell: Tell) -> None:
    # A joint of 8 kΩ in the wire: 1/Y = R + 1/jωC.
    answer = tell({NEAR: 1 / (8e3 + 1 / (TURN * 1e-9))})
    assert [one.code for one in answer.warnings] == ["LONG_WIRE"]


def test_wires_against_other_conductors_are_not_put_together(tell: Tell) -> None:
    other = MeasuredWire("far", "core 2", "core 1", "B")
    assert len(tell({NEAR: TURN * 1e-9, FAR: TURN * 2e-9}).breaks) == 1
    assert tell({NEAR: TURN * 1e-9, other: TURN * 2e-9}).breaks == ()


def test_a_whole_wire_at_the_other_end_is_not_put_beside(tell: Tell) -> None:
    for end, breaks in (("A", 1), ("B", 0)):
        whole = MeasuredWire("far", "core 1", "the rest", end, whole=True)
        assert len(tell({NEAR: TURN * 1e-9, whole: TURN * 2e-9}).breaks) == breaks


def test_a_name_stands_in_the_table_as_toml_has_it() -> None:
    table = locate_table("capacitance from both ends", 'the "hot" one', "A", {"near": (1e-9, 1e-12)})
    assert 'wires = ["the \\"hot\\" one"]' in table
    # 1.7 pF: a rectangle is √3 standard uncertainties wide to either side (GUM 4.3.7).
    assert 'near = "1.0000 nF ± 0.0017 nF"' in table
