"""What a contact's impedance is made of: resistance, inductance, and a film or a skin effect where the curve bears it.

Models are those of `shapes.py`, fitted by `least_squares.py`. Which one is told:

1. A film or a skin effect, with three tones or more, when chance (`corner.py`, noise and common errors in it) is below 2.5 % for
   it: 5 % for both together. Of two that pass, the rarer one.
2. It is told apart into its parameters only if the 95 % interval of its corner is closed on both sides. Otherwise the curve
   is told to fall, or to rise: a resistance whose film bends outside of the tones is seen as one with the contact's.
3. Else an inductance, when it differs from zero at 5 % (two-sided t, noise and common errors in it).
4. Else a resistance alone.

How well the rest agrees with noise and common errors is told with it, and so is the resistance at both ends of the tones.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

import numpy as np

from ohmsworth.errors import ArgumentFault
from ohmsworth.resistance.impedance.corner import Bending, best_bending, full_columns
from ohmsworth.resistance.impedance.curve import Array, Complex, Curve
from ohmsworth.resistance.impedance.estimated import Estimated, subtracted
from ohmsworth.resistance.impedance.least_squares import (
    Consistency,
    LinearFit,
    Weighted,
    consistency,
    fitted,
    weighted,
)
from ohmsworth.resistance.impedance.shapes import columns_of

#: What is told of a curve.
Model = Literal["resistance", "series", "film", "falls", "skin", "rises"]
#: Chance with which a part is told that is not there.
LEVEL = 0.05
#: Tones within this factor of the lowest, or of the highest, make an end: half a decade.
END = 10**0.5
_FEWEST_FOR_BEND = 3


@dataclass(frozen=True, slots=True, eq=False)
class Parts:
    """What a curve is made of.

    Parameters
    ----------
    model
        "resistance"; "series" with an inductance; "film" or "skin"; "falls" or "rises" where a film or a skin
        effect is seen and cannot be taken apart.
    parameters
        By name, SI units: "resistance" at low frequency (of everything, and of "falls" so far as the tones go down);
        "inductance"; of a film "film resistance", "film capacitance" and "bare resistance" without it; of a skin
        effect "skin resistance", the part that has it.
    fit
        Impedance of the model at the tones, in ohm.
    film, skin
        The best of each, whether it is told or not; None with fewer than three tones. Of a film that is not told,
        `bound` is the most that may hide, where it would bend within the tones. About one that bends above the
        tones the curve says nothing: it may be up to the whole resistance.
    inductance_p
        Two-sided chance of the inductance, without film or skin effect.
    consistency
        Whether the rest is noise.
    low, high, rise
        Resistance at both ends of the tones (those within half a decade, or the last one), and high minus low, by no model.
    """

    model: Model
    parameters: Mapping[str, Estimated]
    fit: Complex
    film: Bending | None
    skin: Bending | None
    inductance_p: float
    consistency: Consistency
    low: Estimated
    high: Estimated
    rise: Estimated


def parts(curve: Curve) -> Parts:
    """Take an impedance over frequency apart.

    Raises
    ------
    ArgumentFault
        When a frequency is not above zero, or the noise of a tone is not known (see `weighted`).
    """
    if not (len(curve.frequency) and curve.frequency[0] > 0 and (np.diff(curve.frequency) > 0).all()):
        raise ArgumentFault("frequency", curve.frequency, "one or more, above zero and ascending")
    data, f = weighted(curve), curve.frequency
    series = fitted(data, columns_of("series", f))
    inductance_p = series.estimated(np.array([0.0, 1.0])).p_value()
    film = skin = None
    if len(f) >= _FEWEST_FOR_BEND:
        film, skin = best_bending(data, "film"), best_bending(data, "skin")
    bent = _borne(film, skin)
    model: Model
    if film is not None and bent is film:
        model, (values, columns, fit) = ("film" if film.apart else "falls"), _bent(f, film)
    elif skin is not None and bent is skin:
        model, (values, columns, fit) = ("skin" if skin.apart else "rises"), _bent(f, skin)
    elif inductance_p < LEVEL:
        model, columns = "series", columns_of("series", f)
        values, fit = _named(series, "resistance", "inductance"), columns @ series.value
    else:
        model, columns = "resistance", columns_of("resistance", f)
        alone = fitted(data, columns)
        values, fit = _named(alone, "resistance"), columns @ alone.value
    low, high = (_end(data, chosen) for chosen in _ends(f))
    return Parts(
        model,
        values,
        fit,
        film,
        skin,
        inductance_p,
        consistency(data, columns, curve.value - fit),
        low,
        high,
        subtracted(high, low),
    )


def _borne(film: Bending | None, skin: Bending | None) -> Bending | None:
    """The rarer of those that chance does not explain."""
    seen = [bending for bending in (film, skin) if bending is not None and bending.p_value < LEVEL / 2]
    return min(seen, key=lambda bending: (bending.p_value, bending.fit.square), default=None)


def _named(fit: LinearFit, *names: str) -> dict[str, Estimated]:
    """The first parameters of a fit by name."""
    return {name: fit.estimated(row) for name, row in zip(names, np.eye(len(fit.value)), strict=False)}


def _bent(frequency: Array, bent: Bending) -> tuple[dict[str, Estimated], Complex, Complex]:
    """Parameters, linearised columns and impedance of a film or a skin effect."""
    fit = columns_of(bent.shape, frequency, bent.corner) @ bent.fit.value
    columns = full_columns(bent.shape, frequency, float(bent.fit.value[2]), bent.corner)
    film = bent.shape == "film"
    whole = np.array([1.0, 0.0, 1.0 if film else 0.0])
    if not bent.apart:
        return {"resistance": bent.fit.estimated(whole)}, columns, fit
    values = _named(bent.full, "bare resistance" if film else "resistance", "inductance")
    amplitude = bent.full.estimated(np.array([0.0, 0.0, 1.0, 0.0]))
    if not film:
        return values | {"skin resistance": amplitude}, columns, fit
    values["resistance"] = bent.full.estimated(np.append(whole, 0.0))
    values["film resistance"] = amplitude
    values["film capacitance"] = _capacitance(bent)
    return values, columns, fit


def _capacitance(bent: Bending) -> Estimated:
    """Cf = 1/(2π fc Rf): δCf/Cf = −δRf/Rf − δ ln fc."""
    ohm = float(bent.fit.value[2])
    farad = 1 / (2 * np.pi * bent.corner * ohm)
    change = bent.full.estimated(farad * np.array([0.0, 0.0, -1 / ohm, -1.0]))
    return Estimated(farad, change.random, change.degrees, change.shared)


def _ends(frequency: Array) -> tuple[Array, Array]:
    """Which tones make the lower and the upper end; single ones where the ends would meet."""
    low, high = frequency <= frequency[0] * END, frequency >= frequency[-1] / END
    if (low & high).any():
        low, high = frequency == frequency[0], frequency == frequency[-1]
    return low, high


def _end(data: Weighted, chosen: Array) -> Estimated:
    """Mean resistance of some tones, weighted by their noise."""
    curve = data.curve
    weights = 1 / curve.random[chosen, 0, 0]
    share, degrees = weights / weights.sum(), curve.degrees[chosen]
    dearer = 1 + 4 * float((share * (1 - share) / (degrees - 4)).sum())
    spread = float((share**2 / degrees).sum())
    return Estimated(
        float(share @ curve.value.real[chosen]),
        float(np.sqrt(dearer / weights.sum())),
        1 / spread if spread > 0 else np.inf,
        {name: float(share @ effect.real[chosen]) for name, effect in curve.shared.items()},
    )
