"""What the takes say of each wire, and of a break between two ends."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from ohmsworth.cables.distance import (
    Distance,
    Quantity,
    by_capacitance_from_both_ends,
    by_capacitance_of_a_like_wire,
)
from ohmsworth.readings.doubt import Doubt
from ohmsworth.resistance.admittance.divider import RESISTOR, Divider, admittance, own_admittance
from ohmsworth.resistance.admittance.wire import TOLD_AT, ClosedWire, OpenWire, wire_of
from ohmsworth.resistance.impedance.estimated import Estimated
from ohmsworth.resistance.impedance.phasors import Take
from ohmsworth.resistance.impedance.tone_plan import TonePlan
from ohmsworth.work.capacitance.loaded import BOTH, OPEN, OPEN_AGAIN, MeasuredWire

#: A capacitance of fewer standard uncertainties is not told from none.
SEEN = 3.0
#: A leak counts from so many standard uncertainties on, where it is less than so many ohm.
_LEAK_SEEN, LEAK_TOLD = 3.0, 1e6
#: Ways of finding a break, as cable.toml names them.
BOTH_ENDS, BESIDE_WHOLE = "capacitance from both ends", "capacitance and a whole wire"


@dataclass(frozen=True, slots=True, eq=False)
class FoundWire:
    """A wire and what its take says."""

    measured: MeasuredWire
    wire: OpenWire | ClosedWire

    @property
    def capacitance(self) -> Estimated | None:
        """Its capacitance in farad, where it is open and large enough to be told from none."""
        if isinstance(self.wire, ClosedWire):
            return None
        found = self.wire.capacitance
        return found if found.value > SEEN * found.uncertainty else None

    @property
    def leak(self) -> float | None:
        """Ohm of a leak beside the capacitance; None where none is seen."""
        if isinstance(self.wire, ClosedWire):
            return None
        leak = self.wire.leak
        seen = leak.value > _LEAK_SEEN * leak.uncertainty and leak.value > 1 / LEAK_TOLD
        return 1 / leak.value if seen else None


@dataclass(frozen=True, slots=True, eq=False)
class FoundBreak:
    """A break between two readings; `place` is a share of the length, from the end of `near`."""

    method: str
    near: FoundWire
    other: FoundWire
    place: Distance


@dataclass(frozen=True, slots=True)
class FoundInput:
    """What input 2 and the leads have themselves, at `TOLD_AT` or near: ohm and farad in parallel."""

    resistance: float
    capacitance: float


def found_wires(
    plan: TonePlan, divider: Divider, takes: Mapping[str, Take], measured: tuple[MeasuredWire, ...]
) -> tuple[FoundWire, ...]:
    """Every wire that was recorded; nothing without the takes that belong to no wire."""
    nothing = [takes[stem] for stem in (OPEN, OPEN_AGAIN) if stem in takes]
    if BOTH not in takes or OPEN not in takes:
        return ()
    return tuple(
        FoundWire(one, wire_of(admittance(plan, divider, takes[one.take], takes[BOTH], nothing)))
        for one in measured
        if one.take in takes
    )


def found_input(plan: TonePlan, divider: Divider, takes: Mapping[str, Take]) -> FoundInput | None:
    """What the open take says of the input."""
    if BOTH not in takes or OPEN not in takes:
        return None
    own = own_admittance(divider, takes[BOTH], takes[OPEN])
    at = int(np.abs(np.log(plan.frequencies / TOLD_AT)).argmin())
    turn = 2 * np.pi * plan.frequencies[at]
    return FoundInput(float(1 / max(own[at].real, 1e-12)), float(own[at].imag / turn))


def found_breaks(wires: tuple[FoundWire, ...]) -> tuple[FoundBreak, ...]:
    """Breaks that two readings locate: one wire from both ends, or beside a whole one from the same end."""
    told = [one for one in wires if one.capacitance is not None]
    found = []
    for number, near in enumerate(told):
        for other in told:
            if near.measured.whole or other is near:
                continue
            method = _method(near.measured, other.measured, told.index(other) > number)
            if method:
                found.append(FoundBreak(method, near, other, _place(method, near, other)))
    return tuple(found)


def _method(near: MeasuredWire, other: MeasuredWire, after: bool) -> str:
    if other.whole:
        return BESIDE_WHOLE if other.end == near.end else ""
    alike = near.wire == other.wire and near.end != other.end and near.to == other.to
    return BOTH_ENDS if alike and after else ""


def _place(method: str, near: FoundWire, other: FoundWire) -> Distance:
    one, two = without_resistor(near), without_resistor(other)
    if method == BOTH_ENDS:
        return by_capacitance_from_both_ends(one, two, Quantity(1.0))
    return by_capacitance_of_a_like_wire(one, two, Quantity(1.0))


def without_resistor(one: FoundWire) -> Quantity:
    """A capacitance for a distance: the resistor scales both readings alike, so that its tolerance does not count."""
    found = one.capacitance
    assert found is not None
    own = {name: effect for name, effect in found.shared.items() if name != RESISTOR}
    return Quantity(found.value, replace(found, shared=own).uncertainty)


def open_changed(plan: TonePlan, divider: Divider, takes: Mapping[str, Take]) -> tuple[Doubt, ...]:
    """Whether what input and leads have themselves changed between both takes of nothing by more than leads that moved."""
    if not {BOTH, OPEN, OPEN_AGAIN} <= set(takes):
        return ()
    change = wire_of(admittance(plan, divider, takes[OPEN_AGAIN], takes[BOTH], [takes[OPEN]]))
    if isinstance(change, ClosedWire):
        words = "the second take with nothing connected found a path: something was still connected, or a gain was touched"
    else:
        farad, noise = change.capacitance.value, change.capacitance.random
        if abs(farad) <= divider.leads + 3 * noise:
            return ()
        words = (
            f"with nothing connected {abs(farad) * 1e12:.1f} pF {'more' if farad > 0 else 'less'} were found the second time; "
            f"leads were said to change by {divider.leads * 1e12:.3g} pF at most"
        )
    mend = (
        "Fix the leads so that they lie alike in every take, see that the gains are not touched, and record anew; or state in "
        "capacitance.toml by how much the leads may change."
    )
    return (Doubt("OPEN_CHANGED", words, (), mend),)
