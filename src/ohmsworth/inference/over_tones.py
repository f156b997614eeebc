"""Looking at many frequencies at once: intervals that hold at every tone together.

At each of m tones an estimate x has its own standard error s with ν degrees of freedom, and tones that are near each other tell
nearly the same. The factor c of intervals ``x ± c s`` that hold at all tones at once solves

    P(max_k |T_k| ≤ c) = coverage,    T_k = X_k/√S_kk,    X ~ N(0, P),    ν S ~ Wishart(ν, P)

with P the correlation of the tones, and is found by simulation. P comes from what specimens (of pairs, their differences) depart
by from their condition. A few specimens make tones look more alike than they are, so each correlation is taken at one standard
deviation below what is found, in Fisher's transform: ``tanh(max(|artanh r| − 1/√(ν − 2), 0))``; with ν ≤ 2 tones count as
independent. It is never wider than Bonferroni's bound, which is right whatever the correlation. Sources: "Fisher-z" and
"Dunn" for these, from memory.
"""

from __future__ import annotations

import numpy as np
from scipy import stats

from ohmsworth.readings.table import Array

_DRAWS = 20_000
#: More degrees of freedom than this change nothing that the draws could show.
_MANY = 40
_FEWEST = 2


def tone_correlation(values: Array, freedom: int) -> Array:
    """Cautious correlation of m tones, shape (m, m).

    Parameters
    ----------
    values
        Of specimens from the mean of their condition, shape (specimens, m).
    freedom
        Specimens less conditions.
    """
    tones = values.shape[1]
    size = np.sqrt((values**2).sum(0))
    if freedom <= _FEWEST or not (size > 0).all():
        return np.eye(tones)
    found = np.clip((values.T @ values) / np.outer(size, size), -1 + 1e-12, 1 - 1e-12)
    less = np.maximum(np.abs(np.arctanh(found)) - 1 / np.sqrt(freedom - _FEWEST), 0)
    cautious = np.sign(found) * np.tanh(less)
    np.fill_diagonal(cautious, 1.0)
    values, vectors = np.linalg.eigh(cautious)
    mended = (vectors * np.maximum(values, 1e-9)) @ vectors.T
    scale = np.sqrt(mended.diagonal())
    return np.asarray(mended / np.outer(scale, scale))


def coverage_of_each_tone(correlation: Array, freedom: float, coverage: float, seed: int) -> float:
    """Coverage that the interval at each tone needs for all of them to hold together with `coverage`.

    Parameters
    ----------
    correlation
        Of the tones, shape (m, m).
    freedom
        Degrees of freedom at each tone: the fewest, where they differ.
    coverage
        Probability that the intervals of all tones cover.
    seed
        Of the simulation, so that an answer repeats.
    """
    tones = len(correlation)
    if tones == 1:
        return coverage
    known = int(np.clip(np.floor(freedom), 1, _MANY)) if np.isfinite(freedom) else _MANY
    rng = np.random.default_rng(seed)
    root = np.linalg.cholesky(correlation)
    square = np.zeros((_DRAWS, tones))
    for _ in range(known):
        square += (rng.standard_normal((_DRAWS, tones)) @ root.T) ** 2
    drawn = rng.standard_normal((_DRAWS, tones)) @ root.T
    largest = np.abs(drawn / np.sqrt(square / known)).max(1)
    each = float(2 * stats.t.cdf(np.quantile(largest, coverage), known) - 1)
    return float(np.clip(each, coverage, 1 - (1 - coverage) / tones))


def independent_tones(value: float, coverage: float, tones: int) -> float:
    """As many independent tones would need the coverage `value` of each (Šidák), of `tones` that there are.

    Bonferroni's bound, and the draws, may ask for a little more than independence does: more than all of them it cannot be.
    """
    return float(min(np.log(coverage) / np.log(value), tones))
