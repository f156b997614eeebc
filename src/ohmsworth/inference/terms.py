"""What the mean is made of: factors, their interactions and covariates, as columns that do not depend on each other."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations, product

import numpy as np
from scipy import linalg

from ohmsworth.errors import ArgumentFault, UnknownName
from ohmsworth.readings.table import Array, Codes, Labels, number_cells

#: A term: the factors that interact in it; one factor alone is its main effect.
Term = tuple[str, ...]
_NONE = 1e-9


@dataclass(frozen=True, slots=True, eq=False)
class Terms:
    """Fixed effects, written as independent columns.

    Parameters
    ----------
    factors
        Level names of each factor.
    terms
        Terms in the model.
    columns
        Columns of observations, one row a coefficient, shape (p, n); covariates last, about their mean.
    kept
        Which of the indicator columns of all terms were kept as coefficients.
    seen
        Indicator rows of the combinations that were observed, shape (cells, d).
    covariates
        Names of the covariates.
    """

    factors: Mapping[str, tuple[str, ...]]
    terms: tuple[Term, ...]
    columns: Array
    kept: Codes
    seen: Array
    covariates: tuple[str, ...]


def make_terms(
    factors: Mapping[str, Labels],
    terms: Sequence[Term] | None,
    covariates: Mapping[str, Array],
    observations: int,
) -> Terms:
    """Find independent columns for the terms.

    Parameters
    ----------
    factors
        Level of each observation under each factor.
    terms
        Factors that interact, one tuple a term; None takes every factor and every interaction.
    covariates
        Quantities whose slope is fitted, shape (n,) each.
    observations
        Their number, n.

    Raises
    ------
    ArgumentFault
        When a covariate cannot be told apart from the factors.
    UnknownName
        When a term names a factor that is not there.
    """
    names = tuple(factors)
    chosen = all_terms(names) if terms is None else tuple(tuple(term) for term in terms)
    for term in chosen:
        for name in term:
            if name not in factors:
                raise UnknownName("factor", name, names)
    levels = {name: labels.names for name, labels in factors.items()}
    cell = (
        number_cells([labels.codes for labels in factors.values()])
        if factors
        else np.zeros(observations, int)
    )
    first = np.unique(cell, return_index=True)[1]
    seen = np.array(
        [
            grid_row(
                levels, chosen, {name: labels.names[labels.codes[i]] for name, labels in factors.items()}
            )
            for i in first.tolist()
        ]
    )
    kept = _independent(seen)
    slopes = [column - column.mean() for column in covariates.values()]
    columns = np.vstack([seen[:, kept].T[:, cell], *slopes])
    if slopes and np.linalg.matrix_rank(columns @ columns.T) < len(columns):
        raise ArgumentFault("covariates", ", ".join(covariates), "quantities that change beside the factors")
    return Terms(levels, chosen, columns, kept, seen, tuple(covariates))


def all_terms(names: Sequence[str]) -> tuple[Term, ...]:
    """Every factor and every interaction of them."""
    return tuple(term for size in range(1, len(names) + 1) for term in combinations(names, size))


def grid_row(factors: Mapping[str, tuple[str, ...]], terms: Sequence[Term], cell: Mapping[str, str]) -> Array:
    """Indicators of one combination of levels: a constant, then each term's combinations, shape (d,)."""
    parts = [np.ones(1)]
    for term in terms:
        size = [len(factors[name]) for name in term]
        place = np.ravel_multi_index([factors[name].index(cell[name]) for name in term], size)
        parts.append(np.eye(int(np.prod(size)))[place])
    return np.concatenate(parts)


def _independent(seen: Array) -> Codes:
    """Columns that the rest can be made from; where every combination has its own mean, the last term's alone."""
    _, upper, order = linalg.qr(seen, mode="economic", pivoting=True)
    size = np.abs(np.diagonal(upper))
    return np.sort(order[: int((size > _NONE * size[0]).sum())]).astype(np.int64)


def mean_row(terms: Terms, cell: Mapping[str, str]) -> Array:
    """Weights of the coefficients in the mean at `cell`, averaged over the levels of factors that it does not fix.

    Raises
    ------
    ArgumentFault
        When the observations do not bear on one of the combinations.
    UnknownName
        For a factor or level that is not there.
    """
    for name, level in cell.items():
        if name not in terms.factors:
            raise UnknownName("factor", name, tuple(terms.factors))
        if level not in terms.factors[name]:
            raise UnknownName(name, level, terms.factors[name])
    grid = product(*([cell[n]] if n in cell else levels for n, levels in terms.factors.items()))
    rows = [
        grid_row(terms.factors, terms.terms, dict(zip(terms.factors, point, strict=True))) for point in grid
    ]
    row = np.mean(rows, axis=0)
    weights = np.linalg.lstsq(terms.seen.T, row, rcond=None)[0]
    if np.abs(weights @ terms.seen - row).max() > 1e-7:
        told = ", ".join(f"{name} {level}" for name, level in cell.items()) or "all combinations"
        raise ArgumentFault(
            "cell", told, "levels that were observed in all combinations, or a model without interaction"
        )
    return np.concatenate([row[terms.kept], np.zeros(len(terms.covariates))])


def slope_row(terms: Terms, covariate: str) -> Array:
    """Weights of the coefficients in the slope of a covariate."""
    if covariate not in terms.covariates:
        raise UnknownName("covariate", covariate, terms.covariates)
    p = len(terms.columns)
    return np.asarray(np.eye(p)[p - len(terms.covariates) + terms.covariates.index(covariate)])


def term_rows(terms: Terms, term: Term) -> Array:
    """Independent contrasts that are all zero where the factors of `term` do not interact (one factor: do nothing)."""
    weights: Array = np.ones((1, 1))
    for name in term:
        weights = np.asarray(np.kron(weights, np.diff(np.eye(len(terms.factors[name])), axis=0)), float)
    points = product(*(terms.factors[name] for name in term))
    means = np.array([mean_row(terms, dict(zip(term, point, strict=True))) for point in points])
    return np.asarray(weights @ means)
