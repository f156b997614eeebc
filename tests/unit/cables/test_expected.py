"""What a wire should read, against wire tables and the standard's largest values."""

import pytest

from ohmsworth.cables.build import Build, End, Place, Wire, WireKind
from ohmsworth.cables.expected import expected_capacitance, expected_loop, expected_resistance
from ohmsworth.errors import ArgumentFault
from ohmsworth.materials.conductors import conductor_of_gauge

FOOT = 0.3048


def cable(per_metre: float, length: float, **more: float) -> Build:
    end = {"contact_resistance": 3e-3, "contact_limit": 10e-3} if more.get("contacts") else {}
    ends = tuple(End(name, ("1", "2"), **end) for name in "AB")  # type: ignore[arg-type]
    kind = WireKind("wire", per_metre, more.get("tolerance", 0.0))
    wires = tuple(Wire(n, Place("A", n), Place("B", n), kind) for n in ("1", "2"))
    return Build("cable", ends, wires, length, more.get("length_tolerance", 0.0))


@pytest.mark.parametrize(("gauge", "ohm"), [(10, 0.9989), (16, 4.016), (20, 10.15), (24, 25.67), (26, 40.81)])
def test_a_thousand_feet_by_the_wire_table(gauge: int, ohm: float) -> None:
    """Source: copper wire tables, Ω per 1000 ft at 20 °C; the gauge formula agrees within 0.04 %."""
    build = cable(conductor_of_gauge(gauge).resistance_per_metre, 1000 * FOOT)
    found = expected_resistance(build, build.wires[0], 293.15)
    assert found.usual == pytest.approx(ohm, rel=5e-4)
    assert found.low == found.high == found.usual


def test_at_forty_degrees() -> None:
    """Source: IEC 60228, annex: at 40 °C 1/0.9271 of the value at 20 °C."""
    build = cable(0.1, 10.0)
    assert expected_resistance(build, build.wires[0], 313.15).usual == pytest.approx(1 / 0.9271, rel=3e-4)


def test_bounds_take_every_tolerance_at_its_end() -> None:
    """By hand: 10 m ± 0.1 m of 0.1 Ω/m ± 2 %, 20 °C ± 5 K, two contacts of 3 mΩ, 10 mΩ at most."""
    build = cable(0.1, 10.0, tolerance=0.02, length_tolerance=0.1, contacts=True)
    found = expected_resistance(build, build.wires[0], 293.15, 5.0)
    assert found.usual == pytest.approx(1.006)
    assert found.low == pytest.approx(0.98 * 0.99 * (1 - 5 * 0.00393))
    assert found.high == pytest.approx(1.02 * 1.01 * (1 + 5 * 0.00393) + 0.020)
    assert found.uncertainty == pytest.approx(((0.02**2 + 0.01**2 + 0.01965**2 + 0.014**2) / 3) ** 0.5)
    loop = expected_loop(build, (build.wires[0], build.wires[1]), 293.15, 5.0)
    assert (loop.low, loop.high) == pytest.approx((2 * found.low, 2 * found.high))


def test_a_capacitance_grows_with_the_length() -> None:
    """By hand: 40 m ± 0.4 m of 150 pF/m ± 10 % have 6 nF, 5.346 nF to 6.666 nF."""
    kind = WireKind("wire", 0.1, 0.02, "core", 150e-12, 0.1)
    wire = Wire("1", Place("A", "1"), Place("B", "1"), kind)
    build = Build("cable", (End("A", ("1",)), End("B", ("1",))), (wire,), 40.0, 0.4)
    found = expected_capacitance(build, wire)
    assert found is not None
    assert (found.usual, found.low, found.high) == pytest.approx((6e-9, 5.346e-9, 6.666e-9))
    plain = cable(0.1, 10.0)
    assert expected_capacitance(plain, plain.wires[0]) is None


def test_a_build_that_cannot_be_is_refused() -> None:
    kind = WireKind("wire", 0.1, 0.0)
    ends = (End("A", ("1",)), End("B", ("1",)))
    with pytest.raises(ArgumentFault, match="a contact of one of the ends"):
        Build("x", ends, (Wire("w", Place("A", "9"), Place("B", "1"), kind),), 1.0)
    wire = Wire("w", Place("A", "1"), Place("B", "1"), kind)
    with pytest.raises(ArgumentFault, match="names that differ"):
        Build("x", ends, (wire, wire), 1.0)
    with pytest.raises(ArgumentFault, match="length"):
        Build("x", ends, (), 0.0)
