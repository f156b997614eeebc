"""A circuit with its contacts as cards for a netlist: cables become sections, everything else is what it is."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from ohmsworth.consequence.circuit import (
    Block,
    Capacitor,
    Circuit,
    Contact,
    CurrentSource,
    Element,
    Impedance,
    Inductor,
    Line,
    Resistor,
    Transformer,
    VoltageSource,
)
from ohmsworth.consequence.circuit.cable import series_impedance, shunt_admittance
from ohmsworth.consequence.circuit.elements import Array
from ohmsworth.errors import ArgumentFault
from ohmsworth.report.lumped import MOST_SECTIONS, SECTIONS_A_WAVELENGTH
from ohmsworth.report.netlist import Card, Coupling, Drive, Part

#: Coupling of coils above which simulators refuse them.
_TIGHTEST = 0.9999999


@dataclass(frozen=True, slots=True)
class Cards:
    """A circuit's cards, with remarks on what they leave out."""

    cards: tuple[Card, ...]
    remarks: tuple[str, ...]


def cards_of(
    circuit: Circuit,
    ohm: Mapping[str, float],
    drive: Mapping[str, float],
    at: float,
    highest: float,
) -> Cards:
    """The cards of `circuit`.

    Parameters
    ----------
    ohm
        Resistance of each contact by name, those not named ideal.
    drive
        Volts or amperes of the sources by name, those not named silent.
    at
        Hertz at which the inside of wires and screens is taken: a resistor's card knows no frequency.
    highest
        Hertz up to which a cable's sections stand for it.

    Raises
    ------
    ArgumentFault
        For parts that no plain card can hold: a two-port or an impedance that is known at frequencies only, an ideal
        transformer; and a cable of too many wavelengths.
    """
    cards: list[Card] = []
    remarks: list[str] = []
    for number, element in enumerate(circuit.elements, start=1):
        if isinstance(element, Line):
            cards += _line(f"line {number}", element, at, highest, remarks)
        else:
            cards.append(_card(str(number), element, ohm, drive))
    return Cards(tuple(cards), tuple(remarks))


def _card(number: str, element: Element, ohm: Mapping[str, float], drive: Mapping[str, float]) -> Card:
    if isinstance(element, Contact):
        value = element.ohm + element.count * ohm.get(element.name, 0.0)
        return Part("R", f"contact {element.name}", element.a, element.b, value)
    if isinstance(element, Resistor):
        return Part("R", number, element.a, element.b, element.ohm)
    if isinstance(element, Inductor):
        return Part("L", number, element.a, element.b, element.henry)
    if isinstance(element, Capacitor):
        return Part("C", number, element.a, element.b, element.farad)
    if isinstance(element, VoltageSource):
        return Drive("V", element.name, element.a, element.b, drive.get(element.name, 0.0))
    if isinstance(element, CurrentSource):  # inside the source the current runs from b to a
        return Drive("I", element.name, element.b, element.a, drive.get(element.name, 0.0))
    assert isinstance(element, Impedance | Block | Transformer | Line)
    wanted = "parts that plain cards can hold: resistors, coils, capacitors, contacts, cables and sources"
    raise ArgumentFault("circuit", type(element).__name__, wanted)


def _line(name: str, line: Line, at: float, highest: float, remarks: list[str]) -> list[Card]:
    """π sections of all conductors: R and L in each, coupled where they share a field, C and its loss at either end."""
    count = _sections(line, highest)
    step = line.length / count
    inside = series_impedance(line.cable, np.array([at]))[0] * step
    resistance, inductance = inside.real, inside.imag / (2 * math.pi * at)
    remarks.append(
        f"{name}: {line.length:g} m in {count} section{'s' if count > 1 else ''} of at most 1/{SECTIONS_A_WAVELENGTH} "
        f"wavelength up to {highest:g} Hz; inside of wires and loss of the insulation as at {at:g} Hz, and less right far from it"
    )
    places = [
        list(line.near),
        *([f"{name} {k} {i}" for i in range(len(line.near))] for k in range(1, count)),
        list(line.far),
    ]
    conductance = shunt_admittance(line.cable, np.array([at]))[0].real * step
    cards: list[Card] = []
    for k, nodes in enumerate(places):
        share = 0.5 if k in (0, count) else 1.0
        cards += _across(f"{name} {k}", nodes, line.cable.capacitance * step * share, conductance * share)
        if k < count:
            cards += _along(f"{name} {k + 1}", nodes, places[k + 1], np.diag(resistance), inductance)
    return cards


def _sections(line: Line, highest: float) -> int:
    """At least 20 to a wavelength of the slowest mode."""
    z = series_impedance(line.cable, np.array([highest]))[0]
    y = shunt_admittance(line.cable, np.array([highest]))[0]
    turn = math.sqrt(float(np.abs(np.linalg.eigvals(z @ y)).max())) * line.length
    count = max(1, math.ceil(turn * SECTIONS_A_WAVELENGTH / (2 * math.pi)))
    if count > MOST_SECTIONS:
        raise ArgumentFault(
            "highest", highest, f"a cable of at most {MOST_SECTIONS // SECTIONS_A_WAVELENGTH} wavelengths"
        )
    return count


def _along(
    name: str,
    near: Sequence[str],
    far: Sequence[str],
    resistance: Array,
    inductance: Array,
) -> list[Card]:
    cards: list[Card] = []
    coils = [float(inductance[i][i]) for i in range(len(near))]
    for i, (first, last) in enumerate(zip(near, far, strict=True)):
        middle = f"{name} {i} middle" if coils[i] > 0 else last
        cards.append(Part("R", f"{name} {i}", first, middle, float(resistance[i])))
        if coils[i] > 0:
            cards.append(Part("L", f"{name} {i}", middle, last, coils[i]))
    for i in range(len(near)):
        for j in range(i):
            mutual = float(inductance[i][j])
            if mutual != 0:
                tight = mutual / math.sqrt(coils[i] * coils[j])
                cards.append(Coupling(f"{name} {i} {j}", f"{name} {i}", f"{name} {j}", min(tight, _TIGHTEST)))
    return cards


def _across(
    name: str,
    nodes: Sequence[str],
    capacitance: Array,
    conductance: Array,
) -> list[Card]:
    cards: list[Card] = []
    for i in range(len(nodes)):
        for j in range(i + 1):
            farad = float(capacitance[i][j])
            other = nodes[j] if i != j else "0"
            if farad == 0 or nodes[i] == other:
                continue
            cards.append(Part("C", f"{name} {i} {j}", nodes[i], other, farad))
            leak = -float(conductance[i][j]) if i != j else float(sum(conductance[i]))
            if leak > 0:
                cards.append(Part("R", f"{name} {i} {j} leak", nodes[i], other, 1 / leak))
    return cards
