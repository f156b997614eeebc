"""A circuit as a netlist: the plain text of element cards that circuit simulators of the SPICE family read.

One element a line, values in exponent form without unit letters (in which M may mean a thousandth), names of letters, digits
and underscores. What simulators would change in silence is not left to them: a resistance of exactly zero, which many
replace by a milliohm of their own, is written as a source of zero volts; a node without a path for direct current, at which
they give up, is refused here by its name. Source: "SPICE".
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from ohmsworth.errors import ArgumentFault

#: The node that all voltages are told against.
GROUND = "0"
_LONGEST_NAME = 40
_RESERVED = {"gnd"}  # taken for node 0 by some programs


@dataclass(frozen=True, slots=True)
class Part:
    """A resistor, coil or capacitor between two nodes; `value` in ohm, henry or farad, zero or more."""

    kind: Literal["R", "L", "C"]
    name: str
    first: str
    second: str
    value: float


@dataclass(frozen=True, slots=True)
class Drive:
    """A source of alternating voltage (V) or current (I) for the sweep; `magnitude` in volt or ampere.

    The voltage is that of `plus` against `minus`; the current runs inside the source from `plus` to `minus`.
    """

    kind: Literal["V", "I"]
    name: str
    plus: str
    minus: str
    magnitude: float
    degrees: float = 0.0


@dataclass(frozen=True, slots=True)
class Controlled:
    """A voltage (E) from `plus` to `minus` that is `gain` times the one from `control_plus` to `control_minus`."""

    name: str
    plus: str
    minus: str
    control_plus: str
    control_minus: str
    gain: float


@dataclass(frozen=True, slots=True)
class Coupling:
    """Magnetic coupling (K) of two coils, by the names of their cards; both wound from `first` to `second`."""

    name: str
    one: str
    other: str
    coefficient: float


Card = Part | Drive | Controlled | Coupling


@dataclass(frozen=True, slots=True)
class Sweep:
    """Frequencies in hertz from `low` to `high`, so many `points` a decade."""

    low: float = 20.0
    high: float = 20e3
    points: int = 20

    def __post_init__(self) -> None:
        if not 0 < self.low < self.high < math.inf:
            raise ArgumentFault(
                "sweep", (self.low, self.high), "two frequencies above zero, the lower one first"
            )
        if self.points < 1:
            raise ArgumentFault("points", self.points, "one or more a decade")


def netlist(
    title: str,
    cards: Sequence[Card],
    sweep: Sweep | None = None,
    watched: Sequence[str] = (),
    remarks: Sequence[str] = (),
) -> str:
    """The text of a circuit.

    Parameters
    ----------
    title
        Its first line.
    cards
        The elements, in the order in which they are to stand; no two of one kind may have the same name. Node "0" is what
        voltages are told against.
    sweep
        Of the ``.ac`` line; left out, 20 Hz to 20 kHz.
    watched
        Nodes whose magnitude and phase a run prints.
    remarks
        Lines for the reader.

    Raises
    ------
    ArgumentFault
        For a value that is none, a name twice, an unknown coil or node, a node without a path for direct current to node 0,
        and a loop of nothing but voltages and coils.
    """
    sweep = sweep or Sweep()
    _check_values(cards)
    _check_circuit(cards)
    nodes = _tokens(dict.fromkeys(node for card in cards for node in _nodes(card) if node != GROUND))
    unknown = [node for node in watched if node not in nodes]
    if unknown:
        raise ArgumentFault("watched", unknown[0], "a node of the circuit other than 0")
    nodes[GROUND] = GROUND
    names = _names(cards)
    spelled = {node: token for node, token in nodes.items() if token != node.lower().replace(" ", "_")}
    told = [f"node {token} is {_plain(node)}" for node, token in spelled.items()]
    prints = [f".print ac vm({nodes[node]}) vp({nodes[node]})" for node in watched]
    lines = [
        _plain(title) or "circuit",
        *(f"* {_plain(line)}" for remark in remarks for line in remark.splitlines()),
        "* ohm, farad, henry, volt, ampere; node 0 is what voltages are told against",
        *(f"* {line}" for line in told),
        *(_line(card, nodes, names) for card in cards),
        f".ac dec {sweep.points} {_number(sweep.low)} {_number(sweep.high)}",
        *prints,
        ".end",
    ]
    return "\n".join(lines) + "\n"


def _line(card: Card, nodes: dict[str, str], names: dict[tuple[str, str], str]) -> str:
    name = names[_key(card)]
    if isinstance(card, Coupling):
        coils = f"{names['L', card.one]} {names['L', card.other]}"
        return f"{name} {coils} {_number(card.coefficient)}"
    places = " ".join(nodes[node] for node in _nodes(card))
    if isinstance(card, Drive):
        return f"{name} {places} dc 0 ac {_number(card.magnitude)} {_number(card.degrees)}"
    if isinstance(card, Controlled):
        return f"{name} {places} {_number(card.gain)}"
    if card.kind != "C" and card.value == 0:
        return f"V{name} {places} dc 0"
    return f"{name} {places} {_number(card.value)}"


def _number(value: float) -> str:
    """`value` with all its digits, as ``2.2e-09``."""
    return str(np.format_float_scientific(value, trim="-"))


def _plain(text: str) -> str:
    """`text` in characters that every simulator reads."""
    spelled = text.translate({ord("Ω"): "ohm", ord("µ"): "u", ord("−"): "-", ord("°"): " deg "})
    return "".join(c if " " <= c <= "~" else "?" for c in " ".join(spelled.split()))


def _tokens(names: Sequence[str] | dict[str, None]) -> dict[str, str]:
    """A token of lower-case letters, digits and underscores for every name, no two alike."""
    found: dict[str, str] = {}
    taken: set[str] = set(_RESERVED)
    for name in names:
        signs = re.sub(r"[-−](?!\w)", " minus ", name.replace("+", " plus "))
        base = re.sub("[^a-z0-9]+", "_", signs.lower()).strip("_")[:_LONGEST_NAME]
        base = base if base[:1].isalpha() else f"n{base}"
        token, count = base, 1
        while token in taken:
            count += 1
            token = f"{base}_{count}"
        taken.add(token)
        found[name] = token
    return found


def _key(card: Card) -> tuple[str, str]:
    if isinstance(card, Coupling):
        return "K", card.name
    return ("E" if isinstance(card, Controlled) else card.kind), card.name


def _names(cards: Sequence[Card]) -> dict[tuple[str, str], str]:
    """What each element is called in the text: the letter of its kind and its name."""
    kinds = dict.fromkeys(kind for kind, _ in map(_key, cards))
    tokens = {kind: _tokens([name for k, name in map(_key, cards) if k == kind]) for kind in kinds}
    return {(kind, name): f"{kind}_{tokens[kind][name]}" for kind, name in map(_key, cards)}


def _nodes(card: Card) -> tuple[str, ...]:
    match card:
        case Part():
            return card.first, card.second
        case Drive():
            return card.plus, card.minus
        case Controlled():
            return card.plus, card.minus, card.control_plus, card.control_minus
    return ()


def _check_values(cards: Sequence[Card]) -> None:
    seen: set[tuple[str, str]] = set()
    coils = {card.name: card.value for card in cards if isinstance(card, Part) and card.kind == "L"}
    for card in cards:
        key = _key(card)
        if key in seen:
            raise ArgumentFault(
                "cards", f"{key[0]} {key[1]} twice", "names that no other card of the kind has"
            )
        seen.add(key)
        match card:
            case Part():
                _check(card, card.value, math.isfinite(card.value) and card.value >= 0, "zero or more")
            case Drive():
                finite = math.isfinite(card.magnitude) and math.isfinite(card.degrees)
                _check(card, (card.magnitude, card.degrees), finite, "finite numbers")
            case Controlled():
                _check(card, card.gain, math.isfinite(card.gain), "a finite number")
            case Coupling():
                _check(card, card.coefficient, 0 < card.coefficient <= 1, "above 0 and at most 1")
                known = card.one != card.other and all(coils.get(coil) for coil in (card.one, card.other))
                _check(card, (card.one, card.other), known, "two coils of the circuit, not of zero henry")


def _check(card: Card, value: object, good: bool, wanted: str) -> None:
    if not good:
        kind, name = _key(card)
        raise ArgumentFault("cards", f"{value} for {kind} {name}", wanted)


def _check_circuit(cards: Sequence[Card]) -> None:
    """Refuse what simulators stop at without a word that helps: no path for direct current, a loop of bare voltages."""
    paths, voltages = _Joined(), _Joined()
    for card in cards:
        kind, name = _key(card)
        if _is_bare(card) and not voltages.join(*_nodes(card)[:2]):
            wanted = "a resistance, however small, in every loop of voltages and coils"
            raise ArgumentFault("cards", f"{kind} {name} in a loop of voltages and coils", wanted)
        if _is_bare(card) or kind == "R":
            paths.join(*_nodes(card)[:2])
    for card in cards:
        for node in _nodes(card):
            if paths.root(node) != paths.root(GROUND):
                wanted = (
                    "a path for direct current from every node to node 0; 1e9 ohm across a capacitor will do"
                )
                raise ArgumentFault("cards", f"node {node} without one", wanted)


def _is_bare(card: Card) -> bool:
    """Whether direct current meets no resistance in it."""
    match card:
        case Part():
            return card.kind == "L" or (card.kind == "R" and card.value == 0)
        case Drive():
            return card.kind == "V"
    return isinstance(card, Controlled)


class _Joined:
    """Nodes that are joined to one another."""

    def __init__(self) -> None:
        self._up: dict[str, str] = {}

    def root(self, node: str) -> str:
        while (above := self._up.get(node, node)) != node:
            node = above
        return node

    def join(self, first: str, second: str) -> bool:
        """Join two nodes; whether they were apart before."""
        one, other = self.root(first), self.root(second)
        self._up[one] = other
        return one != other
