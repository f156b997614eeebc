"""A resistance of a cable that looks like a slip of the hand: a decimal mark or a unit, asked about before it is kept."""

from __future__ import annotations

from dataclasses import dataclass

from ohmsworth.cables.ahead import Ahead
from ohmsworth.cables.request import CableRequest, CableRow
from ohmsworth.units import show_stated

#: A reading as near to the bounds as this factor may be a joint or a kink; one is not asked about it.
_NEAR = 2.0
#: How far beyond the bounds the moved figure may lie to bear the slip out.
_BORNE_OUT = 1.25
#: Places by which a decimal mark slips, and units are mistaken.
_POWERS = (1, -1, 2, -2, 3, -3)


@dataclass(frozen=True, slots=True)
class Slip:
    """What is asked, and what to do about it."""

    words: str
    mend: str


def slip_of(request: CableRequest, ahead: Ahead, row: CableRow) -> Slip | None:
    """The likeliest slip of a wire's reading; None where it may well be what the meter showed.

    Only readings of one wire from end to end are expected anything of. A figure far outside of the wire's bounds that lies inside
    them with its decimal mark moved is asked about.
    """
    if row.ohm is None or row.ohm >= request.no_path or len(row.one) != 1 or len(row.other) != 1:
        return None
    between = {row.one[0], row.other[0]}
    wire = next((one for one in request.build.wires if {one.start, one.stop} == between), None)
    if wire is None:
        return None
    leads = request.meter.leads.value if request.meter is not None else 0.0
    bounds = ahead.readings[wire.name][0]
    if bounds.low / _NEAR <= row.ohm - leads <= bounds.high * _NEAR:
        return None
    for power in _POWERS:
        moved = row.ohm * 10.0**-power
        if bounds.low / _BORNE_OUT <= moved - leads <= bounds.high * _BORNE_OUT:
            times = f"{10 ** abs(power)} times {'more' if power > 0 else 'less'}"
            return Slip(
                f"{show_stated(row.ohm, 'Ω')} is about {times} than {wire.name} should read: "
                "a slipped decimal mark or another unit?",
                f"Look at the meter: if it shows {show_stated(moved, 'Ω')}, type that.",
            )
    return None
