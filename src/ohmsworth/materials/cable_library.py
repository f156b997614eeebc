"""Cables of every shop: constructions without a brand, each from its measures or its nominal impedance."""

from __future__ import annotations

from ohmsworth.errors import UnknownName
from ohmsworth.materials.constructions import Construction, construct
from ohmsworth.units import tidy

# Effective permittivities: solid polyethylene 2.3; with air or foam between the cores 1.5 to 2.2; plasticised
# vinyl 3 where the air outside takes part of the field, 4 where it does not. Sources: "dielectrics", "practice".
_POLYETHYLENE = 2.3
_FIGURE_EIGHT, _ROUND_VINYL = 3.0, 4.0
# Loss tangents. Sources: "dielectrics" (polyethylene, vinyl), "practice" (mixtures).
_LOW_LOSS, _MIXED, _VINYL = 3e-4, 1e-3, 0.04
_LAID = "+ 2 % lay"


def _pair(name: str, words: str, **given: float | str) -> Construction:
    return construct(name, words, "pair", given, "practice")


def _coax(name: str, words: str, **given: float | str) -> Construction:
    return construct(name, words, "coax", given, "practice")


def _two_core(name: str, words: str, **given: float | str) -> Construction:
    return construct(name, words, "two-core", given, "practice")


def _vinyl(name: str, words: str, strands: str, over: float, permittivity: float) -> Construction:
    """Two-core cable in vinyl: `strands` of a conductor and the diameter `over` its insulation."""
    return _two_core(
        name,
        words,
        conductor=f"{strands} {_LAID}",
        insulation_diameter=over,
        permittivity=permittivity,
        loss_tangent=_VINYL,
    )


_PAIRS = (
    _pair(
        "microphone pair 0.22 mm²",
        "flexible microphone cable, cores in polyethylene under a braided or lapped screen",
        conductor=f"28 × 0.10 mm {_LAID}",
        insulation_diameter=1.3e-3,
        screen_diameter=2.8e-3,
        permittivity=2.1,
        screen_resistance=0.025,
        loss_tangent=_MIXED,
    ),
    _pair(
        "microphone pair 0.22 mm², vinyl cores",
        "flexible microphone cable, cores in vinyl",
        conductor=f"28 × 0.10 mm {_LAID}",
        insulation_diameter=1.3e-3,
        screen_diameter=2.8e-3,
        permittivity=3.8,
        screen_resistance=0.03,
        loss_tangent=_VINYL,
    ),
    _pair(
        "thin pair 0.14 mm²",
        "one pair of a multicore cable, with its own screen",
        conductor=f"18 × 0.10 mm {_LAID}",
        insulation_diameter=1.0e-3,
        screen_diameter=2.1e-3,
        permittivity=2.1,
        screen_resistance=0.045,
        loss_tangent=_MIXED,
    ),
    _pair(
        "star quad 4 × 0.20 mm²",
        "microphone cable of four cores, opposite ones joined",
        conductor=f"26 × 0.10 mm {_LAID}",
        cores=4,
        insulation_diameter=1.2e-3,
        screen_diameter=3.0e-3,
        permittivity=2.1,
        screen_resistance=0.025,
        loss_tangent=_MIXED,
    ),
    _pair(
        "digital audio pair 110 Ω",
        "screened pair in foam for digital audio",
        conductor=f"28 × 0.10 mm {_LAID}",
        impedance=110.0,
        velocity_factor=0.78,
        measured_core_rest=67e-12,
        screen_resistance=0.03,
        loss_tangent=_LOW_LOSS,
    ),
    _pair(
        "lighting-control pair 120 Ω",
        "screened pair in foam for digital control of lighting",
        conductor=f"19 × 0.15 mm {_LAID}",
        impedance=120.0,
        velocity_factor=0.78,
        measured_core_rest=62e-12,
        screen_resistance=0.025,
        loss_tangent=_LOW_LOSS,
    ),
    _pair(
        "network pair 24 AWG 100 Ω",
        "one pair of network cable without a screen; the common is two wires of another pair",
        conductor=f"24 AWG {_LAID}",
        impedance=100.0,
        velocity_factor=0.68,
        core_screen=0.0,
        screen_resistance=0.043,
        loss_tangent=_MIXED,
    ),
)
_COAXES = (
    _coax(
        "instrument cable",
        "one core with a conductive layer and a lapped or braided screen",
        conductor="28 × 0.10 mm",
        screen_diameter=1.9e-3,
        permittivity=_POLYETHYLENE,
        screen_resistance=0.025,
        loss_tangent=_MIXED,
    ),
    _coax(
        "low-capacitance instrument cable",
        "one thin core in foam, with a conductive layer and a braided screen",
        conductor="18 × 0.10 mm",
        screen_diameter=2.9e-3,
        permittivity=1.8,
        screen_resistance=0.02,
        loss_tangent=_MIXED,
    ),
    _coax(
        "miniature video coax 75 Ω",
        "solid core of 0.6 mm in foam, 4.5 mm outside",
        conductor="1 × 0.6 mm",
        screen_diameter=2.85e-3,
        permittivity=1.55,
        screen_resistance=0.016,
        loss_tangent=_LOW_LOSS,
    ),
    _coax(
        "video coax 75 Ω, 59 type",
        "solid core of 0.58 mm in solid polyethylene, 6 mm outside; copper, not copper on steel",
        conductor="1 × 0.5842 mm",
        screen_diameter=3.7084e-3,
        permittivity=_POLYETHYLENE,
        screen_resistance=0.0085,
        loss_tangent=_LOW_LOSS,
    ),
    _coax(
        "video coax 75 Ω, 6 type",
        "solid core of 1 mm in foam, 7 mm outside",
        conductor="18 AWG",
        screen_diameter=4.6e-3,
        impedance=75.0,
        velocity_factor=0.82,
        screen_resistance=0.009,
        loss_tangent=_LOW_LOSS,
    ),
    _coax(
        "video coax 75 Ω, 11 type",
        "seven strands of 0.4 mm in solid polyethylene, 10 mm outside",
        conductor="7 × 0.404 mm",
        screen_diameter=7.24e-3,
        impedance=75.0,
        velocity_factor=0.66,
        screen_resistance=0.004,
        loss_tangent=_LOW_LOSS,
    ),
)
_TWO_CORES = (
    _vinyl("loudspeaker 2 × 1.5 mm²", "figure-eight loudspeaker cable", "30 × 0.25 mm", 2.8e-3, _FIGURE_EIGHT),
    _vinyl("loudspeaker 2 × 2.5 mm²", "figure-eight loudspeaker cable", "50 × 0.25 mm", 3.4e-3, _FIGURE_EIGHT),
    _vinyl("loudspeaker 2 × 4 mm²", "round loudspeaker cable", "56 × 0.30 mm", 4.2e-3, _ROUND_VINYL),
    _vinyl(
        "mains 3 × 1.5 mm²", "two of three cores of flexible mains cable", "30 × 0.25 mm", 3.1e-3, _ROUND_VINYL
    ),
    _vinyl(
        "mains 3 × 2.5 mm²", "two of three cores of flexible mains cable", "50 × 0.25 mm", 3.7e-3, _ROUND_VINYL
    ),
    _vinyl("headphone lead", "one channel and the return of a thin headphone lead", "14 × 0.08 mm", 0.8e-3, 3.5),
    _vinyl("low-voltage feed 2 × 0.75 mm²", "round cable for a low-voltage feed", "24 × 0.20 mm", 2.3e-3, 3.5),
)  # fmt: skip
#: The cables that every study knows by name.
CONSTRUCTIONS: tuple[Construction, ...] = (*_PAIRS, *_COAXES, *_TWO_CORES)


def construction(name: str, library: tuple[Construction, ...] = CONSTRUCTIONS) -> Construction:
    """Look up a cable by name: any case, x for ×, mm2 for mm², ohm for Ω.

    Parameters
    ----------
    library
        The cables to look in. Where two share a name the first one is taken, so that a shop's own go first.

    Raises
    ------
    UnknownName
        When there is none; it tells the nearest name and all that are known.

    Examples
    --------
    >>> round(1e12 * construction("Video coax 75 ohm, 59 type").values["capacitance"])
    69
    """
    wanted = plain_name(name)
    for each in library:
        if plain_name(each.name) == wanted:
            return each
    raise UnknownName("cable", name, tuple(each.name for each in library))


def plain_name(name: str) -> str:
    """`name` as it is compared: the ways of typing the same signs made one."""
    plain = " ".join(tidy(name).casefold().split())
    for typed, meant in (("×", "x"), ("mm²", "mm2"), ("ohm", "ω")):
        plain = plain.replace(typed, meant)
    return plain.replace(" x ", "x")
