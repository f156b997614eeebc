"""Fritting: the voltage at which a film on a contact breaks down, and why a dry circuit stays below it."""

from __future__ import annotations

from dataclasses import dataclass

from ohmsworth.errors import ArgumentFault
from ohmsworth.materials.facts import Statement
from ohmsworth.materials.metals import metal
from ohmsworth.materials.span import Span, positive
from ohmsworth.materials.spot_heat import melting_span

#: IEC 60512-2-1: at most 20 mV across the contact, so that films are not broken down. Source: "IEC60512-2-1".
DRY_VOLTAGE = 0.020
#: Field in volt per metre at which a film breaks down: about 1e8, films differ. Source: "Holm-memory".
FRITTING_FIELD = Span(5e7, 5e8)
#: Thickest film in metre for which field times thickness is used: 1 µm.
THICKEST_FILM = 1e-6


@dataclass(frozen=True, slots=True)
class Fritting:
    """When a film of one thickness breaks down.

    Parameters
    ----------
    thickness
        Metre.
    voltage
        Volts across the film at which it breaks down, lowest to highest.
    dry_is_below
        Whether 20 mV stay below the lowest of them.
    """

    thickness: float
    voltage: Span
    dry_is_below: bool


def fritting(thickness: float) -> Fritting:
    """Voltage at which a film of `thickness` (metre, up to 1 µm) breaks down.

    V = E d, E from 5e7 to 5e8 V/m.

    Notes
    -----
    This is the first breakdown (A-fritting) of an insulating or poorly conducting film that has not been rubbed
    through. It also needs a source that can deliver: once through, the spot widens while current flows
    (B-fritting). 20 mV stay below for every film thicker than 0.4 nm, a layer or two of atoms, through which
    electrons pass anyhow. Source: "Holm-memory".

    Examples
    --------
    >>> film = fritting(50e-9)
    >>> f"{film.voltage.low:.1f} to {film.voltage.high:.0f} V", film.dry_is_below
    ('2.5 to 25 V', True)
    """
    positive("thickness", thickness, "metre")
    if thickness > THICKEST_FILM:
        raise ArgumentFault("thickness", thickness, f"at most {THICKEST_FILM:g} m")
    voltage = FRITTING_FIELD.times(thickness)
    return Fritting(thickness, voltage, voltage.low > DRY_VOLTAGE)


def voltage_after_fritting(plating: str) -> Span:
    """Volts that a contact of `plating` settles at once its film has broken down: softening to melting voltage.

    The metal bridge grows until it is no longer hot enough to grow. Source: "Holm-memory" for what happens, "Holm"
    for the voltages.

    Examples
    --------
    >>> voltage_after_fritting("silver").low
    0.09
    """
    return Span(metal(plating).softening_voltage, melting_span(plating).high)


#: What goes with it.
FRITTING_FACTS: tuple[Statement, ...] = (
    Statement(
        "A dry-circuit reading has at most 20 mV, so that films are not broken down and the reading tells what a "
        "small signal meets.",
        "IEC60512-2-1",
        "use",
    ),
    Statement(
        "A film of silver sulfide also widens its channels under voltage, depends on polarity, and changes with time.",
        "Russ",
        "tarnish",
    ),
    Statement(
        "Breaking a film with current is no repair: the bridge is as small as the current was, and is lost at the "
        "next movement.",
        "practice",
        "use",
    ),
)
