"""What is known of one contact while it is still being measured: its last resistance, its mating, and all of it so far.

No model is fitted: scatter between matings and between readings is pooled over the contacts of the condition by plain
sums of squares, which is what there is time for between two readings. The study's answer fits the same values.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from ohmsworth.inference.conformity import probability_within, verdict
from ohmsworth.inference.measured import is_rectangular
from ohmsworth.inference.specimens import coverage_factor
from ohmsworth.readings.study import Scale
from ohmsworth.readings.table import Array, Codes, number_cells
from ohmsworth.resistance import Resistances

#: The parts of a resistance's uncertainty that are no one source's.
COUNTS, EMF = "meter counts", "thermal EMF"


@dataclass(frozen=True, slots=True)
class OneResistance:
    """One resistance (ohm) with what the meters leave open of it.

    Parameters
    ----------
    value, standard, expanded
        Ohm; `expanded` covers with the probability that was asked for.
    parts
        Standard uncertainty by source, ohm.
    form
        How it was formed: an index of `ohmsworth.resistance.FORM_WORDS`.
    """

    value: float
    standard: float
    expanded: float
    parts: dict[str, float]
    form: int


@dataclass(frozen=True, slots=True)
class SoFar:
    """A contact's resistance from all its matings so far.

    Parameters
    ----------
    value, standard, expanded
        Ohm.
    matings, readings
        How many matings and resistances it rests on.
    scatter_known
        Whether scatter between matings is in the uncertainty; else it holds for this mating alone.
    probability, verdict
        That the contact is within the limit, and what may be said; None without a limit.
    """

    value: float
    standard: float
    expanded: float
    matings: int
    readings: int
    scatter_known: bool
    probability: float | None
    verdict: str | None


def one_resistance(resistances: Resistances, index: int, coverage: float) -> OneResistance:
    """Entry `index` of `resistances` with its uncertainty."""
    parts = {name: float(part[index]) for name, part in resistances.shared.items()}
    parts |= {COUNTS: float(resistances.independent[index]), EMF: float(resistances.emf[index])}
    parts = {name: size for name, size in parts.items() if size > 0}
    standard = math.sqrt(sum(size**2 for size in parts.values()))
    factor = _factor(standard, math.inf, _largest_rectangle(parts), coverage)
    value = float(resistances.value[index])
    return OneResistance(value, standard, factor * standard, parts, int(resistances.form[index]))


def mating_so_far(resistances: Resistances, member: Codes, scale: Scale) -> float | None:
    """The mean of the resistances `member` of one mating, as the study's answer takes it; None where there is none."""
    return _back(_mean(resistances.value[member], scale), scale)


def contact_so_far(
    resistances: Resistances, member: Codes, scale: Scale, limit: float | None, coverage: float
) -> SoFar | None:
    """The contact whose resistances are `member`, judged against `limit` (ohm).

    Parameters
    ----------
    resistances
        All of the contact's condition, from which scatter is pooled.
    member
        Numbers of the contact's own resistances.
    scale, limit, coverage
        As in the study.

    Returns
    -------
    SoFar or None
        None without a resistance, or where one that is not positive has no logarithm.
    """
    mating, contact = _groups(resistances)
    own = resistances.value[member]
    if len(member) == 0 or (scale == "log" and not (own > 0).all()):
        return None
    usable = resistances.value > 0 if scale == "log" else np.ones(len(resistances), bool)
    y = np.log(np.where(usable, resistances.value, 1.0)) if scale == "log" else resistances.value
    matings, place = np.unique(mating[member], return_inverse=True)
    means = np.bincount(place, y[member]) / np.bincount(place)
    value = float(means.mean())
    scatter = _scatter(y[usable], mating[usable], contact[usable])
    variance, freedom = scatter.of_mean(np.bincount(place))
    unit = np.abs(own) if scale == "log" else np.ones(len(own))
    meters, rectangle = _meters(resistances, member, unit, scatter.reading)
    total = variance + meters
    effective = total**2 / (variance**2 / freedom) if variance > 0 else math.inf
    standard = math.sqrt(total)
    expanded = _factor(standard, effective, rectangle, coverage) * standard
    ohm = math.exp(value) if scale == "log" else value
    size = ohm if scale == "log" else 1.0
    probability = _probability(value, standard, effective, limit, scale)
    said = None if probability is None else verdict(probability, coverage)
    return SoFar(
        ohm,
        standard * size,
        expanded * size,
        len(matings),
        len(member),
        scatter.matings_known,
        probability,
        said,
    )


def _probability(
    value: float, standard: float, freedom: float, limit: float | None, scale: Scale
) -> float | None:
    if limit is None:
        return None
    return float(probability_within(value, standard, freedom, math.log(limit) if scale == "log" else limit))


@dataclass(frozen=True, slots=True)
class _Scatter:
    """Pooled variances on the scale of analysis: of readings within matings, and of the matings' means."""

    reading: float
    reading_freedom: int
    mating: float
    mating_freedom: int

    @property
    def matings_known(self) -> bool:
        return self.mating_freedom > 0

    def of_mean(self, readings: Codes) -> tuple[float, float]:
        """Variance of the mean of matings with so many `readings` each, with its degrees of freedom."""
        if self.mating_freedom:
            return self.mating / len(readings), float(self.mating_freedom)
        if self.reading_freedom:
            return self.reading * float(np.sum(1 / readings)) / len(readings) ** 2, float(
                self.reading_freedom
            )
        return 0.0, math.inf


def _scatter(y: Array, mating: Codes, contact: Codes) -> _Scatter:
    names, first, place = np.unique(mating, return_index=True, return_inverse=True)
    means = np.bincount(place, y) / np.bincount(place)
    within, reading_freedom = float(np.sum((y - means[place]) ** 2)), len(y) - len(names)
    owner = np.unique(contact[first], return_inverse=True)[1]
    centre = np.bincount(owner, means) / np.bincount(owner)
    between, mating_freedom = float(np.sum((means - centre[owner]) ** 2)), len(means) - len(centre)
    return _Scatter(
        within / max(reading_freedom, 1), reading_freedom, between / max(mating_freedom, 1), mating_freedom
    )


def _groups(resistances: Resistances) -> tuple[Codes, Codes]:
    """Numbers of mating and contact of each resistance."""
    contact = [resistances.condition.codes, resistances.specimen.codes]
    if resistances.contact is not None:
        contact.append(resistances.contact.codes)
    mating = [
        *contact,
        *(one.codes for one in (resistances.mating, *resistances.others.values()) if one is not None),
    ]
    return number_cells(mating), number_cells(contact)


def _meters(
    resistances: Resistances, member: Codes, unit: Array, reading_variance: float
) -> tuple[float, float]:
    """Variance of a mean that the readings' scatter does not show, and the largest rectangle in it."""
    parts = {name: float((part[member] / unit).mean()) for name, part in resistances.shared.items()}
    parts[EMF] = float((resistances.emf[member] / unit).mean())
    stated = float(((resistances.independent[member] / unit) ** 2).mean())
    total = sum(part**2 for part in parts.values()) + max(stated - reading_variance, 0.0) / len(member)
    return total, _largest_rectangle(parts)


def _largest_rectangle(parts: dict[str, float]) -> float:
    return max((size for name, size in parts.items() if is_rectangular(name) and name != COUNTS), default=0.0)


def _factor(standard: float, freedom: float, rectangle: float, coverage: float) -> float:
    if standard == 0:
        return 0.0
    return float(coverage_factor(np.array(standard), np.array(freedom), np.array(rectangle), coverage))


def _mean(value: Array, scale: Scale) -> float | None:
    if len(value) == 0 or (scale == "log" and not (value > 0).all()):
        return None
    return float(np.log(value).mean() if scale == "log" else value.mean())


def _back(mean: float | None, scale: Scale) -> float | None:
    return math.exp(mean) if mean is not None and scale == "log" else mean
