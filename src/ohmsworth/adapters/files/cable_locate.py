"""The tables ``[[locate]]`` of cable.toml: what was measured to find how far away a fault lies."""

from __future__ import annotations

import math
from collections.abc import Sequence

from ohmsworth.adapters.files.asked import Asked, found_value
from ohmsworth.cables.build import Wire
from ohmsworth.cables.distance import Quantity
from ohmsworth.cables.located import METHODS, OF_A_LOOP, OF_A_SOUND_PAIR
from ohmsworth.cables.request import Locate
from ohmsworth.errors import QuantityFault, nearest_name, shorten
from ohmsworth.units import EXAMPLES, parse_quantity, split_quantity, tidy


def read_locate(asked: Asked, wires: Sequence[Wire], ends: Sequence[str]) -> tuple[Locate, ...]:
    """Every fault that can be located."""
    return tuple(found for table in asked.several("locate") if (found := _locate(table, wires, ends)))


def _locate(table: Asked, wires: Sequence[Wire], ends: Sequence[str]) -> Locate | None:
    before = len(table.faults)
    method = table.choice("method", tuple(METHODS), "")
    if "method" not in table.table:
        table.fault(
            "method", "no such key", " or ".join(f'"{one}"' for one in METHODS), "Say how it was measured."
        )
    named = _named(table, method, wires)
    at = table.choice("from", tuple(ends), ends[0] if ends else "") if ends else table.text("from") or ""
    readings = {
        key: found
        for key, dimension in METHODS.get(method, {}).items()
        if (found := _quantity(table, key, dimension)) is not None
    }
    if method:
        table.done()
    good = len(table.faults) == before
    if good and method in ("bridge loop",) and not 0 < readings["ratio"].value < 1:
        mend = "It is the arm beside the faulty wire over both arms together."
        table.fault("ratio", f"{readings['ratio'].value:g}", "above 0 and below 1", mend)
        good = False
    return Locate(method, named, at, readings) if good else None


def _named(table: Asked, method: str, wires: Sequence[Wire]) -> tuple[str, ...]:
    """The wires concerned; methods that lean on a wire's resistance need one, those of a loop two that are alike."""
    known = {wire.name: wire for wire in wires}
    named = [tidy(name) for name in table.items("wires", str, "names of wires")]
    for name in named:
        if name not in known:
            near = nearest_name(name, tuple(known))
            mend = f"Did you mean {shorten(near)}?" if near else "Write it as under [[wires]]."
            table.fault("wires", shorten(name), "the name of a wire", mend)
    least = 2 if method in OF_A_LOOP else 1
    if method and len(named) < least:
        which = "both wires that touch" if least == 2 else "the wire that is at fault"
        table.fault(
            "wires", f"{len(named)} of them" if named else "no such key", which, "Name them in a list."
        )
    kinds = {known[name].kind.name for name in named[:2] if name in known}
    if method == OF_A_SOUND_PAIR and len(kinds) > 1:
        mend = f'Write method = "{OF_A_LOOP[0]}", which knows what a metre of each kind has.'
        table.fault("wires", "wires of two kinds", "two wires of one kind: each has half of the loop", mend)
    return tuple(named)


def _quantity(table: Asked, key: str, dimension: str) -> Quantity | None:
    """``0.42 Ω ± 3 mΩ``: what stands after ± holds for certain and is taken as a rectangle (GUM 4.3.7)."""
    value = table.table.get(key)
    table.allow(key)
    example = f'{key} = "{EXAMPLES[dimension]} ± 1 %"'
    if not isinstance(value, str) or "±" not in value:
        found = "no such key" if value is None else f"{found_value(value)} without its uncertainty"
        table.fault(key, found, example, "Write the reading and, after ±, how far it may be off.")
        return None
    text, _, off = tidy(value).partition("±")
    try:
        number = parse_quantity(text.strip(), dimension)
        half = _half(off.strip(), number, text.strip(), dimension)
    except QuantityFault as error:
        table.fault(key, error.found, error.expected, error.mend)
        return None
    if number < 0 or half < 0:
        table.fault(key, found_value(value), "zero or more", "Check the sign.")
        return None
    return Quantity(number, half / math.sqrt(3))


def _half(off: str, number: float, text: str, dimension: str) -> float:
    """What stands after ±: a percentage, or a quantity that may leave its unit to the reading."""
    if off.endswith("%"):
        return parse_quantity(off, "ratio") * abs(number)
    if dimension != "plain ratio" and not split_quantity(off, dimension)[1]:
        off = f"{off} {split_quantity(text, dimension)[1]}"
    return parse_quantity(off, dimension)
