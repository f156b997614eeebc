"""Largest resistance that IEC 60228 allows a copper conductor, by class and nominal area."""

from __future__ import annotations

import math
from collections.abc import Mapping
from types import MappingProxyType

from ohmsworth.errors import ArgumentFault

# Ohm per kilometre at most at 20 °C, by nominal area in mm²: plain, metal-coated (None: not made so).
_SOLID: Mapping[float, tuple[float, float | None]] = {
    0.5: (36.0, 36.7), 0.75: (24.5, 24.8), 1.0: (18.1, 18.2), 1.5: (12.1, 12.2), 2.5: (7.41, 7.56),
    4.0: (4.61, 4.70), 6.0: (3.08, 3.11), 10.0: (1.83, 1.84), 16.0: (1.15, 1.16), 25.0: (0.727, None),
    35.0: (0.524, None), 50.0: (0.387, None), 70.0: (0.268, None), 95.0: (0.193, None), 120.0: (0.153, None),
}  # fmt: skip
_STRANDED: Mapping[float, tuple[float, float | None]] = {
    **_SOLID, 25.0: (0.727, 0.734), 35.0: (0.524, 0.529), 50.0: (0.387, 0.391), 70.0: (0.268, 0.270),
    95.0: (0.193, 0.195), 120.0: (0.153, 0.154),
}  # fmt: skip
_FLEXIBLE: Mapping[float, tuple[float, float | None]] = {
    0.5: (39.0, 40.1), 0.75: (26.0, 26.7), 1.0: (19.5, 20.0), 1.5: (13.3, 13.7), 2.5: (7.98, 8.21),
    4.0: (4.95, 5.09), 6.0: (3.30, 3.39), 10.0: (1.91, 1.95), 16.0: (1.21, 1.24), 25.0: (0.780, 0.795),
    35.0: (0.554, 0.565), 50.0: (0.386, 0.393), 70.0: (0.272, 0.277), 95.0: (0.206, 0.210),
    120.0: (0.161, 0.164),
}  # fmt: skip
#: Classes with their meaning: flexible and very flexible conductors share their maxima.
CONDUCTOR_CLASSES: Mapping[int, str] = MappingProxyType(
    {1: "solid", 2: "stranded", 5: "flexible", 6: "very flexible"}
)
_TABLES = {1: _SOLID, 2: _STRANDED, 5: _FLEXIBLE, 6: _FLEXIBLE}


def maximum_resistance(area: float, conductor_class: int = 5, tinned: bool = False) -> float:
    """Largest resistance in ohm per metre at 20 °C that IEC 60228 allows a nominal `area`.

    Parameters
    ----------
    area
        Nominal cross-section in square metre: 0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95 or 120 mm².
    conductor_class
        1 solid, 2 stranded, 5 flexible, 6 very flexible.
    tinned
        True for metal-coated wires (class 1: up to 16 mm²).

    Notes
    -----
    An upper limit for the buyer, not the resistance to expect. Source: "IEC60228".

    Examples
    --------
    >>> [round(1e3 * maximum_resistance(1.5e-6, number), 1) for number in (2, 5)]
    [12.1, 13.3]
    """
    if conductor_class not in _TABLES:
        wanted = ", ".join(f"{number} ({words})" for number, words in CONDUCTOR_CLASSES.items())
        raise ArgumentFault("conductor_class", conductor_class, f"one of {wanted}")
    for listed, limits in _TABLES[conductor_class].items():
        if math.isclose(listed * 1e-6, area, rel_tol=1e-9):
            limit = limits[tinned]
            if limit is None:
                raise ArgumentFault("tinned", tinned, f"False: class {conductor_class} is plain from 25 mm²")
            return limit / 1e3
    sizes = ", ".join(f"{size:g}" for size in _TABLES[conductor_class])
    raise ArgumentFault("area", area, f"a listed size in m²: {sizes} mm²")
