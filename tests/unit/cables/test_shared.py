"""Wires that are all off alike: the description or the meter, told apart where two kinds of wire allow it."""

from __future__ import annotations

import pytest

from ohmsworth.cables.expected import Expected
from ohmsworth.cables.shared import SharedCause, shared_cause

#: Eight cores of 1 Ω ± 6 % and four screens of 0.4 Ω ± 12 %, with 8 mΩ of contacts each.
WIRES = {f"core {k}": (1.0, 0.06) for k in range(8)} | {f"screen {k}": (0.4, 0.12) for k in range(4)}
EXPECTED = {
    name: Expected(ohm + 0.008, ohm * (1 - tolerance), ohm * (1 + tolerance) + 0.03, ohm, 0.008, 0.01)
    for name, (ohm, tolerance) in WIRES.items()
}


def found(factor: float = 1.0, offset: float = 0.0, only: str = "", **changed: float) -> SharedCause | None:
    read = {
        name: WIRES[name][0] * factor + 0.008 + offset + k * 1e-4
        for k, name in enumerate(WIRES)
        if name.startswith(only)
    } | {name.replace("_", " "): ohm for name, ohm in changed.items()}
    over = [name for name, ohm in read.items() if ohm > EXPECTED[name].high]
    under = [name for name, ohm in read.items() if ohm < EXPECTED[name].low]
    return shared_cause(read, EXPECTED, over or under)


@pytest.mark.parametrize("factor", [0.7, 1.3, 1.6, 1000.0])
def test_a_longer_hotter_or_other_cable_multiplies_every_conductor(factor: float) -> None:
    cause = found(factor)
    assert cause is not None
    assert (len(cause.wires), cause.read, cause.offset) == (12, 12, None)
    assert cause.factor == pytest.approx(factor, rel=0.01)


@pytest.mark.parametrize("offset", [0.3, 0.9, -0.25])
def test_leads_add_the_same_to_every_reading(offset: float) -> None:
    cause = found(offset=offset)
    assert cause is not None
    assert cause.factor is None
    assert cause.offset == pytest.approx(offset, abs=0.002)


def test_one_kind_of_wire_cannot_tell_one_from_the_other() -> None:
    cause = found(1.2, only="core")
    assert cause is not None
    assert cause.factor == pytest.approx(1.2, rel=0.01)
    assert cause.offset == pytest.approx(0.2, abs=0.002)


def test_no_leads_have_five_ohms() -> None:
    cause = found(6.0, only="core")
    assert cause is not None
    assert (cause.offset, round(cause.factor or 0.0, 2)) == (None, 6.0)


def test_a_bad_termination_among_them_changes_nothing() -> None:
    cause = found(1.3, core_2=5.0)
    assert cause is not None
    assert cause.factor == pytest.approx(1.3, rel=0.01)


@pytest.mark.parametrize("bad", [{}, {"core_1": 1.5}, {f"core_{k}": 1.2 + 0.3 * k for k in range(8)}])
def test_wires_that_are_bad_each_in_its_way_share_nothing(bad: dict[str, float]) -> None:
    assert found(**bad) is None  # type: ignore[arg-type]


@pytest.mark.parametrize("factor", [1e-3, 1e-2, 10.0])
def test_a_slipped_unit_multiplies_the_contacts_too(factor: float) -> None:
    read = {name: one.usual * factor for name, one in EXPECTED.items()}
    cause = shared_cause(read, EXPECTED, [*read])
    assert cause is not None
    assert cause.offset is None
    assert cause.factor == pytest.approx(factor, rel=0.01)
