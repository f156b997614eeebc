"""One mean a plug (or socket): the exact form where plugs are of several conditions and meet the same sockets.

Each plug's effect is taken beside those of the sockets by least squares on the pairs' means; a condition's mean is that of its
plugs. Where every plug meets every socket that is the analysis of variance, whose t is exact whatever the scatter of sockets,
pairs and readings is. It takes over where REML meets the zero bound.
"""

from __future__ import annotations

import numpy as np

from ohmsworth.inference.design import PARTS, Design, Level
from ohmsworth.inference.estimate import Estimate
from ohmsworth.inference.means import Means
from ohmsworth.readings.table import Array, Codes


def part_contrast(design: Design, means: Means, weights: Array) -> Estimate | None:
    """A contrast of the conditions by the means of the parts that they belong to.

    Parameters
    ----------
    design, means
        The design, and one mean a pair.
    weights
        Of the conditions, shape (k,), with sum zero.

    Returns
    -------
    Estimate or None
        None where conditions belong to neither plugs nor sockets, something else crosses them, or parts did not meet enough
        partners to be told apart.
    """
    parts = {level.name: level for level in design.crossed}
    if set(parts) != set(PARTS) or abs(float(weights.sum())) > 1e-12:
        return None
    for own, other in (PARTS, PARTS[::-1]):
        found = _by_parts(design, means, parts[own], parts[other], weights)
        if found is not None:
            return found
    return None


def _by_parts(design: Design, means: Means, own: Level, other: Level, weights: Array) -> Estimate | None:
    first = np.unique(design.nest[0].node, return_index=True)[1]
    part, partner, condition = own.node[first], other.node[first], design.condition[first]
    if len(np.unique(part * design.conditions + condition)) > own.size:
        return None
    effects = _effects(means.value, part, own.size, partner, other.size)
    if effects is None:
        return None
    of = np.empty(own.size, np.int64)
    of[part] = condition
    count = np.bincount(of, minlength=design.conditions)
    freedom = own.size - design.conditions
    if freedom < 1 or (count == 0).any():
        return None
    middle = np.bincount(of, effects, design.conditions) / count
    square = float(((effects - middle[of]) ** 2).sum()) / freedom
    return Estimate(float(weights @ middle), square * float((weights**2 / count).sum()), float(freedom))


def _effects(value: Array, part: Codes, parts: int, partner: Codes, partners: int) -> Array | None:
    """Effect of every part beside its partners'; None where they are not all connected."""
    columns = np.hstack([np.eye(parts)[part], np.eye(partners)[partner][:, 1:]])
    if np.linalg.matrix_rank(columns) < columns.shape[1]:
        return None
    return np.asarray(np.linalg.lstsq(columns, value, rcond=None)[0][:parts])
