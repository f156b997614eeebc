"""What the manual takes from the program about cables."""

from __future__ import annotations

from collections.abc import Callable

from tools.manual_words import ROOT, table, written

from ohmsworth.adapters.files.cables import read_cables
from ohmsworth.materials import (
    CONSTRUCTIONS,
    ENTRIES,
    FAMILIES,
    Construction,
    Entry,
    characteristic_impedance,
    keys_of,
    measured_of_elements,
    stranded,
    two_wires,
    velocity_factor_of,
)
from ohmsworth.units import show


def cables(family: str) -> str:
    """The library's cables of one family, with what a circuit takes of them."""
    return _cabletable([cable for cable in CONSTRUCTIONS if cable.family == family])


def _cabletable(listed: list[Construction]) -> str:
    header = (
        "cable",
        "what it is",
        "conductor",
        "capacitance",
        "inductance",
        "Z0",
        "velocity",
        "screen",
        "tan δ",
    )
    return table(header, [_cable_row(cable) for cable in listed])


def _cable_row(cable: Construction) -> tuple[str, ...]:
    value = {key: number for key, number in cable.values.items() if isinstance(number, float)}
    if cable.family == "pair":
        between, rest = measured_of_elements(value["core_core"], value["core_screen"])
        told = f"{_pf(between)} core to core, {_pf(rest)} core to rest"
    else:
        between = value["capacitance"]
        told = _pf(between)
    screen = [show(value["screen_resistance"], "Ω/m")] if "screen_resistance" in value else []
    if "screen_diameter" in value:
        screen += [f"{value['screen_diameter'] * 1e3:.3g} mm inside"]
    return (
        f"`{cable.name}`",
        cable.words,
        str(cable.values["conductor"]),
        told,
        f"{value['inductance'] * 1e6:.3f} µH/m",
        f"{characteristic_impedance(value['inductance'], between):.0f} Ω",
        f"{velocity_factor_of(value['inductance'], between):.2f}",
        ", ".join(screen) or "–",
        f"{value['loss_tangent']:g}" if "loss_tangent" in value else "–",
    )


def _pf(capacitance: float) -> str:
    return f"{capacitance * 1e12:.0f} pF/m"


def cable_ways() -> str:
    """What each family of cables needs, and the ways to describe one."""
    lines = []
    for family in FAMILIES.values():
        always = _keys(family.needed)
        lines.append(f"- **{family.name}** ({family.words}): {always}, and one of")
        for way in family.ways:
            extra = f" (and if you like {_keys(way.optional)})" if way.optional else ""
            lines.append(f"  - {way.words}: {_keys(way.keys)}{extra}")
        lines.append(f"  - besides, where it is known: {_keys(family.optional)}")
    return "\n".join(lines)


def _keys(keys: tuple[str, ...]) -> str:
    return ", ".join(f"`{key}`" for key in keys)


def cable_entries() -> str:
    """Every entry of a cable, what it means and what is accepted."""
    rows = []
    for entry in ENTRIES.values():
        families = [family.name for family in FAMILIES.values() if entry.key in keys_of(family)]
        rows.append((f"`{entry.key}`", entry.words, _believed(entry), ", ".join(families)))
    return table(("key", "meaning", "accepted", "families"), rows)


def _believed(entry: Entry) -> str:
    if entry.dimension == "text":
        return "mm², AWG or strands"
    low, high = (written(v, entry.dimension).strip('"') for v in (entry.lowest, entry.highest))
    return f"{low} or {high}" if entry.dimension == "number" else f"{low} to {high}"


def cable_example() -> str:
    """The shop's file of the examples, what comes of it, and its first cable reckoned by hand."""
    path = ROOT / "examples/cables.toml"
    found = list(read_cables(path))
    diameter = stranded(28, 0.1e-3).diameter or 0.0
    alone = two_wires(diameter, 1.4e-3, 2.0)
    screened = float(found[0].values["inductance"])
    steps = (
        f"By hand, for the first: 28 strands of 0.10 mm make a bundle of d = 0.10 mm × √(28/0.75) = {diameter * 1e3:.3f} mm. "
        f"Cores that touch lie s = 1.4 mm apart. Without a screen L = (µ0/π) arcosh(s/d) = 0.4 µH/m × "
        f"arcosh({1.4e-3 / diameter:.3f}) = {alone.inductance * 1e6:.3f} µH/m and C = πε/arcosh(s/d) = "
        f"{_pf(alone.capacitance)}. The screen at 3.0 mm pushes the field together: {screened * 1e6:.3f} µH/m, with the "
        "twist counted."
    )
    return f"```toml\n{path.read_text('utf-8').rstrip()}\n```\n\nIt gives:\n\n{_cabletable(found)}\n\n{steps}"


CABLE_PARTS: dict[str, Callable[..., str]] = {
    "cables": cables,
    "cable-ways": cable_ways,
    "cable-entries": cable_entries,
    "cable-example": cable_example,
}
