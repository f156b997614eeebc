"""How far away a fault lies: from what is measured at the ends of a cable, with its uncertainty."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from ohmsworth.errors import ArgumentFault

#: Step of the numerical derivatives, as a share of each quantity.
_STEP = 1e-6


@dataclass(frozen=True, slots=True)
class Quantity:
    """Something measured or stated: its value and its standard uncertainty, both SI."""

    value: float
    uncertainty: float = 0.0

    def __post_init__(self) -> None:
        if not math.isfinite(self.value):
            raise ArgumentFault("value", self.value, "a finite number")
        if not (math.isfinite(self.uncertainty) and self.uncertainty >= 0):
            raise ArgumentFault("uncertainty", self.uncertainty, "a finite number, zero or more")


@dataclass(frozen=True, slots=True)
class Distance:
    """Where a fault lies.

    Parameters
    ----------
    metres
        From the near end, along the cable.
    uncertainty
        Standard uncertainty, metre.
    parts
        What each measured or stated quantity adds to it, metre, the largest first.
    length
        Of the cable, metre.
    """

    metres: float
    uncertainty: float
    parts: tuple[tuple[str, float], ...]
    length: float

    @property
    def beyond(self) -> bool:
        """Whether it lies off the cable by more than twice its uncertainty: then what was taken for granted does not hold."""
        reach = 2 * self.uncertainty
        return self.metres < -reach or self.metres > self.length + reach

    def interval(self, factor: float = 2.0) -> tuple[float, float]:
        """From and to, metre, `factor` standard uncertainties either way and not beyond the cable's ends."""
        reach = factor * self.uncertainty
        low, high = self.metres - reach, self.metres + reach
        return min(max(low, 0.0), self.length), max(min(high, self.length), 0.0)


def by_loop_from_both_ends(near: Quantity, far: Quantity, per_metre: Quantity, length: Quantity) -> Distance:
    """Two wires that touch somewhere: their loop is measured from each end, the other end open.

    ``near = 2 r x + F`` and ``far = 2 r (L − x) + F``, so that x = L/2 + (near − far)/(4 r): what the touch itself has (F)
    cancels.

    Parameters
    ----------
    near, far
        Ohm of the loop as measured at the near and at the far end.
    per_metre
        Ohm a metre of one wire, at the temperature of the cable; both wires alike.
    length
        Metre of the cable.

    Notes
    -----
    Ohm's law alone.
    """
    _positive(per_metre=per_metre, length=length)

    def metres(near: float, far: float, per_metre: float, length: float) -> float:
        return length / 2 + (near - far) / (4 * per_metre)

    return _distance(metres, {"near": near, "far": far, "per_metre": per_metre, "length": length}, length)


def by_loop_from_both_ends_alone(
    near: Quantity, far: Quantity, whole: Quantity, length: Quantity
) -> Distance:
    """The same without a wire table: `whole` is the loop of two like sound wires of this cable, joined at the far end.

    ``whole = 2 r L`` gives r, so that x = L/2 × (1 + (near − far)/whole).
    """
    _positive(whole=whole, length=length)

    def metres(near: float, far: float, whole: float, length: float) -> float:
        return length / 2 * (1 + (near - far) / whole)

    return _distance(metres, {"near": near, "far": far, "whole": whole, "length": length}, length)


def by_bridge_and_loop(ratio: Quantity, loop: Quantity, per_metre: Quantity, length: Quantity) -> Distance:
    """Murray's loop: the faulty wire and a sound one joined at the far end are two arms of a bridge, the fault its supply.

    At balance the share ``ratio = A/(A + B)`` of the loop's resistance lies between the near end of the faulty wire and the
    fault: x = ratio × loop / r.

    Parameters
    ----------
    ratio
        Of the bridge's arm beside the faulty wire to both arms.
    loop
        Ohm of both wires in a row, far ends joined.
    per_metre
        Ohm a metre of the faulty wire.
    length
        Metre of the cable.

    Notes
    -----
    Source: "Hawkins-loop". What the fault itself has stands in series with the supply and does not count.
    """
    _positive(per_metre=per_metre, length=length, loop=loop)
    if not 0 < ratio.value < 1:
        raise ArgumentFault("ratio", ratio.value, "above 0 and below 1")

    def metres(ratio: float, loop: float, per_metre: float) -> float:
        return ratio * loop / per_metre

    return _distance(metres, {"ratio": ratio, "loop": loop, "per_metre": per_metre}, length)


def by_bridge_and_resistor(
    arms: Quantity, to_loop: Quantity, to_fault: Quantity, per_metre: Quantity, length: Quantity
) -> Distance:
    """Varley's loop: fixed arms, and a variable resistor in a row with the faulty wire.

    With a = P/Q the bridge balances at S1 with its supply at the joint of both wires, so that the loop has a S1, and at S2
    with its supply at the fault. From the near end to the fault the faulty wire has X = a (S1 − S2)/(1 + a), and x = X/r.

    Parameters
    ----------
    arms
        a, the ratio of the fixed arms.
    to_loop, to_fault
        S1 and S2: ohm of the variable resistor at balance, for the loop and for the fault.
    per_metre
        Ohm a metre of the faulty wire.
    length
        Metre of the cable.

    Notes
    -----
    Source: "textbook-loop". The stray of the leads is in both balances.
    """
    _positive(per_metre=per_metre, length=length, arms=arms, to_loop=to_loop)

    def metres(arms: float, to_loop: float, to_fault: float, per_metre: float) -> float:
        return arms * (to_loop - to_fault) / (1 + arms) / per_metre

    given = {"arms": arms, "to_loop": to_loop, "to_fault": to_fault, "per_metre": per_metre}
    return _distance(metres, given, length)


def by_capacitance_from_both_ends(near: Quantity, far: Quantity, length: Quantity) -> Distance:
    """A broken wire: its capacitance to the rest is measured from each end; it grows in step with the length.

    x = L near/(near + far). What the plugs add on either end must have been taken off before.

    Parameters
    ----------
    near, far
        Farad from the near and from the far end.
    length
        Metre of the cable.

    Notes
    -----
    Source: "open-by-capacitance".
    """
    _positive(length=length)
    if near.value < 0 or far.value < 0 or near.value + far.value <= 0:
        raise ArgumentFault("near", near.value, "capacitances above zero")

    def metres(near: float, far: float, length: float) -> float:
        return length * near / (near + far)

    return _distance(metres, {"near": near, "far": far, "length": length}, length)


def by_capacitance_of_a_like_wire(broken: Quantity, whole: Quantity, length: Quantity) -> Distance:
    """A broken wire beside a whole one of the same cable, both measured from the near end: x = L broken/whole."""
    _positive(length=length, whole=whole)

    def metres(broken: float, whole: float, length: float) -> float:
        return length * broken / whole

    return _distance(metres, {"broken": broken, "whole": whole, "length": length}, length)


def past(found: Distance, contact: Quantity, per_metre: Quantity) -> Distance:
    """A distance without the contact of the near end, which every ohm up to the fault has in it; both in ohm and ohm a metre."""
    metres, spread = contact.value / per_metre.value, contact.uncertainty / per_metre.value
    if not (metres or spread):
        return found
    parts = sorted((*found.parts, ("contacts", spread)), key=lambda part: -part[1])
    return Distance(found.metres - metres, math.hypot(found.uncertainty, spread), tuple(parts), found.length)


def _positive(**given: Quantity) -> None:
    for name, one in given.items():
        if one.value <= 0:
            raise ArgumentFault(name, one.value, "more than zero")


def _distance(metres: Callable[..., float], given: Mapping[str, Quantity], length: Quantity) -> Distance:
    """The distance and its uncertainty by first-order propagation (GUM 5.1.2); the quantities are independent."""
    values = {name: one.value for name, one in given.items()}
    found = metres(**values)
    parts = []
    for name, one in given.items():
        if one.uncertainty == 0:
            continue
        step = _STEP * (abs(one.value) or 1.0)
        up, down = (metres(**{**values, name: one.value + way * step}) for way in (1, -1))
        parts.append((name, abs(up - down) / (2 * step) * one.uncertainty))
    parts.sort(key=lambda part: -part[1])
    return Distance(found, math.sqrt(sum(part**2 for _, part in parts)), tuple(parts), length.value)
