"""Average run length: how many checks pass, on average, until a chart signals.

In control a long run is wanted (a signal is then a false alarm); out of control a short one. `offset` is how far
the mean has moved, in standard deviations of one check; the limits are taken as known.

Individuals  1/P(|Z + δ| > L), exact.
EWMA         L(u) = 1 + (1/λ) ∫ L(y) φ((y − (1−λ)u)/λ − δ) dy  over the steady limits ± L√(λ/(2−λ)), at u = 0.
CUSUM        L(u) = 1 + L(0) Φ(k − u − δ) + ∫₀ʰ L(y) φ(y + k − u − δ) dy  at u = 0, for each side;
             both sides: 1/ARL = 1/ARL₊ + 1/ARL₋.

The integral equations are solved on Gauss-Legendre nodes. Sources: Page1954, LucasSaccucci, vanDobben.
"""

from __future__ import annotations

import numpy as np
from scipy import stats

from ohmsworth.errors import ArgumentFault
from ohmsworth.readings.table import Array

_NODES = 96
#: A narrower kernel than this share of the interval needs more nodes than are taken.
_LIGHTEST = 0.01
#: Longer runs than this are not told apart.
_LONGEST = 1e12


def shewhart_run_length(offset: float, width: float = 3.0) -> float:
    """Average run length of single values against limits at ± `width` standard deviations.

    Examples
    --------
    >>> round(shewhart_run_length(0.0), 1), round(shewhart_run_length(3.0), 1)
    (370.4, 2.0)
    """
    _positive("width", width)
    return float(1 / (stats.norm.sf(width - offset) + stats.norm.cdf(-width - offset)))


def ewma_run_length(offset: float, weight: float, width: float) -> float:
    """Average run length of an EWMA that begins at its centre, with steady limits.

    Parameters
    ----------
    offset
        Of the mean, in standard deviations of a single value.
    weight
        Of the newest value, λ, 0.01 to 1.
    width
        Of the limits, in standard deviations of the average.
    """
    _positive("width", width)
    if not _LIGHTEST <= weight <= 1:
        raise ArgumentFault("weight", weight, f"{_LIGHTEST} to 1")
    reach = width * np.sqrt(weight / (2 - weight))
    node, share = _nodes(-reach, reach, _NODES * (1 + round(0.1 / weight)))

    def kernel(start: Array) -> Array:
        away = (node - (1 - weight) * start[:, None]) / weight - offset
        return np.asarray(stats.norm.pdf(away) * share / weight)

    at_nodes = np.linalg.solve(np.eye(len(node)) - kernel(node), np.ones(len(node)))
    return float(1 + (kernel(np.zeros(1)) @ at_nodes)[0])


def cusum_run_length(offset: float, slack: float, decision: float) -> float:
    """Average run length of a two-sided CUSUM that begins at zero.

    Parameters
    ----------
    offset
        Of the mean, in standard deviations of a single value.
    slack
        k, taken off each step, in standard deviations: half the offset to be found.
    decision
        h, beyond which the sum signals, in standard deviations.
    """
    _positive("slack", slack)
    _positive("decision", decision)
    up, down = (_one_sided(way * offset, slack, decision) for way in (1, -1))
    return 1 / (1 / up + 1 / down)


def _one_sided(offset: float, slack: float, decision: float) -> float:
    node, share = _nodes(0.0, decision, _NODES)
    start = np.append(0.0, node)
    kernel = np.empty((len(start), len(start)))
    kernel[:, 0] = stats.norm.cdf(slack - start - offset)
    kernel[:, 1:] = stats.norm.pdf(node + slack - start[:, None] - offset) * share
    found = float(np.linalg.solve(np.eye(len(start)) - kernel, np.ones(len(start)))[0])
    # Far below its slack the sum gets nowhere; beyond this the equation is singular to within rounding.
    return found if 1 <= found < _LONGEST else _LONGEST


def _nodes(low: float, high: float, number: int) -> tuple[Array, Array]:
    node, share = np.polynomial.legendre.leggauss(number)
    return low + (high - low) * (node + 1) / 2, share * (high - low) / 2


def _positive(name: str, value: float) -> None:
    if not 0 < value < np.inf:
        raise ArgumentFault(name, value, "more than zero")
