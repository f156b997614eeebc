"""Constriction: what it costs the current to squeeze through a few small spots, and through a film on them."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

from ohmsworth.errors import ArgumentFault
from ohmsworth.materials.hardness import hardness_of
from ohmsworth.materials.metals import metal
from ohmsworth.materials.span import Span, positive

Array = npt.NDArray[np.float64]


def spot_radius(force: npt.ArrayLike, hardness: float) -> Array:
    """Radius in metre of the one round spot at which a clean contact touches.

    a = √(F/(πH)): the metal gives way until the spot bears the force.

    Parameters
    ----------
    force
        Newton, positive, any shape.
    hardness
        Pascal, of the softer member (see HARDNESS).

    Notes
    -----
    Valid for clean metal pressed beyond its yield, from some 0.01 N to 100 N. Source: "Slade".
    """
    newton = _positive_array("force", force, "newton")
    positive("hardness", hardness, "pascal")
    return np.asarray(np.sqrt(newton / (math.pi * hardness)))


def spot_resistance(resistivity: float, radius: npt.ArrayLike, against: float | None = None) -> Array:
    """Resistance in ohm of the constriction at one round spot.

    R = ρ/(2a) between members of one metal, (ρ1 + ρ2)/(4a) between two metals.

    Parameters
    ----------
    resistivity
        Ohm metre of a member.
    radius
        Metre, positive, any shape.
    against
        Ohm metre of the other member; none given, it is of the same metal.

    Notes
    -----
    Valid for a spot much smaller than the members and than its distance from other spots, and larger than the
    path of an electron between collisions (some 0.05 µm). A plating thinner than the spot lets the base metal
    take part. Source: "Holm-memory".
    """
    other = resistivity if against is None else against
    positive("resistivity", resistivity, "ohm metre")
    positive("against", other, "ohm metre")
    return np.asarray((resistivity + other) / (4 * _positive_array("radius", radius, "metre")))


def cluster_resistance(resistivity: float, radius: float, spots: int, cluster: float) -> float:
    """Resistance in ohm of `spots` round spots of one `radius`, spread over a `cluster`.

    R = ρ/(2na) + ρ/(2α): the spots side by side, and the constriction towards the area they share.

    Parameters
    ----------
    resistivity
        Ohm metre, both members.
    radius
        Metre, of each spot.
    spots
        How many, 2 or more. One has no cluster: see `spot_resistance`.
    cluster
        Radius in metre of the area over which they are spread, to half a gap beyond the outermost; they have to
        fit in, n a² ≤ α².

    Notes
    -----
    Valid for spots of one size that are spread evenly over a round area: within 15 % from some twenty spots on, 25 %
    for seven, against discs worked out one by one. Source: "Greenwood".
    """
    positive("resistivity", resistivity, "ohm metre")
    positive("radius", radius, "metre")
    if spots < 2:
        raise ArgumentFault("spots", spots, "2 or more")
    if not (math.isfinite(cluster) and cluster >= radius * math.sqrt(spots)):
        wanted = f"{radius * math.sqrt(spots):g} m or more, so that {spots} spots fit in"
        raise ArgumentFault("cluster", cluster, wanted)
    return resistivity / (2 * spots * radius) + resistivity / (2 * cluster)


def film_resistance(film: npt.ArrayLike, area: float) -> Array:
    """Resistance in ohm of a film between the members, σ/A.

    Parameters
    ----------
    film
        Resistance of a unit area of it, ohm square metre, zero or more, any shape: resistivity times thickness
        for a film that conducts through its bulk.
    area
        Square metre that carries the current: the area of the spots, not of the contact.

    Notes
    -----
    Valid for an ohmic film of even thickness; tarnish is neither. It adds to the constriction.
    Source: "Holm-memory".
    """
    values = np.asarray(film, dtype=float)
    if not (np.all(np.isfinite(values)) and np.all(values >= 0)):
        raise ArgumentFault("film", film, "zero or more ohm square metre")
    positive("area", area, "square metre")
    return np.asarray(values / area)


def clean_resistance(plating: str, force: float, other: str | None = None) -> Span:
    """Resistance of a clean contact from the softest to the hardest form of its metals, in ohm.

    R = (ρ1 + ρ2)/4 × √(πH/F), H of the softer member.

    Parameters
    ----------
    plating
        A metal of METALS.
    force
        Newton between the members, 0.01 to 1000.
    other
        The metal of the other member; none given, the same.

    Notes
    -----
    One spot, no film, the plating thicker than the spot, nothing of the bulk of the parts: a floor for what a
    contact of that force reads, not what it reads. Several spots share the same area and come out lower (see
    `cluster_resistance`). Hard gold has a higher resistivity than the pure gold taken here. Source: "Slade".

    Examples
    --------
    >>> span = clean_resistance("gold", 1.0)
    >>> f"{1e3 * span.low:.2f} to {1e3 * span.high:.2f} mΩ"
    '0.30 to 0.96 mΩ'
    """
    if not 0.01 <= force <= 1000:
        raise ArgumentFault("force", force, "0.01 to 1000 newton")
    one, two = metal(plating), metal(plating if other is None else other)
    pressures = [hardness_of(each.name).pressure for each in (one, two)]
    ends = (min(p.low for p in pressures), min(p.high for p in pressures))
    low, high = (
        float(spot_resistance(one.resistivity, spot_radius(force, end), two.resistivity)) for end in ends
    )
    return Span(low, high)


def _positive_array(name: str, value: npt.ArrayLike, unit: str) -> Array:
    array = np.asarray(value, dtype=float)
    if not (np.all(np.isfinite(array)) and np.all(array > 0)):
        raise ArgumentFault(name, value, f"positive {unit}")
    return array
