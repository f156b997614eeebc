"""Distances from the readings of a request: planted at a place, found there by every method."""

import math

import pytest

from ohmsworth.cables.build import Build, End, Place, Wire, WireKind
from ohmsworth.cables.distance import Quantity
from ohmsworth.cables.located import METHODS, locate
from ohmsworth.cables.request import CableMeter, CableRequest, Locate
from ohmsworth.readings.meters import Accuracy

LENGTH, PLACE, OHM = 40.0, 12.5, 0.08
KIND = WireKind("core", OHM, 0.05)


def request(**more: object) -> CableRequest:
    ends = (End("A", ("1", "2")), End("B", ("1", "2")))
    wires = tuple(Wire(n, Place("A", n), Place("B", n), KIND) for n in ("1", "2"))
    return CableRequest(Build("cable", ends, wires, LENGTH, 0.4), temperature_tolerance=2.0, **more)  # type: ignore[arg-type]


#: What is read where the fault lies at PLACE, by Ohm's law and by hand.
READ = {
    "loop from both ends": {"near": 2 * OHM * PLACE + 0.7, "far": 2 * OHM * (LENGTH - PLACE) + 0.7},
    "loop from both ends and a sound pair": {
        "near": 2 * OHM * PLACE + 0.7, "far": 2 * OHM * (LENGTH - PLACE) + 0.7, "whole": 2 * OHM * LENGTH,
    },
    "bridge loop": {"ratio": PLACE / (2 * LENGTH), "loop": 2 * OHM * LENGTH},
    "bridge loop with a resistor": {"arms": 1.0, "to_loop": 2 * OHM * LENGTH, "to_fault": 2 * OHM * (LENGTH - PLACE)},
    "capacitance from both ends": {"near": 1e-10 * PLACE, "far": 1e-10 * (LENGTH - PLACE)},
    "capacitance and a whole wire": {"broken": 1e-10 * PLACE, "whole": 1e-10 * LENGTH},
}  # fmt: skip


@pytest.mark.parametrize("method", METHODS)
def test_every_method_finds_the_place(method: str) -> None:
    readings = {name: Quantity(value, value * 1e-3) for name, value in READ[method].items()}
    found = locate(request(), Locate(method, ("1", "2"), "A", readings))
    assert set(READ[method]) == set(METHODS[method])
    assert found.metres == pytest.approx(PLACE)
    assert 0 < found.uncertainty < 1.5
    assert not found.beyond


def test_leads_cancel_in_a_loop_from_both_ends_and_count_in_the_whole() -> None:
    meter = CableMeter(Accuracy(standard=1e-3), Quantity(0.2, 5e-3))
    method = "loop from both ends and a sound pair"
    readings = {name: Quantity(value + 0.2) for name, value in READ[method].items()}
    found = locate(request(meter=meter), Locate(method, ("1", "2"), "A", readings))
    assert found.metres == pytest.approx(PLACE)
    assert [name for name, _ in found.parts] == ["length", "whole"]


def test_the_wires_tolerance_and_temperature_stand_in_the_uncertainty() -> None:
    """By hand: x − L/2 is −7.5 m, of which √(5 %² + 2·0.393 %²)/√3."""
    readings = {name: Quantity(value) for name, value in READ["loop from both ends"].items()}
    parts = dict(locate(request(), Locate("loop from both ends", ("1", "2"), "A", readings)).parts)
    assert parts["per_metre"] == pytest.approx(7.5 * math.hypot(0.05, 2 * 0.00393) / math.sqrt(3), rel=1e-3)
    assert parts["length"] == pytest.approx(0.2 / math.sqrt(3), rel=1e-6)


def with_contacts(usual: float, limit: float) -> CableRequest:
    """The same cable with contacts of so many ohm at A; those of B have none."""
    ends = (End("A", ("1", "2"), "", usual, limit), End("B", ("1", "2")))
    wires = tuple(Wire(n, Place("A", n), Place("B", n), KIND) for n in ("1", "2"))
    return CableRequest(Build("cable", ends, wires, LENGTH), temperature_tolerance=0.0)


#: How many contacts of the near end each reading has in it.
CONTACTS = {
    "loop from both ends": {"near": 2},
    "loop from both ends and a sound pair": {"near": 2, "whole": 2},
    "bridge loop with a resistor": {"to_fault": -2},
}


@pytest.mark.parametrize("method", CONTACTS)
def test_contacts_are_taken_off_and_what_they_may_have_is_doubt(method: str) -> None:
    """20 mΩ each would move the place by 0.125 or 0.25 m at 80 mΩ/m; up to 50 mΩ are allowed."""
    readings = {
        name: Quantity(value + CONTACTS[method].get(name, 0) * 0.02) for name, value in READ[method].items()
    }
    found = locate(with_contacts(0.02, 0.05), Locate(method, ("1", "2"), "A", readings))
    assert found.metres == pytest.approx(PLACE, abs=1e-6)
    bare = locate(with_contacts(0.02, 0.02), Locate(method, ("1", "2"), "A", readings))
    assert found.uncertainty > bare.uncertainty


def test_two_kinds_have_half_of_the_loop_each_by_itself() -> None:
    """A core of 80 mΩ/m and a screen of 40 mΩ/m: 60 mΩ/m on average, and √(4² + 4²)/2 of tolerance, 5 % and 10 %."""
    screen = WireKind("screen", 0.04, 0.1, "screen")
    ends = (End("A", ("1", "2")), End("B", ("1", "2")))
    wires = (
        Wire("1", Place("A", "1"), Place("B", "1"), KIND),
        Wire("2", Place("A", "2"), Place("B", "2"), screen),
    )
    asked = CableRequest(Build("cable", ends, wires, LENGTH), temperature_tolerance=0.0)
    readings = {"near": Quantity(0.12 * PLACE + 0.7), "far": Quantity(0.12 * (LENGTH - PLACE) + 0.7)}
    found = locate(asked, Locate("loop from both ends", ("1", "2"), "A", readings))
    assert found.metres == pytest.approx(PLACE)
    expected = (LENGTH / 2 - PLACE) * math.hypot(0.004, 0.004) / 2 / 0.06 / math.sqrt(3)
    assert dict(found.parts)["per_metre"] == pytest.approx(expected, rel=1e-3)
