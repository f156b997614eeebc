"""What the invented shop builds: six cables, each with what its wires truly have."""

from __future__ import annotations

from ohmsworth.adapters.simulated.season.cables import Design, LikeWires, WireKind
from ohmsworth.materials import conductor_from_text


def _core(area: str) -> WireKind:
    text = f"{area} + 2 % lay"
    return WireKind(
        f'conductor = "{text}"\ntolerance = "5 %"', conductor_from_text(text).resistance_per_metre
    )


def _stated(milliohm: float, tolerance: str, role: str = "") -> WireKind:
    screen = f'\nrole = "{role}"' if role else ""
    return WireKind(f'resistance = "{milliohm:g} mΩ/m"\ntolerance = "{tolerance}"{screen}', milliohm * 1e-3)


_PAIR = 'pair = "way"\n'
_WAYS = range(1, 9)


def _ways(contact: int) -> tuple[str, ...]:
    return tuple(f"{way}.{contact}" for way in _WAYS)


MICROPHONE = Design(
    "microphone cable", 5.0, ("three-pin socket", "three-pin plug"), "1-3",
    {"core": _core("0.22 mm²"), "screen": _stated(32, "15 %", "screen")},
    (
        LikeWires("screen", "1", ("1",), "screen"),
        LikeWires("hot", "2", ("2",), "core", _PAIR),
        LikeWires("cold", "3", ("3",), "core", _PAIR),
    ),
    bulk="microphone wire",
)  # fmt: skip
PATCH = Design(
    "patch cable", 0.6, ("three-pole plug", "three-pole plug"), "1-3",
    {"core": _core("0.14 mm²"), "screen": _stated(40, "15 %", "screen")},
    (
        LikeWires("sleeve", "1", ("1",), "screen"),
        LikeWires("tip", "2", ("2",), "core", _PAIR),
        LikeWires("ring", "3", ("3",), "core", _PAIR),
    ),
    count=1e-4, bulk="patch wire",
)  # fmt: skip
#: Its cores come from drums of which each has a little more than the one before.
DATA = Design(
    "lighting data cable", 20.0, ("five-pin plug", "five-pin socket"), "1-5",
    {"pair": _stated(85, "6 %"), "screen": _stated(30, "15 %", "screen")},
    (
        LikeWires("screen", "1", ("1",), "screen"),
        LikeWires("data", "2-5", ("2", "3", "4", "5"), "pair"),
    ),
    bulk="lighting data wire",
)  # fmt: skip
LOUDSPEAKER = Design(
    "loudspeaker cable", 15.0, ("four-pole socket", "four-pole plug"), "1-4",
    {"core": _core("2.5 mm²")}, (LikeWires("pole", "1-4", ("1", "2", "3", "4"), "core"),),
    contact=2e-3, contact_limit=6e-3, count=1e-4, bulk="loudspeaker wire, 4 poles",
)  # fmt: skip
MULTICORE = Design(
    "stage multicore", 25.0, ("multipin, male", "multipin, female"), "1-8.1-3",
    {"core": _core("0.22 mm²"), "screen": _stated(42, "15 %", "screen")},
    (
        LikeWires("screen", "1-8.1", _ways(1), "screen"),
        LikeWires("hot", "1-8.2", _ways(2), "core", _PAIR),
        LikeWires("cold", "1-8.3", _ways(3), "core", _PAIR),
    ),
    bulk="multicore 8 pairs",
)  # fmt: skip
VIDEO = Design(
    "studio video cable", 10.0, ("75 ohm plug", "75 ohm plug"), "1-2",
    {"inner": _stated(55, "6 %"), "outer": _stated(12, "15 %", "screen")},
    (LikeWires("inner", "1", ("1",), "inner"), LikeWires("outer", "2", ("2",), "outer")),
)  # fmt: skip
