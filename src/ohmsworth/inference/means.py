"""One mean a specimen: the exact small-sample form, and the ground for exact tests.

Where every specimen carries the same number of matings and readings, a t interval on specimen means holds
its coverage exactly, whatever the scatter at the levels below. Where it does not, means of more readings weigh more: by the
reciprocal of their fitted variance, and the scale of these variances is what the weighted means show themselves, so that
their degrees of freedom stay those of the specimens.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ohmsworth.inference.design import Design
from ohmsworth.inference.reml import Fit
from ohmsworth.readings.table import Array, Codes, number_cells


@dataclass(frozen=True, slots=True, eq=False)
class Means:
    """Unweighted nested mean of every specimen under every condition it occurs in.

    `value`, `specimen`, `condition` have one entry a specimen-condition cell.
    """

    value: Array
    specimen: Codes
    condition: Codes

    def of(self, condition: int) -> Array:
        """The specimens' means under one condition."""
        return np.asarray(self.value[self.condition == condition])

    def differences(self, of: int, against: int) -> tuple[Array, bool]:
        """Differences of specimens measured under both, and whether all of them were."""
        first = dict(zip(self.specimen[self.condition == of], self.of(of), strict=True))
        second = dict(zip(self.specimen[self.condition == against], self.of(against), strict=True))
        both = [s for s in first if s in second]
        complete = len(both) == len(first) == len(second)
        return np.array([first[s] - second[s] for s in both]), complete

    def complete(self, weights: Array) -> Array:
        """The contrast of each specimen that was read under all conditions whose weight is not zero."""
        wanted = np.flatnonzero(weights)
        own: dict[int, dict[int, float]] = {}
        for value, specimen, condition in zip(self.value, self.specimen, self.condition, strict=True):
            if weights[condition]:
                own.setdefault(int(specimen), {})[int(condition)] = float(weights[condition] * value)
        return np.array([sum(parts.values()) for parts in own.values() if len(parts) == len(wanted)])

    def contrasts(self, weights: Array) -> list[Array] | None:
        """Each specimen's contrast of the conditions it was read under, by groups of specimens that share these.

        None where a condition of the contrast is in two groups, so that no specimen's contrast is the whole of it.

        Parameters
        ----------
        weights
            Of the conditions, shape (k,); conditions of weight zero take no part.
        """
        own: dict[int, dict[int, float]] = {}
        chosen = np.flatnonzero(weights[self.condition])
        for i in chosen.tolist():
            own.setdefault(int(self.specimen[i]), {})[int(self.condition[i])] = float(self.value[i])
        groups: dict[frozenset[int], list[float]] = {}
        for means in own.values():
            value = sum(float(weights[c]) * mean for c, mean in means.items())
            groups.setdefault(frozenset(means), []).append(value)
        if sum(map(len, groups)) > len(frozenset().union(*groups)):
            return None
        return [np.array(values) for values in groups.values()]


def cells_of(design: Design) -> tuple[Codes, int]:
    """Number of the specimen-condition cell of each observation, and of cells."""
    cell = number_cells([design.specimen, design.condition])
    return cell, int(cell.max()) + 1


def specimen_means(design: Design) -> Means:
    """Average readings within matings, matings within contacts, contacts within specimens."""
    cell, size = cells_of(design)
    value, node = design.y, np.arange(len(design.y))
    for level in reversed(design.nest[1:-1]):
        value, node = _average_up(value, node, level.node, level.size)
    value, _ = _average_up(value, node, cell, size)
    first = np.unique(cell, return_index=True)[1]
    return Means(value, design.specimen[first], design.condition[first])


def _average_up(value: Array, inner: Codes, outer: Codes, size: int) -> tuple[Array, Codes]:
    """Mean of the inner groups' values within each outer group."""
    parent = np.empty(len(value), np.int64)
    parent[inner] = outer
    return np.bincount(parent, value, size) / np.bincount(parent, minlength=size), outer


def mean_variances(design: Design, fit: Fit) -> Array:
    """Fitted variance of each specimen's nested mean, shape (cells,), where each serves one condition."""
    cell, size = cells_of(design)
    condition = design.condition[np.unique(cell, return_index=True)[1]]
    total = np.array([fit.of("specimen", c) for c in range(design.conditions)])[condition]
    for name, share in variance_shares(design, cell, size).items():
        total = total + share * np.array([fit.of(name, c) for c in range(design.conditions)])[condition]
    return total


def variance_shares(design: Design, cell: Codes, size: int) -> dict[str, Array]:
    """Sum of squared weights of each level's groups in each cell's nested mean."""
    shares: dict[str, Array] = {}
    outer, weight = cell, np.ones(size)
    for level in design.nest[1:]:
        parent = np.empty(level.size, np.int64)
        parent[level.node] = outer
        weight = weight[parent] / np.bincount(parent)[parent]
        of_cell = np.empty(level.size, np.int64)
        of_cell[level.node] = cell
        shares[level.name] = np.bincount(of_cell, weight**2, size).astype(float)
        outer = level.node
    if any(level.name == "contact" for level in design.crossed):
        # With the response that a contact has of its own.
        shares["contact"] = shares[design.nest[1].name]
    return shares
