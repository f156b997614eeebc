"""The pieces that a cable is cut from: as long as it will be, with what goes into its ends, never too short."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable
from dataclasses import dataclass

from ohmsworth.cables.build import Wire
from ohmsworth.cables.request import ALLOWANCE, CableRequest

#: What a piece is called that holds all cores of a bought cable.
WHOLE = "the cable"
#: Parts of a millimetre below which a length is the whole number that it was typed as.
_DIGITS = 6


@dataclass(frozen=True, slots=True)
class Pieces:
    """Pieces of one length.

    Parameters
    ----------
    stock
        What they are cut from.
    cable
        The cable that they are for.
    what
        The kind of wire, or WHOLE.
    wires
        Names of the wires, one a piece and copy; of a bought cable, its cores.
    section
        Number of the section between joints, from the first end; 0 without joints.
    number
        Of all copies together.
    finished, allowance, tolerance
        Metre of each: in the finished cable, for both its ends, and by how much the cable may be longer.
    millimetres
        To be cut each: the sum of the three, rounded up.
    """

    stock: str
    cable: str
    what: str
    wires: tuple[str, ...]
    section: int
    number: int
    finished: float
    allowance: float
    tolerance: float
    millimetres: int


def wire_cut(request: CableRequest, wire: Wire) -> float:
    """Length to cut for a wire that runs in one piece, metre, without the length's tolerance."""
    return request.build.length + sum(_ends_allowance(request, end) for end in _ends(request, wire))


def whole_millimetres(metres: float, up: bool) -> int:
    """`metres` in millimetres, rounded up or down; what was typed as a whole number stays one.

    Examples
    --------
    >>> whole_millimetres(0.29, False), whole_millimetres(0.2901, True), whole_millimetres(0.2909, False)
    (290, 291, 290)
    """
    exact = round(metres * 1000, _DIGITS)
    return math.ceil(exact) if up else math.floor(exact)


def cut_list(request: CableRequest) -> tuple[Pieces, ...]:
    """Every piece of all copies, like ones together: the bought cable first, then loose wires in their order.

    A cable that is bought whole is one piece (one a section where it has joints), as long as the longest of its cores.
    """
    supply = request.supply
    cores = [wire for wire in request.build.wires if supply.bulk and wire.kind.name not in supply.stocks]
    loose = [wire for wire in request.build.wires if not supply.bulk or wire.kind.name in supply.stocks]
    lines: list[Pieces] = []
    if cores:
        longest = max(cores, key=lambda wire: wire_cut(request, wire))
        names = tuple(wire.name for wire in cores)
        lines += _sections(request, longest, supply.bulk, WHOLE, names, supply.quantity)
    groups: dict[tuple[str, str, tuple[str, ...]], list[Wire]] = {}
    for wire in loose:
        groups.setdefault((_stock(request, wire), wire.kind.name, _ends(request, wire)), []).append(wire)
    for (stock, kind, _), wires in groups.items():
        names = tuple(wire.name for wire in wires)
        lines += _sections(request, wires[0], stock, kind, names, len(wires) * supply.quantity)
    return tuple(lines)


def _sections(
    request: CableRequest, wire: Wire, stock: str, what: str, names: tuple[str, ...], number: int
) -> Iterable[Pieces]:
    """A line for each section between joints; one where there are none."""
    build = request.build
    joints = tuple(dict.fromkeys(request.joints))
    marks = (0.0, *joints, build.length)
    first, last = (_ends_allowance(request, end) for end in _ends(request, wire))
    joint = ALLOWANCE if request.supply.joint_allowance is None else request.supply.joint_allowance
    at = (first, *(joint for _ in joints), last)
    for k, (start, stop) in enumerate(itertools.pairwise(marks)):
        finished, allowance = stop - start, at[k] + at[k + 1]
        tolerance = build.length_tolerance * finished / build.length
        each = whole_millimetres(finished + allowance + tolerance, up=True)
        section = k + 1 if joints else 0
        yield Pieces(stock, build.name, what, names, section, number, finished, allowance, tolerance, each)


def _stock(request: CableRequest, wire: Wire) -> str:
    stock = request.supply.stocks.get(wire.kind.name)
    return wire.kind.name if stock is None else stock.called(wire.colour)


def _ends(request: CableRequest, wire: Wire) -> tuple[str, str]:
    """Both ends of a wire, in the order of the cable's ends."""
    order = [end.name for end in request.build.ends]
    one, other = sorted((wire.start.end, wire.stop.end), key=order.index)
    return one, other


def _ends_allowance(request: CableRequest, end: str) -> float:
    return request.allowances.get(end, ALLOWANCE)
