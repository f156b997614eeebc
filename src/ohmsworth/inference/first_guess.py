"""Where the search for variances begins: mean squares of group means, level by level from the inside out."""

from __future__ import annotations

import numpy as np

from ohmsworth.inference.elimination import Prepared
from ohmsworth.readings.table import Array

#: A level that shows no scatter begins here, as a share of the whole variance: at zero it would have no curvature of its own.
_LITTLE = 1e-3


def first_guess(prepared: Prepared) -> Array:
    """Rough variances of the components of a nested design, shape (m,); equal shares of the whole where levels cross.

    Each level's groups, less what the fixed part makes of them, scatter about their outer group by its own variance and that of a
    mean over what lies inside; exact where every group has equally many members.
    """
    m = len(prepared.components)
    products = prepared.products.sum(0)
    observations = float(prepared.count.sum())
    beta = np.linalg.solve(products[:-1, :-1], products[:-1, -1])
    rest = float(products[-1, -1] - beta @ products[:-1, -1])
    whole = rest / max(observations - len(beta), 1.0)
    if prepared.blocks or not prepared.levels:
        return np.full(m, whole / m)
    found = np.full(m, whole)
    mean = (prepared.sums[-1] - beta @ prepared.sums[:-1]) / prepared.count
    inside = (rest - float(prepared.count @ mean**2)) / max(observations - len(mean), 1.0)
    inside = max(inside, _LITTLE * whole)
    found[np.unique(prepared.index[0])] = inside
    share = inside / prepared.count  # variance of each group's mean by what lies inside
    for i in range(len(prepared.levels)):
        if i < len(prepared.parent):
            parent, size = prepared.parent[i], prepared.levels[i + 1].size
            members = np.bincount(parent, minlength=size)
            outer = np.bincount(parent, mean, size) / members
            square = float(((mean - outer[parent]) ** 2).sum()) / max(len(mean) - size, 1)
        else:
            square = float((mean**2).sum()) / max(len(mean) - len(beta), 1)
        own = max(square - float(share.mean()), _LITTLE * whole)
        found[np.unique(prepared.index[i + 1])] = own
        if i < len(prepared.parent):
            share = np.bincount(parent, share + own, size) / members**2
            mean = outer
    return found
